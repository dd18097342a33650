"""Sweetness as the mass of sucrose that is as sweet."""

from functools import cache

import numpy as np

from washline.chemistry.arrays import Floats, weighted_total
from washline.chemistry.coefficients import value
from washline.chemistry.components import COMPONENT_COUNT, POLYOL, SUGARS, TABLE


@cache
def sweetness_factors() -> tuple[float, ...]:
    """Sweetness of each component against the same mass of sucrose.

    Arguments: none
    Returns: g sucrose per g (1), 24 floats; 0 for what is not sweet (other carbohydrate, ethanol)
    Valid: near 20 degC and 5-10 g per 100 mL; cold lowers glucose and sucrose a little and raises fructose
    Error: published factors spread over glucose 0.5-0.8, fructose 1.1-1.8, lactose 0.16-0.4, glycerol 0.55-0.75
    Source: PMC10346066 table 2, PMC3982014 table 2, PMC5756564 table 1

    >>> sweetness_factors()[2:9]
    (1.0, 0.7, 1.2, 0.2, 0.4, 0.0, 0.6)
    """
    factors = [0.0] * COMPONENT_COUNT
    for index in (*SUGARS, POLYOL):
        factors[index] = value("sweetness", TABLE[index].solute_key, "default")
    return tuple(factors)


@cache
def _weights() -> Floats:
    return np.array(sweetness_factors())


def sucrose_equivalent_g(masses_g: Floats) -> Floats:
    """Mass of sucrose that is as sweet as the sugars and polyols of a liquid.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: g of sucrose, array (n,)
    Valid: sugars and bulk polyols; intense sweeteners are not linear and have no component
    Error: about 15 %, that of the factors; acid, cold, bubbles and ethanol change what is tasted and are not in it
    Source: PMC10346066 table 2, PMC3982014 table 2, PMC5756564 table 1

    >>> masses = np.zeros((24, 1)); masses[[3, 4], 0] = [10.0, 10.0]
    >>> sucrose_equivalent_g(masses).item()
    19.0
    """
    return weighted_total(_weights(), masses_g)
