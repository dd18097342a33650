"""A preview: one build of a changed book evaluated beside the real one, borrowing all that the change does not touch."""

from typing import Protocol

import numpy as np

from washline.engine.batch import Block, read_blocks, run_alone, slots_of
from washline.engine.items import ItemTable, output_per_gram, output_per_unit, raw_per_gram, raw_per_unit
from washline.engine.program import Program, compile_build
from washline.engine.result import Result, ResultTable
from washline.engine.state import ROWS, UNIT_KINDS, Numbers
from washline.engine.steps import Run
from washline.model.book import HouseBook
from washline.model.graph import closure_of, inputs_of, maker_of
from washline.model.item import RawIngredient


class Base(Protocol):
    """The evaluator of the book as it stands."""

    book: HouseBook

    def result_now(self, build_id: int) -> Result:
        """The readings of a build, evaluated if need be."""

    def program(self, build_id: int) -> Program:
        """The compiled program of a build."""

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
        old = base.book
        self._is_same_house = (
            book.settings is old.settings
            and book.measures is old.measures
            and book.methods is old.methods
            and book.glasses is old.glasses
        )
        self._changed: set[int] = set()
        for member in closure_of(book, build_id):
            self._evaluate(member)

    def result_now(self, build_id: int) -> Result:
        """The readings of one of the builds."""
        return self._results.get(build_id) or self.base.result_now(build_id)

    def program(self, build_id: int) -> Program:
        """The compiled program of one of the builds."""
        program = self._programs.get(build_id)
        if program is None:
            is_same = self._is_same_house and build_id not in self._changed
            program = (
                self.base.program(build_id)
                if is_same
                else compile_build(self.book, self.book.builds[build_id])
            )
            self._programs[build_id] = program
        return program

    def run(self, build_id: int) -> Run:
        """One build run with the state after every op."""
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
        self._results.put([block], *read_blocks([block]))
        for item_id, state in zip(
            (build_id, *program.outputs), (running.state, *running.outputs), strict=True
        ):
            item = self.book.item(item_id)
            if item is not None and not isinstance(item, RawIngredient):
                per_gram = output_per_gram(
                    self.book, item, state if program.is_whole else np.full((ROWS, 1), np.nan)
                )
                self.table.put(item_id, per_gram[:, 0], output_per_unit(self.book, item, per_gram)[:, 0])

    def _is_as_before(self, build_id: int) -> bool:
        """Whether neither the build nor anything below it differs from the book as it stands."""
        old = self.base.book
        if not self._is_same_house or self.book.builds[build_id] is not old.builds.get(build_id):
            return False
        for item_id in inputs_of(self.book.builds[build_id]):
            maker = maker_of(self.book, item_id)
            if maker is not None and maker.id in self._changed:
                return False
            if self.book.item(item_id) is not old.item(item_id):
                return False
        return True

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
