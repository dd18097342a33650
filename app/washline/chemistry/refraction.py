"""Refractive index of any clear liquid of the 24 components: what a refractometer looks at."""

from functools import cache

import numpy as np

from washline.chemistry.arrays import Floats, Number, by_column, choose, horner, ratio, share, weighted_totals
from washline.chemistry.coefficients import series, word
from washline.chemistry.components import TABLE
from washline.chemistry.solutes import component_table, sums_of, volume_of_one


@cache
def _solvent_terms() -> tuple[float, ...]:
    return series("refraction_ethanol_water", "r")


@cache
def _weights() -> Floats:
    """Rows: constant of every dissolved component; linear and square of non-electrolytes; linear and square of salts."""
    columns = []
    for component in TABLE:
        kind = word("solute_class", component.solute_key) if component.solute_key else ""
        if kind not in ("n", "e"):
            columns.append([0.0] * 5)
            continue
        constant, linear, square = series("refraction", component.solute_key)
        is_salt = float(kind == "e")
        other = 1.0 - is_salt
        columns.append([constant, other * linear, other * square, is_salt * linear, is_salt * square])
    return np.array(columns).T.copy()


def _solvent_refraction(mass_fraction: Number) -> Number:
    return horner(_solvent_terms(), mass_fraction)


_LEAST_CLEAR_ML = 1e-9
"""Below this the clear liquid is what rounding left of a difference, and has no refractive index."""


def refractive_index(masses_g: Floats) -> Floats:
    """Refractive index of the clear liquid (without fat, insoluble matter and CO2) at 20 degC, 589 nm, relative to air.

    The specific refractions of Lorentz and Lorenz add up: (n2 - 1)/(n2 + 2) V = sum of m r, with the volume of the
    mixing model, r of ethanol-water quadratic in its mass fraction, and r of a solute quadratic in z as its volume is.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: refractive index (1), array (n,); NaN for no liquid
    Valid: 20 degC; the ends of the tables fitted (ethanol 98 %, sugars 60-85 %, acids 30-40 %, NaCl 26 %)
    Error: 1.3e-4 ethanol-water to 50 % (7e-4 pure), 3e-5 sucrose, 3e-4 at most other solutes; 1e-4 is 0.07 degBx
    Source: Lorentz 1880, Lorenz 1880; fits to CRC Handbook 102nd ed. 2021, Concentrative Properties of Aqueous
        Solutions, and to ICUMSA (sucrose); malic, tartaric, ascorbic, protein, fibre, minerals from memory

    >>> masses = np.zeros((24, 1)); masses[[0, 1], 0] = [80.0, 20.0]
    >>> round(refractive_index(masses).item(), 3)
    1.347
    """
    sums = sums_of(component_table(), masses_g)
    per_ml = by_column(_refraction_per_ml, *sums, *weighted_totals(_weights(), masses_g))
    return np.sqrt((1.0 + 2.0 * per_ml) / (1.0 - per_ml))


def _refraction_per_ml(*numbers: Number) -> Number:
    """Refraction per mL of clear liquid from the twelve ``Sums`` and the five sums of ``_weights``."""
    solvent_g, ethanol_g, nonelectrolyte_g, salt_g = numbers[:4]
    suspended_ml = numbers[10]
    constant, linear, square, salt_linear, salt_square = numbers[12:]
    liquid_g = solvent_g + nonelectrolyte_g + salt_g
    z_dissolved = share(nonelectrolyte_g, liquid_g)
    z_salt = share(salt_g, liquid_g)
    refraction = solvent_g * _solvent_refraction(share(ethanol_g, solvent_g)) + constant
    refraction = refraction + z_dissolved * (linear + z_dissolved * square)
    refraction = refraction + z_salt * (salt_linear + z_salt * salt_square)
    clear_ml = volume_of_one(20.0, *numbers[:12]) - suspended_ml
    clear_ml = choose(clear_ml > _LEAST_CLEAR_ML, clear_ml, 0.0)
    per_ml: Number = ratio(refraction, clear_ml)
    return per_ml
