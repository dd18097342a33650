"""A twist beside its parent in the window, and what becomes of the two."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from tests.ui.balance.bench import Bench
from washline.document.commands.twisting import make_twist
from washline.ui.twist.view import TwistView

TWIST = "Pear Signal, bay twist"


@pytest.fixture
def view(bench: Bench, qtbot: QtBot) -> TwistView:
    widget = TwistView(bench.document, bench.bridge, bench.session, bench.look)
    qtbot.addWidget(widget)
    widget.resize(1192, 846)
    with qtbot.waitExposed(widget):
        widget.show()
    widget.show_twist(bench.build(TWIST).id)
    bench.settle()
    return widget


def press(button: QWidget) -> None:
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def names(view: TwistView) -> list[str]:
    assert view.table.texts is not None
    return [line.parent_name for line in view.table.texts.lines]


def test_both_names_head_the_sheet_with_the_differences_in_words(view: TwistView) -> None:
    assert view.heading.words == ("Pear Signal", "and its", "bay twist")
    words = [label.text() for label in view.findChildren(QLabel)]
    changed = "three parts and the method swapped, three amounts moved, one step added, one line the same"
    assert any(changed in one for one in words)


def test_only_differences_leaves_out_the_line_that_is_the_same(view: TwistView) -> None:
    assert "pear-sorrel cordial" in names(view)
    press(view.only_button)
    assert "pear-sorrel cordial" not in names(view)
    press(view.only_button)
    assert "pear-sorrel cordial" in names(view)


def test_swap_changes_the_sides_and_the_signs(view: TwistView) -> None:
    press(view.swap_button)
    assert view.heading.words == ("bay twist", "and its parent", "Pear Signal")
    assert view.table.texts is not None
    sweet = next(row for row in view.table.texts.readings if row.key == "sweetness")
    assert sweet.change == "−1.3"


def test_the_radar_holds_both_shapes_and_both_figures(view: TwistView) -> None:
    shape = view.radar.shape_shown
    assert shape.parent is not None
    assert (shape.axes[0].parent_text, shape.axes[0].value_text) == ("6.7", "5.8")


def test_what_joined_is_said_and_the_unknown_is_named(view: TwistView) -> None:
    assert "caution joins: quinine (tonic water)" in view.also.text()
    assert "tonic water" in view.unknown.text()
    assert view.unknown.isVisible()


def test_keeping_both_is_one_step_and_closes(view: TwistView, bench: Bench, qtbot: QtBot) -> None:
    bench.document.do(make_twist(bench.build("Sloe Tide").id, "Sloe Tide, twist"), "twist")
    twist = bench.build("Sloe Tide, twist")
    view.show_twist(twist.id)
    with qtbot.waitSignal(view.closed) as closed:
        press(view.keep_button)
    assert closed.args == [twist.id]
    assert not bench.build("Sloe Tide, twist").is_tried
    bench.document.undo()
    assert bench.build("Sloe Tide, twist").is_tried


def test_both_that_are_kept_cannot_be_kept_again(view: TwistView) -> None:
    assert not view.keep_button.isEnabled()
    assert view.keep_button.toolTip() == "Both are kept already."


def test_the_twist_takes_its_parents_place_and_undo_gives_both_back(
    view: TwistView, bench: Bench, qtbot: QtBot
) -> None:
    parent, twist = bench.build("Pear Signal"), bench.build(TWIST)
    with qtbot.waitSignal(view.closed) as closed:
        press(view.place_button)
    assert closed.args == [parent.id]
    assert twist.id not in bench.document.book.builds
    assert bench.build("Pear Signal").glass == twist.glass
    bench.document.undo()
    assert bench.document.book.builds[twist.id] == twist
    assert bench.document.book.builds[parent.id] == parent


def test_letting_the_twist_go_leaves_the_parent_and_undo_brings_it_back(
    view: TwistView, bench: Bench, qtbot: QtBot
) -> None:
    twist = bench.build(TWIST)
    with qtbot.waitSignal(view.closed) as closed:
        press(view.let_go_button)
    assert closed.args == [bench.build("Pear Signal").id]
    assert twist.id not in bench.document.book.builds
    bench.document.undo()
    assert bench.document.book.builds[twist.id] == twist


def test_it_closes_when_its_twist_is_undone_elsewhere(view: TwistView, bench: Bench, qtbot: QtBot) -> None:
    bench.document.do(make_twist(bench.build("Sloe Tide").id, "Sloe Tide, twist"), "twist")
    view.show_twist(bench.build("Sloe Tide, twist").id)
    with qtbot.waitSignal(view.closed) as closed:
        bench.document.undo()
    assert closed.args == [None]


def test_escape_closes_it(view: TwistView, bench: Bench, qtbot: QtBot) -> None:
    with qtbot.waitSignal(view.closed) as closed:
        QTest.keyClick(view.table, Qt.Key.Key_Escape)
    assert closed.args == [bench.build(TWIST).id]


def test_rows_are_chosen_by_arrows_and_read_whole(view: TwistView) -> None:
    view.table.setFocus()
    QTest.keyClick(view.table, Qt.Key.Key_Down)
    assert view.table.current_axis() == 1
    QTest.keyClick(view.table, Qt.Key.Key_End)
    last = view.table.current_axis()
    assert last is not None
    assert view.table.axis_sentences()[last].startswith("Bitterness, of 10, 0.5 to 4: 0.7 to 0.9")


def test_where_it_is_narrow_the_shapes_give_way_to_the_lines(view: TwistView, bench: Bench) -> None:
    view.resize(640, 700)
    bench.settle()
    assert not view.side.isVisible()
    assert view.table.isVisible()
    assert view.width() == 640


def test_every_control_has_a_name(view: TwistView) -> None:
    nameless = [
        type(widget).__name__
        for widget in view.findChildren(QWidget)
        if widget.isVisible()
        and widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        and not (widget.accessibleName() or getattr(widget, "text", str)())
    ]
    assert nameless == []
