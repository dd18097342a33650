"""Lays a spec card out on pages: one if it fits with less room between its rows, else as many as it needs."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from PySide6.QtCore import QRectF

from washline.presentation.card import Card
from washline.ui.fonts import Fonts
from washline.ui.papers.card_rows import SMALL, SMALL_INK, SMALL_STRONG, CardRows, Spacing
from washline.ui.papers.marks import FrameMark, Mark, PictureMark, Row, RuleMark, flat
from washline.ui.papers.page import Page
from washline.ui.papers.setting import Piece, Setter

MARGIN_PX = 52.0
TOP_PX = 40.0
BOTTOM_PX = 30.0
_FRAME_PAD = 12.0
_GLASS_HEIGHT = 176.0
_SHAPE_HEIGHT = 196.0
_BELOW_HEAD = 14.0
_FOOT_PITCH = 16.5
_BISECTIONS = 5


@dataclass(frozen=True, slots=True)
class LaidOut:
    """A card on its pages: per page the marks to paint, in pixels of the design from the top left of the page."""

    page: Page
    pages: tuple[tuple[Mark, ...], ...]


def lay_out(card: Card, page: Page, fonts: Fonts) -> LaidOut:
    """The pages of a card, set as wide as they can be with the fewest pages; cautions run on only where that saves one."""
    setter = Setter(fonts)

    def layout(width: float, runs_on: bool) -> _Layout:
        return _Layout(card, page, setter, Spacing(width, runs_on))

    tightest = layout(0.0, runs_on=True)
    fewest = len(tightest.filled)
    runs_on = len(layout(0.0, runs_on=False).filled) > fewest
    best = tightest if runs_on else layout(0.0, runs_on=False)
    low, high = 0.0, 1.0
    widest = layout(1.0, runs_on=runs_on)
    if len(widest.filled) <= fewest:
        low, best = 1.0, widest
    for _ in range(_BISECTIONS if low < high else 0):
        middle = (low + high) / 2
        tried = layout(middle, runs_on=runs_on)
        if len(tried.filled) <= fewest:
            low, best = middle, tried
        else:
            high = middle
    return LaidOut(page, tuple(tuple(marks) for marks in best.marks()))


class _Layout:
    """One card with one spacing."""

    def __init__(self, card: Card, page: Page, setter: Setter, spacing: Spacing) -> None:
        self._card = card
        self._page = page
        self._set = setter
        self._width = page.width_px - 2 * MARGIN_PX
        self._rows = CardRows(card, self._width, setter, spacing)
        self._head = self._rows.head()
        self._next_head = self._rows.head(is_continued=True)
        self._side = self._pictures()
        self._foot = self._foot_of(1, 1, 1)
        self.filled = self._fill(self._rows.rows())
        if len(self.filled) > 1:
            self._foot = self._foot_of(1, 2, 2)
            self.filled = self._fill(self._rows.rows())

    def marks(self) -> Iterator[list[Mark]]:
        """The marks of each page."""
        count = len(self.filled)
        box_page = next(
            (
                number
                for number, rows in enumerate(self.filled, start=1)
                if any(row.is_boxed for _, row in rows)
            ),
            count,
        )
        for number, rows in enumerate(self.filled, start=1):
            head = self._head if number == 1 else self._next_head
            marks = flat(head.marks, MARGIN_PX, TOP_PX)
            if number == 1:
                marks += flat(self._side, MARGIN_PX, TOP_PX)
            for y, row in rows:
                marks += flat(row.marks, MARGIN_PX, y)
            marks += self._frame(rows)
            foot = self._foot_of(number, count, box_page)
            marks += flat(foot.marks, MARGIN_PX, self._page.height_px - BOTTOM_PX - foot.height)
            yield marks

    @property
    def _floor(self) -> float:
        return self._page.height_px - BOTTOM_PX - self._foot.height - 8.0

    def _pictures(self) -> list[Mark]:
        """Glass and shape in the column at the right, below the head."""
        x, y = self._rows.right_x, self._head.height + _BELOW_HEAD
        room = self._width - x
        marks: list[Mark] = []
        if self._card.served is not None:
            marks.append(PictureMark(QRectF(x, y, room, _GLASS_HEIGHT), "glass"))
            y += _GLASS_HEIGHT + 14.0
        if self._card.shape is not None:
            marks.append(PictureMark(QRectF(x - 16.0, y, room + 16.0, _SHAPE_HEIGHT), "shape"))
        return marks

    def _side_bottom(self) -> float:
        return TOP_PX + max((mark.rect.bottom() for mark in self._side), default=0.0)

    def _fill(self, rows: Sequence[Row]) -> list[list[tuple[float, Row]]]:
        """Each page's rows with their place. A chunk that no page can hold is torn between its rows."""
        pages: list[list[tuple[float, Row]]] = [[]]
        y = TOP_PX + self._head.height
        was_beside = True
        for chunk in _chunks(rows, self._floor - TOP_PX - self._next_head.height):
            if was_beside and not chunk[0].is_beside and len(pages) == 1:
                y = max(y, self._side_bottom())
            was_beside = chunk[0].is_beside
            needed = sum(row.gap + row.height for row in chunk) + (_FRAME_PAD if chunk[-1].is_boxed else 0.0)
            if y + needed > self._floor and pages[-1]:
                pages.append([])
                y = TOP_PX + self._next_head.height + _BELOW_HEAD
                chunk[0].gap = _FRAME_PAD if chunk[0].is_boxed else 0.0
            for row in chunk:
                y += row.gap
                pages[-1].append((y, row))
                y += row.height
        return pages

    def _frame(self, rows: Sequence[tuple[float, Row]]) -> list[Mark]:
        boxed = [(y, row) for y, row in rows if row.is_boxed]
        if not boxed:
            return []
        top = boxed[0][0] - _FRAME_PAD
        bottom = boxed[-1][0] + boxed[-1][1].height + _FRAME_PAD
        return [FrameMark(QRectF(MARGIN_PX, top, self._width, bottom - top), 2.0)]

    def _foot_of(self, number: int, count: int, box_page: int) -> Row:
        """The foot of a page; where there are several it says which one this is and where the box stands."""
        card = self._card
        foot = Row(8.0, [RuleMark(QRectF(0.0, 0.0, self._width, 0.0), 1.2, "rule2")])
        last = [Piece(card.computed, SMALL)]
        if count > 1:
            last.append(Piece(f"  Page {number} of {count}.", SMALL_STRONG))
            if number != box_page:
                last.append(Piece(f" Contains and cautions: page {box_page}.", SMALL_STRONG))
        if card.credits:
            last.append(Piece(f"  Data: {' '.join(card.credits)}", SMALL))
        first, rounding = [Piece(card.foot, SMALL_INK)], [Piece(card.rounding, SMALL)]
        is_one_line = self._set.width(card.foot + "    " + card.rounding, SMALL_INK) <= self._width
        if is_one_line:
            set_right = self._set.paragraph(rounding, self._width, _FOOT_PITCH, is_right=True)
            foot.marks += (mark.moved(0.0, foot.height) for mark in set_right.marks)
        for pieces in [first, last] if is_one_line else [first, rounding, last]:
            text = self._set.paragraph(pieces, self._width, _FOOT_PITCH)
            foot.marks += (mark.moved(0.0, foot.height) for mark in text.marks)
            foot.height += text.height
        return foot


def _chunks(rows: Sequence[Row], most: float) -> Iterator[list[Row]]:
    """Rows that stay together: a heading with what follows it, and the whole box where a page can hold it."""
    boxed = [row for row in rows if row.is_boxed]
    is_box_whole = sum(row.gap + row.height for row in boxed) + 2 * _FRAME_PAD <= most
    chunk: list[Row] = []
    for row, following in pairwise([*rows, None]):
        assert row is not None
        chunk.append(row)
        stays = is_box_whole and row.is_boxed and following is not None and following.is_boxed
        if not (following is not None and (row.holds_next or stays)):
            yield chunk
            chunk = []
