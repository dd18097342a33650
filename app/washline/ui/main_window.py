"""The window: menus, the three regions, the status line. It is shown before anything of a house book is read."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, QMimeData, Qt, QTimer, Signal, Slot
from PySide6.QtGui import (
    QAction,
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QPaintEvent,
    QPalette,
    QResizeEvent,
)
from PySide6.QtWidgets import QApplication, QLabel, QMainWindow, QVBoxLayout, QWidget

from washline.presentation.book_rows import LastList, Section
from washline.ui.appearance import Appearance
from washline.ui.book.panel import BookPanel
from washline.ui.controls import NoticeStrip
from washline.ui.menus import Menus
from washline.ui.preferences import Preferences
from washline.ui.regions import Regions
from washline.ui.status_line import StatusLine

PROGRAM_NAME = "Washline"
USUAL_SIZE = (1440, 900)
FRAME_PX = 40
"""Left free for the title bar, which the desktop adds to the window's own height."""
ROOM_FOR_HOUSE = 720
ROOM_FOR_FRAME = 32
_SHORTCUT = Qt.FocusReason.ShortcutFocusReason
_TAB = Qt.FocusPolicy.TabFocus
ACCEPTED = (".housebook", ".build.json")


class MainWindow(QMainWindow):
    """A window on one house book.

    ``painted``: it was painted for the first time. ``files_dropped`` carries paths, ``leaving`` comes before it closes,
    ``left`` after.
    """

    painted = Signal()
    files_dropped = Signal(object)
    leaving = Signal()
    left = Signal(object)

    def __init__(self, look: Appearance, preferences: Preferences) -> None:
        super().__init__()
        self.setObjectName("window")
        self.look = look
        self.preferences = preferences
        self._was_painted = False
        self._fault_detail = ""
        self.setWindowTitle(PROGRAM_NAME)
        self.setAcceptDrops(True)
        self.book = BookPanel(look)
        self.regions = Regions(self.book, look)
        self.banner = NoticeStrip(look)
        self.banner.setObjectName("banner")
        self.status = StatusLine(look)
        self.house = QLabel(self)
        self.house.setObjectName("house")
        self.house.setTextFormat(self.house.textFormat().PlainText)
        self.menus = Menus(self, self.menuBar())
        self._copy_detail = QAction("Copy details", self)
        self._copy_detail.triggered.connect(self._copy_fault)
        self._lay_out()
        self._connect()
        self.set_appearance(look)
        self._restore()

    def _lay_out(self) -> None:
        self.centre = QWidget(self)
        layout = QVBoxLayout(self.centre)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.banner)
        layout.addWidget(self.regions, 1)
        layout.addWidget(self.status)
        self.setCentralWidget(self.centre)
        self.menuBar().setCornerWidget(self.house)

    def _connect(self) -> None:
        actions = self.menus.actions
        actions["close_window"].triggered.connect(self.close)
        actions["find"].triggered.connect(self._find)
        actions["next_region"].triggered.connect(self._next_region)
        actions["previous_region"].triggered.connect(self._previous_region)
        actions["full_screen"].triggered.connect(self._toggle_full_screen)
        actions["reset_layout"].triggered.connect(self._reset_layout)
        actions["larger"].triggered.connect(self._larger)
        actions["smaller"].triggered.connect(self._smaller)
        actions["usual_size"].triggered.connect(self._usual_size)
        self.menus.roomy.toggled.connect(self._set_roomy)
        self.menus.calm.toggled.connect(self._set_calm)
        for action in self.menus.themes.values():
            action.triggered.connect(self._set_theme)
        self.book.left.connect(self._focus_sheet)

    # State of the window

    def _restore(self) -> None:
        geometry = self.preferences.bytes_of("geometry")
        if geometry.isEmpty() or not self.restoreGeometry(geometry):
            screen = QGuiApplication.primaryScreen()
            room = screen.availableGeometry().size() if screen is not None else self.size()
            width, height = (round(side * self.look.unit) for side in USUAL_SIZE)
            # The frame that the system draws round the window takes room too.
            self.resize(min(width, room.width()), min(height, room.height() - ROOM_FOR_FRAME))
        self.regions.restore(self.preferences.bytes_of("outer"), self.preferences.bytes_of("inner"))
        default = [Section.DRINKS.value, Section.PARTS.value]
        known = {section.value for section in Section}
        self.book.set_open(
            Section(name) for name in self.preferences.names("sections", default) if name in known
        )
        self.show_preferences()

    def keep_state(self) -> None:
        """Writes down how the window stands."""
        self.preferences.set_bytes("geometry", self.saveGeometry())
        for key, value in self.regions.state().items():
            self.preferences.set_bytes(key, value)
        self.preferences.set_names("sections", [section.value for section in self.book.open_sections])

    def show_preferences(self) -> None:
        """Ticks in the View menu what is set."""
        self.menus.themes[self.preferences.theme].setChecked(True)
        self.menus.roomy.setChecked(self.preferences.is_roomy)
        self.menus.calm.setChecked(self.preferences.is_calm)

    def show_last(self, last: LastList) -> None:
        """Shows the list as it was at the last closing, until the house book is read."""
        self.set_house(last.house_name, is_demo=last.is_demo)
        self.book.show_last(last)

    def set_house(self, name: str, *, is_demo: bool, is_read_only: bool = False) -> None:
        """Says whose house book this is."""
        marks = [name, "demo house book" if is_demo else "", "read only" if is_read_only else ""]
        words = " · ".join(mark for mark in marks if mark)
        self.house.setText(words if len(words) < 70 else words[:68] + "…")
        self.house.setToolTip("")
        self.setWindowTitle(f"{words} – {PROGRAM_NAME}" if name else PROGRAM_NAME)

    # Words at the top

    def say_problem(self, words: str, action: QAction | None = None, button: str = "") -> None:
        """Says at the top of the window what is wrong, with what can be done."""
        self.banner.say(words, action, button, is_alert=True)

    @Slot(str, str)
    def say_fault(self, words: str, detail: str) -> None:
        """Says that the program itself failed; the detail can be copied."""
        self._fault_detail = detail
        self.banner.say(words, self._copy_detail if detail else None, is_alert=True)

    @Slot()
    def _copy_fault(self) -> None:
        QGuiApplication.clipboard().setText(self._fault_detail)
        self.status.say("The details are on the clipboard")

    # Look

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self.look = look
        for part in (self.book, self.regions, self.banner, self.status):
            part.set_appearance(look)
        self.menuBar().setFont(look.fonts.row)
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.WindowText, look.theme.ink2)
        self.house.setPalette(palette)
        self.house.setFont(look.fonts.label)
        self.house.setContentsMargins(look.px(8), look.px(4), look.px(15), look.px(4))

    @Slot()
    def _set_theme(self) -> None:
        for choice, action in self.menus.themes.items():
            if action.isChecked():
                self.preferences.theme = choice

    @Slot(bool)
    def _set_roomy(self, is_on: bool) -> None:
        if is_on != self.preferences.is_roomy:
            self.preferences.is_roomy = is_on

    @Slot(bool)
    def _set_calm(self, is_on: bool) -> None:
        if is_on != self.preferences.is_calm:
            self.preferences.is_calm = is_on

    @Slot()
    def _larger(self) -> None:
        self.preferences.step_text(1)
        self.status.say(f"Text at {self.preferences.text_scale:.0%}")

    @Slot()
    def _smaller(self) -> None:
        self.preferences.step_text(-1)
        self.status.say(f"Text at {self.preferences.text_scale:.0%}")

    @Slot()
    def _usual_size(self) -> None:
        self.preferences.step_text(0)
        self.status.say("Text at 100%")

    @Slot()
    def _toggle_full_screen(self) -> None:
        self.showNormal() if self.isFullScreen() else self.showFullScreen()

    @Slot()
    def _reset_layout(self) -> None:
        self.preferences.forget_layout()
        self.book.set_open({Section.DRINKS, Section.PARTS})
        self.regions.reset()
        self.status.say("The layout is as it came")

    # Focus

    @Slot()
    def _find(self) -> None:
        if self.book.is_rail and self.menus.actions["finder"].isEnabled():
            self.menus.actions["finder"].trigger()
            return
        self.regions.bring_up(self.book)
        self.book.start_find()

    @Slot()
    def _focus_sheet(self) -> None:
        self._focus_region(1)

    @Slot()
    def _next_region(self) -> None:
        self._step_region(1)

    @Slot()
    def _previous_region(self) -> None:
        self._step_region(-1)

    def _step_region(self, step: int) -> None:
        regions = [
            region for region in self.regions.regions if region.isVisible() or self.regions.tabs.isVisible()
        ]
        focused = QApplication.focusWidget()
        now = next(
            (
                number
                for number, one in enumerate(regions)
                if focused is not None and one.isAncestorOf(focused)
            ),
            -step,
        )
        if regions:
            target = regions[(now + step) % len(regions)]
            self._focus_region(list(self.regions.regions).index(target))

    def _focus_region(self, number: int) -> None:
        region = self.regions.regions[number]
        self.regions.bring_up(region)
        if region is self.book:
            self.book.focus_list()
            return
        for widget in (region.focusWidget(), *focusable(region)):
            if widget is not None and widget.isVisible() and region.isAncestorOf(widget):
                widget.setFocus(_SHORTCUT)
                return

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and not self.isActiveWindow():
            self.preferences.flush()

    # Events

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._was_painted:
            self._was_painted = True
            QTimer.singleShot(0, self, self.painted.emit)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        # The menus come first; whose book it is also stands in the title.
        room = self.width() - self.menuBar().sizeHint().width() - self.look.px(24)
        self.house.setVisible(self.width() > self.look.px(ROOM_FOR_HOUSE) and room > 0)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if accepted_files(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        files = accepted_files(event.mimeData())
        if files:
            event.acceptProposedAction()
            self.files_dropped.emit(files)

    def closeEvent(self, event: QCloseEvent) -> None:
        self.leaving.emit()
        self.keep_state()
        event.accept()
        self.left.emit(self)


def accepted_files(mime: QMimeData) -> Sequence[Path]:
    """The house books and build files among what is dragged."""
    paths = [Path(url.toLocalFile()) for url in mime.urls() if url.isLocalFile()]
    return [path for path in paths if path.name.lower().endswith(ACCEPTED)]


def focusable(region: QWidget) -> list[QWidget]:
    """The widgets of a region that can take the focus by Tab, those that hold content first."""
    found = [
        widget
        for widget in region.findChildren(QWidget)
        if widget.isVisible() and widget.isEnabled() and widget.focusPolicy() & _TAB.value
    ]
    return sorted(found, key=lambda widget: -widget.width() * widget.height())
