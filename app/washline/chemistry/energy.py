"""Energy of a liquid by the factors of the European food information regulation."""

from collections.abc import Mapping
from functools import cache

import numpy as np

from washline.chemistry.arrays import Floats, weighted_total
from washline.chemistry.coefficients import keys, value
from washline.chemistry.components import TABLE

KILOJOULE = "kJ/g"
KILOCALORIE = "kcal/g"


@cache
def energy_factors(unit: str) -> Mapping[str, float]:
    """The factors of the regulation by nutrient: carb, polyol, protein, fat, alcohol, acid, fibre, erythritol.

    Arguments:
        unit: ``kJ/g`` or ``kcal/g``; the two sets are rounded apart and never converted
    Returns: kJ/g or kcal/g by nutrient. ``KeyError`` for another unit
    Valid: nutrition labelling in the EU
    Error: none, a legal definition
    Source: Regulation (EU) 1169/2011, Annex XIV

    >>> energy_factors("kcal/g")["polyol"]
    2.4
    """
    return {key: value("energy", key, unit) for key in keys("energy")}


@cache
def _weights(unit: str) -> Floats:
    factors = energy_factors(unit)
    return np.array([factors[component.energy_key] if component.energy_key else 0.0 for component in TABLE])


def energy_kj(masses_g: Floats) -> Floats:
    """Energy of a liquid in kilojoule.

    Sugars and other carbohydrate count as carbohydrate, organic acids as acid (phosphoric acid not), soluble and
    insoluble fibre as fibre; insoluble matter that is starch or protein is therefore counted too low, by at most
    9 kJ/g. Erythritol cannot be told from other polyols here and counts as one.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: kJ, array (n,)
    Valid: nutrition labelling in the EU
    Error: none by definition; the composition's own
    Source: Regulation (EU) 1169/2011, Annex XIV

    >>> masses = np.zeros((24, 1)); masses[[1, 2], 0] = [10.0, 20.0]
    >>> energy_kj(masses).item()
    630.0
    """
    return weighted_total(_weights(KILOJOULE), masses_g)


def energy_kcal(masses_g: Floats) -> Floats:
    """Energy of a liquid in kilocalorie, from its own factors, counted as ``energy_kj`` does.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: kcal, array (n,)
    Valid: nutrition labelling in the EU
    Error: none by definition; the composition's own
    Source: Regulation (EU) 1169/2011, Annex XIV

    >>> masses = np.zeros((24, 1)); masses[[1, 2, 9], 0] = [10.0, 20.0, 1.0]
    >>> energy_kcal(masses).item()
    153.0
    """
    return weighted_total(_weights(KILOCALORIE), masses_g)
