"""Where the formulas hold: one table of conditions, each evaluated beside the values that it concerns."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache

import numpy as np

from washline.chemistry.arrays import Flags, Floats, ratio, weighted_totals
from washline.chemistry.components import DISSOLVED, ETHANOL, NACL, SUGARS, WATER, indicator
from washline.chemistry.mixture import strength_pct_vol

Conditions = Mapping[str, Floats]
"""Quantities by name, each an array (n,): what a predicate looks at.

``temperature_c`` (degC), ``ethanol_fraction`` (g ethanol per g ethanol and water), ``strength_pct_vol`` (% vol at
20 degC), ``sugar_fraction`` and ``salt_fraction`` (g per g of liquid), ``liquid_g`` (g), ``before_ice_pct_vol``
(% vol of what goes on ice). A range whose quantity is missing is not evaluated.
"""


class Severity(Enum):
    """What a flag does to a value."""

    NO_VALUE = "no value"
    OUTSIDE = "outside"
    WIDER = "wider error"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Range:
    """One condition: ``fails`` is true where a value of the ``readings`` (keys of ``METHODS``) leaves its range."""

    key: str
    readings: tuple[str, ...]
    severity: Severity
    words: str
    needs: tuple[str, ...]
    fails: Callable[[Conditions], Flags]


_VOLUMES = ("volume", "density", "strength")

RANGES: tuple[Range, ...] = (
    Range(
        "no-liquid",
        (*_VOLUMES, "brix_true", "brix_refractometer", "refractive_index", "heat_capacity", "temperature"),
        Severity.NO_VALUE,
        "There is no liquid, so there is no value.",
        ("liquid_g",),
        lambda at: ~(at["liquid_g"] > 0.0),
    ),
    Range(
        "volume-temperature",
        ("volume", "density", "ethanol_water_density"),
        Severity.OUTSIDE,
        "The density tables of ethanol and water end at -20 and 40 degC.",
        ("temperature_c",),
        lambda at: (at["temperature_c"] < -20.0) | (at["temperature_c"] > 40.0),
    ),
    Range(
        "water-temperature",
        ("water_density",),
        Severity.OUTSIDE,
        "The density formula of water ends at 0 and 100 degC.",
        ("temperature_c",),
        lambda at: (at["temperature_c"] < 0.0) | (at["temperature_c"] > 100.0),
    ),
    Range(
        "sucrose-temperature",
        ("sucrose_density",),
        Severity.OUTSIDE,
        "The density formula of sugar solutions ends at 0 and 80 degC.",
        ("temperature_c",),
        lambda at: (at["temperature_c"] < 0.0) | (at["temperature_c"] > 80.0),
    ),
    Range(
        "refraction-temperature",
        ("refractive_index", "brix_refractometer"),
        Severity.OUTSIDE,
        "Refractive indices hold at 20 degC; a reading rises by about 0.06 to 0.08 degBx per K above it.",
        ("temperature_c",),
        lambda at: at["temperature_c"] != 20.0,
    ),
    Range(
        "sugar-fraction",
        (*_VOLUMES, "sucrose_density", "refractive_index", "brix_true", "brix_refractometer"),
        Severity.OUTSIDE,
        "The tables of sugar solutions end at 85 % by mass.",
        ("sugar_fraction",),
        lambda at: at["sugar_fraction"] > 0.85,
    ),
    Range(
        "salt-fraction",
        (*_VOLUMES, "refractive_index", "brix_refractometer"),
        Severity.OUTSIDE,
        "The tables of salt solutions end at 26 % by mass, where salt no longer dissolves.",
        ("salt_fraction",),
        lambda at: at["salt_fraction"] > 0.265,
    ),
    Range(
        "strong-sweet",
        _VOLUMES,
        Severity.WIDER,
        "Strong and sweet: no published table tests the model here, expect 0.3 %.",
        ("strength_pct_vol", "sugar_fraction"),
        lambda at: (at["strength_pct_vol"] > 28.0) & (at["sugar_fraction"] > 0.05),
    ),
    Range(
        "brix-with-ethanol",
        ("brix_refractometer",),
        Severity.NOTE,
        "With ethanol a Brix reading is no sugar content: a refractometer reads high, a hydrometer low.",
        ("strength_pct_vol",),
        lambda at: at["strength_pct_vol"] > 0.5,
    ),
    Range(
        "heat-ethanol",
        ("heat_capacity", "temperature"),
        Severity.OUTSIDE,
        "Heat capacities are known to 60 % ethanol by mass; the value at 60 % stands in.",
        ("ethanol_fraction",),
        lambda at: at["ethanol_fraction"] > 0.6,
    ),
    Range(
        "heat-temperature",
        ("heat_capacity", "temperature"),
        Severity.OUTSIDE,
        "Heat capacities are known from -10 to 30 degC; expect an error of some percent.",
        ("temperature_c",),
        lambda at: (at["temperature_c"] < -10.0) | (at["temperature_c"] > 30.0),
    ),
    Range(
        "dilution-strength",
        ("dilution",),
        Severity.OUTSIDE,
        "The stirred and shaken regressions were measured from 10 to 35 % vol before ice.",
        ("before_ice_pct_vol",),
        lambda at: (at["before_ice_pct_vol"] < 10.0) | (at["before_ice_pct_vol"] > 35.0),
    ),
)


@cache
def _weights() -> Floats:
    """Rows: solvent, liquid, sugars, salt."""
    groups = ((WATER, ETHANOL), (WATER, ETHANOL, *DISSOLVED), SUGARS, (NACL,))
    return np.stack([indicator(group) for group in groups])


def conditions_of(
    masses_g: Floats,
    temperature_c: Floats | float | None = None,
    before_ice_pct_vol: Floats | float | None = None,
) -> dict[str, Floats]:
    """The quantities of a liquid that the ranges look at.

    Arguments:
        masses_g: g of each component, array (24, n)
        temperature_c: degC of the liquid, float or array (n,); None leaves the temperature out
        before_ice_pct_vol: % vol of what goes on ice, float or array (n,); None where no regression is used
    Returns: quantities by name (degC, 1, % vol, g), each an array (n,)
    Valid: everywhere
    Error: as the strength
    Source: the state of the liquid itself

    >>> masses = np.zeros((24, 1)); masses[[0, 2], 0] = [10.0, 90.0]
    >>> conditions_of(masses)["sugar_fraction"].item()
    0.9
    """
    solvent_g, liquid_g, sugar_g, salt_g = weighted_totals(_weights(), masses_g)
    conditions = {
        "liquid_g": liquid_g,
        "ethanol_fraction": ratio(masses_g[ETHANOL], solvent_g),
        "strength_pct_vol": strength_pct_vol(masses_g),
        "sugar_fraction": ratio(sugar_g, liquid_g),
        "salt_fraction": ratio(salt_g, liquid_g),
    }
    if temperature_c is not None:
        conditions["temperature_c"] = np.broadcast_to(np.float64(temperature_c), liquid_g.shape)
    if before_ice_pct_vol is not None:
        conditions["before_ice_pct_vol"] = np.broadcast_to(np.float64(before_ice_pct_vol), liquid_g.shape)
    return conditions


def flags(conditions: Conditions, reading: str | None = None) -> dict[str, Flags]:
    """For each range whose quantities are given: where it fails.

    Arguments:
        conditions: quantities by name (degC, 1, % vol, g), each an array (n,), as of ``conditions_of``
        reading: key of ``METHODS``, to ask only for the ranges that concern it (text, no unit); None asks for all
    Returns: yes or no (no unit) by the key of the range, each an array (n,)
    Valid: everywhere
    Error: none
    Source: the limits of the sources, stated in the table ``RANGES``

    >>> flags({"temperature_c": np.array([20.0, 60.0])}, "volume")["volume-temperature"].tolist()
    [False, True]
    """
    return {
        entry.key: entry.fails(conditions)
        for entry in RANGES
        if (reading is None or reading in entry.readings) and all(name in conditions for name in entry.needs)
    }
