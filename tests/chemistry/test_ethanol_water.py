"""Ethanol and water against the tables of OIML R 22 and the CRC Handbook."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.chemistry.ethanol_water import (
    density_kg_per_m3,
    ethanol_density_kg_per_m3,
    mass_fraction_from_density,
    mass_fraction_from_strength,
    strength_pct_vol_from_mass_fraction,
)

# OIML R 22 (1975), table values at 20 degC: % vol, % by mass, kg/m3.
OIML_TABLE = [
    (5, 3.98, 991.06),
    (12, 9.64, 982.35),
    (20, 16.21, 973.56),
    (25, 20.38, 968.10),
    (30, 24.61, 962.21),
    (40, 33.30, 948.05),
    (45, 37.80, 939.54),
    (50, 42.43, 930.14),
    (60, 52.09, 909.11),
    (75, 67.82, 872.79),
    (96, 93.84, 807.42),
]


@pytest.mark.parametrize("strength, percent_by_mass, density", OIML_TABLE)
def test_strength_gives_mass_and_density_of_the_tables(strength, percent_by_mass, density):
    fraction = mass_fraction_from_strength(float(strength))
    assert 100 * fraction == pytest.approx(percent_by_mass, abs=0.006)
    assert density_kg_per_m3(fraction, 20.0) == pytest.approx(density, abs=0.006)


@pytest.mark.parametrize(
    "fraction, temperature_c, density",
    [
        (0.5, 20.0, 913.770595),
        (0.73, 15.5, 864.2486339),
        (1.0, 0.0, 806.215),
        (1.0, 10.0, 797.76),
        (1.0, 40.0, 771.93),
        (0.0, 0.0, 999.84),
    ],
)
def test_density_has_the_published_values_at_other_temperatures(fraction, temperature_c, density):
    # OIML R 22: values published with an independent implementation, and the pure columns of the tables.
    assert density_kg_per_m3(fraction, temperature_c) == pytest.approx(density, abs=0.0055)


@pytest.mark.parametrize(
    "temperature_c, density",
    [(-20, 971.82), (-5, 963.56), (0, 960.63), (4, 958.22), (15, 951.33), (30, 941.19)],
)
def test_a_spirit_of_40_pct_vol_shrinks_in_the_cold(temperature_c, density):
    # OIML R 22, table by % vol and temperature.
    fraction = mass_fraction_from_strength(40.0)
    assert density_kg_per_m3(fraction, float(temperature_c)) == pytest.approx(density, abs=0.006)


@pytest.mark.parametrize(
    "fraction, temperature_c, density",
    [(0.1, 10, 983.93), (0.2, 30, 963.95), (0.3, 15, 956.86), (0.4, 25, 931.48), (0.5, 35, 901.68)],
)
def test_density_agrees_with_the_bureau_of_standards(fraction, temperature_c, density):
    # NBS Circular 19 as in Perry's Chemical Engineers' Handbook, from memory; cross terms matter here.
    assert density_kg_per_m3(fraction, float(temperature_c)) == pytest.approx(density, abs=0.2)


@pytest.mark.parametrize(
    "percent_by_mass, molarity",
    [(1, 0.216), (5, 1.074), (12, 2.551), (24, 5.018), (40, 8.120), (60, 11.605), (90, 15.980), (98, 16.920)],
)
def test_strength_agrees_with_the_molarity_of_the_handbook(percent_by_mass, molarity):
    # CRC Handbook 102nd ed. 2021, Concentrative Properties: ethanol, mol/L at 20 degC.
    strength = strength_pct_vol_from_mass_fraction(percent_by_mass / 100)
    assert strength == pytest.approx(molarity * 46.068 / 7.8924, abs=0.03)


def test_a_measured_density_gives_the_mass_fraction():
    # Worked example of the physical reference: 901.42 kg/m3 at 15.5 degC.
    assert mass_fraction_from_density(901.42, 15.5) == pytest.approx(0.570998, abs=1e-6)


def test_the_ends_of_the_scale_are_water_and_ethanol():
    assert mass_fraction_from_strength(0.0) == 0.0
    assert mass_fraction_from_strength(100.0) == pytest.approx(1.0, abs=1e-9)
    assert ethanol_density_kg_per_m3() == 789.24


@pytest.mark.parametrize("strength", [-1.0, 100.1, math.nan])
def test_a_strength_off_the_scale_has_no_mass_fraction(strength):
    assert math.isnan(mass_fraction_from_strength(strength))


@pytest.mark.parametrize("density", [700.0, 998.30, 1040.0])
def test_a_density_of_no_mixture_has_no_mass_fraction(density):
    assert math.isnan(mass_fraction_from_density(density, 20.0))


def test_in_an_array_only_the_impossible_density_has_no_value():
    fractions = mass_fraction_from_density(np.array([913.770595, 1040.0]), 20.0)
    assert fractions[0] == pytest.approx(0.5, abs=1e-6)
    assert math.isnan(fractions[1])


@given(st.floats(0.0, 1.0), st.floats(-20.0, 40.0))
def test_mass_fraction_survives_the_way_over_density(fraction, temperature_c):
    density = density_kg_per_m3(fraction, temperature_c)
    assert mass_fraction_from_density(density, temperature_c) == pytest.approx(fraction, abs=1e-9)


@given(st.floats(0.0, 100.0))
def test_strength_survives_the_way_over_mass(strength):
    fraction = mass_fraction_from_strength(strength)
    assert strength_pct_vol_from_mass_fraction(fraction) == pytest.approx(strength, abs=2e-4)


@given(st.floats(1.0, 1000.0), st.floats(1.0, 1000.0))
def test_ethanol_and_water_take_less_room_together(ethanol_ml, water_ml):
    ethanol_g = ethanol_ml * density_kg_per_m3(1.0, 20.0) / 1000
    water_g = water_ml * density_kg_per_m3(0.0, 20.0) / 1000
    total_g = ethanol_g + water_g
    mixed_ml = 1000 * total_g / density_kg_per_m3(ethanol_g / total_g, 20.0)
    assert mixed_ml < ethanol_ml + water_ml


def test_equal_volumes_contract_as_the_tables_say():
    # OIML R 22: 50 mL + 50 mL give 96.46 mL of 51.83 % vol.
    ethanol_g, water_g = 50 * 0.78924, 50 * 0.9982
    fraction = ethanol_g / (ethanol_g + water_g)
    assert 1000 * (ethanol_g + water_g) / density_kg_per_m3(fraction, 20.0) == pytest.approx(96.46, abs=0.01)
    assert strength_pct_vol_from_mass_fraction(fraction) == pytest.approx(51.83, abs=0.01)
