"""How a reference drink fares on the ice of a method, second by second: what melts and how cold it gets, by the balance of
heat. It shows what a figure of the method does."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

import numpy as np

from washline.chemistry.arrays import Floats
from washline.chemistry.chilling import approach, chill
from washline.chemistry.components import COMPONENT_COUNT, SUCROSE
from washline.chemistry.mixture import composition_from_label
from washline.engine.compiling_bar import ice_c_of, surface_share, way_of
from washline.model.book import HouseBook
from washline.model.house import Method, MethodKind
from washline.model.step import IceState
from washline.presentation.house_data_columns import ON_ICE
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_quantity, format_range

REFERENCE_ML, REFERENCE_PCT_VOL, REFERENCE_SUGAR_G_PER_L = 100.0, 20.0, 60.0
REFERENCE = "100 ml of 20 % vol with 60 g/l of sugar"
LONGEST_S, SHORTEST_S = 600.0, 20.0
_POINTS = 61
USUAL_PACE = 1.0
"""A method's figures are those on its usual ice."""


_WITHOUT_ICE = {
    MethodKind.NO_ICE: "Nothing melts by this method: the drink keeps its temperature, but for what tin or glass takes.",
    MethodKind.COLD_STORE: "Nothing melts by this method: the drink gets as cold as the place where it is kept.",
    MethodKind.HOT: "Nothing melts by this method: only the glass takes heat from the drink.",
    MethodKind.OTHER: "This method does not chill.",
}
_NOT_COMPUTED = "It cannot be computed with these figures."


@dataclass(frozen=True, slots=True)
class MeltCurve:
    """``melted_g`` is the water taken up and ``end_c`` the temperature at each of ``seconds``. ``usual_s`` are the ends of
    the usual time, ``at_s`` is when the drink has gone the part of the way that counts where no time is known (``None``:
    never, or only in the end), ``rest_g`` and ``rest_c`` are what it comes to there. ``sentence`` tells it in words."""

    seconds: tuple[float, ...]
    melted_g: tuple[float, ...]
    end_c: tuple[float, ...]
    usual_s: tuple[float, float] | None
    at_s: float | None
    rest_g: float
    rest_c: float
    sentence: str


def why_no_curve(method: Method) -> str:
    """Why there is nothing to draw; empty where there is."""
    return _WITHOUT_ICE.get(method.kind, "")


def melt_curve(book: HouseBook, method: Method, style: NumberStyle = ENGLISH_STYLE) -> MeltCurve | None:
    """The curve of a method on its usual ice, from the room's temperature; ``None`` where nothing melts or it cannot be
    computed. A calibration of the house counts as it does in a drink."""
    if method.kind not in ON_ICE or method.tau_s <= 0.0:
        return None
    ice = book.ice_named(method.ice)
    calibration = book.calibration_of(method.slug, ice)
    tau_s, _ = way_of(method, calibration, USUAL_PACE, 1.0)
    way, _ = way_of(method, calibration, USUAL_PACE, None)
    usual = _usual(method)
    seconds: Floats = np.linspace(0.0, _last(tau_s, usual), _POINTS)
    ways = np.concatenate([approach(seconds, np.full_like(seconds, tau_s)), np.array([way])])
    ice_g = method.ice_g_per_ml * REFERENCE_ML if method.ice_g is None else method.ice_g
    surface_g = ice_g * surface_share(method, ice, calibration, IceState.USUAL)
    found = chill(
        np.repeat(reference_g(), len(ways), axis=1),
        book.settings.room_c,
        ice_g=ice_g,
        ice_c=ice_c_of(ice, None),
        surface_water_g=surface_g,
        vessel_j_per_k=0.0 if method.vessel_is_cold else method.vessel_j_per_k,
        vessel_c=book.settings.room_c,
        approach=ways,
        core=method.core,
    )
    melted, ends = (found.melted_g + found.surface_water_g).tolist(), found.end_c.tolist()
    if any(number != number for number in (*melted, *ends)):
        return None
    at_s = -tau_s * log(1.0 - way) if way < 1.0 else None
    curve = MeltCurve(
        tuple(seconds.tolist()), tuple(melted[:-1]), tuple(ends[:-1]), usual, at_s, melted[-1], ends[-1], ""
    )
    return _told(curve, style)


def no_curve_words(book: HouseBook, method: Method) -> str:
    """What to say where ``melt_curve`` gives none."""
    return why_no_curve(method) or (_NOT_COMPUTED if melt_curve(book, method) is None else "")


def reference_g() -> Floats:
    """Grams (24, 1) of each component of the reference drink."""
    solutes = np.zeros((COMPONENT_COUNT, 1))
    solutes[SUCROSE] = REFERENCE_SUGAR_G_PER_L
    return composition_from_label(REFERENCE_PCT_VOL, solutes) * (REFERENCE_ML / 1000.0)


def _usual(method: Method) -> tuple[float, float] | None:
    low, high = method.time_low_s, method.time_high_s
    if low is None or high is None or high <= 0.0:
        return None
    return low, high


def _last(tau_s: float, usual: tuple[float, float] | None) -> float:
    """The end of the axis: past the usual time, and far enough to see where the curve levels out."""
    return min(max(3.0 * tau_s, 1.25 * usual[1] if usual else 0.0, SHORTEST_S), LONGEST_S)


def at(seconds: float, curve: MeltCurve, values: Sequence[float]) -> float:
    """The value of a curve at a time, straight between its points."""
    return float(np.interp(seconds, curve.seconds, values))


def _told(curve: MeltCurve, style: NumberStyle) -> MeltCurve:
    rest = f"{format_quantity(curve.rest_g, 0, 'g', style)} of water and {format_quantity(curve.rest_c, 1, '°C', style)}"
    told = [f"{REFERENCE}, by the balance of heat: {rest} where no time is known."]
    if curve.usual_s is not None:
        low, high = curve.usual_s
        least_g, most_g = (at(time, curve, curve.melted_g) for time in (low, high))
        coldest_c, warmest_c = (at(time, curve, curve.end_c) for time in (high, low))
        told.append(
            f"In {format_range(low, high, 0, 's', style)} it takes up {format_range(least_g, most_g, 0, 'g', style)} "
            f"and comes to {format_range(coldest_c, warmest_c, 1, '°C', style)}."
        )
    return MeltCurve(
        curve.seconds, curve.melted_g, curve.end_c, curve.usual_s, curve.at_s, curve.rest_g, curve.rest_c,
        " ".join(told),
    )  # fmt: skip
