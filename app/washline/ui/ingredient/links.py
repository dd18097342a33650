"""Names that lead somewhere, one a row with what is said behind them: a button that reads like a line of text."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QFont, QPainter, QPaintEvent
from PySide6.QtWidgets import QPushButton, QSizePolicy, QVBoxLayout, QWidget

from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words
from washline.ui.draw.marks import draw_focus_ring
from washline.ui.draw.pens import hairline, on_pixel, square

SHOWN_AT_FIRST = 12
SHOWN_MORE = 200
NAME_SHARE = 0.48


class LinkRow(QPushButton):
    """A name and what is said of it; pressing it goes there."""

    def __init__(
        self, look: Appearance, key: int, name: str, detail: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.key, self.name, self.detail = key, name, detail
        self.setAutoDefault(False)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAccessibleName(f"{name}, {detail}" if detail else name)
        self.setToolTip(f"Open {name}\n{detail}".rstrip().replace("<", "&lt;"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        height = max(
            self._look.measures.smallest_target, self._look.fonts.metrics(self._look.fonts.row).height() + 4
        )
        return QSize(self._look.px(300), round(height))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(160), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        if self.underMouse() or self.isDown():
            painter.fillRect(self.rect(), theme.hover)
        box = QRectF(self.rect()).adjusted(look.px(4), 0, -look.px(4), 0)
        room = min(box.width() * NAME_SHARE, look.px(320)) if self.detail else box.width()
        name = self._text(painter, QRectF(box.left(), 0, room, box.height()), self.name, fonts.row, "ink")
        painter.setPen(square(theme.ink3, hairline(painter)))
        line = on_pixel(painter, box.center().y() + fonts.metrics(fonts.row).ascent() / 2 + 1)
        painter.drawLine(QPointF(box.left(), line), QPointF(box.left() + fonts.width(fonts.row, name), line))
        left = box.left() + room + look.px(12)
        self._text(
            painter, QRectF(left, 0, box.right() - left, box.height()), self.detail, fonts.label, "ink2"
        )
        if self.hasFocus():
            draw_focus_ring(painter, QRectF(self.rect()), theme, look.unit)
        painter.end()

    def _text(self, painter: QPainter, box: QRectF, text: str, font: QFont, token: str) -> str:
        shown = self._look.fonts.metrics(font).elidedText(text, Qt.TextElideMode.ElideRight, box.width())
        painter.setFont(font)
        painter.setPen(self._look.theme.colour(token))
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine, shown)
        return shown


class LinkList(QWidget):
    """Rows that lead somewhere; ``asked`` carries the id of one. Many are shown in part, with a button for more."""

    asked = Signal(object)

    def __init__(self, look: Appearance, empty: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._rows: list[LinkRow] = []
        self._shown: tuple[tuple[int, str, str], ...] = ()
        self._most = SHOWN_AT_FIRST
        self._empty = Words(look, empty, token="ink2", style="label", wraps=True)
        self._more = PlainButton(look, "")
        self._more.clicked.connect(self._show_more)
        self._list = QVBoxLayout()
        self._list.setSpacing(0)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._empty)
        layout.addLayout(self._list)
        layout.addWidget(self._more)
        self._fill()

    @property
    def rows(self) -> Sequence[LinkRow]:
        """The rows that stand there."""
        return self._rows

    def set_empty(self, words: str) -> None:
        """What is said where there is no row."""
        self._empty.setText(words)
        self._empty.setVisible(bool(words) and not self._shown)

    def show_links(self, links: Sequence[tuple[int, str, str]]) -> None:
        """Shows others: (id, name, what is said behind it)."""
        if tuple(links) == self._shown:
            return
        self._shown = tuple(links)
        self._most = SHOWN_AT_FIRST
        self._fill()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._empty.set_appearance(look)
        self._more.set_appearance(look)
        for row in self._rows:
            row.set_appearance(look)

    @Slot()
    def _show_more(self) -> None:
        self._most += SHOWN_MORE
        self._fill()
        if len(self._rows) > SHOWN_AT_FIRST:
            self._rows[SHOWN_AT_FIRST].setFocus(Qt.FocusReason.OtherFocusReason)

    def _fill(self) -> None:
        for row in self._rows:
            self._list.removeWidget(row)
            row.hide()
            row.deleteLater()
        self._rows = []
        for key, name, detail in self._shown[: self._most]:
            row = LinkRow(self._look, key, name, detail, self)
            row.clicked.connect(self._press)
            self._rows.append(row)
            self._list.addWidget(row)
        left = len(self._shown) - len(self._rows)
        self._empty.setVisible(not self._shown and bool(self._empty.text()))
        self._more.setVisible(left > 0)
        self._more.setText(
            f"Show {min(left, SHOWN_MORE):,} of {left:,} more" if left > SHOWN_MORE else f"Show {left} more"
        )
        self._more.updateGeometry()

    @Slot()
    def _press(self) -> None:
        row = self.sender()
        if isinstance(row, LinkRow):
            self.asked.emit(row.key)
