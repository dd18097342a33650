"""Ethanol of a serve and national units."""

import numpy as np
import pytest

from washline.chemistry.alcohol import ethanol_g, standard_drink, standard_drinks, units, us_proof
from washline.chemistry.ethanol_water import mass_fraction_from_strength
from washline.chemistry.gauging import proof_from_mass_fraction
from washline.problem import UserError


@pytest.mark.parametrize("volume_ml, strength, grams", [(50, 40, 15.785), (25, 40, 7.892), (175, 12, 16.574)])
def test_a_serve_holds_its_grams_of_ethanol(volume_ml, strength, grams):
    # OIML R 22: 0.78924 g/mL.
    assert ethanol_g(float(volume_ml), float(strength)) == pytest.approx(grams, abs=0.001)


def test_a_uk_unit_is_ten_millilitres_of_ethanol():
    # UK definition: 25 mL of 40 % vol is 1.0 unit, 50 mL 2.0.
    assert units(ethanol_g(25.0, 40.0), "uk") == pytest.approx(1.0, abs=1e-12)
    assert units(ethanol_g(50.0, 40.0), "uk") == pytest.approx(2.0, abs=1e-12)
    assert standard_drink("uk").stated_g == 8.0
    assert standard_drink("uk").grams == pytest.approx(7.8924)


@pytest.mark.parametrize(
    "country, grams",
    [
        ("us", 14),
        ("au", 10),
        ("ie", 10),
        ("nz", 10),
        ("ca", 13.45),
        ("dk", 12),
        ("it", 12),
        ("at", 20),
        ("jp", 20),
    ],
)
def test_other_units_are_counted_by_their_grams(country, grams):
    # WHO and national guidance as compiled in public tables.
    assert units(2.5 * grams, country) == pytest.approx(2.5, rel=1e-12)
    assert standard_drink(country).grams == grams


def test_a_us_standard_drink_is_about_45_ml_of_spirit():
    # NIAAA: 1.5 fl oz (44.4 mL) of 40 % vol is one standard drink of 14 g, from memory.
    assert units(ethanol_g(44.36, 40.0), "us") == pytest.approx(1.0, abs=0.01)


def test_every_country_has_its_own_key_and_a_place_to_show():
    drinks = standard_drinks()
    assert len({drink.key for drink in drinks}) == len(drinks) == 16
    assert all(drink.place and 7.5 < drink.grams <= 20 for drink in drinks)


def test_many_serves_are_counted_at_once():
    assert units(np.array([14.0, 28.0]), "us").tolist() == pytest.approx([1.0, 2.0])


def test_an_unknown_country_is_refused_with_the_known_ones():
    with pytest.raises(UserError, match=r"'xx'.*uk, us, au"):
        units(10.0, "xx")


@pytest.mark.parametrize("strength, proof", [(40.0, 80.0), (50.0, 100.0), (47.0, 94.0)])
def test_us_proof_is_twice_the_percent_by_volume(strength, proof):
    # 27 CFR 5, from memory.
    assert us_proof(strength) == proof


@pytest.mark.parametrize("strength", [5.0, 20.0, 40.0, 60.0, 95.0])
def test_proof_of_a_label_lies_close_to_that_of_gauging_at_60_fahrenheit(strength):
    # 27 CFR 30.11 with the tables of OIML R 22.
    assert us_proof(strength) == pytest.approx(
        proof_from_mass_fraction(mass_fraction_from_strength(strength)), abs=0.2
    )
