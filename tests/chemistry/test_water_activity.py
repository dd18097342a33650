"""Water activity against published solutions and thresholds."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.chemistry.liquids import liquid
from washline.chemistry.components import COMPONENT_COUNT
from washline.chemistry.mixture import composition_from_label
from washline.chemistry.water_activity import water_activity, water_activity_of_solutes


def activity(**grams):
    return water_activity(liquid(**grams)).item()


def molal(solute, molality):
    return water_activity_of_solutes((solute,), np.array([[molality]])).item()


@pytest.mark.parametrize("percent, published", [(26.1, 0.98), (39.7, 0.96), (58.5, 0.90), (65.6, 0.86)])
def test_sucrose_syrups_have_their_published_activity(percent, published):
    # ICMSF 1980 / Chirife, 25 degC, from memory.
    assert activity(water=100.0 - percent, sucrose=percent) == pytest.approx(published, abs=0.008)


@pytest.mark.parametrize("percent, published", [(50, 0.935), (60, 0.895), (67, 0.851)])
def test_bar_syrups_have_the_activity_of_the_reference(percent, published):
    # Physical reference, section i.
    assert activity(water=100.0 - percent, sucrose=percent) == pytest.approx(published, abs=0.001)


@pytest.mark.parametrize("percent, published", [(60, 0.847), (70, 0.764)])
def test_invert_syrups_have_the_activity_of_the_reference(percent, published):
    # Physical reference, section i: half glucose, half fructose.
    half = percent / 2.0
    assert activity(water=100.0 - percent, glucose=half, fructose=half) == pytest.approx(published, abs=0.001)


@pytest.mark.parametrize(
    "molality, osmotic",
    [(0.1, 0.9324), (0.5, 0.9209), (1.0, 0.9355), (2.0, 0.9833), (3.0, 1.0453), (4.0, 1.1158), (6.0, 1.2706)],
)
def test_salt_follows_its_osmotic_coefficients(molality, osmotic):
    # Robinson and Stokes 1965, osmotic coefficients of NaCl at 25 degC, from memory.
    expected = np.exp(-0.0360306 * molality * osmotic)
    assert molal("nacl", molality) == pytest.approx(expected, abs=0.002)


@pytest.mark.parametrize("molality, published", [(0.5, 0.9907), (2.0, 0.9581), (4.0, 0.9057), (6.0, 0.8493)])
def test_sucrose_follows_its_osmotic_coefficients(molality, published):
    # Robinson and Stokes 1965, from memory.
    assert molal("sucrose", molality) == pytest.approx(published, abs=0.006)


def test_more_salt_than_dissolves_changes_nothing():
    # Saturated NaCl at 25 degC: 0.753 (Greenspan 1977, from memory).
    saturated = activity(water=100.0, nacl=36.5)
    assert saturated == pytest.approx(0.753, abs=0.005)
    assert activity(water=100.0, nacl=80.0) == saturated


def test_a_spirit_of_forty_percent_has_about_087():
    # Physical reference, section i.
    assert water_activity(composition_from_label(40.0, liquid())).item() == pytest.approx(0.87, abs=0.006)


def test_solutes_multiply():
    # Ross 1975.
    together = activity(water=100.0, sucrose=50.0, glucose=20.0)
    apart = activity(water=100.0, sucrose=50.0) * activity(water=100.0, glucose=20.0)
    assert together == pytest.approx(apart, rel=1e-12)


def test_acids_without_a_constant_are_ideal():
    # Raoult: 60.052 g of acetic acid in 1000 g of water leave 55.51 parts of 56.51.
    assert activity(water=1000.0, acetic=60.052) == pytest.approx(55.51 / 56.51, rel=1e-9)


def test_water_alone_has_one_and_no_water_has_none():
    assert activity(water=10.0) == 1.0
    assert activity(water=10.0, fat=2.0, protein=1.0, co2=0.1) == 1.0
    assert np.isnan(activity(sucrose=10.0))
    assert water_activity(np.zeros((COMPONENT_COUNT, 0))).shape == (0,)


def test_without_solutes_there_is_nothing_to_lower_it():
    assert water_activity_of_solutes((), np.zeros((0, 2))).tolist() == [1.0, 1.0]


def test_a_solute_without_a_constant_is_an_error():
    with pytest.raises(KeyError):
        molal("nahco3", 1.0)


solutes = (
    "sucrose",
    "glucose",
    "fructose",
    "lactose",
    "maltose",
    "polyol",
    "citric",
    "nacl",
    "ethanol",
    "acetic",
)


@given(st.sampled_from(solutes), st.floats(0.0, 25.0), st.floats(0.1, 10.0), st.floats(0.0, 50.0))
def test_every_solute_lowers_the_activity(solute, there, more, sucrose):
    base = {"water": 100.0, "sucrose": sucrose}
    weak = {**base, solute: base.get(solute, 0.0) + there}
    strong = {**weak, solute: weak[solute] + more}
    assert activity(**strong) < activity(**weak) <= 1.0


@given(st.floats(0.001, 1000.0))
def test_a_larger_serve_has_the_same_activity(factor):
    assert activity(water=60.0 * factor, sucrose=40.0 * factor) == pytest.approx(
        activity(water=60.0, sucrose=40.0), rel=1e-12
    )
