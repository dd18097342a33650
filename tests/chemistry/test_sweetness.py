"""Sweetness by the published factors."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.chemistry.liquids import liquid
from washline.chemistry.sweetness import sucrose_equivalent_g


@pytest.mark.parametrize(
    "component, factor",
    [
        ("sucrose", 1.0),
        ("fructose", 1.2),
        ("glucose", 0.7),
        ("maltose", 0.4),
        ("lactose", 0.2),
        ("polyol", 0.6),
    ],
)
def test_each_sugar_counts_by_its_factor(component, factor):
    # Defaults of the physical reference, section g, from reviews PMC10346066, PMC3982014, PMC5756564.
    assert sucrose_equivalent_g(liquid(**{component: 50.0})).item() == pytest.approx(50.0 * factor, rel=1e-12)


def test_invert_sugar_is_about_as_sweet_as_sucrose():
    # PMC10346066: invert sugar 1.0-1.1 times sucrose; half glucose and half fructose give 0.95 here.
    invert = liquid(glucose=50.0, fructose=50.0)
    assert sucrose_equivalent_g(invert).item() == pytest.approx(100.0, abs=5.1)


def test_honey_is_about_as_sweet_as_the_same_mass_of_sugar():
    # Physical reference, section g: honey as is 1.0, range 0.9-1.2; sugars by USDA SR28 row 19296.
    honey = liquid(
        water=17.1, sucrose=0.89, glucose=35.75, fructose=40.94, maltose=1.44, other_carbohydrate=3.1
    )
    assert 70.0 <= sucrose_equivalent_g(honey).item() <= 120.0


def test_starch_alcohol_and_acid_are_not_sweet():
    assert (
        sucrose_equivalent_g(liquid(water=50.0, ethanol=40.0, other_carbohydrate=9.0, citric=1.0)).item()
        == 0.0
    )


@given(st.floats(0.0, 500.0), st.floats(0.0, 500.0))
def test_sweetness_of_a_mix_is_the_sum_of_its_parts(first_g, second_g):
    together = sucrose_equivalent_g(liquid(fructose=first_g, lactose=second_g)).item()
    apart = sucrose_equivalent_g(liquid(fructose=first_g)) + sucrose_equivalent_g(liquid(lactose=second_g))
    assert together == pytest.approx(apart.item(), rel=1e-12)
