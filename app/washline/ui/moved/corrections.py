"""Watches for corrected facts: keeps what the drinks read before, compares when they are computed again, looks for pours.

All of it is done in slices between two events, so that a house book of ten thousand drinks stays at hand.
"""

from collections import deque
from collections.abc import Iterable
from time import perf_counter

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from washline.document.notice import Changed
from washline.engine.mending import Mend, mends
from washline.engine.result import Result
from washline.model.book import HouseBook
from washline.model.change import apply
from washline.model.item import RawIngredient
from washline.presentation.moved import (
    MovedDrink,
    Standing,
    aims_of,
    correction_words,
    count_words,
    drinks_resting_on,
    is_correction,
    moved_drink,
    wanted_back,
)
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.after_paint import AfterPaint
from washline.ui.session import Session

SLICE_S = 0.008


class Corrections(QObject):
    """The last correction and what came of it. ``started``: there is another one; ``changed``: drinks or pours are known
    better, with the ids of the drinks (empty: any); ``found``: all drinks are compared, with the sentence that says how
    many moved."""

    started = Signal()
    changed = Signal(object)
    found = Signal(str)

    def __init__(
        self, session: Session, style: NumberStyle = ENGLISH_STYLE, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._session, self._style = session, style
        self._awaited: dict[int, RawIngredient] = {}
        self._book_before: HouseBook | None = None
        self._computed: frozenset[int] = frozenset()
        self._old: dict[int, RawIngredient] = {}
        self._before: dict[int, Result] = {}
        self._waiting: dict[int, None] = {}
        self._ready: deque[int] = deque()
        self._wishes: deque[int] = deque()
        self._is_told = True
        self._is_stopped = False
        self.drinks: dict[int, MovedDrink] = {}
        self.pours: dict[int, tuple[Mend, ...]] = {}
        self.taken: dict[int, str] = {}
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._work)
        self._after_paint = AfterPaint(self)
        self._after_paint.passed.connect(self._start)
        session.told.connect(self._follow)
        session.view_changed.connect(self._look_at_waiting)

    # What is known

    @property
    def words(self) -> str:
        """What was corrected: *Lemon juice: acids 5.0 → 6.0 g per 100 g*; empty where nothing was."""
        raws = self._session.document.book.raws
        said = [
            correction_words(old, raws[key], self._style) for key, old in self._old.items() if key in raws
        ]
        return "; ".join(said)

    @property
    def raw_ids(self) -> tuple[int, ...]:
        """What was corrected."""
        return tuple(self._old)

    @property
    def summary(self) -> str:
        """How many drinks moved, in a sentence; while they are being compared, how many are left."""
        left = len(self._waiting) + len(self._ready)
        if left and not self._is_told:
            return f"Comparing the drinks: {left:,} to go."
        return count_words(self.drinks.values())

    @property
    def pours_left(self) -> int:
        """How many drinks still wait for a pour to be looked for."""
        return len(self._wishes)

    @property
    def is_stopped(self) -> bool:
        """Whether the person stopped the search for pours."""
        return self._is_stopped

    def ordered(self) -> list[int]:
        """The drinks that moved, those that left their band first."""
        return sorted(self.drinks, key=lambda key: self.drinks[key].order)

    def wish(self, build_id: int) -> None:
        """Has the pour for one drink looked for next: somebody looks at it."""
        drink = self.drinks.get(build_id)
        is_awaited = build_id in self._waiting or build_id in self._ready
        if drink is None or is_awaited or build_id in self.pours or not drink.is_out:
            return
        if build_id in self._wishes:
            self._wishes.remove(build_id)
        self._wishes.appendleft(build_id)
        self._timer.start()

    def toggle_stop(self) -> None:
        """Stops the search for pours, or goes on with it."""
        self._is_stopped = not self._is_stopped
        if not self._is_stopped:
            self._timer.start()
        self.changed.emit(())

    def close(self) -> None:
        """Ends it."""
        self._after_paint.close()
        self._timer.stop()

    # What happens

    @Slot(object)
    def _follow(self, changed: Changed) -> None:
        raws = [
            change.before
            for change in changed.change_set.changes
            if isinstance(change.before, RawIngredient) and is_correction(change.before, change.after)
        ]
        if self._book_before is not None:
            self._computed |= changed.items
        if raws and changed.kind != "computed":
            self._await_start(raws, changed)
        elif changed.change_set:
            self._look_again(changed)
        self._take_ready(changed.items)

    def _await_start(self, raws: Iterable[RawIngredient], changed: Changed) -> None:
        """The edit is painted first. Until then the last known rows stay those from before."""
        if self._book_before is None:
            self._book_before = apply(self._session.document.book, changed.change_set.reversed())
            self._computed = changed.items
        for raw in raws:
            self._awaited.setdefault(raw.id, raw)
        self._after_paint.wait()

    @Slot()
    def _start(self) -> None:
        """Keeps what the drinks read before. While the last correction is not compared yet, this one is a part of it."""
        if self._book_before is None:
            return
        if self._is_told:
            self._old, self._before = {}, {}
            self.drinks, self.pours, self.taken = {}, {}, {}
            self._waiting.clear()
            self._ready.clear()
        self._wishes.clear()
        self._is_told = self._is_stopped = False
        for raw in self._awaited.values():
            self._old.setdefault(raw.id, raw)
        drinks = drinks_resting_on(self._session.document.book, self._awaited)
        self._keep_before(drinks, self._book_before)
        self._awaited, self._book_before, self._computed = {}, None, frozenset()
        self.started.emit()
        self._take_ready(())
        self._timer.start()

    def _keep_before(self, drinks: Iterable[int], book: HouseBook) -> None:
        """The last known rows are those from before, but for what is computed already: that is done again as it was."""
        workings = self._session.document.workings
        for build_id in drinks:
            self._waiting[build_id] = None
            if build_id in self._before:
                continue
            if build_id in self._computed and build_id in book.builds:
                self._before[build_id] = workings.trace(build_id, book).result
            else:
                known = workings.result(build_id)
                if known is not None:
                    self._before[build_id] = known

    def _look_again(self, changed: Changed) -> None:
        """A drink of the list was changed itself: it is compared again, with what it read before the correction."""
        for build_id in changed.change_set.build_ids() & self._before.keys():
            self.pours.pop(build_id, None)
            self._waiting[build_id] = None
        for build_id in list(self.drinks):
            if build_id not in self._session.document.book.builds:
                self.drinks.pop(build_id)
                self.changed.emit((build_id,))

    @Slot()
    def _look_at_waiting(self) -> None:
        """What is shown was computed without a notice of its own, and may have been the last that was awaited."""
        workings = self._session.document.workings
        self._take_ready(
            [key for key in self._waiting if not workings.is_stale(key)] if self._waiting else ()
        )

    def _take_ready(self, computed: Iterable[int]) -> None:
        """Moves on what is computed: what is named, and all once nothing is left to compute."""
        if not self._waiting:
            return
        is_all = not self._session.document.workings.pending
        ready = list(self._waiting) if is_all else [key for key in computed if key in self._waiting]
        for build_id in ready:
            self._waiting.pop(build_id)
            self._ready.append(build_id)
        if ready:
            self._timer.start()

    @Slot()
    def _work(self) -> None:
        end = perf_counter() + SLICE_S
        touched: list[int] = []
        while self._ready and perf_counter() < end:
            touched.append(self._compare(self._ready.popleft()))
        if not self._ready and not self._waiting and not self._is_told:
            self._tell()
        while not self._ready and self._wishes and not self._is_stopped and perf_counter() < end:
            touched.append(self._look_for_pours(self._wishes.popleft()))
        if touched:
            self.changed.emit(tuple(touched))
        if not self._ready and (self._is_stopped or not self._wishes):
            self._timer.stop()
        if not self._waiting and not self._ready and not self._is_told:
            self._tell()

    def _tell(self) -> None:
        self._is_told = True
        # What did not move is never asked for again.
        self._before = {key: row for key, row in self._before.items() if key in self.drinks}
        left = [key for key in self.ordered() if self.drinks[key].standing is Standing.LEFT]
        self._wishes.extend(key for key in left if key not in self.pours)
        if self._wishes:
            self._timer.start()
        self.found.emit(self.summary)

    def _compare(self, build_id: int) -> int:
        document = self._session.document
        build = document.book.builds.get(build_id)
        if build is None:
            return build_id
        if document.workings.is_stale(build_id):
            self._waiting[build_id] = None
            return build_id
        result = document.workings.result(build_id)
        drink = moved_drink(build, aims_of(document.book, build), self._before.get(build_id), result)
        if drink is not None:
            self.drinks[build_id] = drink
        elif build_id in self.drinks and self._is_told:
            # It was put back to the last digit: its row stays where it was, without a move.
            self.drinks.pop(build_id)
        if drink is not None and self._is_told and drink.standing is Standing.LEFT:
            self._wishes.append(build_id)
        return build_id

    def _look_for_pours(self, build_id: int) -> int:
        document = self._session.document
        book, drink = document.book, self.drinks.get(build_id)
        build = book.builds.get(build_id)
        if drink is None or build is None or build_id in self.pours:
            return build_id
        if document.workings.is_stale(build_id):
            self._waiting[build_id] = None
            return build_id
        wanted = wanted_back(drink)
        self.pours[build_id] = mends(book, build, aims_of(book, build), wanted, document.workings)
        return build_id
