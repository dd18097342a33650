"""The makings of a part in words."""

import pytest
from msgspec import structs

from tests.presentation.small_house import BLENDING, CORDIAL, PEAR_LINE, SPIN, house, workings
from washline.model.item import Build, Making, StepYield
from washline.model.step import Strain
from washline.presentation.makings import (
    GONE,
    YieldHistory,
    grams_before_strains,
    making_rows,
    makings_of,
    ready_words,
    strain_name,
    yield_histories,
    yield_history,
)
from washline.quantity.formatting import NUMBER_STYLES

HOUSE = house()
BUILD = HOUSE.builds[CORDIAL]
GERMAN = NUMBER_STYLES["de_DE"]


def making(number: int, date: str, percent: float, note: str = "", step_id: int = SPIN) -> Making:
    return Making(
        id=number,
        build_id=CORDIAL,
        date=date,
        yields=(StepYield(step_id, 1000.0, 10.0 * percent),),
        note=note,
    )


def with_weight(weighed_g: float | None, *, left_out: bool = False) -> Build:
    steps = tuple(
        structs.replace(step, weighed_g=weighed_g, left_out=left_out) if isinstance(step, Strain) else step
        for step in BUILD.steps
    )
    return structs.replace(BUILD, steps=steps)


def test_mean_and_spread_are_those_of_a_sample() -> None:
    # The sample 2, 4, 4, 4, 5, 5, 7, 9 has mean 5 and, with n − 1, the standard deviation √(32/7): worked by hand.
    history = YieldHistory(SPIN, (2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0))
    assert history.mean_pct == 5.0
    assert history.spread_pct == pytest.approx((32.0 / 7.0) ** 0.5)


def test_one_making_has_no_spread() -> None:
    assert YieldHistory(SPIN, (70.4,)).spread_pct is None


@pytest.mark.parametrize(
    "percents, words",
    [
        ((70.4,), "70.4 % from one making"),
        ((68.0, 71.0, 71.0, 74.0), "71 % ± 2 from 4 makings"),
        ((70.0, 70.6), "70.3 % ± 0.4 from 2 makings"),
        ((69.0, 70.5, 72.0), "70.5 % ± 1.5 from 3 makings"),
        ((70.41, 70.41), "70.4 %, alike in 2 makings"),
    ],
)
def test_history_is_told_in_words(percents: tuple[float, ...], words: str) -> None:
    assert YieldHistory(SPIN, percents).words().replace("\u202f", " ") == words


def test_history_follows_the_marks_of_the_locale() -> None:
    assert YieldHistory(SPIN, (70.4,)).words(GERMAN).startswith("70,4")


def test_makings_come_in_the_order_of_their_days() -> None:
    book = HOUSE.with_making(making(301, "2026-11-02", 70)).with_making(making(302, "2026-10-30", 71))
    book = book.with_making(structs.replace(making(303, "2026-10-01", 60), build_id=999))
    assert [one.id for one in makings_of(book, CORDIAL)] == [302, 301]


def test_strain_that_was_never_weighed_has_no_history() -> None:
    assert yield_history((making(301, "2026-11-02", 70),), BLENDING) is None


def test_strain_that_is_gone_is_told_last() -> None:
    makings = (making(301, "2026-10-01", 50, step_id=7), making(302, "2026-10-02", 70))
    assert [history.step_id for history in yield_histories(BUILD, makings)] == [SPIN, 7]
    assert strain_name(BUILD, 7) == GONE


def test_one_of_several_strains_is_named_by_its_step() -> None:
    second = Strain(id=140, build_id=CORDIAL, place=500.0)
    assert strain_name(BUILD, SPIN) == "strain"
    both = structs.replace(BUILD, steps=(*BUILD.steps, second))
    assert (strain_name(both, SPIN), strain_name(both, 140)) == ("strain at step 5", "strain at step 7")


def test_rows_are_newest_first_with_what_was_weighed() -> None:
    makings = (making(301, "2026-10-01", 70), making(302, "2026-11-02", 71.5, "riper"))
    rows = making_rows(BUILD, makings)
    assert [(row.date, row.note) for row in rows] == [("2026-11-02", "riper"), ("2026-10-01", "")]
    assert rows[0].yields.replace("\u202f", " ") == "715 of 1,000 g, 71.5 %"
    assert rows[0].spoken.replace("\u202f", " ") == "Making of 2026-11-02, 715 of 1,000 g, 71.5 %, riper"


def test_vessel_before_a_strain_is_all_that_was_put_in() -> None:
    # 1,200 g of pear and 24 g of malic acid; nothing left before the spin.
    found = grams_before_strains(workings().trace(CORDIAL))
    assert set(found) == {SPIN}
    assert found[SPIN] == pytest.approx(1224.0)


def test_strain_left_out_has_no_vessel_before_it() -> None:
    book = HOUSE.with_build(with_weight(905.0, left_out=True))
    assert grams_before_strains(workings().trace(CORDIAL, book)) == {}


def test_it_is_said_what_would_be_kept() -> None:
    assert ready_words(BUILD, {SPIN: 1224.0}) == "One yield is weighed."
    assert (
        ready_words(with_weight(None), {SPIN: 1224.0}) == "No yield is weighed yet: type what a strain left."
    )
    assert ready_words(BUILD, {}) == "What was in the vessel before a strain cannot be computed."
    plain = structs.replace(BUILD, steps=tuple(step for step in BUILD.steps if step.id == PEAR_LINE))
    assert ready_words(plain, {}) == "Nothing is strained here, so that there is no yield to keep."
