"""Density of water against IAPWS-95 and Tanaka."""

import numpy as np
import pytest
from iapws import IAPWS95

from washline.chemistry.water import density_kg_per_m3

ONE_ATMOSPHERE_MPA = 0.101325


@pytest.mark.parametrize("temperature_c", [0, 1, 4, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 99])
def test_water_agrees_with_the_iapws_95_formulation(temperature_c):
    # IAPWS-95, Wagner and Pruss 2002, by the library iapws; Kell's own scatter against it is 0.006 kg/m3.
    reference = IAPWS95(T=temperature_c + 273.15, P=ONE_ATMOSPHERE_MPA).rho
    assert density_kg_per_m3(float(temperature_c)) == pytest.approx(reference, abs=0.0065)


@pytest.mark.parametrize(
    "temperature_c, density", [(5, 999.967), (15, 999.103), (25, 997.047), (40, 992.215)]
)
def test_water_agrees_with_tanaka(temperature_c, density):
    # Tanaka et al. 2001, Metrologia 38, table of recommended densities.
    assert density_kg_per_m3(float(temperature_c)) == pytest.approx(density, abs=0.005)


def test_water_is_densest_near_four_degrees():
    temperatures = np.linspace(0.0, 10.0, 1001)
    assert temperatures[np.argmax(density_kg_per_m3(temperatures))] == pytest.approx(3.98, abs=0.05)


def test_an_array_gives_what_its_numbers_give():
    temperatures = np.array([0.0, 20.0, 80.0])
    assert density_kg_per_m3(temperatures).tolist() == [density_kg_per_m3(t) for t in (0.0, 20.0, 80.0)]
