"""The details of a drink, part and leftover: price, labour and waste, worth, acting as something else, makings."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from tests.presentation.small_house import CORDIAL, LEATHER, SIGNAL, SODA, SPENT_PEAR, SPIN, SUGAR, house
from tests.ui.costs.bench import Bench, Opener, noon, settle
from washline.document.commands.raws import set_raw
from washline.model.item import KeptAt
from washline.ui.book.details_sheet import DetailsSheet
from washline.ui.book.raw_choice import RawChoiceRow
from washline.ui.controls import PlainButton
from washline.ui.form import ChoiceRow, ChoicesRow, Row

Make = Callable[[int], tuple[Bench, DetailsSheet]]


@pytest.fixture
def make_sheet(make_bench: Opener) -> Make:
    def make(build_id: int) -> tuple[Bench, DetailsSheet]:
        bench = make_bench(house())
        sheet = DetailsSheet(bench.document, bench.bridge, bench.look, clock=noon)
        bench.qtbot.addWidget(sheet)
        sheet.resize(780, 900)
        sheet.show_build(build_id)
        with bench.qtbot.waitExposed(sheet):
            sheet.show()
        settle()
        return bench, sheet

    return make


def row_of(sheet: DetailsSheet, label: str) -> Row:
    rows = [row for row in sheet.findChildren(Row) if row.label.text() == label and not row.isHidden()]
    assert len(rows) == 1, label
    return rows[0]


def shown(sheet: DetailsSheet) -> set[str]:
    return {row.label.text() for row in sheet.findChildren(Row) if not row.isHidden()}


def type_into(row: Row, text: str) -> None:
    field = row.field
    assert isinstance(field, QLineEdit)
    field.selectAll()
    if text:
        QTest.keyClicks(field, text)
    else:
        QTest.keyClick(field, Qt.Key.Key_Backspace)
    QTest.keyClick(field, Qt.Key.Key_Return)
    settle()


def button(sheet: DetailsSheet, words: str) -> PlainButton:
    return next(one for one in sheet.findChildren(PlainButton) if one.text() == words)


def click(widget: PlainButton) -> None:
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton)
    settle()


def test_drink_has_a_price_and_a_part_has_a_worth(make_sheet: Make) -> None:
    _, sheet = make_sheet(SIGNAL)
    assert {"Price", "Labour", "Waste", "May contain", "Also contains"} <= shown(sheet)
    assert not {"Worth a kilogram", "Acts as", "Keeps by"} & shown(sheet)
    assert sheet.makings.isHidden()
    sheet.show_build(CORDIAL)
    assert {"Worth a kilogram", "Acts as", "Keeps by", "Labour", "Waste", "May contain"} <= shown(sheet)
    assert "Price" not in shown(sheet)
    assert not sheet.makings.isHidden()


@pytest.mark.parametrize(
    "build_id, label, name, typed, value",
    [
        (SIGNAL, "Price", "price", "11.5", 11.5),
        (SIGNAL, "Labour", "labour_min", "2", 2.0),
        (SIGNAL, "Waste", "waste_pct", "3", 3.0),
        (CORDIAL, "Labour", "labour_min", "40", 40.0),
        (CORDIAL, "Worth a kilogram", "value_per_kg", "8", 8.0),
        (CORDIAL, "Keeps by", "keeps_by", "boiled", "boiled"),
    ],
)
def test_fields_are_typed_and_can_be_undone(
    make_sheet: Make, build_id: int, label: str, name: str, typed: str, value: object
) -> None:
    bench, sheet = make_sheet(build_id)
    before = getattr(bench.book.builds[build_id], name)
    type_into(row_of(sheet, label), typed)
    assert getattr(bench.book.builds[build_id], name) == value
    bench.document.undo()
    assert getattr(bench.book.builds[build_id], name) == before


def test_labour_that_is_emptied_is_not_counted(make_sheet: Make) -> None:
    bench, sheet = make_sheet(SIGNAL)
    row = row_of(sheet, "Labour")
    type_into(row, "2")
    type_into(row, "")
    assert bench.book.builds[SIGNAL].labour_min is None
    assert isinstance(row.field, QLineEdit)
    assert row.field.placeholderText() == "not counted"


def test_price_below_zero_is_refused_where_it_was_typed(make_sheet: Make) -> None:
    bench, sheet = make_sheet(SIGNAL)
    row = row_of(sheet, "Price")
    type_into(row, "-4")
    assert row.problem.text()
    assert bench.book.builds[SIGNAL].price is None


def test_what_may_get_in_is_ticked(make_sheet: Make) -> None:
    bench, sheet = make_sheet(SIGNAL)
    row = row_of(sheet, "May contain")
    assert isinstance(row, ChoicesRow)
    row.choices.tick("milk").click()
    settle()
    assert bench.book.builds[SIGNAL].may_contain == ("milk",)
    assert bench.book.builds[SIGNAL].added_allergens == ()


# Acting as a raw ingredient


def test_name_of_a_raw_ingredient_is_enough_to_act_as_it(make_sheet: Make) -> None:
    bench, sheet = make_sheet(LEATHER)
    row = row_of(sheet, "Acts as")
    type_into(row, "WHITE sug")
    assert bench.book.builds[LEATHER].acts_as_id == SUGAR
    assert isinstance(row.field, QLineEdit)
    assert row.field.text() == "white sugar"
    type_into(row, "")
    assert bench.book.builds[LEATHER].acts_as_id is None


@pytest.mark.parametrize(
    "typed, why", [("moonlight", "is no raw ingredient"), ("a", "fits several raw ingredients")]
)
def test_name_that_is_none_or_several_is_refused(make_sheet: Make, typed: str, why: str) -> None:
    bench, sheet = make_sheet(LEATHER)
    row = row_of(sheet, "Acts as")
    type_into(row, typed)
    assert why in row.problem.text()
    assert isinstance(row.field, QLineEdit)
    assert row.field.text() == typed
    assert bench.book.builds[LEATHER].acts_as_id is None


def test_names_that_fit_are_offered(make_sheet: Make) -> None:
    _, sheet = make_sheet(LEATHER)
    row = row_of(sheet, "Acts as")
    assert isinstance(row, RawChoiceRow)
    row.completer.setCompletionPrefix("gin")
    assert row.completer.completionCount() == 1
    assert row.completer.currentCompletion() == "dry gin"


# Leftovers


def test_leftover_opens_from_its_part_and_goes_back_there(make_sheet: Make) -> None:
    bench, sheet = make_sheet(CORDIAL)
    click(button(sheet, "Details of spent pear"))
    assert (sheet.title.text(), sheet.about.text()) == ("spent pear", "Left over from pear cordial")
    assert shown(sheet) == {
        "Name", "Kept at", "House date", "A piece weighs", "Bitterness", "Worth a kilogram", "Acts as", "May contain",
    }  # fmt: skip
    assert sheet.makings.isHidden()
    click(button(sheet, "Done"))
    assert sheet.title.text() == "pear cordial"
    with bench.qtbot.waitSignal(sheet.closed):
        click(button(sheet, "Done"))


def test_leftover_that_was_opened_by_itself_closes(make_sheet: Make) -> None:
    bench, sheet = make_sheet(CORDIAL)
    sheet.show_leftover(SPENT_PEAR)
    with bench.qtbot.waitSignal(sheet.closed):
        click(button(sheet, "Done"))


def test_leftover_has_its_own_fields(make_sheet: Make) -> None:
    bench, sheet = make_sheet(CORDIAL)
    sheet.show_leftover(SPENT_PEAR)
    type_into(row_of(sheet, "Name"), "pear pulp")
    type_into(row_of(sheet, "House date"), "2")
    type_into(row_of(sheet, "Worth a kilogram"), "1.5")
    type_into(row_of(sheet, "Acts as"), "ripe pear")
    where = row_of(sheet, "Kept at")
    assert isinstance(where, ChoiceRow)
    where._field.setCurrentIndex(list(KeptAt).index(KeptAt.FREEZER))
    where._field.activated.emit(where._field.currentIndex())
    leftover = bench.book.leftovers[SPENT_PEAR]
    assert (leftover.name, leftover.house_days, leftover.value_per_kg) == ("pear pulp", 2, 1.5)
    assert leftover.kept_at is KeptAt.FREEZER
    assert leftover.acts_as_id is not None
    assert sheet.title.text() == "pear pulp"


def test_first_field_that_is_shown_takes_the_cursor(make_sheet: Make) -> None:
    _, sheet = make_sheet(CORDIAL)
    sheet.focus_first()
    assert row_of(sheet, "Name").field.hasFocus()
    sheet.show_leftover(SPENT_PEAR)
    sheet.focus_first()
    assert row_of(sheet, "Name").field.hasFocus()


def test_part_says_by_which_rule_its_cost_is_shared(make_sheet: Make) -> None:
    _, sheet = make_sheet(CORDIAL)
    assert sheet._joint_words.text() == "Joint cost: all stays with the main output; a leftover is free."
    sheet.show_build(LEATHER)
    assert sheet._joint_words.text() == ""


# Makings


def test_usual_wash_line_leaves_room_for_the_foam_of_a_fizzy_drink(make_sheet: Make) -> None:
    bench, sheet = make_sheet(SIGNAL)
    # 82.5 % of what 115 g of ice (0.917 g/ml) leave of 300 ml.
    assert row_of(sheet, "Wash line").hint.text() == "Empty: as usual for the glass, 144 ml"
    bench.document.do(set_raw(SODA, co2_g_per_l=6.0), "fizz")
    settle()
    # Less 5 ml of foam.
    assert row_of(sheet, "Wash line").hint.text() == "Empty: as usual for the glass, 139 ml"


def test_next_making_is_started_from_the_details(make_sheet: Make) -> None:
    bench, sheet = make_sheet(CORDIAL)
    with bench.qtbot.waitSignal(sheet.said):
        click(sheet.makings.start_button)
    step = bench.book.step(CORDIAL, SPIN)
    assert getattr(step, "weighed_g", 0.0) is None
    assert [making.date for making in bench.book.makings.values()] == ["2026-11-25"]
    bench.document.undo()
    settle()
    assert sheet.makings.remove_buttons == []
