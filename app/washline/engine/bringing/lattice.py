"""The best amounts in whole steps, by straight lines around one point: branch and bound over boxes of the lattice.

A box is a range of steps for each pour. Nothing in it costs less than the convex task over it (``local.least``), so that a
box whose bound lies above the last of the points kept is closed unseen (Land and Doig, Econometrica 28 (1960) 497). What is
kept is therefore the best there is by the straight lines, however far from the rounded optimum.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from washline.engine.bringing.local import Local, least
from washline.engine.state import Numbers

Places = NDArray[np.int64]
"""Indices into the steps of each pour, (pours,) or (pours, n)."""

AT_ONCE = 96
BOXES_FOR_EACH = 64
"""After so many boxes for each point to be kept the best of what was seen has to do: a drink of ten lines takes fewer, one
of twenty may not."""

SMALL_BOX = 24
"""A box of up to so many points is looked at point by point."""

Box = tuple[tuple[int, ...], tuple[int, ...]]
"""The first and last step of each pour, both in it."""


@dataclass(slots=True)
class _Search:
    local: Local
    shares: Sequence[Numbers]
    keep: int
    found: dict[tuple[int, ...], float] = field(default_factory=dict)
    limit: float = np.inf

    def take(self, points: Iterable[tuple[int, ...]]) -> None:
        """Looks at points that were not seen before; the last of those kept is the limit for all boxes."""
        new = list(dict.fromkeys(point for point in points if point not in self.found))
        if not new:
            return
        places = np.array([self._shares(point) for point in new]).T
        self.found.update(zip(new, self.local.cost(places).tolist(), strict=True))
        if len(self.found) >= self.keep:
            self.limit = sorted(self.found.values())[self.keep - 1]

    def _shares(self, point: tuple[int, ...]) -> list[float]:
        return [float(values[index]) for values, index in zip(self.shares, point, strict=True)]

    def relaxed(self, boxes: Sequence[Box]) -> tuple[Numbers, Numbers]:
        low = np.array([self._shares(first) for first, _last in boxes]).T
        high = np.array([self._shares(last) for _first, last in boxes]).T
        return least(self.local, low, high, np.repeat(self.local.point[:, None], len(boxes), axis=1))


def best_points(
    local: Local, shares: Sequence[Numbers], keep: int, boxes: Sequence[Box] | None = None
) -> tuple[tuple[int, ...], ...]:
    """Up to ``keep`` points of the lattice that cost least, the best first, each the index of a step for each pour.

    ``shares`` are the steps of each pour in shares of its scale, rising. ``boxes`` are where to look; all of the lattice
    where they are not given. In a very large task, after ``BOXES_FOR_EACH`` of them, they are the best of what was seen.
    """
    search = _Search(local, shares, keep)
    whole = (tuple(0 for _ in shares), tuple(len(values) - 1 for values in shares))
    waiting: list[tuple[float, Box]] = [(-np.inf, box) for box in boxes or (whole,)]
    seen = 0
    while waiting and seen < BOXES_FOR_EACH * keep:
        waiting.sort()
        now = [box for bound, box in waiting[:AT_ONCE] if bound < search.limit]
        waiting = [entry for entry in waiting[AT_ONCE:] if entry[0] < search.limit]
        small = [box for box in now if _points_of(box) <= SMALL_BOX]
        search.take(point for box in small for point in _all_points(box))
        large = [box for box in now if _points_of(box) > SMALL_BOX]
        seen += len(now)
        if large:
            waiting += _branched(search, large)
    ranked = sorted(search.found.items(), key=lambda entry: (entry[1], entry[0]))
    return tuple(point for point, _cost in ranked[:keep])


def _branched(search: _Search, boxes: Sequence[Box]) -> list[tuple[float, Box]]:
    """The halves of boxes that may hold something better, and the steps nearest to their optima looked at on the way."""
    places, bounds = search.relaxed(boxes)
    nearest = [_nearest(search, box, places[:, index]) for index, box in enumerate(boxes)]
    search.take(nearest)
    halves: list[tuple[float, Box]] = []
    for index, box in enumerate(boxes):
        bound = float(bounds[index])
        if bound < search.limit:
            halves += [(bound, half) for half in _halves(search, box, places[:, index])]
    return halves


def _nearest(search: _Search, box: Box, place: Numbers) -> tuple[int, ...]:
    """The point of a box that is nearest to a place, pour by pour."""
    point = []
    for values, first, last, share in zip(search.shares, *box, place.tolist(), strict=True):
        inside = values[first : last + 1]
        point.append(first + int(np.argmin(np.abs(inside - share))))
    return tuple(point)


def _halves(search: _Search, box: Box, place: Numbers) -> list[Box]:
    """A box cut in two where its optimum lies between two steps, at the pour where it lies farthest from both."""
    first, last = box
    cuts = []
    for pour, values in enumerate(search.shares):
        if first[pour] == last[pour]:
            continue
        below = int(np.searchsorted(values[first[pour] : last[pour] + 1], place[pour], side="right")) - 1
        cut = min(first[pour] + max(below, 0), last[pour] - 1)
        away = min(abs(place[pour] - values[cut]), abs(values[cut + 1] - place[pour]))
        gap = float(values[cut + 1] - values[cut])
        cuts.append((-away / gap, first[pour] - last[pour], pour, cut))
    _away, _size, pour, cut = min(cuts)
    lower = (*last[:pour], cut, *last[pour + 1 :])
    upper = (*first[:pour], cut + 1, *first[pour + 1 :])
    return [(first, lower), (upper, last)]


def _points_of(box: Box) -> int:
    points = 1
    for first, last in zip(*box, strict=True):
        points *= last - first + 1
    return points


def _all_points(box: Box) -> Iterable[tuple[int, ...]]:
    points: list[tuple[int, ...]] = [()]
    for first, last in zip(*box, strict=True):
        points = [(*point, index) for point in points for index in range(first, last + 1)]
    return points
