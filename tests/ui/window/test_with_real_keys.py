"""The window under a real X server, with keys and a pointer that come from outside the program."""

import subprocess

import pytest
from PySide6.QtWidgets import QWidget

from tests.ui.window.conftest import Room
from washline.presentation.book_rows import Section
from washline.ui.finder.panel import FinderPanel

pytestmark = [
    pytest.mark.display,
    pytest.mark.qt_log_ignore("^Falling back to using screens root_visual", extend=True),
]


def xdotool(*words: str) -> None:
    subprocess.run(["xdotool", *words], check=True, timeout=20)


def focus(room: Room, widget: QWidget) -> None:
    xdotool("windowfocus", "--sync", str(int(room.window.winId())))
    widget.setFocus()
    room.qtbot.waitUntil(widget.hasFocus)


def title(room: Room) -> str:
    return room.workspace.sheet.title.text()


def test_find_keys_then_words_then_return_open_a_drink(room: Room) -> None:
    focus(room, room.workspace.sheet.tree)
    xdotool("key", "ctrl+f")
    room.qtbot.waitUntil(room.window.book.field.hasFocus)
    xdotool("type", "--delay", "30", "sloe")
    room.qtbot.waitUntil(lambda: room.names(Section.DRINKS) == ["Sloe Tide"])
    xdotool("key", "Return")
    room.qtbot.waitUntil(lambda: title(room) == "Sloe Tide")
    room.qtbot.waitUntil(room.workspace.sheet.tree.hasFocus)


def test_finder_opens_over_the_window_and_gives_the_focus_back(room: Room) -> None:
    focus(room, room.workspace.sheet.tree)
    xdotool("key", "ctrl+k")
    finder = room.window.findChild(FinderPanel)
    assert finder is not None
    room.qtbot.waitUntil(finder.field.hasFocus)
    xdotool("type", "--delay", "30", "quince f")
    room.qtbot.waitUntil(lambda: finder.field.text() == "quince f")
    xdotool("key", "Escape")
    room.qtbot.waitUntil(room.workspace.sheet.tree.hasFocus)
    assert not finder.isVisible()
    assert title(room) == "Pear Signal"


def test_letters_in_the_list_go_to_the_name_that_begins_so(room: Room) -> None:
    view = room.window.book.views[Section.DRINKS]
    focus(room, view)
    xdotool("type", "--delay", "20", "qui")
    room.qtbot.waitUntil(lambda: title(room) == "Quince Ferry")


def test_delete_in_the_list_removes_the_drink_and_undo_brings_it_back(room: Room) -> None:
    room.workspace.show_build(room.build("Sloe Tide").id)
    focus(room, room.window.book.views[Section.DRINKS])
    xdotool("key", "Delete")
    room.qtbot.waitUntil(lambda: "Sloe Tide" not in room.names(Section.DRINKS))
    assert len(room.build("Pear Signal").steps) == 7
    xdotool("key", "ctrl+z")
    room.qtbot.waitUntil(lambda: "Sloe Tide" in room.names(Section.DRINKS))


def test_undo_keys_in_an_empty_find_field_reach_the_house_book(room: Room) -> None:
    room.workspace.editing.rename(Section.DRINKS, room.build("Sloe Tide").id, "Neap")
    focus(room, room.window.book.field)
    xdotool("key", "ctrl+z")
    room.qtbot.waitUntil(lambda: "Sloe Tide" in room.names(Section.DRINKS))


def test_new_drink_is_named_and_its_first_line_typed_without_a_pointer(room: Room) -> None:
    focus(room, room.workspace.sheet.tree)
    xdotool("key", "ctrl+n")
    room.qtbot.waitUntil(lambda: title(room) == "New drink")
    xdotool("type", "--delay", "30", "Neap")
    xdotool("key", "Return")
    room.qtbot.waitUntil(lambda: title(room) == "Neap")
    room.qtbot.waitUntil(room.workspace.sheet.tree.hasFocus)


def test_next_region_key_goes_round(room: Room) -> None:
    focus(room, room.workspace.sheet.tree)
    xdotool("key", "F6")
    room.qtbot.waitUntil(lambda: _region(room) == "balance")
    xdotool("key", "F6")
    room.qtbot.waitUntil(lambda: _region(room) == "book")


def _region(room: Room) -> str:
    focused = room.window.focusWidget()
    regions = room.window.regions.regions
    return next(
        (one.objectName() for one in regions if focused is not None and one.isAncestorOf(focused)), ""
    )
