"""Compositions for the tests of chemistry."""

import numpy as np

from washline.chemistry.arrays import Floats
from washline.chemistry.components import COMPONENT_COUNT, COMPONENTS


def liquid(**grams: float) -> Floats:
    """One column of masses, array (24, 1), from grams by component."""
    masses = np.zeros((COMPONENT_COUNT, 1))
    for name, mass_g in grams.items():
        masses[COMPONENTS.index(name), 0] = mass_g
    return masses


def columns(*liquids: Floats) -> Floats:
    """Several columns side by side, array (24, n)."""
    return np.concatenate(liquids, axis=1)
