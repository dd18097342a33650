"""The drawn glass: level, foam, layers and labels that never touch."""

from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from washline.presentation.glass import Glass, glass_form
from washline.presentation.glass_level import Fill, GlassLevel
from washline.ui.appearance import Appearance
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.glass.picture import GlassPicture
from washline.ui.measures import Measures
from washline.ui.theme import dark_theme, light_theme


@pytest.fixture
def look(qapp: QApplication) -> Appearance:
    load_fonts()
    return Appearance(light_theme(), application_fonts(), Measures(), is_calm=True)


def level(**fields: Any) -> GlassLevel:
    drawn = Glass(glass_form("rocks"), 300.0, **{"liquid_ml": 150.0, "wash_line_ml": 200.0, **fields})
    return GlassLevel(
        drawn, Fill.RIGHT, "Right.", (), layer_names=("cream",), wash_label="wash line 200 ml",
        brim_label="brim 300 ml", level_label="150 ml", foam_label="foam 30 ml" if drawn.foam_ml else "",
    )  # fmt: skip


def painted(look: Appearance, qtbot: QtBot, shown: GlassLevel | None) -> QImage:
    picture = GlassPicture(look)
    qtbot.addWidget(picture)
    picture.resize(picture.sizeHint())
    picture.set_level(shown)
    return picture.grab().toImage()


def test_nothing_is_painted_where_there_is_no_glass(look: Appearance, qtbot: QtBot) -> None:
    image = painted(look, qtbot, None)
    assert len({image.pixel(x, y) for x in range(0, 400, 7) for y in range(0, 300, 7)}) == 1


def test_foam_and_layers_change_the_picture(look: Appearance, qtbot: QtBot) -> None:
    bare = painted(look, qtbot, level())
    assert painted(look, qtbot, level(foam_ml=30.0)) != bare
    assert painted(look, qtbot, level(floats_ml=(40.0,))) != bare
    assert painted(look, qtbot, level()) == bare


def test_labels_never_touch_however_near_their_levels_are(look: Appearance, qtbot: QtBot) -> None:
    picture = GlassPicture(look)
    qtbot.addWidget(picture)
    picture.resize(picture.sizeHint())
    picture.set_level(level(liquid_ml=295.0, wash_line_ml=294.0, foam_ml=30.0, floats_ml=(1.0,)))
    labels = picture._labels()
    places = picture._apart(labels, QRectF(20.0, 40.0, 200.0, 300.0))
    heights = [look.fonts.metrics(label.font).height() for label in labels]
    for first in range(len(labels) - 1):
        gap = places[first + 1] - places[first]
        assert gap >= (heights[first] + heights[first + 1]) / 2 - 1e-6
    assert places[0] - heights[0] / 2 >= 0.0
    assert places[-1] + heights[-1] / 2 <= picture.height() + 1e-6


def test_the_dark_and_the_light_differ(look: Appearance, qtbot: QtBot) -> None:
    dark = replace(look, theme=dark_theme())
    assert painted(look, qtbot, level()) != painted(dark, qtbot, level())
