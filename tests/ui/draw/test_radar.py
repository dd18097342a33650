"""The radar as drawn: exact ring and circle, marks that need no colour, labels upright and inside, vector on paper."""

import math
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QMarginsF, QRectF
from PySide6.QtGui import QColor, QPageSize, QPainter, QPalette, QPdfWriter, QTransform

from tests.ui.draw.canvas import Canvas
from washline.presentation.radar import RadarAxis, RadarShape, for_paper
from washline.presentation.radar_layout import RadarLayout
from washline.ui.draw.radar import draw_radar, radar_layout
from washline.ui.draw.radar_plate import plate_picture
from washline.ui.fonts import Fonts
from washline.ui.theme import Theme, high_contrast_theme, light_theme, paper_theme

PANE = QRectF(0, 0, 398, 352)
NAMES = (
    "Strength",
    "Sweetness",
    "Acidity",
    "Bitterness",
    "Fizz",
    "Length",
    "Salt",
    "Chill",
    "Dilution",
    "pH",
)


def axis(name: str, value: float | None = 7.0) -> RadarAxis:
    words = "over by 1.0" if value is not None and value > 9.5 else ""
    return RadarAxis(
        name.lower(), name, value, "" if value is None else f"{value:.1f}", words, 4.5, 7, 9.5, 1, "g"
    )


def shape(*values: float | None) -> RadarShape:
    return RadarShape(tuple(axis(name, value) for name, value in zip(NAMES, values, strict=False)))


def drawn(what: RadarShape, theme: Theme, fonts: Fonts, scale: float = 1.0) -> tuple[Canvas, RadarLayout]:
    place = radar_layout(PANE, what, fonts)
    assert place is not None
    canvas = Canvas(398, 352, theme.sheet, scale)
    canvas.paint(lambda painter: draw_radar(painter, PANE, what, theme, fonts, layout=place))
    return canvas, place


def test_an_empty_radar_shows_ring_and_circle(theme: Theme, fonts: Fonts) -> None:
    canvas, place = drawn(replace(shape(*[None] * 6), is_empty=True), theme, fonts)
    at = math.cos(math.pi / 12), math.sin(math.pi / 12)

    def on(radius: float) -> QColor:
        return canvas.colour(place.x + at[0] * radius * place.radius, place.y + at[1] * radius * place.radius)

    assert on(0.25) == theme.sheet
    assert on(0.9) == theme.sheet
    assert on(0.7) != theme.sheet
    assert not canvas.places(theme.drink, tolerance=25)
    assert canvas.places(theme.target, tolerance=25)


def test_a_drink_on_target_covers_the_ideal_circle(theme: Theme, fonts: Fonts) -> None:
    canvas, place = drawn(shape(*[7.0] * 6), theme, fonts, scale=2.0)
    radii = [
        math.hypot((x + 0.5) / 2 - place.x, (y + 0.5) / 2 - place.y)
        for x, y in canvas.places(theme.drink, tolerance=10)
    ]
    assert min(radii) > 0.62 * place.radius - 6
    assert max(radii) < 0.62 * place.radius + 6


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_line_is_as_thick_at_200_percent(fonts: Fonts, scale: float) -> None:
    theme = light_theme()
    canvas, place = drawn(shape(*[7.0] * 6), theme, fonts, scale)
    # Right of the centre, between two spokes, the line runs straight up: count its pixels from left to right.
    y = round(place.y * scale)
    left = round((place.x + 0.5 * place.radius) * scale)
    right = round((place.x + 0.75 * place.radius) * scale)
    reds = sum(
        1
        for x in range(left, right)
        if canvas.image.pixelColor(x, y).red() - canvas.image.pixelColor(x, y).green() > 60
    )
    assert 2.0 * scale <= reds <= 4.0 * scale


@pytest.mark.parametrize("count", range(3, 11))
def test_nothing_is_cut_with_three_to_ten_axes(count: int, theme: Theme, fonts: Fonts) -> None:
    canvas, _ = drawn(shape(*[10.5] * count), theme, fonts)
    ink = canvas.ink()
    assert ink.left() >= 6
    assert ink.top() >= 6
    assert ink.right() <= 398 - 6
    assert ink.bottom() <= 352 - 6


def test_two_axes_draw_nothing(theme: Theme, fonts: Fonts) -> None:
    canvas = Canvas(398, 352, theme.sheet)
    canvas.paint(lambda painter: draw_radar(painter, PANE, shape(7.0, 7.0), theme, fonts))
    assert canvas.ink().isEmpty()


def test_a_pane_too_small_draws_nothing_and_says_so(fonts: Fonts) -> None:
    canvas = Canvas(100, 100, QColor("white"))
    told: list[bool] = []
    canvas.paint(
        lambda painter: told.append(
            draw_radar(painter, QRectF(0, 0, 100, 100), shape(*[7.0] * 6), light_theme(), fonts)
        )
    )
    assert told == [False]
    assert canvas.ink().isEmpty()


def test_a_missing_reading_leaves_its_span_open(fonts: Fonts) -> None:
    theme = light_theme()
    canvas, place = drawn(shape(7.0, None, 7.0, 7.0, 7.0, 7.0), theme, fonts)
    across, down = math.sin(math.pi / 3), -math.cos(math.pi / 3)
    x, y = place.x + across * 0.62 * place.radius, place.y + down * 0.62 * place.radius
    reds = [p for p in canvas.places(theme.drink, tolerance=40) if math.hypot(p[0] - x, p[1] - y) < 12]
    assert reds == []


def test_a_reading_out_of_band_has_a_ring_and_words(fonts: Fonts) -> None:
    theme = light_theme()
    inside, _ = drawn(shape(7.0, 9.4, 7.0, 7.0, 7.0, 7.0), theme, fonts)
    outside, place = drawn(shape(7.0, 10.5, 7.0, 7.0, 7.0, 7.0), theme, fonts)
    label = place.labels[1]

    def reds(canvas: Canvas) -> int:
        return sum(
            1 for x, y in canvas.places(theme.drink, tolerance=60) if x > label.x and y > label.top + 31
        )

    assert reds(inside) == 0
    assert reds(outside) > 30


def test_the_shape_before_typing_is_dotted_and_the_parent_dashed(fonts: Fonts) -> None:
    """Removed colour costs nothing: a line with gaps has fewer pixels than a solid one of the same radius."""
    theme = light_theme()
    on_edge = (9.0,) * 6
    parent, _ = drawn(replace(shape(*[7.0] * 6), parent=on_edge), theme, fonts, 2.0)
    before, _ = drawn(replace(shape(*[7.0] * 6), before=on_edge), theme, fonts, 2.0)
    plain, place = drawn(shape(*[7.0] * 6), theme, fonts, 2.0)
    radius = (0.62 + 0.17 * 0.8) * place.radius

    def share_drawn(canvas: Canvas) -> float:
        angles = [math.radians(8 + step * 0.25) for step in range(176)]
        places = [(place.x + radius * math.cos(a), place.y + radius * math.sin(a)) for a in angles]
        return sum(canvas.colour(*p) != plain.colour(*p) for p in places) / len(places)

    assert 0.5 < share_drawn(parent) < 0.85
    assert 0.2 < share_drawn(before) < 0.9


def test_the_soft_edge_is_a_tint_and_no_line(fonts: Fonts) -> None:
    theme = light_theme()
    sure = shape(*[7.0] * 6)
    unsure = replace(sure, sigma=((1.0, 1.0),) * 6)
    plain, place = drawn(sure, theme, fonts)
    soft, _ = drawn(unsure, theme, fonts)
    edge = 0.62 + 0.17 * 0.6
    # Between two spokes, within one and two sigma outside of the line.
    x, y = place.x + edge * place.radius, place.y
    assert soft.colour(x, y) != plain.colour(x, y)
    assert not soft.places(theme.drink, 5) or len(soft.places(theme.drink, 5)) < 1.2 * len(
        plain.places(theme.drink, 5)
    )


def test_high_contrast_has_no_tints_and_keeps_every_line(fonts: Fonts) -> None:
    palette = QPalette(QColor("black"))
    palette.setColor(QPalette.ColorRole.Base, QColor("black"))
    palette.setColor(QPalette.ColorRole.Text, QColor("white"))
    theme = high_contrast_theme(palette)
    canvas, place = drawn(shape(*[7.0] * 6), theme, fonts)
    assert canvas.colour(place.x + 0.70 * place.radius, place.y + 3) == theme.sheet
    assert canvas.places(theme.target, 10)


def test_a_kept_picture_of_the_plate_gives_the_same_drawing(theme: Theme, fonts: Fonts) -> None:
    what = shape(*[7.0] * 6)
    straight, place = drawn(what, theme, fonts)
    plate = plate_picture(PANE.size(), 1.0, place, what, theme)
    canvas = Canvas(398, 352, theme.sheet)
    canvas.paint(lambda p: draw_radar(p, PANE, what, theme, fonts, layout=place, plate=plate))
    assert canvas.image == straight.image


def test_the_painter_is_left_as_it_was(fonts: Fonts) -> None:
    seen: list[QTransform] = []

    def paint(painter: QPainter) -> None:
        painter.translate(3, 5)
        before = painter.worldTransform()
        draw_radar(painter, PANE, shape(*[7.0] * 6), light_theme(), fonts)
        seen.extend((before, painter.worldTransform()))

    Canvas(420, 380, QColor("white")).paint(paint)
    assert seen[0] == seen[1]


def test_the_paper_has_the_bars_words_and_no_ticks(fonts: Fonts) -> None:
    theme = paper_theme()
    printed = for_paper(shape(*[7.0] * 6))
    canvas = Canvas(300, 240, theme.sheet)
    canvas.paint(lambda painter: draw_radar(painter, QRectF(0, 0, 300, 240), printed, theme, fonts))
    assert not canvas.places(theme.rule2, tolerance=0)
    assert canvas.places(theme.ink2, tolerance=20)


def test_on_paper_the_radar_is_vector_with_embedded_fonts(tmp_path: Path, fonts: Fonts) -> None:
    path = tmp_path / "radar.pdf"
    writer = QPdfWriter(str(path))
    writer.setPageSize(QPageSize(QPageSize.PageSizeId.A5))
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))
    writer.setResolution(1200)
    painter = QPainter(writer)
    painter.scale(1200 / 72, 1200 / 72)
    what = replace(shape(*[7.0] * 6), sigma=((0.5, 0.5),) * 6, parent=(6.0,) * 6)
    assert draw_radar(painter, QRectF(20, 20, 380, 320), what, paper_theme(), Fonts.for_device(writer))
    painter.end()
    content = path.read_bytes()
    assert b"SourceSans3" in content
    assert b"/Subtype /Image" not in content


def test_the_same_labels_fit_on_paper_as_in_the_window(tmp_path: Path, fonts: Fonts) -> None:
    writer = QPdfWriter(str(tmp_path / "radar.pdf"))
    writer.setResolution(1200)
    on_paper = radar_layout(PANE, shape(*[7.0] * 6), Fonts.for_device(writer))
    in_window = radar_layout(PANE, shape(*[7.0] * 6), fonts)
    assert on_paper is not None
    assert in_window is not None
    assert on_paper.radius == pytest.approx(in_window.radius, rel=0.02)


def test_a_long_name_is_cut_to_its_first_word(fonts: Fonts) -> None:
    long = replace(axis("Sweetness of the whole glass as it is served"), value_text="7.0")
    what = RadarShape((axis("Strength"), long, axis("Acidity"), axis("Fizz")))
    place = radar_layout(PANE, what, fonts)
    assert place is not None
    assert place.is_elided
