"""An alcohol-free version in the window: choices, what is left, one change that can be undone."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLineEdit
from pytestqt.qtbot import QtBot

from tests.ui.balance.bench import Bench
from washline.document.commands.house import set_settings
from washline.model.house import Swap
from washline.presentation.cautions import DEFERRAL
from washline.ui.alcohol_free.rows import GIVES_WAY, LEFT_OUT, STAYS, SwapRow
from washline.ui.alcohol_free.view import NOT_SO_CALLED, NOTHING_CHOSEN, AlcoholFreeView

VERJUS = "Verjus (unripe grape juice)"


@pytest.fixture
def view(bench: Bench, qtbot: QtBot) -> AlcoholFreeView:
    bench.show("Sloe Tide")
    widget = AlcoholFreeView(bench.document, bench.session, bench.look)
    qtbot.addWidget(widget)
    widget.resize(1192, 846)
    with qtbot.waitExposed(widget):
        widget.show()
    bench.settle()
    return widget


def row(view: AlcoholFreeView, word: str) -> SwapRow:
    return next(one for one in view.rows if word in one.line.name.casefold())


def choose(
    view: AlcoholFreeView, bench: Bench, word: str, fate: str, text: str = "", factor: str = ""
) -> SwapRow:
    """Chooses with the keyboard, as a person does."""
    one = row(view, word)
    one.fate.setFocus()
    while one.fate.currentText() != fate:
        QTest.keyClick(one.fate, Qt.Key.Key_Down if one.fate.currentText() != LEFT_OUT else Qt.Key.Key_Up)
    if text:
        one.item.setFocus()
        one.item.selectAll()
        QTest.keyClicks(one.item, text)
        one.item.completer().popup().hide()
    if factor:
        one.factor.setFocus()
        one.factor.selectAll()
        QTest.keyClicks(one.factor, factor)
    bench.settle()
    return one


def leave_all_out(view: AlcoholFreeView, bench: Bench) -> None:
    for one in view.rows:
        one.fate.setCurrentText(LEFT_OUT)
    bench.settle()


def test_every_line_that_brings_alcohol_has_a_row_the_garnish_too(view: AlcoholFreeView) -> None:
    names = [one.line.name for one in view.rows]
    assert names == ["Dry gin, 47 %", "Sloe gin, 26 %", "Aromatic bitters, 44.7 %"]
    assert "garnish" in view.rows[2].about.text()


def test_nothing_can_be_made_before_something_is_chosen(view: AlcoholFreeView) -> None:
    assert not view.make_button.isEnabled()
    assert view.left.text().startswith(NOTHING_CHOSEN)


def test_what_is_left_follows_what_is_chosen(view: AlcoholFreeView, bench: Bench) -> None:
    choose(view, bench, "dry gin", LEFT_OUT)
    assert "from the sloe gin" in view.left.text()
    assert "on the glass from the aromatic bitters" in view.left.text()
    choose(view, bench, "sloe gin", LEFT_OUT)
    assert "from the sloe gin" not in view.left.text()
    assert view.left.text().startswith("Below 0.05\u202f% vol left")


def test_a_line_gives_way_to_an_item_typed_by_its_name(view: AlcoholFreeView, bench: Bench) -> None:
    choose(view, bench, "dry gin", GIVES_WAY, VERJUS.casefold(), "0.5")
    verjus = next(one for one in bench.document.book.raws.values() if one.name == VERJUS)
    assert view.swaps == (Swap(row(view, "dry gin").line.item_id, verjus.id, 0.5),)
    assert view.make_button.isEnabled()


@pytest.mark.parametrize(
    ("text", "factor", "problem"),
    [
        ("moonwater", "", "“moonwater” is not in the house book. Choose one of its names."),
        (VERJUS, "0", "Expected a factor above 0 and up to 100, such as 1 or 0.5."),
        (VERJUS, "much", "Expected a factor above 0 and up to 100, such as 1 or 0.5."),
    ],
)
def test_what_is_not_understood_is_said_under_its_line_and_changes_nothing(
    view: AlcoholFreeView, bench: Bench, text: str, factor: str, problem: str
) -> None:
    one = choose(view, bench, "dry gin", GIVES_WAY, text, factor)
    assert one.problem.text() == problem
    assert one.problem.isVisible()
    assert one.item.text() == text
    assert view.swaps == ()
    assert not view.make_button.isEnabled()


def test_a_line_that_does_not_say_what_takes_its_place_holds_the_making_back(
    view: AlcoholFreeView, bench: Bench
) -> None:
    choose(view, bench, "sloe gin", LEFT_OUT)
    assert view.make_button.isEnabled()
    choose(view, bench, "dry gin", GIVES_WAY, "moonwater")
    assert not view.make_button.isEnabled()
    assert view.make_button.toolTip()


def test_make_it_is_one_change_that_opens_the_twist_and_can_be_undone(
    view: AlcoholFreeView, bench: Bench, qtbot: QtBot
) -> None:
    before = bench.document.book
    choose(view, bench, "dry gin", GIVES_WAY, VERJUS)
    with qtbot.waitSignal(view.made) as made:
        QTest.mouseClick(view.make_button, Qt.MouseButton.LeftButton)
    twist = bench.document.book.builds[made.args[0]]
    assert twist.parent_id == bench.build("Sloe Tide").id
    assert twist.is_tried
    assert bench.document.history()[0].label == "alcohol-free version of Sloe Tide"
    bench.document.undo()
    assert bench.document.book.builds == before.builds
    assert bench.document.book.settings == before.settings


def test_the_choices_are_there_again_for_the_next_drink(view: AlcoholFreeView, bench: Bench) -> None:
    choose(view, bench, "dry gin", GIVES_WAY, VERJUS, "0.5")
    QTest.mouseClick(view.make_button, Qt.MouseButton.LeftButton)
    bench.settle()
    gin = row(view, "dry gin")
    assert (gin.fate.currentText(), gin.item.text(), gin.factor.text()) == (GIVES_WAY, VERJUS, "0.5")
    assert row(view, "sloe gin").fate.currentText() == STAYS


def test_choices_that_are_not_to_be_kept_leave_no_rule(view: AlcoholFreeView, bench: Bench) -> None:
    leave_all_out(view, bench)
    QTest.keyClick(view.remember, Qt.Key.Key_Space)
    assert not view.remember.isChecked()
    QTest.mouseClick(view.make_button, Qt.MouseButton.LeftButton)
    assert bench.document.book.settings.swaps == ()


def test_the_name_follows_the_law_until_somebody_types_one(view: AlcoholFreeView, bench: Bench) -> None:
    bench.document.do(set_settings(wording_law="uk"), "law")
    bench.settle()
    leave_all_out(view, bench)
    assert view.name.text() == "Sloe Tide, alcohol-free"
    view.name.setFocus()
    view.name.selectAll()
    QTest.keyClicks(view.name, "Quiet Tide")
    bench.settle()
    view.rows[0].fate.setCurrentText(STAYS)
    bench.settle()
    assert view.name.text() == "Quiet Tide"


def test_a_name_that_says_more_than_the_law_allows_is_told(view: AlcoholFreeView, bench: Bench) -> None:
    leave_all_out(view, bench)
    view.name.setFocus()
    view.name.selectAll()
    QTest.keyClicks(view.name, "Tide, alcohol-free")
    bench.settle()
    assert view.legal.isVisible()
    assert view.legal.text() == NOT_SO_CALLED


def test_both_shapes_are_compared(view: AlcoholFreeView, bench: Bench) -> None:
    assert view.radar.shape_shown.parent is None
    leave_all_out(view, bench)
    assert view.radar.shape_shown.parent is not None
    assert view.radar.shape_shown.parent_name == "Sloe Tide"


def test_the_deferral_stands_with_the_words_of_law(view: AlcoholFreeView) -> None:
    assert view.deferral.text() == DEFERRAL


def test_a_drink_without_alcohol_says_so(view: AlcoholFreeView, bench: Bench) -> None:
    name = "Saltings"
    bench.show(name)
    assert view.rows or view.none.isVisible()
    assert "Sloe gin, 26 %" not in [one.line.name for one in view.rows]


def test_with_no_drink_open_there_is_nothing_to_choose(view: AlcoholFreeView, bench: Bench) -> None:
    bench.session.show(None)
    bench.settle()
    assert view.rows == []
    assert view.none.text() == "No drink is open."
    assert not view.make_button.isEnabled()


def test_escape_closes_and_writes_nothing(view: AlcoholFreeView, bench: Bench, qtbot: QtBot) -> None:
    before = bench.document.book
    leave_all_out(view, bench)
    with qtbot.waitSignal(view.closed):
        QTest.keyClick(view, Qt.Key.Key_Escape)
    assert bench.document.book is before


def test_every_control_has_a_name(view: AlcoholFreeView) -> None:
    for kind in (QLineEdit, QComboBox, QAbstractButton):
        for one in view.findChildren(kind):
            assert one.accessibleName() or one.text(), one  # type: ignore[union-attr]


def test_a_narrow_window_keeps_the_choices_and_lets_the_shapes_go(
    view: AlcoholFreeView, bench: Bench
) -> None:
    view.resize(700, 500)
    bench.settle()
    assert view.rows[0].isVisible()
    assert not view.radar.isVisible()
