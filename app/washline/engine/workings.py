"""The evaluator of one house book: compiled programs, what every item brings, and the readings of every build.

It recomputes item by item. A change marks what it touches and its users; they are evaluated in the order of the graph,
what is on the screen first. An output that equals the old one to the byte does not wake its users.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from washline.engine.aside import Aside
from washline.engine.batch import Batches, Block, read_blocks, run_alone, slots_of, vessel_of
from washline.engine.calibrating import ChillStart, chill_start
from washline.engine.compiling_steps import compile_build
from washline.engine.items import ItemTable, edible_yield, output_columns, raw_per_gram, raw_per_unit
from washline.engine.program import Program
from washline.engine.readings import Figures
from washline.engine.reconciling import Reconciled, book_up_to, reconciled
from washline.engine.result import Result, ResultTable
from washline.engine.run import Run
from washline.engine.serving import Serving, serving_of
from washline.engine.spread import Spread, spread_of
from washline.engine.state import ROWS, UNIT_KINDS, Numbers
from washline.engine.trace import Trace, trace_of
from washline.model.book import HouseBook
from washline.model.change import Change, ChangeSet, Table
from washline.model.graph import closure_of, inputs_of, maker_of, rests_on
from washline.model.item import Build, Leftover, RawIngredient
from washline.model.step import Measurable

MOST_RUNS = 64
"""So many builds keep the state after each of their steps."""

_OF_THE_HOUSE = (
    Table.SETTINGS,
    Table.GLASS,
    Table.METHOD,
    Table.MEASURE,
    Table.ICE,
    Table.VESSEL,
    Table.CALIBRATION,
)
"""The tables whose rows any build may be compiled with."""

NO_ITEM = object()
"""Stands for a build that is not there: different from one whose piece has no known weight."""


class Workings:
    """Programs and results of a house book, in memory. Nothing is evaluated before it is asked for."""

    def __init__(self, book: HouseBook) -> None:
        self.book = book
        self.table = ItemTable()
        self._programs: dict[int, Program] = {}
        self._results = ResultTable()
        self._stale: set[int] = set(book.builds)
        self._known_raws: set[int] = set()
        self._users: dict[int, set[int]] = {}
        self._takers: dict[int, set[int]] = {}
        self._takers_of: dict[int, frozenset[int]] = {}
        self._taken: dict[int, tuple[int, ...]] = {}
        self._inputs: dict[int, tuple[int, ...]] = {}
        self._levels: dict[int, int] = {}
        self._batches = Batches()
        self._queue: list[list[int]] = []
        self._runs: dict[int, tuple[Program, Run]] = {}
        self._previewed: tuple[HouseBook, int, Aside] | None = None
        self._yielded: dict[int, tuple[int, ...]] = {}
        self._read_before: dict[bytes, Result] = {}
        for build in book.builds.values():
            self._index(build)

    @property
    def pending(self) -> int:
        """How many builds are not up to date."""
        return len(self._stale)

    def is_stale(self, build_id: int) -> bool:
        """Whether the last known row of a build is out of date, or there is none."""
        return build_id in self._stale

    def result(self, build_id: int) -> Result | None:
        """The last known row of a build; ``None`` if it was never evaluated."""
        return self._results.get(build_id)

    def result_now(self, build_id: int) -> Result:
        """The row of a build, evaluated now with all it rests on if it is stale.

        Raises ``KeyError`` for an id that is no build.
        """
        if self._stale:
            self._evaluate_below(build_id)
        result = self._results.get(build_id)
        if result is None:
            raise KeyError(build_id)
        return result

    def users_of(self, item_id: int) -> frozenset[int]:
        """The builds that take an item in; the same object until one comes or goes."""
        known = self._takers_of.get(item_id)
        if known is None:
            known = self._takers_of[item_id] = frozenset(self._takers.get(item_id, ()))
        return known

    def adopt(self, rows: Mapping[int, Result]) -> None:
        """Takes over rows that were computed before, as shown until the items they rest on are evaluated again.

        Drinks count as up to date; a part is evaluated when something that uses it is, for its output is not in a row.
        """
        known = {build_id: result for build_id, result in rows.items() if build_id in self.book.builds}
        self._results.adopt(known)
        self._stale.difference_update(build_id for build_id in known if self.book.builds[build_id].is_drink)

    def update(self, book: HouseBook, change_set: ChangeSet, first: Sequence[int] = ()) -> frozenset[int]:
        """Takes over a changed book and marks what the change touches; evaluates the builds of ``first`` at once.

        Returns the builds whose row changed so far. The rest follows by ``evaluate_some``. What was evaluated for the
        preview of this very book is not evaluated again.
        """
        aside = self._previewed[2] if self._previewed is not None and self._previewed[0] is book else None
        self.book = book
        self._queue.clear()
        self._previewed = None
        for change in change_set.changes:
            self._mark(change)
        for build_id in change_set.build_ids():
            self._take_over(build_id)
        changed: frozenset[int] = frozenset()
        for build_id in first:
            changed |= self._evaluate_below(build_id, aside)
        return changed

    def evaluate_some(self, most: int = 2000) -> frozenset[int]:
        """Evaluates up to ``most`` stale builds, those nearest the raw ingredients first; the builds whose row changed.

        Those of equal steps come together, so that a slice of them is one block.
        """
        if not self._stale:
            return frozenset()
        wanted: list[int] = []
        while len(wanted) < most:
            if not self._queue:
                if wanted:
                    break
                self._queue = self._next_level()
            nearest = self._queue[-1]
            taken, self._queue[-1] = nearest[: most - len(wanted)], nearest[most - len(wanted) :]
            if not self._queue[-1]:
                self._queue.pop()
            wanted.extend(build_id for build_id in taken if build_id in self._stale)
        return self._evaluate_level(wanted)

    def _next_level(self) -> list[list[int]]:
        """The stale builds nearest the raw ingredients, those of one batch together, the first at the end."""
        level = min(map(self._level, self._stale))
        together: dict[int, list[int]] = {}
        for build_id in sorted(self._stale):
            if self._levels[build_id] == level:
                together.setdefault(self._batch_of(build_id), []).append(build_id)
        return list(reversed(together.values()))

    def _batch_of(self, build_id: int) -> int:
        number = self._batches.batch_of(build_id) if build_id in self._programs else None
        return self._compile(build_id) if number is None else number

    def evaluate_all(self) -> frozenset[int]:
        """Evaluates everything that is stale; the builds whose row changed."""
        changed: frozenset[int] = frozenset()
        while self._stale:
            changed |= self.evaluate_some(len(self._stale))
        return changed

    def trace(self, build_id: int, book: HouseBook | None = None) -> Trace:
        """Full detail of one build. With ``book``, a preview, what differs is evaluated aside and nothing is kept."""
        if book is None or book is self.book:
            self.result_now(build_id)
            return trace_of(self.book, build_id, self)
        return trace_of(book, build_id, self._aside(book, build_id))

    def serving(self, build_id: int, minutes: float = 20.0, book: HouseBook | None = None) -> Serving | None:
        """What becomes of a drink on its ice in so many minutes; ``None`` where there is no ice in the glass."""
        return serving_of(self.trace(build_id, book), minutes)

    def chill_start(self, build_id: int, step_id: int, book: HouseBook | None = None) -> ChillStart | None:
        """What stood against one another before a chill on ice, for a weighing of it; ``None`` for any other step."""
        return chill_start(self.trace(build_id, book), step_id)

    def spread(self, build_id: int, book: HouseBook | None = None) -> Spread:
        """The standard uncertainty of each reading of one build, by cause."""
        if book is None or book is self.book:
            return spread_of(self.book, build_id, self)
        return spread_of(book, build_id, self._aside(book, build_id))

    def reconcile(
        self,
        build_id: int,
        step_id_before: int | None,
        quantity: Measurable,
        value: float,
        uncertainty: float | None,
        book: HouseBook | None = None,
    ) -> Reconciled:
        """What a measured value means right after a step, or at the end where ``step_id_before`` is ``None``: the computed
        value with its own uncertainty, and how far the vessel should follow the measured one.

        Raises ``KeyError`` for an id that is no build.
        """
        truncated = book_up_to(book or self.book, build_id, step_id_before)
        aside = Aside(self, truncated, build_id)
        return reconciled(truncated, build_id, aside, quantity, value, uncertainty)

    def _aside(self, book: HouseBook, build_id: int) -> Aside:
        """The preview of a build in a changed book; the last one is kept, for its spread follows its figures."""
        if self._previewed is None or self._previewed[0] is not book or self._previewed[1] != build_id:
            self._previewed = book, build_id, Aside(self, book, build_id)
        return self._previewed[2]

    def columns_of(self, item_id: int) -> tuple[Numbers, Numbers] | None:
        """What a gram (ROWS,) and a unit (UNIT_KINDS,) of an item bring, evaluated now if need be; ``None`` for an id
        that is no item."""
        if item_id in self.book.raws:
            self._prepare_raw(item_id)
        else:
            maker = maker_of(self.book, item_id)
            if maker is None:
                return None
            self.result_now(maker.id)
        slot = self.table.slot(item_id)
        return self.table.per_gram[:, slot], self.table.per_unit[:, slot]

    def reader_of(self, build_id: int) -> Callable[[], Result]:
        """Gives the readings of a build as they are now, however late it is asked."""
        result = self.result_now(build_id)
        return lambda: result

    def program(self, build_id: int) -> Program:
        """The compiled program of a build."""
        if build_id not in self._programs:
            self._compile(build_id)
        return self._programs[build_id]

    def _compile(self, build_id: int) -> int:
        """Compiles a build and puts it in its batch, whose number it gives."""
        program = self._programs[build_id] = compile_build(self.book, self.book.builds[build_id])
        return self._place(program)

    def _place(self, program: Program) -> int:
        """Puts a program in its batch, whose number it gives."""
        return self._batches.put(program, self._slots(program), self._results.row(program.build_id))

    def run(self, build_id: int) -> Run:
        """One build run again with the state after every op; all that it rests on must be up to date."""
        program = self.program(build_id)
        known = self._runs.get(build_id)
        if known is not None and known[0] is program and build_id not in self._stale:
            return known[1]
        running = run_alone(program, slots_of(program, self.table), self.table)
        if build_id not in self._stale:
            self._keep_run(program, running)
        return running

    def _keep_run(self, program: Program, running: Run) -> None:
        """Keeps a run until its build is evaluated again; of many the last ones."""
        self._runs.pop(program.build_id, None)
        self._runs[program.build_id] = program, running
        if len(self._runs) > MOST_RUNS:
            del self._runs[next(iter(self._runs))]

    def _index(self, build: Build) -> None:
        inputs = rests_on(self.book, build)
        self._inputs[build.id] = inputs
        for item_id in inputs:
            self._users.setdefault(item_id, set()).add(build.id)
        self._note_taken(build.id, inputs_of(build))

    def _note_taken(self, build_id: int, taken: tuple[int, ...]) -> None:
        """What a build takes in now, of which nearly every change leaves the same."""
        before = self._taken.get(build_id, ())
        if taken == before:
            return
        self._taken[build_id] = taken
        for item_id in before:
            self._takers[item_id].discard(build_id)
        for item_id in taken:
            self._takers.setdefault(item_id, set()).add(build_id)
        for item_id in (*before, *taken):
            self._takers_of.pop(item_id, None)

    def _take_over(self, build_id: int) -> None:
        """A build's row or steps changed: its program, its place in the graph, and what waits on it."""
        self._keep_readings(build_id)
        build = self.book.builds.get(build_id)
        inputs = self._inputs.pop(build_id, None)
        for item_id in inputs or ():
            self._users[item_id].discard(build_id)
        self._programs.pop(build_id, None)
        if build is None or inputs != rests_on(self.book, build):
            self._levels.clear()
        if build is None:
            self._note_taken(build_id, ())
            self._stale.discard(build_id)
            self._results.drop(build_id)
            self._batches.drop(build_id)
            return
        self._index(build)
        self._stale.add(build_id)

    def _keep_readings(self, build_id: int) -> None:
        """Keeps what a vessel read that is about to change, for undo leads back to it; of many the last ones."""
        known, result = self._runs.get(build_id), self._results.get(build_id)
        if known is None or result is None or result.problems or build_id in self._stale:
            return
        self._read_before[vessel_of(known[1])] = result
        if len(self._read_before) > MOST_RUNS:
            del self._read_before[next(iter(self._read_before))]

    def _wake(self, item_id: int) -> None:
        self._stale |= self._users.get(item_id, set())

    def _mark(self, change: Change) -> None:
        """Marks what a changed row touches, beyond the builds that hold it."""
        if change.table is Table.RAW:
            self._mark_raw(int(change.key), change.before, change.after)
        elif change.table is Table.BUILD:
            if getattr(change.before, "piece_g", NO_ITEM) != getattr(change.after, "piece_g", NO_ITEM):
                self._recompile(self._users.get(int(change.key), set()))
        elif change.table is Table.LEFTOVER:
            self._recompile(self._users.get(int(change.key), set()))
            for leftover in (change.before, change.after):
                if isinstance(leftover, Leftover) and leftover.build_id in self.book.builds:
                    self._take_over(leftover.build_id)
        elif change.table in _OF_THE_HOUSE:
            self._known_raws.clear()
            self._recompile(self.book.builds)

    def _mark_raw(self, item_id: int, before: object, after: object) -> None:
        """A note or an allergen of a raw ingredient moves no figure; what it brings and how it is measured does."""
        self._known_raws.discard(item_id)
        is_new = not (isinstance(before, RawIngredient) and isinstance(after, RawIngredient))
        if is_new or _ways_to_measure(before) != _ways_to_measure(after):
            self._recompile(self._users.get(item_id, set()))
        elif self._prepare_raw(item_id):
            self._wake(item_id)

    def _recompile(self, build_ids: Iterable[int]) -> None:
        for build_id in build_ids:
            if build_id in self.book.builds:
                self._programs.pop(build_id, None)
                self._stale.add(build_id)

    def _level(self, build_id: int) -> int:
        """How far a build is from raw ingredients: 0 where it uses none but those."""
        if build_id not in self._levels:
            for member in closure_of(self.book, build_id):
                if member not in self._levels:
                    makers = (maker_of(self.book, item_id) for item_id in self._inputs[member])
                    self._levels[member] = max(
                        (self._levels.get(maker.id, -1) + 1 for maker in makers if maker is not None),
                        default=0,
                    )
        return self._levels[build_id]

    def _evaluate_below(self, build_id: int, aside: Aside | None = None) -> frozenset[int]:
        """Evaluates what is stale in a build and below it, each after those it rests on: one may wake the next. What
        ``aside`` has evaluated of the same book is taken over."""
        changed: set[int] = set()
        for member in closure_of(self.book, build_id):
            if member not in self._stale:
                continue
            if aside is not None and aside.has_evaluated(member):
                changed |= self._take_in(member, aside)
            else:
                changed |= self._evaluate_level([member])
        return frozenset(changed)

    def _take_in(self, build_id: int, aside: Aside) -> set[int]:
        """Takes over a build from a preview: its program, its run and its readings; itself, if its row changed."""
        program = self._programs[build_id] = aside.program(build_id)
        self._place(program)
        running, result = aside.run(build_id), aside.result_now(build_id)
        self._keep_run(program, running)
        block = self._block_of_one(program, running)
        changed = self._results.put([block], *_as_read(result))
        self._keep_what_left(block)
        self._stale.discard(build_id)
        return changed

    def _evaluate_level(self, build_ids: Sequence[int]) -> frozenset[int]:
        """Evaluates builds none of which rests on another, in blocks of equal skeleton."""
        for build_id in build_ids:
            if build_id not in self._programs:
                self._compile(build_id)
        for build_id in self._runs.keys() & set(build_ids):
            del self._runs[build_id]
        is_alone = len(build_ids) == 1
        blocks = [self._alone(build_ids[0])] if is_alone else list(self._batches.run(build_ids, self.table))
        read = self._read_alone(blocks[0]) if is_alone else read_blocks(blocks)
        changed = self._results.put(blocks, *read)
        for block in blocks:
            self._keep_what_left(block)
        self._stale.difference_update(build_ids)
        return frozenset(changed)

    def _alone(self, build_id: int) -> Block:
        """Runs one build with the state after every op, and keeps that: who asks for one build looks into it next."""
        program = self._programs[build_id]
        running = run_alone(program, slots_of(program, self.table), self.table)
        self._keep_run(program, running)
        return self._block_of_one(program, running)

    def _read_alone(self, block: Block) -> tuple[Figures, NDArray[np.int64]]:
        """The readings of a block of one build; those that it had before are not made again."""
        before = self._read_before.get(vessel_of(block.run))
        return read_blocks([block]) if before is None else _as_read(before)

    def _block_of_one(self, program: Program, running: Run) -> Block:
        row = self._results.row(program.build_id)
        return Block(np.array([program.build_id]), np.array([row]), [program], running)

    def _slots(self, program: Program) -> NDArray[np.int64]:
        """The columns of a program's items, each seen to be there: a raw ingredient's made, a missing item's all nan."""
        for item_id in program.items.tolist():
            if item_id in self.book.raws:
                self._prepare_raw(item_id)
            elif not self.table.has(item_id):
                self.table.put(item_id, np.full(ROWS, np.nan), np.full(UNIT_KINDS, np.nan))
        return slots_of(program, self.table)

    def _prepare_raw(self, item_id: int) -> bool:
        """Sees to it that a raw ingredient has its column; whether it differs from what stood there."""
        if item_id in self._known_raws:
            return False
        raw = self.book.raws[item_id]
        column = raw_per_gram(self.book, raw)
        self._known_raws.add(item_id)
        return self.table.put(item_id, column, raw_per_unit(self.book, raw, column))

    def _keep_what_left(self, block: Block) -> None:
        """What the builds of a block yield now, for those who pour it."""
        self._forget_lost_outputs(block)
        self._keep_outputs(block)

    def _forget_lost_outputs(self, block: Block) -> None:
        """What a build no longer yields (its strain is left out) is not there for those who pour it."""
        for program in block.programs:
            if not program.outputs and program.build_id not in self._yielded:
                continue
            for item_id in set(self._yielded.get(program.build_id, ())) - set(program.outputs):
                if self.table.put(item_id, np.full(ROWS, np.nan), np.full(UNIT_KINDS, np.nan)):
                    self._wake(item_id)
            self._yielded[program.build_id] = program.outputs

    def _keep_outputs(self, block: Block) -> None:
        """Stores what the outputs of parts bring, and wakes the users of those that changed."""
        first = block.programs[0]
        if not first.outputs and self.book.builds[first.build_id].is_drink:
            return
        states = (block.run.state, *block.run.outputs)
        nothing = np.full((ROWS, 1), np.nan)
        for column, program in enumerate(block.programs):
            for item_id, state in zip((program.build_id, *program.outputs), states, strict=True):
                self._keep_output(item_id, state[:, column : column + 1] if program.is_whole else nothing)

    def _keep_output(self, item_id: int, state: Numbers) -> None:
        item = self.book.item(item_id)
        if item is None or isinstance(item, RawIngredient):
            return
        per_gram, per_unit = output_columns(self.book, item, state, self._standing_columns)
        if self.table.put(item_id, per_gram[:, 0], per_unit[:, 0]):
            self._wake(item_id)

    def _standing_columns(self, item_id: int) -> tuple[Numbers, Numbers] | None:
        """What a gram (ROWS, 1) and a unit (UNIT_KINDS, 1) of an item bring, as they stand: what an output acts as is
        evaluated before it."""
        if item_id in self.book.raws:
            self._prepare_raw(item_id)
        elif not self.table.has(item_id):
            return None
        slot = self.table.slot(item_id)
        return self.table.per_gram[:, slot, None], self.table.per_unit[:, slot, None]


def _as_read(result: Result) -> tuple[Figures, NDArray[np.int64]]:
    """A row as readings of one column, (READING_COUNT, 1), and its flags, (1,)."""
    return Figures(result.values[:, None], result.more[:, None]), np.array([result.flags])


def _ways_to_measure(raw: object) -> tuple[object, ...]:
    """What of a raw ingredient decides how a line of it is compiled."""
    return getattr(raw, "form", "") == "liquid", getattr(raw, "piece_g", None) is None, edible_yield(raw)
