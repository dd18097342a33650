"""The radar in the window: it jumps while typing, travels after a commit, and is heard, reached and explained."""

import gc
import weakref
from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QAccessible, QHelpEvent, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QToolTip
from pytestqt.qtbot import QtBot

from tests.ui.draw.canvas import Canvas
from washline.presentation.radar import RadarAxis, RadarShape
from washline.ui.balance.radar_widget import RadarWidget
from washline.ui.draw.radar import draw_radar
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.theme import dark_theme, light_theme

NAMES = ("Strength", "Sweetness", "Acidity", "Bitterness", "Fizz", "Length")


def axis(name: str, value: float | None) -> RadarAxis:
    text = "" if value is None else f"{value:.1f}"
    words = "over by 0.6" if value is not None and value > 9.5 else ""
    tip = f"{name}: what it means"
    return RadarAxis(name.lower(), name, value, text, words, 4.5, 7, 9.5, 1, "g per 100 ml", tool_tip=tip)


def shape(*values: float | None) -> RadarShape:
    return RadarShape(tuple(axis(name, value) for name, value in zip(NAMES, values, strict=False)))


AT_REST = shape(7.0, 7.2, 7.0, 7.0, 7.0, 7.0)
MOVED = shape(7.0, 8.5, 7.0, 7.0, 7.0, 7.0)


@pytest.fixture
def radar(qtbot: QtBot) -> RadarWidget:
    """A radar of the balance pane's size, at rest, with the focus."""
    load_fonts()
    widget = RadarWidget(light_theme(), application_fonts())
    qtbot.addWidget(widget)
    widget.resize(398, 380)
    with qtbot.waitExposed(widget):
        widget.show()
    widget.set_shape(AT_REST)
    widget.setFocus()
    return widget


def vertex(radar: RadarWidget, index: int) -> QPoint:
    """The place of a vertex in the plot's viewport."""
    viewport = radar._plot.viewport()
    return viewport.mapFromGlobal(radar.axis_screen_rect(index).center())


def test_while_typing_the_shape_jumps(radar: RadarWidget) -> None:
    radar.set_shape(replace(MOVED, is_preview=True, before=AT_REST.values))
    assert not radar.is_travelling
    assert radar._item.drink_radii == MOVED.radii(MOVED.values)


def test_after_a_commit_the_shape_travels_and_arrives(radar: RadarWidget, qtbot: QtBot) -> None:
    radar.set_shape(MOVED)
    assert radar.is_travelling
    assert radar._item.drink_radii == AT_REST.radii(AT_REST.values)
    qtbot.waitUntil(lambda: not radar.is_travelling, timeout=2000)
    assert radar._item.drink_radii == MOVED.radii(MOVED.values)


def test_with_reduced_motion_the_shape_always_jumps(radar: RadarWidget) -> None:
    radar.set_reduced_motion(True)
    radar.set_shape(MOVED)
    assert not radar.is_travelling


def test_writing_what_was_previewed_moves_nothing(radar: RadarWidget) -> None:
    radar.set_shape(replace(MOVED, is_preview=True))
    radar.set_shape(MOVED)
    assert not radar.is_travelling


def test_a_drink_of_another_target_does_not_travel(radar: RadarWidget) -> None:
    radar.set_shape(shape(7.0, 7.0, 9.0))
    assert not radar.is_travelling


def test_typing_stops_a_shape_on_its_way(radar: RadarWidget) -> None:
    radar.set_shape(MOVED)
    radar.set_shape(replace(AT_REST, is_preview=True))
    assert not radar.is_travelling
    assert radar._item.drink_radii == AT_REST.radii(AT_REST.values)


def test_the_plate_does_not_move_while_a_figure_goes_out_of_band(radar: RadarWidget) -> None:
    before = radar._item.place
    radar.set_shape(replace(shape(7.0, 10.1, 7.0, 7.0, 7.0, 7.0), is_preview=True))
    after = radar._item.place
    assert before is not None
    assert after is not None
    assert (before.radius, before.x, before.y) == (after.radius, after.x, after.y)


def test_the_item_covers_all_that_it_draws(radar: RadarWidget) -> None:
    bounds = radar._item.boundingRect()
    assert bounds == radar._plot.pixel_rect
    place = radar._item.place
    assert place is not None
    for label in place.labels:
        assert bounds.contains(label.box[0], label.box[1])
        assert bounds.contains(label.box[2], label.box[3])


def test_the_plot_shows_the_drawing_upright_and_unscaled(radar: RadarWidget) -> None:
    """The plot's picture is the drawing function's own to the pixel, so nothing is mirrored, moved or blurred."""
    radar.clearFocus()
    grabbed = radar._plot.grab().toImage()
    theme, pane = light_theme(), radar._plot.pixel_rect
    canvas = Canvas(round(pane.width()), round(pane.height()), theme.sheet, grabbed.devicePixelRatio())
    canvas.paint(lambda painter: draw_radar(painter, pane, AT_REST, theme, application_fonts()))
    assert grabbed.convertToFormat(QImage.Format.Format_RGB32) == canvas.image


def test_arrow_keys_choose_an_axis_all_the_way_round(radar: RadarWidget, qtbot: QtBot) -> None:
    heard: list[str] = []
    radar.current_axis_changed.connect(heard.append)
    for key in (Qt.Key.Key_Right, Qt.Key.Key_End, Qt.Key.Key_Right, Qt.Key.Key_Left, Qt.Key.Key_Home):
        QTest.keyClick(radar, key)
    assert heard == ["sweetness", "length", "strength", "length", "strength"]


def test_return_asks_for_the_current_axis(radar: RadarWidget, qtbot: QtBot) -> None:
    QTest.keyClick(radar, Qt.Key.Key_Right)
    with qtbot.waitSignal(radar.axis_activated, timeout=1000) as asked:
        QTest.keyClick(radar, Qt.Key.Key_Return)
    assert asked.args == ["sweetness"]


def test_a_double_click_does_what_return_does(radar: RadarWidget, qtbot: QtBot) -> None:
    with qtbot.waitSignal(radar.axis_activated, timeout=1000) as asked:
        QTest.mouseDClick(radar._plot.viewport(), Qt.MouseButton.LeftButton, pos=vertex(radar, 2))
    assert asked.args == ["acidity"]


def test_a_click_beside_a_vertex_still_reaches_it(radar: RadarWidget, qtbot: QtBot) -> None:
    near = vertex(radar, 2) + QPoint(8, 6)
    with qtbot.waitSignal(radar.current_axis_changed, timeout=1000) as chosen:
        QTest.mouseClick(radar._plot.viewport(), Qt.MouseButton.LeftButton, pos=near)
    assert chosen.args == ["acidity"]


def test_a_click_into_the_middle_chooses_nothing(radar: RadarWidget, qtbot: QtBot) -> None:
    place = radar._item.place
    assert place is not None
    with qtbot.assertNotEmitted(radar.current_axis_changed):
        middle = QPoint(round(place.x), round(place.y))
        QTest.mouseClick(radar._plot.viewport(), Qt.MouseButton.LeftButton, pos=middle)


def test_the_tooltip_of_a_vertex_explains_the_reading(radar: RadarWidget) -> None:
    viewport = radar._plot.viewport()
    place = vertex(radar, 1)
    event = QHelpEvent(QEvent.Type.ToolTip, place, viewport.mapToGlobal(place))
    QApplication.sendEvent(viewport, event)
    assert QToolTip.text() == "Sweetness: what it means"
    QToolTip.hideText()


def test_a_screen_reader_finds_the_chart_and_each_axis(radar: RadarWidget) -> None:
    chart = QAccessible.queryAccessibleInterface(radar)
    assert chart.role() == QAccessible.Role.Chart
    assert chart.childCount() == 6
    assert chart.text(QAccessible.Text.Name) == "Balance"
    assert chart.text(QAccessible.Text.Description) == "All 6 readings in band."
    spoken = chart.child(1).text(QAccessible.Text.Name)
    assert spoken == "Sweetness 7.2 g per 100 ml, in band"


def test_a_screen_reader_hears_what_is_out(radar: RadarWidget) -> None:
    radar.set_reduced_motion(True)
    radar.set_shape(shape(7.0, 10.1, None, 7.0, 7.0, 7.0))
    chart = QAccessible.queryAccessibleInterface(radar)
    told = chart.text(QAccessible.Text.Description)
    assert told == "Sweetness 10.1 g per 100 ml, over by 0.6; Acidity not known."


def test_the_focused_axis_is_the_one_that_the_keys_chose(radar: RadarWidget) -> None:
    QTest.keyClick(radar, Qt.Key.Key_Right)
    chart = QAccessible.queryAccessibleInterface(radar)
    assert radar.current_axis() == 1
    assert chart.child(1).state().focused
    assert not chart.child(2).state().focused
    assert chart.indexOfChild(chart.child(1)) == 1


def test_an_axis_that_the_target_lost_is_no_longer_valid(radar: RadarWidget) -> None:
    last = QAccessible.queryAccessibleInterface(radar).child(5)
    assert last.isValid()
    radar.set_shape(shape(7.0, 7.0, 7.0))
    assert not last.isValid()


def test_a_vertex_is_large_enough_to_hit(radar: RadarWidget) -> None:
    assert radar.axis_screen_rect(0).width() >= 24


def test_an_empty_drink_shows_its_target_and_says_so(radar: RadarWidget) -> None:
    radar.set_shape(replace(shape(*[None] * 6), is_empty=True))
    assert radar.has_room
    assert radar.accessibleDescription() == "Nothing poured yet; the ring shows the target."
    assert [entry.kind for entry in radar._legend.entries] == ["target"]


def test_two_axes_leave_the_readings_table_alone(radar: RadarWidget) -> None:
    radar.set_shape(shape(7.0, 7.0))
    assert not radar.has_room


def test_the_theme_changes_every_pixel_at_once(radar: RadarWidget) -> None:
    radar.set_look(dark_theme(), application_fonts())
    picture = radar._plot.grab().toImage()
    assert picture.pixelColor(3, 3) == dark_theme().sheet
    place = radar._item.place
    assert place is not None
    ring = picture.pixelColor(round(place.x + 0.70 * place.radius), round(place.y) + 2)
    assert ring.lightness() < 90


def test_larger_text_takes_a_larger_legend(radar: RadarWidget) -> None:
    before = radar._legend.heightForWidth(398)
    radar.set_look(light_theme(), replace(application_fonts(), unit=2.0))
    assert radar._legend.heightForWidth(398) >= 2 * before


def test_escape_and_letters_are_left_to_the_window(radar: RadarWidget) -> None:
    radar.set_shape(AT_REST)
    QTest.keyClick(radar, Qt.Key.Key_A)
    assert radar.current_axis() == 0


def test_a_radar_that_is_dropped_is_freed_even_after_a_screen_reader_asked(qtbot: QtBot) -> None:
    load_fonts()
    widget = RadarWidget(light_theme(), application_fonts())
    widget.set_shape(AT_REST)
    assert QAccessible.queryAccessibleInterface(widget).child(0).isValid()
    watch = weakref.ref(widget)
    del widget
    gc.collect()
    assert watch() is None
