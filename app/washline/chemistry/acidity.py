"""Titratable acidity: equivalents of acid to pH 8.1, less the strong cation that already binds them."""

from functools import cache

import numpy as np

from washline.chemistry.arrays import Floats, weighted_total
from washline.chemistry.coefficients import keys, series, value
from washline.chemistry.components import ACIDS, COMPONENT_COUNT, COMPONENTS, OTHER_ACID


@cache
def equivalent_mass_g_per_mol(acid: str) -> float:
    """Grams of an acid that take up one mole of base to pH 8.1.

    Arguments:
        acid: name of the acid in the tables, or ``other_acid`` for one that is not named (text, no unit)
    Returns: g/mol, float. ``KeyError`` for what is not titrated
    Valid: titration to pH 8.1 (8.2 makes no difference that shows)
    Error: none for the listed acids; an unnamed acid is taken as 150 g/mol with one proton
    Source: IFU method 3 and EN 12147 (from memory); standard atomic masses

    >>> round(equivalent_mass_g_per_mol("citric"), 2)
    64.04
    """
    if acid == COMPONENTS[OTHER_ACID]:
        return other_acid_equivalent_g_per_mol("unnamed")
    return value("molar_mass", acid) / series("titrated_protons", acid)[0]


def titrated_mol(solute: str, mass_g: float) -> float:
    """Base that an acid or an acid salt takes up to pH 8.1.

    Arguments:
        solute: a name of the tables, or ``other_acid`` (text, no unit)
        mass_g: g, float
    Returns: mol, float; 0 for what is not titrated, negative for a salt that takes up acid (hydrogen carbonate)
    Valid: titration to pH 8.1, degassed
    Error: as ``equivalent_mass_g_per_mol``
    Source: IFU method 3 and EN 12147 (from memory); standard atomic masses

    >>> round(1000 * titrated_mol("nahco3", 0.84007), 6)
    -10.0
    """
    if solute == COMPONENTS[OTHER_ACID]:
        return mass_g / other_acid_equivalent_g_per_mol("unnamed")
    if solute not in keys("titrated_protons"):
        return 0.0
    return mass_g * series("titrated_protons", solute)[0] / value("molar_mass", solute)


def other_acid_equivalent_g_per_mol(name: str) -> float:
    """Grams per equivalent of the acids that share the component ``other_acid``.

    Arguments:
        name: succinic, quinic, oxalic, isocitric, gluconic or unnamed (text, no unit)
    Returns: g/mol, float. ``KeyError`` if unknown
    Valid: titration to pH 8.1
    Error: none for the named ones
    Source: standard atomic masses and the number of carboxyl protons; unnamed from memory

    >>> other_acid_equivalent_g_per_mol("quinic")
    192.17
    """
    return series("other_acid_equivalent", name)[0]


def other_acid_excess_mmol(name: str, mass_g: float) -> float:
    """Equivalents that a named acid has more than the unnamed one that the component ``other_acid`` stands for.

    Taken from the strong cation of an ingredient it makes that ingredient's titratable acidity exact.

    Arguments:
        name: succinic, quinic, oxalic, isocitric, gluconic or unnamed (text, no unit)
        mass_g: g of that acid, float
    Returns: mmol, float; negative when the named acid is the heavier one. ``KeyError`` if unknown
    Valid: titration to pH 8.1
    Error: none for the named ones
    Source: as ``other_acid_equivalent_g_per_mol``

    >>> round(other_acid_excess_mmol("succinic", 1.5), 2)
    15.4
    """
    named = mass_g / other_acid_equivalent_g_per_mol(name)
    return 1000.0 * (named - mass_g / other_acid_equivalent_g_per_mol("unnamed"))


@cache
def _equivalents_per_g() -> Floats:
    weights = np.zeros(COMPONENT_COUNT)
    for index in ACIDS:
        weights[index] = 1.0 / equivalent_mass_g_per_mol(COMPONENTS[index])
    return weights


def titratable_acidity_citric_g(masses_g: Floats, cations_mmol: Floats | float) -> Floats:
    """Titratable acid of a liquid in grams of (anhydrous) citric acid; dissolved CO2 is not counted.

    Arguments:
        masses_g: g of each component, array (24, n)
        cations_mmol: mmol of strong cations (potassium, sodium) that bind acid, not those of NaCl, float or array (n,)
    Returns: g of citric acid, array (n,); never below 0
    Valid: degassed liquids without other buffers; milk, egg white and tea hold more that is titrated
    Error: 0.03 % of the acids' part; that of the cation (15 % in juices) on its part
    Source: sum of c n - [K+ + Na+]; IFU method 3 and EN 12147 (from memory)

    >>> masses = np.zeros((24, 1)); masses[10, 0] = 5.0
    >>> round(titratable_acidity_citric_g(masses, 0.0).item(), 2)
    4.78
    """
    equivalents = weighted_total(_equivalents_per_g(), masses_g)
    free = np.maximum(equivalents - cations_mmol * 0.001, 0.0)
    return free * equivalent_mass_g_per_mol("citric")
