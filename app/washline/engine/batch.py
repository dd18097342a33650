"""Running many builds at once: programs with equal skeletons are stacked, one column each; what they leave in their
vessels is read together, whatever their steps were."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from washline.engine.flags import flags_of
from washline.engine.items import ItemTable
from washline.engine.program import Program
from washline.engine.readings import Figures, figures
from washline.engine.run import Run
from washline.engine.state import VOLUME, Numbers
from washline.engine.steps import run

COLUMNS_AT_ONCE = 2048
"""Blocks of this many columns stay in the processor's cache; the result does not depend on it."""


@dataclass(frozen=True, slots=True)
class Block:
    """Some builds of equal skeleton and what running them gave, column by column: ``build_ids`` and ``result_rows``,
    their rows in the table of results, are (n,); ``programs`` are theirs."""

    build_ids: NDArray[np.int64]
    result_rows: NDArray[np.int64]
    programs: Sequence[Program]
    run: Run


class Batch:
    """What the programs of one skeleton are fed with, one row each, in arrays that grow."""

    def __init__(self, program: Program) -> None:
        lines, numbers = len(program.items), len(program.numbers)
        self.ops = program.ops
        self.programs: list[Program] = []
        self.build_ids = np.zeros(4, dtype=np.int64)
        self.result_rows = np.zeros(4, dtype=np.int64)
        self.slots = np.zeros((4, lines), dtype=np.int64)
        self.kinds = np.zeros((4, lines), dtype=np.int64)
        self.amounts = np.zeros((4, lines))
        self.numbers = np.zeros((4, numbers))
        self._free: list[int] = []

    def put(self, program: Program, slots: NDArray[np.int64], result_row: int) -> int:
        """Stores what a program is fed with; its row."""
        if self._free:
            row = self._free.pop()
            self.programs[row] = program
        else:
            row = len(self.programs)
            self.programs.append(program)
        if row >= len(self.slots):
            self._grow()
        self.build_ids[row], self.result_rows[row] = program.build_id, result_row
        self.slots[row], self.kinds[row] = slots, program.kinds
        self.amounts[row], self.numbers[row] = program.amounts, program.numbers
        return row

    def _grow(self) -> None:
        self.build_ids, self.result_rows = _doubled(self.build_ids), _doubled(self.result_rows)
        self.slots, self.kinds = _doubled(self.slots), _doubled(self.kinds)
        self.amounts, self.numbers = _doubled(self.amounts), _doubled(self.numbers)

    def give_back(self, row: int) -> None:
        """The row of a program that is no longer there may be used again."""
        self._free.append(row)

    def run(self, rows: Sequence[int], table: ItemTable) -> Block:
        """Runs the programs of some rows, one column each."""
        chosen = np.array(rows, dtype=np.int64)
        slots = self.slots[chosen].T
        running = run(
            self.ops,
            np.take(table.per_gram, slots, axis=1),
            table.per_unit[self.kinds[chosen].T, slots],
            self.amounts[chosen].T,
            self.numbers[chosen].T,
        )
        programs = [self.programs[row] for row in rows]
        return Block(self.build_ids[chosen], self.result_rows[chosen], programs, running)


_Grown = TypeVar("_Grown", NDArray[np.int64], Numbers)


def _doubled(array: _Grown) -> _Grown:
    grown: _Grown = np.concatenate([array, np.zeros_like(array)])
    return grown


class Batches:
    """All programs of a house book, sorted into batches of equal skeleton."""

    def __init__(self) -> None:
        self._by_skeleton: dict[object, int] = {}
        self._batches: list[Batch] = []
        self._places: dict[int, tuple[int, int]] = {}

    def batch_of(self, build_id: int) -> int | None:
        """The number of the batch in which a build's program stands."""
        place = self._places.get(build_id)
        return None if place is None else place[0]

    def put(self, program: Program, slots: NDArray[np.int64], result_row: int) -> int:
        """Stores a program, in the place of the one that its build had before; the number of its batch."""
        self.drop(program.build_id)
        number = self._by_skeleton.setdefault(program.skeleton, len(self._batches))
        if number == len(self._batches):
            self._batches.append(Batch(program))
        self._places[program.build_id] = number, self._batches[number].put(program, slots, result_row)
        return number

    def drop(self, build_id: int) -> None:
        """Forgets a build's program."""
        place = self._places.pop(build_id, None)
        if place is not None:
            self._batches[place[0]].give_back(place[1])

    def run(self, build_ids: Iterable[int], table: ItemTable) -> Iterator[Block]:
        """Runs builds that do not rest on one another, in blocks of equal skeleton."""
        groups: dict[int, list[int]] = {}
        for number, row in map(self._places.__getitem__, build_ids):
            groups.setdefault(number, []).append(row)
        for number, rows in groups.items():
            for first in range(0, len(rows), COLUMNS_AT_ONCE):
                yield self._batches[number].run(rows[first : first + COLUMNS_AT_ONCE], table)


def slots_of(program: Program, table: ItemTable) -> NDArray[np.int64]:
    """The columns of a program's items in a table, (lines,)."""
    return np.array([table.slot(item) for item in program.items.tolist()], dtype=np.int64)


def run_alone(program: Program, slots: NDArray[np.int64], table: ItemTable) -> Run:
    """Runs one program on one column, with the state after every op."""
    running = run(
        program.ops,
        table.per_gram[:, slots][:, :, None],
        table.per_unit[program.kinds, slots][:, None],
        program.amounts[:, None],
        program.numbers[:, None],
        keep=True,
    )
    running.densities = table.per_unit[VOLUME, slots][:, None]
    return running


def read_blocks(blocks: Sequence[Block]) -> tuple[Figures, NDArray[np.int64]]:
    """The readings of all columns of all blocks in order, (READING_COUNT, n), and their flags, (n,)."""
    parts = [_read(served) for served in _sliced(_gathered([block.run for block in blocks]))]
    if len(parts) == 1:
        return parts[0]
    values = np.concatenate([figure.values for figure, _bits in parts], axis=1)
    more = np.concatenate([figure.more for figure, _bits in parts], axis=1)
    return Figures(values, more), np.concatenate([bits for _figure, bits in parts])


def vessel_of(running: Run) -> bytes:
    """All that the readings of a run are made from, to the byte: equal vessels read the same."""
    return b"".join(array.tobytes() for array in _served(running))


_Served = tuple[Numbers, Numbers, Numbers, Numbers, Numbers]
"""State, garnish, melted grams, volume before ice, and what the ranges of ice and gas look at."""


def _served(running: Run) -> _Served:
    return running.state, running.garnish, running.melted_g, running.before_ice_ml, running.ranged


def _gathered(runs: Sequence[Run]) -> _Served:
    if len(runs) == 1:
        return _served(runs[0])
    columns = zip(*(_served(running) for running in runs), strict=True)
    state, garnish, melted, before, ranged = (np.concatenate(arrays, axis=-1) for arrays in columns)
    return state, garnish, melted, before, ranged


def _sliced(served: _Served) -> Iterator[_Served]:
    for first in range(0, served[0].shape[1], COLUMNS_AT_ONCE):
        last = first + COLUMNS_AT_ONCE
        state, garnish, melted, before, ranged = (array[..., first:last] for array in served)
        yield state, garnish, melted, before, ranged


def _read(served: _Served) -> tuple[Figures, NDArray[np.int64]]:
    state, garnish, melted, before, ranged = served
    found = figures(state, garnish, melted, before)
    return found, flags_of(state, found, ranged)
