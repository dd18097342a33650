"""What of each step is in one place, while a trace is made: a matrix that is split and scaled in one call."""

from collections.abc import Iterator

import numpy as np

from washline.engine.liquid import NOTHING
from washline.engine.state import BITTER, COST, ROWS, UNKNOWN_COST, Numbers, mass_g
from washline.engine.traced import ratio

LAST_DIGITS = 1e-12
_PAID = [COST, UNKNOWN_COST]


class Shares:
    """Shares by step, each (ROWS,), in the order in which the steps came: as columns of one matrix with room for
    ``capacity`` of them. What was handed out stays as it is when the whole is scaled, since that makes a new matrix."""

    __slots__ = ("_places", "_rows")

    def __init__(self, capacity: int) -> None:
        self._places: dict[int, int] = {}
        # Column by column, so that a share is one piece of memory for all who read it.
        self._rows: Numbers = np.zeros((ROWS, capacity), order="F")

    def __contains__(self, step_id: int) -> bool:
        return step_id in self._places

    def __getitem__(self, step_id: int) -> Numbers:
        """The share of a step, (ROWS,). Raises ``KeyError`` for one that is not there."""
        return self._rows[:, self._places[step_id]]

    def __setitem__(self, step_id: int, rows: Numbers) -> None:
        self._rows[:, self._places.setdefault(step_id, len(self._places))] = rows

    def items(self) -> Iterator[tuple[int, Numbers]]:
        """The steps with their shares, (ROWS,) each."""
        return ((step_id, self._rows[:, place]) for step_id, place in self._places.items())

    @property
    def rows(self) -> Numbers:
        """All shares, (ROWS, steps)."""
        return self._rows[:, : len(self._places)]

    def scaled(self, kept: Numbers) -> "Shares":
        """The same part (ROWS,) of every share."""
        return self._like(self._rows * kept[:, None])

    def gain(self, more: "Shares") -> None:
        """Adds shares to those of the same steps."""
        if not self._places:
            self._places, self._rows = dict(more._places), more._rows.copy(order="K")
        elif more._places == self._places:
            self._rows = self._rows + more._rows
        else:
            for step_id, rows in more.items():
                self[step_id] = self[step_id] + rows if step_id in self else rows

    def acting(self, whole: Numbers) -> "Shares":
        """What acts as ``whole`` (ROWS,) is its lines' by weight; what was paid stays each line's own."""
        acting = np.asfortranarray(whole[:, None] * self._part_of(mass_g(self._rows)))
        acting[_PAID] = self._rows[_PAID]
        return self._like(acting)

    def tasting(self, bitter: float) -> "Shares":
        """The same with the bitterness that the house tastes, all lines' by weight."""
        tasting = self._rows.copy(order="K")
        tasting[BITTER] = bitter * self._part_of(mass_g(self._rows))
        return self._like(tasting)

    def becoming(self, before: Numbers, after: Numbers, *, is_scaled: bool) -> "Shares":
        """What becomes something else does so in each line's share; what comes new is of the lines that gave for it."""
        is_new = np.abs(before) <= 0.0 if is_scaled else after > before
        kept = np.where(is_new, 1.0, ratio(after, before))
        came = np.where(is_new, after - before, 0.0)
        held_g = mass_g(self._rows)
        gave_g = np.maximum(mass_g(self._rows * (1.0 - kept)[:, None]), 0.0)
        # What is only the last digits of a sum gave nothing: then what came is shared by weight.
        if not self._total(gave_g) > LAST_DIGITS * self._total(held_g):
            gave_g = held_g
        return self._like(self._rows * kept[:, None] + came[:, None] * self._part_of(gave_g))

    def _part_of(self, grams: Numbers) -> Numbers:
        """What part of all grams (capacity,) each step has, nothing where there is nothing to share."""
        total = self._total(grams)
        return grams / total if total > NOTHING else np.zeros(len(grams))

    def _total(self, grams: Numbers) -> float:
        count = len(self._places)
        return float(np.add.accumulate(grams[:count])[-1]) if count else 0.0

    def _like(self, rows: Numbers) -> "Shares":
        """Shares of the same steps with other rows (ROWS, capacity)."""
        other = object.__new__(Shares)
        other._places, other._rows = dict(self._places), rows
        return other
