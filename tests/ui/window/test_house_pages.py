"""The sheets that are opened on demand, in the whole window: they come up, lead to what they name, and go away again."""

from collections.abc import Callable
from datetime import UTC, datetime

import pytest

from tests.ui.window.conftest import Room
from washline.document.commands.command import in_turn
from washline.document.commands.raws import set_component
from washline.document.commands.today import set_today
from washline.model.item import Today
from washline.ui.costs.view import CostsView
from washline.ui.flow.unused_view import UnusedView
from washline.ui.flow.view import FlowView
from washline.ui.ingredient.entry import IngredientEntry
from washline.ui.moved.view import MovedView
from washline.ui.today_watch import TodayWatch

PAGES = {
    "mass_flow": FlowView,
    "unused": UnusedView,
    "costs": CostsView,
    "from_label": IngredientEntry,
    "moved": MovedView,
}


def lemon(room: Room) -> int:
    return next(raw.id for raw in room.document.book.raws.values() if raw.slug == "lemon-juice")


@pytest.mark.parametrize("name", PAGES)
def test_menu_opens_the_sheet_and_closing_it_goes_back(room: Room, name: str) -> None:
    drink = room.build("Sloe Tide")
    room.workspace.show_build(drink.id)
    room.trigger(name)
    page = room.window.regions.sheet.currentWidget()
    assert isinstance(page, PAGES[name])
    assert page.isVisible()
    page.closed.emit()
    assert room.window.regions.sheet.currentWidget() is room.workspace.build_region
    assert room.workspace.session.build_id == drink.id


def test_where_the_mass_went_needs_a_drink_or_part(room: Room) -> None:
    assert room.window.menus.actions["mass_flow"].isEnabled()
    room.workspace.show_item(lemon(room))
    assert not room.window.menus.actions["mass_flow"].isEnabled()


def test_what_a_sheet_names_is_opened(room: Room) -> None:
    room.trigger("costs")
    room.workspace.house.item_asked.emit(room.build("Drift").id)
    assert room.workspace.sheet.title.text() == "Drift"
    leftover = next(iter(room.document.book.leftovers.values()))
    room.workspace.house.item_asked.emit(leftover.id)
    assert room.window.regions.sheet.currentWidget() is room.workspace.details
    room.workspace.house.item_asked.emit(lemon(room))
    assert room.window.regions.sheet.currentWidget() is room.workspace.raw_sheet


def test_correcting_a_fact_says_how_many_drinks_moved_with_the_way_to_them(room: Room) -> None:
    room.settle()
    room.workspace.show_item(lemon(room))
    sharper = in_turn(set_component(lemon(room), "water", 90.5), set_component(lemon(room), "citric", 5.85))
    room.document.do(sharper, "sharper lemons")
    sheet = room.workspace.raw_sheet
    room.qtbot.waitUntil(lambda: sheet.moved_button.isVisible(), timeout=10_000)
    assert "moved" in sheet.moved_words.text()
    sheet.moved_asked.emit()
    assert isinstance(room.window.regions.sheet.currentWidget(), MovedView)


def test_today_falls_back_to_the_table_when_its_time_is_over(room: Room) -> None:
    key = lemon(room)
    room.document.do(set_today(key, Today(0.0, 20.0, "2026-11-25T02:00+00:00")), "today's lemon juice")
    watch = room.workspace.today
    said: list[str] = []
    watch.said.connect(said.append)
    watch.look()
    assert room.document.book.raws[key].today is None
    assert len(said) == 1
    assert "the table holds again" in said[0]
    room.trigger("undo")
    assert room.document.book.raws[key].today is not None


def test_today_stands_until_its_time(room: Room) -> None:
    key = lemon(room)
    room.document.do(set_today(key, Today(0.0, 20.0, "2026-11-26T02:00+00:00")), "today's lemon juice")
    room.workspace.today.look()
    assert room.document.book.raws[key].today is not None


def test_what_was_over_when_the_window_opens_is_dropped_at_once(open_room: Callable[..., Room]) -> None:
    room = open_room()
    key = lemon(room)
    room.document.do(set_today(key, Today(0.0, 20.0, "2026-11-26T02:00+00:00")), "today's lemon juice")
    later = TodayWatch(room.document, lambda: datetime(2026, 11, 27, tzinfo=UTC), room.workspace)
    later.start()
    assert room.document.book.raws[key].today is None
    later.close()
