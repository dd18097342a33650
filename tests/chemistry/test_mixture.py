"""Volume, density and strength of mixtures: worked examples, the CRC Handbook, and what must hold for any liquid."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.chemistry.liquids import columns, liquid
from washline.chemistry.components import CO2, COMPONENT_COUNT, ETHANOL, SUCROSE, WATER
from washline.chemistry.ethanol_water import density_kg_per_m3, mass_fraction_from_strength
from washline.chemistry.mixture import (
    composition_from_label,
    degassed_g,
    density_g_per_ml,
    strength_pct_vol,
    volume_ml,
)

# Any liquid of up to 1 kg of water, with up to 300 g of each other component.
any_liquid = st.lists(
    st.floats(0.0, 300.0), min_size=COMPONENT_COUNT - 1, max_size=COMPONENT_COUNT - 1
).flatmap(lambda others: st.floats(1.0, 1000.0).map(lambda water: np.array([[water, *others]]).T.copy()))


def spirit(volume: float, strength: float):
    """A spirit of ethanol and water: mL at 20 degC and % vol."""
    fraction = mass_fraction_from_strength(strength)
    mass_g = volume * density_kg_per_m3(fraction, 20.0) / 1000
    return liquid(water=mass_g * (1 - fraction), ethanol=mass_g * fraction)


# CRC Handbook 102nd ed. 2021, Concentrative Properties of Aqueous Solutions, g/mL at 20 degC; the largest misfit of
# the mixing model over each table is 0.7 kg/m3, maltose 1.9.
@pytest.mark.parametrize(
    "component, percent, density, tolerance",
    [
        ("glucose", 10, 1.0375, 0.0006),
        ("glucose", 40, 1.1724, 0.0006),
        ("fructose", 20, 1.0816, 0.0003),
        ("fructose", 48, 1.2187, 0.0004),
        ("lactose", 10, 1.0390, 0.0005),
        ("maltose", 20, 1.0801, 0.0020),
        ("polyol", 20, 1.0459, 0.0008),
        ("citric", 10, 1.0402, 0.0003),
        ("citric", 30, 1.1346, 0.0004),
        ("lactic", 10, 1.0199, 0.0007),
        ("acetic", 10, 1.0121, 0.0003),
        ("phosphoric", 20, 1.1135, 0.0008),
        ("nacl", 10, 1.0707, 0.0007),
        ("nacl", 26, 1.1972, 0.0007),
    ],
)
def test_a_solution_has_the_density_of_the_handbook(component, percent, density, tolerance):
    solution = liquid(**{"water": 100.0 - percent, component: percent})
    assert density_g_per_ml(solution).item() == pytest.approx(density, abs=tolerance)


def test_a_sweet_sour_liqueur_weighs_what_the_worked_example_says():
    # Physical reference, section c: 25 % vol, 300 g/L sucrose, 5 g/L citric acid.
    solutes = liquid(sucrose=300.0, citric=5.0)
    litre = composition_from_label(25.0, solutes)
    assert litre[ETHANOL, 0] == pytest.approx(197.31, abs=0.005)
    assert litre[WATER, 0] == pytest.approx(582.30, abs=0.01)
    assert density_g_per_ml(litre).item() == pytest.approx(1.08461, abs=1e-5)


def test_a_sour_takes_less_room_than_its_parts():
    # Physical reference, section c: 60 mL of 40 % vol, 22.5 mL of half syrup, 22.5 mL of juice with 60 g/L citric acid
    # (what else is dissolved in that juice is not said there, so its mass is not compared).
    syrup_g = 22.5 * 1.22965
    juice = composition_from_label(0.0, liquid(citric=60.0)) * 0.0225
    mixed = spirit(60.0, 40.0) + liquid(water=syrup_g / 2, sucrose=syrup_g / 2) + juice
    assert volume_ml(mixed).item() == pytest.approx(104.78, abs=0.03)
    assert strength_pct_vol(mixed).item() == pytest.approx(22.90, abs=0.01)


@pytest.mark.parametrize(
    "strength, sugar_g_per_l, density",
    [(8, 20, 0.9949), (12, 50, 1.0016), (17, 120, 1.0228), (16, 200, 1.0544), (25, 200, 1.0446)],
)
def test_density_agrees_with_the_excess_density_rule(strength, sugar_g_per_l, density):
    # Tabarie relation, OIV-MA-AS2-03B, from memory, with the OIML and ICUMSA tables: a second model, within 1 kg/m3.
    litre = composition_from_label(float(strength), liquid(sucrose=float(sugar_g_per_l)))
    assert density_g_per_ml(litre).item() == pytest.approx(density, abs=0.001)


def test_a_cold_drink_shrinks():
    # Physical reference, section c: at -5 degC a drink of 16 % vol and 80 g/L takes 0.9945 of its 20 degC volume.
    litre = composition_from_label(16.0, liquid(sucrose=80.0))
    assert volume_ml(litre, -5.0).item() / 1000 == pytest.approx(0.9945, abs=0.0002)


def test_carbonation_changes_neither_volume_nor_density_nor_strength():
    still = liquid(water=80.0, ethanol=10.0, sucrose=10.0)
    sparkling = still + liquid(co2=0.7)
    for reading in (volume_ml, density_g_per_ml, strength_pct_vol, degassed_g):
        assert reading(sparkling).item() == reading(still).item()


def test_nothing_has_no_volume_and_no_density():
    nothing = liquid()
    assert volume_ml(nothing).item() == 0.0
    assert np.isnan(density_g_per_ml(nothing)).all()
    assert np.isnan(strength_pct_vol(nothing)).all()


def test_an_unknown_amount_leaves_the_volume_unknown():
    assert np.isnan(volume_ml(np.full((COMPONENT_COUNT, 1), np.nan))).all()


def test_a_dry_sugar_has_a_volume_and_no_strength():
    assert volume_ml(liquid(sucrose=100.0)).item() == pytest.approx(64.3, abs=0.1)
    assert strength_pct_vol(liquid(sucrose=100.0)).item() == 0.0


def test_a_label_that_fits_no_litre_has_no_composition():
    assert np.isnan(composition_from_label(90.0, liquid(sucrose=900.0))).all()


def test_in_a_batch_only_the_impossible_label_has_no_composition():
    solutes = columns(liquid(sucrose=900.0), liquid(sucrose=300.0, citric=5.0))
    litres = composition_from_label(np.array([90.0, 25.0]), solutes)
    assert np.isnan(litres[:, 0]).all()
    assert litres[WATER, 1] == pytest.approx(582.30, abs=0.01)


def test_a_label_leaves_the_given_array_as_it_was():
    solutes = liquid(sucrose=100.0)
    composition_from_label(20.0, solutes)
    assert solutes[WATER, 0] == 0.0


@given(st.floats(0.0, 45.0), st.floats(0.0, 400.0), st.floats(0.0, 60.0))
def test_a_label_gives_back_a_litre_of_its_strength(strength, sugar_g, acid_g):
    litre = composition_from_label(strength, liquid(sucrose=sugar_g, citric=acid_g))
    assert volume_ml(litre).item() == pytest.approx(1000.0, abs=1e-8)
    assert strength_pct_vol(litre).item() == pytest.approx(strength, abs=1e-9)


@given(any_liquid, st.floats(0.1, 50.0))
def test_twice_the_liquid_takes_twice_the_room(masses, factor):
    assert volume_ml(masses * factor).item() == pytest.approx(factor * volume_ml(masses).item(), rel=1e-12)
    assert density_g_per_ml(masses * factor).item() == pytest.approx(
        density_g_per_ml(masses).item(), rel=1e-12
    )


@given(st.floats(0.0, 100.0), st.floats(0.0, 100.0), st.floats(1.0, 500.0), st.floats(1.0, 500.0))
def test_a_mix_is_as_strong_as_something_between_its_parts(first, second, first_ml, second_ml):
    mixed = strength_pct_vol(spirit(first_ml, first) + spirit(second_ml, second)).item()
    assert min(first, second) - 2e-4 <= mixed <= max(first, second) + 2e-4


@given(st.floats(0.0, 100.0), st.floats(0.0, 100.0), st.floats(1.0, 500.0), st.floats(1.0, 500.0))
def test_mass_of_ethanol_is_kept_by_mixing(first, second, first_ml, second_ml):
    mixed = spirit(first_ml, first) + spirit(second_ml, second)
    ethanol_g = strength_pct_vol(mixed).item() / 100 * volume_ml(mixed).item() * 0.78924
    assert ethanol_g == pytest.approx(mixed[ETHANOL, 0], rel=1e-9, abs=1e-9)


@given(any_liquid)
def test_carbon_dioxide_weighs_nothing_in_the_degassed_mass(masses):
    gas_g = masses[CO2, 0]
    assert degassed_g(masses).item() == pytest.approx(sum(masses[:, 0].tolist()) - gas_g, rel=1e-9)


@given(any_liquid)
def test_more_of_anything_takes_more_room(masses):
    more = masses.copy()
    more[SUCROSE, 0] += 10.0
    assert volume_ml(more).item() > volume_ml(masses).item()
