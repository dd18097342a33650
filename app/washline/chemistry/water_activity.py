"""Water activity: the product of what each solute alone would leave of it."""

from functools import cache
from typing import NamedTuple

import numpy as np

from washline.chemistry.arrays import Floats, horner, product_down, weighted_total
from washline.chemistry.coefficients import series, value
from washline.chemistry.molality import SOLUTES, molalities

SALTS = ("nacl", "kcl")
"""The solutes whose activity is that of NaCl at their molality."""


class _Constants(NamedTuple):
    """Norrish's constants of the solutes that are no salts, array (k,), and the rows of those and of the salts."""

    norrish: Floats
    others: list[int]
    salts: list[int]


@cache
def _constants(names: tuple[str, ...]) -> _Constants:
    salts = [row for row, name in enumerate(names) if name in SALTS]
    others = [row for row in range(len(names)) if row not in salts]
    norrish = np.array([value("norrish_K", names[row]) for row in others])
    return _Constants(norrish, others, salts)


@cache
def _water_molality() -> float:
    return value("norrish", "water_molality")


def _salt_exponent(molality: Floats) -> Floats:
    """What the logarithm of the activity falls by for NaCl, or as much KCl; more than dissolves adds nothing."""
    molality = np.minimum(molality, value("osmotic_coefficient_nacl", "saturated"))
    decay = value("osmotic_coefficient_nacl", "decay")
    weight = value("osmotic_coefficient_nacl", "exponential")
    osmotic = horner(series("osmotic_coefficient_nacl", "phi"), molality)
    osmotic = osmotic + weight * np.exp(molality * -decay)
    return value("osmotic_coefficient_nacl", "ions_per_kg") * molality * osmotic


def water_activity_of_solutes(names: tuple[str, ...], mol_per_kg: Floats) -> Floats:
    """Water activity of a solution of solutes by their names: each at its molality in all the water, multiplied (Ross).

    Arguments:
        names: solutes as in the group ``norrish_K`` of the tables, nacl or kcl (text, no unit)
        mol_per_kg: mol per kg of water of each, array (k, n)
    Returns: water activity (1), array (n,)
    Valid: 20 to 25 degC, activity from 0.6 to 1
    Error: 0.002 (rms) for sugars, glycerol, citric acid and NaCl; 0.012 with ethanol; KCl is taken as NaCl (rough)
    Source: Ross 1975; Norrish 1966, constants compiled by Chirife et al. 1980-1992 (from memory); Robinson and
        Stokes 1965 for NaCl

    >>> round(water_activity_of_solutes(("nacl",), np.array([[6.0]])).item(), 3)
    0.76
    """
    constants, water = _constants(names), _water_molality()
    activity, exponent = np.ones(mol_per_kg.shape[1]), np.zeros(mol_per_kg.shape[1])
    if constants.others:
        molality = mol_per_kg[constants.others]
        of_water = water / (molality + water)
        of_solute = 1.0 - of_water
        activity = product_down(of_water)
        exponent = weighted_total(constants.norrish, of_solute * of_solute)
    for row in constants.salts:
        exponent = exponent + _salt_exponent(mol_per_kg[row])
    return activity * np.exp(-exponent)


def water_activity(masses_g: Floats) -> Floats:
    """Water activity of a liquid; which component counts as which solute says ``molality.STANDS_FOR``.

    Acids without a published constant (acetic, ascorbic, phosphoric, unnamed) and minerals count as ideal.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: water activity (1), array (n,); NaN without water
    Valid: 20 to 25 degC, activity from 0.6 to 1
    Error: 0.002 (rms) for sugars, glycerol, citric acid and NaCl; 0.012 with ethanol; no table tests mixtures with ethanol
    Source: as ``water_activity_of_solutes``

    >>> masses = np.zeros((24, 1)); masses[[0, 2], 0] = [50.0, 50.0]
    >>> round(water_activity(masses).item(), 3)
    0.935
    """
    return water_activity_of_solutes(SOLUTES, molalities(masses_g))
