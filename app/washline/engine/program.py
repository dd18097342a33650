"""A compiled build: a short program whose sequence is a key and whose typed numbers are a vector.

Builds with equal skeletons run together, one column each.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from washline.engine.state import Numbers

Op = tuple[str | int | tuple[int, ...], ...]
"""One operation: its name, then indices of lines and numbers; two builds with equal ops differ in numbers only."""

NONE = -1
"""In an op: there is no such number or output."""


@dataclass(frozen=True, slots=True)
class LineProblem:
    """Why a step could not be computed, in words for the row. One on the glass spoils cost and energy only."""

    step_id: int
    words: str
    is_on_glass: bool = False


@dataclass(slots=True)
class Program:
    """A compiled build. Lines are its adds, infusions, adjustments, tops and garnishes in canonical order; ``items``,
    ``kinds`` and ``amounts`` run along them. ``numbers`` are all other typed numbers, and ``doubtful`` says which of them a
    cause of uncertainty can move: (step, what it is, index). ``op_steps`` gives the step of each op (``NONE`` for a run of
    pours), ``line_steps`` the step of each line (``NONE`` for one that is only looked at)."""

    build_id: int
    ops: tuple[Op, ...]
    items: NDArray[np.int64]
    kinds: NDArray[np.int64]
    amounts: Numbers
    numbers: Numbers
    line_steps: tuple[int, ...]
    op_steps: tuple[int, ...]
    outputs: tuple[int, ...]
    problems: tuple[LineProblem, ...] = ()
    doubtful: tuple[tuple[int, str, int], ...] = ()

    @property
    def skeleton(self) -> tuple[tuple[Op, ...], int, int]:
        """What must be equal for two programs to run in one batch."""
        return self.ops, len(self.items), len(self.numbers)

    @property
    def is_whole(self) -> bool:
        """Whether everything in the vessel could be computed; a problem on the glass spoils no liquid."""
        return all(problem.is_on_glass for problem in self.problems)
