"""The state of a vessel: an array (ROWS, columns) of masses in grams and of passengers that mix and split with them."""

import numpy as np
from numpy.typing import NDArray

from washline.chemistry.components import COMPONENT_COUNT

Numbers = NDArray[np.float64]
"""An array of float64; its shape is said where it is used."""

ENTHALPY = COMPONENT_COUNT
"""Heat content in J, zero at 0 °C: the temperature is a reading of it."""
COST = COMPONENT_COUNT + 1
"""What the contents cost, in the currency of the house."""
BITTER = COMPONENT_COUNT + 2
"""Bitterness on the house scale times grams."""
CATIONS = COMPONENT_COUNT + 3
"""Strong cations in mmol, which bind part of the acid and set the pH."""
UNKNOWN_SUGAR = COMPONENT_COUNT + 4
"""Grams of matter that may be sugar: nobody knows."""
UNKNOWN_ACID = COMPONENT_COUNT + 5
UNKNOWN_ETHANOL = COMPONENT_COUNT + 6
UNKNOWN_SALT = COMPONENT_COUNT + 7
UNKNOWN_COST = COMPONENT_COUNT + 8
"""Grams of what nobody has put a price on."""
ACID_EXCESS = COMPONENT_COUNT + 9
"""Equivalents in mmol that titration finds beyond those of the components: a named other acid has more of them than the
unnamed one, and a measured pH moves the cations but not what was titrated."""
UNKNOWN_BUFFER = COMPONENT_COUNT + 10
"""Grams of what holds acid or protein whose buffer nobody knows: its pH is not computed, it is measured."""
ROWS = COMPONENT_COUNT + 11

MASSES = slice(0, COMPONENT_COUNT)

MASS = 0
VOLUME = 1
DASH = 2
DROP = 3
PIECE = 4
UNIT_KINDS = 5
"""The kinds of unit that an item turns into grams in its own way; everything else is a multiple of one of them."""


def mass_g(state: Numbers) -> Numbers:
    """The grams in each column of a state (ROWS, n): an array (n,)."""
    total: Numbers = np.add.accumulate(state[MASSES], axis=0)[-1]
    return total


def bound_mmol(state: Numbers) -> Numbers:
    """The mmol of acid that titration does not find in a state (ROWS, n), for ``titratable_acidity_citric_g``: (n,)."""
    bound: Numbers = state[CATIONS] - state[ACID_EXCESS]
    return bound


def empty_state(columns: int) -> Numbers:
    """A vessel with nothing in it, (ROWS, columns)."""
    return np.zeros((ROWS, columns))
