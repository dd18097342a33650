"""Gauging of spirits by US proof at 60 degF: the water in a spirit, and the water that brings it down to a proof."""

from functools import cache

import numpy as np

from washline.chemistry.arrays import Number, bisect_rising, by_column, choose
from washline.chemistry.ethanol_water import density_kg_per_m3

GAUGE_TEMPERATURE_C = 140.0 / 9.0
"""60 degF, where US proof is defined."""

LOWEST_PROOF, HIGHEST_PROOF = 1e-6, 200.0
"""Between them lies what a spirit can be reduced to; less is water."""

# The formula gives pure ethanol a trace more or less than 200 proof.
_PROOF_SLACK = 1e-3


@cache
def _ethanol_density() -> float:
    return density_kg_per_m3(1.0, GAUGE_TEMPERATURE_C)


@cache
def _water_density() -> float:
    return density_kg_per_m3(0.0, GAUGE_TEMPERATURE_C)


def proof_from_mass_fraction(mass_fraction: Number) -> Number:
    """US proof of an ethanol-water mixture: twice its percent by volume at 60 degF.

    Arguments:
        mass_fraction: g ethanol per g of mixture (1), 0 to 1, float or array (n,)
    Returns: proof (1), float or array (n,)
    Valid: spirits without dissolved solids
    Error: 0.02 proof against 27 CFR 30.66
    Source: 27 CFR 30.11 (definition of proof), density of OIML R 22 (1975) at 60 degF

    >>> round(proof_from_mass_fraction(0.4248), 1)
    100.0
    """
    density = density_kg_per_m3(mass_fraction, GAUGE_TEMPERATURE_C)
    return mass_fraction * density * (HIGHEST_PROOF / _ethanol_density())


def mass_fraction_from_proof(proof: Number) -> Number:
    """Mass fraction of ethanol in a spirit of a given US proof.

    Arguments:
        proof: US proof (1), 0 to 200, float or array (n,)
    Returns: g ethanol per g of spirit, float or array (n,); NaN outside 0 to 200 proof
    Valid: spirits without dissolved solids
    Error: 0.00005 against 27 CFR 30.64
    Source: ``proof_from_mass_fraction`` inverted by bisection with a fixed count

    >>> round(1.0 / mass_fraction_from_proof(190.0), 3)
    1.082
    """
    if isinstance(proof, np.ndarray):
        return by_column(_mass_fraction, proof)
    return _mass_fraction(proof)


def _mass_fraction(proof: Number) -> Number:
    return bisect_rising(proof_from_mass_fraction, proof, 0.0, 1.0, slack=_PROOF_SLACK)


def water_parts_per_100(proof: Number) -> Number:
    """Volumes of water in 100 volumes of a spirit, measured alone at 60 degF; with the ethanol they make more than 100.

    Arguments:
        proof: US proof (1), 0 to 200, float or array (n,)
    Returns: mL water per 100 mL of spirit, float or array (n,); NaN outside 0 to 200 proof
    Valid: spirits without dissolved solids
    Error: 0.007 against 27 CFR 30.66, 100 to 191 proof
    Source: OIML R 22 (1975) at 60 degF; table 6 of 27 CFR 30.66

    >>> round(water_parts_per_100(100.0), 1)
    53.7
    """
    fraction = mass_fraction_from_proof(proof)
    water = (1.0 - fraction) * density_kg_per_m3(fraction, GAUGE_TEMPERATURE_C)
    return water * (100.0 / _water_density())


def water_to_reduce_by_volume(from_proof: Number, to_proof: Number) -> Number:
    """Water that brings 100 volumes of a spirit down to a lower proof, with its contraction.

    Arguments:
        from_proof: US proof of the spirit (1), float or array (n,)
        to_proof: US proof that is wanted (1), 1e-6 or more, float or array (n,)
    Returns: mL water per 100 mL of spirit at 60 degF, float or array (n,); NaN if it is weaker already
    Valid: spirits without dissolved solids
    Error: 0.02 against the worked examples of 27 CFR 30.66, unrounded
    Source: 27 CFR 30.66: ratio of the proofs times the water in the lower, less the water in the higher

    >>> round(water_to_reduce_by_volume(112.0, 100.0), 1)
    12.4
    """
    lower = choose(to_proof >= LOWEST_PROOF, to_proof, float("nan"))
    water = from_proof / lower * water_parts_per_100(to_proof) - water_parts_per_100(from_proof)
    reduced: Number = choose(from_proof >= to_proof, water, float("nan"))
    return reduced


def water_to_reduce_by_mass(mass: Number, from_proof: Number, to_proof: Number) -> Number:
    """Water that brings a mass of a spirit down to a lower proof; by mass nothing contracts.

    Arguments:
        mass: mass of the spirit, g or any other unit, float or array (n,)
        from_proof: US proof of the spirit (1), float or array (n,)
        to_proof: US proof that is wanted (1), 1e-6 or more, float or array (n,)
    Returns: mass of water, g or the unit of ``mass``, float or array (n,); NaN if the spirit is weaker already
    Valid: spirits without dissolved solids
    Error: 0.1 for each 1000 against the worked example of 27 CFR 30.64
    Source: 27 CFR 30.64: the ethanol stays, so the mass grows as its fraction falls

    >>> round(water_to_reduce_by_mass(1000.0, 200.0, 190.0))
    82
    """
    lower = mass_fraction_from_proof(choose(to_proof >= LOWEST_PROOF, to_proof, float("nan")))
    more = mass_fraction_from_proof(from_proof) / lower - 1.0
    reduced: Number = choose(from_proof >= to_proof, mass * more, float("nan"))
    return reduced
