"""The glass as drawn: one tint, one level, the wash line outside the walls and always labelled, ice where it floats."""

import pytest
from PySide6.QtCore import QRectF

from tests.ui.draw.canvas import Canvas
from washline.presentation.glass import Glass, Ice, glass_form, known_glasses
from washline.ui.draw.glass import GlassTexts, draw_glass, draw_level, draw_wash_line
from washline.ui.fonts import Fonts
from washline.ui.theme import Theme, light_theme

PANE = QRectF(4, 4, 292, 212)
ROCKS = glass_form("rocks-double")


def drawn(
    glass: Glass, theme: Theme, fonts: Fonts, texts: GlassTexts | None = None, *, has_leaf: bool = False
) -> tuple[Canvas, QRectF]:
    canvas = Canvas(300, 220, theme.sheet)
    bounds: list[QRectF] = []
    canvas.paint(lambda p: bounds.append(draw_glass(p, PANE, glass, theme, fonts, texts, has_leaf=has_leaf)))
    return canvas, bounds[0]


def level_row(canvas: Canvas, theme: Theme, bounds: QRectF) -> float:
    x = round(bounds.center().x())
    rows = [y for px, y in canvas.places(theme.drink, 30) if px == x]
    return sum(rows) / len(rows)


def test_half_a_straight_glass_is_drawn_half_full(theme: Theme, fonts: Fonts) -> None:
    glass = Glass(ROCKS, 350.0, 170.0)
    canvas, bounds = drawn(glass, theme, fonts)
    inner = bounds.height() / (1 + ROCKS.base)
    expected = bounds.top() + inner * (1 - glass.surface_mm / glass.height_mm)
    assert level_row(canvas, theme, bounds) == pytest.approx(expected, abs=1.5)


def test_more_in_the_glass_stands_higher(theme: Theme, fonts: Fonts) -> None:
    less, bounds = drawn(Glass(ROCKS, 350.0, 100.0), theme, fonts)
    more, _ = drawn(Glass(ROCKS, 350.0, 200.0), theme, fonts)
    assert level_row(more, theme, bounds) < level_row(less, theme, bounds)


def test_an_empty_glass_has_no_tint_and_no_level(theme: Theme, fonts: Fonts) -> None:
    canvas, bounds = drawn(Glass(ROCKS, 350.0, 0.0), theme, fonts)
    assert canvas.places(theme.drink, 30) == []
    assert canvas.colour(bounds.center().x(), bounds.center().y()) == theme.sheet


def test_the_wash_line_lies_outside_the_walls_and_is_labelled(fonts: Fonts) -> None:
    theme = light_theme()
    canvas, bounds = drawn(Glass(ROCKS, 350.0, 100.0, wash_line_ml=175.0), theme, fonts)
    greens = canvas.places(theme.target, 14)
    assert any(x < bounds.left() for x, _ in greens)
    assert any(x > bounds.right() for x, _ in greens)
    assert not [x for x, _ in greens if bounds.left() + 6 < x < bounds.right() - 6]
    assert len([x for x, _ in greens if x > bounds.right() + 24]) > 40


def test_without_a_wash_line_there_is_neither_line_nor_label(fonts: Fonts) -> None:
    theme = light_theme()
    canvas, _ = drawn(Glass(ROCKS, 350.0, 100.0), theme, fonts)
    assert canvas.places(theme.target, 14) == []


@pytest.mark.parametrize("slug", known_glasses())
def test_no_glass_is_cut_with_ice_labels_and_leaf(slug: str, fonts: Fonts) -> None:
    theme = light_theme()
    glass = Glass(glass_form(slug), 350.0, 170.0, wash_line_ml=180.0, ice=Ice(100.0, "cubes", 30.0))
    canvas, _ = drawn(glass, theme, fonts, GlassTexts(volume="170 ml", second="5⅔ oz"), has_leaf=True)
    ink = canvas.ink()
    assert ink.left() >= 2
    assert ink.top() >= 1
    assert ink.right() <= 298
    assert ink.bottom() <= 218


def test_ice_stands_out_of_the_liquid(fonts: Fonts) -> None:
    theme = light_theme()
    glass = Glass(ROCKS, 350.0, 168.0, ice=Ice(105.0, "cube", 50.0))
    iced, bounds = drawn(glass, theme, fonts)
    bare, _ = drawn(Glass(ROCKS, 350.0, 168.0), theme, fonts)
    above = level_row(iced, theme, bounds) - 3
    column = round(bounds.center().x())
    changed = [
        y
        for y in range(round(bounds.top()), round(above))
        if iced.image.pixel(column, y) != bare.image.pixel(column, y)
    ]
    assert changed


@pytest.mark.parametrize("kind", ["cube", "cubes", "spear", "crushed"])
def test_every_kind_of_ice_has_a_drawing_of_its_own(kind: str, fonts: Fonts) -> None:
    theme = light_theme()
    glass = Glass(glass_form("highball"), 350.0, 170.0, ice=Ice(100.0, kind, 30.0))
    iced, _ = drawn(glass, theme, fonts)
    bare, _ = drawn(Glass(glass_form("highball"), 350.0, 170.0), theme, fonts)
    assert iced.image != bare.image


def test_a_level_in_the_lane_is_true_to_its_share(theme: Theme) -> None:
    canvas = Canvas(50, 50, theme.sheet)
    canvas.paint(lambda p: draw_level(p, QRectF(5, 5, 40, 40), 0.5, theme))
    rows = {y for x, y in canvas.places(theme.drink, 30) if x == 25}
    assert rows
    assert all(24 <= y <= 26 for y in rows)


@pytest.mark.parametrize(("share", "top"), [(0.0, None), (5.0, 5)])
def test_a_level_below_zero_or_over_the_brim_stays_in_the_glass(
    share: float, top: int | None, theme: Theme
) -> None:
    canvas = Canvas(50, 50, theme.sheet)
    canvas.paint(lambda p: draw_level(p, QRectF(5, 5, 40, 40), share, theme))
    rows = [y for x, y in canvas.places(theme.drink, 30) if x == 25]
    assert (min(rows, default=None) in (top, 4)) if top else rows == []


def test_the_wash_line_of_the_lane_is_dashed(theme: Theme) -> None:
    canvas = Canvas(84, 6, theme.sheet)
    canvas.paint(lambda p: draw_wash_line(p, 2, 82, 3, theme))
    columns = {x for x, _ in canvas.places(theme.target, 60)}
    assert 40 <= len(columns) <= 60
