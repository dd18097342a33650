"""Chilling: water melts from the ice, by weight, to a mark, by the published dilution or by the balance of heat; a vessel
gives or takes heat; what stands in a cold store gets as cold as the place."""

import numpy as np

from washline.chemistry import chilling, heat, mixture
from washline.chemistry.components import CO2, ETHANOL, WATER
from washline.chemistry.freezing import freezing_point_c
from washline.engine.liquid import SMALLEST_VOLUME_ML, enough_liquid
from washline.engine.melting import ETHANOL_DENSITY_G_PER_ML, WATER_DENSITY_G_PER_ML, Melt, OnIce, mixed
from washline.engine.pouring import grams_to_volume
from washline.engine.program import NONE
from washline.engine.run import ALREADY_ABOVE, Run
from washline.engine.state import ENTHALPY, MASSES, Numbers, empty_state

PARTLY_FROZEN = "part of it freezes there"
ROUNDING_C = 1e-6
"""So near its freezing point a drink is liquid."""

TIN, GLASS = "tin", "glass"
"""Where the ice of a chill is afterwards."""

(
    ICE_G,
    ICE_G_PER_ML,
    ICE_C,
    SURFACE,
    WAY,
    SECONDS,
    CORE,
    VESSEL_J_PER_K,
    VESSEL_C,
    FACTOR,
    OFFSET,
    USUAL_TIME,
    MELT_DOUBT,
    END_DOUBT,
) = range(14)
"""The numbers of a chill on ice, in the order in which they stand from its first one on. ``SURFACE`` is the water that
clings to the ice as a share of it; ``WAY`` is the part of the way to equilibrium, or the time constant in s of a chill
whose ``SECONDS`` are known; the two doubts, in ml per ml and °C, are 0 but in a column of uncertainty."""


def chill_on_ice(
    running: Run, weighed: str, amount: int, published: str, by: str, at: int, end: int, place: str
) -> None:
    """On ice. ``weighed`` says what the number ``amount`` is ("melted", "mass", "volume", "": nothing was weighed);
    ``published`` is the published dilution that may count, ``by`` what counts ("usual", "published", "balance"; with
    "in a time" for a time that is known); ``at`` is its first number, ``end`` the temperature that was measured."""
    on_ice = _on_ice(running, published, by, at)
    is_liquid = on_ice.volume_ml > SMALLEST_VOLUME_ML
    weight = None
    if weighed:
        taken_up = _weighed_g(running, weighed, amount)
    else:
        weight = on_ice.published_weight()
        doubt = running.numbers[at + MELT_DOUBT] * on_ice.volume_ml * WATER_DENSITY_G_PER_ML
        taken_up = np.maximum(on_ice.taken_up_g(weight) + doubt, 0.0)
        _note_range(running, on_ice, by, weight)
    taken_up = np.where(is_liquid | bool(weighed), taken_up, 0.0)
    after = on_ice.masses.copy()
    after[WATER] = after[WATER] + taken_up
    end_c = running.numbers[end] if end != NONE else _end_c(running, on_ice, taken_up, weight, after, at)
    running.set_range("chilled_from_c", np.where(is_liquid, on_ice.liquid_c, np.nan))
    running.set_range("chilled_c", end_c)
    left = np.maximum(on_ice.ice_g - np.maximum(taken_up - on_ice.surface_water_g, 0.0), 0.0)
    rest_c = on_ice.ice_c + on_ice.core * (np.minimum(end_c, 0.0) - on_ice.ice_c)
    running.leave_ice(left, rest_c, place == GLASS)
    if running.keeps:
        running.chills[running.op] = Melt(on_ice, taken_up, weight, end_c, left)
    _take_up(running, taken_up, np.where(is_liquid, end_c, 0.0), on_ice.volume_ml)


def _on_ice(running: Run, published: str, by: str, at: int) -> OnIce:
    masses, numbers = running.state[MASSES], running.numbers
    volume = mixture.volume_ml(masses)
    strength = masses[ETHANOL] / ETHANOL_DENSITY_G_PER_ML / np.where(volume > 0.0, volume, 1.0) * 100.0
    ice_g = numbers[at + ICE_G] + numbers[at + ICE_G_PER_ML] * volume
    way = numbers[at + WAY]
    if by.endswith(IN_A_TIME):
        way = chilling.approach(numbers[at + SECONDS], way)
    return OnIce(
        masses,
        volume,
        strength,
        heat.temperature_from_enthalpy(masses, running.state[ENTHALPY]),
        ice_g,
        numbers[at + ICE_C],
        numbers[at + SURFACE] * ice_g,
        way,
        numbers[at + CORE],
        numbers[at + VESSEL_J_PER_K],
        numbers[at + VESSEL_C],
        published,
        by.startswith("published"),
        numbers[at + FACTOR],
        numbers[at + OFFSET],
        numbers[at + USUAL_TIME],
    )


IN_A_TIME = " in a time"


def _weighed_g(running: Run, weighed: str, amount: int) -> Numbers:
    """What melted by what was weighed or measured."""
    if weighed == "melted":
        grams: Numbers = running.numbers[amount] * 1.0
        return grams
    if weighed == "mass":
        grams = running.numbers[amount] - running.vessel_g
        running.miss(ALREADY_ABOVE, grams < 0.0)
        return floor(grams)
    water = empty_state(running.state.shape[1])
    water[WATER] = 1.0
    grams, is_missed = grams_to_volume(running, water, running.numbers[amount])
    running.miss(ALREADY_ABOVE, is_missed)
    return grams


def floor(grams: Numbers) -> Numbers:
    """What is not below 0."""
    held: Numbers = np.maximum(grams, 0.0)
    return held


def _note_range(running: Run, on_ice: OnIce, by: str, weight: Numbers) -> None:
    """What the ranges of a computed melt look at."""
    running.set_range("chilled_from_pct_vol", on_ice.strength_pct_vol)
    if by.startswith("published") and on_ice.published:
        running.set_range("before_ice_pct_vol", on_ice.strength_pct_vol)
    if not bool(np.all(weight >= 1.0)):
        running.set_range("cold_left_j", np.where(weight >= 1.0, 0.0, on_ice.balance().cold_left_j))


def _end_c(
    running: Run, on_ice: OnIce, taken_up: Numbers, weight: Numbers | None, after: Numbers, at: int
) -> Numbers:
    """The temperature at the end: as far as it goes on the way to the freezing point of what it has become, never below
    that; the balance's own where the balance tells what melts, or where no ice is left."""
    doubt = running.numbers[at + END_DOUBT]
    end_c: Numbers
    if weight is not None and bool(np.all(weight <= 0.0)):
        end_c = on_ice.balance().end_c + doubt
        return end_c
    freezing_c = freezing_point_c(enough_liquid(after))
    end_c = on_ice.liquid_c + on_ice.approach * (freezing_c - on_ice.liquid_c)
    end_c = np.maximum(end_c, freezing_c)
    is_gone = on_ice.ice_g <= taken_up - on_ice.surface_water_g
    by_formula = np.where(is_gone, 0.0, 1.0 if weight is None else weight)
    if not bool(np.all(by_formula >= 1.0)):
        # What took up another amount than the balance tells freezes elsewhere.
        lowest_c = freezing_c if weight is None else np.where(weight > 0.0, freezing_c, -np.inf)
        own_c = on_ice.balance().end_c
        end_c = np.maximum(mixed(by_formula, end_c, own_c), lowest_c)
    end_c = end_c + doubt
    return end_c


def _take_up(running: Run, melted_g: Numbers, end_c: Numbers, before_ml: Numbers) -> None:
    """Water goes into the liquid, and all that is in the vessel has a temperature."""
    is_first = (running.melted_g == 0.0) & (melted_g > 0.0)
    running.before_ice_ml = np.where(is_first, before_ml, running.before_ice_ml)
    running.melted_g = running.melted_g + melted_g
    running.melts[running.op] = melted_g
    state = running.state.copy()
    state[WATER] = state[WATER] + melted_g
    state[ENTHALPY] = heat.enthalpy_j(state[MASSES], end_c)
    running.state = state
    if running.held is not None:
        held = running.held.copy()
        held[ENTHALPY] = heat.enthalpy_j(held[MASSES], end_c)
        running.held = held


def chill_by_vessel(running: Run, weighed: str, amount: int, vessel: int, end: int) -> None:
    """Without ice: the vessel gives or takes heat, its J/K, °C and doubt being the numbers from ``vessel`` on. Where there
    is none the liquid stays as warm as it is. Weighed water is taken up all the same."""
    state = running.state
    volume = mixture.volume_ml(state[MASSES])
    taken_up = _weighed_g(running, weighed, amount) if weighed else np.zeros_like(volume)
    own_c = heat.temperature_from_enthalpy(state[MASSES], state[ENTHALPY])
    end_c = own_c
    if end != NONE:
        end_c = running.numbers[end]
    elif vessel != NONE:
        j_per_k, vessel_c, doubt = running.numbers[vessel : vessel + 3]
        shared_c = heat.temperature_with_vessel(state[MASSES], state[ENTHALPY], j_per_k, vessel_c)
        freezing_c = freezing_point_c(enough_liquid(state[MASSES]))
        end_c = np.fmax(shared_c, np.minimum(own_c, freezing_c)) + doubt
    _chill_without_ice(running, taken_up, end_c, own_c, volume)


def chill_in_store(running: Run, weighed: str, amount: int, store: int) -> None:
    """Until it is as cold as the place; what is below its freezing point there is partly frozen."""
    state = running.state
    volume = mixture.volume_ml(state[MASSES])
    taken_up = _weighed_g(running, weighed, amount) if weighed else np.zeros_like(volume)
    own_c = heat.temperature_from_enthalpy(state[MASSES], state[ENTHALPY])
    after = state[MASSES].copy()
    after[WATER] = after[WATER] + taken_up
    running.miss(PARTLY_FROZEN, freezing_point_c(enough_liquid(after)) > running.numbers[store] + ROUNDING_C)
    _chill_without_ice(running, taken_up, running.numbers[store], own_c, volume)


def _chill_without_ice(
    running: Run, taken_up: Numbers, end_c: Numbers, own_c: Numbers, volume: Numbers
) -> None:
    none = np.zeros_like(volume)
    if running.keeps:
        still = running.state[MASSES], volume, none, own_c, none, none, none, none + 1.0, none, none, own_c
        on_ice = OnIce(*still)
        running.chills[running.op] = Melt(on_ice, taken_up, None, end_c * 1.0, none)
    _take_up(running, taken_up, np.where(volume > SMALLEST_VOLUME_ML, end_c, 0.0), volume)


def serve(running: Run, loss: int) -> None:
    """On pouring a share of the gas leaves."""
    gas = empty_state(running.state.shape[1])
    gas[CO2] = running.state[CO2] * running.numbers[loss]
    running.leave("gas", gas)
    running.state = running.state - gas
