"""Freezing points against the CRC Handbook and published rules, the ice line against IAPWS, and ice in a slush."""

import csv
import warnings
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95
from iapws._iapws import _Ice

from tests.chemistry.liquids import liquid
from washline.chemistry.components import COMPONENT_COUNT, COMPONENTS
from washline.chemistry.freezing import (
    COLDEST_C,
    freezing_point_c,
    freezing_point_from_osmolality,
    freezing_solutes,
    highest_molality,
    ice_line_osmolality,
    ice_line_temperature_c,
    ice_mass_fraction,
    is_on_ice_line,
    osmolality_of_solutes,
    osmolality_terms,
)
from washline.chemistry.mixture import composition_from_label
from washline.chemistry.molality import SOLUTES, molalities

CRC = Path(__file__).parent.parent / "reference" / "freezing_point.csv"


def freezing(**grams):
    return freezing_point_c(liquid(**grams)).item()


def crc_rows():
    with CRC.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            name, _, fraction = row["inputs"].partition("=")
            solute = name.removeprefix("w_").replace("glycerol", "polyol")
            if row["quantity"] == "freezing_point" and solute in COMPONENTS:
                yield solute, float(fraction), float(row["value"]), float(row["tolerance"])


@pytest.mark.parametrize("solute, fraction, celsius, tolerance", list(crc_rows()))
def test_a_solution_freezes_where_the_handbook_says(solute, fraction, celsius, tolerance):
    # The sources stand in the file: CRC Handbook 102nd ed. 2021, Melinder 2010.
    found = freezing(water=1.0 - fraction, **{solute: fraction})
    assert found == pytest.approx(celsius, abs=tolerance)


@pytest.mark.parametrize("celsius", [-1, -5, -10, -15, -20, -30])
def test_the_ice_line_is_that_of_iapws(celsius):
    # Difference of the Gibbs energies of ice (IAPWS-06) and of supercooled water (IAPWS-95, extrapolated), kJ/kg, over RT
    # with the specific gas constant of water, as moles of ideal particles in a kilogram of water.
    kelvin = celsius + 273.15
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        ice, water = _Ice(kelvin, 0.101325), IAPWS95(T=kelvin, P=0.101325)
    logarithm = (ice["g"] - water.g) / (0.46151805 * kelvin)
    published = -logarithm * 1000.0 / 18.015268
    assert ice_line_osmolality(float(celsius)) == pytest.approx(
        published, rel=0.01 if celsius < -20 else 0.004
    )


@pytest.mark.parametrize(
    "celsius, osmolality",
    [(-1, 0.538), (-2, 1.076), (-5, 2.695), (-10, 5.402), (-15, 8.121), (-20, 10.850)],
)
def test_the_ice_line_has_the_values_of_the_reference(celsius, osmolality):
    # Physical reference, section d.
    assert ice_line_osmolality(float(celsius)) == pytest.approx(osmolality, abs=0.0006)


def test_the_polynomial_is_the_ice_line_solved():
    celsius = np.linspace(COLDEST_C, 0.0, 9001)
    solved = freezing_point_from_osmolality(ice_line_osmolality(celsius))
    assert np.abs(solved - celsius).max() < 1e-8


def test_the_ice_line_ends_where_it_says():
    ends = freezing_point_from_osmolality(np.array([-0.001, 0.0, 24.5, 24.7, 1e80]))
    assert np.isnan(ends).tolist() == [True, False, False, True, True]
    assert ends[1] == 0.0


@pytest.mark.parametrize(
    "name, masses, celsius, error",
    [
        ("strong liqueur", composition_from_label(25.0, liquid(sucrose=300.0)), -21.0, 1.0),
        (
            "dry wine",
            composition_from_label(12.0, liquid(polyol=7.0, tartaric=6.0, glucose=1.0, fructose=2.0)),
            -4.7,
            0.4,
        ),
        (
            "orange juice",
            liquid(water=88.3, sucrose=4.3, glucose=2.0, fructose=2.2, citric=0.9, other_solids=0.4),
            -1.2,
            0.25,
        ),
        (
            "milk",
            liquid(water=88.0, lactose=4.7, protein=3.3, fat=3.4, nacl=0.1, other_solids=0.5),
            -0.53,
            0.08,
        ),
        ("sea water", liquid(water=96.5, nacl=3.5), -2.1, 0.15),
    ],
)
def test_a_mixture_freezes_where_practice_says(name, masses, celsius, error):
    # Physical reference, section d; milk -0.52 to -0.54 (EN ISO 5764) and a 3.5 % brine from memory.
    assert freezing_point_c(masses).item() == pytest.approx(celsius, abs=error), name


def test_spirit_stays_liquid_in_a_freezer():
    # 40 % vol freezes near -23 to -27 degC (common practice, no source; Melinder at 33.3 % by mass: about -23).
    assert freezing_point_c(composition_from_label(40.0, liquid())).item() == pytest.approx(-23.5, abs=1.0)


def test_sugar_and_ethanol_lower_more_together_than_apart():
    # Cross terms: -0.2 K at 20 % vol and 60 g/L, -0.9 K at 200 g/L (physical reference, section d).
    names = ("ethanol", "sucrose")
    for grams, shift_k in ((60.0, -0.2), (200.0, -0.9)):
        litre = composition_from_label(20.0, liquid(sucrose=grams))
        water_kg = litre[0, 0] / 1000.0
        mol = np.array([[litre[1, 0] / 46.068], [grams / 342.296]]) / water_kg
        apart = osmolality_of_solutes(names[:1], mol[:1]) + osmolality_of_solutes(names[1:], mol[1:])
        shift = freezing_point_c(litre) - freezing_point_from_osmolality(apart)
        assert shift.item() == pytest.approx(shift_k, abs=0.1)


def test_dissolved_gas_is_not_counted():
    assert freezing(water=1000.0, sucrose=50.0, co2=7.0) == freezing(water=1000.0, sucrose=50.0)


def test_water_freezes_at_nought_and_nothing_freezes_nowhere():
    assert freezing(water=1.0) == 0.0
    assert np.isnan(freezing(sucrose=1.0))
    assert np.isnan(freezing(water=1.0, ethanol=50.0))
    assert freezing_point_c(np.zeros((COMPONENT_COUNT, 0))).shape == (0,)


def test_every_solute_of_a_composition_has_a_table_with_an_end():
    assert set(SOLUTES) <= set(freezing_solutes())
    assert all(highest_molality(solute) > 0.0 for solute in SOLUTES)
    with pytest.raises(KeyError):
        highest_molality("unobtainium")


# Largest g in 100 g of water that stays within the tables: 2.2 mol/kg of sucrose, 14 of ethanol and so on, halved.
WITHIN = {"sucrose": 37.0, "glucose": 22.0, "fructose": 19.0, "polyol": 32.0, "ethanol": 30.0, "nacl": 14.0}


@given(st.sampled_from(sorted(WITHIN)), st.floats(0.0, 0.9), st.floats(0.02, 0.1), st.floats(0.0, 15.0))
def test_every_solute_lowers_the_freezing_point(solute, there, more, fructose):
    base = {"water": 100.0, "fructose": fructose}
    weak = {**base, solute: base.get(solute, 0.0) + there * WITHIN[solute]}
    strong = {**weak, solute: weak[solute] + more * WITHIN[solute]}
    assert freezing(**strong) < freezing(**weak) <= 0.0


def test_half_the_water_is_ice_when_the_rest_is_twice_as_strong():
    # Balance of masses: 10 % sucrose (0.325 mol/kg) freezes as far as 0.649 mol/kg, which freezes at -1.29 degC.
    start = liquid(water=90.0, sucrose=10.0)
    at_c = freezing(water=45.0, sucrose=10.0)
    assert ice_mass_fraction(start, at_c).item() == pytest.approx(0.45, abs=1e-6)


def test_above_its_freezing_point_a_drink_holds_no_ice():
    drink = composition_from_label(12.0, liquid(sucrose=60.0))
    start_c = freezing_point_c(drink).item()
    assert ice_mass_fraction(drink, start_c + 0.01).item() == 0.0
    assert ice_mass_fraction(drink, 20.0).item() == 0.0
    assert 0.0 < ice_mass_fraction(drink, start_c - 0.01).item() < 0.01


@given(st.floats(5.0, 18.0), st.floats(30.0, 120.0), st.floats(0.1, 5.0))
def test_what_is_not_ice_freezes_just_there(strength, sucrose, colder_k):
    drink = composition_from_label(strength, liquid(sucrose=sucrose))
    at_c = freezing_point_c(drink).item() - colder_k
    ice_g = ice_mass_fraction(drink, at_c).item() * drink[:, 0].sum()
    left = drink.copy()
    left[0] -= ice_g
    assert freezing_point_c(left).item() == pytest.approx(at_c, abs=1e-6)


def test_colder_means_more_ice():
    drink = composition_from_label(8.0, liquid(sucrose=100.0))
    ice = [ice_mass_fraction(drink, celsius).item() for celsius in (-4.0, -6.0, -8.0, -12.0)]
    assert ice == sorted(ice)
    assert ice[0] > 0.0


def test_beyond_the_ice_line_and_without_water_there_is_no_share_of_ice():
    assert np.isnan(ice_mass_fraction(liquid(water=90.0, sucrose=10.0), -50.0)[0])
    assert np.isnan(ice_mass_fraction(liquid(sucrose=10.0), -5.0)[0])


@pytest.mark.parametrize("water_times", [0.5, 1.0, 2.0])
def test_the_terms_give_the_osmolality_with_more_or_less_water(water_times):
    drink = liquid(water=80.0, ethanol=15.0, sucrose=8.0, citric=1.0, nacl=0.2)
    diluted = drink.copy()
    diluted[0] *= water_times
    by_terms = sum(
        term.item() / water_times**power for power, term in enumerate(osmolality_terms(drink), start=1)
    )
    direct = osmolality_of_solutes(SOLUTES, molalities(diluted)).item()
    assert by_terms == pytest.approx(direct, rel=1e-12)


def test_the_held_ice_line_ends_flat_where_the_other_has_no_value():
    osmolality = np.array([-1.0, 0.0, 5.402, 24.5, 30.0, np.nan])
    held = ice_line_temperature_c(osmolality)
    assert held[[0, 1, 4, 5]].tolist() == pytest.approx([0.0, 0.0, COLDEST_C, COLDEST_C], abs=1e-7)
    assert is_on_ice_line(osmolality).tolist() == [False, True, True, True, False, False]
    both = freezing_point_from_osmolality(osmolality)
    assert both[1:4].tobytes() == held[1:4].tobytes()
    assert ice_line_temperature_c(5.402) == held[2]
