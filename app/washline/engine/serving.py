"""A drink on ice while somebody drinks it: heat comes in from the room, ice melts, and the liquid follows."""

from dataclasses import dataclass

import numpy as np

from washline.chemistry import acidity, chilling, mixture, sweetness
from washline.chemistry.components import WATER
from washline.engine.state import MASSES, Numbers, bound_mmol
from washline.engine.trace import Trace

STEP_S = 30.0
"""The figures follow one another by so many seconds."""

REST_TAU_S = 90.0
"""Time constant in s with which a drink that stands comes to rest with its ice (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Serving:
    """A drink over time, each array (n,): ``minutes`` from 0, strength in % vol, sweetness and acidity in g per 100 ml, °C,
    ml of liquid at 20 °C and grams of ice left; and in words what was taken for granted."""

    minutes: Numbers
    strength: Numbers
    sweetness: Numbers
    acidity: Numbers
    chill_c: Numbers
    length_ml: Numbers
    ice_left_g: Numbers
    assumptions: tuple[str, ...]


def serving_of(trace: Trace, minutes: float) -> Serving | None:
    """What becomes of a drink on its ice; ``None`` where there is no ice in the glass, or no drink to be computed."""
    chill_c = trace.value("chill")
    if not trace.ice_left_g > 0.0 or chill_c is None or minutes <= 0.0:
        return None
    count = int(np.ceil(minutes * 60.0 / STEP_S)) + 1
    times_s = np.linspace(0.0, minutes * 60.0, count)
    settings = trace.book.settings
    water, celsius, ice = _followed(trace, chill_c, times_s)
    masses = np.repeat(trace.final_state[MASSES, None], count, axis=1)
    masses[WATER] = masses[WATER] + water
    volume = mixture.volume_ml(masses)
    bound = np.full(count, bound_mmol(trace.final_state))
    return Serving(
        times_s / 60.0,
        mixture.strength_pct_vol(masses),
        sweetness.sucrose_equivalent_g(masses) * 100.0 / volume,
        acidity.titratable_acidity_citric_g(masses, bound) * 100.0 / volume,
        celsius,
        volume,
        ice,
        (
            f"The room is at {settings.room_c:g} °C, and the glass takes up {settings.glass_w_per_k:g} W for each K.",
            f"It starts with {trace.ice_left_g:.0f} g of ice at {_rounded(trace.ice_left_c)} °C.",
            "It is not drunk, stirred or held meanwhile; ice and liquid come to rest in a few minutes.",
            "What of the gas leaves meanwhile is not counted.",
        ),
    )


def _rounded(celsius: float) -> str:
    """Whole degrees with a true minus sign, and no sign on a zero."""
    whole = round(celsius)
    return f"−{-whole}" if whole < 0 else str(whole)


def _followed(trace: Trace, chill_c: float, times_s: Numbers) -> tuple[Numbers, Numbers, Numbers]:
    """Grams of water taken up, °C and grams of ice left at each time, (n,) each: step by step a balance of heat."""
    settings = trace.book.settings
    seconds = float(times_s[1] - times_s[0])
    way = chilling.approach(seconds, REST_TAU_S)
    masses = trace.final_state[MASSES, None].copy()
    celsius, ice_g, ice_c, water = chill_c, trace.ice_left_g, trace.ice_left_c, 0.0
    rows = [(water, celsius, ice_g)]
    for _ in range(len(times_s) - 1):
        heat_j = settings.glass_w_per_k * (settings.room_c - celsius) * seconds
        found = chilling.chill(
            masses, celsius, ice_g=ice_g, ice_c=ice_c, outside_j=heat_j, approach=way, core=way
        )
        melted, celsius = float(found.melted_g[0]), float(found.end_c[0])
        masses[WATER] = masses[WATER] + melted
        ice_c = ice_c + way * (min(celsius, 0.0) - ice_c)
        water, ice_g = water + melted, ice_g - melted
        rows.append((water, celsius, ice_g))
    columns = np.array(rows).T
    return columns[0], columns[1], columns[2]
