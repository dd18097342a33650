"""The searches behind the proposals: nearest to the target, by the fewest lines, and with the least alcohol."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from washline.engine.bringing.columns import Columns
from washline.engine.bringing.continuous import Optimum, optimum, straight_lines
from washline.engine.bringing.judging import Judge, Judged
from washline.engine.bringing.lattice import Box, best_points
from washline.engine.bringing.terms import ALCOHOL, Boundary, bands_of, terms_of
from washline.engine.state import Numbers
from washline.model.reading import READING_INDEX
from washline.model.target import Aim

KEEP = 64
"""So many points of the lattice are judged on the full model in one batch."""

KEEP_OTHERS = 24
MOST_LINES = 3
"""More lines than this are not few."""

ALCOHOL_TOLERANCE_G = 5.0
"""So much less alcohol is worth a tolerance within a band to the proposal that looks for it (common practice, no
source)."""

WORTH_SAYING_G = 0.2


@dataclass(slots=True)
class Found:
    """All that was judged worth a look, by what it was looked for."""

    best: Judged | None = None
    fewest: Judged | None = None
    least_alcohol: Judged | None = None
    others: tuple[Judged, ...] = ()


class Searches:
    """The searches of one request, on one program."""

    def __init__(
        self, columns: Columns, aims: Sequence[tuple[Aim, float]], boundaries: Sequence[Boundary]
    ) -> None:
        self.columns = columns
        self.aims = aims
        self.boundaries = boundaries
        self.terms = terms_of(aims, boundaries)
        self.judge = Judge(columns, self.terms, aims, boundaries)
        self.shares = [pour.numbers / pour.scale for pour in columns.pours]
        self.now = self.judge.now()
        self.optimum = optimum(columns, self.terms)

    def all(self) -> Found:
        """Every search, one after the other."""
        pool = self._nearest()
        best = min(pool, key=_rank, default=None)
        if best is None or not best.keeps_limits:
            return Found()
        fewest = self._fewest(best)
        less = self._least_alcohol(best)
        others = tuple(sorted((one for one in pool if self.is_better(one)), key=_rank))
        return Found(best, fewest, less, others)

    def is_better(self, judged: Judged) -> bool:
        """Whether something moves, no limit breaks, and it lies nearer than the drink as it stands."""
        return judged.keeps_limits and bool(judged.moved) and judged.rank[:3] < self.now.rank[:3]

    def _nearest(self) -> list[Judged]:
        """The best of the straight lines, and where none of them has every reading in its band those of a search that
        keeps the bands above all; both with what lies around their best."""
        every = range(len(self.shares))
        found = self._around(self.optimum, KEEP)
        best = min(found, key=_rank)
        found.append(self.judge.polished(best, every))
        if best.gives_way or not best.keeps_limits:
            strict = optimum(self.columns, terms_of(self.aims, (*self.boundaries, *bands_of(self.aims))))
            found += self._around(strict, KEEP)
            found.append(self.judge.polished(min(found, key=_rank), every))
        return found

    def _around(self, place: Optimum, keep: int) -> list[Judged]:
        return self.judge.judge(best_points(place.local, self.shares, keep))

    def _fewest(self, best: Judged) -> Judged | None:
        """The fewest lines by which as many readings lie in their bands as by the best."""
        given = {one.reading for one in best.gives_way}
        terms = terms_of(self.aims, (*self.boundaries, *bands_of(self.aims, given)))
        local = straight_lines(self.columns, terms)
        for count in range(1, min(MOST_LINES, len(best.moved) - 1) + 1):
            boxes = self._boxes(count)
            if not boxes:
                continue
            found = self.judge.judge(best_points(local, self.shares, KEEP_OTHERS, boxes))
            found = [one for one in found if one.moved]
            first = min(found, key=_rank, default=None)
            if first is None:
                continue
            first = self.judge.polished(first, sorted(first.moved))
            if self.is_better(first) and {one.reading for one in first.gives_way} <= given:
                return first
        return None

    def _boxes(self, count: int) -> list[Box]:
        """All of the lattice in which no more than ``count`` pours move; a pour whose limits do not let it stay as it is
        moves always."""
        places = [np.flatnonzero(pour.numbers == pour.before.number).tolist() for pour in self.columns.pours]
        must = [pour for pour, place in enumerate(places) if not place]
        may = [pour for pour, place in enumerate(places) if place]
        boxes = []
        for chosen in combinations(may, count - len(must)) if count >= len(must) else ():
            free = {*must, *chosen}
            first = tuple(0 if pour in free else places[pour][0] for pour in range(len(places)))
            last = tuple(
                len(self.shares[pour]) - 1 if pour in free else places[pour][0] for pour in range(len(places))
            )
            boxes.append((first, last))
        return boxes

    def _least_alcohol(self, best: Judged) -> Judged | None:
        """The least alcohol by which as many readings lie in their bands as by the best."""
        if not best.ethanol_g > WORTH_SAYING_G:
            return None
        given = {one.reading for one in best.gives_way}
        limits = (*self.boundaries, *bands_of(self.aims, given))
        terms = terms_of(self.aims, limits, {ALCOHOL: ALCOHOL_TOLERANCE_G})
        found = self._around(optimum(self.columns, terms), KEEP_OTHERS)
        fit = [
            one for one in found if self.is_better(one) and {gone.reading for gone in one.gives_way} <= given
        ]
        least = min(fit, key=lambda one: (one.ethanol_g, *_rank(one)), default=None)
        return least if least is not None and least.ethanol_g < best.ethanol_g - WORTH_SAYING_G else None

    def moves(self, key: str) -> bool:
        """Whether any pour moves a reading at the optimum."""
        rows = [row for row, index in enumerate(self.terms.index) if index == READING_INDEX[key]]
        slopes: Numbers = self.optimum.local.slopes[rows]
        return bool(np.any(np.abs(slopes) > 0.0))


def _rank(judged: Judged) -> tuple[bool, bool, float, tuple[int, ...]]:
    return judged.rank
