"""Molalities: what is dissolved in the water of a liquid, each component by the one solute that stands for it."""

from collections.abc import Mapping
from functools import cache

import numpy as np

from washline.chemistry.arrays import Floats, ratio, weighted_totals
from washline.chemistry.coefficients import value
from washline.chemistry.components import COMPONENT_COUNT, COMPONENTS, WATER

STANDS_FOR: Mapping[str, tuple[str, ...]] = {
    "ethanol": ("ethanol",),
    "sucrose": ("sucrose",),
    "glucose": ("glucose",),
    "fructose": ("fructose",),
    "lactose": ("lactose",),
    "maltose": ("maltose", "other_carbohydrate"),
    "glycerol": ("polyol",),
    "citric": ("citric",),
    "malic": ("malic",),
    "tartaric": ("tartaric",),
    "lactic": ("lactic",),
    "acetic": ("acetic",),
    "ascorbic": ("ascorbic",),
    "phosphoric": ("phosphoric",),
    "succinic": ("other_acid",),
    "nacl": ("nacl",),
    "minerals": ("other_solids",),
}
"""For each solute of the freezing point and the water activity, the components that it stands for.

Acids without a name count as succinic, dextrins as maltose (too many molecules: they lower both a little too much),
minerals as the potassium whose acid is counted as acid. Protein, fibre, fat and insoluble matter have too few molecules to
count; dissolved CO2 is left out, since it leaves before ice forms.
"""

SOLUTES: tuple[str, ...] = tuple(STANDS_FOR)


@cache
def _weights() -> Floats:
    """Rows: mol per kg of water from grams per gram of water, in the order of ``SOLUTES``."""
    rows = np.zeros((len(SOLUTES), COMPONENT_COUNT))
    for row, (solute, components) in enumerate(STANDS_FOR.items()):
        for component in components:
            rows[row, COMPONENTS.index(component)] = 1000.0 / value("molar_mass", solute)
    return rows


def molalities(masses_g: Floats) -> Floats:
    """Molality of every solute in the water of a liquid.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: mol per kg of water for each of ``SOLUTES``, array (17, n); NaN without water
    Valid: everywhere
    Error: none for the named solutes; dextrins as maltose and minerals as potassium are conventions
    Source: definition; standard atomic masses

    >>> masses = np.zeros((24, 1)); masses[[0, 2], 0] = [1000.0, 342.296]
    >>> molalities(masses)[SOLUTES.index("sucrose")].item()
    1.0
    """
    per_water_g: Floats = ratio(np.ones(masses_g.shape[1]), np.maximum(masses_g[WATER], 0.0))
    return weighted_totals(_weights(), masses_g) * per_water_g
