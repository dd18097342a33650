"""Evaluators of dissolved CO2: solubility in water and in drinks, and the pressure that keeps a level."""

from collections.abc import Mapping

from washline.chemistry import carbonation, water
from washline.chemistry.coefficients import value
from washline.cli import check_units
from washline.cli.check_found import Evaluator, Found, found_at
from washline.cli.check_inputs import Inputs

_KPA_PER_PSI = 6.894757293
_KPA_PER_BAR = 100.0


def _temperature_c(inputs: Inputs) -> float:
    return inputs.number("T", lowest=-30.0, highest=100.0)


def _drink(inputs: Inputs) -> tuple[float, float]:
    """Strength in % vol (``abv``) and sugars in g/L (``sugar``); none where they are not given."""
    return inputs.number("abv", 0.0, lowest=0.0, highest=100.0), inputs.number("sugar", 0.0, lowest=0.0)


def _mole_fraction(inputs: Inputs) -> Found:
    """Of CO2 in water under ``p_co2`` kPa of it, times 1000."""
    temperature_c, co2_kpa = _temperature_c(inputs), inputs.number("p_co2", lowest=0.0)
    co2_mol = carbonation.co2_g_per_l_under(temperature_c, co2_kpa) / value("molar_mass", "co2")
    water_mol = water.density_kg_per_m3(temperature_c) / value("molar_mass", "water")
    found = co2_mol / (co2_mol + water_mol) * 1000.0
    return found_at(found, co2_temperature_c=temperature_c, co2_kpa=co2_kpa)


def _bunsen(inputs: Inputs) -> Found:
    """Volumes of gas (0 degC, 1 atm) in a volume of water for each atm of CO2."""
    temperature_c = _temperature_c(inputs)
    found = carbonation.volumes_from_g_per_l(carbonation.co2_solubility_g_per_l_atm(temperature_c))
    return found_at(found, co2_temperature_c=temperature_c)


def _henry(inputs: Inputs) -> Found:
    temperature_c, (strength, sugars) = _temperature_c(inputs), _drink(inputs)
    per_atm = carbonation.co2_solubility_g_per_l_atm(temperature_c, strength, sugars)
    found = per_atm * (_KPA_PER_BAR / carbonation.KPA_PER_ATM)
    return found_at(found, co2_temperature_c=temperature_c, co2_pct_vol=strength)


def _dissolved(inputs: Inputs) -> Found:
    """g/L under an absolute pressure of ``p`` kPa."""
    temperature_c, absolute_kpa = _temperature_c(inputs), inputs.number("p", lowest=0.0)
    strength, sugars = _drink(inputs)
    found = carbonation.co2_g_per_l(temperature_c, absolute_kpa, strength, sugars)
    return found_at(found, co2_temperature_c=temperature_c, co2_pct_vol=strength, co2_kpa=absolute_kpa)


def _absolute_kpa(inputs: Inputs, co2_g_per_l: float) -> Found:
    temperature_c, (strength, sugars) = _temperature_c(inputs), _drink(inputs)
    found = carbonation.absolute_kpa_for(temperature_c, co2_g_per_l, strength, sugars)
    return found_at(found, co2_temperature_c=temperature_c, co2_pct_vol=strength, co2_kpa=found)


def _pressure(inputs: Inputs) -> Found:
    """Absolute pressure for a level of ``gl`` g/L."""
    return _absolute_kpa(inputs, inputs.number("gl", lowest=0.0))


def _gauge_pressure(inputs: Inputs) -> Found:
    """Pressure above that of the air, psi, for a level of ``vol`` volumes."""
    found = _absolute_kpa(inputs, carbonation.g_per_l_from_volumes(inputs.number("vol", lowest=0.0)))
    return Found((found.value - carbonation.KPA_PER_ATM) / _KPA_PER_PSI, found.conditions)


EVALUATORS: Mapping[str, Evaluator] = {
    "co2_x1000": Evaluator(_mole_fraction, check_units.MOLE_FRACTION_IN_THOUSANDTHS, "carbonation"),
    "co2_bunsen": Evaluator(_bunsen, check_units.GAS_VOLUMES, "carbonation"),
    "co2_kh": Evaluator(_henry, check_units.SOLUBILITY_BY_PRESSURE, "carbonation"),
    "co2_g_per_l": Evaluator(_dissolved, check_units.CONCENTRATION, "carbonation"),
    "co2_pressure": Evaluator(_pressure, check_units.ABSOLUTE_PRESSURE, "carbonation"),
    "co2_pressure_psig": Evaluator(_gauge_pressure, check_units.GAUGE_PRESSURE, "carbonation"),
}
