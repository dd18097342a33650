"""The table by keys and pointer: rows, plain figures, and readings that unfold."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QHelpEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QToolTip
from pytestqt.qtbot import QtBot

from tests.presentation.demo import build, readings, target_of, workings
from washline.presentation.contributions import Unfolded, unfolded
from washline.presentation.readings import PlainRow, balance
from washline.ui.appearance import Appearance
from washline.ui.balance.readings_table import ReadingsTable
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.measures import Measures
from washline.ui.theme import light_theme


def explain(name: str) -> Callable[[str], Unfolded]:
    trace = workings().trace(build(name).id)
    return lambda key: unfolded(workings(), trace, key)


@pytest.fixture
def table(qtbot: QtBot) -> ReadingsTable:
    load_fonts()
    look = Appearance(light_theme(), application_fonts(), Measures())
    widget = ReadingsTable(look, explain("Pear Signal"))
    qtbot.addWidget(widget)
    widget.set_balance(balance(readings("Pear Signal"), target_of("Pear Signal")))
    widget.resize(388, widget.heightForWidth(388))
    with qtbot.waitExposed(widget):
        widget.show()
    widget.setFocus()
    return widget


def current(table: ReadingsTable) -> str:
    index = table.current_axis()
    assert index is not None
    return table.cells[index].key


def test_arrows_walk_the_rows_and_then_both_columns_of_figures(table: ReadingsTable) -> None:
    for _ in range(6):
        QTest.keyClick(table, Qt.Key.Key_Down)
    assert current(table) == "ph"
    QTest.keyClick(table, Qt.Key.Key_Right)
    assert current(table) == "ethanol"
    QTest.keyClick(table, Qt.Key.Key_Down)
    assert current(table) == "energy_kcal"
    QTest.keyClick(table, Qt.Key.Key_Home)
    assert current(table) == "strength"


def test_return_unfolds_a_reading_beneath_it_and_escape_folds_it(table: ReadingsTable) -> None:
    QTest.keyClick(table, Qt.Key.Key_Down)
    height = table.sizeHint().height()
    QTest.keyClick(table, Qt.Key.Key_Return)
    said = table.axis_sentences()
    at = next(index for index, text in enumerate(said) if text.endswith("unfolded"))
    assert said[at].startswith("Sweetness")
    assert "pear-sorrel cordial 5.82" in said
    assert "The lines add up to the reading." in said
    assert any(text.startswith("Source: ") for text in said)
    assert table.sizeHint().height() > height
    QTest.keyClick(table, Qt.Key.Key_Escape)
    assert table.unfolded is None
    assert table.sizeHint().height() == height


def test_f1_explains_the_current_reading(table: ReadingsTable) -> None:
    QTest.keyClick(table, Qt.Key.Key_F1)
    assert table.unfolded is not None
    assert "% " not in table.unfolded.formula
    assert table.unfolded.key == "strength"


def test_a_click_unfolds_and_another_folds(table: ReadingsTable) -> None:
    spot = table.cells[2].rect.center().toPoint()
    QTest.mouseClick(table, Qt.MouseButton.LeftButton, pos=spot)
    assert table.unfolded is not None
    assert table.unfolded.key == "acidity"
    QTest.mouseClick(table, Qt.MouseButton.LeftButton, pos=spot)
    assert table.unfolded is None


def test_a_derived_reading_says_that_its_lines_do_not_add_up(table: ReadingsTable) -> None:
    table.unfold("length")
    assert any("do not add up" in text for text in table.axis_sentences())


def test_what_is_unfolded_follows_another_drink(table: ReadingsTable) -> None:
    table.unfold("sweetness")
    table._explain = explain("Sloe Tide")
    table.set_balance(balance(readings("Sloe Tide"), target_of("Sloe Tide")))
    assert any(text.startswith("peel sugar syrup") for text in table.axis_sentences())


def test_no_place_moves_when_a_figure_does(table: ReadingsTable) -> None:
    before = [cell.rect for cell in table.cells]
    columns = table._arrangement.columns
    table.set_balance(balance(readings("Pear Signal, bay twist"), target_of("Pear Signal")))
    assert [cell.rect for cell in table.cells] == before
    assert table._arrangement.columns == columns


@pytest.mark.parametrize("width", [240, 300, 340, 388, 600])
def test_strips_never_cover_a_figure_at_any_width(table: ReadingsTable, width: int) -> None:
    table.resize(width, table.heightForWidth(width))
    columns = table._arrangement.columns
    assert columns.strip_width >= 74.0 or columns.is_state_below
    assert columns.strip_x >= columns.unit_x


@pytest.mark.parametrize("width", [240, 300, 340, 388, 600])
def test_nothing_lies_over_anything_else(table: ReadingsTable, width: int) -> None:
    table.unfold("acidity")
    table.resize(width, table.heightForWidth(width))
    rects = [cell.rect.adjusted(0.5, 0.5, -0.5, -0.5) for cell in table.cells]
    assert not any(one.intersects(other) for index, one in enumerate(rects) for other in rects[index + 1 :])
    assert max(rect.bottom() for rect in rects) <= table.heightForWidth(width)


def test_the_tooltip_says_what_a_reading_is(table: ReadingsTable) -> None:
    spot = table.cells[1].rect.center().toPoint()
    QApplication.sendEvent(table, QHelpEvent(QEvent.Type.ToolTip, spot, table.mapToGlobal(QPoint(spot))))
    assert "Grams of sucrose that would taste as sweet" in QToolTip.text()
    assert "Band 4.5 to 9.5 g/100 ml, ideal 7" in QToolTip.text()
    QToolTip.hideText()


def test_every_row_is_at_least_as_high_as_a_pointer_needs(table: ReadingsTable) -> None:
    assert min(cell.rect.height() for cell in table.cells if cell.is_current_able) >= 24.0


@pytest.mark.parametrize(
    "name", ["Pear Signal", "Sloe Tide", "Orchard Bell", "Drift", "quince shrub", "rosehip syrup"]
)
def test_no_figure_of_the_left_column_reaches_into_the_right_one(table: ReadingsTable, name: str) -> None:
    is_drink = build(name).is_drink
    table.set_balance(balance(readings(name), target_of(name) if is_drink else None))
    plain = [cell for cell in table.cells if isinstance(cell.payload, PlainRow)]
    edges = table._arrangement.plain_edges()
    fonts = application_fonts()
    lefts = sorted(edges)
    for cell in plain:
        if cell.rect.left() == lefts[0] and cell.rect.width() < table.width() / 2:
            end = edges[lefts[0]] + 6 + fonts.width(fonts.header, cell.payload.tail)
            assert lefts[0] + end <= lefts[-1], cell.payload.spoken


def test_a_spread_that_has_no_room_stands_in_the_tooltip(table: ReadingsTable) -> None:
    table.resize(360, table.height())
    table.set_balance(balance(readings("quince shrub"), None))
    cell = next(cell for cell in table.cells if cell.key == "freezing")
    assert isinstance(cell.payload, PlainRow)
    assert "±" not in cell.payload.tail
    assert "± 0.1: one standard uncertainty." in cell.payload.explanation


def test_other_words_for_a_figure_give_way_before_they_reach_the_next_column(table: ReadingsTable) -> None:
    fizz = PlainRow("fizz", "Fizz", "1.3", "g/l ± 0.2 · 0.7 volumes")
    tails = ["g/l ± 0.2 · 0.7 volumes", "g/l · 0.7 volumes", "g/l"]
    fonts, arrangement = application_fonts(), table._arrangement
    figure_right = arrangement.plain_number_right([fizz])
    rooms = [figure_right + 6.0 + fonts.width(fonts.header, tail) + 1.0 for tail in tails]
    assert [arrangement._shortened(fizz, [fizz], room).tail for room in rooms] == tails


def test_the_units_of_alcohol_never_give_way(table: ReadingsTable) -> None:
    ethanol = PlainRow("ethanol", "Ethanol", "8.9", "g · 0.9 units of 10 g")
    assert table._arrangement._shortened(ethanol, [ethanol], 10.0).tail == "g · 0.9 units of 10 g"
