"""A target edited in its sheet: typed in place, refused in place, every change one step back."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.balance.bench import Bench
from washline.document.commands.targets import add_aim
from washline.model.target import Aim, Target
from washline.ui.balance.target_sheet import TargetSheet


@pytest.fixture
def sheet(bench: Bench, qtbot: QtBot) -> TargetSheet:
    widget = TargetSheet(bench.document, bench.bridge, bench.session, bench.look)
    qtbot.addWidget(widget)
    widget.resize(780, 800)
    with qtbot.waitExposed(widget):
        widget.show()
    target_id = bench.build("Pear Signal").target_id
    assert target_id is not None
    widget.show_target(target_id)
    bench.settle()
    return widget


def target(sheet: TargetSheet) -> Target:
    found = sheet.target
    assert found is not None
    return found


def type_in(field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)


def test_it_shows_the_aims_in_the_order_of_the_axes(sheet: TargetSheet) -> None:
    assert [row.key for row in sheet.rows] == [aim.reading for aim in target(sheet).aims]
    assert [sheet.rows[0].fields[name].text() for name in ("low", "ideal", "high")] == ["5", "8", "11"]


def test_a_number_is_typed_and_kept_with_return_as_one_step(sheet: TargetSheet, bench: Bench) -> None:
    field = sheet.rows[1].fields["high"]
    type_in(field, "7.1")
    assert bench.session.view is not None
    assert bench.session.view.is_preview
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert target(sheet).aims[1].high == 7.1
    assert bench.document.undo_label == "change of sweetness in low-strength aperitif"
    bench.document.undo()
    assert target(sheet).aims[1].high == 9.5
    assert sheet.rows[1].fields["high"].text() == "9.5"


def test_while_typing_the_radar_shows_the_new_band_and_nothing_is_written(sheet: TargetSheet) -> None:
    type_in(sheet.rows[1].fields["high"], "7.1")
    assert sheet.radar.shape_shown.axes[1].high == 7.1
    assert target(sheet).aims[1].high == 9.5


def test_nonsense_stays_in_its_field_with_one_line_of_what_was_expected(
    sheet: TargetSheet, bench: Bench
) -> None:
    row = sheet.rows[1]
    type_in(row.fields["high"], "sweet")
    QTest.keyClick(row.fields["high"], Qt.Key.Key_Return)
    assert row.fields["high"].text() == "sweet"
    assert row.fields["high"].is_wrong
    assert row.problem.isVisible()
    assert "is not a number" in row.problem.text()
    assert bench.document.undo_label == ""


def test_escape_puts_the_old_numbers_back_and_does_not_close_the_sheet(
    sheet: TargetSheet, qtbot: QtBot
) -> None:
    field = sheet.rows[1].fields["high"]
    type_in(field, "3")
    with qtbot.assertNotEmitted(sheet.closed):
        QTest.keyClick(field, Qt.Key.Key_Escape)
    assert field.text() == "9.5"
    assert not sheet.rows[1].problem.isVisible()
    with qtbot.waitSignal(sheet.closed):
        QTest.keyClick(field, Qt.Key.Key_Escape)


def test_an_axis_is_moved_made_a_gate_and_taken_out(sheet: TargetSheet, bench: Bench) -> None:
    QTest.mouseClick(sheet.rows[0].down, Qt.MouseButton.LeftButton)
    assert [aim.reading for aim in target(sheet).aims][:2] == ["sweetness", "strength"]
    QTest.mouseClick(
        sheet.rows[1].gate, Qt.MouseButton.LeftButton, pos=sheet.rows[1].gate.rect().center() / 4
    )
    assert [aim.reading for aim in target(sheet).gates] == ["strength"]
    QTest.mouseClick(sheet.rows[1].remove, Qt.MouseButton.LeftButton)
    assert "strength" not in [row.key for row in sheet.rows]
    for _ in range(3):
        bench.document.undo()
    assert [row.key for row in sheet.rows][:2] == ["strength", "sweetness"]


def test_fewer_than_three_axes_are_refused_where_it_was_asked(sheet: TargetSheet) -> None:
    for _ in range(3):
        QTest.mouseClick(sheet.rows[-1].remove, Qt.MouseButton.LeftButton)
    assert len(target(sheet).axes) == 3
    QTest.mouseClick(sheet.rows[-1].remove, Qt.MouseButton.LeftButton)
    assert len(target(sheet).axes) == 3
    assert sheet.rows[-1].problem.text().startswith("A radar needs 3 axes.")
    QTest.mouseClick(
        sheet.rows[0].gate, Qt.MouseButton.LeftButton, pos=sheet.rows[0].gate.rect().center() / 4
    )
    assert not sheet.rows[0].gate.isChecked()
    assert sheet.rows[0].problem.isVisible()


def test_an_eleventh_axis_is_refused_where_it_was_asked(sheet: TargetSheet, bench: Bench) -> None:
    for key in ("chill", "salt", "dilution", "density"):
        bench.document.do(add_aim(target(sheet).id, Aim(key, 0.0, 1.0, 2.0)), "adding")
    assert len(sheet.rows) == 10
    index = sheet.add_choice.findData("ethanol")
    sheet.add_choice.activated.emit(index)
    assert len(target(sheet).axes) == 10
    assert sheet.problem.text().startswith("A radar has at most 10 axes.")


def test_a_reading_is_added_around_what_the_drink_reads(sheet: TargetSheet, bench: Bench) -> None:
    sheet.add_choice.activated.emit(sheet.add_choice.findData("dilution"))
    aim = target(sheet).aims[-1]
    assert (aim.reading, aim.ideal) == ("dilution", 10.7)
    assert bench.document.undo_label == "adding dilution to low-strength aperitif"


def test_it_is_renamed_and_an_empty_name_is_refused(sheet: TargetSheet) -> None:
    type_in(sheet.name, "our aperitif")
    QTest.keyClick(sheet.name, Qt.Key.Key_Return)
    assert target(sheet).name == "our aperitif"
    sheet.name.selectAll()
    QTest.keyClick(sheet.name, Qt.Key.Key_Backspace)
    QTest.keyClick(sheet.name, Qt.Key.Key_Return)
    assert target(sheet).name == "our aperitif"
    assert "needs a name" in sheet.problem.text()


def test_a_copy_and_a_new_one_are_made_and_opened(sheet: TargetSheet, bench: Bench) -> None:
    QTest.mouseClick(sheet.duplicate_button, Qt.MouseButton.LeftButton)
    assert target(sheet).name == "low-strength aperitif, copy"
    QTest.mouseClick(sheet.new_button, Qt.MouseButton.LeftButton)
    assert [aim.reading for aim in target(sheet).aims] == ["strength", "sweetness", "acidity"]
    assert target(sheet).aims[0].ideal == 6.7


def test_one_that_judges_a_drink_is_not_removed(sheet: TargetSheet, qtbot: QtBot) -> None:
    with qtbot.assertNotEmitted(sheet.closed):
        QTest.mouseClick(sheet.remove_button, Qt.MouseButton.LeftButton)
    assert "cannot be removed" in sheet.problem.text()
    QTest.mouseClick(sheet.duplicate_button, Qt.MouseButton.LeftButton)
    with qtbot.waitSignal(sheet.closed):
        QTest.mouseClick(sheet.remove_button, Qt.MouseButton.LeftButton)


def test_undo_of_a_new_target_closes_its_sheet(sheet: TargetSheet, bench: Bench, qtbot: QtBot) -> None:
    QTest.mouseClick(sheet.new_button, Qt.MouseButton.LeftButton)
    with qtbot.waitSignal(sheet.closed):
        bench.document.undo()


def test_every_field_has_a_name(sheet: TargetSheet) -> None:
    nameless = [
        type(widget).__name__
        for widget in sheet.findChildren(QWidget)
        if widget.isVisible()
        and widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        and not (widget.accessibleName() or getattr(widget, "text", str)())
    ]
    assert nameless == []
