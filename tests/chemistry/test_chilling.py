"""Chilling on ice: against IAPWS, published dilutions and the physical reference; and the laws that every glass obeys."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from iapws import IAPWS95
from iapws._iapws import _Ice

from tests.chemistry.liquids import columns, liquid
from washline.chemistry.chilling import approach, chill, ice_heat_j_per_g
from washline.chemistry.components import WATER
from washline.chemistry.dilution import shaken_water_ml_per_ml, stirred_water_ml_per_ml
from washline.chemistry.freezing import freezing_point_c
from washline.chemistry.heat import enthalpy_j, heat_of_mixing_j
from washline.chemistry.mixture import composition_from_label, strength_pct_vol, volume_ml

FUSION_J_PER_G = 333.55


def drink(strength, sugar=60.0, acid=0.0, ml=100.0):
    return composition_from_label(strength, liquid(sucrose=sugar, citric=acid)) * (ml / 1000.0)


def taken_up(masses, start_c=20.0, **conditions):
    """Water from the ice and from its surface, g."""
    found = chill(masses, start_c, **{"ice_g": 200.0, **conditions})
    return (found.melted_g + found.surface_water_g).item()


# Physical reference, section e: the presets that reproduce the regressions.
PRESETS = {
    "shaken": {"ice_g_per_ml": 2.0, "wet": 0.03, "approach": 1.0, "core": 1.0},
    "stirred": {"ice_g_per_ml": 2.0, "wet": 0.0, "approach": 0.9, "core": 0.5},
    "dry_shake": {"ice_g_per_ml": 0.0, "wet": 0.0, "approach": 1.0, "core": 1.0},
}


def preset_conditions(key, ml=100.0):
    preset = PRESETS[key]
    ice_g = preset["ice_g_per_ml"] * ml
    return {
        "ice_g": ice_g,
        "surface_water_g": ice_g * preset["wet"],
        "approach": preset["approach"],
        "core": preset["core"],
    }


def served(masses, key, ml=100.0):
    """The drink as strained, with what it took up by a preset."""
    found = chill(masses, 20.0, **preset_conditions(key, ml))
    after = masses.copy()
    after[WATER] += found.melted_g + found.surface_water_g
    return after


# Physical reference, section e: 100 mL at 20 degC, 2 g of ice per mL; g taken up and end temperature.
@pytest.mark.parametrize(
    "strength, shaken_g, shaken_c, stirred_g, stirred_c",
    [
        (5, 35.4, -1.5, 24.3, 0.7),
        (10, 39.6, -2.8, 26.9, -0.5),
        (15, 43.9, -4.1, 30.2, -1.8),
        (20, 48.7, -5.4, 33.6, -3.1),
        (25, 53.8, -6.7, 37.6, -4.4),
        (30, 59.3, -8.1, 41.5, -5.8),
        (35, 64.8, -9.6, 46.0, -7.2),
        (40, 70.8, -11.0, 50.3, -8.7),
    ],
)
def test_the_presets_give_the_table_of_the_reference(strength, shaken_g, shaken_c, stirred_g, stirred_c):
    shaken, stirred = preset_conditions("shaken"), preset_conditions("stirred")
    assert taken_up(drink(strength), **shaken) == pytest.approx(shaken_g, abs=0.06)
    assert taken_up(drink(strength, 40.0), **stirred) == pytest.approx(stirred_g, abs=0.06)
    assert chill(drink(strength), 20.0, **shaken).end_c.item() == pytest.approx(shaken_c, abs=0.06)
    assert chill(drink(strength, 40.0), 20.0, **stirred).end_c.item() == pytest.approx(stirred_c, abs=0.06)


@pytest.mark.parametrize("strength", [12, 15, 20, 25, 28])
def test_shaken_the_balance_agrees_with_the_published_regression(strength):
    # D. Arnold 2014, Liquid Intelligence (from memory), mL per 100 mL; the spread claimed is 2.2.
    published = shaken_water_ml_per_ml(strength / 100.0) * 100.0
    assert taken_up(drink(strength), **preset_conditions("shaken")) == pytest.approx(published, abs=2.3)


@pytest.mark.parametrize("strength", [17, 20, 25, 30, 33])
def test_stirred_the_balance_agrees_with_the_published_regression(strength):
    # The same source; the spread claimed is 1.8.
    published = stirred_water_ml_per_ml(strength / 100.0) * 100.0
    assert taken_up(drink(strength, 40.0), **preset_conditions("stirred")) == pytest.approx(
        published, abs=1.9
    )


# The same book's table of classic drinks (from memory): % vol before ice and as served; sugar and acid (g/L) are those of
# the served drink times its growth.
@pytest.mark.parametrize(
    "before, sugar, acid, how, served_pct_vol",
    [
        (22.9, 135.0, 13.0, "shaken", 15.0),
        (29.3, 95.0, 12.0, "shaken", 18.5),
        (29.3, 132.0, 2.0, "stirred", 20.7),
    ],
)
def test_a_classic_drink_comes_out_as_strong_as_published(before, sugar, acid, how, served_pct_vol):
    after = served(drink(before, sugar, acid), how)
    assert strength_pct_vol(after).item() == pytest.approx(served_pct_vol, abs=0.8)


def test_ninety_ml_stirred_become_as_much_as_published():
    # 90 -> about 127 mL, same source.
    after = served(drink(29.3, 132.0, 2.0, ml=90.0), "stirred", ml=90.0)
    assert volume_ml(after).item() == pytest.approx(127.0, abs=3.0)


# Physical reference, section e: 20 % vol, 60 g/L, 100 mL, drained ice: base 42.9.
@pytest.mark.parametrize(
    "conditions, grams",
    [
        ({}, 42.9),
        ({"start_c": 15.0}, 37.1),
        ({"start_c": 5.0}, 25.6),
        ({"ice_c": -10.0}, 31.4),
        ({"surface_water_g": 10.0}, 52.6),
        ({"vessel_j_per_k": 200.0 * 0.50}, 50.0),
        ({"core": 0.0}, 37.2),
        ({"ice_g": 100.0}, 39.5),
    ],
)
def test_what_moves_the_melt_moves_it_as_the_reference_says(conditions, grams):
    assert taken_up(drink(20), **conditions) == pytest.approx(grams, abs=0.06)


@pytest.mark.parametrize("start_c", [5, 10, 20, 30])
def test_water_melts_the_ice_that_iapws_says(start_c):
    # Enthalpy of water by IAPWS-95 (library iapws) over the heat of fusion, 333.4 to 333.6 J/g (CRC, IAPWS-06).
    states = [IAPWS95(T=celsius + 273.15, P=0.101325) for celsius in (start_c, 0.001)]
    published = (states[0].h - states[1].h) * 100.0 / 333.5
    found = chill(liquid(water=100.0), float(start_c), ice_g=200.0)
    assert found.melted_g.item() == pytest.approx(published, rel=0.006)
    assert found.end_c.item() == 0.0


def test_little_ice_melts_wholly_and_leaves_the_water_as_warm_as_iapws_says():
    heat_j = IAPWS95(T=303.15, P=0.101325).h * 100.0 - 20.0 * 333.5
    mixed = IAPWS95(P=0.101325, h=heat_j / 120.0)
    found = chill(liquid(water=100.0), 30.0, ice_g=20.0)
    assert found.melted_g.item() == 20.0
    assert found.end_c.item() == pytest.approx(mixed.T - 273.15, abs=0.1)


@pytest.mark.parametrize("celsius", [-5, -10, -20, -40])
def test_ice_holds_the_heat_that_iapws_says(celsius):
    # IAPWS-06 by the library iapws, kJ/kg.
    published = _Ice(celsius + 273.15, 0.101325)["h"] - _Ice(273.15, 0.101325)["h"]
    assert ice_heat_j_per_g(float(celsius)) == pytest.approx(published, rel=0.005)


def test_at_equilibrium_a_drink_stands_at_its_freezing_point():
    before = drink(22)
    found = chill(before, 20.0, ice_g=300.0)
    after = before.copy()
    after[WATER] += found.melted_g
    assert found.end_c.item() == pytest.approx(freezing_point_c(after).item(), abs=1e-9)
    assert found.equilibrium_c.item() == found.end_c.item()


def test_ice_from_a_deep_freezer_melts_nothing_and_stops_at_the_freezing_point():
    weak = drink(3, 20.0)
    found = chill(weak, 2.0, ice_g=300.0, ice_c=-30.0)
    assert found.melted_g.item() == 0.0
    assert found.end_c.item() == pytest.approx(freezing_point_c(weak).item(), abs=1e-12)
    assert found.cold_left_j.item() > 0.0


def test_a_frozen_vessel_without_ice_cools_no_further_than_the_freezing_point():
    # 500 g of glass at -18 degC around 60 mL of juice.
    juice = drink(0, 100.0, ml=60.0)
    found = chill(juice, 1.0, ice_g=0.0, vessel_j_per_k=420.0, vessel_c=-18.0)
    assert found.end_c.item() == pytest.approx(freezing_point_c(juice).item(), abs=1e-12)
    assert found.cold_left_j.item() > 0.0


def test_shaken_without_ice_nothing_changes():
    found = chill(drink(20), 20.0, **preset_conditions("dry_shake"))
    assert found.melted_g.item() == 0.0
    assert found.end_c.item() == pytest.approx(20.0, abs=1e-9)
    assert found.cold_left_j.item() == 0.0


def test_the_heat_of_mixing_melts_more_ice():
    # 4 g per 100 mL at 30 % vol (physical reference, section e): what the drink would melt without that heat is left.
    spirit = drink(30)
    found = chill(spirit, 20.0, ice_g=200.0)
    after = spirit.copy()
    after[WATER] += found.melted_g
    mixing_j = heat_of_mixing_j(spirit) - heat_of_mixing_j(after)
    without = chill(spirit, 20.0, ice_g=200.0, outside_j=-mixing_j)
    assert 2.0 < (found.melted_g - without.melted_g).item() < 6.0


def test_freezer_spirit_melts_ice_and_gets_colder_on_it():
    # A freezing mixture: at -18 degC a spirit of 40 % vol is above its freezing point (-23.5) and eats ice.
    found = chill(drink(40, 0.0), -18.0, ice_g=200.0, ice_c=-18.0)
    assert found.melted_g.item() > 0.0
    assert found.end_c.item() < -18.0


def test_wet_ice_dilutes_more_than_drained_ice():
    assert taken_up(drink(20), surface_water_g=8.0) > taken_up(drink(20)) + 5.0


def test_a_warm_tin_melts_more_and_a_cold_one_does_not():
    plain = taken_up(drink(20))
    assert taken_up(drink(20), vessel_j_per_k=100.0, vessel_c=20.0) > plain + 5.0
    assert taken_up(drink(20), vessel_j_per_k=100.0, vessel_c=-18.0) < plain


def test_short_of_equilibrium_a_drink_is_warmer_and_weaker_diluted():
    half, whole = (chill(drink(25), 20.0, ice_g=200.0, approach=part) for part in (0.5, 1.0))
    assert half.melted_g < whole.melted_g
    assert half.end_c.item() == pytest.approx((20.0 + whole.end_c.item()) / 2.0, abs=1e-9)
    assert half.equilibrium_c.item() == whole.equilibrium_c.item()


def test_no_time_changes_nothing():
    found = chill(drink(25), 20.0, ice_g=200.0, approach=0.0, core=0.0)
    assert (found.melted_g.item(), found.end_c.item()) == (0.0, 20.0)


def test_a_drink_in_a_hot_vessel_goes_all_the_way():
    found = chill(drink(0, 0.0), 5.0, ice_g=10.0, vessel_j_per_k=500.0, vessel_c=90.0, approach=0.3)
    assert found.melted_g.item() == 10.0
    assert found.end_c.item() == found.equilibrium_c.item() > 5.0


def test_a_slush_is_not_warmed_by_its_ice():
    slush = drink(5, 50.0)
    assert chill(slush, -8.0, ice_g=100.0).end_c.item() == -8.0


def test_overproof_spirit_and_nothing_have_no_end():
    overproof = chill(liquid(ethanol=50.0, water=2.0), -40.0, ice_g=200.0, ice_c=-40.0)
    assert np.isnan([overproof.melted_g[0], overproof.end_c[0], overproof.cold_left_j[0]]).all()
    assert np.isnan(chill(liquid(), 20.0, ice_g=0.0).end_c).all()


def test_an_unknown_temperature_is_no_end_and_not_zero():
    found = chill(columns(drink(20), drink(20)), np.array([np.nan, 20.0]), ice_g=200.0)
    assert np.isnan([found.melted_g[0], found.end_c[0], found.cold_left_j[0]]).all()
    assert found.melted_g[1] == chill(drink(20), 20.0, ice_g=200.0).melted_g[0]


def test_no_columns_are_an_empty_answer():
    assert chill(np.zeros((24, 0)), np.zeros(0), ice_g=200.0).end_c.shape == (0,)


def test_time_brings_a_drink_nearer_by_an_exponential():
    # 1 - 1/e after one time constant; shaking is complete in 12 to 15 s (D. Arnold, bench reports, from memory).
    assert approach(30.0, 30.0) == pytest.approx(0.6321206, abs=1e-6)
    assert approach(0.0, 30.0) == 0.0
    assert 0.9 < approach(12.0, 4.5) < approach(15.0, 4.0) < 1.0


@st.composite
def glasses(draw):
    """A drink, its temperature, and what stands around it: as arguments of ``chill``."""
    strength, sugar = draw(st.floats(0.0, 45.0)), draw(st.floats(0.0, 200.0))
    masses = drink(strength, sugar, draw(st.floats(0.0, 20.0)), draw(st.floats(20.0, 300.0)))
    conditions = {
        "ice_g": draw(st.one_of(st.just(0.0), st.floats(1.0, 500.0))),
        "ice_c": draw(st.one_of(st.just(0.0), st.floats(-30.0, 0.0))),
        "surface_water_g": draw(st.one_of(st.just(0.0), st.floats(0.0, 15.0))),
        "vessel_j_per_k": draw(st.one_of(st.just(0.0), st.floats(0.0, 300.0))),
        "vessel_c": draw(st.floats(-18.0, 30.0)),
        "outside_j": draw(st.one_of(st.just(0.0), st.floats(-2000.0, 3000.0))),
        "approach": draw(st.one_of(st.just(1.0), st.floats(0.0, 1.0))),
        "core": draw(st.floats(0.0, 1.0)),
    }
    return masses, draw(st.floats(0.0, 60.0)), conditions


def heat_j(masses, celsius, ice_g, ice_c, vessel_j_per_k, vessel_c):
    """All heat of a glass against water at 0 degC, unmixed, J."""
    liquid_j = enthalpy_j(masses, celsius)
    ice_j = ice_g * (ice_heat_j_per_g(ice_c) - FUSION_J_PER_G)
    return (liquid_j + vessel_j_per_k * vessel_c + ice_j).item()


@given(glasses())
def test_no_heat_is_made_or_lost(glass):
    masses, start_c, given_ = glass
    found = chill(masses, start_c, **given_)
    after, end_c, vessel = masses.copy(), found.end_c.item(), given_["vessel_j_per_k"]
    after[WATER] += found.melted_g + found.surface_water_g
    rest_c = given_["ice_c"] + given_["core"] * (min(end_c, 0.0) - given_["ice_c"])
    before_j = heat_j(masses, start_c, given_["ice_g"], given_["ice_c"], vessel, given_["vessel_c"])
    after_j = heat_j(after, end_c, given_["ice_g"] - found.melted_g.item(), rest_c, vessel, end_c)
    apart_j = before_j + given_["outside_j"] - (after_j - found.cold_left_j.item())
    size_j = abs(enthalpy_j(masses, start_c).item()) + FUSION_J_PER_G * given_["ice_g"] + abs(before_j) + 1.0
    assert abs(apart_j) < 1e-9 * size_j


@given(glasses())
def test_no_drink_ends_below_its_freezing_point(glass):
    masses, start_c, given_ = glass
    found = chill(masses, start_c, **given_)
    after = masses.copy()
    after[WATER] += found.melted_g + found.surface_water_g
    assert found.end_c.item() >= freezing_point_c(after).item() - 1e-9
    assert 0.0 <= found.melted_g.item() <= given_["ice_g"]


@given(glasses(), st.floats(1.0, 300.0))
def test_more_ice_never_gives_a_warmer_drink_unless_the_ice_is_warmer(glass, more_g):
    masses, start_c, given_ = glass
    less, more = (
        chill(masses, start_c, **{**given_, "ice_g": given_["ice_g"] + added_g}) for added_g in (0.0, more_g)
    )
    # Short of the end, too, it is the temperature at rest that ice warmer than it raises.
    assume(given_["ice_c"] <= more.equilibrium_c.item())
    assert more.end_c.item() <= less.end_c.item() + 1e-9


@given(glasses(), st.floats(1.0, 300.0))
def test_more_ice_at_nought_never_warms_a_drink_whose_core_of_ice_stays_cold(glass, more_g):
    masses, start_c, given_ = glass
    drained = {**given_, "ice_c": 0.0, "core": 0.0}
    less, more = (
        chill(masses, start_c, **{**drained, "ice_g": given_["ice_g"] + added_g}) for added_g in (0.0, more_g)
    )
    assert more.end_c.item() <= less.end_c.item() + 1e-9


@given(glasses(), st.floats(0.1, 20.0))
def test_at_rest_a_warmer_drink_never_melted_less(glass, warmer_k):
    masses, start_c, given_ = glass
    cool, warm = (
        chill(masses, celsius, **{**given_, "approach": 1.0}) for celsius in (start_c, start_c + warmer_k)
    )
    assert warm.melted_g.item() >= cool.melted_g.item() - 1e-7


@settings(max_examples=30)
@given(st.lists(glasses(), min_size=2, max_size=5))
def test_a_glass_alone_is_the_glass_among_others(several):
    together = chill(
        columns(*(masses for masses, _, _ in several)),
        np.array([start_c for _, start_c, _ in several]),
        **{name: np.array([given_[name] for _, _, given_ in several]) for name in several[0][2]},
    )
    for index, (masses, start_c, given_) in enumerate(several):
        alone = chill(masses, start_c, **given_)
        assert [part.tobytes() for part in alone] == [part[index : index + 1].tobytes() for part in together]
