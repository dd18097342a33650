"""The tree under a real X server, with keys and a pointer that come from outside the program."""

import subprocess

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QApplication

from tests.presentation.small_house import CORDIAL_LINE, ICE, SIGNAL, VERJUS_LINE, VERMOUTH_LINE
from tests.ui.build.conftest import Bench
from washline.presentation.build_rows import Key
from washline.ui.build.columns import AMOUNT, NAME

# A server of 16 bits has no picture with an alpha channel for what a drag carries; Qt says so and takes a plain one.
pytestmark = [
    pytest.mark.display,
    pytest.mark.qt_log_ignore("^Falling back to using screens root_visual", extend=True),
]


def xdotool(*words: str) -> None:
    subprocess.run(["xdotool", *words], check=True, timeout=20)


def focus(bench: Bench) -> None:
    xdotool("windowfocus", "--sync", str(int(bench.sheet.winId())))
    bench.sheet.tree.setFocus()
    bench.qtbot.waitUntil(bench.sheet.tree.hasFocus)


def on_screen(bench: Bench, key: Key, column: int, down: int = 0) -> list[str]:
    tree = bench.sheet.tree
    rect = tree.visualRect(bench.sheet.model.index_of(key, column))
    point = tree.viewport().mapToGlobal(QPoint(rect.left() + 30, rect.center().y() + down))
    ratio = tree.devicePixelRatioF()
    return [str(round(point.x() * ratio)), str(round(point.y() * ratio))]


def order(bench: Bench) -> list[int]:
    return [step.id for step in bench.book.builds[SIGNAL].steps]


def drag(bench: Bench, start: list[str], end: list[str], last: str = "mouseup 1") -> None:
    """A drag blocks in the program until it is dropped: the pointer is led by a process of its own."""
    middle = [str((int(a) + int(b)) // 2) for a, b in zip(start, end, strict=True)]
    script = (
        f"xdotool mousemove {' '.join(start)} sleep 0.1 mousedown 1 sleep 0.15 mousemove_relative 0 6 sleep 0.1 "
        f"mousemove {' '.join(middle)} sleep 0.15 mousemove {' '.join(end)} sleep 0.25 {last} sleep 0.1"
    )
    with subprocess.Popen(script.split()) as pointer:
        bench.qtbot.waitUntil(lambda: pointer.poll() is not None, timeout=15_000)
    QApplication.processEvents()


def test_a_typed_amount_reaches_the_house_book(bench: Bench) -> None:
    bench.go((VERMOUTH_LINE,), AMOUNT)
    focus(bench)
    xdotool("type", "--delay", "30", "52.5 ml")
    bench.qtbot.waitUntil(lambda: bench.sheet.tree.is_editing and bench.editor.text() == "52.5 ml")
    assert bench.labels() == []
    xdotool("key", "Return")
    bench.qtbot.waitUntil(lambda: bench.amount(VERMOUTH_LINE).number == 52.5)
    assert bench.sheet.tree.current_row() == bench.row(CORDIAL_LINE)


def test_a_click_and_a_double_click_open_the_field_once(bench: Bench) -> None:
    focus(bench)
    xdotool(
        "mousemove", *on_screen(bench, (VERJUS_LINE,), AMOUNT), "click", "--repeat", "2", "--delay", "60", "1"
    )
    bench.qtbot.waitUntil(lambda: bench.sheet.tree.is_editing)
    assert bench.sheet.tree.edited_index == bench.sheet.model.index_of((VERJUS_LINE,), AMOUNT)
    xdotool("key", "Escape")
    bench.qtbot.waitUntil(lambda: not bench.sheet.tree.is_editing)
    assert bench.labels() == []


def test_a_row_dragged_down_is_moved_and_none_is_lost(bench: Bench) -> None:
    focus(bench)
    drag(bench, on_screen(bench, (VERMOUTH_LINE,), NAME), on_screen(bench, (ICE,), NAME, -8))
    assert order(bench)[:4] == [CORDIAL_LINE, VERJUS_LINE, VERMOUTH_LINE, ICE]
    assert len(order(bench)) == 6
    assert bench.labels() == ["moving dry white vermouth"]


def test_a_row_dragged_up_is_moved_once(bench: Bench) -> None:
    focus(bench)
    drag(bench, on_screen(bench, (ICE,), NAME), on_screen(bench, (VERMOUTH_LINE,), NAME, -8))
    assert order(bench)[:2] == [ICE, VERMOUTH_LINE]
    assert len(order(bench)) == 6


def test_a_drag_that_is_broken_off_with_escape_changes_nothing(bench: Bench) -> None:
    before = order(bench)
    focus(bench)
    start, end = on_screen(bench, (VERMOUTH_LINE,), NAME), on_screen(bench, (ICE,), NAME, -8)
    drag(bench, start, end, "key Escape sleep 0.1 mouseup 1")
    assert order(bench) == before
    assert bench.labels() == []


def test_a_row_dropped_on_itself_stays_where_it_is(bench: Bench) -> None:
    before = order(bench)
    focus(bench)
    start = on_screen(bench, (VERJUS_LINE,), NAME)
    drag(bench, start, on_screen(bench, (VERJUS_LINE,), NAME, -4))
    assert order(bench) == before
