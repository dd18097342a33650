"""Heat capacity against published figures, and temperatures from heat contents."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95

from tests.chemistry.liquids import columns, liquid
from washline.chemistry.heat import (
    enthalpy_j,
    heat_capacity_j_per_g_k,
    heat_of_mixing_j,
    heat_of_mixing_j_per_g,
    heat_sums,
    solvent_capacity_j_per_g_k,
    temperature_from_enthalpy,
    temperature_with_vessel,
)
from washline.chemistry.mixture import composition_from_label


@pytest.mark.parametrize("temperature_c", [1, 5, 10, 20, 30])
def test_water_holds_the_heat_that_iapws_says(temperature_c):
    # IAPWS-95 by the library iapws, kJ/kgK; the fit's own misfit is 0.04.
    reference = IAPWS95(T=temperature_c + 273.15, P=0.101325).cp
    capacity = heat_capacity_j_per_g_k(liquid(water=100.0), float(temperature_c)).item()
    assert capacity == pytest.approx(reference, abs=0.035)


@pytest.mark.parametrize(
    "fraction, at_0, at_20",
    [(0.0, 4.21, 4.17), (0.1, 4.40, 4.32), (0.2, 4.35, 4.32), (0.3, 4.17, 4.21), (0.4, 3.90, 4.04)],
)
def test_a_little_ethanol_raises_the_heat_capacity(fraction, at_0, at_20):
    # Melinder property set through the fit of the physical reference, section e.
    spirit = liquid(water=1 - fraction, ethanol=fraction)
    assert heat_capacity_j_per_g_k(spirit, 0.0).item() == pytest.approx(at_0, abs=0.006)
    assert heat_capacity_j_per_g_k(spirit, 20.0).item() == pytest.approx(at_20, abs=0.006)


@pytest.mark.parametrize("fraction, temperature_c, capacity", [(0.0999, 3, 4.396), (0.2495, 23, 4.312)])
def test_heat_capacity_agrees_with_the_engineers_handbook(fraction, temperature_c, capacity):
    # Perry's Chemical Engineers' Handbook, specific heats of aqueous ethanol, from memory.
    spirit = liquid(water=1 - fraction, ethanol=fraction)
    assert heat_capacity_j_per_g_k(spirit, float(temperature_c)).item() == pytest.approx(capacity, abs=0.06)


@pytest.mark.parametrize("fraction", [0.1, 0.2, 0.4, 0.6])
@pytest.mark.parametrize("temperature_c", [0.0, 20.0])
def test_syrup_holds_the_heat_of_the_sugar_industry_formula(fraction, temperature_c):
    # 4.184 - 2.511 w + 0.0075 w t kJ/kgK (Lyle; Llano 2005).
    syrup = liquid(water=1 - fraction, sucrose=fraction)
    published = 4.184 - 2.511 * fraction + 0.0075 * fraction * temperature_c
    assert heat_capacity_j_per_g_k(syrup, temperature_c).item() == pytest.approx(published, abs=0.03)


def test_fat_and_salt_hold_less_heat():
    # Physical reference, section e: 2.0 and 0.9 J/gK.
    assert heat_capacity_j_per_g_k(liquid(fat=10.0), 20.0).item() == pytest.approx(2.0)
    assert heat_capacity_j_per_g_k(liquid(nacl=10.0), 20.0).item() == pytest.approx(0.9)


def test_pure_ethanol_holds_the_heat_of_the_handbook():
    # CRC Handbook: 112.3 J/molK at 25 degC (from memory), 46.07 g/mol.
    capacity = heat_capacity_j_per_g_k(liquid(ethanol=100.0), 25.0).item()
    assert capacity == pytest.approx(112.3 / 46.07, abs=0.01)


def test_between_the_end_of_the_fit_and_pure_ethanol_heat_capacity_is_a_straight_line():
    at_60, at_80, at_100 = (
        heat_capacity_j_per_g_k(liquid(water=100.0 - part, ethanol=part), 10.0).item()
        for part in (60.0, 80.0, 100.0)
    )
    assert at_80 == pytest.approx((at_60 + at_100) / 2.0, rel=1e-12)


def test_spirit_poured_into_water_warms_it():
    # 50 mL of 95 % vol and 50 mL of water at 22 degC rose by 6.5 K on a bench (physical reference, section e).
    spirit, water = composition_from_label(95.0, liquid()) * 0.05, liquid(water=49.91)
    both_j = enthalpy_j(spirit, 22.0) + enthalpy_j(water, 22.0)
    assert temperature_from_enthalpy(spirit + water, both_j).item() - 22.0 == pytest.approx(6.5, abs=1.2)


def test_hot_water_in_a_glass_and_the_glass_share_the_heat():
    # 100 g at 80 degC (4.19 J/gK) and 120 J/K at 20 degC.
    hot = liquid(water=100.0)
    shared_c = temperature_with_vessel(hot, enthalpy_j(hot, 80.0), 120.0, 20.0).item()
    assert shared_c == pytest.approx((419.0 * 80.0 + 120.0 * 20.0) / 539.0, abs=0.6)
    assert temperature_with_vessel(hot, enthalpy_j(hot, 80.0), 0.0, 20.0).item() == pytest.approx(80.0)


def test_dissolved_gas_carries_no_heat():
    still = liquid(water=100.0, sucrose=10.0)
    fizzy = still + liquid(co2=0.7)
    assert heat_capacity_j_per_g_k(fizzy, 4.0).item() == heat_capacity_j_per_g_k(still, 4.0).item()
    assert enthalpy_j(fizzy, 4.0).item() == enthalpy_j(still, 4.0).item()


def test_equal_parts_of_cold_and_warm_water_meet_halfway():
    cold, warm = liquid(water=100.0), liquid(water=100.0)
    heat_j = enthalpy_j(cold, 4.0) + enthalpy_j(warm, 20.0)
    assert temperature_from_enthalpy(cold + warm, heat_j).item() == pytest.approx(12.0, abs=0.05)


def test_a_syrup_cools_a_drink_less_than_water_does():
    drink = liquid(water=100.0)
    with_water = enthalpy_j(drink, 20.0) + enthalpy_j(liquid(water=50.0), 4.0)
    with_syrup = enthalpy_j(drink, 20.0) + enthalpy_j(liquid(water=20.0, sucrose=30.0), 4.0)
    after_water = temperature_from_enthalpy(drink + liquid(water=50.0), with_water).item()
    after_syrup = temperature_from_enthalpy(drink + liquid(water=20.0, sucrose=30.0), with_syrup).item()
    assert after_water < after_syrup < 20.0


def test_nothing_has_no_temperature_and_no_heat_capacity():
    assert math.isnan(temperature_from_enthalpy(liquid(), np.array([0.0])).item())
    assert math.isnan(heat_capacity_j_per_g_k(liquid(), 20.0).item())


def test_a_heat_that_no_temperature_holds_has_none():
    two = columns(liquid(water=1.0), liquid(water=1.0))
    temperatures = temperature_from_enthalpy(two, np.array([1e9, 41.9]))
    assert math.isnan(temperatures[0])
    assert temperatures[1] == pytest.approx(10.0, abs=0.1)


@given(st.floats(-25.0, 95.0), st.floats(0.0, 50.0), st.floats(0.0, 50.0), st.floats(0.0, 10.0))
def test_temperature_survives_the_way_over_heat(temperature_c, ethanol_g, sugar_g, fat_g):
    drink = liquid(water=80.0, ethanol=ethanol_g, sucrose=sugar_g, fat=fat_g)
    back = temperature_from_enthalpy(drink, enthalpy_j(drink, temperature_c)).item()
    assert back == pytest.approx(temperature_c, abs=1e-9)


@given(st.floats(-5.0, 90.0), st.floats(-5.0, 90.0), st.floats(1.0, 300.0), st.floats(1.0, 300.0))
def test_a_mix_is_as_warm_as_something_between_its_parts(first_c, second_c, first_g, second_g):
    first, second = liquid(water=first_g), liquid(water=second_g * 0.6, sucrose=second_g * 0.4)
    heat_j = enthalpy_j(first, first_c) + enthalpy_j(second, second_c)
    mixed_c = temperature_from_enthalpy(first + second, heat_j).item()
    assert min(first_c, second_c) - 1e-9 <= mixed_c <= max(first_c, second_c) + 1e-9


@pytest.mark.parametrize(
    "fraction, heat", [(0.0, 0.0), (0.02, -6.9), (0.10, -30.2), (0.30, -48.8), (0.60, -30.0), (1.0, 0.0)]
)
def test_the_heat_of_mixing_has_the_values_of_its_table(fraction, heat):
    # Physical reference, section e, 0 degC; Lama and Lu 1965, Ott et al. 1986 (from memory).
    assert heat_of_mixing_j_per_g(fraction) == pytest.approx(heat, abs=1e-12)


@pytest.mark.parametrize(
    "mole_fraction, j_per_mol, error_j_per_g",
    [(0.1, -660, 2.0), (0.2, -765, 2.0), (0.3, -650, 2.0), (0.5, -415, 4.0)],
)
def test_at_25_degrees_the_heat_of_mixing_is_near_the_measured_one(mole_fraction, j_per_mol, error_j_per_g):
    # Lama and Lu 1965, excess enthalpy at 298.15 K (from memory, J/mol).
    ethanol_g, water_g = mole_fraction * 46.068, (1 - mole_fraction) * 18.015
    found = heat_of_mixing_j(liquid(ethanol=ethanol_g, water=water_g), 25.0).item()
    assert found == pytest.approx(j_per_mol, abs=error_j_per_g * (ethanol_g + water_g))


def test_between_two_rows_the_heat_of_mixing_is_a_straight_line():
    assert heat_of_mixing_j_per_g(0.125) == pytest.approx((-30.2 - 39.9) / 2.0)
    assert heat_of_mixing_j_per_g(0.8) == pytest.approx(-15.0)


def test_what_is_dissolved_does_not_change_the_heat_of_mixing():
    plain, sweet = liquid(water=70.0, ethanol=30.0), liquid(water=70.0, ethanol=30.0, sucrose=40.0)
    assert heat_of_mixing_j(plain).item() == heat_of_mixing_j(sweet).item() == pytest.approx(-4880.0)
    assert heat_of_mixing_j(liquid(sucrose=1.0)).item() == 0.0


def test_diluting_a_spirit_gives_heat_off():
    spirit, water = liquid(water=60.0, ethanol=40.0), liquid(water=60.0)
    assert heat_of_mixing_j(spirit + water).item() < heat_of_mixing_j(spirit).item()


@given(st.floats(0.0, 1.0), st.floats(1.0, 200.0))
def test_water_never_takes_heat_up_when_it_dilutes(fraction, water_g):
    # So that more melted ice always asks for more heat: the heat of mixing of the whole falls with every gram of water.
    before = liquid(water=100.0 * (1.0 - fraction), ethanol=100.0 * fraction)
    assert heat_of_mixing_j(before + liquid(water=water_g)) <= heat_of_mixing_j(before) + 1e-9


@given(st.floats(0.0, 80.0), st.floats(0.0, 80.0), st.floats(-10.0, 40.0))
def test_the_sums_make_the_enthalpy(ethanol_g, sugar_g, celsius):
    drink = liquid(water=100.0, ethanol=ethanol_g, sucrose=sugar_g)
    solvent_g, ethanol, solutes, solutes_rise = (part.item() for part in heat_sums(drink))
    capacity, rise = solvent_capacity_j_per_g_k(ethanol / solvent_g)
    constant, slope = solvent_g * capacity + solutes, solvent_g * rise + solutes_rise
    sensible = (constant + slope * 0.5 * celsius) * celsius
    assert sensible + heat_of_mixing_j(drink).item() == pytest.approx(enthalpy_j(drink, celsius).item())
