"""The Contains box of a card: which line brings what, and what nobody knows."""

from msgspec.structs import replace

from tests.presentation.cards import card_of, drink_with, house_with_verjus
from tests.presentation.small_house import CORDIAL, GIN, MALIC, OTHER, PEAR, SIGNAL, VERJUS, house
from washline.model.amount import millilitres
from washline.model.step import Add
from washline.presentation.card_box import allergen_word, poured_with
from washline.presentation.card_credits import credits_owed


def test_allergens_of_one_source_are_told_together() -> None:
    box = card_of(house_with_verjus(allergens=("milk", "eggs"))).box
    assert box.groups == ((("egg", "milk"), "from the verjus"),)
    assert box.contained_text == "egg, milk from the verjus"


def test_allergen_of_two_lines_names_both() -> None:
    book = house_with_verjus(allergens=("sulphites",))
    book = book.with_raw(replace(book.raws[PEAR], allergens=("sulphites",)))
    assert card_of(book).box.contained_text == "sulphites from the pear cordial and verjus"


def test_allergen_inside_a_part_is_named_by_the_line_that_pours_the_part() -> None:
    book = house()
    book = book.with_raw(replace(book.raws[MALIC], allergens=("celery",), cautions=("concentrated-acid",)))
    box = card_of(book).box
    assert box.contained_text == "celery from the pear cordial"
    assert box.cautions[0].sources == ("pear cordial",)


def test_what_the_house_adds_to_a_part_rises_into_the_drink() -> None:
    book = house()
    book = book.with_build(replace(book.builds[CORDIAL], added_allergens=("nuts",)))
    assert card_of(book).box.contained_text == "nuts added by the house"


def test_addition_that_is_recorded_already_is_told_once() -> None:
    book = house_with_verjus(allergens=("milk",))
    book = book.with_build(replace(book.builds[SIGNAL], added_allergens=("milk",)))
    assert card_of(book).box.contained_text == "milk from the verjus"


def test_unknown_beside_a_known_allergen_is_still_told() -> None:
    box = card_of(house_with_verjus(allergens=("milk", "unknown"))).box
    assert box.contained_text == "milk from the verjus"
    assert box.unknown == ("verjus",)


def test_nothing_unknown_says_nothing_of_it() -> None:
    assert card_of(house()).box.unknown_text == ""


def test_line_that_is_left_out_brings_nothing() -> None:
    lines = [
        Add(id=501, build_id=OTHER, place=1.0, item_id=GIN, amount=millilitres(45.0)),
        Add(id=502, build_id=OTHER, place=2.0, item_id=VERJUS, amount=millilitres(15.0), left_out=True),
    ]
    book = drink_with(lines)
    book = book.with_raw(replace(book.raws[VERJUS], allergens=("milk", "unknown"), cautions=("quinine",)))
    box = card_of(book, OTHER).box
    assert (box.contained, box.unknown, box.cautions) == ((), (), ())


def test_raw_ingredients_are_traced_to_the_lines_that_pour_them() -> None:
    book = house()
    poured = poured_with(book, book.builds[SIGNAL], {CORDIAL: "cordial"})
    assert poured[PEAR] == ("cordial",)
    assert poured[VERJUS] == ("verjus",)


def test_allergen_that_the_table_does_not_know_speaks_for_itself() -> None:
    assert allergen_word("stardust") == "stardust"


def test_credits_stand_once_and_in_the_order_of_their_table() -> None:
    owed = credits_owed(["CoFID 1", "CIQUAL 2", "CIQUAL 3", "weighed here"])
    assert [text.partition(" ")[0] for text in owed] == ["Anses.", "McCance"]
    assert credits_owed([]) == ()
