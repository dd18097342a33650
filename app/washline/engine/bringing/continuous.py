"""The amounts that cost least on the full model, before anybody thinks of jigger steps: Gauss and Newton's method, damped.

Each pass takes the readings as straight lines, solves that convex task exactly within the limits, and looks at the full
model there (Levenberg 1944, Marquardt 1963: what did not come out is tried again nearer).
"""

from dataclasses import dataclass

import numpy as np

from washline.engine.bringing.columns import Columns, sides, slopes
from washline.engine.bringing.local import Local, least
from washline.engine.bringing.pours import starts
from washline.engine.bringing.terms import CHANGE, Terms
from washline.engine.state import Numbers

MOST_PASSES = 60
FIRST_DAMPING = 1e-2
MOST_DAMPING = 1e8
CLOSE = 1e-11
MOST_BENDS = 4
BESIDE = 0.01
"""So far beside its end, in shares of a pour's scale, the search looks for a bend of the model."""

WORTH_IT = 1e-8


@dataclass(frozen=True, slots=True)
class Optimum:
    """Where the search ended: shares and numbers (pours,) of the pours, what they cost, all readings there, and the
    straight lines around it."""

    shares: Numbers
    numbers: Numbers
    cost: float
    values: Numbers
    local: Local


@dataclass(frozen=True, slots=True)
class _Look:
    """The full model at one place: readings of the terms, their slopes, all readings, and the cost."""

    readings: Numbers
    slopes: Numbers
    values: Numbers
    cost: float


def optimum(columns: Columns, terms: Terms, change: float = CHANGE) -> Optimum:
    """The amounts that cost least within the limits of the pours, found from where they are now.

    The full model has bends (ramps between two ways to chill, tables): where the search ends it looks just beside for a
    lower place on the other side of one.
    """
    search = _Search(columns, terms, change)
    place, look = search.descended(starts(columns.pours) / columns.scales)
    for _ in range(MOST_BENDS):
        beside = search.beside(place, look)
        if beside is None:
            break
        place, look = search.descended(beside)
    return Optimum(place, place * columns.scales, look.cost, look.values, search.local(place, look))


def straight_lines(columns: Columns, terms: Terms, change: float = CHANGE) -> Local:
    """The straight lines around the amounts as they are now, within their limits."""
    search = _Search(columns, terms, change)
    place = starts(columns.pours) / columns.scales
    return search.local(place, search.looks(place[:, None])[0])


class _Search:
    """The full model of some pours, their limits and what they cost."""

    def __init__(self, columns: Columns, terms: Terms, change: float) -> None:
        self.columns, self.terms, self.change = columns, terms, change
        self.scales = columns.scales
        self.low = np.array([pour.low for pour in columns.pours]) / self.scales
        self.high = np.array([pour.high for pour in columns.pours]) / self.scales
        self.now = np.array([pour.before.number for pour in columns.pours]) / self.scales

    def local(self, place: Numbers, look: _Look, damping: float = 0.0) -> Local:
        """The straight lines through a look, with a pull to the amounts of now and, damped, to the place itself."""
        pull = self.change + damping
        centre = (self.change * self.now + damping * place) / pull
        return Local(self.terms, place, look.readings, look.slopes, pull, centre)

    def foot(self, local: Local) -> Numbers:
        """The place of least cost by straight lines, within the limits."""
        start = np.minimum(np.maximum(local.point, self.low), self.high)
        return least(local, self.low[:, None], self.high[:, None], start[:, None])[0][:, 0]

    def descended(self, place: Numbers) -> tuple[Numbers, _Look]:
        """From a place down to where no step leads lower."""
        look = self.looks(place[:, None])[0]
        damping = FIRST_DAMPING
        for _ in range(MOST_PASSES):
            trial = self.foot(self.local(place, look, damping))
            if float(np.max(np.abs(trial - place))) <= CLOSE:
                break
            there = self.looks(trial[:, None])[0]
            if there.cost < look.cost:
                is_close = look.cost - there.cost <= CLOSE * there.cost and damping < FIRST_DAMPING
                place, look, damping = trial, there, damping * 0.1
                if is_close:
                    break
            elif damping > MOST_DAMPING:
                break
            else:
                damping *= 10.0
        return place, look

    def beside(self, place: Numbers, look: _Look) -> Numbers | None:
        """A lower place that the straight lines just beside point to, or ``None``."""
        count = len(place)
        around = np.repeat(place[:, None], 2 * count, axis=1)
        for pour in range(count):
            around[pour, pour] += BESIDE
            around[pour, count + pour] -= BESIDE
        around = np.minimum(np.maximum(around, self.low[:, None]), self.high[:, None])
        looks = self.looks(around)
        trials = np.array([self.foot(self.local(around[:, n], one)) for n, one in enumerate(looks)]).T
        rows = self.terms.of(self.columns.figures(trials * self.scales[:, None]).values)
        costs = self.terms.cost(rows) + change_cost(trials, self.now, self.change)
        best = int(np.argmin(costs))
        return trials[:, best] if costs[best] < look.cost * (1.0 - WORTH_IT) else None

    def looks(self, places: Numbers) -> list[_Look]:
        """The full model at places (pours, n), all in one run."""
        numbers = [sides(place * self.scales, self.scales) for place in places.T]
        values = self.columns.figures(np.concatenate(numbers, axis=1)).values
        found = []
        for index, one in enumerate(numbers):
            block = values[:, index * one.shape[1] : (index + 1) * one.shape[1]]
            rows = self.terms.of(block)
            cost = self.terms.cost(rows[:, :1]) + change_cost(
                places[:, index : index + 1], self.now, self.change
            )
            found.append(_Look(rows[:, 0], slopes(one, rows, self.scales), block[:, 0], float(cost[0])))
        return found


def change_cost(shares: Numbers, now: Numbers, change: float = CHANGE) -> Numbers:
    """What it costs that pours stand at shares (pours, n) and not at those now (pours,): an array (n,)."""
    total = np.zeros(shares.shape[1])
    for pour in range(len(now)):
        total += change * (shares[pour] - now[pour]) * (shares[pour] - now[pour])
    return total
