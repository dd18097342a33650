"""The wrapper of the plotting library: one unit is one pixel, nothing pans, lines keep their thickness."""

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QMouseEvent, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from washline.ui.plot import CurveStyle, StillPlot, ValueCurve
from washline.ui.theme import dark_theme, light_theme


@pytest.fixture
def plot(qtbot: QtBot) -> StillPlot:
    """A plot of 300 by 200 pixels on screen."""
    made = StillPlot(light_theme())
    qtbot.addWidget(made)
    made.resize(300, 200)
    with qtbot.waitExposed(made):
        made.show()
    return made


def shown(plot: StillPlot) -> tuple[float, float, float, float]:
    """The corner points of the plot's coordinates in its pixels."""
    corner, far = (plot._box.mapViewToScene(QPointF(*point)) for point in ((0, 0), (300, 200)))
    return corner.x(), corner.y(), far.x(), far.y()


def test_one_unit_is_one_pixel_and_y_runs_down(plot: StillPlot) -> None:
    assert shown(plot) == pytest.approx((0, 0, 300, 200), abs=1e-6)


def test_the_coordinates_follow_the_size(plot: StillPlot, qtbot: QtBot) -> None:
    with qtbot.waitSignal(plot.pixels_changed, timeout=1000):
        plot.resize(320, 260)
    assert plot.pixel_rect == QRectF(0, 0, 320, 260)
    assert shown(plot) == pytest.approx((0, 0, 300, 200), abs=1e-6)


def test_the_wheel_is_left_to_the_page(plot: StillPlot) -> None:
    wheel = QWheelEvent(
        QPointF(50, 50),
        QPointF(50, 50),
        QPoint(0, 120),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    plot.wheelEvent(wheel)
    assert not wheel.isAccepted()
    assert shown(plot) == pytest.approx((0, 0, 300, 200), abs=1e-6)


def test_dragging_and_keys_move_nothing(plot: StillPlot) -> None:
    viewport = plot.viewport()
    left = Qt.MouseButton.LeftButton
    for kind, x, y in ((QEvent.Type.MouseButtonPress, 50, 50), (QEvent.Type.MouseMove, 120, 90)):
        place = QPointF(x, y)
        no_keys = Qt.KeyboardModifier.NoModifier
        QApplication.sendEvent(
            viewport, QMouseEvent(kind, place, viewport.mapToGlobal(place), left, left, no_keys)
        )
    for key in (Qt.Key.Key_Plus, Qt.Key.Key_Minus, Qt.Key.Key_Equal, Qt.Key.Key_Backspace):
        QTest.keyClick(plot, key)
    assert shown(plot) == pytest.approx((0, 0, 300, 200), abs=1e-6)


def test_the_ground_follows_the_theme(plot: StillPlot) -> None:
    plot.set_theme(dark_theme())
    assert plot.grab().toImage().pixelColor(150, 100) == dark_theme().sheet


@pytest.mark.parametrize("ratio", [1.0, 2.0, 3.0])
def test_a_line_is_as_thick_on_every_screen(ratio: float) -> None:
    pen = CurveStyle(QColor("black"), 1.6, (6, 3)).pen(ratio)
    assert pen.widthF() == pytest.approx(1.6 * ratio)
    assert [length * pen.widthF() for length in pen.dashPattern()] == pytest.approx([6 * ratio, 3 * ratio])


def test_a_curve_takes_new_values_in_place_and_leaves_a_gap_for_what_is_unknown(plot: StillPlot) -> None:
    curve = ValueCurve(CurveStyle(QColor("black"), 1.6))
    plot.add(curve)
    curve.set_values([10, 20, 30], [5, None, 7])
    x, y = curve.item.getData()
    assert list(x) == [10, 20, 30]
    assert np.isnan(y[1])
    curve.set_values([10, 20], [1, 2])
    assert list(curve.item.getData()[1]) == [1, 2]
