from dataclasses import replace

import msgspec
import pytest
from msgspec import structs

from tests.document.doing import done
from tests.document.house import (
    BLEND,
    CORDIAL,
    GIN,
    LEATHER,
    PEARS,
    PRESS,
    SIGNAL,
    SIGNAL_GIN,
    SIGNAL_LIME,
    SPENT,
    SUGAR,
    SWEETEN,
    TIDE,
    TIDE_GIN,
    TOP_ID,
    amount_of,
    house,
)
from washline.document.commands.command import Refusal
from washline.document.commands.copies import StepCopies, copy_steps, paste_steps
from washline.document.commands.items import rename
from washline.document.commands.placing import AT_START
from washline.document.commands.steps import remove_steps
from washline.model.amount import grams, millilitres
from washline.model.book import HouseBook
from washline.model.step import Add, Strain

HOUSE = house()


def order(book: HouseBook, build_id: int) -> list[int]:
    return [step.id for step in book.builds[build_id].steps]


def test_pasted_lines_have_new_ids_and_stand_where_they_were_asked_for() -> None:
    copies = copy_steps(HOUSE, SIGNAL, [SIGNAL_LIME, SIGNAL_GIN])
    book = done(HOUSE, paste_steps(copies, TIDE, after=TIDE_GIN))
    assert order(book, TIDE) == [TIDE_GIN, TOP_ID + 1, TOP_ID + 2, 61, 62]
    assert [amount_of(book, TIDE, TOP_ID + n) for n in (1, 2)] == [millilitres(30.0), millilitres(15.0)]
    assert book.builds[SIGNAL] == HOUSE.builds[SIGNAL]


def test_lines_are_pasted_before_all_and_into_their_own_build() -> None:
    copies = copy_steps(HOUSE, TIDE, [TIDE_GIN])
    assert order(done(HOUSE, paste_steps(copies, TIDE, after=AT_START)), TIDE) == [TOP_ID + 1, 60, 61, 62]


def test_a_share_follows_the_copy_of_its_line() -> None:
    copies = copy_steps(HOUSE, CORDIAL, [PEARS, BLEND, PRESS, SWEETEN])
    book = done(HOUSE, paste_steps(copies, LEATHER))
    press, sugar = TOP_ID + 3, TOP_ID + 4
    assert amount_of(book, LEATHER, sugar).of == (press,)
    assert amount_of(book, LEATHER, sugar).typed == "42 %"


def test_a_share_pasted_below_its_line_in_the_same_build_still_refers_to_it() -> None:
    copies = copy_steps(HOUSE, CORDIAL, [SWEETEN])
    book = done(HOUSE, paste_steps(copies, CORDIAL))
    assert amount_of(book, CORDIAL, TOP_ID + 1).of == (PRESS,)


def test_a_share_without_its_line_stands_at_the_grams_found() -> None:
    copies = copy_steps(HOUSE, CORDIAL, [SWEETEN], {SWEETEN: 380.1, PEARS: 1200.0})
    assert copies.found_g == {SWEETEN: 380.1}
    assert amount_of(done(HOUSE, paste_steps(copies, LEATHER)), LEATHER, TOP_ID + 1) == grams(380.1)
    above = done(HOUSE, paste_steps(copies, CORDIAL, after=AT_START))
    assert amount_of(above, CORDIAL, TOP_ID + 1) == grams(380.1)


def test_a_share_without_its_line_and_without_grams_is_refused() -> None:
    with pytest.raises(Refusal, match="white sugar cannot be pasted here"):
        done(HOUSE, paste_steps(copy_steps(HOUSE, CORDIAL, [SWEETEN]), LEATHER))


def test_a_pasted_strain_leaves_over_something_of_its_own() -> None:
    book = done(HOUSE, paste_steps(copy_steps(HOUSE, CORDIAL, [PRESS]), TIDE))
    made = book.step(TIDE, TOP_ID + 1)
    assert isinstance(made, Strain)
    assert made.leftover_id == TOP_ID + 2
    assert book.leftovers[TOP_ID + 2] == structs.replace(HOUSE.leftovers[SPENT], id=TOP_ID + 2, build_id=TIDE)


def test_copies_outlive_what_was_cut() -> None:
    copies = copy_steps(HOUSE, SIGNAL, [SIGNAL_LIME])
    book = done(HOUSE, remove_steps(SIGNAL, [SIGNAL_LIME]))
    assert amount_of(done(book, paste_steps(copies, SIGNAL)), SIGNAL, TOP_ID + 1) == millilitres(15.0)


def test_copies_survive_leaving_the_program() -> None:
    copies = copy_steps(HOUSE, CORDIAL, [PEARS, PRESS, SWEETEN], {SWEETEN: 380.1})
    assert msgspec.json.decode(msgspec.json.encode(copies), type=StepCopies) == copies


def other_house() -> HouseBook:
    """A house where gin has another id, and the id of gin is something else."""
    raws = dict(HOUSE.raws)
    raws[GIN] = structs.replace(raws[GIN], name="vodka")
    raws[900] = structs.replace(HOUSE.raws[GIN], id=900)
    return replace(HOUSE, raws=raws, top_id=900)


def test_lines_from_another_house_book_find_their_item_by_name() -> None:
    copies = copy_steps(HOUSE, SIGNAL, [SIGNAL_GIN])
    step = done(other_house(), paste_steps(copies, TIDE)).step(TIDE, 901)
    assert isinstance(step, Add)
    assert step.item_id == 900


def test_an_item_that_is_not_here_is_refused_by_name() -> None:
    copies = copy_steps(HOUSE, CORDIAL, [PEARS])
    book = done(HOUSE, rename(4, "pear, Conference"))
    with pytest.raises(Refusal) as refused:
        done(book, paste_steps(copies, TIDE))
    assert refused.value.cause == "This house book has no ripe pear, or more than one."


def test_what_would_close_a_cycle_is_not_pasted() -> None:
    copies = copy_steps(HOUSE, LEATHER, [45])
    with pytest.raises(Refusal, match="made of itself"):
        done(HOUSE, paste_steps(copies, CORDIAL))


def test_pasting_nothing_changes_nothing() -> None:
    assert paste_steps(StepCopies(()), TIDE)(HOUSE) is HOUSE


def test_item_names_are_kept_once_per_item() -> None:
    assert copy_steps(HOUSE, CORDIAL, [PEARS, SWEETEN]).item_names == {4: "ripe pear", SUGAR: "white sugar"}
