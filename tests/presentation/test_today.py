"""Readings on today's fruit as percent of the table: against definitions and hand-computed solutions."""

from datetime import UTC, datetime

import pytest
from msgspec import structs

from washline.chemistry.components import COMPONENTS
from washline.model.book import HouseBook
from washline.model.item import RawIngredient, Today
from washline.presentation.today import (
    Figures,
    Measured,
    figures,
    list_words,
    shift_words,
    shifts,
    signed,
    strip_range,
    until_words,
)
from washline.problem import UserError


def _raw(**grams: float | None) -> RawIngredient:
    parts = tuple(grams.get(key, 0.0) for key in COMPONENTS)
    return RawIngredient(
        id=1,
        slug="fruit",
        name="today's fruit",
        composition=parts,
        ph_model="potassium",
        strong_cation_mmol_per_100g=0.0,
    )


SYRUP = _raw(water=90.0, sucrose=10.0)
ACID = _raw(water=95.0, citric=5.0)
JUICE = _raw(water=86.0, sucrose=9.0, citric=5.0)
BOOK = HouseBook(raws={1: JUICE})


def test_a_refractometer_on_a_sucrose_solution_tells_its_grams() -> None:
    # °Bx is by definition g of sucrose in 100 g of solution (OIV-MA-AS2-02).
    sugars, acids = shifts(BOOK, SYRUP, Measured(brix=12.0))
    assert sugars == pytest.approx(20.0, abs=0.2)
    assert acids is None


def test_a_titration_tells_the_acids_in_proportion() -> None:
    # Without cations the titratable acidity of citric acid is its own mass: 6.0 of 5.0 g are 20 % more.
    assert shifts(BOOK, ACID, Measured(acidity_pct=6.0))[1] == pytest.approx(20.0, abs=1e-6)


def test_a_ph_tells_the_acids_by_their_dissociation() -> None:
    # A solution of 0.1 mol/l citric acid has pH 2.08 (pKa1 3.13 of Goldberg et al. 2002: the root of 10^-3.13 × 0.1);
    # 0.05 mol/l, 9.6062 g in a litre, must double for it. Half a hundredth of a pH is 3 % of the acid.
    half = _raw(water=98.87, citric=0.96062)
    assert shifts(BOOK, half, Measured(ph=2.08))[1] == pytest.approx(100.0, abs=4.0)


def test_the_titration_wins_over_the_strip() -> None:
    both = shifts(BOOK, ACID, Measured(ph=2.5, acidity_pct=6.0))
    assert both == shifts(BOOK, ACID, Measured(acidity_pct=6.0))


def test_together_they_read_back_what_was_measured() -> None:
    sugars, acids = shifts(BOOK, JUICE, Measured(brix=16.0, acidity_pct=6.5))
    assert sugars is not None
    assert acids is not None
    shifted = figures(BOOK, structs.replace(JUICE, today=Today(sugars, acids)))
    assert shifted.brix == pytest.approx(16.0, abs=1e-3)
    assert shifted.acidity_pct == pytest.approx(6.5, abs=1e-6)


def test_a_reading_equal_to_the_tables_is_no_shift() -> None:
    table = figures(BOOK, JUICE)
    assert table.brix is not None
    assert table.ph is not None
    sugars, acids = shifts(BOOK, JUICE, Measured(brix=table.brix, ph=table.ph))
    assert sugars == pytest.approx(0.0, abs=0.01)
    assert acids == pytest.approx(0.0, abs=0.01)


def test_a_shift_of_before_does_not_count_twice() -> None:
    shifted = structs.replace(JUICE, today=Today(30.0, 30.0))
    assert shifts(BOOK, shifted, Measured(brix=14.0)) == shifts(BOOK, JUICE, Measured(brix=14.0))


def test_a_strip_is_coarse_and_says_how_coarse() -> None:
    around = strip_range(BOOK, ACID, 2.1)
    assert around is not None
    low, high = around
    assert low < (shifts(BOOK, ACID, Measured(ph=2.1))[1] or 0.0) < high
    # 0.2 of pH each way is a factor of about 2.5 each way in a weak acid ([H+] goes with the root of its mass).
    assert (100.0 + high) / (100.0 + low) == pytest.approx(10.0**0.8, rel=0.35)


@pytest.mark.parametrize(
    ("raw", "measured"),
    [
        (ACID, Measured(acidity_pct=25.0)),
        (SYRUP, Measured(brix=84.0)),
        (SYRUP, Measured(ph=3.0)),
        (ACID, Measured(brix=12.0)),
        (structs.replace(JUICE, ph_model="none"), Measured(ph=2.2)),
    ],
)
def test_what_the_table_cannot_reach_or_does_not_know_is_refused(
    raw: RawIngredient, measured: Measured
) -> None:
    with pytest.raises(UserError):
        shifts(BOOK, raw, measured)


def test_what_is_not_known_has_no_figure() -> None:
    unknown = _raw(water=90.0, sucrose=5.0, citric=None)
    found = figures(BOOK, structs.replace(unknown, ph_model="none"))
    assert found == Figures(found.brix, None, None)


@pytest.mark.parametrize(
    ("until", "words"),
    [
        ("2026-11-21T23:30", "until 23:30"),
        ("2026-11-22T02:00", "until 02:00 tomorrow"),
        ("2026-11-24T02:00", "until Tuesday 02:00"),
        ("2026-12-02T02:00", "until 2 December 2026, 02:00"),
        ("", ""),
        ("soon", ""),
    ],
)
def test_the_end_is_said_as_near_as_it_is(until: str, words: str) -> None:
    now = datetime(2026, 11, 21, 18, 0).astimezone()
    assert until_words(Today(5.0, 0.0, until), now) == words


def test_a_shift_in_words_leaves_out_what_is_as_in_the_table() -> None:
    assert shift_words(Today(12.0, -8.0)) == "sugars +12 %, acids −8 %"
    assert shift_words(Today(0.0, 20.0)) == "acids +20 %"
    assert shift_words(Today()) == "as in the table"


def test_the_list_says_what_and_until_when() -> None:
    assert list_words(Today(0.0, 20.0, "2026-11-22T02:00")) == "today: acids +20 %, until 02:00"
    assert list_words(Today(0.0, 20.0, "")) == "today: acids +20 %"


@pytest.mark.parametrize(("percent", "words"), [(12.34, "+12"), (-7.26, "−7.3"), (5.0, "+5"), (0.0, "0")])
def test_a_percentage_has_its_sign(percent: float, words: str) -> None:
    assert signed(percent) == words


def test_half_a_tenth_of_a_percent_is_no_plus_zero() -> None:
    assert signed(0.02) == "0.0"


def test_the_clock_of_another_zone_is_told_in_local_time() -> None:
    end = datetime(2026, 11, 22, 2, 0, tzinfo=UTC)
    assert until_words(Today(5.0, 0.0, end.isoformat()), end) == f"until {end.astimezone():%H:%M}"
