"""The readings of builds: one build's row as the rest of the program takes it, and the table that holds all rows."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from washline.engine.batch import Block
from washline.engine.flags import is_outside, reasons
from washline.engine.program import LineProblem, Program
from washline.engine.readings import READING_COUNT, Figures
from washline.engine.state import Numbers
from washline.model.reading import READING_INDEX


@dataclass(frozen=True, slots=True)
class Result:
    """Readings of one build: ``values`` and ``more`` are (len(READINGS),) in the order of ``model.reading.READINGS``.

    A value of nan is no value, ``problems`` and ``reasons`` say why; ``more`` is how much higher it may be because
    something in it is unknown ("at least"). ``flags`` are the bits of ``chemistry.ranges`` that do not hold.
    """

    item_id: int
    values: Numbers
    more: Numbers
    flags: int = 0
    problems: tuple[LineProblem, ...] = ()

    def value(self, key: str) -> float | None:
        """A reading, or ``None`` where there is none."""
        number = float(self.values[READING_INDEX[key]])
        return None if number != number else number

    def more_than(self, key: str) -> float:
        """How much higher a reading may be than its value because something is unknown."""
        return float(self.more[READING_INDEX[key]])

    def is_outside(self, key: str) -> bool:
        """Whether a reading has left the range where its formula holds, so that it is shown greyed with the reason."""
        return is_outside(self.flags, key)

    def reasons(self, key: str) -> tuple[str, ...]:
        """Why a reading is missing, greyed or less sure than usual, in words."""
        spoilt = () if self.value(key) is not None else tuple(problem.words for problem in self.problems)
        return (*spoilt, *reasons(self.flags, key))


_ON_GLASS_TOO = [READING_INDEX[key] for key in ("cost", "energy_kcal", "energy_kj")]


class ResultTable:
    """The rows of all builds in arrays that grow; a row is made into a ``Result`` when somebody asks for it."""

    def __init__(self) -> None:
        self._rows: dict[int, int] = {}
        self._values = np.full((64, READING_COUNT), np.nan)
        self._more = np.zeros((64, READING_COUNT))
        self._flags = np.zeros(64, dtype=np.int64)
        self._is_known = np.zeros(64, dtype=np.bool_)
        self._problems: dict[int, tuple[LineProblem, ...]] = {}
        self._used = 0

    def get(self, build_id: int) -> Result | None:
        """The row of a build, a copy; ``None`` where there is none."""
        row = self._rows.get(build_id)
        if row is None or not self._is_known[row]:
            return None
        problems = self._problems.get(build_id, ())
        return Result(
            build_id, self._values[row].copy(), self._more[row].copy(), int(self._flags[row]), problems
        )

    def row(self, build_id: int) -> int:
        """Where the row of a build stands, made if it is new."""
        row = self._rows.get(build_id)
        if row is None:
            row = self._rows[build_id] = self._used
            self._used += 1
            if row >= len(self._flags):
                self._grow()
        return row

    def adopt(self, results: Mapping[int, Result]) -> None:
        """Puts rows in that were computed before."""
        for build_id, result in results.items():
            row = self.row(build_id)
            self._values[row], self._more[row], self._flags[row] = result.values, result.more, result.flags
            self._is_known[row] = True
            if result.problems:
                self._problems[build_id] = result.problems

    def drop(self, build_id: int) -> None:
        """Forgets the row of a build that is no longer there; its place in the arrays is not used again."""
        self._rows.pop(build_id, None)
        self._problems.pop(build_id, None)

    def put(self, blocks: Sequence[Block], figures: Figures, flags: NDArray[np.int64]) -> set[int]:
        """Stores the figures of blocks as rows; the builds whose row was new or differs by one bit."""
        build_ids = np.concatenate([block.build_ids for block in blocks])
        rows = np.concatenate([block.result_rows for block in blocks])
        values, more = figures.values.T.copy(), figures.more.T.copy()
        programs = (program for block in blocks for program in block.programs)
        changed = set()
        for index, program in enumerate(programs):
            if program.problems or (self._problems and program.build_id in self._problems):
                changed |= self._put_problems(program)
                values[index] = _spoilt(values[index], program)
        differs = (
            ~self._is_known[rows]
            | _differ(self._values[rows], values)
            | _differ(self._more[rows], more)
            | (self._flags[rows] != flags)
        )
        self._values[rows], self._more[rows], self._flags[rows] = values, more, flags
        self._is_known[rows] = True
        return changed | set(build_ids[differs].tolist())

    def _put_problems(self, program: Program) -> set[int]:
        is_new = self._problems.get(program.build_id, ()) != program.problems
        if program.problems:
            self._problems[program.build_id] = program.problems
        else:
            self._problems.pop(program.build_id, None)
        return {program.build_id} if is_new else set()

    def _grow(self) -> None:
        self._values = np.concatenate([self._values, np.full_like(self._values, np.nan)])
        self._more = np.concatenate([self._more, np.zeros_like(self._more)])
        self._flags = np.concatenate([self._flags, np.zeros_like(self._flags)])
        self._is_known = np.concatenate([self._is_known, np.zeros_like(self._is_known)])


def _spoilt(values: Numbers, program: Program) -> Numbers:
    """A row whose program has a problem: what it spoils has no value."""
    spoilt = values.copy()
    if program.problems:
        spoilt[_ON_GLASS_TOO if program.is_whole else slice(None)] = np.nan
    return spoilt


def _differ(old: Numbers, new: Numbers) -> NDArray[np.bool_]:
    """Which rows differ by one bit, nan equal to nan."""
    different: NDArray[np.bool_] = np.any(old.view(np.int64) != new.view(np.int64), axis=1)
    return different
