"""Titratable acidity against the equivalents of published acids."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.chemistry.liquids import columns, liquid
from washline.chemistry.acidity import (
    equivalent_mass_g_per_mol,
    other_acid_equivalent_g_per_mol,
    other_acid_excess_mmol,
    titratable_acidity_citric_g,
    titrated_mol,
)


@pytest.mark.parametrize(
    "acid, grams",
    [
        ("citric", 64.04),
        ("malic", 67.04),
        ("tartaric", 75.04),
        ("lactic", 90.08),
        ("acetic", 60.05),
        ("phosphoric", 49.00),
        ("ascorbic", 176.12),
        ("succinic", 59.04),
    ],
)
def test_an_equivalent_weighs_what_the_tables_say(acid, grams):
    # IFU 3 and EN 12147, from memory; molar masses over the protons titrated to pH 8.1.
    assert equivalent_mass_g_per_mol(acid) == pytest.approx(grams, abs=0.006)


@pytest.mark.parametrize(
    "acid, grams, citric_g", [("citric", 6.0, 6.0), ("malic", 5.0, 4.78), ("acetic", 10.0, 10.66)]
)
def test_acids_count_by_their_equivalents(acid, grams, citric_g):
    # Physical reference, section f.
    assert titratable_acidity_citric_g(liquid(**{acid: grams}), 0.0).item() == pytest.approx(
        citric_g, abs=0.006
    )


def test_pantry_factors_turn_citric_into_other_acids():
    # Usual factors of the trade for 1 g of citric acid: malic 1.047, tartaric 1.172, lactic 1.407, acetic 0.938.
    citric = equivalent_mass_g_per_mol("citric")
    for acid, factor in (("malic", 1.047), ("tartaric", 1.172), ("lactic", 1.407), ("acetic", 0.938)):
        assert equivalent_mass_g_per_mol(acid) / citric == pytest.approx(factor, abs=0.0006)


def test_potassium_binds_acid():
    # Lemon juice of the pantry: 4.85 g citric and 0.2 g malic less 3 mmol of cation is about 4.8 g.
    juice = liquid(water=90.0, citric=4.85, malic=0.2)
    assert titratable_acidity_citric_g(juice, 0.0).item() == pytest.approx(5.041, abs=0.002)
    assert titratable_acidity_citric_g(juice, 3.0).item() == pytest.approx(5.041 - 0.192, abs=0.002)


def test_more_cation_than_acid_leaves_no_acidity():
    assert titratable_acidity_citric_g(liquid(water=100.0, citric=0.01), 5.0).item() == 0.0


def test_carbonation_is_not_counted():
    soda = liquid(water=1000.0, co2=8.0)
    assert titratable_acidity_citric_g(soda, 0.0).item() == 0.0


def test_each_column_has_its_own_cation():
    acids = columns(liquid(citric=6.404), liquid(citric=6.404))
    left = titratable_acidity_citric_g(acids, np.array([0.0, 50.0]))
    assert left.tolist() == pytest.approx([6.404, 3.202], abs=0.001)


@pytest.mark.parametrize("name, grams", [("quinic", 192.17), ("oxalic", 45.02), ("gluconic", 196.16)])
def test_other_acids_have_their_own_equivalents(name, grams):
    # Standard atomic masses and carboxyl protons.
    assert other_acid_equivalent_g_per_mol(name) == pytest.approx(grams, abs=0.01)


@pytest.mark.parametrize("name, protons, molar_mass", [("quinic", 1, 192.17), ("succinic", 2, 118.088)])
def test_a_named_acid_is_exact_once_its_excess_is_taken_from_the_cation(name, protons, molar_mass):
    cations = -other_acid_excess_mmol(name, 1.2)
    acidity = titratable_acidity_citric_g(liquid(other_acid=1.2), cations).item()
    assert acidity == pytest.approx(1.2 * protons / molar_mass * 64.0413, rel=1e-4)


def test_an_acid_without_a_name_is_taken_at_150_grams_per_equivalent():
    # A convention of this project, between quinic (192) and succinic (59).
    assert equivalent_mass_g_per_mol("other_acid") == 150.0
    assert titrated_mol("other_acid", 15.0) == pytest.approx(0.1)


def test_an_unnamed_acid_has_no_excess():
    assert other_acid_excess_mmol("unnamed", 3.0) == 0.0


@pytest.mark.parametrize(
    "salt, mol_per_mol",
    [("kh2po4", 1.0), ("nahco3", -1.0), ("k2co3", -2.0), ("trisodium_citrate_2h2o", 0.0), ("nacl", 0.0)],
)
def test_salts_are_titrated_by_what_protons_they_hold(salt, mol_per_mol):
    molar_mass = {"kh2po4": 136.085, "nahco3": 84.007, "k2co3": 138.206}.get(salt, 100.0)
    assert titrated_mol(salt, molar_mass) == pytest.approx(mol_per_mol, abs=1e-6)


def test_what_is_no_acid_has_no_equivalent():
    with pytest.raises(KeyError):
        equivalent_mass_g_per_mol("sucrose")


@given(st.floats(0.0, 60.0), st.floats(0.0, 60.0), st.floats(0.0, 2000.0))
def test_acidity_is_never_negative_and_falls_with_cation(citric_g, malic_g, cations_mmol):
    acids = liquid(citric=citric_g, malic=malic_g)
    free = titratable_acidity_citric_g(acids, cations_mmol).item()
    assert 0.0 <= free <= titratable_acidity_citric_g(acids, 0.0).item()
