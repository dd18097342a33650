"""The icons: complete, tinted by a token, sharp at every scale."""

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QIcon, QPainter
from PySide6.QtWidgets import QApplication

from tests.ui.draw.canvas import Canvas
from washline.assets import resource
from washline.ui.icons import STEP_ICONS, draw_icon, icon, icon_names, icon_rect
from washline.ui.theme import light_theme

ASKED_FOR = (
    "pour",
    "blend",
    "rest",
    "strain",
    "left-over",
    "bottle",
    "block",
    "top",
    "leaf",
    "heat",
    "dry",
    "reduce",
    "take",
    "note",
    "cut",
    "hold-open",
    "hold-closed",
    "search",
    "chevron-right",
    "chevron-down",
    "alert",
    "clock",
    "unknown",
)


def test_every_icon_of_the_design_is_there() -> None:
    assert set(ASKED_FOR) <= set(icon_names())


def test_every_step_has_an_icon() -> None:
    assert set(STEP_ICONS.values()) <= set(icon_names())


@pytest.mark.parametrize("name", icon_names())
def test_an_icon_is_a_line_drawing_in_a_box_of_14(name: str) -> None:
    drawing = resource("icons", f"{name}.svg").read_text(encoding="utf-8")
    assert 'viewBox="0 0 14 14"' in drawing
    assert 'stroke="currentColor"' in drawing
    assert ('fill="currentColor"' in drawing) is (name == "hold-closed")


@pytest.mark.parametrize("scale", [1.0, 2.0])
@pytest.mark.parametrize("name", icon_names())
def test_an_icon_takes_the_colour_it_is_given_and_stays_in_its_box(
    name: str, scale: float, qapp: QApplication
) -> None:
    canvas = Canvas(24, 24, QColor("white"), scale)

    def paint(painter: QPainter) -> None:
        draw_icon(painter, icon_rect(12, 12), name, QColor("#AD3D14"))

    ink = canvas.paint(paint).ink()
    assert not ink.isEmpty()
    assert QRectF(4.5 * scale, 4.5 * scale, 15 * scale, 15 * scale).contains(QRectF(ink))
    reddest = canvas.places(QColor("#AD3D14"), tolerance=60)
    assert reddest


def test_a_name_that_is_no_icon_is_an_error(qapp: QApplication) -> None:
    canvas = Canvas(24, 24, QColor("white"))
    with pytest.raises(FileNotFoundError):
        canvas.paint(lambda painter: draw_icon(painter, icon_rect(12, 12), "umbrella", QColor("black")))


def test_a_control_that_is_off_has_a_grey_icon(qapp: QApplication) -> None:
    made = icon("search", light_theme())
    normal = made.pixmap(14, QIcon.Mode.Normal).toImage()
    disabled = made.pixmap(14, QIcon.Mode.Disabled).toImage()
    assert normal != disabled
