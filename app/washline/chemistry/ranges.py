"""Where the formulas hold: one table of conditions, each evaluated beside the values that it concerns."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache

import numpy as np

from washline.chemistry.arrays import Flags, Floats, ratio, weighted_totals
from washline.chemistry.components import DISSOLVED, ETHANOL, NACL, PROTEIN, SUGARS, WATER, indicator
from washline.chemistry.cooking import LONGEST_MINUTES
from washline.chemistry.freezing import COLDEST_C, highest_molality
from washline.chemistry.mixture import strength_pct_vol
from washline.chemistry.molality import SOLUTES

Conditions = Mapping[str, Floats]
"""Quantities by name, each an array (n,): what a predicate looks at.

``temperature_c`` (degC), ``ethanol_fraction`` (g ethanol per g ethanol and water), ``strength_pct_vol`` (% vol at
20 degC), ``sugar_fraction`` and ``salt_fraction`` (g per g of liquid), ``liquid_g`` (g), ``before_ice_pct_vol``
(% vol of what goes on ice), ``water_g`` (g), ``protein_fraction`` (g per g of liquid), and, where they are passed in,
``ph`` (1), ``ionic_strength_mol_per_l`` (mol/L), ``water_activity`` (1), ``freezing_point_c`` (degC), ``molality_`` and the
name of a solute (mol/kg of water). Further ones are no property of a liquid as it stands: ``cooking_minutes`` (min); on ice
``chilled_from_pct_vol`` (% vol), ``chilled_from_c`` and ``chilled_c`` (degC before and after; NaN where there is none) and
``cold_left_j`` (J); carbonated ``co2_temperature_c`` (degC), ``co2_kpa`` (kPa absolute), ``co2_pct_vol`` (% vol). A range
whose quantity is missing is not evaluated.
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
_OF_WATER = ("ph", "water_activity", "freezing_point")

UNCERTAIN = "Uncertain: measure."


def _beyond_its_table(solute: str) -> "Range":
    """The range of the freezing point that ends where the table of one solute does."""
    name, highest = f"molality_{solute}", highest_molality(solute)
    return Range(
        f"freezing-{solute}",
        ("freezing_point",),
        Severity.OUTSIDE,
        f"The freezing table of {_SPOKEN.get(solute, solute)} ends at {highest:g} mol in 1 kg of water.",
        (name,),
        lambda at: at[name] > highest,
    )


_SPOKEN = {
    "citric": "citric acid",
    "malic": "malic acid",
    "tartaric": "tartaric acid",
    "lactic": "lactic acid",
    "acetic": "acetic acid",
    "ascorbic": "ascorbic acid",
    "phosphoric": "phosphoric acid",
    "succinic": "other acids",
    "nacl": "salt",
}

RANGES: tuple[Range, ...] = (
    Range(
        "no-liquid",
        (
            *_VOLUMES,
            "brix_true",
            "brix_refractometer",
            "refractive_index",
            "heat_capacity",
            "temperature",
            *_OF_WATER,
        ),
        Severity.NO_VALUE,
        "There is no liquid, so there is no value.",
        ("liquid_g",),
        lambda at: ~(at["liquid_g"] > 0.0),
    ),
    Range(
        "volume-temperature",
        ("volume", "density", "ethanol_water_density"),
        Severity.OUTSIDE,
        "The density tables of ethanol and water end at -20 and 40 °C.",
        ("temperature_c",),
        lambda at: (at["temperature_c"] < -20.0) | (at["temperature_c"] > 40.0),
    ),
    Range(
        "water-temperature",
        ("water_density",),
        Severity.OUTSIDE,
        "The density formula of water ends at 0 and 100 °C.",
        ("temperature_c",),
        lambda at: (at["temperature_c"] < 0.0) | (at["temperature_c"] > 100.0),
    ),
    Range(
        "sucrose-temperature",
        ("sucrose_density",),
        Severity.OUTSIDE,
        "The density formula of sugar solutions ends at 0 and 80 °C.",
        ("temperature_c",),
        lambda at: (at["temperature_c"] < 0.0) | (at["temperature_c"] > 80.0),
    ),
    Range(
        "refraction-temperature",
        ("refractive_index", "brix_refractometer"),
        Severity.OUTSIDE,
        "Refractive indices hold at 20 °C; a reading rises by about 0.06 to 0.08 °Bx per K above it.",
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
        "Heat capacities are known to 60 % ethanol by mass; a straight line to pure ethanol stands in.",
        ("ethanol_fraction",),
        lambda at: at["ethanol_fraction"] > 0.6,
    ),
    Range(
        "heat-temperature",
        ("heat_capacity", "temperature"),
        Severity.OUTSIDE,
        "Heat capacities are known from -10 to 30 °C; expect an error of some percent.",
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
    Range(
        "no-water",
        _OF_WATER,
        Severity.NO_VALUE,
        "There is no water, so there is no value.",
        ("liquid_g", "water_g"),
        lambda at: (at["liquid_g"] > 0.0) & ~(at["water_g"] > 0.0),
    ),
    Range(
        "ph-ionic-strength",
        ("ph",),
        Severity.OUTSIDE,
        "Indicative: activity coefficients are known to an ionic strength of 0.5 mol/L.",
        ("ionic_strength_mol_per_l",),
        lambda at: at["ionic_strength_mol_per_l"] > 0.5,
    ),
    Range(
        "ph-strength",
        ("ph",),
        Severity.OUTSIDE,
        "Indicative: the effect of ethanol on acids is known to 20 % vol.",
        ("strength_pct_vol",),
        lambda at: at["strength_pct_vol"] > 20.0,
    ),
    Range(
        "ph-protein",
        ("ph",),
        Severity.WIDER,
        "Protein (milk, egg, nuts) binds acid that is not counted: a measured pH must stand instead.",
        ("protein_fraction",),
        lambda at: at["protein_fraction"] > 0.01,
    ),
    Range(
        "ph-alkaline",
        ("ph",),
        Severity.OUTSIDE,
        "More cation than the known acids can bind: acids or other buffers are missing here, so measure.",
        ("ph",),
        lambda at: at["ph"] > 8.0,
    ),
    Range(
        "ph-near-4.6",
        ("ph",),
        Severity.NOTE,
        f"{UNCERTAIN} The computed pH lies within 0.3 of 4.6, a published threshold of low-acid food.",
        ("ph",),
        lambda at: abs(at["ph"] - 4.6) <= 0.3,
    ),
    Range(
        "water-activity-low",
        ("water_activity",),
        Severity.OUTSIDE,
        "Water activities were fitted down to 0.6.",
        ("water_activity",),
        lambda at: at["water_activity"] < 0.6,
    ),
    Range(
        "water-activity-near-0.85",
        ("water_activity",),
        Severity.NOTE,
        f"{UNCERTAIN} The computed water activity lies within 0.02 of 0.85, a published threshold of keeping food.",
        ("water_activity",),
        lambda at: abs(at["water_activity"] - 0.85) <= 0.02,
    ),
    Range(
        "water-activity-ethanol",
        ("water_activity",),
        Severity.WIDER,
        "With ethanol the water activity is known to 0.012, and no published table tests it beside sugar.",
        ("strength_pct_vol",),
        lambda at: at["strength_pct_vol"] > 5.0,
    ),
    Range(
        "freezing-below-table",
        ("freezing_point",),
        Severity.NO_VALUE,
        f"It freezes below {COLDEST_C:g} °C, where the ice line ends.",
        ("freezing_point_c", "water_g"),
        lambda at: np.isnan(at["freezing_point_c"]) & (at["water_g"] > 0.0),
    ),
    Range(
        "freezing-cold",
        ("freezing_point",),
        Severity.OUTSIDE,
        "Freezing points were fitted down to -35 °C.",
        ("freezing_point_c",),
        lambda at: at["freezing_point_c"] < -35.0,
    ),
    Range(
        "freezing-strong-sweet",
        ("freezing_point",),
        Severity.WIDER,
        "Strong and sweet: no published table tests ethanol with sugar, expect 1 K or more.",
        ("strength_pct_vol", "sugar_fraction"),
        lambda at: (at["strength_pct_vol"] > 20.0) & (at["sugar_fraction"] > 0.1),
    ),
    Range(
        "cooking-time",
        ("ethanol_retained",),
        Severity.OUTSIDE,
        "The table of simmered and baked dishes ends at 150 min; its last value stands.",
        ("cooking_minutes",),
        lambda at: at["cooking_minutes"] > LONGEST_MINUTES,
    ),
    *(_beyond_its_table(solute) for solute in SOLUTES),
    Range(
        "chill-below-table",
        ("chilling",),
        Severity.NO_VALUE,
        f"On ice it would get colder than {COLDEST_C:g} °C, where the ice line ends.",
        ("chilled_c", "chilled_from_c"),
        lambda at: np.isnan(at["chilled_c"]) & ~np.isnan(at["chilled_from_c"]),
    ),
    Range(
        "chill-strong",
        ("chilling",),
        Severity.WIDER,
        "Above 35 % vol before ice expect 8 g per 100 mL or more: neither weighings nor freezing points test it there.",
        ("chilled_from_pct_vol",),
        lambda at: at["chilled_from_pct_vol"] > 35.0,
    ),
    Range(
        "chill-temperature",
        ("chilling",),
        Severity.OUTSIDE,
        "What goes on ice was taken from -10 to 30 °C; expect an error of some percent.",
        ("chilled_from_c",),
        lambda at: (at["chilled_from_c"] < -10.0) | (at["chilled_from_c"] > 30.0),
    ),
    Range(
        "chill-would-freeze",
        ("chilling",),
        Severity.NOTE,
        "Ice or vessel is so cold that nothing melts; water that would freeze onto it is not counted.",
        ("cold_left_j",),
        lambda at: at["cold_left_j"] > 0.0,
    ),
    Range(
        "carbonation-temperature",
        ("carbonation",),
        Severity.OUTSIDE,
        "The solubility of CO2 is known here from 0 to 30 °C.",
        ("co2_temperature_c",),
        lambda at: (at["co2_temperature_c"] < 0.0) | (at["co2_temperature_c"] > 30.0),
    ),
    Range(
        "carbonation-pressure",
        ("carbonation",),
        Severity.OUTSIDE,
        "The solubility of CO2 is known here to 600 kPa (6 bar) absolute.",
        ("co2_kpa",),
        lambda at: at["co2_kpa"] > 600.0,
    ),
    Range(
        "carbonation-strength",
        ("carbonation",),
        Severity.WIDER,
        "Above 20 % vol the solubility of CO2 passes a minimum that is not followed: expect 15 %.",
        ("co2_pct_vol",),
        lambda at: at["co2_pct_vol"] > 20.0,
    ),
)


@cache
def _weights() -> Floats:
    """Rows: solvent, liquid, sugars, salt, protein."""
    groups = ((WATER, ETHANOL), (WATER, ETHANOL, *DISSOLVED), SUGARS, (NACL,), (PROTEIN,))
    return np.stack([indicator(group) for group in groups])


def conditions_of(
    masses_g: Floats,
    temperature_c: Floats | float | None = None,
    before_ice_pct_vol: Floats | float | None = None,
    *,
    ph: Floats | None = None,
    ionic_strength_mol_per_l: Floats | None = None,
    water_activity: Floats | None = None,
    freezing_point_c: Floats | None = None,
    molalities: Floats | None = None,
) -> dict[str, Floats]:
    """The quantities of a liquid that the ranges look at.

    Arguments:
        masses_g: g of each component, array (24, n)
        temperature_c: degC of the liquid, float or array (n,); None leaves the temperature out
        before_ice_pct_vol: % vol of what goes on ice, float or array (n,); None where no regression is used
        ph: computed pH (1), array (n,); None, as for all that follow, where it is not asked for
        ionic_strength_mol_per_l: mol/L, array (n,)
        water_activity: water activity (1), array (n,)
        freezing_point_c: degC, array (n,)
        molalities: mol per kg of water of each of ``molality.SOLUTES``, array (17, n)
    Returns: quantities by name (degC, 1, % vol, g, mol/L, mol/kg), each an array (n,)
    Valid: everywhere
    Error: as the strength
    Source: the state of the liquid itself

    >>> masses = np.zeros((24, 1)); masses[[0, 2], 0] = [10.0, 90.0]
    >>> conditions_of(masses)["sugar_fraction"].item()
    0.9
    """
    solvent_g, liquid_g, sugar_g, salt_g, protein_g = weighted_totals(_weights(), masses_g)
    conditions = {
        "liquid_g": liquid_g,
        "ethanol_fraction": ratio(masses_g[ETHANOL], solvent_g),
        "strength_pct_vol": strength_pct_vol(masses_g),
        "sugar_fraction": ratio(sugar_g, liquid_g),
        "salt_fraction": ratio(salt_g, liquid_g),
        "protein_fraction": ratio(protein_g, liquid_g),
        "water_g": masses_g[WATER],
    }
    if temperature_c is not None:
        conditions["temperature_c"] = np.broadcast_to(np.float64(temperature_c), liquid_g.shape)
    if before_ice_pct_vol is not None:
        conditions["before_ice_pct_vol"] = np.broadcast_to(np.float64(before_ice_pct_vol), liquid_g.shape)
    found = {
        "ph": ph,
        "ionic_strength_mol_per_l": ionic_strength_mol_per_l,
        "water_activity": water_activity,
        "freezing_point_c": freezing_point_c,
    }
    conditions.update({name: values for name, values in found.items() if values is not None})
    if molalities is not None:
        conditions.update({f"molality_{name}": row for name, row in zip(SOLUTES, molalities, strict=True)})
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
