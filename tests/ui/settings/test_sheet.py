"""The settings that came with costs, shared places and today's fruit."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit

from tests.presentation.costing import house
from tests.ui.costs.bench import Bench, Opener, settle
from washline.model.book import HouseBook
from washline.model.house import JointCost, Shared
from washline.ui.form import ChoiceRow, ChoicesRow, Row
from washline.ui.preferences import Preferences
from washline.ui.settings.sheet import SettingsSheet, clock_time

Make = Callable[[HouseBook], tuple[Bench, SettingsSheet]]


@pytest.fixture
def make_sheet(make_bench: Opener) -> Make:
    def make(book: HouseBook) -> tuple[Bench, SettingsSheet]:
        bench = make_bench(book)
        sheet = SettingsSheet(bench.document, bench.bridge, Preferences(), bench.look)
        bench.qtbot.addWidget(sheet)
        with bench.qtbot.waitExposed(sheet):
            sheet.show()
        return bench, sheet

    return make


def row_of(sheet: SettingsSheet, label: str) -> Row:
    return next(row for row in sheet.findChildren(Row) if row.label.text() == label)


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


def choose(row: Row, number: int) -> None:
    assert isinstance(row, ChoiceRow)
    row._field.setCurrentIndex(number)
    row._field.activated.emit(number)
    settle()


def test_joint_cost_is_chosen_and_its_sentence_stands_under_it(make_sheet: Make) -> None:
    bench, sheet = make_sheet(house())
    row = row_of(sheet, "Joint cost")
    assert row.hint.text() == "All stays with the main output; a leftover is free."
    choose(row, 1)
    assert bench.book.settings.joint_cost is JointCost.MASS
    assert row.hint.text().startswith("Shared by weight: a gram of leftover costs")
    choose(row, 2)
    assert bench.book.settings.joint_cost is JointCost.VALUE


@pytest.mark.parametrize(
    "label, name, typed, value",
    [
        ("Tax", "tax_pct", "19", 19.0),
        ("Wanted pour cost", "wanted_pour_cost_pct", "18.5", 18.5),
        ("Labour", "labour_per_hour", "21", 21.0),
    ],
)
def test_figures_of_the_house_are_typed(
    make_sheet: Make, label: str, name: str, typed: str, value: float
) -> None:
    bench, sheet = make_sheet(house())
    type_into(row_of(sheet, label), typed)
    assert getattr(bench.book.settings, name) == value
    assert bench.labels == ["change of house settings"]


def test_labour_that_is_emptied_is_not_counted(make_sheet: Make) -> None:
    bench, sheet = make_sheet(house(labour_per_hour=21.0))
    row = row_of(sheet, "Labour")
    assert row.unit.text() == "€ an hour"
    type_into(row, "")
    assert bench.book.settings.labour_per_hour is None
    assert isinstance(row.field, QLineEdit)
    assert row.field.placeholderText() == "not counted"


def test_what_can_get_in_is_set_for_one_place_at_a_time(make_sheet: Make) -> None:
    bench, sheet = make_sheet(house())
    places, may = row_of(sheet, "Place"), row_of(sheet, "May get in")
    assert isinstance(may, ChoicesRow)
    may.choices.tick("milk").click()
    choose(places, 5)
    assert may.choices.keys == ()
    may.choices.tick("eggs").click()
    settle()
    assert bench.book.settings.shared == (Shared("freezer", ("milk",)), Shared("tins", ("eggs",)))
    assert isinstance(places, ChoiceRow)
    assert places._words[0] == "freezer: milk"
    choose(places, 0)
    may.choices.tick("milk").click()
    settle()
    assert bench.book.settings.shared == (Shared("tins", ("eggs",)),)


def test_end_of_service_is_a_time_of_day(make_sheet: Make) -> None:
    bench, sheet = make_sheet(house())
    row = row_of(sheet, "Service ends")
    type_into(row, "3.30")
    assert bench.book.settings.service_ends == "03:30"
    type_into(row, "late")
    assert row.problem.text() == "“late” is no time of day. Expected one such as 02:00."
    assert bench.book.settings.service_ends == "03:30"


@pytest.mark.parametrize(
    "typed, time",
    [
        ("2", "02:00"),
        ("02:00", "02:00"),
        ("23h15", "23:15"),
        ("24:00", ""),
        ("12:60", ""),
        ("", ""),
        ("1:5", ""),
    ],
)
def test_times_are_read_as_they_are_written(typed: str, time: str) -> None:
    assert clock_time(typed) == time
