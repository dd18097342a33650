"""Chilling on ice: how much melts and how cold it gets, by the heat that liquid, ice, vessel and surroundings exchange."""

from collections.abc import Callable
from functools import cache
from typing import Any, NamedTuple

import numpy as np

from washline.chemistry.arrays import Floats, Number, by_column_each, choose, exponential, is_all, square_root
from washline.chemistry.coefficients import value
from washline.chemistry.components import WATER
from washline.chemistry.freezing import ice_line_temperature_c, is_on_ice_line, osmolality_terms
from washline.chemistry.heat import heat_of_mixing_j_per_g, heat_sums, solvent_capacity_j_per_g_k

_PASSES = 80
# The balance closes to this part of all the heat that takes part.
_CLOSES_TO = 1e-13
# Less water than this is none: powers of its concentration would leave the range of numbers.
_LEAST_WATER_G, _LEAST_SHARE_OF_WATER = 1e-6, 1e-9
_NO_VALUE = float("nan")


class Chilled(NamedTuple):
    """What ice makes of each column, each an array (n,).

    ``melted_g`` and ``surface_water_g`` (g) are the water that the liquid takes up: from the ice, and what clung to it.
    ``end_c`` (degC) is the temperature of the liquid, ``equilibrium_c`` (degC) that at which it would come to rest.
    ``cold_left_j`` (J) is what is left of the cold of ice and vessel where nothing melts: it would freeze water out of the
    liquid, or there was no time to give it off; 0 wherever ice melts.
    """

    melted_g: Floats
    end_c: Floats
    surface_water_g: Floats
    equilibrium_c: Floats
    cold_left_j: Floats


class _Start(NamedTuple):
    """What stands against one another, a number or an array (n,) each, in the units of ``chill``.

    The liquid is one with the water that clung to the ice; ``most_water_g`` is its water with all the ice melted, the unit
    in which its osmolality counts water. ``heat_j`` is all heat at the start, against water at 0 degC for what is liquid
    and against ice at 0 degC for what is frozen; ``least_j`` is as small beside it as nothing.
    """

    liquid_c: Any
    water_g: Any
    most_water_g: Any
    solvent_g: Any
    ethanol_g: Any
    solute_j_per_k: Any
    solute_j_per_k2: Any
    osmolality: tuple[Any, ...]
    ice_g: Any
    ice_c: Any
    core: Any
    vessel_j_per_k: Any
    heat_j: Any
    least_j: Any


class _Rest(NamedTuple):
    """Where a liquid comes to rest with all its ice: what has melted by then (g), and its temperature (degC)."""

    melted_g: Any
    celsius: Any


def approach(seconds: Number, tau_s: Number) -> Number:
    """Part of the way to equilibrium that a liquid goes on ice in a time.

    Arguments:
        seconds: time on the ice, s, float or array (n,)
        tau_s: time constant, s, above 0 (4 to 5 shaken, 20 to 40 stirred), float or array (n,)
    Returns: part of the way (1), 0 to 1, float or array (n,)
    Valid: one way of stirring or shaking throughout
    Error: that of the time constant: stirred a factor of two with the size of the ice and the hand
    Source: exponential approach; D. Arnold, public bench reports 2009-2010 (from memory)

    >>> round(approach(12.0, 4.5), 3)
    0.931
    """
    return 1.0 - exponential(-seconds / tau_s)


@cache
def _ice_terms() -> tuple[float, float]:
    return value("ice", "heat_capacity", "0"), value("ice", "heat_capacity", "1") * 0.5


@cache
def _fusion_j_per_g() -> float:
    return value("ice", "fusion")


def ice_heat_j_per_g(temperature_c: Number) -> Number:
    """Heat of ice above ice at 0 degC.

    Arguments:
        temperature_c: degC, 0 or below, float or array (n,)
    Returns: J per g, float or array (n,); negative below 0 degC
    Valid: -40 to 0 degC
    Error: 0.5 % against the ice of IAPWS-06
    Source: heat capacity 2.106 + 0.0075 t J/gK, integrated from 0 degC

    >>> round(ice_heat_j_per_g(-10.0), 3)
    -20.685
    """
    capacity, half_rise = _ice_terms()
    return (temperature_c * half_rise + capacity) * temperature_c


def chill(
    masses_g: Floats,
    liquid_c: Floats | float,
    *,
    ice_g: Floats | float,
    ice_c: Floats | float = 0.0,
    surface_water_g: Floats | float = 0.0,
    vessel_j_per_k: Floats | float = 0.0,
    vessel_c: Floats | float = 20.0,
    outside_j: Floats | float = 0.0,
    approach: Floats | float = 1.0,
    core: Floats | float = 1.0,
) -> Chilled:
    """What a liquid takes up from ice and how cold it gets: a balance of heat, limited by the freezing point.

    At equilibrium the liquid stands at the freezing point that it has with what has melted; where all the ice melts it is
    warmer. Where the ice is so cold that none melts, the liquid stops at its own freezing point: a freezing out of its
    water is not counted. Short of equilibrium it goes the part ``approach`` of the way to that temperature, and there
    melts what the heat allows. A liquid that is not cooled, since vessel or surroundings are warm, goes all the way; one
    that comes in below its freezing point, that with the water on the ice, (a slush) is not warmed by the ice.

    Arguments:
        masses_g: g of each component before ice, array (24, n)
        liquid_c: degC of the liquid, float or array (n,)
        ice_g: g of ice without the water that clings to it, float or array (n,)
        ice_c: degC of the ice, 0 or below, float or array (n,)
        surface_water_g: g of water that clings to the ice, at 0 degC, float or array (n,)
        vessel_j_per_k: J per K of what else is cooled, float or array (n,)
        vessel_c: degC of the vessel at the start, float or array (n,)
        outside_j: J that come in from outside, float or array (n,)
        approach: part of the way to equilibrium (1), 0 to 1, float or array (n,)
        core: part of the way to the liquid's temperature that the ice left over goes (1), 0 to 1, float or array (n,)
    Returns: g, degC and J as ``Chilled``, each an array (n,); NaN without water, or where the end is below -45 degC
    Valid: to 35 % vol before ice, liquid from -10 to 30 degC; flagged outside
    Error: 5 g per 100 mL is the honest spread of ice, time and hand; 2 g against the regressions from 12 to 33 % vol, 8 g
        or more above 35 % vol
    Source: conservation of energy with the heats of this package; presets fitted to D. Arnold 2014, Liquid Intelligence

    >>> masses = np.zeros((24, 1)); masses[0, 0] = 100.0
    >>> round(chill(masses, 20.0, ice_g=200.0).melted_g.item(), 1)
    25.1
    """
    conditions = (
        approach,
        liquid_c,
        ice_g,
        ice_c,
        surface_water_g,
        vessel_j_per_k,
        vessel_c,
        outside_j,
        core,
    )
    columns = [np.broadcast_to(np.float64(condition), masses_g.shape[1:]) for condition in conditions]
    all_ice_g, surface_g = columns[2], columns[4]
    most_water_g = masses_g[WATER] + surface_g + all_ice_g
    with_all_ice = masses_g.astype(np.float64)
    with_all_ice[WATER] = np.where(most_water_g > _LEAST_WATER_G, most_water_g, 0.0)
    melted_g, end_c, equilibrium_c, cold_left_j = by_column_each(
        _chilled,
        *columns,
        masses_g[WATER],
        with_all_ice[WATER],
        *heat_sums(masses_g),
        *osmolality_terms(with_all_ice),
    )
    return Chilled(melted_g, end_c, surface_g * 1.0, equilibrium_c, cold_left_j)


def _chilled(way: Any, *conditions: Any) -> tuple[Any, ...]:
    """The kernel of ``chill``: melted g, end degC, equilibrium degC, cold left J."""
    start = _start(*conditions)
    rest = _equilibrium(start)
    is_through = (way >= 1.0) | (rest.celsius >= start.liquid_c)
    end_c = choose(is_through, rest.celsius, start.liquid_c + way * (rest.celsius - start.liquid_c))
    melted_g = choose(is_through, rest.melted_g, _melted_at(start, end_c, rest.melted_g))
    left_j = -_surplus(start, melted_g * 0.0, end_c)
    melted_g = choose(end_c == end_c, melted_g, _NO_VALUE)
    is_left = (melted_g <= 0.0) & (abs(left_j) > start.least_j)
    cold_left_j = choose(is_left, left_j, melted_g * 0.0)
    return tuple(
        choose(part == part, part, _NO_VALUE) for part in (melted_g, end_c, rest.celsius, cold_left_j)
    )


def _start(
    liquid_c: Any,
    ice_g: Any,
    ice_c: Any,
    surface_g: Any,
    vessel_j_per_k: Any,
    vessel_c: Any,
    outside_j: Any,
    core: Any,
    water_g: Any,
    most_water_g: Any,
    *liquid: Any,
) -> _Start:
    """What stands against one another; of the ``liquid`` its four sums of heat and its terms of osmolality."""
    solvent_g, ethanol_g, solutes, solutes_rise, *osmolality = liquid
    liquid_j = _liquid_heat(solvent_g, ethanol_g, solutes, solutes_rise, liquid_c)
    vessel_j, ice_j = vessel_j_per_k * vessel_c, ice_g * ice_heat_j_per_g(ice_c)
    size_j = abs(liquid_j) + abs(vessel_j) + abs(outside_j) + ice_g * _fusion_j_per_g()
    return _Start(
        liquid_c,
        water_g + surface_g,
        most_water_g,
        solvent_g + surface_g,
        ethanol_g,
        solutes,
        solutes_rise,
        tuple(osmolality),
        ice_g,
        ice_c,
        core,
        vessel_j_per_k,
        liquid_j + vessel_j + outside_j + ice_j,
        size_j * _CLOSES_TO,
    )


def _liquid_heat(solvent_g: Any, ethanol_g: Any, solutes: Any, solutes_rise: Any, celsius: Any) -> Any:
    """Heat of a liquid above its unmixed parts at 0 degC."""
    fraction = ethanol_g / choose(solvent_g > 0.0, solvent_g, 1.0)
    capacity, rise = solvent_capacity_j_per_g_k(fraction)
    sensible = (
        (solvent_g * rise + solutes_rise) * 0.5 * celsius + (solvent_g * capacity + solutes)
    ) * celsius
    return sensible + solvent_g * heat_of_mixing_j_per_g(fraction)


def _surplus(start: _Start, melted_g: Any, celsius: Any) -> Any:
    """Heat that is left over, in J, once so much has melted and all is at its temperature; it falls with both."""
    liquid_j = _liquid_heat(
        start.solvent_g + melted_g, start.ethanol_g, start.solute_j_per_k, start.solute_j_per_k2, celsius
    )
    rest_c = start.ice_c + start.core * (choose(celsius < 0.0, celsius, 0.0) - start.ice_c)
    ice_j = melted_g * _fusion_j_per_g() + (start.ice_g - melted_g) * ice_heat_j_per_g(rest_c)
    return start.heat_j - (liquid_j + start.vessel_j_per_k * celsius + ice_j)


def _osmolality(start: _Start, melted_g: Any) -> Any:
    """Of the liquid with so much melted; no number without water."""
    water_g = start.water_g + melted_g
    is_any = water_g > start.most_water_g * _LEAST_SHARE_OF_WATER
    stronger = start.most_water_g / choose(is_any, water_g, _NO_VALUE)
    total = start.osmolality[-1]
    for term in start.osmolality[-2::-1]:
        total = total * stronger + term
    return total * stronger


def _equilibrium(start: _Start) -> _Rest:
    """Where liquid and ice come to rest: on the freezing point, or warmer with no ice left, or with nothing melted."""

    def surplus_on_ice_line(melted_g: Any) -> Any:
        return _surplus(start, melted_g, ice_line_temperature_c(_osmolality(start, melted_g)))

    with_all = surplus_on_ice_line(start.ice_g)
    with_none = surplus_on_ice_line(start.ice_g * 0.0)
    melted_g = _falling_root(surplus_on_ice_line, start.ice_g, with_none, with_all, start.least_j)
    osmolality = _osmolality(start, melted_g)
    freezing_c = choose(is_on_ice_line(osmolality), ice_line_temperature_c(osmolality), _NO_VALUE)
    # A slush, colder than its freezing point, stays as it is.
    is_slush = (with_none <= 0.0) & (start.liquid_c < freezing_c)
    freezing_c = choose(is_slush, start.liquid_c, freezing_c)
    return _Rest(melted_g, choose(with_all >= 0.0, _warmer(start), freezing_c))


def _warmer(start: _Start) -> Any:
    """Temperature with all ice melted: the root of a quadratic that is 0 where there is no heat."""
    solvent_g = start.solvent_g + start.ice_g
    fraction = start.ethanol_g / choose(solvent_g > 0.0, solvent_g, 1.0)
    capacity, rise = solvent_capacity_j_per_g_k(fraction)
    mixing_j = solvent_g * heat_of_mixing_j_per_g(fraction)
    heat_j = start.heat_j - start.ice_g * _fusion_j_per_g() - mixing_j
    constant = solvent_g * capacity + start.solute_j_per_k + start.vessel_j_per_k
    squared = constant * constant + (solvent_g * rise + start.solute_j_per_k2) * heat_j * 2.0
    root = square_root(choose(squared > 0.0, squared, 0.0))
    return heat_j * 2.0 / choose(constant > 0.0, constant + root, _NO_VALUE)


def _melted_at(start: _Start, celsius: Any, most_g: Any) -> Any:
    """What melts short of equilibrium, with the liquid at a temperature: 0 to ``most_g``."""

    def surplus(melted_g: Any) -> Any:
        return _surplus(start, melted_g, celsius)

    return _falling_root(surplus, most_g, surplus(most_g * 0.0), surplus(most_g), start.least_j)


def _falling_root(function: Callable[[Any], Any], high: Any, at_low: Any, at_high: Any, near: Any) -> Any:
    """Where a falling function is 0 between 0 and ``high``; the end that is nearest where it is not; NaN for NaN.

    False position with the kept end's value halved (Illinois): an element that is found is left alone, so that no result
    depends on its neighbours.
    """
    low, side = high * 0.0, high * 0.0
    found = choose(at_high >= 0.0, high, low)
    is_found = (at_low <= 0.0) | (at_high >= 0.0)
    for _ in range(_PASSES):
        if is_all(is_found):
            break
        span = at_low - at_high
        tried = low + (high - low) * (at_low / choose(span == 0.0, 1.0, span))
        here = function(tried)
        is_before = here > 0.0
        at_low = choose(is_before, here, choose(side < 0.0, at_low * 0.5, at_low))
        at_high = choose(is_before, choose(side > 0.0, at_high * 0.5, at_high), here)
        low, high = choose(is_before, tried, low), choose(is_before, high, tried)
        side = choose(is_before, 1.0, -1.0)
        found = choose(is_found, found, tried)
        is_found = is_found | (abs(here) <= near) | (here != here)
    return found
