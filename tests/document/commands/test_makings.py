"""Makings: what was weighed is kept, and the next expectation follows from it."""

import math

import pytest
from msgspec import structs

from tests.document.doing import done
from tests.presentation.small_house import CORDIAL, LEATHER, SPIN, house
from washline.document.commands.command import Refusal
from washline.document.commands.makings import (
    record_making,
    recording_label,
    remove_making,
    removing_label,
    start_making,
    starting_label,
)
from washline.document.commands.placing import with_step
from washline.model.book import HouseBook
from washline.model.item import Making, StepYield
from washline.model.step import Strain

HOUSE = house()
BEFORE = {SPIN: 1224.0}
"""1,200 g of pear and 24 g of malic acid."""


def spin(book: HouseBook) -> Strain:
    step = book.step(CORDIAL, SPIN)
    assert isinstance(step, Strain)
    return step


def with_spin(book: HouseBook, **fields: object) -> HouseBook:
    build = book.builds[CORDIAL]
    return book.with_build(with_step(build, structs.replace(spin(book), **fields)))  # type: ignore[arg-type]


def made(book: HouseBook, *yields_g: float) -> HouseBook:
    """A book in which the cordial was made with these yields of 1,000 g, on days in a row."""
    for day, grams in enumerate(yields_g, start=1):
        making = Making(
            id=book.top_id + 1,
            build_id=CORDIAL,
            date=f"2026-10-{day:02d}",
            yields=(StepYield(SPIN, 1000.0, grams),),
        )
        book = book.with_making(making)
    return book


def test_recording_keeps_what_was_weighed_and_leaves_the_build_alone() -> None:
    book = done(HOUSE, record_making(CORDIAL, "2026-11-25", BEFORE, "  ripe fruit "))
    assert book.makings[HOUSE.top_id + 1] == Making(
        id=HOUSE.top_id + 1,
        build_id=CORDIAL,
        date="2026-11-25",
        yields=(StepYield(SPIN, 1224.0, 905.0),),
        note="ripe fruit",
    )
    assert book.builds is HOUSE.builds


def test_starting_the_next_making_clears_the_weights() -> None:
    book = done(HOUSE, start_making(CORDIAL, "2026-11-25", BEFORE))
    assert (spin(book).weighed_g, spin(book).leftover_weighed_g) == (None, None)
    assert len(book.makings) == 1


def test_after_one_making_its_yield_is_expected_within_the_range_of_the_house() -> None:
    step = spin(done(HOUSE, start_making(CORDIAL, "2026-11-25", BEFORE)))
    assert step.expected_pct == pytest.approx(73.9379, abs=1e-4)
    assert (step.low_pct, step.high_pct) == (62.0, 76.0)


def test_one_making_beyond_the_range_of_the_house_widens_it_that_far() -> None:
    book = with_spin(HOUSE, weighed_g=1000.0)
    step = spin(done(book, start_making(CORDIAL, "2026-11-25", BEFORE)))
    assert step.expected_pct == step.high_pct == pytest.approx(81.6993, abs=1e-4)
    assert step.low_pct == 62.0


def test_one_making_invents_no_range_where_the_house_has_none() -> None:
    book = with_spin(HOUSE, low_pct=None, high_pct=None)
    step = spin(done(book, start_making(CORDIAL, "2026-11-25", BEFORE)))
    assert (step.low_pct, step.high_pct) == (None, None)


def test_range_after_several_makings_has_their_spread_as_its_standard_deviation() -> None:
    # Half-width over √3 is the standard deviation of a rectangular range: JCGM 100:2008, 4.3.7. Of 68, 70 and 72 the
    # sample standard deviation is 2.
    book = made(with_spin(HOUSE, weighed_g=72.0), 680.0, 700.0)
    step = spin(done(book, start_making(CORDIAL, "2026-11-25", {SPIN: 100.0})))
    assert step.expected_pct == pytest.approx(70.0)
    assert step.low_pct == pytest.approx(70.0 - 2.0 * math.sqrt(3.0))
    assert step.high_pct == pytest.approx(70.0 + 2.0 * math.sqrt(3.0))


def test_range_stays_within_what_can_be() -> None:
    book = made(with_spin(HOUSE, weighed_g=50.0), 990.0)
    step = spin(done(book, start_making(CORDIAL, "2026-11-25", {SPIN: 100.0})))
    assert step.high_pct == 100.0
    assert step.low_pct is not None
    assert step.low_pct >= 0.0


def test_other_parts_makings_count_for_nothing() -> None:
    other = Making(id=999, build_id=LEATHER, date="2026-10-01", yields=(StepYield(SPIN, 100.0, 1.0),))
    step = spin(done(HOUSE.with_making(other), start_making(CORDIAL, "2026-11-25", BEFORE)))
    assert step.expected_pct == pytest.approx(73.9379, abs=1e-4)


def test_strain_that_was_not_weighed_stays_as_it_is() -> None:
    book = with_spin(HOUSE, weighed_g=None)
    with pytest.raises(Refusal, match="No yield of pear cordial is weighed yet"):
        done(book, start_making(CORDIAL, "2026-11-25", BEFORE))


def test_strain_that_is_left_out_is_not_kept() -> None:
    with pytest.raises(Refusal, match="No yield"):
        done(with_spin(HOUSE, left_out=True), record_making(CORDIAL, "2026-11-25", BEFORE))


@pytest.mark.parametrize("before", [{}, {SPIN: math.nan}, {SPIN: 0.0}])
def test_yield_of_an_unknown_vessel_is_refused(before: dict[int, float]) -> None:
    with pytest.raises(Refusal, match="before a strain is not known"):
        done(HOUSE, record_making(CORDIAL, "2026-11-25", before))


def test_yield_that_is_more_than_there_was_is_refused() -> None:
    with pytest.raises(Refusal, match="905 g, which is more than the 900 g"):
        done(HOUSE, record_making(CORDIAL, "2026-11-25", {SPIN: 900.0}))


@pytest.mark.parametrize("date", ["", "yesterday", "2026-02-30", "25.11.2026"])
def test_what_is_no_day_is_refused(date: str) -> None:
    with pytest.raises(Refusal, match="is not a day"):
        done(HOUSE, record_making(CORDIAL, date, BEFORE))


def test_removing_a_making_leaves_the_expectation() -> None:
    book = done(HOUSE, start_making(CORDIAL, "2026-11-25", BEFORE))
    after = done(book, remove_making(HOUSE.top_id + 1))
    assert after.makings == {}
    assert spin(after) == spin(book)


def test_removing_a_making_that_is_gone_is_refused() -> None:
    with pytest.raises(Refusal, match="no longer in the house book"):
        done(HOUSE, remove_making(12345))


def test_labels_read_well_after_undo() -> None:
    book = done(HOUSE, record_making(CORDIAL, "2026-11-25", BEFORE))
    assert recording_label(book, CORDIAL) == "keeping a making of pear cordial"
    assert starting_label(book, CORDIAL) == "starting the next making of pear cordial"
    assert removing_label(book, HOUSE.top_id + 1) == "removing the making of pear cordial of 2026-11-25"
    assert removing_label(book, 12345) == "removing a making"
