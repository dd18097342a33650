"""What the search makes least: how far readings lie from what is wanted, and how much of the drink changes.

An aim costs, by its weight, ``INSIDE`` times the square of its distance from the ideal in tolerances (of the side it lies
on), and the full square of what lies beyond its band: smooth and convex, it grows slowly within the band and fast beyond
its edge. A limit costs nothing within and ``HARD`` times the square of what lies beyond. Each line costs ``CHANGE`` times
the square of the share by which it changes, so that of equal ways the least change wins. The three figures are the house's
sense of proportion (common practice, no source): a line doubled weighs as much as 0.7 of a tolerance inside the band.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from washline.engine.bringing.request import GivesWay, Request
from washline.engine.state import Numbers
from washline.model.reading import BY_KEY, READING_INDEX
from washline.model.target import Aim

INSIDE = 0.1
CHANGE = 0.05
HARD = 1000.0
ALCOHOL = "ethanol"
ROUNDING = 1e-9
"""So small a part of a tolerance is the last digits of the sum."""


@dataclass(frozen=True, slots=True)
class Terms:
    """Aims and limits as rows; all arrays are (rows,). ``index`` is the reading; ``above`` and ``below`` are the tolerance
    of each side; ``inside`` and ``outside`` what its square costs."""

    index: tuple[int, ...]
    ideal: Numbers
    low: Numbers
    high: Numbers
    above: Numbers
    below: Numbers
    inside: Numbers
    outside: Numbers

    def cost(self, values: Numbers) -> Numbers:
        """What all rows cost together, (n,), of their readings (rows, n); endless where one is not known."""
        away, beyond, _side, _edge = self._distances(values)
        costs = self.inside[:, None] * away * away + self.outside[:, None] * beyond * beyond
        total = np.add.accumulate(costs, axis=0)[-1] if len(costs) else np.zeros(values.shape[1])
        return np.where(np.isnan(total), np.inf, total)

    def bends(self, values: Numbers) -> tuple[Numbers, Numbers]:
        """First and second derivative of each row's cost by its reading, (rows, n) each."""
        away, beyond, side, edge = self._distances(values)
        inside, outside = self.inside[:, None], self.outside[:, None]
        first = 2.0 * (inside * away / side + outside * beyond / edge)
        second = 2.0 * (inside / (side * side) + np.where(beyond != 0.0, outside / (edge * edge), 0.0))
        return first, second

    def _distances(self, values: Numbers) -> tuple[Numbers, Numbers, Numbers, Numbers]:
        """Of readings (rows, n): the distance from the ideal and what lies beyond the band, in tolerances with their sign,
        and the tolerance that counts for each."""
        above, below, ideal = self.above[:, None], self.below[:, None], self.ideal[:, None]
        side = np.where(values >= ideal, above, below)
        over = np.maximum(values - self.high[:, None], 0.0)
        under = np.maximum(self.low[:, None] - values, 0.0)
        edge = np.where(over > 0.0, above, below)
        return (values - ideal) / side, (over - under) / edge, side, edge

    def of(self, values: Numbers) -> Numbers:
        """The readings of the rows, (rows, n), of all readings (READING_COUNT, n)."""
        rows: Numbers = values[list(self.index)]
        return rows


def widths(aim: Aim) -> tuple[float, float]:
    """The tolerance of an aim above and below its ideal; a side without one takes the other's, and the step of the axis
    where neither has one."""
    above, below = aim.high - aim.ideal, aim.ideal - aim.low
    step = BY_KEY[aim.reading].step
    return above if above > 0.0 else below if below > 0.0 else step, (
        below if below > 0.0 else above if above > 0.0 else step
    )


@dataclass(frozen=True, slots=True)
class Boundary:
    """A limit that nothing may cross; ``counts_unknown``: what may be in it counts as if it were."""

    reading: str
    low: float
    high: float
    width: float
    counts_unknown: bool = False

    def is_kept(self, values: Numbers, more: Numbers) -> NDArray[np.bool_]:
        """Whether readings and what they may be higher, (READING_COUNT, n), keep it, (n,)."""
        index = READING_INDEX[self.reading]
        highest = values[index] + more[index] if self.counts_unknown else values[index]
        rounding = ROUNDING * self.width
        kept: NDArray[np.bool_] = (values[index] >= self.low - rounding) & (highest <= self.high + rounding)
        return kept


def boundaries_of(request: Request) -> tuple[Boundary, ...]:
    """All limits of a request, by reading."""
    found = dict.fromkeys(_boundaries(request))
    return tuple(sorted(found, key=lambda one: (one.reading, one.low, one.high)))


def _boundaries(request: Request) -> Iterator[Boundary]:
    for key, (low, high) in request.hold.items():
        yield Boundary(key, low, high, BY_KEY[key].step)
    for gate in (*request.gates, *(aim for aim in request.aims if aim.is_gate)):
        yield Boundary(gate.reading, gate.low, gate.high, max(widths(gate)), True)
    if request.most_alcohol_g is not None:
        yield Boundary(ALCOHOL, 0.0, request.most_alcohol_g, BY_KEY[ALCOHOL].step, True)


def bands_of(aims: Sequence[tuple[Aim, float]], but: Collection[str] = ()) -> tuple[Boundary, ...]:
    """The bands of aims as limits, but for some readings."""
    return tuple(
        Boundary(aim.reading, aim.low, aim.high, min(widths(aim)))
        for aim, _weight in aims
        if aim.reading not in but
    )


def weighted_aims(request: Request, now: Numbers) -> tuple[tuple[Aim, float], ...]:
    """The aims that count, by reading, with their weight: those of no weight, and whose reading is not known now, do
    not."""
    found = [
        (aim, float(request.weights.get(aim.reading, 1.0)))
        for aim in request.aims
        if not aim.is_gate and not np.isnan(now[READING_INDEX[aim.reading]])
    ]
    return tuple(sorted((one for one in found if one[1] > 0.0), key=lambda one: one[0].reading))


def terms_of(
    aims: Sequence[tuple[Aim, float]],
    boundaries: Sequence[Boundary],
    less_of: Mapping[str, float] | None = None,
) -> Terms:
    """The rows of some weighted aims, then of limits, then of readings of which less is better: by reading, what so much
    of it costs is a tolerance within a band."""
    rows = [
        (aim.reading, aim.ideal, aim.low, aim.high, *widths(aim), INSIDE * weight, weight)
        for aim, weight in aims
    ]
    rows += [(one.reading, 0.0, one.low, one.high, one.width, one.width, 0.0, HARD) for one in boundaries]
    rows += [
        (key, 0.0, -np.inf, np.inf, size, size, INSIDE, 0.0) for key, size in sorted((less_of or {}).items())
    ]
    columns = np.array([row[1:] for row in rows], dtype=np.float64).reshape(len(rows), 7).T
    return Terms(tuple(READING_INDEX[row[0]] for row in rows), *columns)


def giving_way(aims: Sequence[tuple[Aim, float]], values: Numbers) -> tuple[GivesWay, ...]:
    """The aims whose reading lies outside its band, of readings (READING_COUNT,), the farthest first."""
    found = []
    for aim, _weight in aims:
        value = float(values[READING_INDEX[aim.reading]])
        above, below = widths(aim)
        if value - aim.high > ROUNDING * above:
            found.append(GivesWay(aim.reading, (value - aim.high) / above, value, aim.high))
        elif aim.low - value > ROUNDING * below:
            found.append(GivesWay(aim.reading, (aim.low - value) / below, value, aim.low))
    return tuple(sorted(found, key=lambda one: (-one.by, one.reading)))
