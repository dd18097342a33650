"""Texts that are laid out once: they stand and measure as a text that is drawn each time."""

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter

from tests.ui.draw.canvas import Canvas
from washline.ui.draw.texts import Texts
from washline.ui.fonts import Fonts
from washline.ui.theme import Theme


@pytest.mark.parametrize("words", ["22.5", "Pear Signal", "± 0.05 g", ""])
def test_a_text_is_as_wide_as_its_font_says(fonts: Fonts, words: str) -> None:
    assert Texts(fonts).laid_out(words, fonts.row).width == fonts.metrics(fonts.row).horizontalAdvance(words)


def test_a_text_stands_where_a_text_drawn_plainly_stands(fonts: Fonts, theme: Theme) -> None:
    def plainly(painter: QPainter) -> None:
        painter.setFont(fonts.reading)
        painter.setPen(theme.ink)
        painter.drawText(QPointF(5.0, 20.0), "18.25")

    kept = Canvas(80, 30, theme.sheet).paint(
        lambda painter: Texts(fonts).draw(painter, 5.0, 20.0, "18.25", fonts.reading, theme.ink)
    )
    assert kept.ink() == Canvas(80, 30, theme.sheet).paint(plainly).ink()


def test_what_looks_like_markup_is_drawn_as_it_is_written(fonts: Fonts, theme: Theme) -> None:
    texts = Texts(fonts)
    canvas = Canvas(120, 30, theme.sheet).paint(
        lambda painter: texts.draw(painter, 5.0, 20.0, "<b>x</b>", fonts.row, theme.ink)
    )
    assert canvas.ink().width() > texts.laid_out("<b>", fonts.row).width


def test_a_text_is_laid_out_once_for_each_font(fonts: Fonts) -> None:
    texts = Texts(fonts)
    first = texts.laid_out("22.5", fonts.row)
    assert texts.laid_out("22.5", fonts.row) is first
    assert texts.laid_out("22.5", fonts.row_strong) is not first


def test_a_text_that_is_too_wide_is_cut_and_one_that_fits_is_not(fonts: Fonts) -> None:
    texts = Texts(fonts)
    assert texts.elided("Dry white vermouth", fonts.row, 500.0) == "Dry white vermouth"
    cut = texts.elided("Dry white vermouth", fonts.row, 60.0)
    assert cut.endswith("…")
    assert texts.laid_out(cut, fonts.row).width <= 60.0
