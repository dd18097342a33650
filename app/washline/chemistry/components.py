"""The 24 components of a liquid, in their fixed order, and what each is called in the tables and in the pantry."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from washline.chemistry.arrays import Floats


@dataclass(frozen=True, slots=True)
class Component:
    """One row of a composition.

    ``solute_key`` is its name in the groups ``phi``, ``solute_class`` and ``refraction`` of the tables (empty for
    water, ethanol and CO2, which are not solutes there), ``energy_key`` its name in the group ``energy`` (empty: no
    energy), ``pantry_column`` its column of the ingredient list, in g per 100 g.
    """

    key: str
    solute_key: str
    energy_key: str
    pantry_column: str


# What is a mixture stands on its nearest relative: dextrins on maltose (glucose syrup), polyols on glycerol, acids that
# have no row on succinic, minerals and phenolics on mixed ash, soluble fibre on pectin.
TABLE: tuple[Component, ...] = (
    Component("water", "", "", "water_g_per_100g"),
    Component("ethanol", "", "alcohol", "ethanol_g_per_100g"),
    Component("sucrose", "sucrose", "carb", "sucrose_g_per_100g"),
    Component("glucose", "glucose", "carb", "glucose_g_per_100g"),
    Component("fructose", "fructose", "carb", "fructose_g_per_100g"),
    Component("lactose", "lactose", "carb", "lactose_g_per_100g"),
    Component("maltose", "maltose", "carb", "maltose_g_per_100g"),
    Component("other_carbohydrate", "maltose", "carb", "other_carbohydrate_g_per_100g"),
    Component("polyol", "glycerol", "polyol", "polyol_glycerol_g_per_100g"),
    Component("citric", "citric", "acid", "citric_g_per_100g"),
    Component("malic", "malic", "acid", "malic_g_per_100g"),
    Component("tartaric", "tartaric", "acid", "tartaric_g_per_100g"),
    Component("lactic", "lactic", "acid", "lactic_g_per_100g"),
    Component("acetic", "acetic", "acid", "acetic_g_per_100g"),
    Component("ascorbic", "ascorbic", "acid", "ascorbic_g_per_100g"),
    Component("phosphoric", "phosphoric", "", "phosphoric_g_per_100g"),
    Component("other_acid", "succinic", "acid", "other_acid_g_per_100g"),
    Component("nacl", "nacl", "", "salt_NaCl_g_per_100g"),
    Component("other_solids", "minerals", "", "other_solids_g_per_100g"),
    Component("protein", "protein", "protein", "protein_g_per_100g"),
    Component("fat", "fat", "fat", "fat_g_per_100g"),
    Component("fibre", "pectin", "fibre", "fibre_g_per_100g"),
    Component("insoluble", "insoluble", "fibre", "insoluble_solids_g_per_100g"),
    Component("co2", "", "", "co2_g_per_l"),
)

COMPONENTS: tuple[str, ...] = tuple(component.key for component in TABLE)
COMPONENT_COUNT = len(COMPONENTS)

WATER = 0
ETHANOL = 1
SUCROSE = 2
GLUCOSE = 3
FRUCTOSE = 4
LACTOSE = 5
MALTOSE = 6
OTHER_CARBOHYDRATE = 7
POLYOL = 8
CITRIC = 9
MALIC = 10
TARTARIC = 11
LACTIC = 12
ACETIC = 13
ASCORBIC = 14
PHOSPHORIC = 15
OTHER_ACID = 16
NACL = 17
OTHER_SOLIDS = 18
PROTEIN = 19
FAT = 20
FIBRE = 21
INSOLUBLE = 22
CO2 = 23

SUGARS: tuple[int, ...] = (SUCROSE, GLUCOSE, FRUCTOSE, LACTOSE, MALTOSE)
ACIDS: tuple[int, ...] = (CITRIC, MALIC, TARTARIC, LACTIC, ACETIC, ASCORBIC, PHOSPHORIC, OTHER_ACID)
DISSOLVED: tuple[int, ...] = (*SUGARS, OTHER_CARBOHYDRATE, POLYOL, *ACIDS, NACL, OTHER_SOLIDS, PROTEIN, FIBRE)
SUSPENDED: tuple[int, ...] = (FAT, INSOLUBLE)


@cache
def indicator(indices: tuple[int, ...]) -> Floats:
    """A row of weights, 1 for the named components and 0 for the rest: array (24,).

    >>> indicator(SUSPENDED).tolist().index(1.0) == FAT
    True
    """
    weights = np.zeros(COMPONENT_COUNT)
    weights[list(indices)] = 1.0
    weights.flags.writeable = False
    return weights
