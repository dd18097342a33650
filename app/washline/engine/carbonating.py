"""Carbonating: carbon dioxide is dissolved under pressure, never above what the vessel is rated for where it is warmest."""

import numpy as np

from washline.chemistry import carbonation, heat, mixture
from washline.chemistry.carbonation import KPA_PER_ATM
from washline.chemistry.components import CO2, ETHANOL, SUGARS
from washline.engine.liquid import SMALLEST_VOLUME_ML
from washline.engine.melting import ETHANOL_DENSITY_G_PER_ML
from washline.engine.program import NONE
from washline.engine.run import Gas, Run
from washline.engine.state import ENTHALPY, MASSES, Numbers, empty_state

TOO_MUCH_PRESSURE = "more pressure than the vessel is rated for: nothing was dissolved"
NO_PRESSURE = "no pressure holds that much gas here: nothing was dissolved"

LEVEL, OVER_KPA, REACHED, WARMEST_C, FILL_ML, HEAD_ML, RATED_KPA = range(7)
"""The numbers of a carbonating, in the order in which they stand from its first one on: the level in g/L, the pressure in
kPa over the atmosphere, the part of equilibrium that is reached, and the vessel's own."""


def carbonate(running: Run, by: str, at: int, temperature: int) -> None:
    """To a level that is wanted or was measured (``by`` "level"), or as far as a pressure takes it ("pressure"); ``at`` is
    the first number, ``temperature`` that of the liquid where it was typed."""
    masses, numbers = running.state[MASSES], running.numbers
    volume = mixture.volume_ml(masses)
    is_liquid = volume > SMALLEST_VOLUME_ML
    wet_ml = np.where(is_liquid, volume, np.nan)
    strength = masses[ETHANOL] / ETHANOL_DENSITY_G_PER_ML / wet_ml * 100.0
    sugars = np.add.accumulate(masses[list(SUGARS)], axis=0)[-1] / wet_ml * 1000.0
    own_c = heat.temperature_from_enthalpy(masses, running.state[ENTHALPY])
    at_c = own_c if temperature == NONE else numbers[temperature]
    over_kpa = numbers[at + OVER_KPA]
    equilibrium = carbonation.co2_g_per_l(at_c, over_kpa + KPA_PER_ATM, strength, sugars)
    level = numbers[at + LEVEL] if by == "level" else equilibrium * numbers[at + REACHED]
    needed_kpa = carbonation.absolute_kpa_for(at_c, level, strength, sugars)
    warm_kpa = _warm_kpa(running, at, at_c, needed_kpa, strength, sugars) - KPA_PER_ATM
    rated = numbers[at + RATED_KPA]
    highest_kpa = np.fmax(np.maximum(warm_kpa, needed_kpa - KPA_PER_ATM), over_kpa)
    is_unknown = is_liquid & np.isnan(needed_kpa)
    is_over = is_liquid & (highest_kpa > rated)
    running.miss(TOO_MUCH_PRESSURE, is_over)
    running.miss(NO_PRESSURE, is_unknown)
    is_done = is_liquid & ~is_over & ~is_unknown
    _dissolve(running, np.where(is_done, level, 0.0) * volume * 0.001, is_done)
    if temperature != NONE:
        running.state[ENTHALPY] = heat.enthalpy_j(masses, at_c)
    running.set_range("co2_temperature_c", at_c)
    running.set_range("co2_kpa", np.fmax(needed_kpa, warm_kpa + KPA_PER_ATM))
    running.set_range("co2_pct_vol", strength)
    if running.keeps:
        reached = running.state[CO2] / wet_ml * 1000.0
        running.gases[running.op] = Gas(
            reached,
            equilibrium,
            over_kpa * 1.0,
            at_c * 1.0,
            numbers[at + WARMEST_C] * 1.0,
            warm_kpa,
            rated * 1.0,
            needed_kpa - KPA_PER_ATM,
        )


def _warm_kpa(
    running: Run, at: int, at_c: Numbers, absolute_kpa: Numbers, strength: Numbers, sugars: Numbers
) -> Numbers:
    """Pressure (n,) in kPa absolute in the closed vessel at the warmest place: liquid and head space keep their gas."""
    fill_ml, head_ml = running.numbers[at + FILL_ML], running.numbers[at + HEAD_ML]
    gas_g = carbonation.bottle_co2_g(at_c, absolute_kpa, fill_ml, head_ml, strength, sugars)
    warmest_c = running.numbers[at + WARMEST_C]
    kpa: Numbers = carbonation.bottle_kpa(warmest_c, gas_g, fill_ml, head_ml, strength, sugars)
    return kpa


def _dissolve(running: Run, wanted_g: Numbers, is_done: Numbers) -> None:
    """Gas goes in up to what is wanted, or leaves down to it."""
    change = np.where(is_done, wanted_g - running.state[CO2], 0.0)
    gained = np.maximum(change, 0.0)
    gas = empty_state(gained.shape[0])
    gas[CO2] = gained - change
    state = running.state.copy()
    state[CO2] = state[CO2] + change
    running.state = state
    running.gained[running.op] = gained
    if bool(np.any(gas[CO2])):
        running.leave("gas", gas)


def open_bottle(running: Run, loss: int) -> None:
    """On opening a share of the gas leaves."""
    gas = empty_state(running.state.shape[1])
    gas[CO2] = running.state[CO2] * running.numbers[loss]
    running.leave("gas", gas)
    running.state = running.state - gas
