"""The list of the drinks that moved: its rows as values, and how a row is painted."""

from dataclasses import dataclass
from typing import Protocol

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPointF,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QFont, QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from washline.presentation.moved import Standing
from washline.presentation.strip import BandStrip
from washline.ui.appearance import Appearance
from washline.ui.draw.marks import draw_current_bar, draw_focus_ring
from washline.ui.draw.pens import hairline, on_pixel, solid, square
from washline.ui.draw.strip import draw_strip

Index = QModelIndex | QPersistentModelIndex
ROW_ROLE = Qt.ItemDataRole.UserRole
NAME_LEFT = 38.0
GAP = 16.0
STRIP_WIDTH = 116.0
ROOM_FOR_STRIP = 620.0
ROOM_FOR_POUR = 470.0


@dataclass(frozen=True, slots=True)
class MovedRow:
    """What a row says: the drink, where it stands, what moved, and the pour that would put it back.

    ``is_pour``: ``pour`` is one that can be taken; else it says why there is none.
    """

    build_id: int
    name: str
    standing: Standing
    state: str
    moves: str
    more_moves: str
    strip: BandStrip | None
    pour: str = ""
    effect: str = ""
    is_pour: bool = False
    taken: str = ""

    @property
    def spoken(self) -> str:
        """The row in words."""
        said = [self.name, self.state, self.moves, self.more_moves, self.pour, self.effect, self.taken]
        return ", ".join(word for word in said if word)


class RowOf(Protocol):
    """Makes rows; the view is one."""

    def row(self, build_id: int) -> MovedRow | None:
        """What the row of a drink says now."""


class MovedModel(QAbstractListModel):
    """The rows in a fixed order; ``row_of`` makes one when it is asked for."""

    def __init__(self, row_of: RowOf, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._row_of = row_of
        self._keys: list[int] = []
        self._rows: dict[int, MovedRow | None] = {}

    @property
    def keys(self) -> list[int]:
        """The ids of the drinks in the order of the list."""
        return self._keys

    def set_keys(self, keys: list[int]) -> None:
        """Shows these drinks in this order."""
        self.beginResetModel()
        self._keys, self._rows = list(keys), {}
        self.endResetModel()

    def add_keys(self, keys: list[int]) -> None:
        """Appends drinks; those that are listed keep their places."""
        if keys:
            first = len(self._keys)
            self.beginInsertRows(QModelIndex(), first, first + len(keys) - 1)
            self._keys.extend(keys)
            self.endInsertRows()

    def refresh(self, build_id: int | None = None) -> None:
        """What one row, or every row, says has changed."""
        if build_id is None:
            self._rows.clear()
            if self._keys:
                self.dataChanged.emit(self.index(0), self.index(len(self._keys) - 1))
        elif build_id in self._rows:
            del self._rows[build_id]
            place = self.index(self._keys.index(build_id))
            self.dataChanged.emit(place, place)

    def moved_row(self, number: int) -> MovedRow | None:
        """A row as values."""
        if not 0 <= number < len(self._keys):
            return None
        key = self._keys[number]
        if key not in self._rows:
            self._rows[key] = self._row_of.row(key)
        return self._rows[key]

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008  Qt's own signature
        return 0 if parent.isValid() else len(self._keys)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        row = self.moved_row(index.row()) if index.isValid() else None
        if row is None:
            return None
        if role == ROW_ROLE:
            return row
        if role == Qt.ItemDataRole.DisplayRole:
            return row.name
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return row.spoken.replace("<", "&lt;") if role == Qt.ItemDataRole.ToolTipRole else row.spoken
        return None


class MovedDelegate(QStyledItemDelegate):
    """Paints two lines a row: name and standing, the strip of what moved most, the moves, the pour."""

    def __init__(self, look: Appearance, parent: QObject) -> None:
        super().__init__(parent)
        self._look = look

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        look = self._look
        lines = look.fonts.metrics(look.fonts.row).height() + look.fonts.metrics(look.fonts.label).height()
        roomy = 14 if look.measures.is_roomy else 8
        return QSize(look.px(320), round(lines) + look.px(roomy))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row = index.data(ROW_ROLE)
        if not isinstance(row, MovedRow):
            return
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        look, theme, box = self._look, self._look.theme, QRectF(option.rect)
        if option.state & QStyle.StateFlag.State_Selected:
            draw_current_bar(painter, box, theme, look.unit)
        elif option.state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(box, theme.hover)
        self._paint_mark(painter, box, row)
        self._paint_columns(painter, box, row)
        painter.setPen(square(theme.rule, hairline(painter)))
        y = on_pixel(painter, box.bottom() - 0.5)
        painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
        if option.state & QStyle.StateFlag.State_HasFocus:
            draw_focus_ring(painter, box.adjusted(1, 1, -1, -1), theme, look.unit)
        painter.restore()

    def _paint_mark(self, painter: QPainter, box: QRectF, row: MovedRow) -> None:
        """A ring round a dot: left its band; a ring: still out; a dot: came back; nothing: moved inside."""
        look, theme = self._look, self._look.theme
        centre = QPointF(box.left() + look.px(22), box.top() + box.height() / 2)
        is_out = row.standing in (Standing.LEFT, Standing.STILL_OUT)
        if is_out:
            painter.setPen(solid(theme.drink, 1.6 * look.unit))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(centre, look.px(6), look.px(6))
        if row.standing in (Standing.LEFT, Standing.CAME_BACK):
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(theme.drink if is_out else theme.target)
            painter.drawEllipse(centre, 2.6 * look.unit, 2.6 * look.unit)

    def _paint_columns(self, painter: QPainter, box: QRectF, row: MovedRow) -> None:
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        left, right = box.left() + look.px(NAME_LEFT), box.right() - look.px(20)
        width = right - left
        has_strip = width >= look.px(ROOM_FOR_STRIP)
        has_pour = width >= look.px(ROOM_FOR_POUR)
        gap, strip = look.px(GAP), look.px(STRIP_WIDTH) if has_strip else 0.0
        room = width - strip - gap * (int(has_strip) + 1 + int(has_pour))
        shares = (0.32, 0.32, 0.36) if has_pour else (0.48, 0.52, 0.0)
        widths = [room * share for share in shares]
        is_left = row.standing is Standing.LEFT
        state_ink = theme.drink if row.standing in (Standing.LEFT, Standing.STILL_OUT) else theme.ink2
        self._pair(painter, QRectF(left, box.top(), widths[0], box.height()),
                   (row.name, fonts.row_strong if is_left else fonts.row, theme.ink), (row.state, state_ink))  # fmt: skip
        left += widths[0] + gap
        if has_strip:
            if row.strip is not None:
                draw_strip(painter, QRectF(left, box.top(), strip, box.height()), row.strip, theme, look.unit)
            left += strip + gap
        pour_ink = theme.target if row.taken else theme.preview if row.is_pour else theme.ink2
        # Where there is no room for a column of its own, the pour stands under the first move.
        second = (
            (row.more_moves, theme.ink2) if has_pour else (row.taken or row.pour or row.more_moves, pour_ink)
        )
        self._pair(
            painter,
            QRectF(left, box.top(), widths[1], box.height()),
            (row.moves, fonts.row, theme.ink),
            second,
        )
        left += widths[1] + gap
        if has_pour:
            font = fonts.row_strong if row.is_pour and not row.taken else fonts.row
            first = (row.taken or row.pour, font, pour_ink)
            effect = "" if row.taken else row.effect
            self._pair(
                painter, QRectF(left, box.top(), right - left, box.height()), first, (effect, theme.ink2)
            )

    def _pair(
        self,
        painter: QPainter,
        box: QRectF,
        first: tuple[str, QFont, QColor],
        second: tuple[str, QColor],
    ) -> None:
        """Two lines one under the other; one alone stands in the middle."""
        fonts = self._look.fonts
        text, font, ink = first
        upper = fonts.metrics(font).height()
        lower = fonts.metrics(fonts.label).height() if second[0] else 0.0
        top = box.top() + (box.height() - upper - lower) / 2
        self._text(painter, QRectF(box.left(), top, box.width(), upper), text, font, ink)
        if second[0]:
            self._text(
                painter,
                QRectF(box.left(), top + upper, box.width(), lower),
                second[0],
                fonts.label,
                second[1],
            )

    def _text(self, painter: QPainter, box: QRectF, text: str, font: QFont, ink: QColor) -> None:
        shown = self._look.fonts.metrics(font).elidedText(text, Qt.TextElideMode.ElideRight, box.width())
        painter.setFont(font)
        painter.setPen(ink)
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine, shown)
