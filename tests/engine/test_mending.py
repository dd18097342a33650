"""The one pour that puts a drink back: on the full model, the smallest that does, and honest where none does."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import structs

from tests.engine.kitchen import BITTERS, LEMON, SODA, SOUR, SPIRIT, SUGAR, Vessel, house, pantry, with_raw
from washline.engine.mending import Mend, mends, pour_step, tried_numbers
from washline.engine.workings import Workings
from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.reading import READING_INDEX
from washline.model.step import Add
from washline.model.target import Aim

ACIDITY = Aim("acidity", 0.9, 1.1, 1.3)
STRENGTH = Aim("strength", 10.0, 14.0, 19.0)
LENGTH = Aim("length", 120.0, 130.0, 145.0)


def _sharp(citric: float) -> tuple[HouseBook, Build]:
    """A plain sour of the house's juice with so much citric acid in 100 g."""
    build = (
        Vessel(SOUR).add(SPIRIT, 45.0, "ml").add(LEMON, 30.0, "ml").add(SUGAR, 15.0).chill("shake").build()
    )
    book = with_raw(pantry(), LEMON, citric=citric, water=96.0 - citric)
    return book.with_build(build), build


def _mends(
    book: HouseBook, build: Build, *aims: Aim, wanted: tuple[str, ...] = ("acidity",)
) -> tuple[Mend, ...]:
    workings = Workings(book)
    workings.evaluate_all()
    return mends(book, build, aims, wanted, workings)


def _taken(book: HouseBook, build: Build, mend: Mend) -> HouseBook:
    steps = tuple(
        structs.replace(step, amount=mend.amount)
        if isinstance(step, Add) and step.id == mend.step_id
        else step
        for step in build.steps
    )
    return book.with_build(structs.replace(build, steps=steps))


def test_less_of_a_juice_that_turned_sharp_comes_first() -> None:
    book, build = _sharp(7.0)
    best = _mends(book, build, ACIDITY, STRENGTH)[0]
    assert (best.item_id, best.before.number) == (LEMON, 30.0)
    assert best.amount.number < 30.0
    assert best.strains == ()


def test_what_it_promises_is_what_the_drink_then_reads_to_the_bit() -> None:
    book, build = _sharp(7.0)
    for mend in _mends(book, build, ACIDITY, STRENGTH):
        result = Workings(_taken(book, build, mend)).result_now(SOUR)
        assert result.values.tobytes() == mend.values.tobytes()


def test_one_step_less_would_not_do() -> None:
    book, build = _sharp(7.0)
    best = next(mend for mend in _mends(book, build, ACIDITY) if mend.item_id == LEMON)
    nearer = structs.replace(best.amount, number=best.amount.number + 2.5)
    values = Workings(_taken(book, build, Mend(best.step_id, LEMON, best.before, nearer, 0.0, best.values)))
    acidity = values.result_now(SOUR).value("acidity")
    assert acidity is not None
    assert acidity > ACIDITY.high


def test_amounts_move_in_whole_jigger_steps() -> None:
    book, build = _sharp(7.0)
    for mend in _mends(book, build, ACIDITY):
        if mend.amount.unit == "ml":
            assert mend.amount.number % 2.5 == 0.0


def test_a_pour_that_pushes_another_reading_out_stands_behind_and_says_which() -> None:
    book, build = _sharp(7.0)
    found = _mends(book, build, ACIDITY, LENGTH)
    assert [mend.strained for mend in found] == sorted(mend.strained for mend in found)
    more_spirit = next(mend for mend in found if mend.item_id == SPIRIT)
    assert more_spirit.strains == ("length",)
    assert more_spirit.strained > 0.0


def test_where_no_single_pour_does_it_there_is_none() -> None:
    book, build = _sharp(7.0)
    assert _mends(book, build, Aim("acidity", 9.0, 10.0, 11.0)) == ()


def test_two_readings_that_no_one_line_brings_back_together_have_no_pour() -> None:
    book, build = _sharp(7.0)
    aims = (ACIDITY, Aim("sweetness", 40.0, 45.0, 50.0))
    assert _mends(book, build, *aims, wanted=("acidity", "sweetness")) == ()


def test_a_line_left_out_and_a_top_to_a_mark_are_no_pours() -> None:
    vessel = (
        Vessel(SOUR).add(SPIRIT, 45.0, "ml").add(LEMON, 30.0, "ml").add(BITTERS, 10.0, "ml", left_out=True)
    )
    build = vessel.top(SODA, 200.0, basis=Basis.TO_VOLUME).build()
    book = pantry().with_build(build)
    found = _mends(book, build, Aim("acidity", 0.2, 0.4, 0.6))
    assert {mend.item_id for mend in found} <= {SPIRIT, LEMON}
    assert found


def test_what_cannot_be_computed_has_no_pour() -> None:
    build = Vessel(SOUR).add(SPIRIT, 45.0, "ml").add(LEMON, 3.0, "piece").build()
    assert _mends(pantry().with_build(build), build, ACIDITY) == ()


def test_a_drink_with_a_part_is_mended_by_its_own_lines() -> None:
    book = house()
    build = book.builds[SOUR]
    now = Workings(book).result_now(SOUR).value("acidity")
    assert now is not None
    aim = Aim("acidity", now - 0.3, now - 0.2, now - 0.1)
    found = _mends(book, build, aim)
    assert found
    assert {mend.step_id for mend in found} <= {step.id for step in build.steps}


@pytest.mark.parametrize(
    ("amount", "step"),
    [
        (Amount(45.0, "ml"), 2.5),
        (Amount(1.5, "oz"), 0.25),
        (Amount(2.0, "dash"), 1.0),
        (Amount(4.0, "drop"), 1.0),
        (Amount(2.0, "g"), 0.1),
        (Amount(1.0, "barspoon"), 0.5),
        (Amount(30.0, "%", Basis.PERCENT_OF_LINES), None),
        (Amount(0.0, "ml"), None),
    ],
)
def test_the_step_of_an_amount_is_what_the_house_pours_in(amount: Amount, step: float | None) -> None:
    assert pour_step(amount) == step


def test_an_amount_between_two_steps_is_tried_on_the_steps() -> None:
    tried = tried_numbers(Amount(22.0, "ml"))
    assert 20.0 in tried
    assert 22.5 in tried
    assert 22.0 not in tried
    assert min(tried) == 2.5


@given(st.floats(4.0, 12.0), st.floats(0.3, 2.0), st.floats(0.05, 0.4))
def test_whatever_is_found_is_back_in_its_band(citric: float, ideal: float, tolerance: float) -> None:
    book, build = _sharp(citric)
    aim = Aim("acidity", ideal - tolerance, ideal, ideal + tolerance)
    for mend in _mends(book, build, aim, STRENGTH):
        assert aim.low <= mend.values[READING_INDEX["acidity"]] <= aim.high
        assert mend.moved_g > 0.0
        assert np.isfinite(mend.strained)
