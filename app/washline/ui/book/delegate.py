"""Paints the rows of the house book's list: drinks with their small shape, parts with what they are made of."""

from html import escape

from PySide6.QtCore import (
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QFont, QHelpEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QLineEdit,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QToolTip,
    QWidget,
)

from washline.presentation.book_rows import BookRow, Section
from washline.presentation.shape import SmallShape
from washline.ui.appearance import Appearance
from washline.ui.book.model import ROW_ROLE, SectionModel
from washline.ui.draw.marks import draw_current_bar, draw_focus_ring
from washline.ui.draw.pens import hairline, square
from washline.ui.draw.share_bar import draw_composition
from washline.ui.draw.small_shape import draw_small_shape
from washline.ui.icons import draw_icon

Index = QModelIndex | QPersistentModelIndex

EDGE = 6.0
SHAPE_X = 34.0
TWIST_SHAPE_X = 53.0
NAME_X = 60.0
TWIST_NAME_X = 74.0
PLAIN_NAME_X = 24.0
RIGHT = 16.0
RAIL = 80.0
BAR = QRectF(24.0, 0.0, 22.0, 9.0)


class BookDelegate(QStyledItemDelegate):
    """Paints and edits the rows of one group; ``shown_key`` is the row whose sheet is open."""

    def __init__(self, section: Section, look: Appearance, parent: QObject) -> None:
        super().__init__(parent)
        self._section = section
        self._look = look
        self.shown_key: int | None = None

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look

    @property
    def row_height(self) -> int:
        """The height of every row of this group."""
        measures = self._look.measures
        is_drink = self._section is Section.DRINKS
        return round(measures.book_drink_row if is_drink else measures.book_part_row)

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(self._look.px(60), self.row_height)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row = index.data(ROW_ROLE)
        if not isinstance(row, BookRow):
            return
        painter.save()
        rect = QRectF(option.rect)
        is_shown = row.key == self.shown_key
        self._paint_ground(painter, rect, option, is_shown)
        if self._section is Section.DRINKS:
            self._paint_drink(painter, rect, row, is_shown)
        else:
            model = index.model()
            shares = model.shares_of(row) if isinstance(model, SectionModel) else row.shares
            self._paint_line(painter, rect, row, shares, is_shown)
        painter.restore()

    def _paint_ground(
        self, painter: QPainter, rect: QRectF, option: QStyleOptionViewItem, is_shown: bool
    ) -> None:
        look, unit = self._look, self._look.unit
        edge = EDGE * unit if rect.width() >= RAIL * unit else 0.0
        box = rect.adjusted(edge, 0, -edge, 0)
        if is_shown:
            draw_current_bar(painter, box, look.theme, unit)
        elif option.state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(box, look.theme.hover)
        if option.state & QStyle.StateFlag.State_HasFocus:
            draw_focus_ring(painter, box.adjusted(unit, unit, -unit, -unit), look.theme, unit)

    def _paint_drink(self, painter: QPainter, rect: QRectF, row: BookRow, is_shown: bool) -> None:
        look, unit, theme = self._look, self._look.unit, self._look.theme
        if rect.width() < RAIL * unit:
            self._paint_on_rail(painter, rect, row)
            return
        is_twist = row.depth > 0
        centre = QPointF((TWIST_SHAPE_X if is_twist else SHAPE_X) * unit, rect.center().y())
        if is_twist:
            self._paint_branch(painter, rect, centre)
        half = 17.0 * unit
        shape_box = QRectF(centre.x() - half, centre.y() - half, 2 * half, 2 * half)
        draw_small_shape(painter, shape_box, SmallShape(row.radii), theme, unit)
        left = (TWIST_NAME_X if is_twist else NAME_X) * unit
        right = rect.right() - RIGHT * unit
        middle = rect.center().y()
        strong = look.fonts.row_strong if is_shown else look.fonts.row
        top = QRectF(left, middle - 16 * unit, right - left, 17 * unit)
        self._text(painter, top, row.name, strong, theme.ink)
        line = QRectF(left, middle + 0.5 * unit, right - left, 15 * unit)
        if row.aside:
            token = theme.drink if row.is_out else theme.ink3
            width = look.fonts.width(look.fonts.header_strong, row.aside)
            self._text(painter, line, row.aside, look.fonts.header_strong, token, is_right=True)
            line.setRight(right - width - 6 * unit)
        ink = theme.ink3 if row.is_stale else theme.ink2
        if row.is_stale:
            side = 11 * unit
            draw_icon(painter, QRectF(left, line.center().y() - side / 2, side, side), "clock", theme.ink3)
            line.setLeft(left + 15 * unit)
        self._text(painter, line, row.detail, look.fonts.header, ink)

    def _paint_on_rail(self, painter: QPainter, rect: QRectF, row: BookRow) -> None:
        """The small shape alone, with a dot where a reading is out; the rest is in the tooltip."""
        theme, unit = self._look.theme, self._look.unit
        draw_small_shape(painter, rect, SmallShape(row.radii), theme, unit)
        if row.is_out:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(theme.drink)
            painter.drawEllipse(QPointF(rect.right() - 8 * unit, rect.top() + 8 * unit), 3 * unit, 3 * unit)

    def _paint_branch(self, painter: QPainter, rect: QRectF, centre: QPointF) -> None:
        """The little branch from the parent's shape down to the twist's."""
        unit = self._look.unit
        painter.setPen(square(self._look.theme.rule2, hairline(painter)))
        x, y = round(SHAPE_X * unit) + 0.5, round(centre.y()) + 0.5
        painter.drawLine(QPointF(x, rect.top() - 3 * unit), QPointF(x, y))
        painter.drawLine(QPointF(x, y), QPointF(centre.x() - 13 * unit, y))

    def _paint_line(
        self,
        painter: QPainter,
        rect: QRectF,
        row: BookRow,
        shares: tuple[float, float, float] | None,
        is_shown: bool,
    ) -> None:
        look, unit, theme = self._look, self._look.unit, self._look.theme
        is_part = self._section is Section.PARTS
        if is_part:
            box = BAR.translated(0, 0)
            bar = QRectF(box.left() * unit, rect.center().y() - 4.5 * unit, box.width() * unit, 9 * unit)
            self._paint_bar(painter, bar, shares, row.is_stale)
        left = (NAME_X if is_part else PLAIN_NAME_X) * unit
        line = QRectF(left, rect.top(), rect.right() - RIGHT * unit - left, rect.height())
        if row.aside:
            width = look.fonts.width(look.fonts.header, row.aside)
            self._text(painter, line, row.aside, look.fonts.header, theme.ink3, is_right=True)
            line.setRight(line.right() - width - 8 * unit)
        strong = look.fonts.row_strong if is_shown else look.fonts.row
        self._text(painter, line, row.name, strong, theme.ink)

    def _paint_bar(
        self, painter: QPainter, bar: QRectF, shares: tuple[float, float, float] | None, is_stale: bool
    ) -> None:
        theme = self._look.theme
        coloured: list[tuple[float, QColor]] = []
        if shares is not None:
            tokens = (theme.sugar, theme.acid, theme.ethanol)
            coloured = [(share, colour) for share, colour in zip(shares, tokens, strict=True) if share > 0]
        if is_stale and shares is None:
            side = 11 * self._look.unit
            box = QRectF(bar.center().x() - side / 2, bar.center().y() - side / 2, side, side)
            draw_icon(painter, box, "clock", theme.ink3)
            return
        painter.setOpacity(0.6 if is_stale else 1.0)
        draw_composition(painter, bar, coloured, theme, self._look.unit)
        painter.setOpacity(1.0)

    def _text(
        self, painter: QPainter, box: QRectF, text: str, font: QFont, ink: QColor, *, is_right: bool = False
    ) -> None:
        metrics = self._look.fonts.metrics(font)
        words = text if is_right else metrics.elidedText(text, Qt.TextElideMode.ElideRight, box.width())
        painter.setFont(font)
        painter.setPen(ink)
        side = Qt.AlignmentFlag.AlignRight if is_right else Qt.AlignmentFlag.AlignLeft
        painter.drawText(box, side | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine, words)

    def helpEvent(
        self, event: QHelpEvent, view: QAbstractItemView, option: QStyleOptionViewItem, index: Index
    ) -> bool:
        row = index.data(ROW_ROLE)
        if event.type() != QEvent.Type.ToolTip or not isinstance(row, BookRow):
            return super().helpEvent(event, view, option, index)
        QToolTip.showText(event.globalPos(), f"<p>{escape(row.tip).replace(chr(10), '<br>')}</p>", view)
        return True

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        field = QLineEdit(parent)
        field.setFont(self._look.fonts.row)
        field.setAccessibleName("Name")
        return field

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        if isinstance(editor, QLineEdit) and not editor.isModified():
            editor.setText(str(index.data(Qt.ItemDataRole.EditRole)))
            editor.selectAll()

    def updateEditorGeometry(self, editor: QWidget, option: QStyleOptionViewItem, index: Index) -> None:
        row, unit = index.data(ROW_ROLE), self._look.unit
        is_twist = isinstance(row, BookRow) and row.depth > 0
        left = TWIST_NAME_X if is_twist else PLAIN_NAME_X
        if self._section in (Section.DRINKS, Section.PARTS) and not is_twist:
            left = NAME_X
        rect = QRect(option.rect)
        rect.setLeft(round(left * unit) - 4)
        rect.setRight(rect.right() - round(EDGE * unit))
        height = max(editor.sizeHint().height(), round(22 * unit))
        rect.setTop(rect.center().y() - height // 2)
        rect.setHeight(height)
        editor.setGeometry(rect)
