"""Starts the program: one process per user, its windows, and what holds for all of them."""

import gc
import signal
import socket
import sys
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, QLocale, QObject, QSocketNotifier, QTimer, Signal, Slot
from PySide6.QtGui import QFileOpenEvent, QFont
from PySide6.QtWidgets import QApplication

from washline import __version__
from washline.document.places import Places, book_to_open, user_places
from washline.ui.appearance import Appearance
from washline.ui.errors import ErrorReporter
from washline.ui.fonts import application_fonts, load_fonts, text_unit
from washline.ui.main_window import MainWindow
from washline.ui.measures import Measures
from washline.ui.opening import Opening
from washline.ui.preferences import Preferences
from washline.ui.single import Single
from washline.ui.theme import ThemeSwitch
from washline.ui.window_commands import WindowCommands

COLLECT_EVERY_MS = 10_000


class WashlineApplication(QApplication):
    """The application object; ``file_asked`` carries a path that the desktop wants opened."""

    file_asked = Signal(str)

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QFileOpenEvent):
            self.file_asked.emit(event.file())
            return True
        return super().event(event)


def run(files: Sequence[Path]) -> int:
    """Opens the window on ``files``, else on the house book last opened; returns the exit code."""
    # All that is made while starting stays: looking through it again and again would only delay the first paint.
    gc.disable()
    application = WashlineApplication([sys.argv[0]])
    name_application(application)
    places = user_places()
    single = Single(places.data)
    wanted = [path.resolve() for path in files]
    if single.is_taken(wanted):
        return 0
    program = Program(application, places, single)
    program.open_first(wanted)
    code = application.exec()
    program.close()
    return code


def name_application(application: QApplication) -> None:
    """What the desktop knows the program by."""
    application.setOrganizationName("washline")
    application.setApplicationName("washline")
    application.setApplicationDisplayName("")
    application.setApplicationVersion(__version__)
    application.setDesktopFileName("org.washline.Washline")
    application.setQuitOnLastWindowClosed(True)


class Program(QObject):
    """What all windows share: settings, theme, log, signals of the system."""

    def __init__(self, application: QApplication, places: Places, single: Single | None = None) -> None:
        super().__init__(application)
        self.application = application
        self.places = places
        self.windows: list[MainWindow] = []
        self._openings: dict[MainWindow, Opening] = {}
        self._system_font = QFont(application.font())
        load_fonts()
        self.preferences = Preferences(self)
        self.themes = ThemeSwitch(application, self.preferences.theme)
        self.reporter = ErrorReporter(places.log, self)
        self.reporter.install()
        self.look = self._make_look()
        application.setFont(self.look.fonts.row)
        QLocale.setDefault(QLocale.system())
        self._single = single
        self._connect()
        self._listen_to_signals()
        self._collector = QTimer(self)
        self._collector.setInterval(COLLECT_EVERY_MS)
        self._collector.timeout.connect(self._collect)

    def _connect(self) -> None:
        self.preferences.changed.connect(self._restyle)
        self.themes.changed.connect(self._restyle)
        self.application.commitDataRequest.connect(self._keep_all)
        self.application.aboutToQuit.connect(self._keep_all)
        if isinstance(self.application, WashlineApplication):
            self.application.file_asked.connect(self._open_file)
        if self._single is not None:
            self._single.asked.connect(self.open_all)

    # Windows

    def open_first(self, files: Sequence[Path]) -> MainWindow:
        """Opens what the program was started with."""
        books = [path for path in files if not path.name.lower().endswith(".json")]
        window = self.open_window(books[0] if books else book_to_open(self.places))
        for path in books[1:]:
            self.open_window(path)
        for path in files:
            if path not in books:
                self._openings[window].import_later(path)
        return window

    def open_window(self, path: Path, new_name: str = "") -> MainWindow:
        """A window on a house book, made first where ``new_name`` is given. A window that has the book already comes to
        the front instead, and one that has none takes it."""
        for window in self.windows:
            opening = self._openings[window]
            if opening.path == path and not new_name:
                window.show()
                window.raise_()
                window.activateWindow()
                return window
            if opening.has_failed:
                opening.turn_to(path, new_name)
                return window
        window = MainWindow(self.look, self.preferences)
        opening = Opening(window, path, self.places, new_name=new_name)
        self.windows.append(window)
        self._openings[window] = opening
        commands = WindowCommands(self, window, opening)
        commands.refresh_recent()
        opening.ready.connect(self._settle)
        self.reporter.reported.connect(window.say_fault)
        window.left.connect(self._forget)
        window.show()
        return window

    def opening_of(self, window: MainWindow) -> Opening:
        """How the house book of a window comes into it."""
        return self._openings[window]

    @Slot(object)
    def open_all(self, files: Sequence[Path]) -> None:
        """What a second start, the desktop or a drop asks for; with nothing, the window comes to the front."""
        if not files and self.windows:
            window = self.windows[-1]
            window.raise_()
            window.activateWindow()
        for path in files:
            self.open_window(path)

    @Slot(str)
    def _open_file(self, path: str) -> None:
        self.open_all([Path(path)])

    @Slot(object)
    def _forget(self, window: MainWindow) -> None:
        self.windows.remove(window)
        self._openings.pop(window).close()
        window.deleteLater()

    # Look

    def _make_look(self) -> Appearance:
        unit = text_unit(self._system_font, self.preferences.text_scale)
        measures = Measures(unit, self.preferences.is_roomy)
        return Appearance(self.themes.theme, application_fonts(unit), measures, self.preferences.is_calm)

    @Slot()
    def _restyle(self) -> None:
        if self.themes.choice is not self.preferences.theme:
            self.themes.choose(self.preferences.theme)
        look = self._make_look()
        if look == self.look:
            return
        self.look = look
        self.application.setFont(look.fonts.row)
        for window in self.windows:
            window.set_appearance(look)
            self._openings[window].set_appearance(look)
            window.show_preferences()

    # System

    def _listen_to_signals(self) -> None:
        """A signal that ends the program closes the windows as their buttons do. Python runs its handlers only while
        Python runs: a byte through a socket wakes the event loop."""
        self._wake_read, self._wake_write = socket.socketpair()
        for end in (self._wake_read, self._wake_write):
            end.setblocking(False)
        self._wake_before = signal.set_wakeup_fd(self._wake_write.fileno(), warn_on_full_buffer=False)
        self._handlers = {number: signal.signal(number, _noted) for number in (signal.SIGTERM, signal.SIGINT)}
        self._notifier = QSocketNotifier(self._wake_read.fileno(), QSocketNotifier.Type.Read, self)
        self._notifier.activated.connect(self._end)

    @Slot()
    def _end(self) -> None:
        try:
            self._wake_read.recv(64)
        except BlockingIOError:
            return
        for window in list(self.windows):
            window.close()
        self.application.quit()

    @Slot()
    def _keep_all(self) -> None:
        for window in self.windows:
            window.keep_state()
            self._openings[window].keep_state()
        self.preferences.flush()

    @Slot()
    def _settle(self) -> None:
        """Start-up is over: what is there stays, and is not looked through again and again. Young objects are collected
        from a timer, in the window's thread."""
        if not self._collector.isActive():
            gc.collect()
            gc.freeze()
            gc.disable()
            self._collector.start()

    @Slot()
    def _collect(self) -> None:
        gc.collect(1)

    def close(self) -> None:
        """Closes all windows and gives back what was taken from the system."""
        for window in list(self.windows):
            window.close()
        self._collector.stop()
        gc.enable()
        self._notifier.setEnabled(False)
        signal.set_wakeup_fd(self._wake_before)
        for number, handler in self._handlers.items():
            signal.signal(number, handler)
        self._wake_read.close()
        self._wake_write.close()
        self.reporter.close()
        if self._single is not None:
            self._single.close()


def _noted(number: int, frame: object) -> None:
    """The byte that the signal writes does the work."""
