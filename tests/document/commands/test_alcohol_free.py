"""A version without what brings alcohol, in one step that can be undone."""

import pytest
from msgspec import structs

from tests.document.doing import done
from tests.document.house import (
    CORDIAL,
    GIN,
    LEAF,
    LIME,
    PEAR,
    SIGNAL,
    SIGNAL_CHILL,
    SIGNAL_GIN,
    SODA,
    TIDE,
    TONIC,
    TOP_ID,
    house,
)
from washline.document.commands.alcohol_free import make_alcohol_free, with_rules
from washline.document.commands.command import Refusal
from washline.document.commands.lines import set_amount
from washline.document.commands.steps import add_step, set_step
from washline.document.twists import Pairing, line_pairs
from washline.model.amount import Amount, Basis, Heft, grams, millilitres
from washline.model.book import HouseBook
from washline.model.house import Swap
from washline.model.step import Chill, Line, Measurable, Measurement

HOUSE = house()
TWIST = TOP_ID + 1


def made(swaps: list[Swap], book: HouseBook = HOUSE, **fields: object) -> HouseBook:
    return done(book, make_alcohol_free(SIGNAL, swaps, "Signal, low-alcohol", **fields))  # type: ignore[arg-type]


def line(book: HouseBook, item_id: int) -> Line:
    found = [step for step in book.builds[TWIST].steps if isinstance(step, Line) and step.item_id == item_id]
    assert len(found) == 1
    return found[0]


def test_a_line_gives_way_and_the_rest_of_the_drink_is_the_same() -> None:
    book = made([Swap(GIN, TONIC)])
    pairs = line_pairs(book.builds[SIGNAL], book.builds[TWIST])
    swapped = [pair for pair in pairs if pair.pairing is Pairing.SWAPPED]
    assert [(pair.parent.item_id, pair.twist.item_id) for pair in swapped] == [(GIN, TONIC)]  # type: ignore[union-attr]
    assert {pair.pairing for pair in pairs} <= {Pairing.SAME, Pairing.SWAPPED, Pairing.CHANGED}


def test_the_version_is_a_twist_that_is_tried_and_the_parent_stays_as_it_is() -> None:
    book = made([Swap(GIN, TONIC)])
    twist = book.builds[TWIST]
    assert (twist.name, twist.parent_id, twist.is_tried) == ("Signal, low-alcohol", SIGNAL, True)
    assert book.builds[SIGNAL] is HOUSE.builds[SIGNAL]


def test_a_factor_is_of_the_volume() -> None:
    parent = HOUSE.step(SIGNAL, SIGNAL_GIN)
    assert isinstance(parent, Line)
    assert line(made([Swap(GIN, TONIC, 1.5)]), TONIC).amount.number == pytest.approx(
        1.5 * parent.amount.number
    )


def test_what_is_weighed_in_is_poured_by_its_volume() -> None:
    book = done(HOUSE, set_amount(SIGNAL, SIGNAL_GIN, grams(42.0)))
    assert line(
        made([Swap(GIN, TONIC, 0.5)], book, found_ml={SIGNAL_GIN: 44.3}), TONIC
    ).amount == millilitres(22.15)


def test_what_is_weighed_in_without_a_known_volume_is_weighed_again() -> None:
    book = done(HOUSE, set_amount(SIGNAL, SIGNAL_GIN, grams(42.0)))
    assert line(made([Swap(GIN, TONIC, 0.5)], book), TONIC).amount == grams(21.0)


@pytest.mark.parametrize(
    "amount",
    [Amount(0.0, "ml", Basis.TO_WASH_LINE), Amount(45.0, "ml", typed="scant 45", heft=Heft.SCANT)],
    ids=["mark", "scant"],
)
def test_a_mark_and_a_scant_pour_stay_what_they_are(amount: Amount) -> None:
    book = HOUSE.with_build(
        structs.replace(
            HOUSE.builds[SIGNAL],
            steps=tuple(
                structs.replace(step, amount=amount) if step.id == SIGNAL_GIN else step
                for step in HOUSE.builds[SIGNAL].steps
            ),
        )
    )
    twisted = make_alcohol_free(SIGNAL, [Swap(GIN, TONIC)], "x")(book)
    assert line(twisted, TONIC).amount == amount


def test_without_another_item_the_line_is_left_out_and_can_be_put_back() -> None:
    gin = line(made([Swap(GIN)]), GIN)
    assert gin.left_out


def test_what_was_weighed_on_the_parent_is_not_taken_over() -> None:
    book = done(HOUSE, set_step(SIGNAL, SIGNAL_CHILL, final_ml=150.0))
    chill = next(step for step in made([Swap(GIN)], book).builds[TWIST].steps if isinstance(step, Chill))
    assert (chill.final_ml, chill.final_g, chill.melted_g, chill.end_c) == (None, None, None, None)


def test_a_measured_value_of_the_parent_does_not_count_in_the_version() -> None:
    measured = Measurement(id=0, build_id=SIGNAL, place=0.0, quantity=Measurable.PH, value=3.0, gain=0.0)
    book = done(HOUSE, add_step(SIGNAL, measured))
    twist = next(one for one in made([Swap(GIN)], book).builds.values() if one.parent_id == SIGNAL)
    found = [step for step in twist.steps if isinstance(step, Measurement)]
    assert [step.left_out for step in found] == [True]


def test_the_choices_become_rules_of_the_house() -> None:
    assert made([Swap(GIN, TONIC, 0.5)]).settings.swaps == (Swap(GIN, TONIC, 0.5),)
    assert made([Swap(GIN, TONIC)], remembers=False).settings.swaps == ()


def test_one_item_has_one_rule_and_other_rules_stay() -> None:
    kept = (Swap(GIN, SODA), Swap(LEAF))
    assert with_rules(kept, [Swap(GIN, TONIC, 2.0)]) == (Swap(GIN, TONIC, 2.0), Swap(LEAF))


def test_a_rule_for_what_another_drink_pours_changes_nothing_here() -> None:
    book = made([Swap(GIN, TONIC), Swap(PEAR)])
    assert [step.left_out for step in book.builds[TWIST].steps if isinstance(step, Line)].count(True) == 0


@pytest.mark.parametrize(
    "swaps",
    [[], [Swap(TIDE)], [Swap(GIN, GIN)], [Swap(GIN, TONIC, 0.0)], [Swap(GIN, TONIC, float("nan"))], [Swap(GIN, 999)]],
    ids=["nothing", "not poured here", "itself", "nothing of it", "no number", "gone"],
)  # fmt: skip
def test_what_cannot_be_is_refused(swaps: list[Swap]) -> None:
    with pytest.raises(Refusal):
        made(swaps)


def test_a_part_that_is_made_with_the_drink_cannot_take_a_place_in_it() -> None:
    book = made([Swap(GIN, CORDIAL)])
    assert LIME in {step.item_id for step in book.builds[TWIST].steps if isinstance(step, Line)}
