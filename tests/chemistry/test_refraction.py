"""Refractive index of mixtures against the CRC Handbook and IAPWS."""

import numpy as np
import pytest
from chemicals.refractivity import RI_IAPWS
from hypothesis import given
from hypothesis import strategies as st

from tests.chemistry.liquids import liquid
from washline.chemistry.refraction import refractive_index
from washline.chemistry.sucrose import refractive_index as refractive_index_of_syrup


@pytest.mark.parametrize(
    "percent, index",
    [
        (2, 1.3342),
        (5, 1.3360),
        (10, 1.3395),
        (16, 1.3440),
        (20, 1.3469),
        (30, 1.3535),
        (40, 1.3583),
        (50, 1.3616),
    ],
)
def test_ethanol_refracts_as_the_handbook_says(percent, index):
    # CRC Handbook 102nd ed. 2021, Concentrative Properties: ethanol, n at 20 degC (4 digits).
    solution = liquid(water=100.0 - percent, ethanol=percent)
    assert refractive_index(solution).item() == pytest.approx(index, abs=1.4e-4)


@pytest.mark.parametrize(
    "component, percent, index",
    [
        ("glucose", 20, 1.3635),
        ("glucose", 40, 1.3986),
        ("fructose", 20, 1.3634),
        ("fructose", 40, 1.3985),
        ("lactose", 10, 1.3484),
        ("maltose", 30, 1.3821),
        ("polyol", 20, 1.3572),
        ("citric", 20, 1.3598),
        ("lactic", 20, 1.3532),
        ("acetic", 10, 1.3402),
        ("phosphoric", 10, 1.3422),
        ("nacl", 10, 1.3505),
        ("nacl", 20, 1.3684),
    ],
)
def test_other_solutes_refract_as_the_handbook_says(component, percent, index):
    # CRC Handbook 102nd ed. 2021, Concentrative Properties, n at 20 degC (4 digits).
    solution = liquid(**{"water": 100.0 - percent, component: percent})
    assert refractive_index(solution).item() == pytest.approx(index, abs=2e-4)


def test_water_refracts_as_iapws_says():
    # IAPWS 1997 release on the refractive index (relative to vacuum; air takes off 0.00036), by the library chemicals.
    in_vacuum = RI_IAPWS(293.15, 998.207, wavelength=0.5893e-6)
    assert refractive_index(liquid(water=1.0)).item() == pytest.approx(in_vacuum - 0.00036, abs=2e-5)


@pytest.mark.parametrize("percent", [5, 20, 35, 50, 65, 80])
def test_the_mixing_rule_gives_back_the_sugar_scale(percent):
    # The sucrose refractions are a fit to that scale (ICUMSA): 3e-5 at most, 0.02 degBx.
    syrup = liquid(water=100.0 - percent, sucrose=percent)
    assert refractive_index(syrup).item() == pytest.approx(
        refractive_index_of_syrup(percent / 100), abs=3.1e-5
    )


def test_strong_alcohol_refracts_most_near_80_percent():
    # CRC Handbook 102nd ed. 2021: the highest index of ethanol-water, 1.3658, stands at 80 % by mass.
    indices = [refractive_index(liquid(water=100.0 - p, ethanol=p)).item() for p in range(50, 101)]
    assert 50 + int(np.argmax(indices)) == pytest.approx(80, abs=6)
    assert max(indices) == pytest.approx(1.3658, abs=2e-4)


def test_protein_refracts_by_its_increment():
    # dn/dc of proteins in water, 0.185 mL/g, from memory: 1 g per 100 mL adds 0.00185.
    water, solution = liquid(water=100.0), liquid(water=99.26, protein=1.0)
    rise = refractive_index(solution).item() - refractive_index(water).item()
    assert rise == pytest.approx(0.00185, rel=0.03)


def test_without_a_liquid_there_is_no_index():
    assert np.isnan(refractive_index(liquid())).all()
    assert np.isnan(refractive_index(liquid(insoluble=4.0, co2=1.0))).all()


@given(st.floats(0.0, 30.0), st.floats(0.0, 40.0), st.floats(0.0, 5.0), st.floats(0.1, 10.0))
def test_the_amount_of_a_liquid_does_not_change_its_index(ethanol_g, sugar_g, acid_g, factor):
    drink = liquid(water=70.0, ethanol=ethanol_g, sucrose=sugar_g, citric=acid_g)
    assert refractive_index(drink * factor).item() == pytest.approx(refractive_index(drink).item(), abs=1e-12)


@given(st.floats(0.0, 40.0), st.floats(0.0, 60.0))
def test_nothing_in_a_drink_refracts_less_than_water(ethanol_g, sugar_g):
    drink = liquid(water=60.0, ethanol=ethanol_g, sucrose=sugar_g)
    assert refractive_index(drink).item() >= refractive_index(liquid(water=60.0)).item()
