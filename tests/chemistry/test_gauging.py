"""Gauging against the worked examples of the US gauging manual."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.chemistry.gauging import (
    GAUGE_TEMPERATURE_C,
    mass_fraction_from_proof,
    proof_from_mass_fraction,
    water_parts_per_100,
    water_to_reduce_by_mass,
    water_to_reduce_by_volume,
)


def test_proof_is_gauged_at_sixty_fahrenheit():
    assert abs(GAUGE_TEMPERATURE_C - 15.5556) < 1e-4


@pytest.mark.parametrize("proof, parts", [(100, 53.73), (112, 47.75), (188, 7.36), (191, 5.59)])
def test_a_spirit_holds_the_water_of_table_six(proof, parts):
    # 27 CFR 30.66, table 6 as quoted in its examples.
    assert water_parts_per_100(float(proof)) == pytest.approx(parts, abs=0.01)


def test_the_parts_of_a_spirit_are_more_than_its_hundred():
    # 100 proof: 50 of alcohol and 53.73 of water make 100, not 103.73 (27 CFR 30.66).
    assert 50.0 + water_parts_per_100(100.0) == pytest.approx(103.73, abs=0.01)


def test_112_proof_is_brought_to_100():
    # 27 CFR 30.66, example: 1.12 x 53.73 - 47.75 = 12.42 gallons for each 100.
    assert water_to_reduce_by_volume(112.0, 100.0) == pytest.approx(12.42, abs=0.02)


def test_191_proof_is_brought_to_188():
    # 27 CFR 30.66, example: it rounds the ratio of the proofs to 1.01 and so prints 1.84; unrounded 1.89.
    assert water_to_reduce_by_volume(191.0, 188.0) == pytest.approx(1.89, abs=0.02)


def test_a_thousand_pounds_of_200_proof_are_brought_to_190():
    # 27 CFR 30.64, example: 82.03 pounds.
    assert water_to_reduce_by_mass(1000.0, 200.0, 190.0) == pytest.approx(82.03, abs=0.1)


def test_a_pound_of_spirit_holds_the_proof_gallons_of_table_four():
    # 27 CFR 30.64, table 4: 0.27964 proof gallons in a pound of 190 proof; 302.58 in 1000 pounds of 200 proof.
    assert mass_fraction_from_proof(190.0) == pytest.approx(0.27964 / 0.30258, abs=1e-4)


def test_a_spirit_that_is_weaker_already_cannot_be_reduced():
    assert np.isnan(water_to_reduce_by_volume(80.0, 100.0))
    assert np.isnan(water_to_reduce_by_mass(1.0, 80.0, 100.0))


def test_no_water_brings_a_spirit_to_nothing():
    assert np.isnan(water_to_reduce_by_volume(80.0, 0.0))
    assert np.isnan(water_to_reduce_by_mass(1.0, 80.0, 0.0))


def test_there_is_no_proof_above_two_hundred():
    assert np.isnan(mass_fraction_from_proof(201.0))
    assert np.isnan(water_parts_per_100(-1.0))


def test_the_ends_are_water_and_ethanol():
    assert water_parts_per_100(0.0) == pytest.approx(100.0, abs=1e-9)
    assert water_parts_per_100(200.0) == pytest.approx(0.0, abs=1e-9)


@given(st.floats(0.001, 1.0))
def test_proof_and_mass_fraction_are_inverses(fraction):
    assert mass_fraction_from_proof(proof_from_mass_fraction(fraction)) == pytest.approx(fraction, abs=1e-12)


@given(st.floats(20.0, 199.0), st.floats(0.05, 1.0))
def test_by_volume_and_by_mass_add_the_same_water(proof, part):
    # 100 volumes of spirit weigh their ethanol and their water; both rules must ask for the same mass of water.
    target = proof * part
    volume = water_to_reduce_by_volume(proof, target)
    spirit_g = water_parts_per_100(proof) / (1.0 - mass_fraction_from_proof(proof))
    assert water_to_reduce_by_mass(spirit_g, proof, target) == pytest.approx(volume, rel=1e-6, abs=1e-6)


def test_arrays_are_reduced_element_by_element():
    found = water_to_reduce_by_volume(np.array([112.0, 80.0]), np.array([100.0, 100.0]))
    assert found[0] == water_to_reduce_by_volume(112.0, 100.0)
    assert np.isnan(found[1])
