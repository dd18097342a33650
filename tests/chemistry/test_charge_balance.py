"""Charge balance against published pH of acids and of the primary buffer standards."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.chemistry.charge_balance import cations_of_solution, ph_of_solution

NONE = np.array([0.0])


def solution_ph(cations=0.0, salts=0.0, strength=0.0, **acids):
    """pH of mol/L of acids by name."""
    rows = np.array(list(acids.values())).reshape(-1, 1)
    found = ph_of_solution(tuple(acids), rows, np.array([cations]), np.array([salts]), np.array([strength]))
    return found.ph.item()


@pytest.mark.parametrize(
    "acid, ph",
    [
        ("citric", 2.08),
        ("malic", 2.24),
        ("tartaric", 2.04),
        ("lactic", 2.44),
        ("acetic", 2.88),
        ("phosphoric", 1.63),
        ("ascorbic", 2.59),
        ("succinic", 2.61),
        ("formic", 2.38),
        ("carbonic", 3.68),
    ],
)
def test_a_tenth_of_a_mole_of_acid_has_its_published_ph(acid, ph):
    # Published computed table of common acids at 25 degC (aqion) and physical reference, section f.
    assert solution_ph(**{acid: 0.1}) == pytest.approx(ph, abs=0.02)


@pytest.mark.parametrize(
    "acids, cations, ph",
    [
        ({"tartaric": 0.0341}, 0.0341, 3.557),
        ({"citric": 0.05}, 0.05, 3.776),
        ({"acetic": 0.2}, 0.1, 4.652),
        ({"phosphoric": 0.05}, 0.075, 6.865),
        ({"carbonic": 0.05}, 0.075, 10.012),
    ],
)
def test_primary_buffer_standards_have_their_certified_ph(acids, cations, ph):
    # NIST / IUPAC at 25 degC: KH tartrate saturated, KH2 citrate 0.05, phosphate 0.025 + 0.025, carbonate 0.025 + 0.025;
    # acetate 0.1 + 0.1 of Bates, Determination of pH. All from memory.
    assert solution_ph(cations, **acids) == pytest.approx(ph, abs=0.015)


def test_water_is_neutral():
    # Ion product 13.995 at 25 degC (CRC Handbook).
    assert solution_ph() == pytest.approx(6.9975, abs=1e-3)


@pytest.mark.parametrize("base, ph", [(0.1, 12.88), (0.01, 11.95), (0.001, 10.98)])
def test_strong_base_has_its_published_ph(base, ph):
    # The same published table: NaOH.
    assert solution_ph(base) == pytest.approx(ph, abs=0.04)


@pytest.mark.parametrize("acid, ph", [(0.1, 1.08), (0.01, 2.04), (0.001, 3.01)])
def test_strong_acid_is_a_cation_that_is_missing(acid, ph):
    # The same published table: HCl.
    assert solution_ph(-acid) == pytest.approx(ph, abs=0.03)


def test_half_neutralised_acid_stands_at_its_dissociation_constant():
    # Henderson and Hasselbalch, with activities all but ideal in a thin solution.
    assert solution_ph(5e-5 - 1.8e-5, acetic=1e-4) == pytest.approx(4.756, abs=0.02)


def test_salt_makes_acid_a_little_stronger():
    # Davies at I = 0.1: log gamma = -0.107 for each of two ions.
    assert solution_ph(0.05, salts=0.05, acetic=0.1) == pytest.approx(4.756 - 0.107, abs=0.01)


def test_ethanol_weakens_carboxylic_acids_up_to_twenty_percent():
    # 0.010 for each % vol (Usseglio-Tomasset, from memory), half of it in the pH of a weak acid.
    dry, strong = solution_ph(acetic=0.1), solution_ph(strength=20.0, acetic=0.1)
    assert strong - dry == pytest.approx(0.1, abs=0.005)
    assert solution_ph(strength=60.0, acetic=0.1) == strong


def test_ethanol_leaves_phosphoric_acid_as_it_is():
    assert solution_ph(strength=20.0, phosphoric=0.05) == solution_ph(phosphoric=0.05)


def test_more_base_than_any_liquid_holds_has_no_ph():
    assert np.isnan(solution_ph(20.0, citric=0.1))


def test_an_unknown_cation_has_no_ph():
    assert np.isnan(solution_ph(float("nan"), citric=0.1))


def test_an_unknown_neighbour_does_not_disturb():
    acids = np.array([[0.1, 0.1, 0.1]])
    found = ph_of_solution(("citric",), acids, np.array([0.0, np.nan, 0.0]), np.zeros(3), np.zeros(3))
    assert np.isnan(found.ph[1])
    assert found.ph[[0, 2]].tolist() == [solution_ph(citric=0.1)] * 2


def test_ionic_strength_counts_all_ions_with_the_square_of_their_charge():
    # 0.05 mol/L of trisodium citrate: nearly all of it threefold; half the sum of 0.15 and 9 x 0.05.
    found = ph_of_solution(("citric",), np.array([[0.05]]), np.array([0.15]), np.array([0.02]), NONE)
    assert found.ionic_strength_mol_per_l.item() == pytest.approx(0.3 + 0.02, abs=0.005)


def test_an_acid_without_constants_is_an_error():
    with pytest.raises(KeyError):
        solution_ph(sucrose=0.1)


concentrations = st.one_of(st.just(0.0), st.floats(1e-4, 0.3))
names = ("citric", "malic", "tartaric", "lactic", "acetic", "phosphoric", "carbonic")


@given(st.lists(concentrations, min_size=7, max_size=7), st.floats(-0.1, 1.0), st.floats(0.0, 0.2))
def test_positive_and_negative_charges_are_equal(acids, cations, salts):
    rows = np.array(acids).reshape(-1, 1)
    found = ph_of_solution(names, rows, np.array([cations]), np.array([salts]), NONE)
    needed = cations_of_solution(names, rows, found.ph, np.array([salts]), NONE)
    assert needed.item() == pytest.approx(cations, abs=1e-6)


@given(st.lists(concentrations, min_size=7, max_size=7), st.floats(0.0, 0.5), st.floats(1e-3, 0.5))
def test_ph_rises_with_every_cation(acids, cations, more):
    mol = dict(zip(names, acids, strict=True))
    assert solution_ph(cations + more, **mol) > solution_ph(cations, **mol)


@given(st.sampled_from(names[:6]), concentrations, st.floats(1e-3, 0.2), st.floats(0.0, 0.1))
def test_ph_falls_with_every_acid(acid, there, more, cations):
    base = {"citric": 0.0, acid: there}
    assert solution_ph(cations, **{**base, acid: there + more}) < solution_ph(cations, **base)
