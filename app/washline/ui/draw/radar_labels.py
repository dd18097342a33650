"""The labels round the radar: measured for the layout, then written where the layout put them."""

from typing import NamedTuple

from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QFont, QPainter

from washline.presentation.radar import RadarAxis, RadarShape
from washline.presentation.radar_layout import STATE_GAP, LabelPlace, LabelWidths, RadarLayout
from washline.ui.fonts import Fonts
from washline.ui.theme import Theme

ARROW = "→ "
_BASELINE = 0.78
_LINE_SHARE = 0.87


def first_word(name: str) -> str:
    """The first word of an axis' name, with an ellipsis when it had more."""
    word, _, rest = name.partition(" ")
    return f"{word}…" if rest else name


def measure_labels(shape: RadarShape, fonts: Fonts) -> tuple[LabelWidths, ...]:
    """The widths of every label in the current language, with room kept for the words of its state."""
    return tuple(_measure(shape, axis, fonts) for axis in shape.axes)


def _measure(shape: RadarShape, axis: RadarAxis, fonts: Fonts) -> LabelWidths:
    font = fonts.label if shape.words_only else fonts.label_strong
    names = (fonts.width(font, axis.name), fonts.width(font, first_word(axis.name)))
    if shape.words_only:
        return LabelWidths(*names, value=0.0, state=0.0)
    value = fonts.width(_value_font(axis, fonts), _value_text(axis))
    parent = fonts.width(fonts.label, axis.parent_text + " ") if axis.parent_text else 0.0
    state = fonts.width(fonts.header_strong, axis.state_words(is_dense=shape.is_dense))
    kept = fonts.width(fonts.header_strong, axis.kept_words(is_dense=shape.is_dense))
    return LabelWidths(*names, value=value, state=state, kept_state=kept, parent=parent)


def label_line_height(fonts: Fonts) -> float:
    """The height of one line of a label, set closer than running text."""
    return fonts.metrics(fonts.label).height() * _LINE_SHARE


def _value_text(axis: RadarAxis) -> str:
    return ARROW + axis.shown_value if axis.parent_text else axis.shown_value


def _value_font(axis: RadarAxis, fonts: Fonts) -> QFont:
    return fonts.label_strong if axis.parent_text else fonts.label


def draw_labels(
    painter: QPainter, layout: RadarLayout, shape: RadarShape, theme: Theme, fonts: Fonts
) -> None:
    """Write every label at its place."""
    for place, axis in zip(layout.labels, shape.axes, strict=True):
        writer = _Writer(painter, place, fonts)
        name = first_word(axis.name) if layout.is_elided else axis.name
        if shape.words_only:
            writer.line(0, [_Piece(name, fonts.label, theme.ink2)])
            continue
        writer.line(0, [_Piece(name, fonts.label_strong, theme.ink)])
        if shape.is_empty:
            continue
        words = axis.state_words(is_dense=shape.is_dense)
        state = [_Piece(words, fonts.header_strong, theme.drink)] if words else []
        writer.figures(_figure_rows(axis, place, theme, fonts), state)


class _Piece(NamedTuple):
    """A text in one font and colour."""

    text: str
    font: QFont
    colour: QColor


def _figure_rows(axis: RadarAxis, place: LabelPlace, theme: Theme, fonts: Fonts) -> list[list[_Piece]]:
    """The figure; where two drinks are compared the parent's first, beside it or above it."""
    if not axis.parent_text:
        is_known = axis.value is not None
        colour = theme.ink2 if is_known else theme.ink
        return [[_Piece(axis.shown_value, fonts.label if is_known else fonts.label_strong, colour)]]
    own = [
        _Piece(ARROW, fonts.label, theme.ink2),
        _Piece(axis.shown_value, fonts.label_strong, theme.drink),
    ]
    if place.value_rows == 2:
        return [[_Piece(axis.parent_text, fonts.label, theme.parent)], own]
    return [[_Piece(axis.parent_text + " ", fonts.label, theme.parent), *own]]


class _Writer:
    """Writes the lines of one label, aligned on its anchor."""

    def __init__(self, painter: QPainter, place: LabelPlace, fonts: Fonts) -> None:
        self._painter = painter
        self._place = place
        self._fonts = fonts
        self._row_height = label_line_height(fonts)

    def figures(self, rows: list[list[_Piece]], state: list[_Piece]) -> None:
        """The figures, and the words of the state below the last of them or outward beside it."""
        for index, row in enumerate(rows[:-1]):
            self.line(index + 1, row)
        last, row = len(rows), rows[-1]
        if state and self._place.figure_gives_way:
            self.line(last, [*row, _Piece("  ", row[-1].font, row[-1].colour), *state])
            return
        self.line(last, row)
        if not state:
            return
        if not self._place.state_is_inline:
            self.line(last + 1, state)
            return
        outward = self._width(row) / (1 if self._place.side else 2) + STATE_GAP * self._fonts.unit
        if self._place.side < 0:
            self._write(self._place.x - outward - self._width(state), last, state)
        else:
            self._write(self._place.x + outward, last, state)

    def line(self, row: int, pieces: list[_Piece]) -> None:
        """One line, from the anchor rightward, leftward, or centred on it."""
        share = {1: 0.0, 0: 0.5, -1: 1.0}[self._place.side]
        self._write(self._place.x - share * self._width(pieces), row, pieces)

    def _width(self, pieces: list[_Piece]) -> float:
        return sum(self._fonts.width(piece.font, piece.text) for piece in pieces)

    def _write(self, x: float, row: int, pieces: list[_Piece]) -> None:
        baseline = self._place.top + (row + _BASELINE) * self._row_height
        for piece in pieces:
            self._painter.setFont(piece.font)
            self._painter.setPen(piece.colour)
            self._painter.drawText(QPointF(x, baseline), piece.text)
            x += self._fonts.width(piece.font, piece.text)
