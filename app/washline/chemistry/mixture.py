"""Volume, density and strength of any liquid: masses are the state, volume is derived, contraction included."""

import numpy as np

from washline.chemistry.arrays import Floats, ratio
from washline.chemistry.components import COMPONENT_COUNT, ETHANOL, WATER
from washline.chemistry.ethanol_water import ethanol_density_kg_per_m3
from washline.chemistry.solutes import component_table, sums_of, volume_of

# Each pass multiplies the error by 1 less the partial volume of water (0.93 to 1.0 mL/g in drinks, 0.78 in pure ethanol).
_LABEL_PASSES = 24
# A label of 100 % vol would need 0.001 g less than no water, since the formula gives pure ethanol 99.99989 % vol.
_LABEL_SLACK_G = 2e-3


def volume_ml(masses_g: Floats, temperature_c: Floats | float = 20.0) -> Floats:
    """Volume of a liquid, with the contraction of ethanol and water; dissolved CO2 takes up nothing (degassed).

    Arguments:
        masses_g: g of each component, array (24, n)
        temperature_c: degC, float or array (n,)
    Returns: mL, array (n,); 0 for nothing
    Valid: -20 to 40 degC, solutes to the end of their tables (sugars 85 %, NaCl 26 %), no entrained air
    Error: 0.05 % without ethanol, 0.1 % to 28 % vol, 0.3 % for strong sweet liqueurs, 0.2 % for juices
    Source: OIML R 22 for ethanol and water plus apparent specific volumes fitted to CRC 102nd ed. and ICUMSA SPS-4

    >>> masses = np.zeros((24, 1)); masses[[0, 1, 2, 9], 0] = [582.30, 197.31, 300.0, 5.0]
    >>> round(volume_ml(masses).item(), 1)
    1000.0
    """
    return volume_of(sums_of(component_table(), masses_g), temperature_c)


def density_g_per_ml(masses_g: Floats, temperature_c: Floats | float = 20.0) -> Floats:
    """Density of a liquid, without its dissolved CO2, as a density meter asks for it.

    Arguments:
        masses_g: g of each component, array (24, n)
        temperature_c: degC, float or array (n,)
    Returns: g/mL, array (n,); NaN for nothing
    Valid: -20 to 40 degC, solutes to the end of their tables
    Error: as the volume: 0.05 to 0.3 %
    Source: OIML R 22 and apparent specific volumes, as ``volume_ml``

    >>> masses = np.zeros((24, 1)); masses[[0, 1, 2, 9], 0] = [582.30, 197.31, 300.0, 5.0]
    >>> round(density_g_per_ml(masses).item(), 4)
    1.0846
    """
    sums = sums_of(component_table(), masses_g)
    return ratio(sums.total_g, volume_of(sums, temperature_c))


def strength_pct_vol(masses_g: Floats) -> Floats:
    """Strength by volume at 20 degC of any liquid.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: % vol at 20 degC, array (n,); NaN for nothing
    Valid: solutes to the end of their tables
    Error: 0.011 % vol for ethanol and water; the error of the volume (0.05 to 0.3 % of the value) with solutes
    Source: OIML R 22 (1975), definition of strength by volume, on the volume of ``volume_ml``

    >>> masses = np.zeros((24, 1)); masses[[0, 1], 0] = [66.70, 33.30]
    >>> round(strength_pct_vol(masses).item(), 2)
    40.0
    """
    return ratio(masses_g[ETHANOL] * (1e5 / ethanol_density_kg_per_m3()), volume_ml(masses_g))


def composition_from_label(strength_pct_vol: Floats | float, solutes_g_per_l: Floats) -> Floats:
    """The masses in one litre (20 degC) of what a label states: strength and g/L of everything but water and ethanol.

    Arguments:
        strength_pct_vol: % vol at 20 degC, float or array (n,)
        solutes_g_per_l: g/L of each component, array (24, n); its rows of water and ethanol are not read
    Returns: g per litre of each component, array (24, n); NaN where no water makes it a litre
    Valid: 0 to 100 % vol, solutes to the end of their tables
    Error: as the volume: 0.05 to 0.3 % of the total
    Source: OIML R 22 and apparent specific volumes, as ``volume_ml``; water solved so that the volume is 1000 mL

    >>> solutes = np.zeros((24, 1)); solutes[[2, 9], 0] = [300.0, 5.0]
    >>> composition_from_label(25.0, solutes)[:2, 0].round(2).tolist()
    [582.3, 197.31]
    """
    masses_g = solutes_g_per_l.astype(np.float64)
    masses_g[ETHANOL] = strength_pct_vol * (ethanol_density_kg_per_m3() * 0.01)
    masses_g[WATER] = 0.0
    for _ in range(_LABEL_PASSES):
        masses_g[WATER] += 1000.0 - volume_ml(masses_g)
    possible = (masses_g[WATER] >= -_LABEL_SLACK_G) & (masses_g[ETHANOL] >= 0.0)
    masses_g[WATER] = np.maximum(masses_g[WATER], 0.0)
    return np.where(possible, masses_g, np.full((COMPONENT_COUNT, 1), np.nan))


def degassed_g(masses_g: Floats) -> Floats:
    """Mass of a liquid without its dissolved CO2: the mass that belongs to ``volume_ml``.

    Arguments:
        masses_g: g of each component, array (24, n)
    Returns: g, array (n,)
    Valid: everywhere
    Error: none, a sum
    Source: conservation of mass

    >>> masses = np.zeros((24, 1)); masses[[0, 23], 0] = [995.0, 7.0]
    >>> degassed_g(masses).item()
    995.0
    """
    return sums_of(component_table(), masses_g).total_g
