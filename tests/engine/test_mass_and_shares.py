"""Mass is conserved by every step and through any graph; shares of lines add up to what is in the vessel."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.engine.any_build import CLOSED_KINDS, any_build
from tests.engine.kitchen import (
    CORDIAL,
    LEMON,
    LONG,
    SOUR,
    SPIRIT,
    Vessel,
    house,
)
from washline.chemistry.components import CO2, WATER
from washline.engine.state import MASSES
from washline.engine.trace import Trace
from washline.engine.workings import Workings
from washline.model.item import Build, BuildKind
from washline.model.step import Carbonate


def traced(build: Build) -> Trace:
    return Workings(house().with_build(build)).trace(build.id)


def inflow(trace: Trace) -> np.ndarray:
    """Grams of each component that came in: with the lines, from the ice, and out of the gas bottle."""
    came = np.zeros(24)
    for rows in trace.poured.values():
        came += rows[MASSES]
    came[WATER] += trace.melted_g
    for step in trace.build.steps:
        if isinstance(step, Carbonate) and not step.left_out:
            came[CO2] += trace.step(step.id).found_g or 0.0
    return came


def outflow(trace: Trace) -> np.ndarray:
    """Grams of each component that is in the glass, on it, or gone by name."""
    out = trace.final_state[MASSES] + trace.garnish.rows[MASSES]
    for flow in trace.outflows:
        out = out + flow.masses
    return out


@given(any_build())
@settings(max_examples=300)
def test_mass_in_equals_mass_out(build: Build) -> None:
    trace = traced(build)
    assume(not np.isnan(trace.final_state).any())
    assert outflow(trace).sum() == pytest.approx(inflow(trace).sum(), rel=1e-9, abs=1e-9)
    assert float(trace.final_state[MASSES].min()) >= -1e-9


@given(any_build(CLOSED_KINDS))
@settings(max_examples=200)
def test_every_component_is_conserved_by_itself(build: Build) -> None:
    trace = traced(build)
    assume(not np.isnan(trace.final_state).any())
    assert outflow(trace) == pytest.approx(inflow(trace), rel=1e-9, abs=1e-8)


@given(any_build())
@settings(max_examples=200)
def test_shares_of_lines_add_up_to_the_vessel(build: Build) -> None:
    trace = traced(build)
    assume(not np.isnan(trace.final_state).any())
    total = np.zeros(24)
    for step in trace.steps:
        if not step.is_on_glass:
            total += step.share.rows[MASSES]
    assert total == pytest.approx(trace.final_state[MASSES], rel=1e-9, abs=1e-8)


@given(any_build())
@settings(max_examples=60)
def test_strength_lies_between_its_parts(build: Build) -> None:
    strength = Workings(house().with_build(build)).result_now(build.id).value("strength")
    assert strength is None or -1e-9 <= strength <= 100.0


@given(st.floats(0.1, 20.0))
def test_a_drink_twice_as_large_reads_the_same(factor: float) -> None:
    one = Vessel(1001).add(SPIRIT, 45.0).add(LEMON, 22.0).add(CORDIAL, 20.0).chill("shake").build()
    scaled = Vessel(1001).add(SPIRIT, 45.0 * factor).add(LEMON, 22.0 * factor).add(CORDIAL, 20.0 * factor)
    first, second = traced(one).result, traced(scaled.chill("shake").build()).result
    for key in ("strength", "sweetness", "acidity", "density", "brix_true", "dilution"):
        assert second.value(key) == pytest.approx(first.value(key), rel=1e-9)
    assert second.value("length") == pytest.approx((first.value("length") or 0.0) * factor, rel=1e-9)


@pytest.mark.parametrize("drink_id, place", [(SOUR, 2), (LONG, 1)])
def test_a_part_opened_in_a_drink_shows_this_glass_s_share(drink_id: int, place: int) -> None:
    trace = Workings(house()).trace(drink_id)
    line = trace.build.steps[place]
    inside = trace.inside(line.id, CORDIAL)
    assert inside is not None
    total = sum(share.grams for share in inside.shares.values())
    assert total == pytest.approx(trace.step(line.id).share.grams, rel=1e-9)
    sugar = inside.shares[CORDIAL * 1000 + 4].sugars_g
    assert sugar == pytest.approx(trace.step(line.id).found_g * 210.0 / 910.0, rel=1e-9)


def test_a_leftover_opened_shows_what_stayed_behind() -> None:
    from_cake = Vessel(1001).add(102, 50.0).build(BuildKind.PART)
    workings = Workings(house().with_build(from_cake))
    inside = workings.trace(1001).inside(1001001, 102)
    assert inside is not None
    assert sum(share.grams for share in inside.shares.values()) == pytest.approx(50.0, rel=1e-9)
    assert inside.shares.get(CORDIAL * 1000 + 4) is None


def test_the_last_step_of_a_trace_reads_as_the_drink_does() -> None:
    trace = Workings(house()).trace(SOUR)
    assert trace.steps[-1].readings_after == pytest.approx(trace.result.values, rel=1e-9, nan_ok=True)


def test_through_the_build_strength_falls_as_juice_goes_in() -> None:
    trace = Workings(house()).trace(SOUR)
    strengths = [float(step.readings_after[0]) for step in trace.steps]
    assert strengths == sorted(strengths, reverse=True)
    assert strengths[0] == pytest.approx(40.0, abs=0.01)
