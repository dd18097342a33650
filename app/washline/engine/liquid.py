"""What a vessel's liquid is asked for while it is worked on: its mass, its dissolved solids and its acid, each (n,)."""

from functools import cache

import numpy as np

from washline.chemistry import mixture
from washline.chemistry.acidity import equivalent_mass_g_per_mol, titratable_acidity_citric_g
from washline.chemistry.components import ACIDS, DISSOLVED, ETHANOL, INSOLUBLE, WATER
from washline.engine.state import ACID_EXCESS, CATIONS, MASSES, Numbers, bound_mmol, mass_g

SMALLEST_VOLUME_ML = 1e-6
"""Less than this is no liquid."""

SMALLEST_WATER_SHARE = 1e-9
"""Grams in a ml of liquid; less than this is no water."""

ACID_ROWS = (*ACIDS, CATIONS, ACID_EXCESS)
"""What moves with the acids: the cations that bind part of them, and what titration finds beyond their components."""


def total(state: Numbers, rows: tuple[int, ...]) -> Numbers:
    """The sum of some rows of a state (ROWS, n), from the first to the last: (n,)."""
    added: Numbers = np.add.accumulate(state[list(rows)], axis=0)[-1]
    return added


def titrated_liquid_g(state: Numbers) -> Numbers:
    """The grams (n,) that a share of acid or salt by mass is of: all but the insoluble solids."""
    grams: Numbers = mass_g(state) - state[INSOLUBLE]
    return grams


def dissolved_g(state: Numbers) -> Numbers:
    """Grams (n,) of dissolved solids."""
    return total(state, DISSOLVED)


def brix_liquid_g(state: Numbers) -> Numbers:
    """Grams (n,) that the true °Bx is a share of: water, ethanol and what is dissolved in them."""
    grams: Numbers = state[WATER] + state[ETHANOL] + dissolved_g(state)
    return grams


@cache
def citric_g_per_mmol() -> float:
    """Grams of citric acid that take up one mmol of base."""
    return equivalent_mass_g_per_mol("citric") * 0.001


def free_acid_g(state: Numbers) -> Numbers:
    """Titratable acid (n,) as grams of citric acid; below 0 where more is bound than there is: it is linear."""
    whole = titratable_acidity_citric_g(state[MASSES], 0.0)
    free: Numbers = whole - bound_mmol(state) * citric_g_per_mmol()
    return free


NOTHING = 1e-100
"""What is smaller is no amount: a share of it would overflow."""


def share_of(part: Numbers, whole: Numbers) -> Numbers:
    """The part of a whole, 0 where there is no whole: for use inside a step."""
    has = np.abs(whole) > NOTHING
    quotient: Numbers = np.where(has, part / np.where(has, whole, 1.0), 0.0)
    return quotient


def enough_liquid(masses: Numbers, volume_ml: Numbers | None = None) -> Numbers:
    """Masses (24, n) for the formulas that ask for concentrations in water: none at all where there is next to no liquid,
    or next to no water in it. The volume (n,) is computed where it is not given."""
    volume = mixture.volume_ml(masses) if volume_ml is None else volume_ml
    has = (volume > SMALLEST_VOLUME_ML) & (masses[WATER] > SMALLEST_WATER_SHARE * volume)
    return masses if bool(has.all()) else np.where(has, masses, 0.0)
