"""The colours: complete, readable on their real grounds (WCAG 2.2), and put on the application."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from washline.ui.theme import (
    TOKENS,
    Theme,
    ThemeChoice,
    ThemeSwitch,
    choose_theme,
    contrast,
    dark_theme,
    high_contrast_theme,
    light_theme,
    paper_theme,
    token_table,
)

ROWS = token_table()
GROUNDS = ("sheet", "ground", "raised", "inner", "hover", "select")
EVERYWHERE = ("ink", "ink2", "ink3", "drink", "target", "parent", "preview")
ON_WORK = ("sugar", "acid", "ethanol", "alert", "focus")
BOTH = pytest.mark.parametrize("theme", [light_theme(), dark_theme()], ids=lambda theme: str(theme.name))


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [("#000000", "#FFFFFF", 21.0), ("#777777", "#FFFFFF", 4.48), ("#FFFFFF", "#FFFFFF", 1.0)],
)
def test_the_contrast_ratio_is_that_of_wcag(one: str, other: str, ratio: float) -> None:
    # #777777 on white is the well-known near miss of 4.5, at 4.48 (WebAIM contrast checker, from memory).
    assert contrast(QColor(one), QColor(other)) == pytest.approx(ratio, abs=0.005)


def test_every_token_of_the_table_is_a_field_of_the_theme() -> None:
    assert set(TOKENS) == set(ROWS)


@BOTH
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("token", EVERYWHERE)
def test_text_stands_out_from_every_ground_it_lies_on(theme: Theme, token: str, ground: str) -> None:
    assert contrast(theme.colour(token), theme.colour(ground)) >= 4.5


@BOTH
@pytest.mark.parametrize("ground", ["sheet", "raised", "inner", "hover"])
@pytest.mark.parametrize("token", ON_WORK)
def test_bars_errors_and_focus_stand_out_from_the_sheet(theme: Theme, token: str, ground: str) -> None:
    assert contrast(theme.colour(token), theme.colour(ground)) >= 4.5


@BOTH
@pytest.mark.parametrize("ground", ["sheet", "ground", "select"])
def test_the_border_of_a_control_can_be_seen(theme: Theme, ground: str) -> None:
    assert contrast(theme.edge, theme.colour(ground)) >= 3.0


@BOTH
@pytest.mark.parametrize("token", ["ink", "ink2", "drink", "target", "parent", "preview"])
def test_marks_can_be_seen_on_the_band_ring(theme: Theme, token: str) -> None:
    assert contrast(theme.colour(token), theme.band) >= 3.0


@pytest.mark.parametrize(
    ("token", "on_sheet", "on_ground", "on_select"),
    [("ink", 15.3, 13.6, 12.6), ("ink3", 5.9, 5.2, 4.9), ("drink", 5.8, 5.2, 4.8), ("edge", 3.7, 3.3, 3.1)],
)
def test_the_measured_ratios_of_the_light_design_hold(
    token: str, on_sheet: float, on_ground: float, on_select: float
) -> None:
    theme = light_theme()
    found = [contrast(theme.colour(token), ground) for ground in (theme.sheet, theme.ground, theme.select)]
    assert found == pytest.approx([on_sheet, on_ground, on_select], abs=0.06)


def test_paper_is_white_and_keeps_the_light_inks() -> None:
    assert paper_theme().sheet == QColor("white")
    assert paper_theme().drink == light_theme().drink


@BOTH
@pytest.mark.parametrize("token", ["ink", "drink", "target"])
def test_the_lines_of_a_paper_are_readable_on_white(theme: Theme, token: str) -> None:
    assert contrast(paper_theme().colour(token), paper_theme().sheet) >= 4.5


def test_a_name_that_is_no_token_is_refused() -> None:
    with pytest.raises(KeyError):
        light_theme().colour("is_dark")


@pytest.mark.parametrize(
    ("choice", "system", "is_dark"),
    [
        (ThemeChoice.SYSTEM, Qt.ColorScheme.Dark, True),
        (ThemeChoice.SYSTEM, Qt.ColorScheme.Light, False),
        (ThemeChoice.SYSTEM, Qt.ColorScheme.Unknown, False),
        (ThemeChoice.DARK, Qt.ColorScheme.Light, True),
        (ThemeChoice.LIGHT, Qt.ColorScheme.Dark, False),
    ],
)
def test_the_system_is_followed_only_when_that_was_chosen(
    choice: ThemeChoice, system: Qt.ColorScheme, is_dark: bool
) -> None:
    assert choose_theme(choice, system).is_dark is is_dark


@BOTH
def test_the_palette_draws_text_on_its_own_grounds(theme: Theme) -> None:
    palette = theme.palette()
    role = QPalette.ColorRole
    for text, ground in (
        (role.WindowText, role.Window),
        (role.Text, role.Base),
        (role.ButtonText, role.Button),
        (role.ToolTipText, role.ToolTipBase),
        (role.HighlightedText, role.Highlight),
        (role.PlaceholderText, role.Base),
        (role.Link, role.Base),
    ):
        assert contrast(palette.color(text), palette.color(ground)) >= 4.5


@BOTH
def test_what_is_off_is_greyed_and_can_still_be_read(theme: Theme) -> None:
    palette = theme.palette()
    off = palette.color(QPalette.ColorGroup.Disabled, QPalette.ColorRole.Text)
    assert off != palette.color(QPalette.ColorGroup.Active, QPalette.ColorRole.Text)
    assert contrast(off, theme.sheet) >= 3.0


def system_palette(base: str, text: str) -> QPalette:
    palette = QPalette()
    for role in (QPalette.ColorRole.Base, QPalette.ColorRole.Window):
        palette.setColor(role, QColor(base))
    palette.setColor(QPalette.ColorRole.Text, QColor(text))
    palette.setColor(QPalette.ColorRole.Link, QColor("#FFFF00"))
    palette.setColor(QPalette.ColorRole.LinkVisited, QColor("#202020"))
    palette.setColor(QPalette.ColorRole.Highlight, QColor("#00FFFF"))
    return palette


def test_high_contrast_drops_the_tints_and_keeps_the_systems_colours() -> None:
    theme = high_contrast_theme(system_palette("#000000", "#FFFFFF"))
    assert theme.is_dark
    assert theme.faded("band", 0.8).alpha() == 0
    assert theme.drink == QColor("#FFFF00")
    assert theme.ink == QColor("#FFFFFF")


def test_high_contrast_replaces_a_system_colour_that_cannot_be_read() -> None:
    theme = high_contrast_theme(system_palette("#000000", "#FFFFFF"))
    assert theme.preview == QColor("#FFFFFF")


def test_choosing_a_theme_repaints_at_once(qapp: QApplication, qtbot: QtBot) -> None:
    before = QPalette(qapp.palette())
    switch = ThemeSwitch(qapp, ThemeChoice.LIGHT)
    with qtbot.waitSignal(switch.changed, timeout=1000):
        switch.choose(ThemeChoice.DARK)
    assert switch.theme.is_dark
    assert qapp.palette().color(QPalette.ColorRole.Base) == dark_theme().sheet
    switch.choose(ThemeChoice.SYSTEM)
    switch.deleteLater()
    qapp.setPalette(before)


def test_choosing_the_same_theme_again_says_nothing(qapp: QApplication, qtbot: QtBot) -> None:
    before = QPalette(qapp.palette())
    switch = ThemeSwitch(qapp, ThemeChoice.LIGHT)
    with qtbot.assertNotEmitted(switch.changed):
        switch.choose(ThemeChoice.LIGHT)
    switch.choose(ThemeChoice.SYSTEM)
    switch.deleteLater()
    qapp.setPalette(before)
