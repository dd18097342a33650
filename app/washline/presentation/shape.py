"""The common scale of radar, strip and small shape: the share of the tolerance used, and the outline drawn through it.

Every axis is scaled by its own target: t = 0 on the ideal, t = ±1 on the edges of the band, taking the edge of the
value's own side. Radii are shares of the outer radius, so 1 is the rim of the plate. Points are (x, y) with x to the
right and y down, the first axis straight up and the others clockwise at equal turns.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

IDEAL_RADIUS = 0.62
RADIUS_PER_SHARE = 0.17
BAND_INNER_RADIUS = IDEAL_RADIUS - RADIUS_PER_SHARE
BAND_OUTER_RADIUS = IDEAL_RADIUS + RADIUS_PER_SHARE
FLOOR_RADIUS = 0.10
RIM_RADIUS = 1.0
LINEAR_SHARE = 1.5
POINTS_PER_SPAN = 28
MOST_AXES = 10
FEWEST_AXES = 3

Point = tuple[float, float]


@dataclass(frozen=True)
class Band:
    """What the house wants of one reading, in the reading's own unit.

    ``house_step`` is the distance of the ticks (1 g/100 ml, 10 ml). Raises ``ValueError`` when low, ideal and high are
    not in order or the step is not positive.
    """

    low: float
    ideal: float
    high: float
    house_step: float

    def __post_init__(self) -> None:
        if not self.low <= self.ideal <= self.high:
            raise ValueError(f"low {self.low}, ideal {self.ideal} and high {self.high} are not in order")
        if not (self.house_step > 0 and math.isfinite(self.house_step)):
            raise ValueError(f"a house step must be positive, not {self.house_step}")

    def tolerance(self, *, is_above: bool) -> float:
        """The distance from the ideal to the edge of one side; the other side's where the own is zero."""
        above, below = self.high - self.ideal, self.ideal - self.low
        own, other = (above, below) if is_above else (below, above)
        return own or other or self.house_step

    def share(self, value: float) -> float:
        """The share of the tolerance that ``value`` uses: 0 on the ideal, ±1 on the edges.

        Where the house allows nothing on a side, any departure to that side counts as beyond its edge.
        """
        if value == self.ideal:
            return 0.0
        is_above = value > self.ideal
        used = (value - self.ideal) / self.tolerance(is_above=is_above)
        has_room = self.high > self.ideal if is_above else self.low < self.ideal
        return used if has_room else used + math.copysign(1.0, used)

    def contains(self, value: float) -> bool:
        """Whether ``value`` lies in the band, edges included; decided on full precision."""
        return self.low <= value <= self.high

    def ticks(self, *, every: int = 1, reach: float = 1.75) -> tuple[float, ...]:
        """The shares t of the multiples of the house step, out to ``reach``; ``every`` second, third … of them."""
        step = self.house_step * every
        lowest = self.ideal - reach * self.tolerance(is_above=False)
        highest = self.ideal + reach * self.tolerance(is_above=True)
        first, last = math.ceil(lowest / step - 1e-9), math.floor(highest / step + 1e-9)
        if last - first > 400:
            return ()
        shares = (self.share(index * step) for index in range(first, last + 1))
        return tuple(share for share in shares if abs(share) <= reach + 1e-9)


def share_radius(share: float) -> float:
    """The radius, as a share of the rim, of a share of the tolerance.

    Linear to t = ±1.5; beyond it eases exponentially toward the rim or the floor with an unbroken slope, so that
    nothing leaves the plate or folds through the centre.
    """
    if abs(share) <= LINEAR_SHARE:
        return IDEAL_RADIUS + RADIUS_PER_SHARE * share
    limit = RIM_RADIUS if share > 0 else FLOOR_RADIUS
    knee = IDEAL_RADIUS + RADIUS_PER_SHARE * math.copysign(LINEAR_SHARE, share)
    room = abs(limit - knee)
    left = room * math.exp(-RADIUS_PER_SHARE * (abs(share) - LINEAR_SHARE) / room)
    return limit - math.copysign(left, share)


def value_radius(band: Band, value: float | None) -> float | None:
    """The radius of a value on its axis; ``None`` stays ``None``, as does what is not finite."""
    if value is None or not math.isfinite(value):
        return None
    return share_radius(band.share(value))


def axis_direction(index: int, count: int) -> Point:
    """The unit vector of an axis: the first straight up, the rest clockwise at equal turns."""
    turn = 2 * math.pi * index / count
    return math.sin(turn), -math.cos(turn)


@dataclass(frozen=True)
class Run:
    """One unbroken piece of an outline; ``is_closed`` when it goes all the way round."""

    points: tuple[Point, ...]
    is_closed: bool


def outline(radii: Sequence[float | None], *, points_per_span: int = POINTS_PER_SPAN) -> tuple[Run, ...]:
    """The outline through ``radii``, one per axis: a periodic monotone cubic of the angle.

    Equal radii give a true circle and the line never overshoots a vertex. A missing radius (``None``) leaves the
    spans on both its sides open: the outline then comes in several runs, a lone reading as a run of one point.
    Slopes by Fritsch and Butland (1984), SIAM J. Sci. Stat. Comput. 5, 300, for equal spacing: the harmonic mean of
    the neighbouring differences, zero at a turning point.
    """
    count = len(radii)
    if all(radius is not None for radius in radii) and count:
        known = [radius for radius in radii if radius is not None]
        return (_closed_run(known, points_per_span),)
    return tuple(
        _open_run(first, values, count, points_per_span) for first, values in _known_stretches(radii)
    )


def _known_stretches(radii: Sequence[float | None]) -> list[tuple[int, list[float]]]:
    count = len(radii)
    stretches: list[tuple[int, list[float]]] = []
    for start in range(count):
        if radii[start] is None or radii[start - 1] is not None:
            continue
        values: list[float] = []
        for offset in range(count):
            radius = radii[(start + offset) % count]
            if radius is None:
                break
            values.append(radius)
        stretches.append((start, values))
    return stretches


def _slope(before: float, after: float) -> float:
    return 2 * before * after / (before + after) if before * after > 0 else 0.0


def _closed_run(radii: list[float], points_per_span: int) -> Run:
    count = len(radii)
    steps = [radii[(i + 1) % count] - radii[i] for i in range(count)]
    slopes = [_slope(steps[i - 1], steps[i]) for i in range(count)]
    points: list[Point] = []
    for i in range(count):
        after = (i + 1) % count
        points += _span(i, count, (radii[i], radii[after]), (slopes[i], slopes[after]), points_per_span)
    return Run(tuple(points), is_closed=True)


def _open_run(first: int, radii: list[float], count: int, points_per_span: int) -> Run:
    steps = [after - before for before, after in pairwise(radii)]
    inner = [_slope(before, after) for before, after in pairwise(steps)]
    slopes = [steps[0], *inner, steps[-1]] if steps else [0.0]
    points: list[Point] = []
    for i in range(len(steps)):
        axis = (first + i) % count
        points += _span(axis, count, (radii[i], radii[i + 1]), (slopes[i], slopes[i + 1]), points_per_span)
    x, y = axis_direction(first + len(radii) - 1, count)
    points.append((x * radii[-1], y * radii[-1]))
    return Run(tuple(points), is_closed=False)


def _span(
    axis: int, count: int, ends: tuple[float, float], slopes: tuple[float, float], points_per_span: int
) -> list[Point]:
    (start, end), (start_slope, end_slope) = ends, slopes
    weights = _hermite_weights(points_per_span)
    directions = _directions(axis % count, count, points_per_span)
    points: list[Point] = []
    for (a, b, c, d), (x, y) in zip(weights, directions, strict=True):
        radius = a * start + b * start_slope + c * end + d * end_slope
        points.append((x * radius, y * radius))
    return points


@lru_cache(maxsize=8)
def _hermite_weights(points_per_span: int) -> tuple[tuple[float, float, float, float], ...]:
    places = (j / points_per_span for j in range(points_per_span))
    return tuple(
        (
            (1 + 2 * s) * (1 - s) ** 2,
            s * (1 - s) ** 2,
            s * s * (3 - 2 * s),
            s * s * (s - 1),
        )
        for s in places
    )


@lru_cache(maxsize=128)
def _directions(axis: int, count: int, points_per_span: int) -> tuple[Point, ...]:
    turn = 2 * math.pi / count
    angles = (turn * (axis + j / points_per_span) for j in range(points_per_span))
    return tuple((math.sin(angle), -math.cos(angle)) for angle in angles)


@dataclass(frozen=True)
class SmallShape:
    """The outline of a drink for a row of the book, with no figures.

    ``radii`` holds one entry per axis of the target (``None`` = not known); ``out_count`` how many readings are out of
    band, to be said in words beside it.
    """

    radii: tuple[float | None, ...]
    out_count: int = 0

    @property
    def runs(self) -> tuple[Run, ...]:
        """The outline at a density that suits 21 px; empty where the target has fewer than three axes."""
        return outline(self.radii, points_per_span=8) if len(self.radii) >= FEWEST_AXES else ()


def small_shape(bands: Sequence[Band], values: Sequence[float | None]) -> SmallShape:
    """The small shape of ``values`` against ``bands``, in the target's order of axes.

    Raises ``ValueError`` when the two differ in length.
    """
    pairs = list(zip(bands, values, strict=True))
    outside = [value for band, value in pairs if value is not None and not band.contains(value)]
    return SmallShape(tuple(value_radius(band, value) for band, value in pairs), len(outside))
