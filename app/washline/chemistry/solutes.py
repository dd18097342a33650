"""Volume of any solution of the tables' solutes in ethanol and water: the mixing model under ``mixture``."""

from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import numpy as np

from washline.chemistry import ethanol_water
from washline.chemistry.arrays import Floats, Number, by_column, share, weighted_totals
from washline.chemistry.coefficients import series, value, word
from washline.chemistry.components import TABLE


@dataclass(frozen=True, slots=True)
class SoluteTable:
    """The constants of a list of components as rows of weights, array (12, k); see ``Sums`` for what each row gives."""

    weights: Floats


class Sums(NamedTuple):
    """Weighted sums over the components of each column, each an array (n,).

    Masses are in g, volumes in mL; ``linear`` and ``square`` are to be multiplied by the share z of their own class
    (dissolved non-electrolytes, or salts) of the liquid and by its square.
    """

    solvent_g: Floats
    ethanol_g: Floats
    nonelectrolyte_g: Floats
    salt_g: Floats
    fat_g: Floats
    volume: Floats
    nonelectrolyte_linear: Floats
    nonelectrolyte_square: Floats
    salt_linear: Floats
    salt_square: Floats
    suspended_volume: Floats
    total_g: Floats


def _weights_of(key: str) -> list[float]:
    """The column of weights of one component, in the order of ``Sums``."""
    if key in ("water", "ethanol"):
        return [1.0, float(key == "ethanol"), *([0.0] * 9), 1.0]
    if key == "co2":
        return [0.0] * 12
    constant, linear, square = series("phi", key)
    kind = word("solute_class", key)
    dissolved, salt = float(kind == "n"), float(kind == "e")
    return [
        0.0,
        0.0,
        dissolved,
        salt,
        float(key == "fat"),
        constant,
        dissolved * linear,
        dissolved * square,
        salt * linear,
        salt * square,
        float(kind == "i") * constant,
        1.0,
    ]


@cache
def solute_table(keys: tuple[str, ...]) -> SoluteTable:
    """The weights for a list of components.

    CO2 weighs and takes up nothing: volume and density are those of the degassed liquid.

    Arguments:
        keys: ``water``, ``ethanol``, ``co2`` or names as in the group ``phi`` of the tables (text, no unit)
    Returns: rows of weights (mL/g or 1), array (12, k). ``KeyError`` for an unknown name
    Valid: the names of the tables
    Error: none, a look-up
    Source: the tables, each constant with its own source

    >>> solute_table(("water", "kcl")).weights.shape
    (12, 2)
    """
    return SoluteTable(np.array([_weights_of(key) for key in keys]).T.copy())


@cache
def component_table() -> SoluteTable:
    """The weights for the 24 components, each by the solute that stands for it.

    Arguments: none
    Returns: rows of weights (mL/g or 1), array (12, 24)
    Valid: everywhere
    Error: none, a look-up
    Source: the tables, each constant with its own source

    >>> component_table().weights.shape
    (12, 24)
    """
    return solute_table(tuple(component.solute_key or component.key for component in TABLE))


@cache
def _warming() -> tuple[float, float, float, float]:
    return (
        value("phi_temperature", "nonelectrolyte", "0"),
        value("phi_temperature", "nonelectrolyte_z", "0"),
        value("phi_temperature", "nonelectrolyte_square", "0"),
        value("phi_temperature", "fat", "0"),
    )


def sums_of(table: SoluteTable, masses_g: Floats) -> Sums:
    """The weighted sums of the masses of one list of components.

    Arguments:
        table: rows of weights (mL/g or 1), array (12, k)
        masses_g: g of each component, array (k, n)
    Returns: sums in g and mL, each an array (n,)
    Valid: everywhere
    Error: none, sums
    Source: conservation of mass

    >>> sums_of(component_table(), np.ones((24, 1))).solvent_g.item()
    2.0
    """
    return Sums(*weighted_totals(table.weights, masses_g))


def volume_of(sums: Sums, temperature_c: Floats | float) -> Floats:
    """Volume of a mixture from its sums.

    Arguments:
        sums: weighted sums of the masses, each in g or mL, array (n,)
        temperature_c: degC, float or array (n,)
    Returns: mL, array (n,)
    Valid: as ``mixture.volume_ml``
    Error: as ``mixture.volume_ml``
    Source: OIML R 22 for ethanol and water; apparent specific volumes fitted to CRC and ICUMSA tables

    >>> table = solute_table(("water", "kcl"))
    >>> round(1e6 / volume_of(sums_of(table, np.array([[900.0], [100.0]])), 20.0).item(), 1)
    1063.3
    """
    return by_column(volume_of_one, temperature_c, *sums)


def volume_of_one(temperature_c: Number | float, *sums: Number) -> Number:
    """Volume of a mixture from its sums: the kernel of ``volume_of``, for plain numbers and for arrays.

    Arguments:
        temperature_c: degC, float or array (n,)
        sums: the twelve of ``Sums`` in g and mL, each a float or an array (n,)
    Returns: mL, float or array (n,)
    Valid: as ``mixture.volume_ml``
    Error: as ``mixture.volume_ml``
    Source: as ``volume_of``

    >>> table = solute_table(("water", "kcl"))
    >>> sums = sums_of(table, np.array([[900.0], [100.0]]))
    >>> round(1e6 / volume_of_one(20.0, *(part.item() for part in sums)), 1)
    1063.3
    """
    solvent_g, ethanol_g, nonelectrolyte_g, salt_g, fat_g, volume = sums[:6]
    nonelectrolyte_linear, nonelectrolyte_square, salt_linear, salt_square = sums[6:10]
    density = ethanol_water.density_kg_per_m3(share(ethanol_g, solvent_g), temperature_c)
    liquid_g = solvent_g + nonelectrolyte_g + salt_g
    z_dissolved = share(nonelectrolyte_g, liquid_g)
    z_salt = share(salt_g, liquid_g)
    volume = solvent_g / density * 1000.0 + volume
    volume = volume + z_dissolved * (nonelectrolyte_linear + z_dissolved * nonelectrolyte_square)
    volume = volume + z_salt * (salt_linear + z_salt * salt_square)
    if not isinstance(temperature_c, np.ndarray) and temperature_c == 20.0:
        return volume
    warmer_k = temperature_c - 20.0
    first, first_z, second, fat = _warming()
    expansion = first + first_z * z_dissolved + second * (1.0 - z_dissolved) * warmer_k
    return volume + warmer_k * (expansion * nonelectrolyte_g + fat * fat_g)
