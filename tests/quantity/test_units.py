"""Conversions, against the published definitions and against pint."""

import os
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.quantity.unit_names import UNITS, dimension, is_misspelt_unit, match_unit, unit_word
from washline.quantity.units import (
    GRAMS,
    MILLILITRES,
    BarUnits,
    bar_units,
    celsius,
    convert,
    convert_with_pint,
    fahrenheit,
    load_units,
)

VOLUMES = sorted(name for name, unit in UNITS.items() if unit.dimension == "volume")
MASSES = sorted(name for name, unit in UNITS.items() if unit.dimension == "mass")


def test_the_us_fluid_ounce_is_that_of_handbook_44() -> None:
    # NIST Handbook 44, appendix C (from memory): a gallon is 231 cubic inches, an inch 2.54 cm, an ounce 1/128 gallon.
    assert convert(1.0, "US fl oz", "ml") == 29.5735295625
    assert convert(1.0, "US fl oz", "ml") == pytest.approx(231 * 2.54**3 / 128, rel=1e-15)


def test_the_imperial_fluid_ounce_is_that_of_the_weights_and_measures_act() -> None:
    # United Kingdom, Weights and Measures Act 1985, schedule 1 (from memory): a gallon is 4.54609 dm³, an ounce 1/160.
    assert convert(1.0, "imp fl oz", "ml") == 28.4130625
    assert convert(1.0, "imp fl oz", "ml") == pytest.approx(4546.09 / 160, rel=1e-15)


def test_a_bar_ounce_is_thirty_millilitres_until_the_house_says_otherwise() -> None:
    # Common practice, no source.
    assert convert(1.5, "oz", "ml") == 45.0
    assert convert(1.5, "oz", "ml", BarUnits(oz_ml=29.5735)) == pytest.approx(44.36025)


@pytest.mark.parametrize(
    "temperature_c, temperature_f",
    # NIST SP 811, appendix B.9 (from memory): t/°F = 1.8 t/°C + 32.
    [
        (0.0, 32.0),
        (100.0, 212.0),
        (-40.0, -40.0),
        (37.0, 98.6),
        (75.0, 167.0),
        (-18.0, -0.4),
        (-273.15, -459.67),
    ],
)
def test_celsius_and_fahrenheit_are_converted_both_ways(temperature_c: float, temperature_f: float) -> None:
    assert fahrenheit(temperature_c) == pytest.approx(temperature_f, abs=1e-9)
    assert celsius(temperature_f) == pytest.approx(temperature_c, abs=1e-9)


@pytest.mark.parametrize("unit", sorted(MILLILITRES))
def test_the_table_of_volumes_agrees_with_pint(unit: str) -> None:
    assert convert(3.7, unit, "ml") == pytest.approx(convert_with_pint(3.7, unit, "ml"), rel=1e-14)
    assert convert(3.7, "ml", unit) == pytest.approx(convert_with_pint(3.7, "ml", unit), rel=1e-14)


@pytest.mark.parametrize("unit", sorted(GRAMS))
def test_the_table_of_masses_agrees_with_pint(unit: str) -> None:
    assert convert(3.7, unit, "g") == pytest.approx(convert_with_pint(3.7, unit, "g"), rel=1e-14)


@pytest.mark.parametrize(
    "unit, seconds", [("s", 1), ("min", 60), ("h", 3600), ("d", 86_400), ("week", 604_800)]
)
def test_times_are_converted_by_pint(unit: str, seconds: float) -> None:
    assert convert(2.0, unit, "s") == pytest.approx(2 * seconds, rel=1e-14)


@given(st.floats(1e-6, 1e6), st.sampled_from(VOLUMES), st.sampled_from(VOLUMES))
def test_volumes_come_back_from_any_unit(value: float, unit: str, to_unit: str) -> None:
    assert convert(convert(value, unit, to_unit), to_unit, unit) == pytest.approx(value, rel=1e-12)


@given(st.floats(1e-6, 1e6), st.sampled_from(MASSES), st.sampled_from(MASSES))
def test_masses_come_back_from_any_unit(value: float, unit: str, to_unit: str) -> None:
    assert convert(convert(value, unit, to_unit), to_unit, unit) == pytest.approx(value, rel=1e-12)


@given(st.floats(-200.0, 500.0))
def test_temperatures_come_back_from_fahrenheit(temperature_c: float) -> None:
    assert celsius(fahrenheit(temperature_c)) == pytest.approx(temperature_c, abs=1e-8)


@pytest.mark.parametrize(
    "unit, to_unit",
    [("ml", "g"), ("g", "dash"), ("piece", "ml"), ("ml", "°C"), ("°C", "s"), ("furlong", "ml"), ("%", "g")],
)
def test_units_that_measure_different_things_are_not_converted(unit: str, to_unit: str) -> None:
    with pytest.raises(ValueError, match=r"cannot be converted|is not a unit"):
        convert(1.0, unit, to_unit)


def test_a_unit_that_is_in_no_table_never_reaches_pint() -> None:
    with pytest.raises(ValueError, match="metre cannot be converted to ml"):
        convert_with_pint(1.0, "metre", "ml")


def test_a_unit_is_itself_without_conversion() -> None:
    assert convert(3.0, "leaf", "leaf") == 3.0


def test_pint_refuses_what_its_definitions_do_not_join() -> None:
    with pytest.raises(ValueError, match="ml cannot be converted to g"):
        convert_with_pint(1.0, "ml", "g")


@pytest.mark.parametrize("unit", VOLUMES)
def test_every_volume_holds_something(unit: str) -> None:
    assert BarUnits().millilitres_per(unit) > 0.0
    with pytest.raises(ValueError, match="is not a unit of mass"):
        BarUnits().grams_per(unit)


@pytest.mark.parametrize("unit", MASSES)
def test_every_mass_weighs_something(unit: str) -> None:
    assert BarUnits().grams_per(unit) > 0.0
    with pytest.raises(ValueError, match="is not a unit of volume"):
        BarUnits().millilitres_per(unit)


def test_a_drop_of_spirit_is_smaller_than_a_drop_of_water() -> None:
    # Common practice, no source: 0.05 ml and 0.03 ml.
    assert BarUnits().millilitres_per("drop") == 0.05
    assert BarUnits().millilitres_per("drop", of_spirit=True) == 0.03


def test_the_house_measures_replace_the_defaults_that_they_name() -> None:
    own = bar_units(29.5735, {"dash": 0.9, "drop-water": 0.04, "barspoon": 2.5, "jigger-us": 44.36})
    assert (own.oz_ml, own.dash_ml, own.drop_ml, own.barspoon_ml) == (29.5735, 0.9, 0.04, 2.5)
    assert own.splash_ml == BarUnits().splash_ml


@pytest.mark.parametrize(
    "unit, kind",
    [
        ("ml", "volume"),
        ("dash", "volume"),
        ("pinch", "mass"),
        ("leaf", "count"),
        ("%", "ratio"),
        ("parts", "ratio"),
    ],
)
def test_a_unit_says_what_it_measures(unit: str, kind: str) -> None:
    assert dimension(unit) == kind


@pytest.mark.parametrize(
    "unit, number, word",
    [
        ("dash", 1.0, "dash"),
        ("dash", 2.0, "dashes"),
        ("dash", 0.5, "dash"),
        ("dash", 0.0, "dashes"),
        ("leaf", 3.0, "leaves"),
        ("die", 2.0, "dice"),
        ("parts", 1.0, "part"),
        ("parts", 0.5, "parts"),
        ("ml", 45.0, "ml"),
    ],
)
def test_a_unit_is_written_for_one_and_for_several(unit: str, number: float, word: str) -> None:
    assert unit_word(unit, number) == word


def test_a_unit_ends_where_a_word_ends() -> None:
    assert match_unit("gin") is None
    assert match_unit("ml2") is None
    assert match_unit("g gin") == (UNITS["g"], " gin")
    assert match_unit("%gin") == (UNITS["%"], "gin")


@pytest.mark.parametrize(
    "word, is_wrong",
    [("mll", True), ("ozz", True), ("cups", True), ("gin", False), ("ml", False), ("egg", False)],
)
def test_a_letter_struck_twice_is_told_from_a_name(word: str, is_wrong: bool) -> None:
    assert is_misspelt_unit(word) is is_wrong


def test_reading_and_writing_amounts_does_not_load_pint() -> None:
    code = (
        "import sys\n"
        "from washline.quantity import amount_text, formatting, line_text, names, rounding, step_text, units\n"
        "amount_text.parse_amount('1½ oz'); units.convert(1.0, 'oz', 'ml'); step_text.parse_temperature('4 °C')\n"
        "assert 'pint' not in sys.modules and 'numpy' not in sys.modules\n"
        "units.load_units()\n"
        "assert 'pint' in sys.modules\n"
    )
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    subprocess.run([sys.executable, "-X", "utf8", "-c", code], check=True, env=environment)


def test_loading_the_units_ahead_changes_nothing() -> None:
    before = fahrenheit(20.0)
    load_units()
    assert fahrenheit(20.0) == before == 68.0
