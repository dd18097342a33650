"""Evaluators of what ice and mixing do to temperature: the balance of heat, and the heat of mixing."""

from collections.abc import Callable, Mapping

import numpy as np

from washline.chemistry import chilling, heat, mixture
from washline.chemistry.arrays import Floats
from washline.chemistry.components import COMPONENT_COUNT
from washline.cli import check_units
from washline.cli.check_found import Evaluator, Found, found_at, found_in
from washline.cli.check_inputs import ABSOLUTE_ZERO_C, InputError, Inputs


def _chilled(inputs: Inputs, read: Callable[[chilling.Chilled, float], Floats]) -> Found:
    """``ml`` of a liquid at ``t0`` on ``ice`` g at ``t_ice`` with ``wet`` g of water, in a vessel of ``vessel`` J/K."""
    volume_ml, start_c = inputs.number("ml", 100.0, lowest=1e-6), inputs.number("t0", lowest=ABSOLUTE_ZERO_C)
    ice = {
        "ice_g": inputs.number("ice", lowest=0.0),
        "ice_c": inputs.number("t_ice", 0.0, lowest=-40.0, highest=0.0),
        "surface_water_g": inputs.number("wet", 0.0, lowest=0.0),
        "vessel_j_per_k": inputs.number("vessel", 0.0, lowest=0.0),
        "vessel_c": inputs.number("t_vessel", 20.0, lowest=ABSOLUTE_ZERO_C),
        "outside_j": inputs.number("outside", 0.0),
        "approach": inputs.number("approach", 1.0, lowest=0.0, highest=1.0),
        "core": inputs.number("eps", 1.0, lowest=0.0, highest=1.0),
    }
    liquid = inputs.liquid()
    masses_g = liquid.component_masses_g() * (volume_ml / liquid.volume_ml(20.0))
    found = chilling.chill(masses_g, start_c, **ice)
    return found_in(
        float(read(found, volume_ml)[0]),
        liquid,
        chilled_c=float(found.end_c[0]),
        chilled_from_c=start_c,
        chilled_from_pct_vol=liquid.strength_pct_vol(),
        cold_left_j=float(found.cold_left_j[0]),
    )


def _melt(inputs: Inputs) -> Found:
    return _chilled(inputs, lambda found, volume_ml: found.melted_g * (100.0 / volume_ml))


def _end_temperature(inputs: Inputs) -> Found:
    return _chilled(inputs, lambda found, _: found.end_c)


def _spirit_g(inputs: Inputs, strength_name: str, volume_name: str) -> Floats:
    strength = inputs.number(strength_name, 0.0, lowest=0.0, highest=100.0)
    volume_ml = inputs.number(volume_name, lowest=0.0)
    litre_g = mixture.composition_from_label(strength, np.zeros((COMPONENT_COUNT, 1)))
    return litre_g * (volume_ml * 0.001)


def _mixing_rise(inputs: Inputs) -> Found:
    """``ml1`` of a spirit of ``abv1`` with ``ml2`` of one of ``abv2`` (water), both at ``t0``: no heat leaves."""
    start_c = inputs.number("t0", lowest=ABSOLUTE_ZERO_C)
    first, second = _spirit_g(inputs, "abv1", "ml1"), _spirit_g(inputs, "abv2", "ml2")
    mixed = first + second
    if not mixed.any():
        raise InputError("there is nothing to mix")
    both_j = heat.enthalpy_j(first, start_c) + heat.enthalpy_j(second, start_c)
    end_c = heat.temperature_from_enthalpy(mixed, both_j)
    return found_at(float(end_c[0]) - start_c)


EVALUATORS: Mapping[str, Evaluator] = {
    "chill_melt": Evaluator(_melt, check_units.MELT_PER_VOLUME, "chilling"),
    "chill_end_temperature": Evaluator(_end_temperature, check_units.TEMPERATURE, "chilling"),
    "mix_temperature_rise": Evaluator(_mixing_rise, check_units.TEMPERATURE_RISE, "mixing_heat"),
}
