"""Dissolved CO2 against handbooks and measured drinks; the pressure of closed bottles; and the laws of both."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95

from washline.chemistry.carbonation import (
    KPA_PER_ATM,
    absolute_kpa_for,
    bottle_co2_g,
    bottle_kpa,
    co2_g_per_l,
    co2_g_per_l_under,
    co2_left,
    co2_solubility_g_per_l_atm,
    g_per_l_from_volumes,
    losses,
    usual_loss,
    volumes_from_g_per_l,
    water_vapour_kpa,
)


@pytest.mark.parametrize(
    "celsius, per_atm, volumes",
    [
        (0, 3.41, 1.73),
        (4, 2.93, 1.48),
        (8, 2.53, 1.28),
        (10, 2.36, 1.19),
        (15, 2.00, 1.01),
        (20, 1.72, 0.87),
        (25, 1.50, 0.76),
        (30, 1.31, 0.66),
    ],
)
def test_water_holds_the_gas_of_the_reference_table(celsius, per_atm, volumes):
    # Physical reference, section h (Weiss 1974).
    found = co2_solubility_g_per_l_atm(float(celsius))
    assert found == pytest.approx(per_atm, abs=0.0055)
    assert volumes_from_g_per_l(found) == pytest.approx(volumes, abs=0.0051)


@pytest.mark.parametrize("celsius", [0, 5, 10, 15, 20, 25, 30])
def test_another_published_constant_of_henry_agrees(celsius):
    # Carroll, Slupsky and Mather 1991, mole fraction and MPa; the two sources differ by 2.6 % at 0 degC.
    kelvin = celsius + 273.15
    henry_mpa = math.exp(-6.8346 + 12817 / kelvin - 3.7668e6 / kelvin**2 + 2.997e8 / kelvin**3)
    published = 0.101325 / henry_mpa * 44.01 * IAPWS95(T=max(kelvin, 273.16), P=0.101325).rho / 18.015
    assert co2_solubility_g_per_l_atm(float(celsius)) == pytest.approx(published, rel=0.03)


@pytest.mark.parametrize(
    "celsius, kpa, strength, sugars, grams",
    [
        (4.0, 300.0, 0.0, 0.0, 8.5),
        (4.0, 300.0, 0.0, 100.0, 7.9),
        (4.0, 300.0, 12.0, 20.0, 7.5),
    ],
)
def test_ethanol_and_sugar_hold_less_gas(celsius, kpa, strength, sugars, grams):
    # Physical reference, section h: checks.
    assert co2_g_per_l(celsius, kpa, strength, sugars) == pytest.approx(grams, abs=0.06)


@pytest.mark.parametrize(
    "celsius, strength, sugars, per_bar, error",
    [(6.0, 5.0, 35.0, 2.4, 0.12), (10.0, 12.5, 10.0, 2.1, 0.07), (20.0, 12.5, 10.0, 1.46, 0.06)],
)
def test_beer_and_sparkling_wine_hold_what_was_measured(celsius, strength, sugars, per_bar, error):
    # Liger-Belair 2021 (PMC8047704): lager at 6 degC, champagne at 10 degC; 2005 at 20 degC (from memory), g/L bar.
    found = co2_solubility_g_per_l_atm(celsius, strength, sugars) / 1.01325
    assert found == pytest.approx(per_bar, abs=error)


def test_seven_grams_at_four_degrees_need_two_and_a_half_bar():
    # Physical reference, section h: 2.47 bar absolute.
    assert absolute_kpa_for(4.0, 7.0) / 100.0 == pytest.approx(2.47, abs=0.01)


def test_a_bottled_punch_needs_the_pressure_of_the_demo_house():
    # 9.1 % vol, about 80 g/L of sugars at 2 degC and 7 g/L: 2.6 bar absolute, by the same formulas elsewhere.
    assert absolute_kpa_for(2.0, 7.0, 9.1, 80.0) / 100.0 == pytest.approx(2.6, abs=0.06)


def test_opened_a_cold_drink_keeps_one_to_one_and_a_half_volumes():
    # Physical reference, section h: everything above is supersaturation and leaves.
    assert 1.0 < volumes_from_g_per_l(co2_g_per_l(4.0, KPA_PER_ATM)) < 1.5
    assert 1.0 < volumes_from_g_per_l(co2_g_per_l(8.0, KPA_PER_ATM, 5.0, 35.0)) < 1.5


@pytest.mark.parametrize("celsius", [1, 4, 10, 20, 30, 50])
def test_water_has_the_vapour_pressure_of_iapws(celsius):
    published = IAPWS95(T=celsius + 273.15, x=0).P * 1000.0
    assert water_vapour_kpa(float(celsius)) == pytest.approx(published, rel=0.001)


def test_below_the_vapour_pressure_of_water_nothing_dissolves():
    assert co2_g_per_l(30.0, 4.0) == 0.0
    assert absolute_kpa_for(20.0, 0.0) == water_vapour_kpa(20.0)


def test_above_twenty_percent_the_pull_of_ethanol_is_held():
    assert co2_solubility_g_per_l_atm(10.0, 40.0) == co2_solubility_g_per_l_atm(10.0, 20.0)
    assert co2_solubility_g_per_l_atm(10.0, 19.0) > co2_solubility_g_per_l_atm(10.0, 20.0)


def test_a_level_that_no_pressure_gives_has_none():
    assert np.isnan(absolute_kpa_for(20.0, 1000.0))
    assert np.isnan(bottle_kpa(20.0, 5.0, 0.0, 0.0))


def test_a_volume_weighs_one_point_nine_seven_seven_grams():
    # 44.01 g/mol over the molar volume of the real gas, 22.26 L/mol.
    assert g_per_l_from_volumes(1.0) == pytest.approx(44.01 / 22.26, abs=0.0005)


def test_a_bottle_warmed_from_the_fridge_presses_nearly_twice_as_hard():
    # Sparkling wine of 6 bar absolute at 20 degC stands near 3.5 bar at 4 degC (oenology texts, from memory).
    gas_g = bottle_co2_g(20.0, 600.0, 750.0, 15.0, 12.5, 10.0)
    assert bottle_kpa(4.0, gas_g, 750.0, 15.0, 12.5, 10.0) == pytest.approx(355.0, abs=25.0)


def test_air_that_was_left_in_adds_its_pressure():
    without, with_air = (bottle_kpa(10.0, 1.2, 180.0, 20.0, air_kpa=air) for air in (0.0, 95.0))
    assert with_air - without == pytest.approx(95.0)
    assert bottle_co2_g(10.0, with_air, 180.0, 20.0, air_kpa=95.0) == pytest.approx(1.2, rel=1e-12)


def test_an_empty_bottle_follows_the_ideal_gas_law():
    # 44.01 g in 22.414 L at 0 degC and 1 atm.
    assert bottle_kpa(0.0, 44.01, 0.0, 22414.0) - water_vapour_kpa(0.0) == pytest.approx(
        KPA_PER_ATM, rel=1e-4
    )


def test_more_head_space_eases_the_pressure():
    tight, roomy = (bottle_kpa(25.0, 1.3, 180.0, head) for head in (5.0, 40.0))
    assert tight > roomy > KPA_PER_ATM


@given(
    st.floats(0.0, 30.0),
    st.floats(0.0, 30.0),
    st.floats(120.0, 500.0),
    st.floats(50.0, 5000.0),
    st.floats(0.0, 1000.0),
    st.floats(0.0, 20.0),
    st.floats(0.0, 150.0),
)
def test_a_closed_bottle_loses_no_gas(filled_c, stands_c, filled_kpa, liquid_ml, head_ml, strength, sugars):
    gas_g = bottle_co2_g(filled_c, filled_kpa, liquid_ml, head_ml, strength, sugars)
    stands_kpa = bottle_kpa(stands_c, gas_g, liquid_ml, head_ml, strength, sugars)
    assert bottle_co2_g(stands_c, stands_kpa, liquid_ml, head_ml, strength, sugars) == pytest.approx(
        gas_g, rel=1e-9
    )
    assert (stands_kpa >= filled_kpa - 1e-6) == (stands_c >= filled_c) or abs(stands_c - filled_c) < 1e-6


@given(st.floats(0.0, 30.0), st.floats(0.0, 12.0), st.floats(0.0, 30.0), st.floats(0.0, 200.0))
def test_the_pressure_for_a_level_gives_that_level(celsius, grams, strength, sugars):
    kpa = absolute_kpa_for(celsius, grams, strength, sugars)
    assert co2_g_per_l(celsius, kpa, strength, sugars) == pytest.approx(grams, rel=1e-9, abs=1e-9)


@given(st.floats(0.0, 29.0), st.floats(0.1, 1.0), st.floats(10.0, 600.0))
def test_warmer_drinks_hold_less_and_pressed_ones_more(celsius, warmer_k, kpa):
    assert co2_g_per_l_under(celsius + warmer_k, kpa) < co2_g_per_l_under(celsius, kpa)
    assert co2_g_per_l_under(celsius, kpa * 1.01) > co2_g_per_l_under(celsius, kpa)


def test_poured_lager_keeps_what_was_measured():
    # Liger-Belair (PMC8047704): 5.5 to 5.2 g/L; champagne in a tall glass 11.4 to about 8.
    assert co2_left(5.5, usual_loss("poured_lager")[1]) == pytest.approx(5.2, abs=0.05)
    assert co2_left(11.4, usual_loss("poured_sparkling_wine")[1]) == pytest.approx(8.0, abs=0.1)


@pytest.mark.parametrize("way", losses())
def test_a_loss_is_a_part_from_low_to_high(way):
    low, high = usual_loss(way)
    assert 0.0 < low <= high < 1.0


def test_an_unknown_way_of_losing_gas_is_an_error():
    with pytest.raises(KeyError):
        usual_loss("sneezed at")


def test_an_unknown_level_stays_unknown():
    assert np.isnan(absolute_kpa_for(4.0, float("nan")))
    assert np.isnan(co2_g_per_l(np.array([np.nan]), 300.0)).all()
