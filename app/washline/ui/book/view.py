"""The list of one group, and the head above it that opens and closes it."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QItemSelectionModel, QModelIndex, QPoint, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QAction, QContextMenuEvent, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QFrame, QListView, QSizePolicy, QWidget

from washline.presentation.book_rows import SECTION_NAMES, Section
from washline.ui.appearance import Appearance
from washline.ui.book.delegate import BookDelegate
from washline.ui.book.model import Index, Placed, SectionModel
from washline.ui.controls import ThinScrollBar
from washline.ui.draw.marks import draw_focus_ring
from washline.ui.icons import draw_icon

_Search = QItemSelectionModel.SelectionFlag


class SectionHead(QAbstractButton):
    """The head of a group: its name, how many, and what stands in the column at the right. A press opens or closes it."""

    def __init__(self, section: Section, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._count = ""
        self._column = ""
        self.setCheckable(True)
        self.setText(SECTION_NAMES[section])
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.toggled.connect(self._name)

    def set_count(self, count: str, column: str) -> None:
        """Says how many there are, and what the column at the right holds."""
        self._count, self._column = count, column
        self._name()
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.update()

    @Slot()
    def _name(self) -> None:
        state = "open" if self.isChecked() else "closed"
        self.setAccessibleName(f"{self.text()}, {self._count}, {state}")

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(120), max(self._look.px(26), round(self._look.measures.smallest_target)))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        wanted = {Qt.Key.Key_Right: True, Qt.Key.Key_Left: False}.get(Qt.Key(event.key()))
        if wanted is not None:
            self.setChecked(wanted)
            return
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.toggle()
            return
        super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        look, theme = self._look, self._look.theme
        painter = QPainter(self)
        middle = self.height() / 2
        side = look.px(14)
        box = QRectF(look.px(11), middle - side / 2, side, side)
        draw_icon(painter, box, "chevron-down" if self.isChecked() else "chevron-right", theme.ink2)
        left = look.px(28)
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine
        painter.setFont(look.fonts.label_strong)
        painter.setPen(theme.ink)
        painter.drawText(QRectF(left, 0, self.width(), self.height()), flags, self.text())
        left += round(look.fonts.width(look.fonts.label_strong, self.text())) + look.px(8)
        painter.setFont(look.fonts.header)
        painter.setPen(theme.ink3)
        painter.drawText(QRectF(left, 0, self.width(), self.height()), flags, self._count)
        left += round(look.fonts.width(look.fonts.header, self._count))
        right = self.width() - look.px(16)
        if self.isChecked() and look.fonts.width(look.fonts.header, self._column) < right - left - look.px(8):
            column = QRectF(left, 0, right - left, self.height())
            painter.drawText(column, flags | Qt.AlignmentFlag.AlignRight, self._column)
        if self.hasFocus():
            ring = QRectF(self.rect()).adjusted(look.px(6), 0, -look.px(6), 0)
            draw_focus_ring(painter, ring, theme, look.unit)
        painter.end()


class SectionView(QListView):
    """The rows of one group. ``left_at`` carries -1 or 1 when the cursor wants to leave it upwards or downwards."""

    chosen = Signal(object)
    opened = Signal(object)
    menu_asked = Signal(object, QPoint)
    left_at = Signal(int)

    def __init__(self, section: Section, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._is_quiet = False
        self.section = section
        self.rows = SectionModel(self)
        self.painter_of_rows = BookDelegate(section, look, self)
        self.setModel(self.rows)
        self.setItemDelegate(self.painter_of_rows)
        self.setAccessibleName(SECTION_NAMES[section])
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setUniformItemSizes(True)
        self.setMouseTracking(True)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.EditKeyPressed)
        self.setVerticalScrollBar(ThinScrollBar(look, self))
        self.viewport().setAutoFillBackground(False)
        self.setMinimumHeight(0)
        self.doubleClicked.connect(self._open)

    def dataChanged(self, top_left: Index, bottom_right: Index, roles: Sequence[int] = ()) -> None:
        """Rows are all of one height: what one says may change without ten thousand being laid out anew."""
        QAbstractItemView.dataChanged(self, top_left, bottom_right, list(roles))

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self.painter_of_rows.set_appearance(look)
        bar = self.verticalScrollBar()
        if isinstance(bar, ThinScrollBar):
            bar.set_appearance(look)
        self.scheduleDelayedItemsLayout()
        self.viewport().update()

    def set_places(self, places: Sequence[Placed]) -> None:
        """Shows these rows. The cursor goes to a neighbour where its row is gone, and nobody is told."""
        self._is_quiet = True
        try:
            self.rows.set_places(places)
        finally:
            self._is_quiet = False

    @property
    def wanted_height(self) -> int:
        """The height at which nothing has to be scrolled."""
        return self.rows.rowCount() * self.painter_of_rows.row_height

    def sizeHint(self) -> QSize:
        return QSize(200, self.wanted_height)

    def minimumSizeHint(self) -> QSize:
        return QSize(40, 0)

    def show_key(self, key: int | None) -> None:
        """Marks the row whose sheet is open, and makes it current without telling anybody."""
        self.painter_of_rows.shown_key = key
        number = self.rows.row_of(key) if key is not None else -1
        self._is_quiet = True
        try:
            if number >= 0:
                index = self.rows.index(number)
                self.setCurrentIndex(index)
                self.scrollTo(index)
            else:
                self.selectionModel().setCurrentIndex(QModelIndex(), _Search.Clear)
        finally:
            self._is_quiet = False
        self.viewport().update()

    def enter(self, *, from_below: bool) -> None:
        """Takes the cursor from a neighbour: to the first row, or the last."""
        count = self.rows.rowCount()
        if count:
            self.setFocus(Qt.FocusReason.TabFocusReason)
            self.setCurrentIndex(self.rows.index(count - 1 if from_below else 0))

    @property
    def current_key(self) -> int | None:
        """The id of the row at the cursor."""
        return self.rows.key_at(self.currentIndex().row())

    def edit_name(self, key: int) -> None:
        """Opens the name of a row for typing."""
        number = self.rows.row_of(key)
        if number >= 0:
            self._is_quiet = True
            self.setCurrentIndex(self.rows.index(number))
            self._is_quiet = False
            self.edit(self.rows.index(number))

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        if not self._is_quiet and current.isValid():
            self.chosen.emit(self.rows.key_at(current.row()))

    def focusInEvent(self, event: object) -> None:
        super().focusInEvent(event)  # type: ignore[arg-type]
        if not self.currentIndex().isValid() and self.rows.rowCount():
            self._is_quiet = True
            self.selectionModel().setCurrentIndex(self.rows.index(0), _Search.NoUpdate)
            self._is_quiet = False

    def mousePressEvent(self, event: object) -> None:
        before = self.currentIndex()
        super().mousePressEvent(event)  # type: ignore[arg-type]
        if self.currentIndex() == before and before.isValid():
            self.chosen.emit(self.rows.key_at(before.row()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        number, last = self.currentIndex().row(), self.rows.rowCount() - 1
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            super().keyPressEvent(event)
            return
        if event.key() == Qt.Key.Key_Up and number <= 0:
            self.left_at.emit(-1)
        elif event.key() == Qt.Key.Key_Down and number >= last:
            self.left_at.emit(1)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open(self.currentIndex())
        else:
            super().keyPressEvent(event)

    @Slot(QModelIndex)
    def _open(self, index: QModelIndex) -> None:
        key = self.rows.key_at(index.row())
        if key is not None and self.state() != QAbstractItemView.State.EditingState:
            self.opened.emit(key)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        index = self.currentIndex()
        place = self.visualRect(index).center()
        if event.reason() == QContextMenuEvent.Reason.Mouse:
            index = self.indexAt(event.pos())
            place = event.pos()
        key = self.rows.key_at(index.row()) if index.isValid() else None
        self.menu_asked.emit(key, self.viewport().mapToGlobal(place))

    def add_own_action(self, action: QAction) -> None:
        """Has a command work while the cursor is in the list."""
        action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        self.addAction(action)

    def viewportEvent(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Leave:
            self.viewport().update()
        return super().viewportEvent(event)
