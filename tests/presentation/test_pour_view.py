"""What poured lines are shown in: the part of a ratio, ounces, millilitres, and what is typed there."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import structs

from tests.presentation.bar_house import AT_THE_BAR, RYE_LINE, VERMOUTH_LINE, bar_house, drink
from washline.model.amount import Amount, grams, millilitres
from washline.model.step import Add
from washline.presentation.pour_view import PourUnit, PourView, part_ml, pour_view, poured_ml
from washline.quantity.amount_text import TypedAmount, parse_amount

PARTS = PourView(PourUnit.PARTS, 30.0, 30.0)


def ratio(*volumes_ml: float) -> str:
    part = part_ml(volumes_ml)
    assert part is not None
    view = PourView(PourUnit.PARTS, part)
    return " : ".join(view.number_text(volume / part) for volume in volumes_ml)


@pytest.mark.parametrize(
    "volumes, shown",
    [
        ((60.0, 22.5, 22.5), "2 : ¾ : ¾"),
        ((30.0, 30.0, 30.0), "1 : 1 : 1"),
        ((50.0, 25.0, 25.0), "2 : 1 : 1"),
        ((45.0, 22.5, 22.5), "2 : 1 : 1"),
        ((60.0, 30.0, 15.0), "2 : 1 : ½"),
        ((45.0, 15.0, 7.5), "3 : 1 : ½"),
        ((50.0, 20.0, 20.0, 10.0), "5 : 2 : 2 : 1"),
        ((60.0, 20.0, 15.0), "3 : 1 : ¾"),
        ((45.0, 30.0, 20.0), "3 : 2 : 1⅓"),
        ((59.147, 22.18, 22.18), "2 : ¾ : ¾"),
        ((60.0,), "1"),
    ],
)
def test_a_ratio_is_told_with_the_simplest_numbers(volumes: tuple[float, ...], shown: str) -> None:
    assert ratio(*volumes) == shown


def test_what_stands_in_no_plain_ratio_has_no_part() -> None:
    assert part_ml((47.0, 23.3, 11.1)) is None
    assert part_ml(()) is None
    assert part_ml((0.0,)) is None


@given(
    st.lists(st.sampled_from([7.5, 10.0, 15.0, 20.0, 22.5, 25.0, 30.0, 40.0, 45.0, 50.0, 60.0]), min_size=1, max_size=5),
    st.floats(0.1, 10.0),
)  # fmt: skip
def test_more_of_the_same_is_the_same_ratio(volumes: list[float], factor: float) -> None:
    part = part_ml(volumes)
    scaled = part_ml([volume * factor for volume in volumes])
    assert (part is None) == (scaled is None)
    if part is not None and scaled is not None:
        assert scaled == pytest.approx(part * factor, rel=1e-6)
        largest = max(volumes) / part
        assert largest == pytest.approx(round(largest), abs=1e-9)
        for volume in volumes:
            assert any(
                math.isclose(volume / part * d, round(volume / part * d), rel_tol=0.003) for d in (1, 2, 3, 4)
            )


def test_the_part_of_a_drink_is_found_from_what_is_poured_by_volume() -> None:
    book = bar_house()
    found = pour_view(PourUnit.PARTS, book.builds[AT_THE_BAR], book)
    assert found.one_ml == pytest.approx(30.0)


def test_where_there_is_no_plain_ratio_a_part_is_an_ounce_of_the_house() -> None:
    book = bar_house()
    odd = Add(id=900, build_id=AT_THE_BAR, place=900.0, item_id=51, amount=millilitres(47.3))
    assert pour_view(PourUnit.PARTS, drink(odd), book).one_ml == 30.0


def test_one_line_alone_is_in_no_ratio() -> None:
    book = bar_house()
    alone = structs.replace(drink(), steps=drink().steps[:2])
    assert pour_view(PourUnit.PARTS, alone, book).one_ml == 30.0


def test_a_line_that_is_left_out_has_no_say_in_the_part() -> None:
    book = bar_house()
    odd = Add(id=900, build_id=AT_THE_BAR, place=900.0, item_id=51, amount=millilitres(47.3), left_out=True)
    assert pour_view(PourUnit.PARTS, drink(odd), book).one_ml == pytest.approx(30.0)


@pytest.mark.parametrize(
    "amount", [Amount(2.0, "dash"), Amount(3.0, "drop"), grams(5.0), Amount(1.0, "barspoon")]
)
def test_dashes_drops_and_grams_stay(amount: Amount) -> None:
    assert poured_ml(amount, 30.0) is None


def typed(text: str) -> TypedAmount:
    found = parse_amount(text)
    assert isinstance(found, TypedAmount)
    return found


@pytest.mark.parametrize("text, ml", [("3/4", 22.5), ("¾ parts", 22.5), ("2", 60.0), ("1 1/2", 45.0)])
def test_parts_typed_in_the_parts_view_are_of_the_same_unit(text: str, ml: float) -> None:
    found = PARTS.meant(typed(text), millilitres(60.0))
    assert (found.number, found.unit, found.basis) == (pytest.approx(ml), "ml", "absolute")


def test_a_line_typed_in_ounces_stays_in_ounces() -> None:
    found = PARTS.meant(typed("1"), Amount(2.0, "oz"))
    assert (found.number, found.unit) == (pytest.approx(1.0), "oz")


def test_a_unit_that_is_typed_counts_in_every_view() -> None:
    assert PARTS.meant(typed("20 ml"), millilitres(60.0)) == typed("20 ml")


def test_dashes_keep_their_unit_in_the_parts_view() -> None:
    assert PARTS.meant(typed("3"), Amount(2.0, "dash")).unit is None


def test_a_bare_number_is_in_the_unit_that_is_shown() -> None:
    ounces = PourView(PourUnit.OZ, 30.0, 30.0).meant(typed("3/4"), millilitres(60.0))
    assert (ounces.number, ounces.unit, ounces.typed) == (0.75, "oz", "3/4 oz")
    ml = PourView(PourUnit.ML, 1.0, 30.0).meant(typed("45"), Amount(2.0, "oz"))
    assert (ml.number, ml.unit) == (45.0, "ml")


def test_scant_stays_scant_in_the_parts_view() -> None:
    assert PARTS.meant(typed("scant 3/4"), millilitres(60.0)).heft == "scant"


@given(st.integers(1, 40), st.sampled_from([1, 2, 3, 4]))
def test_what_is_shown_in_parts_reads_as_the_same_volume(count: int, denominator: int) -> None:
    ml = float(Fraction(count, denominator)) * 30.0
    step = Add(id=1, build_id=1, place=1.0, item_id=1, amount=millilitres(ml))
    shown = PARTS.shown(step)
    assert shown is not None
    found = PARTS.meant(typed(PARTS.number_text(shown)), step.amount)
    assert found.number == pytest.approx(ml, rel=1e-9)


def test_lines_of_the_bar_are_shown_in_parts() -> None:
    book = bar_house()
    view = pour_view(PourUnit.PARTS, book.builds[AT_THE_BAR], book)
    shown = {step.id: view.shown(step) for step in book.builds[AT_THE_BAR].steps}
    assert shown[RYE_LINE] == pytest.approx(2.0)
    assert shown[VERMOUTH_LINE] == pytest.approx(0.75)
    assert view.shown(structs.replace(book.builds[AT_THE_BAR].steps[0])) is None
