"""One column alone and the same column in any batch give the same bytes."""

import ast
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

import washline.chemistry
from washline.chemistry import (
    acidity,
    alcohol,
    carbonation,
    charge_balance,
    chilling,
    cooking,
    dilution,
    energy,
    ethanol_water,
    freezing,
    gauging,
    heat,
    mixture,
    molality,
    ph,
    ranges,
    reconcile,
    refraction,
    solids,
    sucrose,
    sweetness,
    water,
    water_activity,
)
from washline.chemistry.arrays import weighted_totals
from washline.chemistry.components import COMPONENT_COUNT

# Readings of masses (24, n), a temperature (n,) and cations (n,), each giving (n,) or (24, n).
OF_MASSES = {
    "volume at 20": lambda m, t, c: mixture.volume_ml(m),
    "volume": lambda m, t, c: mixture.volume_ml(m, t),
    "density": lambda m, t, c: mixture.density_g_per_ml(m, t),
    "strength": lambda m, t, c: mixture.strength_pct_vol(m),
    "degassed mass": lambda m, t, c: mixture.degassed_g(m),
    "label": lambda m, t, c: mixture.composition_from_label(c * 0.04, m),
    "refractive index": lambda m, t, c: refraction.refractive_index(m),
    "true brix": lambda m, t, c: solids.brix_true(m),
    "refractometer": lambda m, t, c: solids.brix_refractometer(m),
    "acidity": lambda m, t, c: acidity.titratable_acidity_citric_g(m, c),
    "sweetness": lambda m, t, c: sweetness.sucrose_equivalent_g(m),
    "kJ": lambda m, t, c: energy.energy_kj(m),
    "kcal": lambda m, t, c: energy.energy_kcal(m),
    "heat capacity": lambda m, t, c: heat.heat_capacity_j_per_g_k(m, t),
    "enthalpy": lambda m, t, c: heat.enthalpy_j(m, t),
    "temperature with a vessel": lambda m, t, c: heat.temperature_with_vessel(m, c * 100.0, c, t),
    "temperature": lambda m, t, c: heat.temperature_from_enthalpy(m, c * 100.0),
    "pH with its cations": lambda m, t, c: ph.ph(m, c),
    "pH without cations": lambda m, t, c: ph.ph(m, 0.0),
    "ionic strength": lambda m, t, c: ph.ph_and_ionic_strength(m, c).ionic_strength_mol_per_l,
    "cations": lambda m, t, c: ph.cations_mmol_for_ph(m, 2.0 + c * 0.01),
    "water activity": lambda m, t, c: water_activity.water_activity(m),
    "molalities": lambda m, t, c: molality.molalities(m),
    "freezing point": lambda m, t, c: freezing.freezing_point_c(m),
    "ice": lambda m, t, c: freezing.ice_mass_fraction(m, t * 0.5),
    "osmolality terms": lambda m, t, c: np.stack(freezing.osmolality_terms(m)),
    "heat of mixing": lambda m, t, c: heat.heat_of_mixing_j(m, t),
    "heat sums": lambda m, t, c: np.stack(heat.heat_sums(m)),
    "chilled": lambda m, t, c: np.stack(chilling.chill(m, t, ice_g=c, surface_water_g=c * 0.03)),
    "chilled in a while": lambda m, t, c: np.stack(
        chilling.chill(
            m, t, ice_g=c * 3.0, ice_c=c * -0.05, vessel_j_per_k=c, outside_j=c, approach=0.7, core=0.4
        )
    ),
}

# Functions of numbers or arrays (n,): a fraction 0-1 and a temperature.
OF_NUMBERS = {
    "water": lambda x, t: water.density_kg_per_m3(t),
    "ethanol-water": ethanol_water.density_kg_per_m3,
    "strength": lambda x, t: ethanol_water.strength_pct_vol_from_mass_fraction(x),
    "fraction of strength": lambda x, t: ethanol_water.mass_fraction_from_strength(x * 100.0),
    "fraction of density": lambda x, t: ethanol_water.mass_fraction_from_density(1000.0 - x * 250.0, t),
    "sucrose": sucrose.density_kg_per_m3,
    "sucrose g/L": sucrose.sugar_g_per_l,
    "brix of density": lambda x, t: sucrose.brix_from_density(990.0 + x * 500.0, t),
    "index": lambda x, t: sucrose.refractive_index(x),
    "fraction of index": lambda x, t: sucrose.mass_fraction_from_refractive_index(x * 0.2 + 1.32),
    "stirred": lambda x, t: dilution.stirred_water_ml_per_ml(x),
    "shaken": lambda x, t: dilution.shaken_water_ml_per_ml(x),
    "diluted": lambda x, t: dilution.strength_after_dilution(x * 40.0, x),
    "ethanol": lambda x, t: alcohol.ethanol_g(x * 100.0, t),
    "units": lambda x, t: alcohol.units(x, "us"),
    "proof": lambda x, t: gauging.proof_from_mass_fraction(x),
    "fraction of proof": lambda x, t: gauging.mass_fraction_from_proof(x * 200.0),
    "water parts": lambda x, t: gauging.water_parts_per_100(x * 200.0),
    "reduced by volume": lambda x, t: gauging.water_to_reduce_by_volume(t * 2.0 + 10.0, x * 100.0),
    "reduced by mass": lambda x, t: gauging.water_to_reduce_by_mass(t, x * 200.0, x * 100.0),
    "ethanol kept": lambda x, t: cooking.ethanol_kept_pct("simmered", t * 2.0),
    "reconciled": lambda x, t: reconcile.reconcile(x, 0.1, t, x).value,
    "residual": lambda x, t: reconcile.reconcile(x, 0.0, t, t * 0.01).residual_sigmas,
    "instrument": lambda x, t: reconcile.instrument_sigma("titration", t),
    "ice line": lambda x, t: freezing.ice_line_osmolality(x * -45.0),
    "ice line held": lambda x, t: freezing.ice_line_temperature_c(x * 30.0),
    "on the ice line": lambda x, t: freezing.is_on_ice_line(x * 50.0) * 1.0,
    "heat of mixing by mass": lambda x, t: heat.heat_of_mixing_j_per_g(x),
    "heat capacity of a spirit": lambda x, t: heat.solvent_capacity_j_per_g_k(x)[0],
    "approach": lambda x, t: chilling.approach(x * 60.0, 20.0),
    "heat of ice": lambda x, t: chilling.ice_heat_j_per_g(x * -40.0),
    "vapour": lambda x, t: carbonation.water_vapour_kpa(t),
    "solubility of gas": lambda x, t: carbonation.co2_solubility_g_per_l_atm(t, x * 50.0, x * 100.0),
    "gas": lambda x, t: carbonation.co2_g_per_l(t, x * 600.0, x * 50.0, 20.0),
    "pressure": lambda x, t: carbonation.absolute_kpa_for(t, x * 200.0, x * 50.0, 20.0),
    "gas in a bottle": lambda x, t: carbonation.bottle_co2_g(
        t, x * 600.0, 180.0, x * 50.0, 9.0, 80.0, x * 90.0
    ),
    "pressure in a bottle": lambda x, t: carbonation.bottle_kpa(
        t, x * 9.0, x * 700.0, 20.0, 9.0, 80.0, x * 90.0
    ),
    "volumes": lambda x, t: carbonation.volumes_from_g_per_l(x),
    "grams of gas": lambda x, t: carbonation.g_per_l_from_volumes(x),
    "gas left": lambda x, t: carbonation.co2_left(t, x),
}

masses_in_g = st.one_of(st.just(0.0), st.floats(1e-6, 2000.0))


@st.composite
def batches(draw):
    """Some columns of any composition, with temperatures and cations."""
    count = draw(st.integers(1, 6))
    masses = draw(arrays(np.float64, (COMPONENT_COUNT, count), elements=masses_in_g))
    temperatures = draw(
        arrays(np.float64, (count,), elements=st.one_of(st.just(20.0), st.floats(-20.0, 95.0)))
    )
    cations = draw(arrays(np.float64, (count,), elements=st.floats(0.0, 500.0)))
    return masses, temperatures, cations


def alone(array, index):
    return np.ascontiguousarray(array[..., index : index + 1])


@pytest.mark.parametrize("name", OF_MASSES)
@settings(max_examples=25)
@given(batch=batches())
def test_a_liquid_alone_reads_as_in_a_batch(name, batch):
    masses, temperatures, cations = batch
    together = OF_MASSES[name](masses, temperatures, cations)
    for index in range(masses.shape[1]):
        single = OF_MASSES[name](alone(masses, index), alone(temperatures, index), alone(cations, index))
        assert single.tobytes() == alone(together, index).tobytes()


@pytest.mark.parametrize("name", OF_MASSES)
def test_a_liquid_reads_the_same_among_hundreds(name):
    # Beyond 64 columns the sums are made another way, in the same order.
    random = np.random.default_rng(7)
    masses = random.uniform(0.0, 300.0, (COMPONENT_COUNT, 300)) * (
        random.uniform(size=(COMPONENT_COUNT, 300)) < 0.6
    )
    temperatures, cations = random.uniform(-20.0, 90.0, 300), random.uniform(0.0, 500.0, 300)
    together = OF_MASSES[name](masses, temperatures, cations)
    for index in range(0, 300, 7):
        single = OF_MASSES[name](alone(masses, index), alone(temperatures, index), alone(cations, index))
        assert single.tobytes() == alone(together, index).tobytes()


@pytest.mark.parametrize("name", OF_NUMBERS)
@settings(max_examples=25)
@given(
    fractions=arrays(np.float64, (5,), elements=st.floats(0.0, 1.0)),
    temperatures=arrays(np.float64, (5,), elements=st.floats(-20.0, 95.0)),
)
def test_a_plain_number_gives_the_bytes_of_its_place_in_an_array(name, fractions, temperatures):
    together = OF_NUMBERS[name](fractions, temperatures)
    for index in range(5):
        number = OF_NUMBERS[name](fractions[index].item(), temperatures[index].item())
        single = OF_NUMBERS[name](alone(fractions, index), alone(temperatures, index))
        assert np.float64(number).tobytes() == together[index].tobytes() == single.tobytes()


@settings(max_examples=25)
@given(batch=batches())
def test_twenty_degrees_as_a_number_is_twenty_degrees_as_an_array(batch):
    masses = batch[0]
    as_array = mixture.volume_ml(masses, np.full(masses.shape[1], 20.0))
    assert mixture.volume_ml(masses, 20.0).tobytes() == as_array.tobytes()


@settings(max_examples=25)
@given(batch=batches())
def test_flags_of_a_liquid_do_not_depend_on_its_neighbours(batch):
    masses, temperatures, _ = batch
    together = ranges.flags(ranges.conditions_of(masses, temperatures))
    for index in range(masses.shape[1]):
        single = ranges.flags(ranges.conditions_of(alone(masses, index), alone(temperatures, index)))
        assert {key: failed[0] for key, failed in single.items()} == {
            key: failed[index] for key, failed in together.items()
        }


def test_sums_run_from_the_first_component_to_the_last():
    # 1 + 1e16 - 1e16 is 0 from the left and 1 from the right.
    weights, masses = np.array([[1.0, 1.0, 1.0]]), np.array([[1.0], [1e16], [-1e16]])
    assert weighted_totals(weights, masses).item() == 0.0
    assert weighted_totals(weights, np.repeat(masses, 100, axis=1))[0, 50] == 0.0


def test_an_empty_batch_is_an_empty_answer():
    assert mixture.volume_ml(np.zeros((COMPONENT_COUNT, 0))).shape == (0,)
    assert solids.brix_refractometer(np.zeros((COMPONENT_COUNT, 0))).shape == (0,)


@settings(max_examples=25)
@given(
    mol_per_l=arrays(np.float64, (3, 5), elements=st.one_of(st.just(0.0), st.floats(1e-5, 1.0))),
    cations=arrays(np.float64, (5,), elements=st.floats(-0.5, 2.0)),
)
def test_an_acid_that_only_a_neighbour_holds_changes_no_byte(mol_per_l, cations):
    names, none = ("citric", "phosphoric", "carbonic"), np.zeros(5)
    together = charge_balance.ph_of_solution(names, mol_per_l, cations, none, none)
    for index in range(5):
        single = charge_balance.ph_of_solution(
            names, alone(mol_per_l, index), alone(cations, index), none[:1], none[:1]
        )
        assert single.ph.tobytes() == alone(together.ph, index).tobytes()


FORBIDDEN_CALLS = {
    "sum",
    "dot",
    "einsum",
    "reduceat",
    "vdot",
    "inner",
    "matmul",
    "tensordot",
    "nansum",
    "mean",
}


@pytest.mark.parametrize(
    "path", sorted(Path(washline.chemistry.__path__[0]).glob("*.py")), ids=lambda path: path.stem
)
def test_no_sum_of_free_order_is_used(path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        assert not (isinstance(node, ast.BinOp) and isinstance(node.op, (ast.MatMult, ast.Pow)))
        assert not (isinstance(node, ast.Attribute) and node.attr in FORBIDDEN_CALLS)
        assert not (isinstance(node, ast.Attribute) and ast.unparse(node) in {"math.exp", "math.log"})
