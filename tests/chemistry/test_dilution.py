"""Dilution on ice against the published regression table."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.chemistry.liquids import liquid
from washline.chemistry.dilution import (
    shaken_water_ml_per_ml,
    stirred_water_ml_per_ml,
    strength_after_dilution,
)
from washline.chemistry.mixture import composition_from_label, strength_pct_vol

# D. Arnold 2014, Liquid Intelligence, from memory: % vol before ice, mL of water per 100 mL shaken and stirred.
REGRESSION_TABLE = [
    (10, 36.2, 25.8),
    (15, 42.9, 30.5),
    (20, 48.9, 34.6),
    (25, 54.1, 38.1),
    (30, 58.5, 41.0),
    (35, 62.1, 43.3),
]


@pytest.mark.parametrize("strength, shaken, stirred", REGRESSION_TABLE)
def test_ice_gives_the_water_of_the_regressions(strength, shaken, stirred):
    assert 100 * shaken_water_ml_per_ml(strength / 100) == pytest.approx(shaken, abs=0.06)
    assert 100 * stirred_water_ml_per_ml(strength / 100) == pytest.approx(stirred, abs=0.06)


@pytest.mark.parametrize("before, after", [(22.9, 15.0), (29.3, 18.6)])
def test_shaken_classics_are_served_as_strong_as_the_book_says(before, after):
    # The book's own shaken rows, from memory.
    assert strength_after_dilution(before, shaken_water_ml_per_ml(before / 100)) == pytest.approx(
        after, abs=0.1
    )


def test_a_stirred_bitter_classic_is_served_as_strong_as_the_book_says():
    # The book's table of classic drinks, from memory: 29.3 % vol stirred to 20.7, 90 mL to about 127 mL.
    water = stirred_water_ml_per_ml(0.293)
    assert strength_after_dilution(29.3, water) == pytest.approx(20.7, abs=0.5)
    assert 90 * (1 + water) == pytest.approx(127, abs=1.0)


@given(st.floats(0.10, 0.35))
def test_shaking_gives_more_water_than_stirring(strength_fraction):
    assert shaken_water_ml_per_ml(strength_fraction) > stirred_water_ml_per_ml(strength_fraction)


@given(st.floats(10.0, 35.0))
def test_strength_by_volumes_agrees_with_strength_by_masses(strength):
    # The exact way: masses, then the volume of the mix with its contraction.
    water = shaken_water_ml_per_ml(strength / 100)
    diluted = composition_from_label(strength, liquid()) + liquid(water=998.2 * water)
    exact = strength_pct_vol(diluted).item()
    assert strength_after_dilution(strength, water) == pytest.approx(exact, abs=0.03)
