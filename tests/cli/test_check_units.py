"""Units of check files: what may be written, and what each is worth."""

import pytest

from washline.cli import check_units
from washline.cli.check_evaluators import EVALUATORS
from washline.cli.check_units import Dimension, plain_unit


@pytest.mark.parametrize(
    "written, plain",
    [
        ("kg/m³", "kg/m3"),
        ("kg/m^3", "kg/m3"),
        ("% vol", "%vol"),
        ("J/(g·K)", "j/gk"),
        ("J/(g*K)", "j/gk"),
        ("°Bx", "bx"),
        ("degBx", "bx"),
        (" g / L ", "g/l"),
    ],
)
def test_a_unit_may_be_written_in_several_ways(written, plain):
    assert plain_unit(written) == plain


@pytest.mark.parametrize(
    "dimension, unit, factor",
    [
        (check_units.DENSITY, "kg/m3", 1.0),
        (check_units.DENSITY, "g/mL", 1000.0),
        (check_units.DENSITY, "g/L", 1.0),
        (check_units.MASS_FRACTION, "1", 1.0),
        (check_units.MASS_FRACTION, "", 1.0),
        (check_units.MASS_FRACTION, "% mass", 0.01),
        (check_units.BRIX, "%mass", 1.0),
        (check_units.BRIX, "°Bx", 1.0),
        (check_units.BRIX, "%", 1.0),
        (check_units.STRENGTH, "%vol", 1.0),
        (check_units.CONCENTRATION, "g/100 mL", 10.0),
        (check_units.REFRACTIVE_INDEX, "nD20", 1.0),
        (check_units.HEAT_CAPACITY, "kJ/(kg K)", 1.0),
        (check_units.HEAT_CAPACITY, "J/kgK", 0.001),
        (check_units.HEAT_CAPACITY, "cal/gK", 4.184),
        (check_units.VOLUME_RATIO, "vol/vol", 1.0),
        (check_units.VOLUME_RATIO, "mL/100 mL", 0.01),
        (check_units.VOLUME, "cL", 10.0),
        (check_units.MASS, "mg", 0.001),
        (check_units.KILOJOULE, "J", 0.001),
        (check_units.UNITS_OF_ALCOHOL, "standard drinks", 1.0),
        (check_units.PH, "pH", 1.0),
        (check_units.PH, "1", 1.0),
        (check_units.WATER_ACTIVITY, "a_w", 1.0),
        (check_units.WATER_ACTIVITY, "%", 0.01),
        (check_units.TEMPERATURE, "°C", 1.0),
        (check_units.TEMPERATURE, "deg C", 1.0),
        (check_units.PERCENT_KEPT, "%", 1.0),
        (check_units.PERCENT_KEPT, "1", 100.0),
        (check_units.PARTS_OF_A_HUNDRED, "vol/100 vol", 1.0),
        (check_units.PARTS_OF_A_HUNDRED, "gallons per 100 gallons", 1.0),
        (check_units.PARTS_OF_A_HUNDRED, "gal/100 gal", 1.0),
        (check_units.PARTS_OF_A_HUNDRED, "volumes", 1.0),
        (check_units.PARTS_OF_A_HUNDRED, "vol/vol", 100.0),
        (check_units.GAUGED_MASS, "lb", 1.0),
        (check_units.GAUGED_MASS, "pounds", 1.0),
        (check_units.MELT_PER_VOLUME, "g per 100 mL", 1.0),
        (check_units.MELT_PER_VOLUME, "g/mL", 100.0),
        (check_units.TEMPERATURE_RISE, "K", 1.0),
        (check_units.MOLE_FRACTION_IN_THOUSANDTHS, "1000x", 1.0),
        (check_units.MOLE_FRACTION_IN_THOUSANDTHS, "mol/mol", 1000.0),
        (check_units.GAS_VOLUMES, "vol/vol", 1.0),
        (check_units.GAUGE_PRESSURE, "psig", 1.0),
        (check_units.GAUGE_PRESSURE, "barg", 14.5037738),
        (check_units.ABSOLUTE_PRESSURE, "bar", 100.0),
        (check_units.ABSOLUTE_PRESSURE, "psi", 6.8947573),
        (check_units.SOLUBILITY_BY_PRESSURE, "g/L/bar", 1.0),
        (check_units.SOLUBILITY_BY_PRESSURE, "g/L/atm", 0.98692327),
    ],
)
def test_a_unit_is_worth_its_factor(dimension, unit, factor):
    assert dimension.factor(unit) == pytest.approx(factor)


@pytest.mark.parametrize(
    "dimension, unit",
    [
        (check_units.DENSITY, "lb/gal"),
        (check_units.STRENGTH, "proof"),
        (check_units.KILOJOULE, "kcal"),
        (check_units.KILOCALORIE, "kJ"),
        (check_units.MASS, ""),
        (check_units.CONCENTRATION, "mol/L"),
        (check_units.TEMPERATURE, "°F"),
        (check_units.PH, "mol/L"),
        (check_units.GAUGED_MASS, "gal"),
        (check_units.GAUGE_PRESSURE, "kPa"),
        (check_units.ABSOLUTE_PRESSURE, "psig"),
        (check_units.PARTS_OF_A_HUNDRED, "lb"),
    ],
)
def test_a_unit_of_another_kind_is_none(dimension, unit):
    assert dimension.factor(unit) is None


@pytest.mark.parametrize("name", EVALUATORS)
def test_an_evaluator_gives_the_first_unit_of_its_dimension(name):
    assert next(iter(EVALUATORS[name].dimension.factors.values())) == 1.0


def test_every_unit_is_stored_as_it_is_looked_up():
    dimensions = [member for member in vars(check_units).values() if isinstance(member, Dimension)]
    assert len(dimensions) > 10
    for dimension in dimensions:
        assert [unit for unit in dimension.factors if plain_unit(unit) != unit] == []
