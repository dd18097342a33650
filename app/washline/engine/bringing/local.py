"""The readings as straight lines around one point: a convex task that is solved exactly, many boxes at once.

Positions are in shares: a pour's number divided by its scale.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from washline.engine.bringing.cholesky import solved
from washline.engine.bringing.terms import Terms
from washline.engine.state import Numbers

MOST_PASSES = 40
MOST_CUTS = 40
ROUNDING = 1e-13
"""What lies as near to the end of its range lies on it."""

FLAT = 1e-9
CLOSE = 1e-12
"""A pass that gains less than this share of what is left ends the search."""


@dataclass(frozen=True, slots=True)
class Local:
    """Readings (rows,) at a point (pours,) and their slopes (rows, pours); each pour is drawn to ``centre`` (pours,) with
    ``pull`` times the square of its distance."""

    terms: Terms
    point: Numbers
    readings: Numbers
    slopes: Numbers
    pull: float
    centre: Numbers

    def readings_at(self, places: Numbers) -> Numbers:
        """The readings (rows, n) at places (pours, n)."""
        found = np.repeat(self.readings[:, None], places.shape[1], axis=1)
        for pour in range(len(self.point)):
            found += self.slopes[:, pour, None] * (places[pour] - self.point[pour])
        return found

    def cost(self, places: Numbers) -> Numbers:
        """What places (pours, n) cost, (n,)."""
        total = self.terms.cost(self.readings_at(places))
        for pour in range(len(self.point)):
            away = places[pour] - self.centre[pour]
            total = total + self.pull * away * away
        return total

    def bends(self, places: Numbers) -> tuple[Numbers, Numbers]:
        """Gradient (pours, n) and second derivatives (pours, pours, n) of the cost."""
        first, second = self.terms.bends(self.readings_at(places))
        count = len(self.point)
        gradient = 2.0 * self.pull * (places - self.centre[:, None])
        matrix = np.zeros((count, count, places.shape[1]))
        for row in range(len(self.readings)):
            slope = self.slopes[row]
            gradient += slope[:, None] * first[row]
            matrix += (slope[:, None] * slope[None, :])[:, :, None] * second[row]
        for pour in range(count):
            matrix[pour, pour] += 2.0 * self.pull
        return gradient, matrix


def least(local: Local, low: Numbers, high: Numbers, start: Numbers) -> tuple[Numbers, Numbers]:
    """The places (pours, n) of least cost in boxes (pours, n) each, and for each box a figure (n,) that nothing in it
    costs less than: the cost there, but for rounding.

    Newton's method on what is free to move, projected into the box (Bertsekas, SIAM J. Control Optim. 20 (1982) 221).
    The cost is made of parabolas, so that it ends after as many passes as edges are crossed.
    """
    places = np.minimum(np.maximum(start, low), high)
    cost = local.cost(places)
    for _ in range(MOST_PASSES):
        step = _newton(local, low, high, places)
        places, new = _stepped(local, low, high, places, cost, step)
        is_done = cost - new <= CLOSE * (1e-3 + new)
        cost = new
        if bool(np.all(is_done)):
            break
    return places, _bound(local, low, high, places, cost)


def _newton(local: Local, low: Numbers, high: Numbers, places: Numbers) -> Numbers:
    """The step (pours, n) to the foot of the parabola, with what would leave the box from its edge left there."""
    gradient, matrix = local.bends(places)
    at_low, at_high = places <= low, places >= high
    is_stuck = (at_low & (gradient > 0.0)) | (at_high & (gradient < 0.0))
    step = np.zeros_like(places)
    for _ in range(len(places) + 1):
        step = _freed(gradient, matrix, is_stuck)
        leaves = (at_low & (step < 0.0)) | (at_high & (step > 0.0))
        if not bool(np.any(leaves)):
            break
        is_stuck = is_stuck | leaves
    return np.where(is_stuck, 0.0, step)


def _freed(gradient: Numbers, matrix: Numbers, is_stuck: NDArray[np.bool_]) -> Numbers:
    """The step to the foot of the parabola (pours, n) of what is not stuck."""
    free = np.where(is_stuck, 0.0, 1.0)
    reduced = matrix * free[:, None] * free[None, :]
    for pour in range(len(gradient)):
        reduced[pour, pour] += 1.0 - free[pour]
    return -solved(reduced, gradient * free)


def _stepped(
    local: Local, low: Numbers, high: Numbers, places: Numbers, cost: Numbers, step: Numbers
) -> tuple[Numbers, Numbers]:
    """The places after the step and what they cost: the lowest place along it within the box, or its end bent along the
    edges of the box where that costs less."""
    room = np.where(step > 0.0, high - places, low - places)
    shares = np.divide(room, step, out=np.ones_like(step), where=step != 0.0)
    share = _lowest(local, places, step, np.minimum(np.min(shares, axis=0), 1.0))
    best, best_cost = places, cost
    for trial in (places + share * step, places + step):
        trial = np.where(trial <= low + ROUNDING, low, np.where(trial >= high - ROUNDING, high, trial))
        trial_cost = local.cost(trial)
        is_less = trial_cost < best_cost
        best, best_cost = np.where(is_less, trial, best), np.where(is_less, trial_cost, best_cost)
    return best, best_cost


def _lowest(local: Local, places: Numbers, step: Numbers, most: Numbers) -> Numbers:
    """The share (n,) of a step, up to ``most``, at which it costs least: where the slope along it, which only rises, passes
    zero. That slope is made of straight pieces: chords, exact within a piece, take turns with halves of what is left."""
    readings = local.readings_at(places)
    along = local.readings_at(places + step) - readings
    start, rise = np.zeros(places.shape[1]), np.zeros(places.shape[1])
    for pour in range(len(places)):
        start += 2.0 * local.pull * (places[pour] - local.centre[pour]) * step[pour]
        rise += 2.0 * local.pull * step[pour] * step[pour]

    def slope(share: Numbers) -> Numbers:
        first, _second = local.terms.bends(readings + share * along)
        total: Numbers = start + rise * share
        for row in range(len(along)):
            total = total + first[row] * along[row]
        return total

    near, far = np.zeros_like(most), most
    near_slope, far_slope = slope(near), slope(far)
    steepest = near_slope
    is_open = (near_slope < 0.0) & (far_slope > 0.0)
    share = np.where(far_slope > 0.0, near, far)
    for turn in range(MOST_CUTS):
        if not bool(np.any(is_open)):
            break
        fall = np.where(is_open, far_slope - near_slope, 1.0)
        cut = far - (0.5 if turn % 2 else far_slope / fall) * (far - near)
        cut_slope = slope(cut)
        share = np.where(is_open, cut, share)
        is_past = cut_slope > 0.0
        near, near_slope = np.where(is_past, near, cut), np.where(is_past, near_slope, cut_slope)
        far, far_slope = np.where(is_past, cut, far), np.where(is_past, cut_slope, far_slope)
        is_open &= (np.abs(cut_slope) > FLAT * -steepest) & (far - near > ROUNDING)
    return share


def _bound(local: Local, low: Numbers, high: Numbers, places: Numbers, cost: Numbers) -> Numbers:
    """A convex cost lies above its tangent: what the tangent is at the lowest corner of the box, (n,)."""
    gradient, _matrix = local.bends(places)
    bound = cost.copy()
    for pour in range(len(places)):
        down = gradient[pour] * (low[pour] - places[pour])
        up = gradient[pour] * (high[pour] - places[pour])
        bound += np.minimum(np.minimum(down, up), 0.0)
    return bound
