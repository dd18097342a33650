"""House dates through all that an item is made of, and hurdles beside their published thresholds.

Thresholds: 21 CFR 114.3 (pH 4.6, water activity 0.85); margins, ethanol and cold as the module says.
"""

from dataclasses import replace

import numpy as np
import pytest
from msgspec import structs

from tests.presentation.demo import build, demo
from tests.presentation.small_house import (
    CORDIAL,
    LEATHER,
    PEAR,
    SIGNAL,
    SPENT_PEAR,
    SUGAR,
    VERJUS,
    house,
    workings,
)
from washline.engine.result import Result
from washline.model.amount import grams
from washline.model.book import HouseBook
from washline.model.house import Settings
from washline.model.item import Build, BuildKind, KeptAt
from washline.model.reading import READING_INDEX
from washline.model.step import Add, Heat
from washline.presentation.keeping import (
    HURDLES_ARE_ESTIMATES,
    HouseDate,
    buffer_words,
    days_words,
    house_date_of,
    hurdles,
    keeping_of,
    kept_words,
    unknown_buffers,
)

SYRUP = 40
JUICE_LINE = Add(id=401, build_id=SYRUP, place=1.0, item_id=VERJUS, amount=grams(100.0))


def dated(**days: int | None) -> HouseBook:
    """The small house with these days: of the cordial, the leather made of its spent pear, and that leftover."""
    book = house()
    book = book.with_build(structs.replace(book.builds[CORDIAL], house_days=days.get("cordial")))
    book = book.with_build(structs.replace(book.builds[LEATHER], house_days=days.get("leather")))
    return book.with_leftover(structs.replace(book.leftovers[SPENT_PEAR], house_days=days.get("spent")))


def with_juice(*steps: Add | Heat, **fields: object) -> HouseBook:
    """A syrup of a juice that keeps three days."""
    book = house()
    juice = structs.replace(book.raws[VERJUS], category="juice-fresh", house_days=3)
    build = Build(id=SYRUP, kind=BuildKind.PART, name="syrup", steps=steps or (JUICE_LINE,), **fields)
    return book.with_raw(juice).with_build(build)


# House dates


def test_a_leftover_without_days_keeps_as_long_as_its_maker() -> None:
    date = house_date_of(dated(cordial=7), SPENT_PEAR)
    assert (date.days, date.inherited_from) == (7, "pear cordial")
    assert date.reasons == ("Kept as long as the pear cordial that it is left over from.",)


def test_a_leftover_with_days_of_its_own_keeps_them() -> None:
    assert house_date_of(dated(cordial=7, spent=2), SPENT_PEAR).days == 2


def test_a_part_never_outlives_its_shortest_input() -> None:
    date = house_date_of(dated(cordial=7, leather=14), LEATHER)
    assert (date.days, date.own, date.limited_by, date.limit) == (7, 14, "spent pear", 7)
    assert date.is_cut
    assert date.reasons == ("Cut from 14 days to its shortest input: spent pear, 7 days.",)


def test_a_part_keeps_its_own_days_where_the_house_says_by_what() -> None:
    book = dated(cordial=7, leather=14)
    book = book.with_build(structs.replace(book.builds[LEATHER], keeps_by="dried to 42 % of its weight"))
    date = house_date_of(book, LEATHER)
    assert (date.days, date.is_cut, date.is_longer) == (14, False, True)
    assert date.reasons == (
        "Kept longer than its shortest input (spent pear, 7 days): dried to 42 % of its weight.",
    )


def test_blanks_are_no_reason_to_keep_longer() -> None:
    book = dated(cordial=7, leather=14)
    book = book.with_build(structs.replace(book.builds[LEATHER], keeps_by="  "))
    assert house_date_of(book, LEATHER).days == 7


def test_a_shorter_date_of_its_own_stands() -> None:
    date = house_date_of(dated(cordial=7, leather=3), LEATHER)
    assert (date.days, date.is_cut, date.reasons) == (3, False, ())


def test_no_date_is_none_and_says_what_it_may_not_exceed() -> None:
    date = house_date_of(dated(cordial=7), LEATHER)
    assert (date.days, date.text) == (None, "none set")
    assert date.reasons == ("Not longer than its shortest input: spent pear, 7 days.",)


def test_an_input_without_a_date_is_named_and_never_taken_for_lasting() -> None:
    date = house_date_of(dated(leather=14), LEATHER)
    assert (date.days, date.undated) == (14, ("spent pear",))
    assert date.reasons == ("No house date is set for its spent pear.",)


def test_fresh_juice_that_is_not_heated_counts_as_an_input() -> None:
    assert house_date_of(with_juice(house_days=30), SYRUP).days == 3


def test_fresh_juice_that_is_heated_afterwards_does_not() -> None:
    heat = Heat(id=402, build_id=SYRUP, place=2.0, final_pct=90.0)
    assert house_date_of(with_juice(JUICE_LINE, heat, house_days=30), SYRUP).days == 30
    early = structs.replace(heat, place=0.5)
    assert house_date_of(with_juice(early, JUICE_LINE, house_days=30), SYRUP).days == 3


def test_a_line_that_is_left_out_shortens_nothing() -> None:
    line = structs.replace(JUICE_LINE, left_out=True)
    assert house_date_of(with_juice(line, house_days=30), SYRUP).days == 30


def test_other_raw_ingredients_do_not_count() -> None:
    book = dated(cordial=7)
    for raw_id in (PEAR, SUGAR):
        book = book.with_raw(structs.replace(book.raws[raw_id], house_days=2))
    assert house_date_of(book, CORDIAL).days == 7


def test_a_raw_ingredient_has_its_own_days() -> None:
    assert house_date_of(with_juice(), VERJUS) == HouseDate(3, 3)


@pytest.mark.parametrize(
    ("days", "words"),
    [(None, "?"), (0, "0 days"), (1, "1 day"), (30, "30 days"), (365, "1 year"), (730, "2 years")],
)
def test_days_are_said_as_the_trade_says_them(days: int | None, words: str) -> None:
    assert days_words(days) == words


# Hurdles


def result(**values: float) -> Result:
    """A row with these readings."""
    numbers = np.full(len(READING_INDEX), np.nan)
    for key, value in values.items():
        numbers[READING_INDEX[key]] = value
    return Result(CORDIAL, numbers, np.zeros(len(READING_INDEX)))


def verdicts(kept_at: KeptAt = KeptAt.FRIDGE, **values: float) -> dict[str, str]:
    return {one.key: one.verdict for one in hurdles(result(**values), kept_at, Settings())}


@pytest.mark.parametrize(
    ("ph", "verdict"),
    [
        (2.97, "below 4.6"),
        (4.29, "below 4.6"),
        (4.31, "uncertain: measure; the threshold is 4.6"),
        (4.6, "uncertain: measure; the threshold is 4.6"),
        (4.89, "uncertain: measure; the threshold is 4.6"),
        (4.91, "above 4.6"),
        (float("nan"), "not known: measure"),
    ],
)
def test_ph_stands_against_its_threshold(ph: float, verdict: str) -> None:
    assert verdicts(ph=ph)["ph"] == verdict


@pytest.mark.parametrize(
    ("activity", "verdict"),
    [
        (0.951, "above 0.85"),
        (0.869, "uncertain: measure; the threshold is 0.85"),
        (0.831, "uncertain: measure; the threshold is 0.85"),
        (0.61, "below 0.85"),
        (float("nan"), "not known: measure"),
    ],
)
def test_water_activity_stands_against_its_threshold(activity: float, verdict: str) -> None:
    assert verdicts(water_activity=activity)["water_activity"] == verdict


@pytest.mark.parametrize(
    ("strength", "verdict"),
    [
        (0.0, "too little to preserve; the threshold is about 20 % vol"),
        (17.4, "as fortified wine, which is fairly stable; below about 20 % vol"),
        (50.0, "above about 20 % vol, where most infusions keep"),
        (float("nan"), "not known"),
    ],
)
def test_alcohol_stands_against_its_threshold(strength: float, verdict: str) -> None:
    assert verdicts(strength=strength)["strength"] == verdict


def test_cold_is_five_degrees_or_below() -> None:
    assert verdicts(KeptAt.FRIDGE)["cold"] == "at or below 5 °C"
    assert verdicts(KeptAt.ROOM)["cold"] == "above 5 °C: not cold"


def test_a_flagged_ph_counts_as_not_known() -> None:
    flagged = replace(result(ph=2.5), flags=1 << 62)
    assert hurdles(flagged, KeptAt.FRIDGE, Settings())[0].verdict.startswith("not known (It holds something")


@pytest.mark.parametrize(
    ("names", "words"),
    [
        ((), "It holds something whose buffer is not known: measure it."),
        (("egg white",), "It holds egg white, whose buffer is not known: measure it."),
        (("a", "b", "c", "d"), "It holds a, b, c and d, whose buffer is not known: measure it."),
        (("a", "b", "c", "d", "e"), "It holds a, b, c and others, whose buffer is not known: measure it."),
    ],
)
def test_what_has_an_unknown_buffer_is_named(names: tuple[str, ...], words: str) -> None:
    assert buffer_words(names) == words


def test_the_demo_names_the_egg_white_of_a_sour() -> None:
    assert "egg white" in unknown_buffers(demo(), build("Sloe Tide").id)


def test_no_verdict_promises_anything() -> None:
    every = " ".join(
        verdict
        for ph in (2.0, 4.6, 6.0)
        for verdict in verdicts(ph=ph, water_activity=ph / 10, strength=ph * 10).values()
    )
    assert not any(word in every for word in ("safe", "guarantee", "harmless"))


def test_the_wording_beside_the_hurdles_is_the_agreed_one() -> None:
    assert HURDLES_ARE_ESTIMATES == (
        "pH, water activity, alcohol and cold are hurdles named in food-safety texts. These figures are estimates; they "
        "do not show that a product is safe or shelf-stable. Measure pH, keep cold, date it, and follow your local food "
        "code or a qualified person."
    )


# Proposals


def proposal(build: Build, **values: float) -> tuple[int | None, str]:
    found = keeping_of(house().with_build(build), build, result(**values))
    return (found.proposal.days if found.proposal else None), found.no_proposal


def part(**fields: object) -> Build:
    return structs.replace(house().builds[CORDIAL], **fields)


def test_an_acid_syrup_that_is_not_heated_is_proposed_seven_days() -> None:
    # Common practice, no source: DEMO's pear-sorrel cordial, pH 2.5, about 40 °Bx.
    assert proposal(part(), ph=2.5, brix_true=40.0) == (7, "")


@pytest.mark.parametrize(
    ("values", "why"),
    [
        ({}, "No days are proposed: its pH is not known. Measure it."),
        (
            {"ph": 4.4},
            "No days are proposed: its pH is not shown to be below 4.6. Measure it, and ask a qualified person.",
        ),
        (
            {"ph": 6.0},
            "No days are proposed: its pH is not shown to be below 4.6. Measure it, and ask a qualified person.",
        ),
    ],
)
def test_nothing_is_proposed_where_the_ph_is_not_known_or_not_low(values: dict[str, float], why: str) -> None:
    assert proposal(part(), **values) == (None, why)


def test_nothing_is_proposed_for_what_is_not_kept_cold() -> None:
    assert proposal(part(kept_at=KeptAt.ROOM), ph=2.5) == (
        None,
        "No days are proposed for what is not kept cold.",
    )


def test_nothing_is_proposed_where_the_house_has_set_its_own() -> None:
    assert proposal(part(house_days=9), ph=2.5) == (None, "")


def test_a_proposal_never_outlives_the_shortest_input() -> None:
    book = with_juice()
    found = keeping_of(book, book.builds[SYRUP], result(ph=2.5, brix_true=50.0))
    assert found.proposal is not None
    assert found.proposal.days == 3
    assert found.proposal.text.endswith("common practice, no source), not tested.")


def test_the_keeping_of_a_part_is_told_whole() -> None:
    book = dated(cordial=7)
    told = keeping_of(book, book.builds[CORDIAL], workings().result_now(CORDIAL)).sentences
    assert told[0] == "House date 7 days, not tested."
    assert "Kept at: fridge, 4\u202f°C." in told
    assert told[-1] == HURDLES_ARE_ESTIMATES


def test_a_place_stands_with_the_temperature_of_the_house() -> None:
    assert kept_words(KeptAt.FREEZER, structs.replace(Settings(), freezer_c=-21.0)) == "freezer, −21\u202f°C"


def test_a_loop_in_a_damaged_book_has_an_end() -> None:
    book = house()
    line = Add(id=403, build_id=CORDIAL, place=9.0, item_id=LEATHER, amount=grams(1.0))
    cordial = book.builds[CORDIAL]
    book = book.with_build(structs.replace(cordial, steps=(*cordial.steps, line), house_days=7))
    assert house_date_of(book, CORDIAL).days == 7
    assert house_date_of(book, SIGNAL).own is None
