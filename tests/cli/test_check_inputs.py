"""Inputs of a check row: numbers, words, and the liquid that component inputs describe."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.chemistry.coefficients import value
from washline.chemistry.components import (
    CITRIC,
    COMPONENTS,
    ETHANOL,
    NACL,
    OTHER_ACID,
    POLYOL,
    SUCROSE,
    WATER,
)
from washline.chemistry.mixture import density_g_per_ml
from washline.cli.check_inputs import InputError, Inputs, component_names, finite_number


def liquid_of(**texts):
    return Inputs(texts).liquid()


def density_of(**texts):
    liquid = liquid_of(**texts)
    return liquid.total_g() / liquid.volume_ml(20.0)


def test_a_number_is_read_with_its_default():
    inputs = Inputs({"abv": "40.5"})
    assert inputs.number("abv") == 40.5
    assert inputs.number("T", 20.0) == 20.0
    assert inputs.temperature_c() == 20.0


@pytest.mark.parametrize("text", ["forty", "", "nan", "inf", "-inf", "1e999", "4,5"])
def test_what_is_no_finite_number_is_refused(text):
    with pytest.raises(InputError, match="'abv'"):
        finite_number(text, "input 'abv'")


@pytest.mark.parametrize("number", ["-0.1", "100.1"])
def test_a_number_beyond_its_bounds_is_refused(number):
    with pytest.raises(InputError, match="not between 0 and 100"):
        Inputs({"abv": number}).number("abv", lowest=0.0, highest=100.0)


def test_a_missing_input_is_named():
    with pytest.raises(InputError, match="'how' is missing"):
        Inputs({}).text("how")
    with pytest.raises(InputError, match="'abv' is missing"):
        Inputs({}).number("abv")


def test_colder_than_absolute_zero_is_refused():
    with pytest.raises(InputError, match=r"-273\.15"):
        Inputs({"T": "-274"}).temperature_c()


def test_an_unused_input_is_refused():
    inputs = Inputs({"abv": "40", "colour": "red"})
    inputs.number("abv")
    with pytest.raises(InputError, match="colour"):
        inputs.refuse_unused()


def test_mass_fractions_leave_the_rest_to_water():
    masses = liquid_of(w_sucrose="0.5", w_ethanol="0.1").component_masses_g()[:, 0]
    assert masses[[WATER, ETHANOL, SUCROSE]].tolist() == pytest.approx([400.0, 100.0, 500.0])


def test_water_may_be_given_if_it_is_the_rest():
    liquid = liquid_of(w_sucrose="0.25", w_water="0.75")
    assert liquid.share_of("water") == pytest.approx(0.75)


def test_a_liquid_by_the_litre_is_a_litre():
    liquid = liquid_of(abv="12", gl_fructose="4", gl_tartaric="6", gl_glycerol="7", gl_minerals="2.5")
    assert liquid.volume_ml(20.0) == pytest.approx(1000.0, abs=1e-6)
    assert liquid.grams_by_name()["ethanol"] == pytest.approx(94.709, abs=0.001)


def test_moles_become_grams_by_the_molar_mass():
    assert liquid_of(c_citric="0.1").component_masses_g()[CITRIC, 0] == pytest.approx(19.2124)
    assert liquid_of(c_ethanol="1").component_masses_g()[ETHANOL, 0] == pytest.approx(46.068)
    assert liquid_of(c_polyol="0.1").component_masses_g()[POLYOL, 0] == pytest.approx(9.2094)


def test_carbonic_acid_is_another_name_of_carbon_dioxide():
    masses = liquid_of(c_carbonic="0.1", gl_co2="1").component_masses_g()
    assert masses[COMPONENTS.index("co2"), 0] == pytest.approx(5.401)


def test_what_stands_beside_a_liquid_is_no_part_of_it():
    inputs = Inputs({"c_formic": "0.1", "c_citric": "0.1"})
    assert inputs.liquid(beside=("c_formic",)).component_masses_g()[CITRIC, 0] == pytest.approx(19.2124)
    with pytest.raises(InputError, match="'c_formic' names no component"):
        Inputs({"c_formic": "0.1"}).liquid()


def test_the_strength_of_a_liquid_is_that_of_its_label():
    assert liquid_of(abv="18", gl_sucrose="150").strength_pct_vol() == pytest.approx(18.0)


def test_water_alone_is_water():
    assert density_of() == pytest.approx(0.99820, abs=1e-5)
    assert density_of(abv="0") == pytest.approx(0.99820, abs=1e-5)


def test_pure_ethanol_is_a_litre_without_water():
    assert density_of(abv="100") == pytest.approx(0.78924, abs=1e-5)


def test_carbon_dioxide_is_left_out_of_density():
    assert density_of(gl_sucrose="100", gl_co2="8") == pytest.approx(density_of(gl_sucrose="100"), abs=1e-12)


@given(st.floats(0.0, 300.0), st.floats(0.0, 40.0), st.floats(0.0, 30.0))
def test_a_liquid_is_the_same_by_mass_by_litre_and_by_mole(sugar, acid, strength):
    by_litre = liquid_of(abv=repr(strength), gl_sucrose=repr(sugar), gl_citric=repr(acid))
    total = by_litre.total_g()
    by_mass = density_of(
        w_ethanol=repr(by_litre.share_of("ethanol")),
        w_sucrose=repr(sugar / total),
        w_citric=repr(acid / total),
    )
    mixed = density_of(
        abv=repr(strength),
        w_sucrose=repr(sugar / total),
        c_citric=repr(acid / value("molar_mass", "citric")),
    )
    assert by_litre.volume_ml(20.0) == pytest.approx(1000.0, abs=1e-6)
    assert by_mass == pytest.approx(total / 1000.0, abs=1e-8)
    assert mixed == pytest.approx(total / 1000.0, abs=1e-8)


def test_amounts_of_one_component_add_up():
    together = density_of(gl_citric="5", c_citric=repr(5 / value("molar_mass", "citric")), w_sucrose="0.1")
    assert together == pytest.approx(density_of(gl_citric="10", w_sucrose="0.1"), abs=1e-12)


def test_a_liquid_of_components_is_the_liquid_of_the_mixing_model():
    liquid = liquid_of(abv="18", gl_glucose="40", gl_nacl="2", w_malic="0.004", w_fat="0.01")
    density = density_g_per_ml(liquid.component_masses_g(), 7.0).item()
    assert liquid.total_g() / liquid.volume_ml(7.0) == pytest.approx(density, rel=1e-12)


@pytest.mark.parametrize("name", COMPONENTS[1:])
def test_every_component_may_be_given_by_mass(name):
    masses = liquid_of(**{f"w_{name}": "0.01"}).component_masses_g()[:, 0]
    assert masses[COMPONENTS.index(name)] == pytest.approx(10.0)


def test_salts_and_relatives_that_are_no_component_count_as_their_nearest():
    masses = liquid_of(w_kcl="0.1", w_mannitol="0.05", w_succinic="0.01").component_masses_g()
    assert np.flatnonzero(masses[:, 0]).tolist() == [WATER, POLYOL, OTHER_ACID, NACL]


@pytest.mark.parametrize("name", ["kcl", "mannitol", "k2co3"])
def test_a_relative_is_no_stand_in_for_refraction(name):
    with pytest.raises(InputError, match="refraction"):
        liquid_of(**{f"w_{name}": "0.1"}).component_masses_g(is_refracting=True)


def test_every_solute_of_the_tables_has_a_name():
    assert {
        "kcl",
        "nahco3",
        "pectin",
        "minerals",
        "mannitol",
        "ethanol",
        "co2",
        "polyol",
    } <= component_names()
