"""Points of the lattice on the full model: what they read, what they cost, which limits they keep, and which is better."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from washline.engine.bringing.columns import Columns
from washline.engine.bringing.continuous import change_cost
from washline.engine.bringing.request import GivesWay
from washline.engine.bringing.terms import Boundary, Terms, giving_way
from washline.engine.state import Numbers
from washline.model.reading import READING_INDEX
from washline.model.target import Aim

MOST_ROUNDS = 6
"""So often the neighbours of the best are looked at."""

Point = tuple[int, ...]
"""The index of a step for each pour."""


@dataclass(frozen=True, slots=True)
class Judged:
    """One set of amounts on the full model: all readings (READING_COUNT,), what it costs, what gives way, and which pours
    move and which of them are more than now."""

    point: Point
    numbers: tuple[float, ...]
    values: Numbers
    cost: float
    keeps_limits: bool
    gives_way: tuple[GivesWay, ...]
    moved: frozenset[int]
    more: frozenset[int]

    @property
    def rank(self) -> tuple[bool, bool, float, Point]:
        """What is less is better: within the limits, then with every reading in its band, then by what it costs."""
        return not self.keeps_limits, bool(self.gives_way), self.cost, self.point

    @property
    def signature(self) -> tuple[frozenset[int], frozenset[int], frozenset[str]]:
        """Which pours go up, which go down, and which readings give way: what tells one proposal from another."""
        return self.more, self.moved - self.more, frozenset(one.reading for one in self.gives_way)

    @property
    def ethanol_g(self) -> float:
        """Grams of pure alcohol."""
        return float(self.values[READING_INDEX["ethanol"]])


class Judge:
    """Judges points in batches, each once."""

    def __init__(
        self,
        columns: Columns,
        terms: Terms,
        aims: Sequence[tuple[Aim, float]],
        boundaries: Sequence[Boundary],
    ) -> None:
        self.columns = columns
        self.terms = terms
        self.aims = aims
        self.boundaries = boundaries
        self.known: dict[Point, Judged] = {}
        self._now = np.array([pour.before.number for pour in columns.pours])

    def judge(self, points: Iterable[Point]) -> list[Judged]:
        """What points are on the full model; those not seen before in one run."""
        asked = list(dict.fromkeys(points))
        new = [point for point in asked if point not in self.known]
        if new:
            numbers = np.array([self._numbers(point) for point in new]).T
            for point, judged in zip(new, self.judge_numbers(new, numbers), strict=True):
                self.known[point] = judged
        return [self.known[point] for point in asked]

    def judge_numbers(self, points: Sequence[Point], numbers: Numbers) -> list[Judged]:
        """The same of numbers (pours, n) that need not stand on the lattice."""
        figures = self.columns.figures(numbers)
        values, scales = figures.values, self.columns.scales
        costs = self.terms.cost(self.terms.of(values))
        costs = costs + change_cost(numbers / scales[:, None], self._now / scales)
        keeps = np.ones(len(points), dtype=np.bool_)
        for boundary in self.boundaries:
            keeps &= boundary.is_kept(values, figures.more)
        return [
            Judged(
                point,
                tuple(numbers[:, index].tolist()),
                values[:, index],
                float(costs[index]),
                bool(keeps[index]) and bool(np.isfinite(costs[index])),
                giving_way(self.aims, values[:, index]),
                frozenset(np.flatnonzero(numbers[:, index] != self._now).tolist()),
                frozenset(np.flatnonzero(numbers[:, index] > self._now).tolist()),
            )
            for index, point in enumerate(points)
        ]

    def now(self) -> Judged:
        """The drink as it stands, which need not lie on the lattice."""
        return self.judge_numbers([()], self._now[:, None])[0]

    def polished(self, best: Judged, pours: Sequence[int]) -> Judged:
        """The best on the full model among all that lie one step of one or two pours from one another, from ``best`` on:
        what the straight lines did not see."""
        for _ in range(MOST_ROUNDS):
            nearer = min(
                self.judge(self._neighbours(best.point, pours)), key=lambda one: one.rank, default=best
            )
            if nearer.rank >= best.rank:
                break
            best = nearer
        return best

    def _neighbours(self, point: Point, pours: Sequence[int]) -> Iterable[Point]:
        lengths = [len(pour.numbers) for pour in self.columns.pours]
        one = [(pour, by) for pour in pours for by in (-1, 1) if 0 <= point[pour] + by < lengths[pour]]
        for first, (pour, by) in enumerate(one):
            yield _moved(point, pour, by)
            for other, other_by in one[first + 1 :]:
                if other != pour:
                    yield _moved(_moved(point, pour, by), other, other_by)

    def _numbers(self, point: Point) -> list[float]:
        return [float(pour.numbers[index]) for pour, index in zip(self.columns.pours, point, strict=True)]


def _moved(point: Point, pour: int, by: int) -> Point:
    return (*point[:pour], point[pour] + by, *point[pour + 1 :])
