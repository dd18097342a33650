"""A house's own weighings against the computed melt: what a weighing needs to know, and what several say of a method."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from washline.chemistry import chilling, mixture
from washline.engine.compiling_bar import pace_of, way_of
from washline.engine.melting import REGRESSIONS, WATER_DENSITY_G_PER_ML, OnIce, mixed, usual_time
from washline.engine.state import Numbers
from washline.engine.trace import Trace
from washline.model.house import Calibration, Ice, Method, Weighing, calibration_slug

SLOWEST, QUICKEST = 8.0, 0.125
"""A fitted time constant lies between these times the method's own."""

WETTEST_PCT = 15.0
"""More water than this does not cling to ice, in percent of it."""

APART_PCT_VOL = 5.0
"""Strengths so far apart tell a factor of the published dilution from an offset."""

SECONDS_APART, APART_C = 0.15, 3.0
"""Times (as a share of the longest) and temperatures of the liquid so far apart tell the water on the ice from the time
constant."""

LOWEST_FACTOR, HIGHEST_FACTOR = 0.3, 3.0
_TAUS, _WETS, _ROUNDS, _NARROWER = 25, 16, 6, 0.2


@dataclass(frozen=True, slots=True)
class ChillStart:
    """What stood against one another before a chill, as a ``Weighing`` takes it: grams of each component, °C, grams, s and
    J/K."""

    composition: tuple[float, ...]
    liquid_c: float
    ice_g: float
    ice_c: float
    surface_water_g: float
    seconds: float | None
    vessel_j_per_k: float
    vessel_c: float


@dataclass(frozen=True, slots=True)
class Fit:
    """What weighings say of a method on an ice; ``None`` where they do not tell. ``computed_g`` is what was computed for
    each of them without it, ``fitted_g`` what is with it; ``left_ml_per_100_ml`` is one standard deviation of the rest."""

    tau_s: float | None
    surface_water_pct: float | None
    factor: float
    offset: float
    left_ml_per_100_ml: float | None
    computed_g: tuple[float, ...]
    fitted_g: tuple[float, ...]


def chill_start(trace: Trace, step_id: int) -> ChillStart | None:
    """Of one step of a build; ``None`` where it is no chill on ice, or its temperature is not known."""
    chill = trace.step(step_id).chill
    if chill is None or chill.equilibrium_c is None or chill.from_c is None:
        return None
    return ChillStart(
        chill.composition,
        chill.from_c,
        chill.ice_g,
        chill.ice_c,
        chill.surface_water_g,
        chill.seconds,
        chill.vessel_j_per_k,
        20.0 if chill.vessel_c is None else chill.vessel_c,
    )


def fitted(method: Method, ice: Ice, weighings: Sequence[Weighing], usual_ice: Ice | None = None) -> Fit:
    """Weighings fit the time constant of the balance and the offset of the published dilution; where they differ in time,
    strength or temperature they fit the water on the ice too, and a factor where strengths differ by ``APART_PCT_VOL`` or
    more. Least squares within bounds. ``usual_ice`` is the one that the method is usually done on.

    Raises ``ValueError`` without any weighing.
    """
    if not weighings:
        raise ValueError("there is nothing to fit")
    bench = _Bench(method, ice, weighings, usual_ice)
    tau_s, wet_pct = bench.fit_balance()
    factor, offset = bench.fit_published()
    before = bench.melted(None, None, 1.0, 0.0)
    after = bench.melted(tau_s, wet_pct, factor, offset)
    left = _left(bench, before, after, (tau_s is not None) + (wet_pct is not None))
    return Fit(tau_s, wet_pct, factor, offset, left, tuple(before.tolist()), tuple(after.tolist()))


class _Bench:
    """Some weighings, one column each."""

    def __init__(
        self, method: Method, ice: Ice, weighings: Sequence[Weighing], usual_ice: Ice | None
    ) -> None:
        self.method, self.ice, self.weighings = method, ice, weighings
        self.pace = pace_of(ice, usual_ice)
        self.masses = np.array([[part or 0.0 for part in entry.composition] for entry in weighings]).T
        self.volume_ml = mixture.volume_ml(self.masses)
        self.strength = mixture.strength_pct_vol(self.masses)
        self.measured_g = self._column("melted_g")
        self.wet_g = self._column("surface_water_g")
        self.ice_g = self._column("ice_g")
        usual_j = 0.0 if method.vessel_is_cold else method.vessel_j_per_k
        is_usual = self._column("vessel_j_per_k") == usual_j
        self.may_publish = is_usual & (self.pace == 1.0) & (method.published in REGRESSIONS)

    def _column(self, name: str) -> Numbers:
        return np.array([float(getattr(entry, name)) for entry in self.weighings])

    def ways(self, tau_s: float | None) -> list[float]:
        """The part of the way to equilibrium of each weighing."""
        calibration = _calibration(self.method, self.ice, tau_s)
        found = (way_of(self.method, calibration, self.pace, entry.seconds) for entry in self.weighings)
        return [way if seconds is None else chilling.approach(seconds, way) for way, seconds in found]

    def on_ice(self, tau_s: float | None, wet_pct: float | None) -> OnIce:
        surface_g = self.wet_g if wet_pct is None else self.ice_g * (wet_pct / 100.0)
        return OnIce(
            self.masses,
            self.volume_ml,
            self.strength,
            self._column("liquid_c"),
            self.ice_g,
            self._column("ice_c"),
            surface_g,
            np.array(self.ways(tau_s)),
            np.full(len(self.weighings), self.method.core),
            self._column("vessel_j_per_k"),
            self._column("vessel_c"),
            self.method.published if self.method.published in REGRESSIONS else "",
            usual_time=np.array([usual_time(self.method, entry.seconds) for entry in self.weighings]),
        )

    def melted(self, tau_s: float | None, wet_pct: float | None, factor: float, offset: float) -> Numbers:
        """Grams (n,) that the engine computes with these figures."""
        on_ice = replace(self.on_ice(tau_s, wet_pct), factor=factor, offset=offset)
        if not on_ice.published:
            return on_ice.balance_g()
        weight = np.where(self.may_publish, on_ice.published_weight(), 0.0)
        return mixed(weight, on_ice.published_g(), on_ice.balance_g())

    def fit_balance(self) -> tuple[float | None, float | None]:
        """Time constant in s and water on the ice in percent."""
        is_timed = self.method.approach < 1.0 or any(entry.seconds is not None for entry in self.weighings)
        has_both = self._tell_both()
        own = max(self.method.tau_s, 0.1)
        taus = np.geomspace(own * QUICKEST, own * SLOWEST, _TAUS) if is_timed else np.array([np.nan])
        wets = np.linspace(0.0, WETTEST_PCT, _WETS) if has_both or not is_timed else np.array([np.nan])
        lows, highs = (float(taus[0]), float(wets[0])), (float(taus[-1]), float(wets[-1]))
        best = (_or_none(float(taus[0])), _or_none(float(wets[0])))
        for _ in range(_ROUNDS):
            tried = [(_or_none(tau), _or_none(wet)) for tau in taus.tolist() for wet in wets.tolist()]
            best = tried[self._nearest(tried)]
            taus = _around(best[0], taus, lows[0], highs[0])
            wets = _around(best[1], wets, lows[1], highs[1])
        return best

    def _tell_both(self) -> bool:
        """Whether weighings differ in what tells the water on the ice from the time constant: under equal conditions one
        grows as the other falls."""
        seconds = np.array([entry.seconds or 0.0 for entry in self.weighings])
        times_apart = float(np.ptp(seconds)) > SECONDS_APART * float(seconds.max())
        strengths_apart = float(np.ptp(self.strength)) >= APART_PCT_VOL
        return times_apart or strengths_apart or float(np.ptp(self._column("liquid_c"))) >= APART_C

    def _nearest(self, tried: Sequence[tuple[float | None, float | None]]) -> int:
        """Which of some pairs comes nearest to what was weighed: all balances in one call."""
        blocks = [self.on_ice(tau, wet) for tau, wet in tried]
        found = chilling.chill(
            np.concatenate([block.masses for block in blocks], axis=1),
            np.concatenate([block.liquid_c for block in blocks]),
            ice_g=np.concatenate([block.ice_g for block in blocks]),
            ice_c=np.concatenate([block.ice_c for block in blocks]),
            surface_water_g=np.concatenate([block.surface_water_g for block in blocks]),
            vessel_j_per_k=np.concatenate([block.vessel_j_per_k for block in blocks]),
            vessel_c=np.concatenate([block.vessel_c for block in blocks]),
            approach=np.concatenate([block.approach for block in blocks]),
            core=self.method.core,
        )
        taken_up = (found.melted_g + found.surface_water_g).reshape(len(tried), len(self.weighings))
        apart = np.nan_to_num(taken_up - self.measured_g, nan=1e9)
        return int(np.argmin(np.add.accumulate(apart * apart, axis=1)[:, -1]))

    def fit_published(self) -> tuple[float, float]:
        """Factor and offset (ml per ml) of the published dilution: straight line of least squares."""
        if self.method.published not in REGRESSIONS:
            return 1.0, 0.0
        share = self.measured_g / WATER_DENSITY_G_PER_ML / self.volume_ml
        published = REGRESSIONS[self.method.published](self.strength / 100.0)
        factor, count = 1.0, len(self.weighings)
        if count > 1 and float(np.ptp(self.strength)) >= APART_PCT_VOL:
            off = published - _mean(published)
            squares = _mean(off * off)
            slope = _mean(off * (share - _mean(share))) / squares if squares > 0.0 else 1.0
            factor = min(max(slope, LOWEST_FACTOR), HIGHEST_FACTOR)
        return factor, _mean(share) - factor * _mean(published)


def _calibration(method: Method, ice: Ice, tau_s: float | None) -> Calibration | None:
    if tau_s is None:
        return None
    slug = calibration_slug(method.slug, ice.slug)
    return Calibration(slug=slug, method=method.slug, ice=ice.slug, date="", tau_s=tau_s)


def _around(best: float | None, tried: Numbers, low: float, high: float) -> Numbers:
    """The same number of figures nearer to the best one, within the bounds."""
    if best is None:
        return tried
    half = (float(tried[-1]) - float(tried[0])) * _NARROWER / 2.0
    return np.linspace(max(best - half, low), min(best + half, high), len(tried))


def _left(bench: _Bench, before: Numbers, after: Numbers, fitted_count: int) -> float | None:
    """One standard deviation of the rest in ml per 100 ml; of two weighings, which a fit meets, what one shared correction
    would leave."""
    count = len(before)
    if count < 2:
        return None
    per_100_ml = 100.0 / WATER_DENSITY_G_PER_ML / bench.volume_ml
    freedom = count - max(fitted_count, 1)
    rest = (bench.measured_g - after) * per_100_ml
    if freedom <= 0:
        rest, freedom = (bench.measured_g - before) * per_100_ml, count - 1
        rest = rest - _mean(rest)
    return float(np.sqrt(np.add.accumulate(rest * rest)[-1] / freedom))


def _mean(numbers: Numbers) -> float:
    return float(np.add.accumulate(numbers)[-1]) / len(numbers)


def _or_none(number: float) -> float | None:
    return None if number != number else number
