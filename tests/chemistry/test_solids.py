"""Degrees Brix, true and as a refractometer shows them, against the refractive indices of the CRC Handbook."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.chemistry.liquids import liquid
from washline.chemistry.mixture import composition_from_label
from washline.chemistry.solids import brix_refractometer, brix_true


@pytest.mark.parametrize("percent", [1, 5, 12, 25, 40, 50, 66.7, 80])
def test_both_brix_agree_on_sugar_water(percent):
    # The definition of the refractometer's scale (ICUMSA, OIV-MA-AS2-02).
    syrup = liquid(water=100.0 - percent, sucrose=percent)
    assert brix_true(syrup).item() == pytest.approx(percent, abs=1e-9)
    assert brix_refractometer(syrup).item() == pytest.approx(percent, abs=0.02)


def test_alcohol_without_sugar_reads_as_if_it_were_sweet():
    # Physical reference, section b: 20 % vol of ethanol in water reads about 7.6 degBx.
    spirit = composition_from_label(20.0, liquid())
    assert brix_refractometer(spirit).item() == pytest.approx(7.6, abs=0.1)
    assert brix_true(spirit).item() == 0.0


@pytest.mark.parametrize("percent, brix", [(10, 8.75), (20, 17.5)])
def test_citric_acid_counts_as_less_than_sugar(percent, brix):
    # Physical reference, section b, from the CRC Handbook.
    solution = liquid(water=100.0 - percent, citric=percent)
    assert brix_refractometer(solution).item() == pytest.approx(brix, abs=0.06)


@pytest.mark.parametrize("percent, lower", [(20, 0.2), (40, 0.7)])
def test_invert_sugar_reads_a_little_low(percent, lower):
    # Physical reference, section b: 0.2 degBx at 20 %, 0.7 at 40 %.
    invert = liquid(water=100.0 - percent, glucose=percent / 2, fructose=percent / 2)
    assert brix_refractometer(invert).item() == pytest.approx(percent - lower, abs=0.08)


def test_a_bottled_drink_reads_three_degrees_high_because_of_its_alcohol():
    # The demo house's carbonated bottle, measured against computed: 9.1 % vol, 8.0 degBx true, about 11 shown.
    bottle = composition_from_label(9.1, liquid(sucrose=66.0, glucose=6.0, fructose=6.0, citric=3.0))
    assert brix_true(bottle).item() == pytest.approx(8.0, abs=0.1)
    assert brix_refractometer(bottle).item() == pytest.approx(11.0, abs=0.3)


def test_pulp_fat_and_bubbles_are_not_dissolved():
    clear = liquid(water=88.0, sucrose=12.0)
    cloudy = clear + liquid(insoluble=4.0, fat=2.0, co2=0.5)
    assert brix_true(cloudy).item() == brix_true(clear).item()
    assert brix_refractometer(cloudy).item() == pytest.approx(brix_refractometer(clear).item(), abs=1e-9)


def test_without_a_liquid_there_is_no_brix():
    assert np.isnan(brix_true(liquid(fat=5.0))).all()
    assert np.isnan(brix_refractometer(liquid(fat=5.0))).all()


@given(st.floats(0.0, 60.0), st.floats(0.1, 30.0))
def test_more_sugar_reads_higher_at_any_strength(sugar_g, more_g):
    weak = liquid(water=80.0, ethanol=15.0, sucrose=sugar_g)
    assert brix_refractometer(weak + liquid(sucrose=more_g)).item() > brix_refractometer(weak).item()


@given(st.floats(0.0, 80.0), st.floats(0.0, 15.0))
def test_true_brix_lies_between_none_and_all(sugar_g, acid_g):
    assert 0.0 <= brix_true(liquid(water=20.0, sucrose=sugar_g, citric=acid_g)).item() <= 100.0
