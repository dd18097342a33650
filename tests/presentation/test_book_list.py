"""The rows of the house book's list."""

import pytest
from msgspec import structs

from tests.presentation.small_house import CORDIAL, GIN, LEATHER, OTHER, SIGNAL, VERMOUTH, house
from washline.document.commands.twisting import make_twist
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.target import Aim, Target
from washline.presentation.book_list import BookList, Place, days_words, folded, short_name
from washline.presentation.book_rows import (
    BookRow,
    LastList,
    Section,
    SectionRows,
    read_last_list,
    write_last_list,
)

TARGET = 190
TWIST = 201


def listed(book: HouseBook, *, is_computed: bool = True) -> BookList:
    workings = Workings(book)
    if is_computed:
        workings.evaluate_all()
    return BookList(workings, str.casefold)


def names(rows: BookList, section: Section, words: str = "") -> list[str]:
    return [rows.name(section, place.key) for place in rows.places(section, words)]


def row(rows: BookList, section: Section, key: int, depth: int = 0) -> BookRow:
    found = rows.row(section, Place(key, depth))
    assert found is not None
    return found


def with_target(book: HouseBook, *aims: Aim) -> HouseBook:
    book = book.with_target(Target(id=TARGET, name="house aperitif", aims=aims))
    return book.with_build(structs.replace(book.builds[SIGNAL], target_id=TARGET))


@pytest.fixture
def twisted() -> HouseBook:
    return make_twist(SIGNAL, "Pear Signal, bay twist")(house())


def test_drinks_stand_in_order_of_their_names() -> None:
    assert names(listed(house()), Section.DRINKS) == ["Other Signal", "Pear Signal"]


def test_parts_and_raw_ingredients_have_groups_of_their_own() -> None:
    rows = listed(house())
    assert names(rows, Section.PARTS) == ["pear cordial", "pear leather"]
    assert rows.count(Section.RAWS) == 9


def test_twist_follows_its_parent_whatever_its_name(twisted: HouseBook) -> None:
    book = twisted.with_build(structs.replace(twisted.builds[TWIST], name="A first name"))
    places = listed(book).places(Section.DRINKS)
    assert [(place.key, place.depth) for place in places] == [(OTHER, 0), (SIGNAL, 0), (TWIST, 1)]


def test_twist_whose_parent_does_not_match_stands_by_itself(twisted: HouseBook) -> None:
    places = listed(twisted).places(Section.DRINKS, "bay")
    assert places == [Place(TWIST, 0)]


def test_two_builds_that_call_one_another_parent_are_both_listed(twisted: HouseBook) -> None:
    book = twisted.with_build(structs.replace(twisted.builds[SIGNAL], parent_id=TWIST))
    assert {place.key for place in listed(book).places(Section.DRINKS)} == {SIGNAL, TWIST, OTHER}


def test_all_words_must_be_in_the_name_in_any_order() -> None:
    rows = listed(house())
    assert names(rows, Section.DRINKS, "signal pear") == ["Pear Signal"]
    assert names(rows, Section.DRINKS, "signal gin") == []


def test_raw_ingredient_is_found_by_its_category_too() -> None:
    book = house()
    book = book.with_raw(structs.replace(book.raws[GIN], category="spirit"))
    assert names(listed(book), Section.RAWS, "spirit") == ["dry gin"]


def test_folding_takes_case_and_accents_away() -> None:
    assert folded("CRÈME Brûlée") == "creme brulee"


def test_drink_says_strength_and_volume() -> None:
    assert row(listed(house()), Section.DRINKS, OTHER).detail == "below 0.05 % · 30 ml"


def test_drink_without_a_line_says_so() -> None:
    book = house()
    book = book.with_build(structs.replace(book.builds[OTHER], steps=()))
    assert row(listed(book), Section.DRINKS, OTHER).detail == "nothing poured yet"


def test_twist_being_tried_says_so(twisted: HouseBook) -> None:
    assert row(listed(twisted), Section.DRINKS, TWIST, 1).detail.endswith(" · being tried")


def test_twist_under_its_parent_leaves_the_parents_name_out(twisted: HouseBook) -> None:
    rows = listed(twisted)
    assert row(rows, Section.DRINKS, TWIST, 1).name == "bay twist"
    assert row(rows, Section.DRINKS, TWIST, 0).name == "Pear Signal, bay twist"


@pytest.mark.parametrize(
    "name, parent, short",
    [
        ("Pear Signal, bay twist", "Pear Signal", "bay twist"),
        ("Pear Signal", "Pear Signal", "Pear Signal"),
        ("Ebb", "Pear Signal", "Ebb"),
    ],
)
def test_short_name_beside_a_parent(name: str, parent: str, short: str) -> None:
    assert short_name(name, parent) == short


def test_reading_over_its_band_is_counted_and_named() -> None:
    book = with_target(house(), Aim("length", 50.0, 80.0, 100.0), Aim("strength", 0.0, 5.0, 20.0))
    found = row(listed(book), Section.DRINKS, SIGNAL)
    assert found.aside == "1 out"
    assert found.is_out
    assert "length 167, over 100 ml" in found.tip


def test_gate_that_is_broken_counts_as_out_too() -> None:
    book = with_target(house(), Aim("strength", 0.0, 0.0, 0.5, is_gate=True))
    assert row(listed(book), Section.DRINKS, SIGNAL).aside == "1 out"


def test_shape_has_one_radius_for_each_axis_and_none_for_gates() -> None:
    aims = [Aim("strength", 0, 5, 20), Aim("sweetness", 0, 5, 20), Aim("acidity", 0, 1, 2)]
    book = with_target(house(), *aims, Aim("salt", 0, 0, 1, is_gate=True))
    assert len(row(listed(book), Section.DRINKS, SIGNAL).radii) == 3


def test_drink_without_target_has_no_shape_and_nothing_out() -> None:
    found = row(listed(house()), Section.DRINKS, SIGNAL)
    assert (found.radii, found.aside) == ((), "")


def test_drink_never_computed_says_so_instead_of_a_figure() -> None:
    found = row(listed(house(), is_computed=False), Section.DRINKS, SIGNAL)
    assert found.detail == "not computed yet"
    assert found.is_stale


def test_unknown_strength_is_never_shown_as_zero() -> None:
    book = house()
    parts = tuple(None for _ in book.raws[VERMOUTH].composition)
    book = book.with_raw(structs.replace(book.raws[VERMOUTH], composition=parts))
    assert row(listed(book), Section.DRINKS, SIGNAL).detail.startswith("? %")


def test_part_shows_its_house_date_and_what_it_is_made_of() -> None:
    book = house()
    book = book.with_build(structs.replace(book.builds[CORDIAL], house_days=7))
    found = row(listed(book), Section.PARTS, CORDIAL)
    assert found.aside == "7 d"
    assert found.shares is not None
    sugars, acids, ethanol = found.shares
    assert sugars == pytest.approx(0.366, abs=0.01)
    assert 0.01 < acids < 0.03
    assert ethanol == 0.0


def test_part_that_is_not_up_to_date_has_no_composition_to_show() -> None:
    assert row(listed(house(), is_computed=False), Section.PARTS, LEATHER).shares is None


@pytest.mark.parametrize("days, words", [(None, "?"), (7, "7 d"), (365, "1 y"), (730, "2 y"), (0, "0 d")])
def test_house_date_in_the_width_of_a_column(days: int | None, words: str) -> None:
    assert days_words(days) == words


def test_raw_ingredient_without_a_price_shows_a_question_mark() -> None:
    book = house()
    book = book.with_raw(structs.replace(book.raws[GIN], prices=()))
    rows = listed(book)
    assert row(rows, Section.RAWS, GIN).aside == "?"
    assert row(rows, Section.RAWS, VERMOUTH).aside == "11.00 /l"


def test_target_counts_the_drinks_that_are_judged_by_it() -> None:
    book = with_target(house(), Aim("strength", 0, 5, 20))
    assert row(listed(book), Section.TARGETS, TARGET).spoken == "house aperitif, target, used by 1 drink"


def test_row_of_something_that_is_gone_is_none() -> None:
    assert listed(house()).row(Section.DRINKS, Place(9999)) is None
    assert listed(house()).name(Section.DRINKS, 9999) == ""


def test_row_is_spoken_with_kind_figures_and_state() -> None:
    book = with_target(house(), Aim("strength", 0.0, 5.0, 20.0))
    spoken = row(listed(book), Section.DRINKS, SIGNAL).spoken
    assert spoken.startswith("Pear Signal, drink, ")
    assert spoken.endswith(", in band")


def test_list_that_is_kept_comes_back_the_same() -> None:
    rows = listed(house())
    section = SectionRows(Section.DRINKS, 2, (row(rows, Section.DRINKS, SIGNAL),))
    last = LastList("/a", 1, 2, "Own", False, (section,), (Section.DRINKS, SIGNAL))
    assert read_last_list(write_last_list(last)) == last


def test_kept_list_that_cannot_be_read_is_none() -> None:
    assert read_last_list(b"\x00nonsense") is None


def test_ten_thousand_names_are_sorted_by_the_key_made_once_each() -> None:
    book = house()
    asked: list[str] = []

    def key(name: str) -> str:
        asked.append(name)
        return name

    rows = BookList(Workings(book), key)
    rows.places(Section.DRINKS)
    rows.places(Section.DRINKS)
    assert sorted(asked) == ["Other Signal", "Pear Signal"]


def test_build_is_not_listed_among_the_other_kind() -> None:
    book = house()
    kinds = {type(book.item(place.key)) for place in listed(book).places(Section.PARTS)}
    assert kinds == {Build}
    assert SIGNAL not in {place.key for place in listed(book).places(Section.PARTS)}
