"""One reading dragged to a value while others hold: the least change of the lines, live.

The readings are taken as straight lines around the drink as it stands, by one run of a column for each side of each line;
the least change that meets what is wanted is then found twice more from where the full model really is. What is counted
(dashes, drops, spoons) goes to whole steps after the first time, and the other lines make up for it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from washline.engine.bringing.cholesky import solved
from washline.engine.bringing.columns import Columns, columns_of, sides, slopes
from washline.engine.bringing.pours import Pour, pours_of, starts
from washline.engine.bringing.quick import quick_reading
from washline.engine.bringing.request import Dragged, Request
from washline.engine.readings import figures_of
from washline.engine.spread import Source
from washline.engine.state import Numbers
from washline.model.book import HouseBook
from washline.model.reading import BY_KEY

PASSES = 3
SOFT = 1e-9
"""So much of a step of the axis may be missed for a change of a line by its whole: it keeps the task solvable where two
wishes are one or nothing moves a reading."""

HELD_SOFT = 1e-6
"""The same of a held reading, which gives way to the dragged one."""

SEEN = 1e-3
"""So small a part of a step of the axis is not seen: what is met as closely needs no further pass."""

FAR = 1e4
"""So many steps of its axis lie beyond what any reading comes to."""

FINE = 0.01
"""A dragged amount is a whole number of these in its unit; of what is weighed in less than a gram, of a hundredth of it."""


@dataclass(frozen=True, slots=True)
class _Wish:
    """A reading that is to lie from ``low`` to ``high``."""

    key: str
    low: float
    high: float


def drag(book: HouseBook, request: Request, reading: str, value: float, source: Source) -> Dragged:
    """The amounts of the lines that bring one reading to a value, by the least sum of squares of shares that lines change,
    or as near as the limits let it come.

    Of the request count ``build_id``, ``held``, ``limits`` and ``hold`` (volume and strength, say), no gate and no extra;
    a reading in ``hold`` gives way only to the dragged one. Nothing is started from what was found before, so that the way
    the mouse went makes no difference. A drink that cannot be computed, or has no line that may change, comes back as it
    is. Raises ``KeyError`` for an id that is no build or a key that is no reading.
    """
    build, program = book.builds[request.build_id], source.program(request.build_id)
    held = [(key, *ends) for key, ends in sorted(request.hold.items()) if key != reading]
    wishes = [_Wish(reading, value, value), *(_Wish(*one) for one in held)]
    pours = tuple(pour for pour in pours_of(book, build, program, request) if pour.low < pour.high)
    columns = columns_of(program, pours, source)
    if not pours or not program.is_whole:
        return _at(columns, np.array([pour.before.number for pour in pours]))
    return _at(columns, _found(columns, wishes))


def reach(book: HouseBook, request: Request, reading: str, source: Source) -> tuple[float, float] | None:
    """How low and how high a reading comes when it is dragged as far as the lines and the held readings let it; ``None``
    where it has no value."""
    far = FAR * BY_KEY[reading].step
    ends = [drag(book, request, reading, value, source).value(reading) for value in (-far, far)]
    known = sorted(end for end in ends if end is not None)
    return (known[0], known[-1]) if len(known) == len(ends) else None


def _found(columns: Columns, wishes: Sequence[_Wish]) -> Numbers:
    """The numbers (pours,) where the wishes are met, those of now where a reading has no value on the way."""
    now = np.array([pour.before.number for pour in columns.pours])
    low, high = (np.array([getattr(pour, end) for pour in columns.pours]) for end in ("low", "high"))
    start = starts(columns.pours)
    looks = sides(start, columns.scales)
    values = _readings(columns, looks, wishes)
    task = _Task(wishes, slopes(looks, values, columns.scales), now / columns.scales)
    at, numbers, missed = values[:, 0], start, task.miss(values[:, 0])
    left = missed
    for turn in range(PASSES):
        if not bool(np.all(np.isfinite(at))):
            return now
        scales, place = columns.scales, numbers / columns.scales
        numbers = scales * task.least_change(at, place, low / scales, high / scales)
        if turn == 0:
            numbers = _counted(columns.pours, numbers)
            low, high = _fixed(columns.pours, numbers, low, high)
        # What a pass leaves is about as large a share of what was missed as the pass before left.
        is_near_enough = turn > 0 and left * left <= SEEN * max(missed, SEEN)
        if turn == PASSES - 1 or is_near_enough:
            break
        before, at = at, _readings(columns, numbers[:, None], wishes)[:, 0]
        task = task.bent(before, at, place, numbers / scales)
        left = task.miss(at)
        if left <= SEEN:
            break
    return _rounded(columns.pours, numbers)


def _readings(columns: Columns, numbers: Numbers, wishes: Sequence[_Wish]) -> Numbers:
    """The wished readings at numbers (pours, n), in steps of their axes: (wishes, n)."""
    running = columns.run(numbers)
    return np.array([quick_reading(running, wish.key) / BY_KEY[wish.key].step for wish in wishes])


@dataclass(frozen=True, slots=True)
class _Task:
    """Wishes, the slopes (wishes, pours) of their readings, and the place now (pours,), in shares of the pours' scales and
    in steps of the axes."""

    wishes: Sequence[_Wish]
    slopes: Numbers
    now: Numbers

    def ends(self, row: int) -> tuple[float, float]:
        """From where to where a wish is met, in steps of its axis."""
        wish = self.wishes[row]
        step = BY_KEY[wish.key].step
        return wish.low / step, wish.high / step

    def miss(self, at: Numbers) -> float:
        """How far readings (wishes,) lie from where they are wanted, at most."""
        missed = 0.0
        for row, reading in enumerate(at.tolist()):
            low, high = self.ends(row)
            missed = max(missed, low - reading, reading - high)
        return missed

    def bent(self, before: Numbers, at: Numbers, start: Numbers, end: Numbers) -> "_Task":
        """The same with slopes that lead from the readings at one place to those at another, and are else as near as can be
        to what they were (Broyden, Math. Comp. 19 (1965) 577)."""
        moved, missing = end - start, at - before
        size = 0.0
        for pour in range(len(moved)):
            missing = missing - self.slopes[:, pour] * moved[pour]
            size += float(moved[pour] * moved[pour])
        if not size > 0.0:
            return self
        return _Task(self.wishes, self.slopes + missing[:, None] * moved[None, :] / size, self.now)

    def least_change(self, at: Numbers, place: Numbers, low: Numbers, high: Numbers) -> Numbers:
        """The place (pours,) nearest to the one now where the straight lines through readings ``at`` a ``place`` meet the
        wishes; a pour at the end of its range stays there, and a held reading counts where it would leave its range."""
        fixed = {pour: float(low[pour]) for pour in range(len(place)) if low[pour] == high[pour]}
        goals = {row: self.ends(row)[0] for row, wish in enumerate(self.wishes) if wish.low == wish.high}
        found = place
        for _ in range(len(place) + len(self.wishes) + 1):
            found = self._nearest(at, place, fixed, goals)
            over = np.maximum(found - high, low - found)
            over[list(fixed)] = 0.0
            farthest = int(np.argmax(over))
            if over[farthest] > 0.0:
                end = high if found[farthest] > high[farthest] else low
                fixed[farthest] = float(end[farthest])
                continue
            broken = self._broken(at, place, found, goals)
            if broken is None:
                break
            goals[broken[0]] = broken[1]
        return np.minimum(np.maximum(found, low), high)

    def _nearest(
        self, at: Numbers, place: Numbers, fixed: dict[int, float], goals: dict[int, float]
    ) -> Numbers:
        """The place nearest to the one now, fixed pours apart, whose straight lines meet the goals (by row): by the
        multipliers of its constraints, which are as few as the wishes."""
        found = self.now.copy()
        found[list(fixed)] = list(fixed.values())
        rows = sorted(goals)
        free = self.slopes[rows]
        free[:, list(fixed)] = 0.0
        missing = np.array([goals[row] - at[row] for row in rows])
        matrix = np.zeros((len(rows), len(rows), 1))
        for pour in range(len(found)):
            missing -= self.slopes[rows, pour] * (found[pour] - place[pour])
            matrix[:, :, 0] += free[:, pour, None] * free[None, :, pour]
        for first, row in enumerate(rows):
            # The dragged reading is met before all held ones.
            matrix[first, first, 0] += SOFT if row == 0 else HELD_SOFT
        multipliers = solved(matrix, missing[:, None])[:, 0]
        for first in range(len(rows)):
            found += free[first] * multipliers[first]
        return found

    def _broken(
        self, at: Numbers, place: Numbers, found: Numbers, goals: dict[int, float]
    ) -> tuple[int, float] | None:
        """The first held reading that leaves its range though nothing keeps it there yet, and the end it leaves by."""
        for row in range(len(self.wishes)):
            if row in goals:
                continue
            low, high = self.ends(row)
            reading = float(at[row])
            for pour in range(len(place)):
                reading += float(self.slopes[row, pour] * (found[pour] - place[pour]))
            if reading < low or reading > high:
                return row, low if reading < low else high
        return None


def _counted(pours: Sequence[Pour], numbers: Numbers) -> Numbers:
    """The numbers with what is counted at the nearest whole step of its own."""
    steps = [
        float(pour.numbers[np.argmin(np.abs(pour.numbers - number))])
        if pour.is_counted and len(pour.numbers)
        else number
        for pour, number in zip(pours, numbers.tolist(), strict=True)
    ]
    return np.array(steps)


def _fixed(pours: Sequence[Pour], numbers: Numbers, low: Numbers, high: Numbers) -> tuple[Numbers, Numbers]:
    is_counted = np.array([pour.is_counted for pour in pours])
    return np.where(is_counted, numbers, low), np.where(is_counted, numbers, high)


def _rounded(pours: Sequence[Pour], numbers: Numbers) -> Numbers:
    """Numbers as they are shown while dragging, and no farther than the limits; what is not moved stays to the bit."""
    rounded = []
    for pour, number in zip(pours, numbers.tolist(), strict=True):
        grain = FINE if pour.scale >= 1.0 else FINE * 0.01
        near = min(max(round(round(number / grain) * grain, 6), pour.low), pour.high)
        stays = abs(number - pour.before.number) < 0.5 * grain or (
            pour.is_counted and number == pour.before.number
        )
        rounded.append(pour.before.number if stays else number if pour.is_counted else near)
    return np.array(rounded)


def _at(columns: Columns, numbers: Numbers) -> Dragged:
    """The drink at some numbers of its pours, and the amounts of those that are not as they were."""
    values = figures_of(columns.run(numbers[:, None])).values[:, 0]
    if not columns.program.is_whole:
        values = np.full_like(values, np.nan)
    moved = {
        pour.step_id: pour.amount(number)
        for pour, number in zip(columns.pours, numbers.tolist(), strict=True)
        if number != pour.before.number
    }
    return Dragged(moved, values)
