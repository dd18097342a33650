"""The comparison itself: the lines of both drinks, what is served, and the readings, painted in one set of columns."""

from dataclasses import dataclass
from functools import cache

from PySide6.QtCore import QEvent, QLineF, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QColor,
    QFocusEvent,
    QFont,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from washline.model.reading import BY_KEY
from washline.presentation.row_words import RowKind
from washline.presentation.twist import ServedLine, TwistLine, TwistReading
from washline.ui.appearance import Appearance
from washline.ui.balance.readings_accessible import list_factory_for
from washline.ui.draw.marks import (
    SQUARE_GAP,
    STEP_GAP,
    draw_focus_ring,
    draw_line_dot,
    draw_part_square,
    draw_row_spine,
    draw_served_foot,
    draw_step_mark,
)
from washline.ui.draw.pens import filled_bar, hairline, on_pixel, square
from washline.ui.draw.strip import draw_strip
from washline.ui.icons import STEP_ICONS

LINE_ROW = 38.0
HEAD_ROW = 28.0
READING_ROW = 32.0
SPINE_X = 2.0
NAME_X = 18.0
LONGEST_BAR = 40.0
NARROWEST_WITH_BRINGS = 600.0
INSET = 20.0


@dataclass(frozen=True)
class TwistTexts:
    """All that the table shows."""

    parent_name: str
    twist_name: str
    lines: tuple[TwistLine, ...]
    served: ServedLine
    readings: tuple[TwistReading, ...]


@dataclass(frozen=True)
class TwistColumns:
    """The columns as places from the left edge of the text, in proportion to the width; ``brings`` folds first."""

    parent_right: float
    zero: float
    twist_right: float
    name_x: float
    name_right: float
    brings_right: float | None

    @classmethod
    def for_width(cls, width: float, unit: float) -> "TwistColumns":
        """The columns for a width."""
        if width >= NARROWEST_WITH_BRINGS * unit:
            return cls(0.343 * width, 0.488 * width, 0.632 * width, 0.714 * width, 0.866 * width, width)
        return cls(0.36 * width, 0.53 * width, 0.69 * width, 0.8 * width, width, None)


class TwistTable(QWidget):
    """Paints a ``TwistTexts``. Up and Down choose a row, which a screen reader reads whole."""

    current_changed = Signal(QRect)

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        _install_accessibility()
        self._look = look
        self._texts: TwistTexts | None = None
        self._current = 0
        self.setAccessibleName("Comparison, line by line")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def texts(self) -> TwistTexts | None:
        """What is shown."""
        return self._texts

    def set_texts(self, texts: TwistTexts) -> None:
        """Shows another comparison."""
        if texts == self._texts:
            return
        self._texts = texts
        self._current = min(self._current, max(len(self.axis_sentences()) - 1, 0))
        self.updateGeometry()
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.update()

    def rows(self) -> list[tuple[QRectF, TwistLine | ServedLine | TwistReading]]:
        """Each row with its place."""
        texts, look = self._texts, self._look
        if texts is None:
            return []
        placed: list[tuple[QRectF, TwistLine | ServedLine | TwistReading]] = []
        y = HEAD_ROW * look.unit
        for line in texts.lines:
            placed.append((QRectF(0, y, self.width(), LINE_ROW * look.unit), line))
            y += LINE_ROW * look.unit
        placed.append((QRectF(0, y, self.width(), LINE_ROW * look.unit), texts.served))
        y += (LINE_ROW + HEAD_ROW + 4) * look.unit
        for reading in texts.readings:
            placed.append((QRectF(0, y, self.width(), READING_ROW * look.unit), reading))
            y += READING_ROW * look.unit
        return placed

    def sizeHint(self) -> QSize:
        texts, look = self._texts, self._look
        count = len(texts.lines) + 1 if texts is not None else 0
        readings = len(texts.readings) if texts is not None else 0
        height = 2 * HEAD_ROW + 4 + count * LINE_ROW + readings * READING_ROW + 4
        return QSize(look.px(760), look.px(height))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(420), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._texts is None:
            return
        painter = QPainter(self)
        sketch = _Sketch(painter, self._look, self.width())
        sketch.heads(self._texts)
        rows = self.rows()
        lines = [row for _rect, row in rows if isinstance(row, TwistLine)]
        for index, (rect, row) in enumerate(rows):
            if isinstance(row, TwistLine):
                sketch.line(rect, row, is_first=row is lines[0])
            elif isinstance(row, ServedLine):
                sketch.served(rect, row)
            else:
                sketch.reading(rect, row)
            if index == self._current and self.hasFocus():
                draw_focus_ring(painter, rect, self._look.theme, self._look.unit)
        painter.end()

    # Keys and pointer

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up, Down, Home and End choose a row."""
        last = len(self.rows()) - 1
        moves = {
            Qt.Key.Key_Up: max(self._current - 1, 0),
            Qt.Key.Key_Down: min(self._current + 1, last),
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }
        if Qt.Key(event.key()) in moves and last >= 0:
            self._choose(moves[Qt.Key(event.key())])
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        for index, (rect, _row) in enumerate(self.rows()):
            if rect.contains(event.position()):
                self._choose(index)

    def _choose(self, index: int) -> None:
        self._current = index
        self.update()
        self.current_changed.emit(self.rows()[index][0].toAlignedRect())

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def event(self, event: QEvent) -> bool:
        """Tooltips: the row in full, and what a reading is."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            found = [row for rect, row in self.rows() if rect.contains(QPointF(event.pos()))]
            text = self._sentence(found[0]) if found else ""
            if found and isinstance(found[0], TwistReading):
                text = f"{BY_KEY[found[0].key].definition}.\n{text}"
            QToolTip.showText(event.globalPos(), text, self)
            return True
        return super().event(event)

    # What a screen reader finds

    def _sentence(self, row: TwistLine | ServedLine | TwistReading) -> str:
        if isinstance(row, ServedLine):
            cost = f", cost {row.cost}"
            return f"Served {row.parent_ml} ml, then {row.twist_ml} ml, {row.difference}, {row.glass}{cost}"
        return row.spoken

    def axis_sentences(self) -> tuple[str, ...]:
        """Each row as it is read aloud."""
        return tuple(self._sentence(row) for _rect, row in self.rows())

    def chart_sentence(self) -> str:
        """What the table is for."""
        return "Parent at the left, twist at the right."

    def axis_screen_rect(self, index: int) -> QRect:
        """Where a row stands on the screen."""
        rect = self.rows()[index][0].toAlignedRect()
        return QRect(self.mapToGlobal(rect.topLeft()), rect.size())

    def current_axis(self) -> int | None:
        """The row with the keyboard focus."""
        return self._current if self.hasFocus() and self._texts is not None else None


class _Sketch:
    """One painting of the table."""

    def __init__(self, painter: QPainter, look: Appearance, width: int) -> None:
        self._painter = painter
        self._look = look
        self._left = INSET * look.unit
        self._width = width - 2 * self._left
        self._columns = TwistColumns.for_width(self._width, look.unit)

    def _text(self, x: float, y: float, text: str, font: QFont, colour: QColor, most: float = 0.0) -> None:
        metrics = self._look.fonts.metrics(font)
        if most > 0.0:
            text = metrics.elidedText(text, Qt.TextElideMode.ElideRight, most)
        self._painter.setFont(font)
        self._painter.setPen(colour)
        self._painter.drawText(QPointF(self._left + x, y + metrics.capHeight() / 2), text)

    def _right(
        self, right: float, y: float, text: str, font: QFont, colour: QColor, most: float = 0.0
    ) -> None:
        metrics = self._look.fonts.metrics(font)
        if most > 0.0:
            text = metrics.elidedText(text, Qt.TextElideMode.ElideRight, most)
        self._text(right - metrics.horizontalAdvance(text), y, text, font, colour)

    def _rule(self, y: float, token: str, width: float = 0.0, inset: float = 0.0) -> None:
        colour = self._look.theme.colour(token)
        if width:
            filled_bar(self._painter, 0, y, self._width + 2 * self._left, width, colour)
            return
        self._painter.setPen(square(colour, hairline(self._painter)))
        y = on_pixel(self._painter, y)
        self._painter.drawLine(QLineF(self._left + inset, y, self._left + self._width, y))

    def heads(self, texts: TwistTexts) -> None:
        """The heads of both halves."""
        fonts, theme, unit = self._look.fonts, self._look.theme, self._look.unit
        columns = self._columns
        y = HEAD_ROW / 2 * unit
        self._text(
            NAME_X * unit, y, texts.parent_name, fonts.header, theme.ink3, columns.parent_right - 60 * unit
        )
        self._right(columns.zero + 34 * unit, y, "difference, ml", fonts.header, theme.ink3)
        self._text(
            columns.name_x, y, texts.twist_name, fonts.header, theme.ink3, columns.name_right - columns.name_x
        )
        if columns.brings_right is not None:
            self._right(columns.brings_right, y, "brings", fonts.header, theme.ink3)
        self._rule(HEAD_ROW * unit - 1, "rule2")
        y = (HEAD_ROW + (len(texts.lines) + 1) * LINE_ROW + 4 + HEAD_ROW / 2) * unit
        self._text(0, y, "Readings", fonts.label_strong, theme.ink)
        room = columns.parent_right - 80 * unit
        self._right(columns.parent_right, y, texts.parent_name, fonts.header, theme.ink3, room)
        self._right(columns.zero - 6 * unit, y, "change", fonts.header, theme.ink3)
        room = columns.twist_right - columns.zero - 10 * unit
        self._right(columns.twist_right, y, texts.twist_name, fonts.header, theme.ink3, room)
        self._right(self._width, y, "where both stand", fonts.header, theme.ink3)

    def line(self, rect: QRectF, line: TwistLine, *, is_first: bool) -> None:
        """One line of both."""
        fonts, theme, unit, columns = self._look.fonts, self._look.theme, self._look.unit, self._columns
        if line.differs and not theme.is_high_contrast:
            self._painter.fillRect(rect, theme.inner)
        y = rect.center().y()
        self._mark(rect, line.kind, is_first=is_first)
        font = fonts.row_strong if line.differs else fonts.row
        ink = theme.ink if line.differs else theme.ink2
        amount_room = 46 * unit
        self._wrapped(NAME_X * unit, columns.parent_right - amount_room, rect, line.parent_name, font, ink)
        self._right(columns.parent_right, y, line.parent_amount, font, ink)
        self._text(columns.parent_right + 6 * unit, y, line.parent_unit, fonts.header, theme.ink2,
                   columns.zero - columns.parent_right - LONGEST_BAR * unit)  # fmt: skip
        self._difference(y, line.difference, line.bar, font)
        self._right(columns.twist_right, y, line.twist_amount, font, ink)
        self._text(columns.twist_right + 6 * unit, y, line.twist_unit, fonts.header, theme.ink2,
                   columns.name_x - columns.twist_right - 10 * unit)  # fmt: skip
        is_other = line.twist_name not in ("same line", "same part", "same step")
        self._wrapped(columns.name_x, columns.name_right - 4 * unit, rect, line.twist_name,
                      font if is_other else fonts.header, theme.ink if is_other else theme.ink2)  # fmt: skip
        self._brings(rect, line.brings)
        self._rule(rect.bottom() - 0.5, "rule", inset=NAME_X * unit)

    def _wrapped(
        self, left: float, right: float, rect: QRectF, text: str, font: QFont, colour: QColor
    ) -> None:
        """A name in one line, in two where it must, cut only where even these are not enough."""
        room = right - left
        if self._look.fonts.width(font, text) <= room:
            self._text(left, rect.center().y(), text, font, colour)
            return
        font = (
            self._look.fonts.header_strong if font is self._look.fonts.row_strong else self._look.fonts.header
        )
        metrics = self._look.fonts.metrics(font)
        words, first = text.split(" "), ""
        while words and metrics.horizontalAdvance(f"{first} {words[0]}".strip()) <= room:
            first = f"{first} {words.pop(0)}".strip()
        if not first or not words:
            self._text(left, rect.center().y(), text, font, colour, room)
            return
        self._text(left, rect.center().y() - 7.5 * self._look.unit, first, font, colour)
        self._text(left, rect.center().y() + 7.5 * self._look.unit, " ".join(words), font, colour, room)

    def _difference(self, y: float, text: str, bar: float, font: QFont) -> None:
        fonts, theme, unit, columns = self._look.fonts, self._look.theme, self._look.unit, self._columns
        is_figure = text[:1] in "+\u2212-" and text[1:2].isdigit()
        if not is_figure:
            is_quiet = text in ("same", "")
            width = fonts.width(fonts.header if is_quiet else fonts.header_strong, text)
            style = fonts.header if is_quiet else fonts.header_strong
            self._text(
                columns.zero - 18 * unit - width / 2, y, text, style, theme.ink2 if is_quiet else theme.ink
            )
            return
        self._painter.setPen(square(theme.rule2, hairline(self._painter)))
        x = on_pixel(self._painter, self._left + columns.zero)
        self._painter.drawLine(QLineF(x, y - 9 * unit, x, y + 9 * unit))
        length = abs(bar) * LONGEST_BAR * unit
        left = self._left + columns.zero - (length if bar < 0 else 0.0)
        filled_bar(self._painter, left, y - 3 * unit, max(length, 1.0), 6 * unit, theme.ink2)
        offset = (length if bar > 0 else 0.0) + 6 * unit
        self._text(columns.zero + offset, y, text, fonts.row, theme.ink)

    def _brings(self, rect: QRectF, brings: tuple[str, ...]) -> None:
        right = self._columns.brings_right
        if right is None:
            return
        fonts, theme, unit = self._look.fonts, self._look.theme, self._look.unit
        step = (15.0 if len(brings) < 3 else 11.5) * unit
        font = fonts.smallest
        top = rect.center().y() - step * (len(brings) - 1) / 2
        for index, text in enumerate(brings):
            self._right(right, top + index * step, text, font, theme.ink2)

    def _mark(self, rect: QRectF, kind: RowKind, *, is_first: bool) -> None:
        theme, unit = self._look.theme, self._look.unit
        x, y = self._left + SPINE_X * unit, rect.center().y()
        is_line, is_part = kind is RowKind.LINE, kind is RowKind.PART
        gap = 0.0 if is_line else SQUARE_GAP if is_part else STEP_GAP
        draw_row_spine(self._painter, x, rect, theme, unit, is_first=is_first, is_last=False, gap=gap)
        if is_line:
            draw_line_dot(self._painter, x, y, theme, unit)
        elif is_part:
            draw_part_square(self._painter, x, y, theme, unit)
        else:
            draw_step_mark(self._painter, x, y, STEP_ICONS.get(kind.value, "note"), theme, unit)

    def served(self, rect: QRectF, served: ServedLine) -> None:
        """What is served of both."""
        fonts, theme, unit, columns = self._look.fonts, self._look.theme, self._look.unit, self._columns
        self._rule(rect.top() - 0.8, "ink", 1.6 * unit)
        y = rect.center().y()
        draw_served_foot(self._painter, self._left + SPINE_X * unit, rect, theme, unit)
        self._text(NAME_X * unit, y, "Served", fonts.row_strong, theme.ink)
        for right, number in (
            (columns.parent_right, served.parent_ml),
            (columns.twist_right, served.twist_ml),
        ):
            self._right(right, y, number, fonts.row_strong, theme.ink)
            self._text(right + 6 * unit, y, "ml", fonts.header, theme.ink2)
        self._difference(y, served.difference, served.bar, fonts.row)
        self._wrapped(
            columns.name_x, columns.name_right - 4 * unit, rect, served.glass, fonts.header, theme.ink2
        )
        if columns.brings_right is not None:
            self._right(columns.brings_right, y, served.cost, fonts.header, theme.ink2)
        self._rule(rect.bottom(), "rule2", hairline(self._painter))

    def reading(self, rect: QRectF, row: TwistReading) -> None:
        """One reading of both."""
        fonts, theme, unit, columns = self._look.fonts, self._look.theme, self._look.unit, self._columns
        y = rect.center().y()
        self._text(0, y, row.name, fonts.row, theme.ink)
        name = fonts.width(fonts.row, row.name) + 8 * unit
        number = fonts.width(fonts.row_strong, row.parent) + 8 * unit
        self._text(name, y, row.note, fonts.header, theme.ink2, columns.parent_right - number - name)
        self._right(columns.parent_right, y, row.parent, fonts.row_strong, theme.parent)
        self._right(columns.zero - 6 * unit, y, row.change, fonts.row_strong if row.is_clear else fonts.row,
                    theme.ink if row.is_clear else theme.ink2)  # fmt: skip
        room = columns.twist_right - columns.zero - fonts.width(fonts.row_strong, row.twist) - 8 * unit
        self._text(columns.zero, y, row.verdict, fonts.header, theme.ink2, room)
        self._right(columns.twist_right, y, row.twist, fonts.row_strong, theme.drink)
        if row.strip is not None:
            width = min(150 * unit, self._width - columns.twist_right - 20 * unit)
            strip = QRectF(self._left + self._width - width, rect.top(), width, rect.height())
            draw_strip(self._painter, strip, row.strip, theme, unit)
        self._rule(rect.bottom() - 0.5, "rule")


@cache
def _install_accessibility() -> None:
    QAccessible.installFactory(list_factory_for(TwistTable))
