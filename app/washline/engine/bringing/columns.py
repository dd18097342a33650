"""The full model in columns: one run of the drink's own program for as many sets of amounts as are asked for."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from washline.engine.bringing.pours import Pour
from washline.engine.program import Program
from washline.engine.readings import Figures, figures_of
from washline.engine.run import Run
from washline.engine.spread import Source
from washline.engine.state import ROWS, Numbers
from washline.engine.steps import run

DIFFERENCE = 1e-4
"""How far the two sides of a central difference lie from the middle, as a share of a line's scale."""


@dataclass(frozen=True, slots=True)
class Columns:
    """A drink's program with what its items bring, ready to run at any amounts of its pours: ``per_gram`` (ROWS, lines, 1)
    and ``per_unit`` (lines, 1)."""

    program: Program
    pours: tuple[Pour, ...]
    per_gram: Numbers
    per_unit: Numbers

    def run(self, numbers: Numbers) -> Run:
        """Runs the program at the numbers of its pours, (pours, n)."""
        count = numbers.shape[1]
        amounts = np.repeat(self.program.amounts[:, None], count, axis=1)
        for pour, row in zip(self.pours, numbers, strict=True):
            amounts[pour.line] = pour.sizes(row)
        return run(
            self.program.ops,
            np.repeat(self.per_gram, count, axis=2),
            np.repeat(self.per_unit, count, axis=1),
            amounts,
            np.repeat(self.program.numbers[:, None], count, axis=1),
        )

    def figures(self, numbers: Numbers) -> Figures:
        """The readings at the numbers of the pours, (pours, n)."""
        return figures_of(self.run(numbers))

    @property
    def scales(self) -> Numbers:
        """The scale of each pour, (pours,)."""
        return np.array([pour.scale for pour in self.pours])


def columns_of(program: Program, pours: Sequence[Pour], source: Source) -> Columns:
    """Takes what the items of a program bring from a source that has all that it rests on up to date."""
    lines = len(program.items)
    per_gram, per_unit = np.full((ROWS, lines, 1), np.nan), np.full((lines, 1), np.nan)
    for line, (item_id, kind) in enumerate(zip(program.items.tolist(), program.kinds.tolist(), strict=True)):
        found = source.columns_of(item_id)
        if found is not None:
            per_gram[:, line, 0], per_unit[line, 0] = found[0], found[1][kind]
    return Columns(program, tuple(pours), per_gram, per_unit)


def sides(numbers: Numbers, scales: Numbers) -> Numbers:
    """The numbers (pours,) as they stand, then each a little higher, then each a little lower but not below zero:
    (pours, 1 + 2 pours)."""
    count = len(numbers)
    columns = np.repeat(numbers[:, None], 1 + 2 * count, axis=1)
    for pour in range(count):
        columns[pour, 1 + pour] += DIFFERENCE * scales[pour]
        columns[pour, 1 + count + pour] = max(numbers[pour] - DIFFERENCE * scales[pour], 0.0)
    return columns


def slopes(columns: Numbers, values: Numbers, scales: Numbers) -> Numbers:
    """How values (rows, 1 + 2 pours) at ``sides`` change when a pour changes by its scale, (rows, pours); 0 where they are
    not known on both sides."""
    count = columns.shape[0]
    found = np.zeros((values.shape[0], count))
    for pour in range(count):
        high, low = 1 + pour, 1 + count + pour
        apart = (columns[pour, high] - columns[pour, low]) / scales[pour]
        found[:, pour] = (values[:, high] - values[:, low]) / apart
    return np.where(np.isfinite(found), found, 0.0)
