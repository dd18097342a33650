"""Keeps the words of the window true: whether all is kept, what was done last, how much there is, whose book it is."""

from collections.abc import Callable, Mapping
from datetime import datetime

from PySide6.QtCore import QObject, Slot
from PySide6.QtGui import QKeySequence

from washline.document.document import Document
from washline.document.notice import Changed
from washline.model.item import Build
from washline.presentation.status import count_drinks, facts, last_words, when_words
from washline.quantity.formatting import NumberStyle
from washline.ui.background import Background
from washline.ui.main_window import MainWindow
from washline.ui.session import Session, View
from washline.ui.status_line import ALL_KEPT, TYPING


class StateWords(QObject):
    """Follows document, session and background, and writes into status line, title and Edit menu."""

    def __init__(
        self,
        window: MainWindow,
        document: Document,
        session: Session,
        background: Background,
        style: NumberStyle,
        clock: Callable[[], datetime],
    ) -> None:
        super().__init__(window)
        self._window = window
        self._document = document
        self._background = background
        self._style = style
        self._clock = clock
        self._is_preview = False
        self._failure = ""
        self._counted: Mapping[int, Build] = {}
        self._drinks = 0
        session.view_changed.connect(self._follow_view)
        background.progress.connect(self._show_progress)
        window.status.stop_pressed.connect(background.toggle_rest)
        self.refresh()

    @Slot()
    def refresh(self) -> None:
        """Says everything anew: after a change."""
        document, window = self._document, self._window
        self._count()
        self._show_kept()
        undo, redo = document.undo_entry, document.redo_entry
        actions = window.menus.actions
        if undo is not None and document.is_from_before(undo):
            when = f" ({when_words(undo.when, self._clock())})"
        else:
            when = ""
        label = document.undo_label.replace("&", "&&")
        actions["undo"].setText(f"&Undo {label}{when}" if label else "&Undo")
        actions["undo"].setEnabled(undo is not None and not document.is_read_only)
        redo_label = document.redo_label.replace("&", "&&")
        actions["redo"].setText(f"&Redo {redo_label}" if redo_label else "&Redo")
        actions["redo"].setEnabled(redo is not None and not document.is_read_only)
        keys = QKeySequence(QKeySequence.StandardKey.Undo).toString(QKeySequence.SequenceFormat.NativeText)
        window.status.set_last(last_words(document.undo_label, keys))
        settings = document.book.settings
        window.set_house(settings.house_name, is_demo=settings.is_demo, is_read_only=document.is_read_only)
        self._show_facts()

    def follow(self, changed: Changed) -> None:
        """A change was kept: what failed before is past, and the keys for undo and redo work at once. The words follow
        with ``refresh``."""
        self._failure = ""
        actions = self._window.menus.actions
        actions["undo" if changed.kind != "undo" else "redo"].setEnabled(True)
        if changed.kind == "do":
            actions["redo"].setEnabled(False)

    def _count(self) -> None:
        """Counts the drinks when builds have come or gone; what kind a build is never changes."""
        builds = self._document.book.builds
        if builds.keys() != self._counted.keys():
            self._counted = builds
            self._drinks = count_drinks(self._document.book)

    @Slot(str)
    def say_failure(self, words: str) -> None:
        """Says loudly that something could not be kept, until the next change that can."""
        self._failure = words
        self._show_kept()

    def _show_kept(self) -> None:
        status = self._window.status
        if self._failure:
            status.set_kept(f"Saving failed: {self._failure}", "alert")
        elif self._is_preview:
            status.set_kept(TYPING, "preview")
        elif self._document.is_read_only:
            status.set_kept("Read only: nothing is written", "alert")
        else:
            status.set_kept(ALL_KEPT)

    def _show_facts(self) -> None:
        pending = self._document.workings.pending
        self._window.status.set_facts(facts(self._document.book, self._drinks, pending, self._style))

    @Slot(object)
    def _follow_view(self, view: View | None) -> None:
        is_preview = view is not None and view.is_preview
        if is_preview != self._is_preview:
            self._is_preview = is_preview
            self._background.hold(is_preview)
            self._show_kept()

    @Slot(int, int)
    def _show_progress(self, left: int, whole: int) -> None:
        self._window.status.set_progress(left, whole, is_resting=self._background.is_resting)
        self._show_facts()
