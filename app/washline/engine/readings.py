"""From a state to its readings: one table of functions, n columns at a time."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from washline.chemistry import acidity, energy, heat, mixture, solids, sweetness
from washline.chemistry.components import CO2, ETHANOL, NACL, SUGARS
from washline.chemistry.freezing import freezing_point_from_osmolality, osmolality_of_solutes
from washline.chemistry.molality import SOLUTES, molalities
from washline.chemistry.ph import ph_and_ionic_strength
from washline.chemistry.water_activity import water_activity_of_solutes
from washline.engine.liquid import SMALLEST_VOLUME_ML, enough_liquid
from washline.engine.melting import ETHANOL_DENSITY_G_PER_ML as ETHANOL_DENSITY_G_PER_ML
from washline.engine.melting import WATER_DENSITY_G_PER_ML
from washline.engine.run import Run
from washline.engine.state import (
    BITTER,
    CATIONS,
    COST,
    ENTHALPY,
    MASSES,
    UNKNOWN_ACID,
    UNKNOWN_COST,
    UNKNOWN_ETHANOL,
    UNKNOWN_SALT,
    UNKNOWN_SUGAR,
    Numbers,
    bound_mmol,
    mass_g,
)
from washline.model.reading import READING_INDEX, READINGS

READING_COUNT = len(READINGS)
SMALLEST_ACID_G = 1e-6
FAT_KJ_PER_G, FAT_KCAL_PER_G = 37.0, 9.0
"""The most that a gram of unknown matter can bring (Regulation (EU) 1169/2011, Annex XIV: fat)."""


@dataclass(frozen=True, slots=True)
class Beside:
    """The ionic strength (n,) in mol/l at which the pH was found, and the molalities of all solutes, (solutes, n)."""

    ionic_strength: Numbers
    molalities: Numbers


@dataclass(frozen=True, slots=True)
class Figures:
    """Readings (READING_COUNT, n), how much higher each may be because something in it is unknown, and what their ranges
    look at beside them."""

    values: Numbers
    more: Numbers
    beside: Beside | None = None


def figures_of(running: Run) -> Figures:
    """The readings of what a run left in the vessel, with its garnish on top."""
    return figures(running.state, running.garnish, running.melted_g, running.before_ice_ml)


def figures(state: Numbers, garnish: Numbers, melted_g: Numbers, before_ice_ml: Numbers) -> Figures:
    """The readings of states (ROWS, n). Where there is no liquid a reading is nan; cost is known all the same."""
    masses = state[MASSES]
    mass = mass_g(state)
    volume = mixture.volume_ml(masses)
    is_liquid = volume > SMALLEST_VOLUME_ML
    per_100_ml = 100.0 / np.where(is_liquid, volume, np.nan)
    acid = acidity.titratable_acidity_citric_g(masses, bound_mmol(state))
    sugars = np.add.accumulate(masses[list(SUGARS)], axis=0)[-1]
    eaten = masses + garnish[MASSES]
    values = np.full((READING_COUNT, state.shape[1]), np.nan)
    wet = np.where(is_liquid, 1.0, np.nan)

    def put(key: str, column: Numbers) -> None:
        values[READING_INDEX[key]] = column

    put("strength", masses[ETHANOL] / ETHANOL_DENSITY_G_PER_ML * per_100_ml)
    put("sweetness", sweetness.sucrose_equivalent_g(masses) * per_100_ml)
    put("acidity", acid * per_100_ml)
    put("bitterness", state[BITTER] / np.where(is_liquid, mass, np.nan))
    put("fizz", masses[CO2] * 10.0 * per_100_ml)
    put("length", volume * wet)
    warm_c = heat.temperature_from_enthalpy(masses, state[ENTHALPY])
    put("chill", warm_c * wet)
    put("length_served", mixture.volume_ml(masses, warm_c) * wet)
    put("salt", masses[NACL] * per_100_ml)
    put("dilution", dilution_pct(melted_g, before_ice_ml) * wet)
    put("density", mass / 100.0 * per_100_ml)
    put("brix_true", solids.brix_true(masses) * wet)
    put("brix_shown", solids.brix_refractometer(masses) * wet)
    put("sugar_acid_ratio", sugars / np.where(is_liquid & (acid > SMALLEST_ACID_G), acid, np.nan))
    put("ethanol", masses[ETHANOL] * wet)
    put("energy_kcal", energy.energy_kcal(eaten) * wet)
    put("energy_kj", energy.energy_kj(eaten) * wet)
    put("cost", state[COST] + garnish[COST])
    put("mass", mass)
    liquid = enough_liquid(masses, volume)
    found_ph = ph_and_ionic_strength(liquid, state[CATIONS])
    put("ph", found_ph.ph * wet)
    solutes = molalities(liquid)
    put("water_activity", water_activity_of_solutes(SOLUTES, solutes) * wet)
    put("freezing", freezing_point_from_osmolality(osmolality_of_solutes(SOLUTES, solutes)) * wet)
    # No value has a sign of its own, which would depend on the number of columns computed at once.
    values[np.isnan(values)] = np.nan
    beside = Beside(found_ph.ionic_strength_mol_per_l, solutes)
    return Figures(values, _more(state, garnish, per_100_ml), beside)


def one_reading(key: str, state: Numbers, melted_g: Numbers, before_ice_ml: Numbers) -> Numbers:
    """One reading of states (ROWS, n) with no garnish, (n,), to the byte as ``figures`` has it: what is asked for by itself
    while somebody types is computed by itself, any other one with all."""
    read = BY_ITSELF.get(key)
    if read is None:
        every = figures(state, np.zeros_like(state), melted_g, before_ice_ml).values
        found: Numbers = every[READING_INDEX[key]]
        return found
    volume = mixture.volume_ml(state[MASSES])
    column = read(state, np.where(volume > SMALLEST_VOLUME_ML, volume, np.nan))
    column[np.isnan(column)] = np.nan
    return column


def _ph(state: Numbers, volume: Numbers) -> Numbers:
    liquid = enough_liquid(state[MASSES], np.where(np.isnan(volume), 0.0, volume))
    return ph_and_ionic_strength(liquid, state[CATIONS]).ph * np.where(np.isnan(volume), np.nan, 1.0)


BY_ITSELF: Mapping[str, Callable[[Numbers, Numbers], Numbers]] = {
    "strength": lambda state, volume: state[MASSES][ETHANOL] / ETHANOL_DENSITY_G_PER_ML * (100.0 / volume),
    "sweetness": lambda state, volume: sweetness.sucrose_equivalent_g(state[MASSES]) * (100.0 / volume),
    "acidity": lambda state, volume: (
        acidity.titratable_acidity_citric_g(state[MASSES], bound_mmol(state)) * (100.0 / volume)
    ),
    "length": lambda _state, volume: volume.copy(),
    "mass": lambda state, _volume: mass_g(state).copy(),
    "ph": _ph,
}
"""Readings from a state (ROWS, n) and its volume (n,), which is nan where there is no liquid."""


def dilution_pct(melted_g: Numbers, before_ice_ml: Numbers) -> Numbers:
    """Percent of the volume before ice: 0 where nothing melted, no value where there was nothing to dilute."""
    before = np.where(before_ice_ml > SMALLEST_VOLUME_ML, before_ice_ml, np.nan)
    share: Numbers = np.where(melted_g > 0.0, 100.0 * melted_g / WATER_DENSITY_G_PER_ML / before, 0.0)
    return share


def _more(state: Numbers, garnish: Numbers, per_100_ml: Numbers) -> Numbers:
    """How much higher a reading is if all unknown matter were what it measures; endless where nothing bounds it."""
    more = np.zeros((READING_COUNT, state.shape[1]))
    sugar, acid, ethanol, salt = (
        state[row] for row in (UNKNOWN_SUGAR, UNKNOWN_ACID, UNKNOWN_ETHANOL, UNKNOWN_SALT)
    )
    unknown = np.maximum(np.maximum(sugar, acid), np.maximum(ethanol, salt))
    unknown = unknown + garnish[UNKNOWN_SUGAR]

    def put(key: str, column: Numbers) -> None:
        more[READING_INDEX[key]] = np.where(column > 0.0, column, 0.0)

    put("strength", ethanol / ETHANOL_DENSITY_G_PER_ML * per_100_ml)
    put("sweetness", sugar * per_100_ml)
    put("acidity", acid * per_100_ml)
    put("salt", salt * per_100_ml)
    put("ethanol", ethanol)
    put("energy_kcal", unknown * FAT_KCAL_PER_G)
    put("energy_kj", unknown * FAT_KJ_PER_G)
    put("cost", np.where(state[UNKNOWN_COST] + garnish[UNKNOWN_COST] > 0.0, np.inf, 0.0))
    return more
