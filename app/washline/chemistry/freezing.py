"""Freezing point, where ice starts in a liquid, and how much of it is ice below."""

from collections.abc import Sequence
from functools import cache
from typing import Any, NamedTuple

import numpy as np

from washline.chemistry.arrays import (
    Floats,
    Number,
    bisect_rising,
    by_column,
    choose,
    horner,
    natural_logarithm,
    ratio,
    weighted_total,
    weighted_totals,
)
from washline.chemistry.coefficients import keys, series, value
from washline.chemistry.components import WATER
from washline.chemistry.mixture import degassed_g
from washline.chemistry.molality import SOLUTES, molalities

COLDEST_C = -45.0
"""Where the ice line ends, degC."""

_ZERO_K = 273.15
_LEAST_WATER_LEFT = 0.02
# A unit of the polynomial that inverts the ice line is 10 mol/kg.
_OSMOLALITY_UNIT = 0.1


class _Virial(NamedTuple):
    """Osmotic constants of a list of solutes as rows of weights.

    ``linear`` (3, k): particles, cross constants, ones; ``square`` (2, k): b1, cross constants; ``higher``: for the third
    to the fifth power the solutes that have a constant, and their constants.
    """

    linear: Floats
    square: Floats
    higher: tuple[tuple[list[int], Floats], ...]


@cache
def _virial(names: tuple[str, ...]) -> _Virial:
    powers = np.zeros((4, len(names)))
    for column, name in enumerate(names):
        for power, constant in enumerate(series("osm_b", name)):
            powers[power, column] = constant
    nu = np.array([value("osm_nu", name) for name in names])
    cross = np.array([value("osm_cross", name) for name in names])
    higher = [(np.flatnonzero(row).tolist(), row[row != 0.0]) for row in powers[1:]]
    return _Virial(np.stack([nu, cross, np.ones(len(names))]), np.stack([powers[0], cross]), tuple(higher))


def _terms(names: tuple[str, ...], mol_per_kg: Floats) -> tuple[Floats, ...]:
    """Osmolality by powers of concentration, from the first to the fifth, each an array (n,)."""
    constants = _virial(names)
    particles, crossed, total = weighted_totals(constants.linear, mol_per_kg)
    square = mol_per_kg * mol_per_kg
    own, with_itself = weighted_totals(constants.square, square)
    # All pairs: the sum of x m times the sum of m holds each pair's two halves, and every solute with itself.
    terms = [particles, own + (crossed * total - with_itself)]
    for factors, (rows, weights) in enumerate(constants.higher, start=1):
        if not rows:
            terms.append(particles * 0.0)
            continue
        power, part = square[rows], mol_per_kg[rows]
        for _ in range(factors):
            power = power * part
        terms.append(weighted_total(weights, power))
    return tuple(terms)


def osmolality_of_solutes(names: tuple[str, ...], mol_per_kg: Floats) -> Floats:
    """Osmolality of a solution of solutes by their names: virial sums of each and cross terms of each pair.

    Arguments:
        names: solutes as in the group ``osm_nu`` of the tables (text, no unit)
        mol_per_kg: mol per kg of water of each, array (k, n)
    Returns: mol of particles per kg of water, array (n,)
    Valid: each solute to its ``highest_molality``
    Error: as ``freezing_point_c``
    Source: fits to CRC Handbook 102nd ed. 2021 (Wolf 1966); cross terms by the arithmetic mean rule of the osmotic virial
        equation (Elliott, Prickett et al.)

    >>> round(osmolality_of_solutes(("sucrose",), np.array([[1.0]])).item(), 3)
    1.111
    """
    return _whole(_terms(names, mol_per_kg))


def _whole(terms: Sequence[Floats]) -> Floats:
    total = terms[0]
    for term in terms[1:]:
        total = total + term
    return total


@cache
def highest_molality(solute: str) -> float:
    """Where the freezing table of a solute ends.

    Arguments:
        solute: a name of the group ``osm_max`` of the tables (text, no unit)
    Returns: mol per kg of water, float. ``KeyError`` if unknown
    Valid: the solutes of the tables
    Error: none, the end of a table
    Source: CRC Handbook 102nd ed. 2021, Concentrative Properties of Aqueous Solutions (Wolf 1966)

    >>> highest_molality("ethanol")
    14.0
    """
    return value("osm_max", solute)


def ice_line_osmolality(temperature_c: Number) -> Number:
    """Osmolality of the liquid that stands in balance with ice.

    Arguments:
        temperature_c: degC, float or array (n,)
    Returns: mol of particles per kg of water, float or array (n,); 0 at 0 degC
    Valid: -45 to 0 degC
    Error: 0.2 % to -15 degC, 0.9 % at -30 degC, against IAPWS-95 and the ice of IAPWS-06
    Source: heat of fusion 6009.5 J/mol and its slope 38.1 J/molK, integrated from 273.15 K

    >>> round(ice_line_osmolality(-10.0), 3)
    5.402
    """
    fusion, step = value("ice_line", "fusion"), value("ice_line", "heat_capacity_step")
    kelvin = temperature_c + _ZERO_K
    logarithm = (fusion - step * _ZERO_K) * (1.0 / _ZERO_K - 1.0 / kelvin)
    logarithm = logarithm + step * natural_logarithm(kelvin / _ZERO_K)
    scale = -1e6 / (value("ice_line", "gas_constant") * 1000.0 * value("molar_mass", "water"))
    return logarithm * scale


@cache
def _inverse_terms() -> tuple[float, ...]:
    return (0.0, *series("ice_line", "inverse"))


@cache
def _highest_osmolality() -> float:
    return ice_line_osmolality(COLDEST_C)


def freezing_point_from_osmolality(osmol_per_kg: Floats) -> Floats:
    """Temperature at which ice stands in balance with a liquid: the ice line inverted by a polynomial, without iteration.

    Arguments:
        osmol_per_kg: mol of particles per kg of water, array (n,)
    Returns: degC, array (n,); NaN where it would lie below -45 degC, or for a negative osmolality
    Valid: -45 to 0 degC
    Error: 3e-9 K against ``ice_line_osmolality``
    Source: polynomial of eighth degree fitted to the ice line

    >>> round(freezing_point_from_osmolality(np.array([2.695])).item(), 3)
    -5.0
    """
    temperature_c = ice_line_temperature_c(osmol_per_kg)
    return np.where(is_on_ice_line(osmol_per_kg), temperature_c, np.nan)


def ice_line_temperature_c(osmol_per_kg: Number) -> Number:
    """As ``freezing_point_from_osmolality``, held at 0 and -45 degC beyond them: for searches that must not run into NaN.

    Arguments:
        osmol_per_kg: mol of particles per kg of water, float or array (n,)
    Returns: degC, float or array (n,)
    Valid: where ``is_on_ice_line``
    Error: 3e-9 K against ``ice_line_osmolality``
    Source: polynomial of eighth degree fitted to the ice line

    >>> round(ice_line_temperature_c(2.695), 3), round(ice_line_temperature_c(1e9), 3)
    (-5.0, -45.0)
    """
    highest = _highest_osmolality()
    held: Number = choose(osmol_per_kg < highest, osmol_per_kg, highest)
    held = choose(held > 0.0, held, 0.0)
    return horner(_inverse_terms(), held * _OSMOLALITY_UNIT)


def is_on_ice_line(osmol_per_kg: Number) -> Any:
    """Whether an osmolality stands in balance with ice between 0 and -45 degC.

    Arguments:
        osmol_per_kg: mol of particles per kg of water, float or array (n,)
    Returns: yes or no (no unit), bool or array (n,); no for NaN
    Valid: everywhere
    Error: none, a comparison
    Source: ends of ``ice_line_osmolality``

    >>> is_on_ice_line(2.695), is_on_ice_line(25.0)
    (True, False)
    """
    return (osmol_per_kg >= 0.0) & (osmol_per_kg <= _highest_osmolality())


def osmolality_terms(masses_g: Floats) -> tuple[Floats, ...]:
    """Osmolality of a liquid by powers of its concentration, for formulas that add or freeze out water step by step.

    With y times as much water as there is, the osmolality is the sum of each term over y to its power, one to five.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: mol of particles per kg of water, five arrays (n,); NaN without water
    Valid: each solute to its ``highest_molality``
    Error: as ``freezing_point_c``
    Source: as ``osmolality_of_solutes``

    >>> masses = np.zeros((24, 1)); masses[[0, 2], 0] = [1000.0, 342.296]
    >>> [round(term.item(), 4) for term in osmolality_terms(masses)[:3]]
    [1.0, 0.1031, 0.0076]
    """
    return _terms(SOLUTES, molalities(masses_g))


def freezing_point_c(masses_g: Floats) -> Floats:
    """Temperature at which ice starts in a liquid, degassed; a slush is colder, with part of the water frozen.

    Which component counts as which solute says ``molality.STANDS_FOR``.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: degC, array (n,); NaN without water or below -45 degC
    Valid: to -35 degC, each solute to its ``highest_molality``
    Error: 0.06 K (acetic 0.09, phosphoric 0.18, ethanol and lactic 0.28) for one solute; 0.3 K for served drinks, 1 K or
        more for liqueurs: no published table tests ethanol with sugar
    Source: fits to CRC Handbook 102nd ed. 2021 (Wolf 1966), as ``osmolality_of_solutes``

    >>> masses = np.zeros((24, 1)); masses[[0, 1], 0] = [95.0, 5.0]
    >>> round(freezing_point_c(masses).item(), 1)
    -2.1
    """
    return freezing_point_from_osmolality(osmolality_of_solutes(SOLUTES, molalities(masses_g)))


def _ice_share_of_water(
    target: Number, first: Number, second: Number, third: Number, fourth: Number, fifth: Number
) -> Number:
    """Part of the water that is ice, once the rest is so concentrated that its osmolality is the target."""
    terms: Sequence[Number] = (first, second, third, fourth, fifth)

    def left_osmolality(left: Number) -> Number:
        stronger = 1.0 / left
        total = terms[4]
        for term in terms[3::-1]:
            total = total * stronger + term
        return -(total * stronger)

    return 1.0 - bisect_rising(left_osmolality, -target, _LEAST_WATER_LEFT, 1.0)


def ice_mass_fraction(masses_g: Floats, temperature_c: Floats | float) -> Floats:
    """Part of a liquid's mass that is ice at a temperature: the unfrozen part is as strong as freezes just there.

    Arguments:
        masses_g: g of each component, array (24, n)
        temperature_c: degC, float or array (n,)
    Returns: g ice per g of everything but CO2, array (n,); 0 above the freezing point; NaN below -45 degC, without
        water, or where more than 98 % of the water would be ice
    Valid: while the unfrozen part stays within ``highest_molality`` and nothing else freezes out (NaCl does at -21 degC)
    Error: that of the freezing point over its slope: 0.02 for a slush at -6 degC
    Source: balance of ice and liquid, the osmolality of ``osmolality_of_solutes`` at the concentration of the unfrozen part

    >>> masses = np.zeros((24, 1)); masses[[0, 2], 0] = [90.0, 10.0]
    >>> round(ice_mass_fraction(masses, -4.45).item(), 2)
    0.75
    """
    celsius = np.broadcast_to(np.float64(temperature_c), masses_g.shape[1:])
    cold_c = np.minimum(np.where(celsius >= COLDEST_C, celsius, np.nan), 0.0)
    target = ice_line_osmolality(cold_c)
    terms = _terms(SOLUTES, molalities(masses_g))
    total = _whole(terms)
    frozen = by_column(_ice_share_of_water, np.maximum(target, total), *terms)
    is_warm = target <= total
    return ratio(np.where(is_warm, 0.0, frozen) * masses_g[WATER], degassed_g(masses_g))


def freezing_solutes() -> tuple[str, ...]:
    """The solutes that have a freezing table.

    Arguments: none
    Returns: names of the group ``osm_nu`` of the tables (text, no unit)
    Valid: everywhere
    Error: none, a look-up
    Source: the tables, each constant with its own source

    >>> "kcl" in freezing_solutes()
    True
    """
    return keys("osm_nu")
