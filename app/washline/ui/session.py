"""The drink in the window: which build is shown, its figures, and the preview while somebody types."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal, Slot

from washline.document.commands.command import Command
from washline.document.document import Document
from washline.document.notice import Changed
from washline.engine.result import Result
from washline.engine.spread import Spread
from washline.engine.trace import Trace
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.problem import UserError
from washline.ui.after_paint import AfterPaint

if TYPE_CHECKING:
    from washline.ui.bridge import Bridge


@dataclass(frozen=True, eq=False)
class View:
    """All that the panels show of one build, computed once per keystroke.

    ``is_preview``: nothing of it is written; ``before`` then holds the readings as they stand in the house book.
    ``spread`` follows the figures once these are painted: until then it is the last one known (``has_own_spread`` is
    false), or ``None``.
    """

    build: Build
    book: HouseBook
    result: Result
    trace: Trace
    spread: Spread | None
    is_preview: bool = False
    before: Result | None = None
    has_own_spread: bool = False


class Session(QObject):
    """Holds the build that is shown and publishes one ``View`` per change; the panels repaint from it.

    ``leaving`` is said before another build is shown, while the old one can still be written;
    ``shown_changed`` carries the id of the build that is now shown (``None``: none), ``view_changed`` the new ``View`` or
    ``None``; ``spread_changed`` the same view with its own spread, after the figures are painted; ``told`` passes the
    document's notice on once the view is up to date. A preview that cannot be carried out leaves the last view standing.
    ``after_paint`` is where everything waits that an edit need not show in its own frame.
    """

    leaving = Signal()
    shown_changed = Signal(object)
    view_changed = Signal(object)
    spread_changed = Signal(object)
    told = Signal(object)

    def __init__(self, document: Document, bridge: "Bridge", parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self._build_id: int | None = None
        self._view: View | None = None
        self._kept: View | None = None
        self._preview: Command | None = None
        self.after_paint = AfterPaint(self)
        self.after_paint.passed.connect(self._compute_spread)
        bridge.changed.connect(self._follow)

    @property
    def build_id(self) -> int | None:
        """The build that is shown."""
        return self._build_id

    @property
    def view(self) -> View | None:
        """What is shown now, a preview included."""
        return self._view

    @property
    def kept_view(self) -> View | None:
        """What stands in the house book for the build that is shown."""
        return self._kept

    def show(self, build_id: int | None) -> None:
        """Shows another build; an id that is not in the book shows none."""
        known = build_id if build_id is not None and build_id in self.document.book.builds else None
        if known == self._build_id:
            return
        self.leaving.emit()
        self._build_id = known
        self._preview = None
        self._kept = None
        self.document.shown([known] if known is not None else [])
        self.shown_changed.emit(known)
        self._show_kept()

    def set_preview(self, command: Command | None) -> UserError | None:
        """Shows what a command would do, and writes nothing; ``None`` ends the preview.

        Returns why the command is refused, if it is: the view then stays as it was.
        """
        if command is None:
            self._end_preview()
            return None
        if self._build_id is None:
            return None
        try:
            book = self.document.preview(command)
        except UserError as refusal:
            return refusal
        self._preview = command
        if self._build_id in book.builds:
            self._publish(self._compute(book, is_preview=True))
        return None

    def commit(self, command: Command, label: str, origin: object | None = None) -> Changed | None:
        """Writes a command as one step that can be undone. Raises ``UserError`` with nothing changed; the preview ends
        either way."""
        try:
            changed = self.document.do(command, label, origin)
        except UserError:
            self._end_preview()
            raise
        if changed is None:
            self._end_preview()
        return changed

    def _end_preview(self) -> None:
        if self._preview is not None:
            self._preview = None
            self._show_kept()

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        if self._build_id is not None:
            self._take_over(changed)
        self.told.emit(changed)

    def _take_over(self, changed: Changed) -> None:
        book = self.document.book
        if self._build_id is not None and self._build_id not in book.builds:
            self.show(None)
            return
        is_touched = self._build_id in changed.items or bool(changed.change_set)
        if is_touched:
            if changed.kind != "computed":
                self._preview = None
            self._kept = None
            if self._preview is None:
                self._show_kept()

    def _show_kept(self) -> None:
        if self._build_id is None:
            self._view = self._kept = None
            self.view_changed.emit(None)
            return
        if self._kept is None:
            self._kept = self._compute(self.document.book, is_preview=False)
        self._publish(self._kept)

    def _compute(self, book: HouseBook, *, is_preview: bool) -> View:
        build_id = self._build_id
        assert build_id is not None
        trace = self.document.workings.trace(build_id, book if is_preview else None)
        last = self._view
        is_same_build = last is not None and last.build.id == build_id
        return View(
            build=book.builds[build_id],
            book=book,
            result=trace.result,
            trace=trace,
            spread=last.spread if last is not None and is_same_build else None,
            is_preview=is_preview,
            before=self._kept.result if is_preview and self._kept is not None else None,
        )

    def _publish(self, view: View) -> None:
        self._view = view
        self.view_changed.emit(view)
        if not view.has_own_spread:
            self.after_paint.wait()

    @Slot()
    def _compute_spread(self) -> None:
        view = self._view
        if view is None or view.has_own_spread:
            return
        spread = self.document.workings.spread(view.build.id, view.book if view.is_preview else None)
        fresh = replace(view, spread=spread, has_own_spread=True)
        if not view.is_preview:
            self._kept = fresh
        self._view = fresh
        self.spread_changed.emit(fresh)
