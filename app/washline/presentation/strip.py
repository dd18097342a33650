"""The band strip, a spoke of the radar laid flat, and the small scale of a weighed yield against its estimate."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from washline.presentation.shape import IDEAL_RADIUS, RIM_RADIUS, Band, share_radius

EDGE_PLACE = (share_radius(1.0) - IDEAL_RADIUS) / (RIM_RADIUS - IDEAL_RADIUS)
"""Where the band's edges stand, as a share of the half width: 0.447, the same on every strip."""


@dataclass(frozen=True)
class BandStrip:
    """One reading against its band. Values are in the reading's unit, ``None`` where there is none.

    ``sigma`` is one standard uncertainty to the low and to the high side.
    """

    band: Band
    value: float | None
    sigma: tuple[float, float] | None = None
    parent: float | None = None
    before: float | None = None
    proposal: float | None = None


def strip_place(share: float) -> float:
    """The place of a share of the tolerance, from -1 to 1 of the half width: the radar's outward scale on both sides."""
    outward = (share_radius(abs(share)) - IDEAL_RADIUS) / (RIM_RADIUS - IDEAL_RADIUS)
    return outward if share >= 0 else -outward


def value_place(band: Band, value: float | None) -> float | None:
    """The place of a value on its strip, from -1 to 1; ``None`` stays ``None``."""
    return None if value is None else strip_place(band.share(value))


def spread_places(strip: BandStrip) -> tuple[float, float] | None:
    """Where the bar of ± one standard uncertainty begins and ends; ``None`` without a value or without a spread."""
    if strip.value is None or strip.sigma is None or max(strip.sigma) <= 0:
        return None
    low, high = strip.sigma
    return (
        strip_place(strip.band.share(strip.value - low)),
        strip_place(strip.band.share(strip.value + high)),
    )


def spaced_ticks(
    band: Band, places_per_px: float, *, every: int = 1, closest_px: float = 4.0
) -> tuple[float, ...]:
    """The shares of the house-step ticks, thinned to every 2nd, 5th, 10th … until none stand closer than ``closest_px``.

    ``places_per_px`` is how much of the tolerance one pixel is worth on the linear part of the scale.
    """
    for factor in (1, 2, 5, 10, 20, 50, 100):
        ticks = band.ticks(every=every * factor)
        if ticks and _closest(ticks) >= closest_px * places_per_px:
            return ticks
    return ()


def _closest(ticks: Sequence[float]) -> float:
    gaps = (after - before for before, after in pairwise(ticks))
    return min(gaps, default=float("inf"))


@dataclass(frozen=True)
class WeightScale:
    """A weighed yield on the scale of its estimate, all in grams: expected from ``low_g`` to ``high_g``."""

    low_g: float
    estimate_g: float
    high_g: float
    weighed_g: float | None

    def places(self) -> tuple[float, float, float, float | None]:
        """Low, estimate, high and weighed as shares (0 to 1) of the scale's length, with room on both sides."""
        known = [self.low_g, self.estimate_g, self.high_g]
        known += [] if self.weighed_g is None else [self.weighed_g]
        start, end = min(known), max(known)
        room = 0.22 * (self.high_g - self.low_g or end - start or abs(self.estimate_g) or 1.0)
        start, end = start - room, end + room
        low, estimate, high = (
            (grams - start) / (end - start) for grams in (self.low_g, self.estimate_g, self.high_g)
        )
        weighed = None if self.weighed_g is None else (self.weighed_g - start) / (end - start)
        return low, estimate, high, weighed
