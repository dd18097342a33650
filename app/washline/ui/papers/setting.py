"""Sets text for paper: styled pieces are broken into lines by their measured width, and every line gets its place."""

import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFont, QFontMetricsF

from washline.quantity.formatting import UNIT_SPACE
from washline.ui.fonts import Fonts

_LIGATURES = QFont.Tag("liga")

WIDER_SPACE = "\u00a0"
"""The no-break blank of paper: the thin one of the window closes up at arm's length."""


@dataclass(frozen=True, slots=True)
class Style:
    """How a text is set: size in pixels of the design, weight, token of its ink; ``is_serif`` for what heads a paper."""

    size_px: float
    weight: QFont.Weight = QFont.Weight.Normal
    token: str = "ink"
    is_serif: bool = False


@dataclass(frozen=True, slots=True)
class Piece:
    """A text in one style."""

    text: str
    style: Style


@dataclass(frozen=True, slots=True)
class TextMark:
    """A text in its place: ``rect`` holds its full height and width, ``baseline`` is where it stands."""

    rect: QRectF
    text: str
    style: Style
    baseline: float

    def moved(self, x: float, y: float) -> "TextMark":
        """The same further right and down."""
        return TextMark(self.rect.translated(x, y), self.text, self.style, self.baseline + y)


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Lines of text one below the other."""

    marks: tuple[TextMark, ...]
    height: float
    width: float

    def above(self, other: "Paragraph") -> "Paragraph":
        """This with another one right below it."""
        below = tuple(mark.moved(0.0, self.height) for mark in other.marks)
        return Paragraph(self.marks + below, self.height + other.height, max(self.width, other.width))


class Setter:
    """Measures and breaks text for one device."""

    def __init__(self, fonts: Fonts) -> None:
        self._fonts = fonts
        self._measured: dict[Style, tuple[QFont, QFontMetricsF]] = {}
        self._widths: dict[tuple[str, Style], float] = {}
        self._lines: dict[tuple[tuple[Piece, ...], float], list[list[Piece]]] = {}

    def font(self, style: Style) -> QFont:
        """The font of a style on this device."""
        return self._known(style)[0]

    def width(self, text: str, style: Style) -> float:
        """The advance of a text, remembered: the same words are set again and again until a card fits."""
        key = (text, style)
        if key not in self._widths:
            self._widths[key] = self._known(style)[1].horizontalAdvance(text)
        return self._widths[key]

    def paragraph(
        self, pieces: Iterable[Piece], width: float, pitch: float, *, is_right: bool = False
    ) -> Paragraph:
        """Sets pieces in lines of ``width``, ``pitch`` from line to line (never closer than the letters are high).

        Lines break at blanks; a word that is wider than a line breaks where it must. ``is_right`` sets flush right.
        """
        known = [piece for piece in pieces if piece.text]
        if not known:
            return Paragraph((), 0.0, 0.0)
        lines = self._broken(tuple(known), width)
        height = max(pitch, *(self._height(piece.style) for piece in known))
        marks: list[TextMark] = []
        widest = 0.0
        for index, line in enumerate(lines):
            length = sum(self.width(piece.text, piece.style) for piece in line)
            widest = max(widest, length)
            marks += self._placed(line, width - length if is_right else 0.0, index * height, height)
        return Paragraph(tuple(marks), height * len(lines), widest)

    def _broken(self, pieces: tuple[Piece, ...], width: float) -> list[list[Piece]]:
        """Where lines break does not hang on their pitch, so it is found once for all spacings that are tried."""
        key = (pieces, width)
        if key not in self._lines:
            self._lines[key] = _Breaker(self, width).lines(pieces)
        return self._lines[key]

    def line(self, text: str, style: Style, pitch: float = 0.0) -> Paragraph:
        """Sets a text in one line however long it is."""
        return self.paragraph([Piece(text, style)], float("inf"), pitch)

    def _placed(self, line: Sequence[Piece], x: float, top: float, height: float) -> Iterable[TextMark]:
        tallest = max((piece.style for piece in line), key=self._height)
        metrics = self._known(tallest)[1]
        baseline = top + (height - self._height(tallest)) / 2 + metrics.ascent()
        for piece in line:
            own = self._known(piece.style)[1]
            advance = own.horizontalAdvance(piece.text)
            rect = QRectF(x, baseline - own.ascent(), advance, own.ascent() + own.descent())
            yield TextMark(rect, piece.text, piece.style, baseline)
            x += advance

    def _height(self, style: Style) -> float:
        metrics = self._known(style)[1]
        return metrics.ascent() + metrics.descent()

    def _known(self, style: Style) -> tuple[QFont, QFontMetricsF]:
        found = self._measured.get(style)
        if found is None:
            sans = self._fonts.sans(style.size_px, style.weight)
            font = self._fonts.serif(style.size_px) if style.is_serif else sans
            # A ligature is one sign in a PDF: whoever looks for “caffeine” there would not find it.
            font.setFeature(_LIGATURES, 0)
            found = self._measured[style] = (font, self._fonts.metrics(font))
        return found


class _Breaker:
    """Breaks styled pieces into lines."""

    def __init__(self, setter: Setter, width: float) -> None:
        self._setter = setter
        self._width = width
        self._done: list[list[Piece]] = []
        self._line: list[Piece] = []

    def lines(self, pieces: Iterable[Piece]) -> list[list[Piece]]:
        """The pieces line by line, without blanks at the ends of lines."""
        for piece in pieces:
            for word in _words(piece.text):
                self._take(Piece(word, piece.style))
        self._end_line()
        return self._done

    def _take(self, word: Piece) -> None:
        longer = _joined(self._line, word)
        if self._fits(longer):
            self._line = longer
            return
        if self._line:
            self._end_line()
            self._take(Piece(word.text.lstrip(" "), word.style))
            return
        head, rest = self._cut(word)
        self._line = [head]
        self._end_line()
        if rest.text:
            self._take(rest)

    def _fits(self, line: Sequence[Piece]) -> bool:
        last = Piece(line[-1].text.rstrip(" "), line[-1].style)
        length = sum(self._setter.width(piece.text, piece.style) for piece in (*line[:-1], last))
        return length <= self._width

    def _cut(self, word: Piece) -> tuple[Piece, Piece]:
        """The longest beginning of a word that fits a line, one letter at least, and what is left of it."""
        text = word.text
        end = 1
        while end < len(text) and self._fits([Piece(text[: end + 1], word.style)]):
            end += 1
        while end < len(text) and end > 1 and unicodedata.combining(text[end]):
            end -= 1
        return Piece(text[:end], word.style), Piece(text[end:], word.style)

    def _end_line(self) -> None:
        if self._line:
            last = self._line[-1]
            self._line[-1] = Piece(last.text.rstrip(" "), last.style)
            kept = [piece for piece in self._line if piece.text]
            if kept:
                self._done.append(kept)
        self._line = []


def _words(text: str) -> list[str]:
    """The words of a text, each with the blank before it; line breaks and tabs count as blanks."""
    clean = text.replace("\n", " ").replace("\t", " ").replace("\r", " ").replace(UNIT_SPACE, WIDER_SPACE)
    words: list[str] = []
    for index, word in enumerate(clean.split(" ")):
        words.append(f" {word}" if index else word)
    return [word for word in words if word]


def _joined(line: Sequence[Piece], word: Piece) -> list[Piece]:
    if line and line[-1].style == word.style:
        return [*line[:-1], Piece(line[-1].text + word.text, word.style)]
    return [*line, word] if line else [Piece(word.text.lstrip(" "), word.style)]
