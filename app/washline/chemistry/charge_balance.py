"""Charge balance of a solution of acids: the pH at which positive and negative charges are equal, and the way back."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import Any, NamedTuple

import numpy as np

from washline.chemistry.arrays import (
    Floats,
    Number,
    by_column,
    by_column_each,
    choose,
    exponential,
    is_all,
    square_root,
)
from washline.chemistry.coefficients import series, value

_LN_10 = 2.302585092994046
_START_ACTIVITY = 1e-3
_LOWEST_ACTIVITY, _HIGHEST_ACTIVITY = 1e-15, 10.0
_SEARCH_PASSES, _POLISH_PASSES, _CATION_PASSES = 60, 60, 200
_NEAR, _CONVERGED = 0.2, 1e-8
_LONGEST_STEP = 1.5
_NOT_CARBOXYLIC = ("phosphoric", "carbonic")


class PhFound(NamedTuple):
    """pH of each column and the ionic strength (mol/L) that it was found at, each an array (n,)."""

    ph: Floats
    ionic_strength_mol_per_l: Floats


@dataclass(frozen=True, slots=True)
class _Acid:
    """Products of the dissociation constants to each ion, at 25 degC and no ionic strength."""

    products: tuple[float, ...]
    is_carboxylic: bool


class _Balance(NamedTuple):
    """Sums over all ions of one activity: mol/L of charge on acids, and of charge squared, and how the charge moves."""

    charge: Any
    square: Any
    slope: Any


@cache
def _acid(name: str) -> _Acid:
    products, exponent = [], 0.0
    for constant in series("pKa", name):
        exponent += constant
        products.append(float(np.exp(-_LN_10 * exponent)))
    return _Acid(tuple(products), name not in _NOT_CARBOXYLIC)


@cache
def _water_product() -> float:
    return float(np.exp(-_LN_10 * value("pKw", "water")))


@cache
def _davies() -> tuple[float, float, float]:
    return (
        value("davies", "A") * _LN_10,
        value("davies", "linear"),
        value("davies", "highest_ionic_strength"),
    )


def _activity_coefficient(ionic_strength: Number) -> Number:
    """Of an ion of charge one (Davies); that of charge z is its power z squared."""
    slope, linear, highest = _davies()
    held: Number = choose(ionic_strength < highest, ionic_strength, highest)
    root = square_root(held)
    return exponential(-slope * (root / (root + 1.0) - linear * held))


def _ions(acid: _Acid, reach: Number, gamma: Number) -> tuple[Number, Number]:
    """Mean charge and mean squared charge of an acid's molecules; ``reach`` is 1 over the activity of H+."""
    step, odd = reach / gamma, gamma * gamma
    term = step * acid.products[0]
    whole, charge, square = term + 1.0, term, term
    power, between = step, gamma
    for ion, product in enumerate(acid.products[1:], start=2):
        # From gamma to the power z squared to the next: two factors more than between the last two.
        between = between * odd
        power = power * reach / between
        term = power * product
        whole = whole + term
        charge = charge + term * ion
        square = square + term * (ion * ion)
    return charge / whole, square / whole


def _balance(
    acids: Sequence[tuple[_Acid, Number]], activity: Number, gamma: Number, ease: Number
) -> _Balance:
    """The sums over all acids and OH-; ``ease`` is what ethanol leaves of a carboxylic dissociation constant."""
    reach = 1.0 / activity
    charge = reach / gamma * _water_product()
    square, slope = charge, charge
    for acid, mol_per_l in acids:
        mean, mean_square = _ions(acid, reach * ease if acid.is_carboxylic else reach, gamma)
        charge = charge + mol_per_l * mean
        square = square + mol_per_l * mean_square
        slope = slope + mol_per_l * (mean_square - mean * mean)
    return _Balance(charge, square, slope)


def _newton_step(balance: _Balance, hydrogen: Number, positive: Number, negative: Number) -> Number:
    """Step in the logarithm of the activity towards equal charges, on the ratio of the two, at most 1.5 long."""
    plus, minus = hydrogen + positive, balance.charge + negative
    ratio = minus / plus
    logarithm = (ratio - 1.0) / (ratio + 1.0) * 2.0
    step: Number = logarithm / (hydrogen / plus + balance.slope / minus)
    step = choose(step > _LONGEST_STEP, _LONGEST_STEP, step)
    limited: Number = choose(step < -_LONGEST_STEP, -_LONGEST_STEP, step)
    return limited


def _moved(activity: Number, step: Number) -> Number:
    """The activity times the exponential of a step, by its Padé approximant: plain arithmetic, the same bytes anywhere."""
    return activity * (2.0 + step) / (2.0 - step)


def _solve(
    present: tuple[_Acid, ...], cations: Number, salts: Number, strength_pct_vol: Number, *mol_per_l: Number
) -> tuple[Number, Number]:
    """Activity of H+ and ionic strength (mol/L) of one solution, or of each; elements that are found are left alone."""
    acids = tuple(zip(present, mol_per_l, strict=True))
    ease = _ease(strength_pct_vol)
    nothing = cations * 0.0
    positive = choose(cations > 0.0, cations, nothing)
    negative = choose(cations < 0.0, -cations, nothing)
    ionic_strength = salts + positive + negative
    activity = _searched(acids, positive, negative, _activity_coefficient(ionic_strength), ease)
    is_found = activity != activity
    for _ in range(_POLISH_PASSES):
        gamma = _activity_coefficient(ionic_strength)
        balance = _balance(acids, activity, gamma, ease)
        hydrogen = activity / gamma
        step = _newton_step(balance, hydrogen, positive, negative)
        stronger = (hydrogen + positive + negative + balance.square) * 0.5 + salts
        change = stronger - ionic_strength
        activity = choose(is_found, activity, _moved(activity, step))
        ionic_strength = choose(is_found, ionic_strength, stronger)
        # A step that is no number is found to have no value.
        is_found = is_found | ((abs(step) < _CONVERGED) & (abs(change) < _CONVERGED)) | (step != step)
        if is_all(is_found):
            break
    return choose(is_found, activity, float("nan")), ionic_strength


def _searched(
    acids: Sequence[tuple[_Acid, Number]], positive: Number, negative: Number, gamma: Number, ease: Number
) -> Number:
    """The activity of H+ to a fifth at fixed activity coefficients: Newton's step within a bracket, else its middle."""
    activity = positive * 0.0 + _START_ACTIVITY
    low, high = positive * 0.0 + _LOWEST_ACTIVITY, positive * 0.0 + _HIGHEST_ACTIVITY
    is_near = activity != activity
    for _ in range(_SEARCH_PASSES):
        balance = _balance(acids, activity, gamma, ease)
        step = _newton_step(balance, activity / gamma, positive, negative)
        low, high = choose(step > 0.0, activity, low), choose(step > 0.0, high, activity)
        tried = _moved(activity, step)
        tried = choose((tried > low) & (tried < high), tried, square_root(low * high))
        activity = choose(is_near, activity, tried)
        is_near = is_near | (abs(step) < _NEAR) | (step != step)
        if is_all(is_near):
            break
    is_inside = (activity > _LOWEST_ACTIVITY * 2.0) & (activity < _HIGHEST_ACTIVITY * 0.5)
    found: Number = choose(is_inside, activity, float("nan"))
    return found


@cache
def _ethanol_terms() -> tuple[float, float]:
    return value("pKa_ethanol", "highest_pct_vol"), -_LN_10 * value("pKa_ethanol", "per_pct_vol")


def _ease(strength_pct_vol: Number) -> Number:
    """What ethanol leaves of the dissociation constant of a carboxylic acid."""
    highest, per_pct_vol = _ethanol_terms()
    held: Number = choose(strength_pct_vol < highest, strength_pct_vol, highest)
    return exponential(held * per_pct_vol)


def ph_of_solution(
    names: tuple[str, ...],
    mol_per_l: Floats,
    cations_mol_per_l: Floats,
    salts_mol_per_l: Floats,
    strength_pct_vol: Floats,
) -> PhFound:
    """pH of a solution of acids by their names, solved so that positive and negative charges are equal.

    Arguments:
        names: acids as in the group ``pKa`` of the tables (text, no unit)
        mol_per_l: mol/L of each acid with all its ions, array (k, n)
        cations_mol_per_l: mol/L of charge on strong cations, less that on strong anions, array (n,)
        salts_mol_per_l: mol/L of neutral salts of single charges (NaCl, KCl), array (n,)
        strength_pct_vol: % vol, array (n,)
    Returns: pH (1) and ionic strength (mol/L), each an array (n,); pH NaN beyond -0.7 to 14.7
    Valid: 25 degC, ionic strength to 0.5 mol/L, to 20 % vol; both held there beyond
    Error: 0.01 (0.03 at most) for pure acids, 0.012 for NIST buffers, 0.5 at most for juices
    Source: charge balance; Davies 1962; pKa of Goldberg et al. 2002, Martell and Smith; ethanol from memory
        (Usseglio-Tomasset)

    >>> one = np.array([0.0])
    >>> round(ph_of_solution(("citric",), np.array([[0.1]]), one, one, one).ph.item(), 2)
    2.08
    """
    acids, rows = _present(names, mol_per_l)
    kernel = partial(_solve, acids)
    activity, ionic_strength = by_column_each(
        kernel, cations_mol_per_l, salts_mol_per_l, strength_pct_vol, *rows
    )
    return PhFound(-np.log10(activity), ionic_strength)


def _present(names: tuple[str, ...], mol_per_l: Floats) -> tuple[tuple[_Acid, ...], list[Floats]]:
    """The acids that any column holds and their rows; what is left out would add exact zeros."""
    present = [index for index, row in enumerate(mol_per_l) if row.any()]
    return tuple(_acid(names[index]) for index in present), [mol_per_l[index] for index in present]


def cations_of_solution(
    names: tuple[str, ...],
    mol_per_l: Floats,
    ph: Floats,
    salts_mol_per_l: Floats,
    strength_pct_vol: Floats,
) -> Floats:
    """Strong cation that gives a solution of acids a pH: the inverse of ``ph_of_solution``.

    Arguments:
        names: acids as in the group ``pKa`` of the tables (text, no unit)
        mol_per_l: mol/L of each acid with all its ions, array (k, n)
        ph: pH (1), array (n,)
        salts_mol_per_l: mol/L of neutral salts of single charges (NaCl, KCl), array (n,)
        strength_pct_vol: % vol, array (n,)
    Returns: mol/L of charge on strong cations, less that on strong anions, array (n,)
    Valid: as ``ph_of_solution``
    Error: a pH that is off by 0.1 moves the cation by up to 15 % of the acid
    Source: charge balance, linear in the cation but for the ionic strength, which is iterated

    >>> none = np.array([0.0])
    >>> round(cations_of_solution(("citric",), np.array([[0.05]]), np.array([3.776]), none, none).item(), 3)
    0.05
    """
    acids, rows = _present(names, mol_per_l)
    activity = np.exp(ph * -_LN_10)
    return by_column(partial(_cations, acids), activity, salts_mol_per_l, strength_pct_vol, *rows)


def _cations(
    present: tuple[_Acid, ...], activity: Number, salts: Number, strength_pct_vol: Number, *mol_per_l: Number
) -> Number:
    """Strong cation in mol/L at a known activity of H+: found once the ionic strength stands still."""
    acids = tuple(zip(present, mol_per_l, strict=True))
    ease = _ease(strength_pct_vol)
    ionic_strength, cations = salts + 0.0, salts * 0.0
    is_found = activity != activity
    for _ in range(_CATION_PASSES):
        gamma = _activity_coefficient(ionic_strength)
        balance = _balance(acids, activity, gamma, ease)
        hydrogen = activity / gamma
        needed = balance.charge - hydrogen
        stronger = (hydrogen + abs(needed) + balance.square) * 0.5 + salts
        change = stronger - ionic_strength
        cations = choose(is_found, cations, needed)
        ionic_strength = choose(is_found, ionic_strength, stronger)
        is_found = is_found | (abs(change) < _CONVERGED * 1e-4) | (change != change)
        if is_all(is_found):
            break
    found: Number = choose(is_found, cations, float("nan"))
    return found
