"""Energy by the factors of Regulation (EU) 1169/2011, Annex XIV."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.chemistry.liquids import liquid
from washline.chemistry.components import COMPONENT_COUNT, COMPONENTS
from washline.chemistry.energy import energy_factors, energy_kcal, energy_kj


@pytest.mark.parametrize(
    "nutrient, kj, kcal",
    [
        ("carb", 17, 4),
        ("polyol", 10, 2.4),
        ("protein", 17, 4),
        ("fat", 37, 9),
        ("alcohol", 29, 7),
        ("acid", 13, 3),
        ("fibre", 8, 2),
        ("erythritol", 0, 0),
    ],
)
def test_the_factors_are_those_of_the_regulation(nutrient, kj, kcal):
    assert energy_factors("kJ/g")[nutrient] == kj
    assert energy_factors("kcal/g")[nutrient] == kcal


@pytest.mark.parametrize(
    "component, kj",
    [
        ("water", 0),
        ("ethanol", 29),
        ("sucrose", 17),
        ("lactose", 17),
        ("other_carbohydrate", 17),
        ("polyol", 10),
        ("citric", 13),
        ("ascorbic", 13),
        ("other_acid", 13),
        ("phosphoric", 0),
        ("nacl", 0),
        ("other_solids", 0),
        ("protein", 17),
        ("fat", 37),
        ("fibre", 8),
        ("insoluble", 8),
        ("co2", 0),
    ],
)
def test_each_component_gives_the_energy_of_its_nutrient(component, kj):
    assert energy_kj(liquid(**{component: 10.0})).item() == 10 * kj


def test_kilojoule_and_kilocalorie_are_counted_apart():
    # Annex XIV rounds both sets: 20 g sugar and 10 g ethanol are 630 kJ and 150 kcal, not 630 / 4.184 = 150.6.
    drink = liquid(water=100.0, ethanol=10.0, sucrose=20.0)
    assert energy_kj(drink).item() == 630.0
    assert energy_kcal(drink).item() == 150.0


def test_energy_of_pure_alcohol_agrees_with_its_heat_of_combustion():
    # Heat of combustion of ethanol 29.7 kJ/g (Kharasch 1929 by the CRC Handbook, from memory): 2 % above the factor.
    assert energy_kj(liquid(ethanol=1.0)).item() == pytest.approx(29.7, rel=0.03)


@given(st.lists(st.floats(0.0, 100.0), min_size=COMPONENT_COUNT, max_size=COMPONENT_COUNT))
def test_a_kilocalorie_is_about_4_2_kilojoule_for_any_liquid(grams):
    drink = liquid(**dict(zip(COMPONENTS, grams, strict=True)))
    assert energy_kj(drink).item() == pytest.approx(4.2 * energy_kcal(drink).item(), rel=0.05, abs=1e-9)
