"""From a state to its readings: one table of functions, n columns at a time."""

from dataclasses import dataclass

import numpy as np

from washline.chemistry import acidity, energy, heat, mixture, solids, sweetness
from washline.chemistry.components import CO2, ETHANOL, NACL, SUGARS
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
    mass_g,
)
from washline.engine.steps import WATER_DENSITY_G_PER_ML, Run
from washline.model.reading import READING_INDEX, READINGS

READING_COUNT = len(READINGS)
ETHANOL_DENSITY_G_PER_ML = 0.78924
SMALLEST_VOLUME_ML = 1e-6
SMALLEST_ACID_G = 1e-6
FAT_KJ_PER_G, FAT_KCAL_PER_G = 37.0, 9.0
"""The most that a gram of unknown matter can bring (Regulation (EU) 1169/2011, Annex XIV: fat)."""


@dataclass(frozen=True, slots=True)
class Figures:
    """Readings (READING_COUNT, n), and how much higher each may be because something in it is unknown."""

    values: Numbers
    more: Numbers


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
    acid = acidity.titratable_acidity_citric_g(masses, state[CATIONS])
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
    put("chill", heat.temperature_from_enthalpy(masses, state[ENTHALPY]) * wet)
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
    return Figures(values, _more(state, garnish, per_100_ml))


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
