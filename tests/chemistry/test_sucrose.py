"""Sucrose solutions against ICUMSA, OIV, the CRC Handbook and the library chemicals."""

import math

import numpy as np
import pytest
from chemicals.refractivity import RI_to_brix, brix_to_RI
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95

from tests.chemistry.liquids import liquid
from washline.chemistry.mixture import density_g_per_ml
from washline.chemistry.sucrose import (
    brix_from_density,
    density_kg_per_m3,
    mass_fraction_from_refractive_index,
    refractive_index,
    sugar_g_per_l,
)

# ICUMSA SPS-4: % by mass, kg/m3 at 20 degC, g/100 mL, refractive index at 20 degC.
ICUMSA_TABLE = [
    (5, 1017.81, 5.09, 1.34026),
    (10, 1038.12, 10.38, 1.34782),
    (15, 1059.16, 15.89, 1.35568),
    (20, 1080.98, 21.62, 1.36384),
    (30, 1127.03, 33.81, 1.38115),
    (40, 1176.52, 47.06, 1.39986),
    (50, 1229.65, 61.48, 1.42009),
    (60, 1286.61, 77.20, 1.44193),
    (65, 1316.56, 85.58, 1.45348),
]


@pytest.mark.parametrize("percent, density, per_100_ml, index", ICUMSA_TABLE)
def test_a_syrup_has_the_tabulated_density_and_index(percent, density, per_100_ml, index):
    fraction = percent / 100
    assert density_kg_per_m3(fraction, 20.0) == pytest.approx(density, abs=0.01)
    assert sugar_g_per_l(fraction) / 10 == pytest.approx(per_100_ml, abs=0.006)
    assert refractive_index(fraction) == pytest.approx(index, abs=1e-5)


@pytest.mark.parametrize(
    "percent, density", [(2, 1.0060), (28, 1.1175), (44, 1.1972), (60, 1.2864), (70, 1.3472)]
)
def test_density_agrees_with_the_handbook(percent, density):
    # CRC Handbook 102nd ed. 2021, Concentrative Properties: sucrose (4 digits, 0.3 lower at 70 %).
    assert density_kg_per_m3(percent / 100, 20.0) == pytest.approx(1000 * density, abs=0.32)


@pytest.mark.parametrize("percent", [0, 1, 5, 12, 25, 40, 55, 66, 75, 84])
def test_index_agrees_with_the_icumsa_1974_table(percent):
    # ICUMSA 1974 as interpolated by the library chemicals; the fit's misfit is 2e-5, the older table's 6e-5.
    assert refractive_index(percent / 100) == pytest.approx(brix_to_RI(float(percent)), abs=8e-5)


@pytest.mark.parametrize("index", [1.3340, 1.3500, 1.3811, 1.4200, 1.4600])
def test_brix_of_an_index_agrees_with_the_icumsa_1974_table(index):
    assert 100 * mass_fraction_from_refractive_index(index) == pytest.approx(RI_to_brix(index), abs=0.05)


@pytest.mark.parametrize("temperature_c", [0.0, 20.0, 50.0, 80.0])
def test_a_syrup_without_sugar_is_water_at_any_temperature(temperature_c):
    # Water by IAPWS-95, through the library iapws.
    water = IAPWS95(T=temperature_c + 273.15, P=0.101325).rho
    assert density_kg_per_m3(0.0, temperature_c) == pytest.approx(water, abs=0.0065)


@pytest.mark.parametrize("fraction", [0.1, 0.3, 0.5, 0.65])
@pytest.mark.parametrize("temperature_c", [0.0, 10.0, 30.0, 40.0])
def test_two_independent_models_agree_on_warm_and_cold_syrup(fraction, temperature_c):
    # ICUMSA SPS-4 against the mixing model with its own expansion: 0.25 kg/m3 at most.
    mixed = liquid(water=1 - fraction, sucrose=fraction)
    other = 1000 * density_g_per_ml(mixed, temperature_c).item()
    assert density_kg_per_m3(fraction, temperature_c) == pytest.approx(other, abs=0.26)


@given(st.floats(0.0, 0.85), st.floats(0.0, 80.0))
def test_brix_survives_the_way_over_density(fraction, temperature_c):
    density = density_kg_per_m3(fraction, temperature_c)
    assert brix_from_density(density, temperature_c) == pytest.approx(100 * fraction, abs=1e-8)


@given(st.floats(0.0, 0.85))
def test_mass_fraction_survives_the_way_over_the_index(fraction):
    assert mass_fraction_from_refractive_index(refractive_index(fraction)) == pytest.approx(
        fraction, abs=1e-12
    )


@pytest.mark.parametrize("density", [990.0, 1460.0])
def test_a_density_off_the_scale_has_no_brix(density):
    assert math.isnan(brix_from_density(density))


@pytest.mark.parametrize("index", [1.3200, 1.5200])
def test_an_index_off_the_scale_has_no_brix(index):
    assert math.isnan(mass_fraction_from_refractive_index(index))
    many = mass_fraction_from_refractive_index(np.array([index, 1.42009]))
    assert math.isnan(many[0])
    assert many[1] == pytest.approx(0.5, abs=3e-5)


def test_water_reads_zero_brix():
    assert brix_from_density(998.21) == pytest.approx(0.0, abs=0.002)
    assert brix_from_density(998.18) == 0.0
    assert mass_fraction_from_refractive_index(1.33299) == 0.0
