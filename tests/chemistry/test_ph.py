"""pH of compositions: kitchen liquids within their published ranges, and the cation that a measured pH means."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.chemistry.liquids import columns, liquid
from washline.chemistry.components import COMPONENT_COUNT
from washline.chemistry.mixture import composition_from_label
from washline.chemistry.ph import PH_ACIDS, cations_mmol_for_ph, ph, ph_and_ionic_strength


def litre_of(strength_pct_vol=0.0, **g_per_l):
    return composition_from_label(strength_pct_vol, liquid(**g_per_l))


@pytest.mark.parametrize(
    "name, g_per_l, cations_mmol, low, high",
    [
        ("lemon juice", {"citric": 53.8, "malic": 2.0}, 32.0, 2.0, 2.6),
        ("lime juice", {"citric": 57.0, "malic": 1.5}, 30.0, 2.0, 2.35),
        ("grapefruit juice", {"citric": 12.5, "sucrose": 70.0}, 50.0, 3.0, 3.75),
        ("orange juice", {"citric": 9.6, "malic": 1.3, "sucrose": 90.0}, 60.0, 3.3, 4.19),
        ("apple juice", {"malic": 6.0, "fructose": 100.0}, 30.0, 3.35, 4.0),
        ("vinegar", {"acetic": 50.0}, 0.0, 2.4, 3.4),
    ],
)
def test_juices_lie_within_the_ranges_of_the_food_authority(name, g_per_l, cations_mmol, low, high):
    # US FDA, Approximate pH of Foods and Food Products; acids and potassium typical of each, from memory.
    assert low <= ph(litre_of(**g_per_l), cations_mmol).item() <= high, name


def test_without_its_potassium_orange_juice_would_be_far_too_sour():
    # Physical reference, section f: 2.2 instead of 3.8.
    orange = litre_of(citric=9.6, malic=1.3)
    assert ph(orange, 0.0).item() == pytest.approx(2.2, abs=0.1)


def test_soda_water_is_sour_from_its_gas():
    # Total carbonic acid of 0.1 mol/L (4.4 g/L): 3.68, published computed table (aqion).
    assert ph(liquid(water=998.2, co2=4.401), 0.0).item() == pytest.approx(3.68, abs=0.02)


def test_table_salt_binds_no_acid():
    plain, salted = litre_of(citric=6.0), litre_of(citric=6.0, nacl=5.0)
    assert ph(salted, 0.0).item() == pytest.approx(ph(plain, 0.0).item(), abs=0.1)
    assert ph_and_ionic_strength(salted, 0.0).ionic_strength_mol_per_l.item() > 5.0 / 58.443


def test_an_unnamed_acid_is_one_proton_of_150_grams():
    # 15 g/L are 0.1 mol/L; pKa 3.5 (a convention, from memory): -log of the root of 10**-3.5 times 0.1, near 2.26.
    assert ph(litre_of(other_acid=15.0), 0.0).item() == pytest.approx(2.26, abs=0.05)


def test_sugar_and_fat_only_take_up_room():
    assert ph(liquid(water=900.0, citric=6.0, sucrose=150.0), 0.0).item() == pytest.approx(
        ph(liquid(water=900.0, citric=6.0), 0.0).item(), abs=0.05
    )


@pytest.mark.parametrize("dry", [liquid(), liquid(citric=5.0), liquid(ethanol=10.0), liquid(fat=3.0)])
def test_without_water_there_is_no_ph(dry):
    assert np.isnan(ph(dry, 0.0)[0])
    assert np.isnan(cations_mmol_for_ph(dry, 3.0)[0])
    assert np.isnan(ph_and_ionic_strength(dry, 0.0).ionic_strength_mol_per_l[0])


def test_an_unknown_cation_gives_an_unknown_ph():
    assert np.isnan(ph(litre_of(citric=6.0), np.nan)[0])


def test_each_column_has_its_own_cation():
    both = columns(litre_of(citric=6.0), litre_of(citric=6.0))
    found = ph(both, np.array([0.0, 40.0]))
    assert found[0] == ph(litre_of(citric=6.0), 0.0)[0]
    assert found[1] == ph(litre_of(citric=6.0), 40.0)[0]


def test_a_composition_does_not_change_when_its_ph_is_asked():
    masses = litre_of(citric=6.0, co2=4.0)
    before = masses.copy()
    ph(masses, 3.0)
    assert masses.tobytes() == before.tobytes()


def test_an_empty_batch_is_an_empty_answer():
    assert ph(np.zeros((COMPONENT_COUNT, 0)), 0.0).shape == (0,)
    assert cations_mmol_for_ph(np.zeros((COMPONENT_COUNT, 0)), 3.0).shape == (0,)


def test_a_rounding_below_nothing_is_nothing():
    masses = litre_of(citric=6.0)
    masses[10] = -1e-15
    assert ph(masses, 3.0).item() == ph(litre_of(citric=6.0), 3.0).item()


def test_the_acids_of_the_balance_are_those_of_a_composition_and_its_gas():
    assert PH_ACIDS[0] == "citric"
    assert PH_ACIDS[-1] == "carbonic"


def test_a_measured_ph_says_how_much_potassium_there_is():
    # NIST / IUPAC: potassium dihydrogen citrate 0.05 mol/kg has 3.776, one potassium for each citrate.
    standard = litre_of(citric=9.606)
    assert cations_mmol_for_ph(standard, 3.776).item() == pytest.approx(50.0, abs=1.0)


acids = st.fixed_dictionaries(
    {name: st.one_of(st.just(0.0), st.floats(0.01, 60.0)) for name in ("citric", "malic", "acetic", "co2")}
)


@given(acids, st.floats(0.0, 500.0), st.floats(0.0, 40.0))
def test_the_cation_of_a_computed_ph_is_the_one_it_was_computed_with(g_per_l, cations_mmol, strength):
    masses = litre_of(strength, **g_per_l)
    back = cations_mmol_for_ph(masses, ph(masses, cations_mmol))
    assert back.item() == pytest.approx(cations_mmol, abs=1e-3)


@given(st.sampled_from(PH_ACIDS[:7]), st.floats(0.1, 60.0), st.floats(1.05, 20.0))
def test_water_raises_the_ph_of_an_acid(acid, grams, times):
    assert ph(liquid(water=1000.0 * times, **{acid: grams}), 0.0) > ph(
        liquid(water=1000.0, **{acid: grams}), 0.0
    )


@given(acids, st.floats(0.0, 100.0), st.floats(0.01, 100.0))
def test_a_larger_serve_has_the_same_ph(g_per_l, cations_mmol, factor):
    masses = litre_of(**g_per_l)
    assert ph(masses * factor, cations_mmol * factor).item() == pytest.approx(
        ph(masses, cations_mmol).item(), abs=1e-6
    )
