"""The target that a build is judged by, as a word that opens to all of them."""

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QAction, QPainter, QPaintEvent
from PySide6.QtWidgets import QMenu, QPushButton, QSizePolicy, QWidget

from washline.model.book import HouseBook
from washline.ui.appearance import Appearance
from washline.ui.draw.marks import draw_focus_ring
from washline.ui.icons import draw_icon


class TargetChooser(QPushButton):
    """*against low-strength aperitif*; pressed, it opens to every target, none, and what can be done with them.

    ``chosen`` carries the id of a target or ``None``, ``edit_asked`` that of the one to open, ``new_asked`` nothing.
    """

    chosen = Signal(object)
    edit_asked = Signal(int)
    new_asked = Signal()

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._book: HouseBook | None = None
        self._target_id: int | None = None
        self._is_read_only = False
        self.setAutoDefault(False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.clicked.connect(self.open_menu)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFont(look.fonts.label)
        self.updateGeometry()
        self.update()

    def set_target(self, book: HouseBook, target_id: int | None, *, is_read_only: bool = False) -> None:
        """Shows which target is chosen."""
        self._book, self._target_id, self._is_read_only = book, target_id, is_read_only
        target = book.targets.get(target_id) if target_id is not None else None
        words = f"against {target.name}" if target is not None else "against no target"
        if words != self.text():
            self.setText(words)
            self.setAccessibleName(f"Target: {words}")
            self.setToolTip("Choose the target that this build is judged by, or edit it")
            self.updateGeometry()

    def menu_now(self) -> QMenu:
        """The menu as it opens: targets by name, none, then what can be done with them."""
        menu = QMenu(self)
        book = self._book
        targets = sorted(book.targets.values(), key=lambda target: target.name.casefold()) if book else []
        for target in targets:
            self._choice(menu, target.name, target.id)
        self._choice(menu, "No target", None)
        menu.addSeparator()
        if self._target_id is not None:
            edit = menu.addAction("Edit this target…")
            edit.triggered.connect(self._ask_edit)
        new = menu.addAction("New target…")
        new.setEnabled(not self._is_read_only)
        new.triggered.connect(self.new_asked)
        return menu

    @Slot()
    def open_menu(self) -> None:
        """Opens the menu beneath the word."""
        menu = self.menu_now()
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(self.mapToGlobal(QPoint(0, self.height())))

    def _choice(self, menu: QMenu, name: str, target_id: int | None) -> None:
        action = QAction(name.replace("&", "&&"), menu)
        action.setMenuRole(QAction.MenuRole.NoRole)
        action.setCheckable(True)
        action.setChecked(target_id == self._target_id)
        action.setEnabled(not self._is_read_only)
        action.setData(target_id)
        action.triggered.connect(self._choose)
        menu.addAction(action)

    @Slot()
    def _choose(self) -> None:
        action = self.sender()
        if isinstance(action, QAction):
            self.chosen.emit(action.data())

    @Slot()
    def _ask_edit(self) -> None:
        if self._target_id is not None:
            self.edit_asked.emit(self._target_id)

    def sizeHint(self) -> QSize:
        look = self._look
        width = look.fonts.width(self.font(), self.text()) + look.px(30)
        return QSize(round(width) + 1, max(look.px(24), round(look.measures.smallest_target)))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(80), self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        look, theme = self._look, self._look.theme
        painter = QPainter(self)
        if self.underMouse() or self.isDown():
            painter.fillRect(self.rect(), theme.hover)
        size = look.px(12)
        room = self.width() - size - look.px(14)
        text = look.fonts.metrics(self.font()).elidedText(self.text(), Qt.TextElideMode.ElideRight, room)
        painter.setFont(self.font())
        painter.setPen(theme.ink2)
        left = look.px(4)
        painter.drawText(
            self.rect().adjusted(left, 0, 0, 0),
            Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
            text,
        )
        x = left + look.fonts.width(self.font(), text) + look.px(6)
        draw_icon(painter, QRectF(x, (self.height() - size) / 2, size, size), "chevron-down", theme.ink2)
        if self.hasFocus():
            draw_focus_ring(painter, QRectF(self.rect()), theme, look.unit)
        painter.end()
