"""pH of a composition by charge balance: its acids and dissolved CO2 against the cations that bind them."""

from functools import cache
from typing import NamedTuple

import numpy as np

from washline.chemistry.acidity import other_acid_equivalent_g_per_mol
from washline.chemistry.arrays import Flags, Floats, share
from washline.chemistry.charge_balance import PhFound, cations_of_solution, ph_of_solution
from washline.chemistry.coefficients import value
from washline.chemistry.components import ACIDS, CO2, COMPONENTS, ETHANOL, NACL, OTHER_ACID, WATER
from washline.chemistry.ethanol_water import ethanol_density_kg_per_m3
from washline.chemistry.mixture import volume_ml

PH_ACIDS: tuple[str, ...] = (*(COMPONENTS[index] for index in ACIDS), "carbonic")
"""The acids of a composition as the group ``pKa`` of the tables names them: those of ``ACIDS``, then dissolved CO2."""

_ROWS = [*ACIDS, CO2, NACL, ETHANOL]


class _Solution(NamedTuple):
    """What a composition puts into the balance, per litre at 20 degC; ``is_liquid`` where there is water."""

    mol_per_l: Floats
    salts_mol_per_l: Floats
    strength_pct_vol: Floats
    litres: Floats
    per_litre: Floats
    is_liquid: Flags


@cache
def _mol_per_g() -> Floats:
    """Rows as in ``PH_ACIDS``, then NaCl in mol/g and ethanol in % vol of a litre for each gram."""
    masses = [value("molar_mass", COMPONENTS[index]) for index in ACIDS if index != OTHER_ACID]
    masses.append(other_acid_equivalent_g_per_mol("unnamed"))
    masses.append(value("molar_mass", "co2"))
    masses.append(value("molar_mass", "nacl"))
    masses.append(ethanol_density_kg_per_m3() * 0.01)
    return 1.0 / np.array(masses)[:, None]


def _solution(masses_g: Floats) -> _Solution:
    litres = volume_ml(masses_g) * 0.001
    per_litre = share(np.ones(litres.shape), litres)
    found = np.maximum(masses_g[_ROWS], 0.0) * _mol_per_g() * per_litre
    is_liquid = (masses_g[WATER] > 0.0) & (litres > 0.0)
    return _Solution(found[:-2], found[-2], found[-1], litres, per_litre, is_liquid)


def ph_and_ionic_strength(masses_g: Floats, cations_mmol: Floats | float) -> PhFound:
    """pH of a liquid, and the ionic strength that it was found at (for its range).

    Arguments:
        masses_g: g of each component, array (24, n)
        cations_mmol: mmol of strong cations (potassium, sodium) that bind acid, not those of NaCl, float or array (n,)
    Returns: pH (1) and ionic strength (mol/L), each an array (n,); NaN without water or with unknown cations
    Valid: as ``ph``
    Error: as ``ph``
    Source: as ``ph_of_solution``

    >>> masses = np.zeros((24, 1)); masses[[0, 13], 0] = [994.5, 6.0052]
    >>> [round(found.item(), 2) for found in ph_and_ionic_strength(masses, 0.0)]
    [2.88, 0.0]
    """
    solution = _solution(masses_g)
    found = ph_of_solution(
        PH_ACIDS,
        solution.mol_per_l,
        solution.per_litre * (cations_mmol * 0.001),
        solution.salts_mol_per_l,
        solution.strength_pct_vol,
    )
    return PhFound(*(np.where(solution.is_liquid, part, np.nan) for part in found))


def ph(masses_g: Floats, cations_mmol: Floats | float) -> Floats:
    """pH of a liquid with its dissolved CO2.

    An acid that has no component of its own (``other_acid``) counts as one of 150 g/mol with one proton and pKa 3.5.

    Arguments:
        masses_g: g of each component, array (24, n)
        cations_mmol: mmol of strong cations (potassium, sodium) that bind acid, not those of NaCl, float or array (n,)
    Returns: pH (1), array (n,); NaN without water or with unknown cations
    Valid: 25 degC, ionic strength to 0.5 mol/L, to 20 % vol, no other buffers (milk, egg white, tea have them)
    Error: 0.01 (0.03 at most) for pure acids, 0.012 for NIST buffers; 0.2 (0.5 at most) for juices of typical composition
    Source: as ``ph_of_solution``; concentrations by the volume of ``mixture.volume_ml`` at 20 degC

    >>> masses = np.zeros((24, 1)); masses[[0, 9, 10], 0] = [966.5, 53.8, 2.0]
    >>> round(ph(masses, 32.0).item(), 2)
    2.24
    """
    return ph_and_ionic_strength(masses_g, cations_mmol).ph


def cations_mmol_for_ph(masses_g: Floats, ph: Floats | float) -> Floats:
    """Strong cation that gives a liquid a measured pH: the inverse of ``ph``.

    Arguments:
        masses_g: g of each component, array (24, n)
        ph: measured pH (1), float or array (n,)
    Returns: mmol of charge, array (n,); negative if strong anions are missing; NaN without water
    Valid: as ``ph``
    Error: a pH that is off by 0.1 moves the cation by up to 15 % of the acid
    Source: charge balance, linear in the cation but for the ionic strength, which is iterated

    >>> masses = np.zeros((24, 1)); masses[[0, 9], 0] = [988.7, 9.6062]
    >>> round(cations_mmol_for_ph(masses, 3.776).item())
    50
    """
    solution = _solution(masses_g)
    per_l = cations_of_solution(
        PH_ACIDS,
        solution.mol_per_l,
        np.broadcast_to(np.float64(ph), solution.litres.shape),
        solution.salts_mol_per_l,
        solution.strength_pct_vol,
    )
    return np.where(solution.is_liquid, per_l * solution.litres * 1000.0, np.nan)
