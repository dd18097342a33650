"""Heat capacity of a liquid, its enthalpy and heat of mixing, and the temperature that an enthalpy means."""

from bisect import bisect_right
from functools import cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from washline.chemistry.arrays import (
    Floats,
    Number,
    by_column,
    by_column_each,
    choose,
    horner,
    ratio,
    share,
    weighted_totals,
)
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


class _HeatTerms(NamedTuple):
    """J/K at 0 degC, its rise per K, the mass in g of both, and the heat of mixing at 0 degC in J: each (n,)."""

    constant: Floats
    rise: Floats
    total_g: Floats
    mixing_j: Floats


def _heat_terms(masses_g: Floats) -> _HeatTerms:
    solvent_g, ethanol_g, constant, rise, total_g = weighted_totals(_weights(), masses_g)
    fraction = share(ethanol_g, solvent_g)
    mixing, solvent_constant, solvent_rise = by_column_each(_solvent_heat, fraction)
    constant = solvent_g * solvent_constant + constant
    rise = solvent_g * solvent_rise + rise
    return _HeatTerms(constant, rise, total_g, solvent_g * mixing)


def _solvent_heat(mass_fraction: Number) -> tuple[Number, Number, Number]:
    """Of ethanol and water: the heat of mixing in J/g, J/gK at 0 degC and its rise per K."""
    constant, rise = solvent_capacity_j_per_g_k(mass_fraction)
    return heat_of_mixing_j_per_g(mass_fraction), constant, rise


def heat_capacity_j_per_g_k(masses_g: Floats, temperature_c: Floats | float) -> Floats:
    """Specific heat capacity of a liquid.

    Arguments:
        masses_g: g of each component, array (24, n)
        temperature_c: degC, float or array (n,)
    Returns: J/gK, array (n,); NaN for nothing
    Valid: ethanol to 60 % of ethanol and water by mass (a straight line to pure ethanol beyond), -10 to 30 degC; flagged
        outside
    Error: 0.04 J/gK at most against Perry and the sugar industry's formula; about 2 % too low for hot water
    Source: fit to the Melinder property set; 4.184 - 2.511 w + 0.0075 w t for syrups (Lyle; Llano 2005)

    >>> masses = np.zeros((24, 1)); masses[[0, 1], 0] = [80.0, 20.0]
    >>> round(heat_capacity_j_per_g_k(masses, 0.0).item(), 2)
    4.35
    """
    terms = _heat_terms(masses_g)
    return ratio(terms.constant + terms.rise * temperature_c, terms.total_g)


def enthalpy_j(masses_g: Floats, temperature_c: Floats | float) -> Floats:
    """Heat content of a liquid above its unmixed water and ethanol at 0 degC: m cp(T/2) T and the heat of mixing.

    Liquids that are poured together keep the sum of it: spirit poured into juice warms it.

    Arguments:
        masses_g: g of each component, array (24, n)
        temperature_c: degC, float or array (n,)
    Returns: J, array (n,); negative below 0 degC, and for a spirit to some 11 degC
    Valid: as ``heat_capacity_j_per_g_k``
    Error: 1 % of the sensible heat to 30 degC, about 2 % for hot water; 2 J/g of ethanol and water for their mixing
    Source: integral of the linear heat capacity from 0 degC, and ``heat_of_mixing_j_per_g``

    >>> masses = np.zeros((24, 1)); masses[0, 0] = 100.0
    >>> round(enthalpy_j(masses, 20.0).item() / 2000.0, 2)
    4.19
    """
    terms = _heat_terms(masses_g)
    return (terms.constant + terms.rise * 0.5 * temperature_c) * temperature_c + terms.mixing_j


def temperature_from_enthalpy(masses_g: Floats, enthalpy_j: Floats) -> Floats:
    """Temperature of a liquid of a given heat content: the inverse of ``enthalpy_j`` in closed form.

    Arguments:
        masses_g: g of each component, array (24, n)
        enthalpy_j: J above unmixed water and ethanol at 0 degC, array (n,)
    Returns: degC, array (n,); NaN for nothing, or for a heat that no temperature holds
    Valid: as ``heat_capacity_j_per_g_k``
    Error: none against ``enthalpy_j``
    Source: root of the quadratic (rise/2) T2 + constant T + mixing - H = 0 that is 0 where H is the heat of mixing

    >>> masses = np.zeros((24, 1)); masses[0, 0] = 100.0
    >>> round(temperature_from_enthalpy(masses, np.array([8381.4])).item(), 2)
    20.0
    """
    terms = _heat_terms(masses_g)
    return _temperature(terms.constant, terms.rise, enthalpy_j - terms.mixing_j)


def temperature_with_vessel(
    masses_g: Floats, enthalpy_j: Floats, vessel_j_per_k: Floats | float, vessel_c: Floats | float
) -> Floats:
    """Temperature that a liquid and the vessel around it come to share.

    Arguments:
        masses_g: g of each component, array (24, n)
        enthalpy_j: J of the liquid as of ``enthalpy_j``, array (n,)
        vessel_j_per_k: J per K of the vessel, float or array (n,)
        vessel_c: degC of the vessel before, float or array (n,)
    Returns: degC, array (n,); NaN for nothing
    Valid: as ``heat_capacity_j_per_g_k``; no ice forms
    Error: that of the vessel's heat capacity, some 20 % of the change
    Source: conservation of energy

    >>> masses = np.zeros((24, 1)); masses[0, 0] = 100.0
    >>> round(temperature_with_vessel(masses, enthalpy_j(masses, 90.0), 120.0, 20.0).item(), 1)
    74.0
    """
    terms = _heat_terms(masses_g)
    heat_j = enthalpy_j - terms.mixing_j + vessel_j_per_k * vessel_c
    return _temperature(terms.constant + vessel_j_per_k, terms.rise, heat_j)


def _temperature(constant: Floats, rise: Floats, heat_j: Floats) -> Floats:
    squared = constant * constant + rise * heat_j * 2.0
    root = np.sqrt(np.maximum(squared, 0.0))
    return np.where(squared >= 0.0, ratio(heat_j * 2.0, constant + root), np.nan)


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
        mass_fraction: g ethanol per g of ethanol and water, float or array (n,)
    Returns: J/gK and J/gK2, each a float or an array (n,)
    Valid: to 60 % ethanol by mass, beyond a straight line to pure ethanol; -10 to 30 degC
    Error: 0.04 J/gK at most against Perry, 0.2 J/gK beyond 60 %
    Source: fit to the Melinder property set; pure ethanol 112.3 J/molK at 25 degC, CRC Handbook (from memory)

    >>> [round(term, 4) for term in solvent_capacity_j_per_g_k(0.0)]
    [4.2121, -0.0021]
    """
    held: Number = choose(mass_fraction < HIGHEST_ETHANOL_FRACTION, mass_fraction, HIGHEST_ETHANOL_FRACTION)
    constant, rise = _solvent_terms()
    to_pure, rise_to_pure = _slopes_to_pure_ethanol()
    beyond: Number = mass_fraction - held
    return horner(constant, held) + beyond * to_pure, horner(rise, held) + beyond * rise_to_pure


@cache
def _slopes_to_pure_ethanol() -> tuple[float, float]:
    """What heat capacity and its rise change by from the end of the fit on, for each 1 of mass fraction."""
    constant, rise = (horner(terms, HIGHEST_ETHANOL_FRACTION) for terms in _solvent_terms())
    left = 1.0 - HIGHEST_ETHANOL_FRACTION
    pure, pure_rise = value("cp_ethanol", "pure", "0"), value("cp_ethanol", "pure", "1")
    return (pure - constant) / left, (pure_rise - rise) / left


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

    At 0 degC it is part of ``enthalpy_j``, whose heat capacities are those of mixtures; with another temperature it is the
    heat at that temperature alone.

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
