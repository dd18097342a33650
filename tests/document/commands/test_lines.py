from itertools import pairwise

import pytest
from msgspec import structs

from tests.document.doing import done
from tests.document.house import (
    CORDIAL,
    GIN,
    LEATHER,
    LIME,
    PRESS,
    SIGNAL,
    SIGNAL_CHILL,
    SIGNAL_GIN,
    SIGNAL_LEAF,
    SIGNAL_LIME,
    SIGNAL_SODA,
    SPENT,
    SWEETEN,
    TIDE,
    TIDE_CHILL,
    TONIC,
    TOP_ID,
    amount_of,
    house,
)
from washline.document.commands.command import Refusal
from washline.document.commands.lines import add_line, set_amount, set_item, set_kind
from washline.document.commands.placing import AT_START
from washline.document.commands.steps import leave_out
from washline.model.amount import Amount, grams, millilitres
from washline.model.book import HouseBook
from washline.model.step import Add, Garnish, Top

HOUSE = house()


def order(book: HouseBook, build_id: int) -> list[int]:
    return [step.id for step in book.builds[build_id].steps]


def test_a_new_line_stands_after_the_step_it_was_asked_for_and_gets_the_next_id() -> None:
    book = done(HOUSE, add_line(TIDE, LIME, millilitres(22.5), after=60))
    assert order(book, TIDE) == [60, TOP_ID + 1, 61, 62]
    assert amount_of(book, TIDE, TOP_ID + 1) == millilitres(22.5)


def test_a_new_line_stands_at_the_end_or_before_all() -> None:
    assert order(done(HOUSE, add_line(TIDE, LIME, millilitres(1.0))), TIDE) == [60, 61, 62, 71]
    assert order(done(HOUSE, add_line(TIDE, LIME, millilitres(1.0), after=AT_START)), TIDE) == [
        71,
        60,
        61,
        62,
    ]


def test_a_line_can_be_a_top_or_a_garnish() -> None:
    book = done(HOUSE, add_line(TIDE, TONIC, millilitres(60.0), kind=Top))
    assert isinstance(book.step(TIDE, TOP_ID + 1), Top)


def test_no_other_place_moves_while_there_is_room() -> None:
    book = done(HOUSE, add_line(TIDE, LIME, millilitres(1.0), after=60))
    assert [step.place for step in book.builds[TIDE].steps] == [1.0, 1.5, 2.0, 3.0]


def test_places_are_numbered_anew_when_there_is_no_room_left() -> None:
    book = HOUSE
    for _ in range(25):
        book = done(book, add_line(TIDE, LIME, millilitres(1.0), after=60))
    places = [step.place for step in book.builds[TIDE].steps]
    assert min(second - first for first, second in pairwise(places)) >= 1e-6
    assert order(book, TIDE)[:2] == [60, book.top_id]
    assert order(book, TIDE)[-3:] == [71, 61, 62]


def test_an_amount_is_set_with_the_text_that_was_typed() -> None:
    book = done(HOUSE, set_amount(SIGNAL, SIGNAL_LIME, Amount(1.5, "oz", typed="1½oz")))
    assert amount_of(book, SIGNAL, SIGNAL_LIME) == Amount(1.5, "oz", typed="1½oz")


@pytest.mark.parametrize("number", [-1.0, float("inf"), float("nan"), 1e13])
def test_an_amount_that_cannot_be_is_refused(number: float) -> None:
    with pytest.raises(Refusal, match="An amount must be a number from 0"):
        done(HOUSE, set_amount(SIGNAL, SIGNAL_LIME, millilitres(number)))


def test_a_step_of_words_has_no_amount() -> None:
    with pytest.raises(Refusal, match="has no amount"):
        done(HOUSE, set_amount(SIGNAL, SIGNAL_CHILL, millilitres(1.0)))


def test_another_item_in_a_line_keeps_the_line_and_its_amount() -> None:
    book = done(HOUSE, set_item(SIGNAL, SIGNAL_SODA, TONIC))
    step = book.step(SIGNAL, SIGNAL_SODA)
    assert isinstance(step, Top)
    assert (step.item_id, step.amount) == (TONIC, millilitres(60.0))


def test_another_item_can_come_with_its_own_amount() -> None:
    book = done(HOUSE, set_item(SIGNAL, SIGNAL_SODA, TONIC, millilitres(45.0)))
    assert amount_of(book, SIGNAL, SIGNAL_SODA) == millilitres(45.0)


def test_a_chill_takes_in_no_item() -> None:
    with pytest.raises(Refusal, match="takes in no item"):
        done(HOUSE, set_item(SIGNAL, SIGNAL_CHILL, GIN))


def test_a_part_cannot_be_made_of_what_is_made_of_it_and_the_way_is_named() -> None:
    with pytest.raises(Refusal) as refused:
        done(HOUSE, add_line(CORDIAL, LEATHER, grams(10.0)))
    assert refused.value.what == "pear leather cannot go into pear cordial."
    assert refused.value.cause == (
        "It would be made of itself: pear leather, made of pear cordial, made of pear leather."
    )


def test_a_part_cannot_take_in_its_own_leftover() -> None:
    with pytest.raises(Refusal, match="made of itself"):
        done(HOUSE, add_line(CORDIAL, SPENT, grams(10.0)))


def test_a_line_that_is_left_out_closes_no_cycle_until_it_is_taken_in() -> None:
    line = Add(id=90, build_id=CORDIAL, place=9.0, item_id=LEATHER, amount=grams(1.0), left_out=True)
    build = HOUSE.builds[CORDIAL]
    with_line = structs.replace(build, steps=(*build.steps, line))
    book = done(HOUSE, lambda book: book.with_build(with_line))
    with pytest.raises(Refusal, match="made of itself"):
        done(book, leave_out(CORDIAL, [90], is_left_out=False))


def test_a_drink_does_not_go_into_another() -> None:
    with pytest.raises(Refusal, match="Pear Signal cannot go into Sloe Tide. It is a drink"):
        done(HOUSE, add_line(TIDE, SIGNAL, millilitres(10.0)))


def test_an_item_that_is_not_there_is_refused() -> None:
    with pytest.raises(Refusal, match="no longer in the house book"):
        done(HOUSE, add_line(TIDE, 999, millilitres(10.0)))


def test_a_line_of_a_drink_that_is_gone_is_refused() -> None:
    with pytest.raises(Refusal, match="This drink or part is no longer"):
        done(HOUSE, set_amount(999, SIGNAL_LIME, grams(1.0)))
    with pytest.raises(Refusal, match="This step of Sloe Tide is no longer"):
        done(HOUSE, set_amount(TIDE, SIGNAL_LIME, grams(1.0)))


def test_a_line_becomes_a_top_and_stays_the_same_line() -> None:
    book = done(HOUSE, set_kind(SIGNAL, SIGNAL_GIN, Top))
    step = book.step(SIGNAL, SIGNAL_GIN)
    assert isinstance(step, Top)
    assert (step.id, step.place, step.item_id, step.amount) == (SIGNAL_GIN, 1.0, GIN, millilitres(30.0))


def test_a_garnish_becomes_a_line_and_a_line_of_its_kind_already_stays() -> None:
    assert isinstance(done(HOUSE, set_kind(SIGNAL, SIGNAL_LEAF, Add)).step(SIGNAL, SIGNAL_LEAF), Add)
    assert set_kind(SIGNAL, SIGNAL_LEAF, Garnish)(HOUSE) is HOUSE


def test_only_lines_have_a_kind_to_change() -> None:
    with pytest.raises(Refusal, match="takes in no item"):
        done(HOUSE, set_kind(TIDE, TIDE_CHILL, Top))


def test_a_share_may_refer_to_a_step_above_it() -> None:
    assert amount_of(HOUSE, CORDIAL, SWEETEN).of == (PRESS,)
    book = done(HOUSE, set_amount(CORDIAL, SWEETEN, grams(380.1)))
    assert amount_of(book, CORDIAL, SWEETEN) == grams(380.1)
