"""A preview: one build of a changed book evaluated beside the real one, borrowing all that the change does not touch."""

from collections.abc import Callable
from functools import partial
from typing import Protocol

import numpy as np

from washline.engine.batch import Block, read_blocks, run_alone, slots_of
from washline.engine.compiling_steps import compile_build
from washline.engine.items import ItemTable, output_columns, raw_per_gram, raw_per_unit
from washline.engine.program import Program
from washline.engine.result import Result, ResultTable
from washline.engine.run import Run
from washline.engine.state import ROWS, UNIT_KINDS, Numbers
from washline.model.book import HouseBook
from washline.model.graph import closure_of, maker_of, outputs_of, rests_on
from washline.model.item import Build, RawIngredient


class Base(Protocol):
    """The evaluator of the book as it stands."""

    book: HouseBook

    def result_now(self, build_id: int) -> Result:
        """The readings of a build, evaluated if need be."""

    def reader_of(self, build_id: int) -> Callable[[], Result]:
        """Gives the readings of a build as they are now, however late it is asked."""

    def program(self, build_id: int) -> Program:
        """The compiled program of a build."""

    def run(self, build_id: int) -> Run:
        """A build run with the state after every op."""

    def columns_of(self, item_id: int) -> tuple[Numbers, Numbers] | None:
        """What a gram and a unit of an item bring."""


class Aside:
    """The builds below one build of ``book``, evaluated without touching ``base``; nothing of it is kept."""

    def __init__(self, base: Base, book: HouseBook, build_id: int) -> None:
        self.book = book
        self.base = base
        self.table = ItemTable()
        self._programs: dict[int, Program] = {}
        self._results = ResultTable()
        self._runs: dict[int, Run] = {}
        self._unread: dict[int, Block] = {}
        old = base.book
        self._is_same_house = (
            book.settings is old.settings
            and book.measures is old.measures
            and book.methods is old.methods
            and book.glasses is old.glasses
            and book.ices is old.ices
            and book.vessels is old.vessels
            and book.calibrations is old.calibrations
        )
        self._changed: set[int] = set()
        for member in closure_of(book, build_id):
            self._evaluate(member)

    def result_now(self, build_id: int) -> Result:
        """The readings of one of the builds, made when somebody asks for them: users need its outputs only."""
        block = self._unread.pop(build_id, None)
        if block is not None:
            self._results.put([block], *read_blocks([block]))
        return self._results.get(build_id) or self.base.result_now(build_id)

    def reader_of(self, build_id: int) -> Callable[[], Result]:
        """Gives the readings of one of the builds as they are now, however late it is asked."""
        if build_id in self._changed:
            return partial(self.result_now, build_id)
        return self.base.reader_of(build_id)

    def has_evaluated(self, build_id: int) -> bool:
        """Whether a build was evaluated here, because it differs or rests on what does, and not taken from the base."""
        return build_id in self._changed

    def program(self, build_id: int) -> Program:
        """The compiled program of one of the builds."""
        program = self._programs.get(build_id)
        if program is None:
            is_same = self._is_same_house and self._compiles_as_before(build_id)
            program = (
                self.base.program(build_id)
                if is_same
                else compile_build(self.book, self.book.builds[build_id])
            )
            self._programs[build_id] = program
        return program

    def run(self, build_id: int) -> Run:
        """One build run with the state after every op."""
        if self._is_same_house and build_id not in self._changed:
            self.base.result_now(build_id)
            return self.base.run(build_id)
        if build_id not in self._runs:
            program = self.program(build_id)
            for item_id in program.items.tolist():
                self._borrow(item_id)
            self._runs[build_id] = run_alone(program, slots_of(program, self.table), self.table)
        return self._runs[build_id]

    def columns_of(self, item_id: int) -> tuple[Numbers, Numbers] | None:
        """What a gram (ROWS,) and a unit (UNIT_KINDS,) of an item bring here."""
        self._borrow(item_id)
        slot = self.table.slot(item_id)
        return self.table.per_gram[:, slot], self.table.per_unit[:, slot]

    def _evaluate(self, build_id: int) -> None:
        if self._is_as_before(build_id):
            return
        self._changed.add(build_id)
        program = self.program(build_id)
        running = self.run(build_id)
        row = np.array([self._results.row(build_id)])
        block = Block(np.array([build_id]), row, [program], running)
        self._unread[build_id] = block
        for item_id, state in zip(
            (build_id, *program.outputs), (running.state, *running.outputs), strict=True
        ):
            item = self.book.item(item_id)
            if item is not None and not isinstance(item, RawIngredient):
                whole = state if program.is_whole else np.full((ROWS, 1), np.nan)
                per_gram, per_unit = output_columns(self.book, item, whole, self._standing_columns)
                self.table.put(item_id, per_gram[:, 0], per_unit[:, 0])

    def _compiles_as_before(self, build_id: int) -> bool:
        """Whether a build is the same to the compiler: of a house-made part that it pours only the weight of a piece
        decides how a line is read, the rest of a changed part comes with its output."""
        if build_id not in self._changed:
            return True
        build, old = self.book.builds[build_id], self.base.book
        if old.builds.get(build_id) is not build:
            return False
        items = ((self.book.item(item_id), old.item(item_id)) for item_id in rests_on(self.book, build))
        outputs = outputs_of(build)
        return all(
            new is now or (isinstance(new, Build) and isinstance(now, Build) and new.piece_g == now.piece_g)
            for new, now in items
        ) and all(self.book.item(item_id) is old.item(item_id) for item_id in outputs)

    def _is_as_before(self, build_id: int) -> bool:
        """Whether neither the build nor anything below it differs from the book as it stands."""
        old = self.base.book
        if not self._is_same_house or self.book.builds[build_id] is not old.builds.get(build_id):
            return False
        build = self.book.builds[build_id]
        for item_id in rests_on(self.book, build):
            maker = maker_of(self.book, item_id)
            if maker is not None and maker.id in self._changed:
                return False
            if self.book.item(item_id) is not old.item(item_id):
                return False
        return all(self.book.item(item_id) is old.item(item_id) for item_id in outputs_of(build))

    def _standing_columns(self, item_id: int) -> tuple[Numbers, Numbers] | None:
        per_gram, per_unit = self.columns_of(item_id) or (None, None)
        return None if per_gram is None or per_unit is None else (per_gram[:, None], per_unit[:, None])

    def _borrow(self, item_id: int) -> None:
        """Sees to it that an item has its column here: evaluated above, taken over, or made new."""
        if self.table.has(item_id):
            return
        raw = self.book.raws.get(item_id)
        if raw is not None and not (self._is_same_house and self.base.book.raws.get(item_id) is raw):
            column = raw_per_gram(self.book, raw)
            self.table.put(item_id, column, raw_per_unit(self.book, raw, column))
            return
        found = self.base.columns_of(item_id)
        if found is None:
            found = np.full(ROWS, np.nan), np.full(UNIT_KINDS, np.nan)
        self.table.put(item_id, *found)
