"""The middle of the window for a drink or part: the sheet is as high as its rows, *through the build* takes the rest."""

from enum import Enum

from PySide6.QtCore import QSize, Signal, Slot
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QTabBar, QWidget

from washline.model.item import Build
from washline.ui.appearance import Appearance
from washline.ui.build.sheet import BuildSheet
from washline.ui.controls import PlainButton, Words
from washline.ui.curves.panel import FOLDED_HEIGHT, LOWEST_OPEN, ThroughBuildPanel
from washline.ui.session import Session, View


class Layout(Enum):
    """Where *through the build* stands: under the sheet, or behind a tab beside it."""

    UNDER = "under"
    TAB = "tab"


class BuildRegion(QWidget):
    """Holds the sheet and the panel under it; above a twist stands whose it is, with a button to compare the two.

    ``laid_out`` after each new share of the room."""

    laid_out = Signal()
    compare_asked = Signal()

    def __init__(
        self,
        session: Session,
        sheet: BuildSheet,
        curves: ThroughBuildPanel,
        look: Appearance,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._look = look
        self._layout = Layout.UNDER
        self.sheet, self.curves = sheet, curves
        sheet.setParent(self)
        curves.setParent(self)
        self.tabs = QTabBar(self)
        self.tabs.setAccessibleName("Build or through the build")
        self.tabs.addTab("Build")
        self.tabs.addTab("Through the build")
        self.tabs.setExpanding(False)
        self.tabs.setDrawBase(False)
        self.tabs.currentChanged.connect(self._lay_out)
        self.twist_line = TwistLine(look, self)
        self.twist_line.compare.clicked.connect(self.compare_asked)
        session.view_changed.connect(self._show)
        sheet.height_changed.connect(self._lay_out)
        self.set_appearance(look)

    def set_layout(self, layout: Layout) -> None:
        """Puts the panel under the sheet or behind a tab."""
        if layout is not self._layout:
            self._layout = layout
            self._lay_out()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.tabs.setFont(look.fonts.label)
        self.twist_line.set_appearance(look)
        self._lay_out()

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(320), self._look.px(240))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    @Slot(object)
    def _show(self, view: View | None) -> None:
        parent = view.book.builds.get(view.build.parent_id or 0) if view is not None else None
        words = twist_words(view.build, parent) if view is not None and parent is not None else ""
        if words != self.twist_line.words.text():
            self.twist_line.words.setText(words)
            self._lay_out()

    @Slot()
    def _lay_out(self) -> None:
        width, height, look = self.width(), self.height(), self._look
        is_tab = self._layout is Layout.TAB
        self.tabs.setVisible(is_tab)
        top = 0
        self.twist_line.setVisible(bool(self.twist_line.words.text()))
        if self.twist_line.words.text():
            top = self.twist_line.sizeHint().height()
            self.twist_line.setGeometry(0, 0, width, top)
        if is_tab:
            self.tabs.setGeometry(look.px(16), top, width - look.px(16), self.tabs.sizeHint().height())
            top += self.tabs.sizeHint().height()
            is_build = self.tabs.currentIndex() == 0
            self.sheet.setVisible(is_build)
            self.curves.setVisible(not is_build)
            for panel in (self.sheet, self.curves):
                panel.setGeometry(0, top, width, height - top)
        else:
            self.sheet.show()
            self.curves.setVisible(self._has_build)
            sheet_height, curves_height = self._shares(height - top)
            self.sheet.setGeometry(0, top, width, sheet_height)
            self.curves.setGeometry(0, top + sheet_height + 1, width, curves_height)
        self.update()
        self.laid_out.emit()

    @property
    def _has_build(self) -> bool:
        return self.sheet.model.view is not None

    def _shares(self, height: int) -> tuple[int, int]:
        """How high the sheet and the panel under it are."""
        if not self._has_build:
            return height, 0
        px = self._look.px
        wanted = self.sheet.wanted_height
        open_height = px(LOWEST_OPEN)
        if wanted + open_height <= height:
            # The sheet keeps its rows; what is left over is the panel's, up to where its lanes are no longer readable.
            curves = min(height - wanted, px(420))
        elif height - open_height >= px(320):
            curves = open_height
        else:
            curves = px(FOLDED_HEIGHT)
        return height - curves - 1, curves

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.theme.sheet)
        if self._layout is Layout.UNDER and self._has_build:
            painter.setPen(self._look.theme.rule2)
            foot = self.sheet.geometry().bottom() + 1
            painter.drawLine(0, foot, self.width(), foot)
        painter.end()


class TwistLine(QWidget):
    """Whose twist this is, above its sheet."""

    def __init__(self, look: Appearance, parent: QWidget) -> None:
        super().__init__(parent)
        self.words = Words(look, "", token="ink2", style="label")
        self.compare = PlainButton(look, "Compare")
        self.compare.setToolTip("Both side by side; keep both, or one of them")
        self._row = QHBoxLayout(self)
        self._row.addWidget(self.words)
        self._row.addWidget(self.compare)
        self._row.addStretch(1)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self.words.set_appearance(look)
        self.compare.set_appearance(look)
        self._row.setSpacing(look.px(10))
        self._row.setContentsMargins(look.px(20), look.px(10), look.px(20), 0)


def twist_words(twist: Build, parent: Build) -> str:
    """*Twist of Pear Signal, being tried*."""
    name = parent.name if len(parent.name) <= 48 else f"{parent.name[:47].rstrip()}…"
    return f"Twist of {name}" + (", being tried" if twist.is_tried else "")
