"""The panel of the quick finder: one field, what is found under heads, keys at the right."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
    Signal,
    Slot,
)
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QListView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from washline.presentation.finder import Candidate, FoundKind, Group, find
from washline.ui.appearance import Appearance
from washline.ui.book.field import FindField
from washline.ui.controls import ThinScrollBar
from washline.ui.draw.marks import draw_current_bar

Index = QModelIndex | QPersistentModelIndex
NO_INDEX = QModelIndex()
NOTHING = "Nothing is called so"
MOST_REMEMBERED = 20


class FoundModel(QAbstractListModel):
    """Heads and found things, one under the other. Heads cannot be chosen."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.lines: list[str | Candidate] = []

    def set_groups(self, groups: Sequence[Group]) -> None:
        """Shows what was found."""
        self.beginResetModel()
        self.lines = []
        for group in groups:
            self.lines += [group.head, *group.found]
        self.endResetModel()

    def rowCount(self, parent: Index = NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self.lines)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        line = self.lines[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return line if isinstance(line, str) else line.name
        if role == Qt.ItemDataRole.AccessibleTextRole and isinstance(line, Candidate):
            return ", ".join(word for word in (line.name, line.kind.value, line.aside) if word)
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        is_head = isinstance(self.lines[index.row()], str)
        return (
            Qt.ItemFlag.NoItemFlags if is_head else Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        )


class FoundDelegate(QStyledItemDelegate):
    """Paints the lines of the finder."""

    def __init__(self, look: Appearance, parent: QObject) -> None:
        super().__init__(parent)
        self._look = look

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(self._look.px(200), self._look.px(26))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        model = index.model()
        line = model.lines[index.row()] if isinstance(model, FoundModel) else ""
        look, theme = self._look, self._look.theme
        rect = QRectF(option.rect)
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine
        painter.save()
        if isinstance(line, str):
            painter.setFont(look.fonts.header_strong)
            painter.setPen(theme.ink3)
            painter.drawText(rect.adjusted(look.px(12), look.px(4), 0, 0), flags, line)
        else:
            view = self.parent()
            if isinstance(view, QListView) and view.currentIndex() == index:
                draw_current_bar(painter, rect, theme, look.unit)
            box = rect.adjusted(look.px(12), 0, -look.px(14), 0)
            painter.setFont(look.fonts.header)
            painter.setPen(theme.ink3)
            painter.drawText(box, flags | Qt.AlignmentFlag.AlignRight, line.aside)
            box.setRight(box.right() - look.fonts.width(look.fonts.header, line.aside) - look.px(10))
            painter.setFont(look.fonts.row)
            painter.setPen(theme.ink)
            name = look.fonts.metrics(look.fonts.row).elidedText(
                line.name, Qt.TextElideMode.ElideRight, box.width()
            )
            painter.drawText(box, flags, name)
        painter.restore()


class FinderPanel(QFrame):
    """Stands over the window at its top; Esc or the finder's key closes it and gives the focus back.

    ``taken`` carries a ``Candidate``.
    """

    taken = Signal(object)

    def __init__(self, look: Appearance, gather: Callable[[], Sequence[Candidate]], parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("finder")
        self._look, self._gather, self._over = look, gather, parent
        self._known: Sequence[Candidate] = ()
        self._before: QWidget | None = None
        self.recent: list[tuple[FoundKind, int | str]] = []
        self.field = FindField(
            look, "Drink, part, ingredient, target or command", "Esc", self, clears_first=False
        )
        self.model = FoundModel(self)
        self.list = QListView(self)
        self._delegate = FoundDelegate(look, self.list)
        self._set_up()
        self.field.textChanged.connect(self._search)
        self.field.moved.connect(self._move)
        self.field.taken.connect(self._take)
        self.field.left.connect(self.close_finder)
        self.list.clicked.connect(self._take_clicked)
        self.set_appearance(look)
        self.hide()

    def _set_up(self) -> None:
        self.list.setModel(self.model)
        self.list.setItemDelegate(self._delegate)
        self.list.setFrameShape(QFrame.Shape.NoFrame)
        self.list.setUniformItemSizes(True)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setAccessibleName("Found")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setVerticalScrollBar(ThinScrollBar(self._look, self.list))
        self.list.viewport().setAutoFillBackground(False)
        self._column = layout = QVBoxLayout(self)
        layout.addWidget(self.field)
        layout.addWidget(self.list, 1)
        self.setAutoFillBackground(True)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.field.set_appearance(look)
        self._delegate.set_appearance(look)
        palette = look.theme.palette()
        palette.setColor(palette.ColorRole.Window, look.theme.raised)
        palette.setColor(palette.ColorRole.Base, look.theme.raised)
        self.setPalette(palette)
        self._column.setContentsMargins(look.px(12), look.px(12), look.px(4), look.px(8))
        self._column.setSpacing(look.px(6))

    def toggle(self) -> None:
        """Opens, or closes when it is open."""
        if self.isVisible():
            self.close_finder()
        else:
            self.open_finder()

    def open_finder(self) -> None:
        """Opens with an empty field."""
        self._before = QApplication.focusWidget()
        self._known = self._gather()
        self.field.clear()
        self._search("")
        self.place()
        self.show()
        self.raise_()
        self.field.setFocus(Qt.FocusReason.PopupFocusReason)
        self._over.installEventFilter(self)

    @Slot()
    def close_finder(self) -> None:
        """Closes, and gives the focus back to where it was."""
        self._over.removeEventFilter(self)
        self.hide()
        if self._before is not None and self._before.isVisible():
            self._before.setFocus(Qt.FocusReason.PopupFocusReason)
        self._before = None

    def place(self) -> None:
        """Stands in the middle of the window's upper part."""
        outer, look = self._over, self._look
        width = min(look.px(560), outer.width() - look.px(40))
        height = min(look.px(440), outer.height() - look.px(100))
        self.setGeometry((outer.width() - width) // 2, look.px(56), width, height)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Resize:
            self.place()
        elif (
            event.type() == QEvent.Type.MouseButtonPress
            and isinstance(event, QMouseEvent)
            and not self.geometry().contains(event.position().toPoint())
        ):
            self.close_finder()
        return super().eventFilter(watched, event)

    @Slot(str)
    def _search(self, text: str) -> None:
        groups = find(self._known, text, self.recent)
        self.model.set_groups(groups or [Group(NOTHING, ())])
        count = sum(len(group.found) for group in groups)
        self._go(0, 1)
        said = QAccessibleAnnouncementEvent(self.field, f"{count} found")
        QAccessible.updateAccessibility(said)

    def _go(self, start: int, step: int) -> None:
        """Moves to the next line that is no head."""
        number = start
        while 0 <= number < len(self.model.lines):
            if isinstance(self.model.lines[number], Candidate):
                index = self.model.index(number)
                self.list.setCurrentIndex(index)
                self.list.scrollTo(self.model.index(0) if number == 1 else index)
                return
            number += step

    @Slot(object)
    def _move(self, key: Qt.Key) -> None:
        steps = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1, Qt.Key.Key_PageDown: 8, Qt.Key.Key_PageUp: -8}
        step = steps[key]
        last = len(self.model.lines) - 1
        start = min(max(self.list.currentIndex().row() + step, 0), last)
        self._go(start, 1 if step > 0 else -1)

    @Slot(QModelIndex)
    def _take_clicked(self, index: QModelIndex) -> None:
        self.list.setCurrentIndex(index)
        self._take()

    @Slot()
    def _take(self) -> None:
        number = self.list.currentIndex().row()
        line = self.model.lines[number] if 0 <= number < len(self.model.lines) else ""
        if isinstance(line, Candidate):
            key = (line.kind, line.key)
            self.recent = [key, *(one for one in self.recent if one != key)][:MOST_REMEMBERED]
            self.close_finder()
            self.taken.emit(line)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.theme.raised)
        painter.setPen(self._look.theme.edge)
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()
