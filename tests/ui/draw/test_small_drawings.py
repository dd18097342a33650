"""Strips, small shapes, bars, the weighed scale, the legend and the marks of the tree."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from tests.ui.draw.canvas import Canvas
from washline.presentation.radar import LegendEntry
from washline.presentation.shape import Band, SmallShape, small_shape
from washline.presentation.strip import BandStrip, WeightScale
from washline.ui.draw.legend import draw_legend, legend_height
from washline.ui.draw.marks import (
    draw_current_bar,
    draw_error_ring,
    draw_focus_ring,
    draw_line_dot,
    draw_moved_line,
    draw_part_square,
    draw_row_spine,
    draw_served_foot,
    draw_step_mark,
    draw_tag,
    draw_weighed_line,
)
from washline.ui.draw.share_bar import draw_composition, draw_share_bar, draw_weight_scale
from washline.ui.draw.small_shape import draw_small_shape
from washline.ui.draw.strip import draw_strip, draw_upright_strip
from washline.ui.fonts import Fonts
from washline.ui.theme import Theme, light_theme

STRENGTH = Band(5.0, 8.0, 11.0, 1.0)
ROW = QRectF(3, 0, 94, 24)


def columns(canvas: Canvas, theme: Theme, token: str = "drink", tolerance: int = 4) -> list[int]:
    """The columns that hold a colour in the row of the brackets' upper end, above the bar of the spread."""
    return sorted({x for x, y in canvas.places(theme.colour(token), tolerance) if y == 5})


def strip(theme: Theme, what: BandStrip, width: int = 100, scale: float = 1.0) -> Canvas:
    rect = QRectF(3, 0, width - 6, 24)
    return Canvas(width, 24, theme.sheet, scale).paint(lambda p: draw_strip(p, rect, what, theme))


def test_the_tick_on_the_ideal_stands_in_the_middle(theme: Theme) -> None:
    found = columns(strip(theme, BandStrip(STRENGTH, 8.0)), theme)
    assert found
    assert all(48 <= x <= 51 for x in found)


def test_the_tick_moves_with_the_value(theme: Theme) -> None:
    low, high = (columns(strip(theme, BandStrip(STRENGTH, value)), theme) for value in (6.0, 10.0))
    assert max(low) < 50 < min(high)


@pytest.mark.parametrize("value", [7.0, 7.3, 7.61, 8.4])
def test_the_tick_has_one_width_wherever_it_stands(value: float) -> None:
    theme = light_theme()
    assert len(columns(strip(theme, BandStrip(STRENGTH, value)), theme)) == 2


@pytest.mark.parametrize("value", [-1e6, 1e6])
def test_the_tick_of_a_value_far_out_stays_on_the_strip(value: float, theme: Theme) -> None:
    found = columns(strip(theme, BandStrip(STRENGTH, value)), theme)
    assert found
    assert min(found) >= 3
    assert max(found) <= 97


def test_a_value_that_is_not_known_has_no_tick(theme: Theme) -> None:
    canvas = strip(theme, BandStrip(STRENGTH, None))
    assert columns(canvas, theme) == []
    assert canvas.places(theme.target, 60)


def test_brackets_stand_at_the_same_places_for_every_band(theme: Theme) -> None:
    one = strip(theme, BandStrip(STRENGTH, None))
    other = strip(theme, BandStrip(Band(130.0, 165.0, 200.0, 10.0), None))
    assert one.places(theme.target, 60) == other.places(theme.target, 60)


def test_a_narrow_strip_leaves_out_its_ticks() -> None:
    theme = light_theme()
    wide = len(strip(theme, BandStrip(STRENGTH, None), width=110).places(theme.rule2, 2)) - 104
    narrow = len(strip(theme, BandStrip(STRENGTH, None), width=80).places(theme.rule2, 2)) - 74
    assert wide > narrow


def test_parent_before_and_proposal_have_shapes_of_their_own(theme: Theme) -> None:
    bare = strip(theme, BandStrip(STRENGTH, 8.0)).image
    for other in (
        BandStrip(STRENGTH, 8.0, parent=6.5),
        BandStrip(STRENGTH, 8.0, before=6.5),
        BandStrip(STRENGTH, 8.0, proposal=6.5),
        BandStrip(STRENGTH, 8.0, sigma=(0.8, 0.8)),
    ):
        assert strip(theme, other).image != bare


def test_an_upright_strip_stands_at_the_heights_of_its_lane(theme: Theme) -> None:
    canvas = Canvas(40, 60, theme.sheet)
    canvas.paint(lambda p: draw_upright_strip(p, 20, 45, 30, 15, 38, theme))
    rows = {y for _, y in canvas.places(theme.drink, 4)}
    assert rows <= {36, 37, 38, 39}
    edges = {y for x, y in canvas.places(theme.target, 60) if x == 20}
    assert min(edges) in (14, 15)
    assert max(edges) in (44, 45)


def test_a_band_too_narrow_for_its_lane_still_has_two_brackets(theme: Theme) -> None:
    canvas = Canvas(40, 60, theme.sheet)
    canvas.paint(lambda p: draw_upright_strip(p, 20, 30, 30, 30, None, theme))
    assert len({y for _, y in canvas.places(theme.target, 60)}) >= 2


def test_a_small_shape_is_21_pixels_across_its_circle() -> None:
    theme = light_theme()
    canvas = Canvas(40, 40, theme.sheet)
    canvas.paint(lambda p: draw_small_shape(p, QRectF(0, 0, 40, 40), SmallShape(()), theme))
    across = [x for x, y in canvas.places(theme.target, 70) if y == 20]
    assert 19 <= max(across) - min(across) <= 22


def test_a_small_shape_draws_its_drink(theme: Theme) -> None:
    canvas = Canvas(40, 40, theme.sheet)
    shape = small_shape([STRENGTH] * 6, [8.0] * 6)
    canvas.paint(lambda p: draw_small_shape(p, QRectF(0, 0, 40, 40), shape, theme))
    assert canvas.places(theme.drink, 40)


@pytest.mark.parametrize(("share", "width"), [(0.5, 25), (1.0, 50), (3.0, 50), (0.001, 1)])
def test_a_share_bar_ends_at_its_figure_and_is_true_to_its_share(
    share: float, width: int, theme: Theme
) -> None:
    canvas = Canvas(70, 10, theme.sheet)
    canvas.paint(lambda p: draw_share_bar(p, 60, 8, share, theme.sugar))
    ink = canvas.ink()
    assert (ink.right() + 1, ink.width(), ink.height()) == (60, width, 2)


@pytest.mark.parametrize("share", [0.0, -0.2])
def test_nothing_contributed_has_no_bar(share: float, theme: Theme) -> None:
    canvas = Canvas(70, 10, theme.sheet)
    assert canvas.paint(lambda p: draw_share_bar(p, 60, 8, share, theme.sugar)).ink().isEmpty()


def test_a_composition_leaves_the_water_open(theme: Theme) -> None:
    canvas = Canvas(30, 12, theme.sheet)
    canvas.paint(lambda p: draw_composition(p, QRectF(3, 2, 22, 7), [(0.5, theme.sugar)], theme))
    assert canvas.colour(8, 5) == theme.sheet
    assert canvas.colour(20, 5) == theme.sugar


def test_the_weight_stands_against_its_estimate(theme: Theme) -> None:
    def weighed(grams: float) -> Canvas:
        scale = WeightScale(821.0, 927.0, 1007.0, grams)
        canvas = Canvas(140, 25, theme.sheet)
        return canvas.paint(lambda p: draw_weight_scale(p, QRectF(5, 0, 130, 25), scale, theme))

    def weight_at(canvas: Canvas) -> int:
        return min(x for x, y in canvas.places(theme.ink, 4) if y == 7)

    assert weight_at(weighed(840.0)) < weight_at(weighed(1000.0))


def test_an_estimate_alone_has_no_weight(theme: Theme) -> None:
    canvas = Canvas(140, 25, theme.sheet)
    canvas.paint(lambda p: draw_weight_scale(p, QRectF(5, 0, 130, 25), WeightScale(1, 2, 3, None), theme))
    assert canvas.places(theme.ink, 4) == []


ENTRIES = tuple(
    LegendEntry(kind, text)
    for kind, text in (
        ("drink", "this drink, ±"),
        ("target", "target, band"),
        ("parent", "the one that was liked"),
        ("before", "before typing"),
        ("proposal", "proposal"),
    )
)


def test_a_legend_that_is_too_long_for_one_row_breaks(fonts: Fonts) -> None:
    assert legend_height(2000, ENTRIES, fonts) == 22
    assert legend_height(460, ENTRIES, fonts) == 44


def test_a_legend_stays_in_its_width(theme: Theme, fonts: Fonts) -> None:
    height = round(legend_height(300, ENTRIES, fonts))
    canvas = Canvas(320, height, theme.sheet)
    canvas.paint(lambda p: draw_legend(p, QRectF(0, 0, 300, height), ENTRIES, theme, fonts))
    assert canvas.ink().right() <= 300


def test_a_name_longer_than_the_legend_is_cut(theme: Theme, fonts: Fonts) -> None:
    endless = (replace(ENTRIES[0], text="a name of a drink " * 10),)
    canvas = Canvas(220, 22, theme.sheet)
    canvas.paint(lambda p: draw_legend(p, QRectF(0, 0, 200, 22), endless, theme, fonts))
    assert canvas.ink().right() <= 200


def test_each_kind_of_line_has_a_key_of_its_own(fonts: Fonts) -> None:
    theme = light_theme()
    greys = []
    for entry in ENTRIES:
        canvas = Canvas(28, 22, theme.sheet)
        key = (replace(entry, text=""),)

        def paint(painter: QPainter, keys: tuple[LegendEntry, ...] = key) -> None:
            draw_legend(painter, QRectF(0, 0, 28, 22), keys, theme, fonts)

        greys.append(canvas.paint(paint).grey())
    assert all(one != other for index, one in enumerate(greys) for other in greys[index + 1 :])


def test_the_spine_runs_from_the_first_row_to_the_last(theme: Theme) -> None:
    canvas = Canvas(24, 75, theme.sheet)

    def paint(painter: QPainter) -> None:
        for index in range(3):
            row = QRectF(0, index * 25, 24, 25)
            draw_row_spine(painter, 12, row, theme, is_first=index == 0, is_last=index == 2, gap=0)

    rows = [y for _, y in canvas.paint(paint).places(theme.ink2, 4)]
    assert 12 <= min(rows) <= 13
    assert 61 <= max(rows) <= 62


def test_the_spine_leaves_room_for_a_steps_mark(theme: Theme) -> None:
    canvas = Canvas(24, 25, theme.sheet)
    row = QRectF(0, 0, 24, 25)
    canvas.paint(lambda p: draw_row_spine(p, 12, row, theme, is_first=False, is_last=False, gap=9))
    assert canvas.colour(12, 12) == theme.sheet
    assert canvas.colour(11.5, 1) == theme.ink2


def test_every_mark_of_the_tree_differs_in_grey(fonts: Fonts) -> None:
    theme = light_theme()
    row = QRectF(0, 0, 24, 25)
    marks = (
        lambda p: draw_line_dot(p, 12, 12, theme),
        lambda p: draw_part_square(p, 12, 12, theme),
        lambda p: draw_step_mark(p, 12, 12, "blend", theme),
        lambda p: draw_served_foot(p, 12, row, theme),
    )
    greys = [Canvas(24, 25, theme.sheet).paint(mark).grey() for mark in marks]
    assert all(one != other for index, one in enumerate(greys) for other in greys[index + 1 :])


def test_the_current_row_has_a_bar_of_ink_at_its_left(theme: Theme) -> None:
    canvas = Canvas(60, 25, theme.sheet)
    canvas.paint(lambda p: draw_current_bar(p, QRectF(0, 0, 60, 25), theme))
    assert canvas.colour(1, 12) == theme.ink
    assert canvas.colour(30, 12) == theme.select


def test_focus_and_error_have_rings_of_two_pixels(theme: Theme) -> None:
    cell = QRectF(2, 2, 90, 24)
    focus = Canvas(96, 28, theme.sheet).paint(lambda p: draw_focus_ring(p, cell, theme))
    error = Canvas(96, 28, theme.sheet).paint(lambda p: draw_error_ring(p, cell, theme))
    assert [focus.colour(45, y) == theme.focus for y in (2, 3)] == [True, True]
    assert [error.colour(45, y) == theme.alert for y in (2, 3)] == [True, True]
    assert len(error.places(theme.alert, 20)) > len(focus.places(theme.focus, 20))


def test_a_moved_figure_is_dotted_and_a_weighed_one_ruled(theme: Theme) -> None:
    moved = Canvas(60, 8, theme.sheet, 2).paint(lambda p: draw_moved_line(p, 5, 55, 4, theme))
    weighed = Canvas(60, 8, theme.sheet, 2).paint(lambda p: draw_weighed_line(p, 5, 55, 4, theme))
    assert len({x for x, _ in weighed.places(theme.ink, 4)}) == 100
    assert 10 < len({x for x, _ in moved.places(theme.preview, 40)}) < 90


def test_the_preview_tag_says_so_in_words(theme: Theme, fonts: Fonts) -> None:
    canvas = Canvas(70, 24, theme.sheet)
    canvas.paint(lambda p: draw_tag(p, QRectF(2, 1, 64, 21), "Preview", theme, fonts))
    inner = [place for place in canvas.places(theme.preview, 40) if 8 < place[0] < 60 and 5 < place[1] < 18]
    assert len(inner) > 40
