"""What is edited is on the screen before anything else is done: the order of events, not their time."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.ui.window.conftest import Room
from washline.document.commands.lines import set_amount
from washline.model.amount import millilitres
from washline.presentation.book_rows import Section

FIGURES = {"sheet", "readings", "radar"}
LATER = {"spread", "list", "words", "line under the name", "background"}


class Order(QObject):
    """Writes down, in order, what of the window is painted and what is done."""

    def __init__(self, room: Room, monkeypatch: pytest.MonkeyPatch) -> None:
        super().__init__()
        self.seen: list[str] = []
        workspace = room.workspace
        self._names = {
            workspace.sheet.tree.viewport(): "sheet",
            workspace.balance.table: "readings",
            workspace.balance.radar._plot.viewport(): "radar",
        }
        for widget in self._names:
            widget.installEventFilter(self)
        workspace.session.view_changed.connect(lambda _: self.seen.append("view"))
        workspace.session.spread_changed.connect(lambda _: self.seen.append("spread"))
        for owner, name, words in (
            (room.document, "work_on", "background"),
            (room.window.book, "refresh", "list"),
            (workspace.words, "refresh", "words"),
            (workspace.sheet.subtitle, "setText", "line under the name"),
        ):
            monkeypatch.setattr(owner, name, self._noting(getattr(owner, name), words))

    def _noting(self, work: Callable[..., object], words: str) -> Callable[..., object]:
        def noted(*args: object) -> object:
            self.seen.append(words)
            return work(*args)

        return noted

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint:
            self.seen.append(self._names[watched])  # type: ignore[index]
        return False


@pytest.fixture
def order(room: Room, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> Order:
    room.workspace.show(Section.DRINKS, room.build("Pear Signal").id)
    rested = []
    room.workspace.background.finished.connect(lambda: rested.append(True))
    qtbot.waitUntil(lambda: bool(rested), timeout=10_000)
    qtbot.wait(50)
    return Order(room, monkeypatch)


def pour(room: Room, ml: float) -> None:
    drink = room.build("Pear Signal")
    command = set_amount(drink.id, drink.steps[0].id, millilitres(ml))
    room.workspace.session.commit(command, "change of vermouth")


def assert_painted_first(order: Order, qtbot: QtBot) -> None:
    """Every figure is painted before the first of what may follow, and all of that follows."""
    qtbot.waitUntil(lambda: set(order.seen) >= LATER, timeout=5000)
    first = min(order.seen.index(word) for word in LATER)
    assert set(order.seen[1:first]) == FIGURES


def test_change_is_published_in_its_own_event_and_painted_before_anything_else(
    room: Room, order: Order, qtbot: QtBot
) -> None:
    pour(room, 37.5)
    assert order.seen == ["view"]
    assert_painted_first(order, qtbot)


def test_undo_and_redo_are_painted_before_anything_else(room: Room, order: Order, qtbot: QtBot) -> None:
    pour(room, 37.5)
    assert_painted_first(order, qtbot)
    for action in ("undo", "redo"):
        qtbot.wait(300)  # The radar travels for a while after each.
        order.seen.clear()
        room.trigger(action)
        assert order.seen == ["view"]
        assert_painted_first(order, qtbot)


def test_undo_and_redo_can_be_pressed_before_the_change_is_painted(room: Room, order: Order) -> None:
    pour(room, 37.5)
    assert room.window.menus.actions["undo"].isEnabled()
    assert not room.window.menus.actions["redo"].isEnabled()
    room.trigger("undo")
    assert room.window.menus.actions["redo"].isEnabled()


def test_spread_comes_as_a_view_of_its_own_and_no_figure_is_published_twice(
    room: Room, order: Order, qtbot: QtBot
) -> None:
    pour(room, 37.5)
    qtbot.waitUntil(lambda: "spread" in order.seen, timeout=5000)
    assert order.seen.count("view") == 1
    view = room.workspace.session.view
    assert view is not None
    assert view.has_own_spread


def test_curves_follow_the_figures_of_a_change(room: Room, order: Order, qtbot: QtBot) -> None:
    before = room.workspace.curves.shown
    pour(room, 37.5)
    assert room.workspace.curves.shown is before
    qtbot.waitUntil(lambda: room.workspace.curves.shown is not before, timeout=5000)


def test_what_waits_for_a_paint_is_let_go_when_the_book_is_closed(room: Room, order: Order) -> None:
    pour(room, 37.5)
    room.workspace.close()
    order.seen.clear()
    QApplication.processEvents()
    assert not set(order.seen) & {"spread", "list", "words", "line under the name"}
