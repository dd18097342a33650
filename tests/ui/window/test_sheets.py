"""The plain sheets: raw ingredient, details, settings; and the quick finder over the window."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from tests.ui.window.conftest import Room
from washline.chemistry.components import COMPONENTS
from washline.model.item import KeptAt, RawIngredient, Sign
from washline.presentation.book_rows import Section
from washline.presentation.cautions import cautions
from washline.presentation.finder import Candidate
from washline.ui.book.raw_sheet import RawSheet
from washline.ui.finder.panel import FinderPanel
from washline.ui.form import ChoiceRow, ChoicesRow, NumberRow, PlainField, Row


def row_of(sheet: object, label: str) -> Row:
    rows = sheet.findChildren(Row)  # type: ignore[attr-defined]
    return next(row for row in rows if row.label.text() == label)


def type_into(row: Row, text: str) -> None:
    field = row.field
    assert isinstance(field, QLineEdit)
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)


def choose(row: Row, words: str) -> None:
    assert isinstance(row, ChoiceRow)
    field = row._field
    field.setCurrentIndex(field.findText(words))
    field.activated.emit(field.currentIndex())


@pytest.fixture
def raw(room: Room) -> RawIngredient:
    found = next(one for one in room.document.book.raws.values() if one.name.startswith("Verjus"))
    room.workspace.show(Section.RAWS, found.id)
    return found


def now_of(room: Room, raw: RawIngredient) -> RawIngredient:
    return room.document.book.raws[raw.id]


def sheet_of(room: Room) -> RawSheet:
    return room.workspace.raw_sheet


# Raw ingredient


def test_price_is_noted_with_its_day_and_can_be_undone(room: Room, raw: RawIngredient) -> None:
    count = len(raw.prices)
    type_into(row_of(sheet_of(room), "Price"), "12,50")
    price = now_of(room, raw).prices[-1]
    assert (price.per_unit, price.unit, price.date) == (12.5, "l", "2026-11-25")
    room.trigger("undo")
    assert len(now_of(room, raw).prices) == count


def test_emptied_price_is_unknown_and_not_free(room: Room, raw: RawIngredient) -> None:
    for _ in range(len(raw.prices)):
        type_into(row_of(sheet_of(room), "Price"), " ")
    assert now_of(room, raw).prices == ()
    drink = room.build("Pear Signal")
    assert room.document.workings.result_now(drink.id).more_than("cost") > 0


def test_strength_sets_the_ethanol(room: Room, raw: RawIngredient) -> None:
    type_into(row_of(sheet_of(room), "Strength"), "12")
    ethanol = now_of(room, raw).composition[COMPONENTS.index("ethanol")]
    assert ethanol is not None
    assert 9.0 < ethanol < 10.5


def test_emptied_component_is_unknown_and_zero_is_none(room: Room, raw: RawIngredient) -> None:
    row = row_of(sheet_of(room), "malic")
    type_into(row, " ")
    assert now_of(room, raw).composition[COMPONENTS.index("malic")] is None
    type_into(row, "0")
    assert now_of(room, raw).composition[COMPONENTS.index("malic")] == 0.0


def test_text_that_is_no_number_stays_with_what_was_expected(room: Room, raw: RawIngredient) -> None:
    row = row_of(sheet_of(room), "malic")
    type_into(row, "lots")
    assert isinstance(row.field, PlainField)
    assert row.field.text() == "lots"
    assert row.field.has_error
    assert row.problem.text() == "“lots” is not a number. Expected a number in g."
    assert now_of(room, raw) == raw


def test_escape_gives_the_kept_value_back(room: Room, raw: RawIngredient) -> None:
    row = row_of(sheet_of(room), "malic")
    assert isinstance(row.field, PlainField)
    before = row.field.text()
    type_into(row, "lots")
    QTest.keyClick(row.field, Qt.Key.Key_Escape)
    assert row.field.text() == before
    assert not row.field.has_error


def test_number_outside_of_what_can_be_is_refused_at_its_field(room: Room, raw: RawIngredient) -> None:
    row = row_of(sheet_of(room), "Bitterness")
    type_into(row, "80")
    assert "from 0 to 10" in row.problem.text()
    assert now_of(room, raw).bitterness == raw.bitterness


@pytest.mark.parametrize("text", ["inf", "nan", "1e400", "-5"])
def test_no_number_gets_in_that_is_none(room: Room, raw: RawIngredient, text: str) -> None:
    row = row_of(sheet_of(room), "Density")
    type_into(row, text)
    assert row.problem.text()
    assert now_of(room, raw).density_g_per_ml == raw.density_g_per_ml


def test_reading_the_label_takes_unknown_away(room: Room, raw: RawIngredient) -> None:
    assert raw.allergens == ("unknown",)
    row = row_of(sheet_of(room), "Allergens")
    assert isinstance(row, ChoicesRow)
    row.choices.tick("sulphites").click()
    row.choices.tick("unknown").click()
    assert now_of(room, raw).allergens == ("sulphites",)


@pytest.mark.parametrize("key", list(cautions()))
def test_every_caution_can_be_set_at_an_ingredient(room: Room, raw: RawIngredient, key: str) -> None:
    row = row_of(sheet_of(room), "Cautions")
    assert isinstance(row, ChoicesRow)
    was_on = key in raw.cautions
    row.choices.tick(key).click()
    assert (key in now_of(room, raw).cautions) is not was_on


def test_kept_at_is_chosen(room: Room, raw: RawIngredient) -> None:
    choose(row_of(sheet_of(room), "Kept at"), "freezer")
    assert now_of(room, raw).kept_at is KeptAt.FREEZER


def test_users_are_named_at_the_head(room: Room, raw: RawIngredient) -> None:
    assert "used in Pear Signal" in sheet_of(room).about.text()


def test_undo_elsewhere_reaches_the_open_sheet(room: Room, raw: RawIngredient) -> None:
    row = row_of(sheet_of(room), "Name")
    type_into(row, "Verjus of the marsh")
    assert sheet_of(room).title.text() == "Verjus of the marsh"
    room.trigger("undo")
    assert sheet_of(room).title.text() == raw.name


def test_sheet_of_a_read_only_book_cannot_be_typed_in(open_room: Callable[..., Room]) -> None:
    open_room()
    second = open_room()
    assert not row_of(second.workspace.raw_sheet, "Price").field.isEnabled()


# Details


def test_glass_of_a_drink_is_chosen_and_moves_its_wash_line(room: Room) -> None:
    room.trigger("details")
    details = room.workspace.details
    row = row_of(details, "Glass")
    assert isinstance(row, ChoiceRow)
    choose(row, next(words for words in row._words if words.startswith("Highball")))
    slug = room.build("Pear Signal").glass
    assert slug is not None
    assert room.document.book.glasses[slug].name.startswith("Highball")
    assert room.document.undo_label == "change of Pear Signal"


def test_signs_are_typed_one_a_line(room: Room) -> None:
    room.trigger("details")
    assert room.workspace.details._set_signs("too sharp: 2.5 ml more cordial\nflat: new soda") == ""
    assert room.build("Pear Signal").if_off == (
        Sign("too sharp", "2.5 ml more cordial"),
        Sign("flat", "new soda"),
    )


def test_sign_without_its_remedy_is_told(room: Room) -> None:
    room.trigger("details")
    before = room.build("Pear Signal").if_off
    assert "has no colon" in room.workspace.details._set_signs("too sharp")
    assert room.build("Pear Signal").if_off == before


def test_part_has_a_house_date_and_a_drink_a_glass(room: Room) -> None:
    room.trigger("details")
    details = room.workspace.details
    assert row_of(details, "Glass").isVisible()
    assert not row_of(details, "House date").isVisible()
    details.show_build(room.build("bay tincture").id)
    assert not row_of(details, "Glass").isVisible()
    type_into(row_of(details, "House date"), "200")
    assert room.build("bay tincture").house_days == 200


# Settings


def test_ounce_is_set_for_the_house_and_can_be_undone(room: Room) -> None:
    room.trigger("settings")
    choose(row_of(room.workspace.settings, "1 oz is"), "29.5735 ml, the US fluid ounce")
    assert room.document.book.settings.oz_ml == 29.5735
    assert room.window.status.facts.text().endswith("1 oz = 29.5735 ml")
    room.trigger("undo")
    assert room.document.book.settings.oz_ml == 30.0


def test_unit_of_alcohol_is_never_without_its_grams(room: Room) -> None:
    room.trigger("settings")
    row = row_of(room.workspace.settings, "Alcohol is counted in")
    assert isinstance(row, ChoiceRow)
    assert all(" g in one " in words for words in row._words)
    choose(row, "United States: 14 g in one standard drink")
    assert room.document.book.settings.alcohol_units == "us"


def test_house_cannot_be_without_a_name(room: Room) -> None:
    room.trigger("settings")
    row = row_of(room.workspace.settings, "Name")
    type_into(row, " ")
    assert row.problem.text() == "A house needs a name."
    assert room.document.book.settings.house_name == "The Saltmarsh Rooms"


def test_temperature_of_the_fridge_moves_the_chill_of_what_stands_there(room: Room) -> None:
    drink = room.build("Pear Signal")
    before = room.document.workings.result_now(drink.id).value("chill")
    room.trigger("settings")
    type_into(row_of(room.workspace.settings, "Fridge"), "9")
    after = room.document.workings.result_now(drink.id).value("chill")
    assert before is not None
    assert after is not None
    assert after > before


def test_setting_may_not_be_empty(room: Room) -> None:
    room.trigger("settings")
    row = row_of(room.workspace.settings, "Wash line")
    assert isinstance(row, NumberRow)
    type_into(row, " ")
    assert row.problem.text() == "Expected a number in %."


def test_motion_is_reduced_at_once(room: Room) -> None:
    room.trigger("settings")
    row_of(room.workspace.settings, "Motion").field.click()  # type: ignore[attr-defined]
    assert room.window.preferences.is_calm


# Finder


def finder_of(room: Room) -> FinderPanel:
    room.trigger("finder")
    panel = room.window.findChild(FinderPanel)
    assert panel is not None
    return panel


def test_finder_opens_what_was_typed(room: Room) -> None:
    finder = finder_of(room)
    room.type(finder.field, "sloe")
    QTest.keyClick(finder.field, Qt.Key.Key_Return)
    assert room.workspace.sheet.title.text() == "Sloe Tide"
    assert not finder.isVisible()


def test_finder_runs_a_command(room: Room) -> None:
    finder = finder_of(room)
    room.type(finder.field, "new house-made")
    QTest.keyClick(finder.field, Qt.Key.Key_Return)
    assert "New house-made part" in room.names(Section.PARTS)


def test_finder_shows_keys_at_the_right(room: Room) -> None:
    known = room.workspace.commands.gather()
    asides = {one.name: one.aside for one in known}
    assert asides["Settings"] == "Ctrl+,"
    assert asides["Move up"] == "Alt+Up"


def test_finder_leaves_out_what_cannot_be_done_now(room: Room) -> None:
    names = {one.name for one in room.workspace.commands.gather()}
    assert "Compare with its parent" not in names
    room.workspace.show_build(room.build("Pear Signal, bay twist").id)
    assert "Compare with its parent" in {one.name for one in room.workspace.commands.gather()}


def test_heads_cannot_be_chosen(room: Room) -> None:
    finder = finder_of(room)
    room.type(finder.field, "pear")
    first = finder.model.lines[finder.list.currentIndex().row()]
    assert isinstance(first, Candidate)
    for _ in range(30):
        QTest.keyClick(finder.field, Qt.Key.Key_Down)
        assert isinstance(finder.model.lines[finder.list.currentIndex().row()], Candidate)
    QTest.keyClick(finder.field, Qt.Key.Key_Escape)


def test_escape_and_the_same_key_close_the_finder(room: Room) -> None:
    finder = finder_of(room)
    room.type(finder.field, "x")
    QTest.keyClick(finder.field, Qt.Key.Key_Escape)
    assert not finder.isVisible()
    room.trigger("finder")
    room.trigger("finder")
    assert not finder.isVisible()


def test_what_was_found_lately_comes_first_the_next_time(room: Room) -> None:
    finder = finder_of(room)
    room.type(finder.field, "sloe")
    QTest.keyClick(finder.field, Qt.Key.Key_Return)
    room.trigger("finder")
    assert finder.model.lines[0] == "Recent"
    assert [line.name for line in finder.model.lines[1:2] if isinstance(line, Candidate)] == ["Sloe Tide"]
    QTest.keyClick(finder.field, Qt.Key.Key_Escape)
