"""Measuring: the vessel follows by its gain, weighs the same after a swap, and says how far off it was."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.engine.kitchen import LEMON, PEAR, SPIRIT, SUGAR, WATER, Vessel, house, pantry
from washline.engine.trace import Trace
from washline.engine.workings import Workings
from washline.model.item import BuildKind
from washline.model.step import Goal, Measurable


def traced(vessel: Vessel) -> Trace:
    return Workings(house().with_build(vessel.build(BuildKind.PART))).trace(vessel.build_id)


def punch() -> Vessel:
    return Vessel(1001).add(WATER, 500.0).add(SPIRIT, 300.0).add(LEMON, 100.0).add(SUGAR, 100.0)


CASES = {
    Measurable.DENSITY: (1.03, "density"),
    Measurable.BRIX: (20.0, "brix_shown"),
    Measurable.PH: (3.1, "ph"),
    Measurable.STRENGTH: (11.0, "strength"),
}


@pytest.mark.parametrize("quantity", CASES)
def test_a_measured_value_that_stands_is_what_is_read(quantity: Measurable) -> None:
    value, key = CASES[quantity]
    trace = traced(punch().measure(quantity, value))
    assert trace.result.value(key) == pytest.approx(value, rel=1e-7)
    assert trace.steps[-1].missed == ()
    assert trace.total.grams == pytest.approx(1000.0, rel=1e-12)


@pytest.mark.parametrize("quantity", CASES)
def test_half_a_gain_goes_half_the_way(quantity: Measurable) -> None:
    value, key = CASES[quantity]
    trace = traced(punch().measure(quantity, value, gain=0.5))
    before = traced(punch()).result.value(key) or 0.0
    step = trace.steps[-1]
    assert step.computed == pytest.approx(before, rel=1e-12)
    assert step.reconciled == pytest.approx((before + value) / 2.0, rel=1e-7)
    assert trace.result.value(key) == pytest.approx((before + value) / 2.0, rel=1e-7)


def test_no_gain_changes_nothing() -> None:
    for quantity, (value, key) in CASES.items():
        trace = traced(punch().measure(quantity, value, gain=0.0))
        assert trace.result.value(key) == pytest.approx(traced(punch()).result.value(key) or 0.0, rel=1e-9)


def test_titration_is_in_100_g_of_the_liquid() -> None:
    trace = traced(punch().measure(Measurable.ACIDITY, 0.6))
    liquid_g = trace.total.grams - float(trace.final_state[22])
    assert trace.total.acids_g == pytest.approx(0.006 * liquid_g, rel=1e-12)
    assert trace.total.grams == pytest.approx(1000.0, rel=1e-12)


@pytest.mark.parametrize("measured, difference", [(950.0, 50.0), (1020.0, -20.0)])
def test_a_weighed_vessel_is_scaled_and_the_difference_is_named(measured: float, difference: float) -> None:
    trace = traced(punch().measure(Measurable.MASS, measured))
    flow = trace.outflows[0]
    assert (flow.kind, flow.step_id) == ("difference", 1001005)
    assert flow.grams == pytest.approx(difference, rel=1e-9)
    assert trace.total.grams == pytest.approx(measured, rel=1e-12)
    assert trace.result.value("strength") == pytest.approx(traced(punch()).result.value("strength"), rel=1e-9)


def test_a_measured_volume_is_met() -> None:
    trace = traced(punch().measure(Measurable.VOLUME, 900.0))
    assert trace.result.value("length") == pytest.approx(900.0, rel=1e-12)


def test_a_measured_ph_moves_no_titration() -> None:
    before, after = traced(punch()), traced(punch().measure(Measurable.PH, 3.4))
    assert after.total.acids_g == pytest.approx(before.total.acids_g, rel=1e-12)


def test_what_is_not_there_cannot_be_measured_and_says_so() -> None:
    trace = traced(Vessel(1001).add(WATER, 100.0).measure(Measurable.ACIDITY, 1.0))
    assert trace.steps[1].missed == (
        "cannot be reached with what is in the vessel: it stays as near as it gets",
    )
    assert trace.result.value("acidity") == 0.0


def test_the_residual_follows_from_the_gain_that_is_kept() -> None:
    """Computed to 0.3, measured to 0.4: gain 0.36, joint standard uncertainty 0.5."""
    computed = traced(punch()).result.value("strength") or 0.0
    vessel = punch().measure(Measurable.STRENGTH, computed + 1.0, uncertainty=0.4, gain=0.36)
    assert traced(vessel).steps[-1].residual_sigmas == pytest.approx(2.0, rel=1e-9)


@pytest.mark.parametrize("fields", [{}, {"uncertainty": 0.2}, {"gain": 0.3}])
def test_without_both_uncertainties_there_is_no_residual(fields: dict[str, float]) -> None:
    assert traced(punch().measure(Measurable.STRENGTH, 12.0, **fields)).steps[-1].residual_sigmas is None


def test_reconciling_weighs_both_uncertainties() -> None:
    """Lemon's acid is known to 10 %: 0.5 g in 1,000 g; a titration to 2 %."""
    workings = Workings(pantry().with_build(punch().build(BuildKind.PART)))
    found = workings.reconcile(1001, None, Measurable.ACIDITY, 0.6, 0.012)
    assert found.computed == pytest.approx(traced(punch()).total.acids_g / 9.99, rel=1e-3)
    assert found.computed_sd == pytest.approx(0.05, abs=0.001)
    assert found.gain == pytest.approx(found.computed_sd**2 / (found.computed_sd**2 + 0.012**2), rel=1e-12)
    assert found.reconciled == pytest.approx(found.computed + found.gain * (0.6 - found.computed), rel=1e-12)
    assert found.causes[0].words == "acids of lemon juice"
    assert found.residual_sigmas == pytest.approx(
        (0.6 - found.computed) / (0.05**2 + 0.012**2) ** 0.5, rel=0.02
    )


def test_reconciling_looks_at_the_vessel_right_after_a_step() -> None:
    workings = Workings(pantry().with_build(punch().build()))
    early = workings.reconcile(1001, 1001001, Measurable.MASS, 505.0, 1.0)
    assert (early.computed, early.computed_sd, early.gain) == (500.0, 0.0, 0.0)
    assert early.residual_sigmas == pytest.approx(5.0)
    assert workings.reconcile(1001, None, Measurable.MASS, 1000.0, 1.0).computed == pytest.approx(1000.0)
    assert workings.result_now(1001).value("mass") == pytest.approx(1000.0)


def test_an_instrument_of_unknown_uncertainty_stands() -> None:
    workings = Workings(pantry().with_build(punch().build()))
    found = workings.reconcile(1001, None, Measurable.STRENGTH, 12.0, None)
    assert (found.gain, found.reconciled, found.residual_sigmas) == (1.0, 12.0, None)


def test_reconciling_a_preview_keeps_nothing() -> None:
    workings = Workings(pantry().with_build(punch().build()))
    preview = pantry().with_build(punch().add(WATER, 500.0).build())
    assert workings.reconcile(1001, None, Measurable.MASS, 1.0, 1.0, preview).computed == pytest.approx(
        1500.0
    )
    assert workings.reconcile(1001, None, Measurable.MASS, 1.0, 1.0).computed == pytest.approx(1000.0)


@given(st.floats(2.2, 5.5))
def test_any_ph_of_a_juice_is_met(ph: float) -> None:
    trace = traced(Vessel(1001).add(LEMON, 100.0).measure(Measurable.PH, ph))
    assert trace.result.value("ph") == pytest.approx(ph, abs=1e-6)


def test_measuring_before_adjusting_re_bases_what_is_found() -> None:
    """(250 + s) / (1000 + s) = 0.5 after the refractometer's 25 °Bx, s = 500."""
    vessel = Vessel(1001).add(WATER, 800.0).add(SUGAR, 200.0).measure(Measurable.BRIX, 25.0)
    assert traced(vessel.adjust(Goal.BRIX, 50.0, SUGAR)).steps[3].found_g == pytest.approx(500.0, abs=0.5)


def test_a_held_solid_is_weighed_with_the_vessel_and_not_in_the_liquid() -> None:
    vessel = Vessel(1001).add(WATER, 900.0).infuse(PEAR, 100.0, water_given_pct=0.0)
    trace = traced(vessel.measure(Measurable.MASS, 500.0).strain(expected_pct=90.0))
    assert trace.steps[1].vessel_g == pytest.approx(1000.0)
    assert (trace.steps[2].vessel_g, trace.steps[2].held_g) == (pytest.approx(500.0), pytest.approx(50.0))
    assert trace.steps[3].found_g == pytest.approx(450.0)


@pytest.mark.parametrize("quantity", [Measurable.DENSITY, Measurable.BRIX, Measurable.STRENGTH])
def test_a_column_stays_where_it_arrived_whatever_its_neighbours_still_need(quantity: Measurable) -> None:
    value, _key = CASES[quantity]
    book = house()
    for place, factor in enumerate((1.0, 1.001, 0.97, 1.02)):
        vessel = Vessel(1001 + place).add(WATER, 500.0).add(SPIRIT, 300.0).add(LEMON, 100.0).add(SUGAR, 100.0)
        book = book.with_build(vessel.measure(quantity, value * factor).build(BuildKind.PART))
    together = Workings(book)
    together.evaluate_all()
    for build_id in (1001, 1002, 1003, 1004):
        alone = Workings(book).result_now(build_id)
        assert together.result_now(build_id).values.tobytes() == alone.values.tobytes()
