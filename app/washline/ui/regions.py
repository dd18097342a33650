"""The three regions of the window, and how they fold when there is less room."""

from collections.abc import Sequence
from enum import IntEnum

from PySide6.QtCore import QByteArray, QSize, Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSplitter, QStackedWidget, QTabBar, QVBoxLayout, QWidget

from washline.ui.appearance import Appearance

NARROW_BOOK = 1120
BALANCE_BELOW = 800
ONE_AT_A_TIME = 560
BOOK_WIDTH = 248
SHEET_WIDTH = 780
BALANCE_WIDTH = 412
RAIL_WIDTH = 44
STATE_VERSION = 1


class Fold(IntEnum):
    """How far the window is folded."""

    WIDE = 0
    RAIL = 1
    STACKED = 2
    SINGLE = 3


def fold_at(width: float) -> Fold:
    """The folding for an effective width in pixels of 100 %."""
    if width < ONE_AT_A_TIME:
        return Fold.SINGLE
    if width < BALANCE_BELOW:
        return Fold.STACKED
    return Fold.RAIL if width < NARROW_BOOK else Fold.WIDE


class Regions(QWidget):
    """House book, sheet and balance beside one another. ``folded`` carries the ``Fold`` when it changes."""

    folded = Signal(object)

    def __init__(self, book: QWidget, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._fold = Fold.WIDE
        self._has_balance = True
        self.book = book
        self.sheet = QStackedWidget(self)
        self.balance = QStackedWidget(self)
        self.sheet.setObjectName("sheet")
        self.balance.setObjectName("balance")
        self.tabs = QTabBar(self)
        self.tabs.setAccessibleName("Region")
        self.tabs.setExpanding(False)
        self.tabs.setDrawBase(False)
        for name in ("House book", "Build", "Balance"):
            self.tabs.addTab(name)
        self.tabs.setCurrentIndex(1)
        self.tabs.currentChanged.connect(self._show_tab)
        self.outer = QSplitter(Qt.Orientation.Horizontal, self)
        self.inner = QSplitter(Qt.Orientation.Horizontal, self)
        self._set_up()
        self.set_appearance(look)
        self.reset()

    def _set_up(self) -> None:
        for splitter in (self.outer, self.inner):
            splitter.setChildrenCollapsible(False)
            splitter.setHandleWidth(1)
        self.inner.addWidget(self.sheet)
        self.inner.addWidget(self.balance)
        self.outer.addWidget(self.book)
        self.outer.addWidget(self.inner)
        self.outer.setStretchFactor(0, 0)
        self.outer.setStretchFactor(1, 1)
        self.inner.setStretchFactor(0, 1)
        self.inner.setStretchFactor(1, 0)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.tabs)
        layout.addWidget(self.outer, 1)
        self.tabs.hide()

    @property
    def fold(self) -> Fold:
        """How far the window is folded."""
        return self._fold

    @property
    def regions(self) -> Sequence[QWidget]:
        """The regions in reading order."""
        return (self.book, self.sheet, self.balance)

    def show_balance(self, is_shown: bool) -> None:
        """Shows the balance, or leaves its room to the sheet."""
        self._has_balance = is_shown
        self._apply()

    def bring_up(self, region: QWidget) -> None:
        """Where one region is shown at a time: shows this one."""
        self.tabs.setCurrentIndex(list(self.regions).index(region))

    def reset(self) -> None:
        """The widths that the program comes with."""
        px = self._look.px
        if self._fold is Fold.WIDE:
            self.outer.setSizes([px(BOOK_WIDTH), px(SHEET_WIDTH + BALANCE_WIDTH)])
        self.inner.setSizes([px(SHEET_WIDTH), px(BALANCE_WIDTH)])

    def state(self) -> dict[str, QByteArray]:
        """The widths, for ``restore``; none while the window is folded, for then they are not the person's."""
        if self._fold is not Fold.WIDE:
            return {}
        return {"outer": self.outer.saveState(), "inner": self.inner.saveState()}

    def restore(self, outer: QByteArray, inner: QByteArray) -> None:
        """Takes back what ``state`` gave."""
        if not outer.isEmpty():
            self.outer.restoreState(outer)
        if not inner.isEmpty():
            self.inner.restoreState(inner)
        self._apply()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        palette = look.theme.palette()
        palette.setColor(palette.ColorRole.Window, look.theme.rule2)
        for splitter in (self.outer, self.inner):
            splitter.setPalette(palette)
        self.tabs.setFont(look.fonts.label)
        for region in (self.sheet, self.balance):
            sheet = look.theme.palette()
            sheet.setColor(sheet.ColorRole.Window, look.theme.sheet)
            region.setPalette(sheet)
            region.setAutoFillBackground(True)
        self._apply()

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(320), self._look.px(320))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        fold = fold_at(self.width() / self._look.unit)
        if fold is not self._fold:
            before, self._fold = self._fold, fold
            self._apply()
            if (before is not Fold.WIDE and fold is Fold.WIDE) or before is Fold.STACKED:
                self.reset()
            self.folded.emit(fold)

    def _apply(self) -> None:
        px, fold = self._look.px, self._fold
        is_rail = fold in (Fold.RAIL, Fold.STACKED)
        self.book.setMinimumWidth(px(RAIL_WIDTH) if is_rail else px(180))
        self.book.setMaximumWidth(px(RAIL_WIDTH) if is_rail else px(480) if fold is Fold.WIDE else 16777215)
        self.sheet.setMinimumWidth(px(330) if fold < Fold.STACKED else 0)
        self.balance.setMinimumWidth(px(300) if fold < Fold.STACKED else 0)
        is_stacked = fold is Fold.STACKED
        self.inner.setOrientation(Qt.Orientation.Vertical if is_stacked else Qt.Orientation.Horizontal)
        self.tabs.setVisible(fold is Fold.SINGLE)
        self._show_tab()
        if is_rail:
            self.outer.setSizes([px(RAIL_WIDTH), max(1, self.width() - px(RAIL_WIDTH))])

    @Slot()
    def _show_tab(self) -> None:
        """Shows what the folding allows."""
        is_single = self._fold is Fold.SINGLE
        current = self.tabs.currentIndex()
        self.tabs.setTabVisible(2, self._has_balance)
        for number, region in enumerate(self.regions):
            has_content = self._has_balance or region is not self.balance
            region.setVisible(has_content and (not is_single or number == current))
        self.inner.setVisible(not is_single or current > 0)
