"""Dissolved solids of a liquid: degrees Brix as they are, and as a refractometer shows them."""

from functools import cache

import numpy as np

from washline.chemistry.arrays import Floats, ratio, weighted_totals
from washline.chemistry.components import DISSOLVED, ETHANOL, WATER, indicator
from washline.chemistry.refraction import refractive_index
from washline.chemistry.sucrose import mass_fraction_from_refractive_index


@cache
def _weights() -> Floats:
    return np.stack([indicator(DISSOLVED), indicator((WATER, ETHANOL, *DISSOLVED))])


def brix_true(masses_g: Floats) -> Floats:
    """Dissolved solids: everything dissolved but ethanol and CO2, in % of the liquid's mass.

    The liquid is water, ethanol and what is dissolved in them; fat, insoluble matter and CO2 are no part of it.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: % by mass, array (n,); NaN for no liquid
    Valid: everywhere
    Error: none, a ratio of masses
    Source: definition of soluble solids (degrees Brix of sucrose-water), OIV-MA-AS2-02

    >>> masses = np.zeros((24, 1)); masses[[0, 2, 22], 0] = [50.0, 50.0, 3.0]
    >>> brix_true(masses).item()
    50.0
    """
    dissolved_g, liquid_g = weighted_totals(_weights(), masses_g)
    return ratio(dissolved_g * 100.0, liquid_g)


def brix_refractometer(masses_g: Floats) -> Floats:
    """What a refractometer with a sucrose scale shows at 20 degC: ethanol raises it, acids and salts count otherwise.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: % by mass on the sucrose scale (degBx), array (n,); NaN for no liquid or a reading above 85
    Valid: 20 degC, clear liquid; as ``refraction.refractive_index``
    Error: 0.02 sucrose, 0.09 ethanol-water to 50 %, 0.04 citric acid, 0.15 other solutes (degBx, against CRC); a few
        tenths in mixtures, for which no published table was found
    Source: refractive index of ``refraction`` read off the ICUMSA sucrose scale (OIV-MA-AS2-02)

    >>> masses = np.zeros((24, 1)); masses[[0, 9], 0] = [90.0, 10.0]
    >>> round(brix_refractometer(masses).item(), 1)
    8.8
    """
    return mass_fraction_from_refractive_index(refractive_index(masses_g)) * 100.0
