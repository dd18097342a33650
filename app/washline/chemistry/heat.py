"""Heat capacity of a liquid, its enthalpy and heat of mixing, and the temperature that an enthalpy means."""

from bisect import bisect_right
from functools import cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from washline.chemistry.arrays import Floats, Number, by_column, choose, horner, ratio, share, weighted_totals
from washline.chemistry.coefficients import table, value
from washline.chemistry.components import (
    CO2,
    COMPONENT_COUNT,
    ETHANOL,
    FAT,
    NACL,
    OTHER_SOLIDS,
    WATER,
    indicator,
)

HIGHEST_ETHANOL_FRACTION = 0.6


class HeatSums(NamedTuple):
    """What a liquid's heat is made of, each an array (n,).

    Solvent (ethanol and water) and ethanol in g; heat capacity of everything else in J/K at 0 degC, and its rise per K.
    """

    solvent_g: Floats
    ethanol_g: Floats
    solute_j_per_k: Floats
    solute_j_per_k2: Floats


class _MixingTable(NamedTuple):
    """Rows of the heat of mixing: mass fractions of ethanol, J/g at each, and the slope to the next."""

    inner: Floats
    starts: Floats
    heats: Floats
    slopes: Floats


@cache
def _solvent_terms() -> tuple[tuple[float, ...], tuple[float, ...]]:
    """J/gK at 0 degC and its rise per K, each a polynomial in the mass fraction of ethanol in ethanol and water."""
    constant = [value("cp_ethanol_water", key, str(i)) for i, key in enumerate(("1", "w", "w2", "w3", "w4"))]
    rise = [value("cp_ethanol_water", key, str(i + 5)) for i, key in enumerate(("t", "wt", "w2t", "w3t"))]
    return tuple(constant), tuple(rise)


@cache
def _weights() -> Floats:
    """Rows: solvent and ethanol in g; J/K at 0 degC and its rise per K of everything else; g without CO2.

    Fat and salts (minerals among them) have their own constants, all other solids that of sugars. CO2 carries no heat.
    """
    solvent = indicator((WATER, ETHANOL))
    everything = np.ones(COMPONENT_COUNT) - indicator((CO2,))
    organic = everything - solvent - indicator((FAT, NACL, OTHER_SOLIDS))
    constant = organic * value("cp_solute", "organic", "0") + indicator((FAT,)) * value(
        "cp_solute", "fat", "0"
    )
    constant = constant + indicator((NACL, OTHER_SOLIDS)) * value("cp_solute", "salt", "0")
    rise = organic * value("cp_solute", "organic", "1")
    return np.stack([solvent, indicator((ETHANOL,)), constant, rise, everything])


def _solvent_constant(mass_fraction: Number) -> Number:
    return horner(_solvent_terms()[0], mass_fraction)


def _solvent_rise(mass_fraction: Number) -> Number:
    return horner(_solvent_terms()[1], mass_fraction)


def _capacity_j_per_k(masses_g: Floats) -> tuple[Floats, Floats, Floats]:
    """J/K at 0 degC, its rise per K, and the mass that it belongs to, each an array (n,)."""
    solvent_g, ethanol_g, constant, rise, total_g = weighted_totals(_weights(), masses_g)
    fraction = np.minimum(share(ethanol_g, solvent_g), HIGHEST_ETHANOL_FRACTION)
    constant = solvent_g * by_column(_solvent_constant, fraction) + constant
    rise = solvent_g * by_column(_solvent_rise, fraction) + rise
    return constant, rise, total_g


def heat_capacity_j_per_g_k(masses_g: Floats, temperature_c: Floats | float) -> Floats:
    """Specific heat capacity of a liquid.

    Arguments:
        masses_g: g of each component, array (24, n)
        temperature_c: degC, float or array (n,)
    Returns: J/gK, array (n,); NaN for nothing
    Valid: ethanol to 60 % of ethanol and water by mass (held there beyond), -10 to 30 degC; flagged outside
    Error: 0.04 J/gK at most against Perry and the sugar industry's formula; about 2 % too low for hot water
    Source: fit to the Melinder property set; 4.184 - 2.511 w + 0.0075 w t for syrups (Lyle; Llano 2005)

    >>> masses = np.zeros((24, 1)); masses[[0, 1], 0] = [80.0, 20.0]
    >>> round(heat_capacity_j_per_g_k(masses, 0.0).item(), 2)
    4.35
    """
    constant, rise, total_g = _capacity_j_per_k(masses_g)
    return ratio(constant + rise * temperature_c, total_g)


def enthalpy_j(masses_g: Floats, temperature_c: Floats | float) -> Floats:
    """Heat content of a liquid above 0 degC: m cp(T/2) T; the heat of mixing ethanol and water is not in it.

    Arguments:
        masses_g: g of each component, array (24, n)
        temperature_c: degC, float or array (n,)
    Returns: J, array (n,); negative below 0 degC
    Valid: as ``heat_capacity_j_per_g_k``
    Error: 1 % of the value to 30 degC; about 2 % for hot water
    Source: integral of the linear heat capacity from 0 degC

    >>> masses = np.zeros((24, 1)); masses[0, 0] = 100.0
    >>> round(enthalpy_j(masses, 20.0).item() / 2000.0, 2)
    4.19
    """
    constant, rise, _ = _capacity_j_per_k(masses_g)
    return (constant + rise * 0.5 * temperature_c) * temperature_c


def temperature_from_enthalpy(masses_g: Floats, enthalpy_j: Floats) -> Floats:
    """Temperature of a liquid of a given heat content: the inverse of ``enthalpy_j`` in closed form.

    Arguments:
        masses_g: g of each component, array (24, n)
        enthalpy_j: J above 0 degC, array (n,)
    Returns: degC, array (n,); NaN for nothing, or for a heat that no temperature holds
    Valid: as ``heat_capacity_j_per_g_k``
    Error: none against ``enthalpy_j``
    Source: root of the quadratic (rise/2) T2 + constant T - H = 0 that is 0 at H = 0

    >>> masses = np.zeros((24, 1)); masses[0, 0] = 100.0
    >>> round(temperature_from_enthalpy(masses, np.array([8381.4])).item(), 2)
    20.0
    """
    constant, rise, _ = _capacity_j_per_k(masses_g)
    squared = constant * constant + rise * enthalpy_j * 2.0
    root = np.sqrt(np.maximum(squared, 0.0))
    temperature_c = ratio(enthalpy_j * 2.0, constant + root)
    return np.where(squared >= 0.0, temperature_c, np.nan)


def heat_sums(masses_g: Floats) -> HeatSums:
    """The sums that heat capacity and enthalpy of a liquid are made of, for formulas that add water step by step.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: g and J/K, each an array (n,)
    Valid: as ``heat_capacity_j_per_g_k``
    Error: as ``heat_capacity_j_per_g_k``
    Source: as ``heat_capacity_j_per_g_k``

    >>> masses = np.zeros((24, 1)); masses[[0, 1, 2], 0] = [60.0, 20.0, 10.0]
    >>> [round(part.item(), 3) for part in heat_sums(masses)]
    [80.0, 20.0, 16.8, 0.075]
    """
    solvent_g, ethanol_g, constant, rise, _ = weighted_totals(_weights(), masses_g)
    return HeatSums(solvent_g, ethanol_g, constant, rise)


def solvent_capacity_j_per_g_k(mass_fraction: Number) -> tuple[Number, Number]:
    """Specific heat capacity of ethanol and water at 0 degC, and its rise per K.

    Arguments:
        mass_fraction: g ethanol per g of ethanol and water, float or array (n,); held at 0.6 beyond
    Returns: J/gK and J/gK2, each a float or an array (n,)
    Valid: to 60 % ethanol by mass, -10 to 30 degC
    Error: 0.04 J/gK at most against Perry
    Source: fit to the Melinder property set

    >>> [round(term, 4) for term in solvent_capacity_j_per_g_k(0.0)]
    [4.2121, -0.0021]
    """
    held: Number = choose(mass_fraction < HIGHEST_ETHANOL_FRACTION, mass_fraction, HIGHEST_ETHANOL_FRACTION)
    return _solvent_constant(held), _solvent_rise(held)


@cache
def _mixing_table() -> _MixingTable:
    rows = sorted((float(row.index), float(row.value)) for row in table()["q_mix_0C", "w"])
    slopes = [(high - low) / (end - start) for (start, low), (end, high) in pairwise(rows)]
    starts = np.array([start for start, _ in rows[:-1]])
    return _MixingTable(
        starts[1:].copy(), starts, np.array([heat for _, heat in rows[:-1]]), np.array(slopes)
    )


@cache
def _mixing_rows() -> tuple[tuple[float, ...], tuple[tuple[float, float, float], ...]]:
    inner, *rows = _mixing_table()
    places = zip(*(row.tolist() for row in rows), strict=True)
    return tuple(inner.tolist()), tuple((start, heat, slope) for start, heat, slope in places)


def heat_of_mixing_j_per_g(mass_fraction: Number) -> Number:
    """Heat of mixing ethanol and water at 0 degC, straight lines between the rows of the table.

    Arguments:
        mass_fraction: g ethanol per g of ethanol and water, float or array (n,)
    Returns: J/g of ethanol and water, float or array (n,); negative, since the mixture gives heat off
    Valid: 0 to 1; between 0.6 and pure ethanol one straight line stands for a curve
    Error: 2 J/g to 60 % by mass, 4 J/g beyond
    Source: Lama and Lu 1965, Ott et al. 1986 at 25 degC (from memory), shifted to 0 degC by the excess heat capacity

    >>> heat_of_mixing_j_per_g(0.30), heat_of_mixing_j_per_g(0.0)
    (-48.8, 0.0)
    """
    if isinstance(mass_fraction, np.ndarray):
        inner, starts, heats, slopes = _mixing_table()
        places = np.searchsorted(inner, mass_fraction, side="right")
        return heats[places] + (mass_fraction - starts[places]) * slopes[places]
    inner_rows, rows = _mixing_rows()
    start, heat, slope = rows[bisect_right(inner_rows, mass_fraction)]
    return heat + (mass_fraction - start) * slope


def heat_of_mixing_j(masses_g: Floats, temperature_c: Floats | float = 0.0) -> Floats:
    """Heat of mixing of a liquid's ethanol and water: what the two gave off when they met (negative).

    At 0 degC it stands beside ``enthalpy_j``, whose heat capacities are those of mixtures; with another temperature it is
    the heat at that temperature alone.

    Arguments:
        masses_g: g of each component, array (24, n)
        temperature_c: degC at which the two meet, float or array (n,)
    Returns: J, array (n,); 0 without either
    Valid: 0 to 25 degC, a straight line beyond
    Error: 2 J/g of ethanol and water
    Source: as ``heat_of_mixing_j_per_g``; at 25 degC 0.71 of the heat at 0 degC

    >>> masses = np.zeros((24, 1)); masses[[0, 1], 0] = [80.0, 20.0]
    >>> heat_of_mixing_j(masses).item()
    -4580.0
    """
    solvent_g, ethanol_g, _, _ = heat_sums(masses_g)
    fall = (1.0 - value("q_mix_temperature", "25C_over_0C")) * 0.04
    at_0_c = solvent_g * by_column(heat_of_mixing_j_per_g, share(ethanol_g, solvent_g))
    return at_0_c * (1.0 - fall * temperature_c)
