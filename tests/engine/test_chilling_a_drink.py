"""Chilling through a whole drink: published dilutions, classic drinks, and the laws that every tin obeys."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec import structs

from tests.engine.bar import mixed, poured, traced, with_method
from tests.engine.kitchen import EGG, LEMON, SODA, SPIRIT, SUGAR, WATER, Vessel, pantry, raw
from washline.chemistry.chilling import ice_heat_j_per_g
from washline.chemistry.freezing import freezing_point_c
from washline.chemistry.heat import enthalpy_j
from washline.engine.state import ENTHALPY, MASSES
from washline.engine.traced_ice import ChillTrace
from washline.engine.workings import Workings
from washline.model.amount import Basis
from washline.model.change import difference
from washline.model.house import Calibration
from washline.model.item import KeptAt
from washline.model.step import BarStrainWay, ChillBy, IceState

FUSION_J_PER_G = 333.55
NEUTRAL = 91


def chilled(vessel: Vessel, method: str, **fields: object) -> ChillTrace:
    chill = traced(vessel.chill(method, **fields)).steps[-1].chill
    assert chill is not None
    return chill


# D. Arnold 2014, Liquid Intelligence (from memory): ml of water for each 100 ml before ice.
@pytest.mark.parametrize(
    "method, strength, share",
    [
        ("stir", 15.0, 30.5),
        ("stir", 20.0, 34.6),
        ("stir", 25.0, 38.1),
        ("stir", 30.0, 41.0),
        ("stir", 35.0, 43.3),
        ("shake", 10.0, 36.2),
        ("shake", 15.0, 42.9),
        ("shake", 20.0, 48.9),
        ("shake", 25.0, 54.1),
        ("shake", 30.0, 58.5),
    ],
)
def test_where_it_was_made_for_the_published_dilution_stands(
    method: str, strength: float, share: float
) -> None:
    trace = traced(poured(strength).chill(method))
    assert trace.value("dilution") == pytest.approx(share, abs=0.15)
    assert trace.steps[-1].chill is not None
    assert trace.steps[-1].chill.by == "published"


# Physical reference, section e: balance of heat with 60 g/L (shaken) and 40 g/L (stirred) of sugar, g and °C.
@pytest.mark.parametrize(
    "method, strength, sugar, grams, end_c",
    [
        ("shake", 5.0, 60.0, 35.4, -1.5),
        ("shake", 40.0, 60.0, 70.8, -11.0),
        ("stir", 5.0, 40.0, 24.3, 0.7),
        ("stir", 40.0, 40.0, 50.3, -8.7),
    ],
)
def test_elsewhere_the_balance_of_heat_stands(
    method: str, strength: float, sugar: float, grams: float, end_c: float
) -> None:
    chill = chilled(mixed(strength, sugar), method)
    assert chill.by == "balance"
    assert chill.melted_g == pytest.approx(grams, abs=0.1)
    assert chill.end_c == pytest.approx(end_c, abs=0.06)


# The same book's table of classic drinks (from memory), % vol before ice and as served; sugar (g/L) of the served drink
# times its growth.
@pytest.mark.parametrize(
    "before, sugar, method, served", [(22.9, 135.0, "shake", 15.0), (29.3, 95.0, "shake", 18.6)]
)
def test_a_classic_shaken_drink_comes_out_as_strong_as_published(
    before: float, sugar: float, method: str, served: float
) -> None:
    assert traced(poured(before, sugar).chill(method)).value("strength") == pytest.approx(served, abs=0.8)


def test_a_classic_stirred_drink_comes_out_as_strong_and_as_long_as_published() -> None:
    """29.3 % vol and 90 ml become 20.7 % vol and 127 ml, same source."""
    trace = traced(poured(29.3, 132.0, ml=90.0).chill("stir"))
    assert trace.value("strength") == pytest.approx(20.7, abs=0.8)
    assert trace.value("length") == pytest.approx(127.0, abs=3.0)


def test_wet_ice_dilutes_more_than_dry_ice() -> None:
    grams = {state: chilled(poured(20.0, 60.0), "shake", ice_state=state).melted_g for state in IceState}
    assert grams[IceState.WET] > grams[IceState.DRY] + 5.0


def test_what_comes_from_the_fridge_melts_less_than_what_stands_in_the_room() -> None:
    """Physical reference, section e: 42.9 g from 20 °C and 25.6 g from 5 °C, of 100 ml at 20 % vol and 60 g/L."""
    dry = {"ice_state": IceState.DRY}
    cold, warm = (chilled(mixed(20.0, 60.0, celsius), "shake", **dry) for celsius in (5.0, 20.0))
    assert cold.melted_g == pytest.approx(25.6, abs=0.06)
    assert warm.melted_g == pytest.approx(42.9, abs=0.06)


@pytest.mark.parametrize(
    "fields, grams",
    [
        ({"ice_c": -10.0}, 31.4),
        ({"vessel_c": 20.0}, 50.0),
        ({"ice_g": 100.0}, 39.5),
    ],
)
def test_what_moves_the_melt_moves_it_as_the_reference_says(fields: dict[str, float], grams: float) -> None:
    """Physical reference, section e: 20 % vol, 60 g/L, 100 ml, drained ice; the tin is 200 g of steel."""
    chill = chilled(mixed(20.0, 60.0), "shake", ice_state=IceState.DRY, **fields)
    assert chill.melted_g == pytest.approx(grams, abs=0.06)


def test_a_short_stir_melts_less_than_a_long_one() -> None:
    short, long = (
        chilled(poured(25.0, 40.0), "stir", duration_s=seconds, by=ChillBy.BALANCE)
        for seconds in (10.0, 40.0)
    )
    assert short.melted_g < long.melted_g - 5.0
    # 1 - exp(-10/13) and 1 - exp(-40/13).
    assert short.approach == pytest.approx(0.5366, abs=1e-4)
    assert long.approach == pytest.approx(0.9539, abs=1e-4)


def test_crushed_ice_is_quicker_and_a_cube_slower() -> None:
    ways = [chilled(poured(25.0), "stir", ice=ice).approach for ice in ("cube", "cubes", "crushed")]
    # 1 - 0.1 ** pace.
    assert ways == pytest.approx([0.8005, 0.9, 0.999], abs=1e-4)


def test_what_was_weighed_wins() -> None:
    chill = chilled(poured(25.0), "stir", melted_g=11.0)
    assert (chill.melted_g, chill.by) == (11.0, "weighed")
    assert chill.published_g == pytest.approx(38.1, abs=0.2)


def test_a_measured_end_wins() -> None:
    assert traced(poured(25.0).chill("stir", end_c=1.5)).value("chill") == pytest.approx(1.5, abs=1e-9)


def test_a_house_may_choose_either() -> None:
    published = chilled(poured(5.0), "shake", by=ChillBy.PUBLISHED)
    balance = chilled(poured(20.0), "shake", by=ChillBy.BALANCE)
    assert (published.by, balance.by) == ("published", "balance")
    assert published.melted_g == pytest.approx(28.6, abs=0.1)


def test_no_more_melts_than_there_is_ice() -> None:
    little = chilled(poured(20.0), "stir", ice_g=12.0, by=ChillBy.PUBLISHED)
    usual = chilled(poured(20.0), "stir", ice_g=12.0)
    assert little.melted_g == 12.0
    assert little.ice_left_g == 0.0
    assert 9.0 < usual.melted_g < 12.0
    assert (usual.end_c or 0.0) > 3.0
    assert little.end_c == usual.end_c


def test_a_dry_shake_changes_nothing_and_a_frozen_tin_cools() -> None:
    plain = traced(poured(20.0).chill("dry-shake"))
    assert plain.value("dilution") == 0.0
    assert plain.value("chill") == pytest.approx(traced(poured(20.0)).value("chill") or 0.0, abs=1e-9)
    # 97 g of 4.3 J/gK and a tin of 100 J/K at -18 °C.
    frozen = traced(mixed(20.0, 0.0).chill("dry-shake", vessel_c=-18.0))
    assert frozen.value("chill") == pytest.approx(20.0 - 38.0 * 100.0 / (97.4 * 4.32 + 100.0), abs=0.2)


def test_a_hot_drink_warms_its_glass() -> None:
    """150 g at 90 °C (4.19 J/gK) and 120 J/K at 20 °C."""
    trace = traced(Vessel(1001).add(WATER, 150.0, temperature_c=90.0).chill("hot-build"))
    assert trace.value("chill") == pytest.approx((628.5 * 90.0 + 120.0 * 20.0) / 748.5, abs=0.8)
    assert trace.value("dilution") == 0.0


def test_a_freezer_batch_is_as_cold_as_the_freezer_and_says_how_much_of_it_is_frozen() -> None:
    strong = chilled(poured(38.0), "freezer-batch")
    weak = chilled(poured(12.0), "freezer-batch")
    freezer_c = pantry().settings.freezer_c
    assert strong.end_c == weak.end_c == pytest.approx(freezer_c)
    assert strong.frozen_pct == 0.0
    # 12 % vol is 9.64 % by mass; at -18 °C the liquid left is as strong as freezes there: 27.5 % by mass (CRC: 20 %
    # 10.92 K, 30 % 20.47 K), so 65 % is ice.
    assert weak.frozen_pct == pytest.approx(65.0, abs=2.0)


def test_what_freezes_in_the_store_says_so() -> None:
    strong, weak = (traced(poured(strength).chill("freezer-batch")) for strength in (38.0, 12.0))
    assert strong.steps[-1].missed == ()
    assert weak.steps[-1].missed == ("part of it freezes there",)


def test_what_has_no_end_on_ice_has_no_value_and_says_why() -> None:
    """Colder than -45 °C, where the ice line ends: nothing after it is known."""
    strong = Vessel(1001).add(NEUTRAL, 50.0, temperature_c=-42.0)
    book = pantry().with_raw(raw(NEUTRAL, "neutral spirit", {"water": 4.0, "ethanol": 96.0}))
    result = traced(strong.chill("stir", ice_c=-42.0, ice_g=300.0), book).result
    assert result.value("strength") is None
    assert result.value("dilution") is None
    assert "where the ice line ends" in " ".join(result.reasons("strength"))
    assert "where the ice line ends" in " ".join(result.reasons("chill"))


def test_below_the_end_of_the_density_tables_only_the_served_volume_is_outside() -> None:
    book = replace(pantry(), settings=structs.replace(pantry().settings, freezer_c=-24.0))
    result = traced(poured(40.0).chill("freezer-batch"), book).result
    assert result.is_outside("length_served")
    assert not result.is_outside("length")


def test_each_kind_of_chill_is_as_sure_as_it_can_be() -> None:
    """±1 K on ice, ±2 K in a freezer, ±0.5 K by a thermometer, nothing where nothing is done: half-widths over root three
    (common practice, no source)."""

    def plus_minus(vessel: Vessel, key: str = "chill") -> float | None:
        return Workings(pantry().with_build(vessel.build())).spread(1001).plus_minus(key)

    root = 3.0**0.5
    assert plus_minus(poured(25.0).chill("freezer-batch")) == pytest.approx(2.0 / root, rel=1e-6)
    assert plus_minus(poured(25.0).chill("stir", melted_g=9.0, end_c=2.0)) == pytest.approx(
        0.5 / root, rel=1e-6
    )
    assert plus_minus(poured(25.0).chill("dry-shake")) is None
    over = poured(25.0).chill("stir", melted_g=30.0).bar_strain(fresh_ice_g=100.0)
    assert plus_minus(over, "length") == pytest.approx(2.0 / root * 1.29, rel=0.03)


def test_a_cold_store_without_a_place_asks_for_one() -> None:
    method = structs.replace(pantry().methods["freezer-batch"], kept_at=None)
    trace = traced(poured(20.0).chill("freezer-batch"), with_method(method))
    assert [problem.words for problem in trace.problems] == [
        "say where Freezer-batch stands: freezer or fridge"
    ]


def test_spirit_poured_into_juice_warms_it() -> None:
    """50 ml of 40 % vol and 50 ml of water, both at 20 °C: from q_mix at 0 °C (physical reference, section e) of 0.333 and
    0.171 by mass, 2 to 5 K."""
    trace = traced(Vessel(1001).add(SPIRIT, 50.0, "ml").add(WATER, 50.0))
    assert 22.0 < (trace.value("chill") or 0.0) < 25.0


def test_ice_of_the_method_stays_in_the_glass() -> None:
    trace = traced(poured(30.0, ml=60.0).chill("build", ice_g=120.0))
    assert trace.ice_left_g == pytest.approx(120.0 - trace.melted_g, abs=1e-9)
    assert traced(poured(30.0, ml=60.0).chill("stir", ice_g=150.0)).ice_left_g == 130.0


def test_the_wash_line_rises_as_ice_melts_in_the_glass() -> None:
    from_tin = traced(poured(30.0, ml=60.0).chill("stir", ice_g=130.0))
    in_glass = traced(poured(30.0, ml=60.0).chill("swizzle", ice_g=130.0))
    melted = in_glass.melted_g
    assert melted > 10.0
    lifted = (in_glass.wash_line_ml or 0.0) - (from_tin.wash_line_ml or 0.0)
    assert lifted == pytest.approx(0.825 * melted / 0.917, rel=1e-9)


def test_topping_to_the_wash_line_meets_the_line_that_the_melting_ice_leaves() -> None:
    vessel = poured(30.0, ml=60.0).chill("swizzle", ice_g=130.0).top(SODA, 0.0, "", Basis.TO_WASH_LINE)
    trace = traced(vessel)
    assert trace.value("length") == pytest.approx(trace.wash_line_ml or 0.0, rel=1e-9)


def test_a_house_s_calibration_corrects_both_and_narrows_the_spread() -> None:
    book = pantry()
    slug = "stir/cubes"
    calibration = Calibration(
        slug=slug,
        method="stir",
        ice="cubes",
        date="2026-05-01",
        tau_s=6.0,
        surface_water_pct=2.0,
        factor=1.1,
        offset=0.02,
        weighings=4,
        left_ml_per_100_ml=1.0,
    )
    calibrated = replace(book, calibrations={slug: calibration})
    usual = poured(25.0).chill("stir", ice="cubes").build()
    plain, own = traced(usual, book), traced(usual, calibrated)
    share = (plain.value("dilution") or 0.0) / 100.0
    assert own.value("dilution") == pytest.approx(100.0 * (1.1 * share + 0.02), rel=1e-9)
    assert own.steps[-1].chill is not None
    assert own.steps[-1].chill.is_calibrated
    spreads = [
        Workings(one.with_build(usual)).spread(1001).plus_minus("dilution") for one in (book, calibrated)
    ]
    assert spreads == [pytest.approx(5.0 / 3.0**0.5, rel=1e-6), pytest.approx(1.0, rel=1e-6)]
    balance = poured(25.0).chill("stir", ice="cubes", duration_s=15.0, by=ChillBy.BALANCE).build()
    assert traced(balance, calibrated).melted_g > traced(balance, book).melted_g + 3.0


def test_a_new_ice_or_calibration_wakes_the_drinks() -> None:
    old = pantry().with_build(poured(25.0).chill("stir", ice="cubes").build())
    workings = Workings(old)
    before = workings.result_now(1001).value("dilution")
    calibration = Calibration(slug="stir/cubes", method="stir", ice="cubes", date="", factor=1.2)
    new = old.with_calibration(calibration)
    assert workings.trace(1001, new).value("dilution") == pytest.approx(1.2 * (before or 0.0))
    workings.update(new, difference(old, new), [1001])
    assert workings.result_now(1001).value("dilution") == pytest.approx(1.2 * (before or 0.0))


def test_the_served_volume_is_smaller_than_at_twenty_degrees() -> None:
    """Physical reference, section c: at -5 °C 16 % vol with 80 g/L takes 0.9945 of its volume at 20 °C."""
    served = traced(mixed(16.0, 80.0, -5.0, ml=120.0))
    assert served.value("length") == pytest.approx(120.0, abs=0.1)
    assert (served.value("length_served") or 0.0) / 120.0 == pytest.approx(0.9945, abs=0.0003)


def test_above_thirty_five_percent_a_wider_error_is_said_of_dilution_and_chill_alone() -> None:
    result = traced(poured(39.0).chill("stir")).result
    words = "Above 35 % vol before ice expect 8 g per 100 mL or more: neither weighings nor freezing points test it there."
    assert words in result.reasons("dilution")
    assert words in result.reasons("chill")
    assert words not in result.reasons("strength")
    assert not result.is_outside("dilution")


def test_what_is_hot_on_ice_and_ice_that_melts_nothing_is_said() -> None:
    hot = traced(Vessel(1001).add(WATER, 100.0, temperature_c=70.0).chill("shake")).result
    assert hot.is_outside("dilution")
    cold = traced(Vessel(1001).add(WATER, 50.0, temperature_c=1.0).chill("shake", ice_c=-30.0, ice_g=400.0))
    assert "Ice or vessel is so cold that nothing melts" in " ".join(cold.result.reasons("dilution"))
    assert cold.melted_g == pytest.approx(12.0)  # the water on the ice, 3 % of it


@pytest.mark.parametrize("method", ["stir", "shake"])
@pytest.mark.parametrize(
    "strengths",
    [np.linspace(7.5, 10.5, 61), np.linspace(34.5, 38.5, 81)],
    ids=["weak", "strong"],
)
def test_a_drink_that_crosses_a_ramp_does_not_jump(method: str, strengths: np.ndarray) -> None:
    chills = [chilled(poured(strength, 40.0), method) for strength in strengths.tolist()]
    melts = np.array([chill.melted_g for chill in chills])
    ends = np.array([chill.end_c for chill in chills])
    assert {chill.by for chill in chills} == {"published", "between", "balance"}
    assert np.abs(np.diff(melts)).max() < 0.6
    assert np.abs(np.diff(ends)).max() < 0.2


@pytest.mark.parametrize("low, high", [(13.5, 18.5), (23.5, 28.5)])
def test_a_drink_that_gets_warmer_does_not_jump(low: float, high: float) -> None:
    chills = [
        chilled(poured(25.0, 40.0, temperature_c=celsius), "stir")
        for celsius in np.linspace(low, high, 101).tolist()
    ]
    assert np.abs(np.diff([chill.melted_g for chill in chills])).max() < 0.3
    assert np.abs(np.diff([chill.end_c for chill in chills])).max() < 0.1


def test_ice_that_runs_short_does_not_make_it_jump() -> None:
    chills = [chilled(poured(25.0), "stir", ice_g=grams) for grams in np.linspace(30.0, 65.0, 141).tolist()]
    assert np.abs(np.diff([chill.melted_g for chill in chills])).max() < 0.4
    assert np.abs(np.diff([chill.end_c for chill in chills])).max() < 0.4


@st.composite
def drinks_on_ice(draw: st.DrawFn) -> tuple[Vessel, str, dict[str, object]]:
    vessel = Vessel(1001)
    vessel.add(SPIRIT, draw(st.floats(0.0, 90.0)), temperature_c=draw(st.floats(0.0, 40.0)))
    vessel.add(WATER, draw(st.floats(5.0, 90.0)), temperature_c=draw(st.floats(0.0, 40.0)))
    vessel.add(SUGAR, draw(st.floats(0.0, 25.0)))
    vessel.add(draw(st.sampled_from((LEMON, EGG))), draw(st.floats(0.0, 30.0)))
    fields: dict[str, object] = {
        "ice_g": draw(st.floats(0.0, 400.0)),
        "ice_c": draw(st.floats(-25.0, 0.0)),
        "vessel_c": draw(st.none() | st.floats(-18.0, 30.0)),
        "ice_state": draw(st.sampled_from(list(IceState))),
        "duration_s": draw(st.none() | st.floats(1.0, 60.0)),
    }
    return vessel, draw(st.sampled_from(["stir", "shake", "throw", "swizzle", "build", "blend"])), fields


@given(drinks_on_ice())
@settings(max_examples=150)
def test_the_balance_makes_and_loses_no_heat(drawn: tuple[Vessel, str, dict[str, object]]) -> None:
    vessel, method, fields = drawn
    before = traced(vessel.build()).final_state
    trace = traced(vessel.chill(method, by=ChillBy.BALANCE, **fields))
    chill = trace.steps[-1].chill
    assert chill is not None
    assert chill.end_c is not None
    core = pantry().methods[method].core
    rest_c = chill.ice_c + core * (min(chill.end_c, 0.0) - chill.ice_c)
    melted = chill.melted_g - chill.surface_water_g
    ice_before = chill.ice_g * (ice_heat_j_per_g(chill.ice_c) - FUSION_J_PER_G)
    ice_after = (chill.ice_g - melted) * (ice_heat_j_per_g(rest_c) - FUSION_J_PER_G)
    vessel_j = chill.vessel_j_per_k * ((chill.vessel_c or 0.0) - chill.end_c)
    apart = float(before[ENTHALPY] - trace.final_state[ENTHALPY]) + ice_before - ice_after + vessel_j
    size = abs(float(before[ENTHALPY])) + FUSION_J_PER_G * chill.ice_g + abs(vessel_j) + 1.0
    assert abs(apart + chill.cold_left_j) < 1e-8 * size


@given(drinks_on_ice(), st.sampled_from(list(ChillBy)))
@settings(max_examples=150)
def test_no_drink_ends_below_its_freezing_point(
    drawn: tuple[Vessel, str, dict[str, object]], by: ChillBy
) -> None:
    vessel, method, fields = drawn
    trace = traced(vessel.chill(method, by=by, **fields))
    chill = trace.steps[-1].chill
    assert chill is not None
    freezing_c = float(freezing_point_c(trace.final_state[MASSES, None])[0])
    # What freezes below -45 °C has no freezing point here.
    assert not (chill.end_c or 0.0) < freezing_c - 1e-8
    assert 0.0 <= chill.melted_g <= chill.ice_g + chill.surface_water_g + 1e-9


@given(drinks_on_ice(), st.floats(1.0, 200.0))
@settings(max_examples=100)
def test_more_ice_is_never_warmer_unless_the_ice_is(
    drawn: tuple[Vessel, str, dict[str, object]], more_g: float
) -> None:
    vessel, method, fields = drawn
    dry = {**fields, "ice_state": IceState.DRY, "by": ChillBy.BALANCE}
    less = chilled(_copy(vessel), method, **dry)
    more = chilled(_copy(vessel), method, **{**dry, "ice_g": float(str(dry["ice_g"])) + more_g})
    assume(more.equilibrium_c is not None and more.ice_c <= more.equilibrium_c)
    assert (more.end_c or 0.0) <= (less.end_c or 0.0) + 1e-8


def _copy(vessel: Vessel) -> Vessel:
    other = Vessel(vessel.build_id)
    other.steps = list(vessel.steps)
    return other


def test_unstrained_the_ice_goes_along() -> None:
    kept = traced(poured(25.0).chill("shake", ice_g=180.0).bar_strain(BarStrainWay.UNSTRAINED))
    assert kept.steps[-2].chill is not None
    assert kept.ice_left_g == pytest.approx(kept.steps[-2].chill.ice_left_g)
    assert traced(poured(25.0).chill("shake", ice_g=180.0).bar_strain()).ice_left_g == 130.0


def test_what_an_enthalpy_says_is_the_temperature_of_the_chill() -> None:
    trace = traced(poured(25.0).chill("stir"))
    chill = trace.steps[-1].chill
    assert chill is not None
    state = trace.final_state
    expected = enthalpy_j(state[MASSES, None], np.array([chill.end_c]))
    assert float(state[ENTHALPY]) == pytest.approx(float(expected[0]))


def test_a_place_of_its_own_is_the_freezer_of_the_house() -> None:
    book = pantry()
    colder = replace(book, settings=structs.replace(book.settings, freezer_c=-24.0))
    assert book.methods["freezer-batch"].kept_at is KeptAt.FREEZER
    assert traced(poured(38.0).chill("freezer-batch"), colder).value("chill") == pytest.approx(-24.0)


def test_the_published_dilution_was_made_for_the_usual_times() -> None:
    """From 12 s on, two fifths under the 20 s of a usual stir, the balance of heat alone counts."""
    timed = structs.replace(pantry().methods["stir"], time_low_s=20.0, time_high_s=40.0)
    book = with_method(timed)

    def melted(seconds: float, by: ChillBy = ChillBy.USUAL) -> float:
        chill = traced(mixed(25.0, 40.0).chill("stir", duration_s=seconds, by=by), book).steps[-1].chill
        assert chill is not None
        return chill.melted_g

    melts = [melted(seconds) for seconds in (30.0, 20.0, 16.0, 12.0, 5.0)]
    alone = melted(5.0, ChillBy.BALANCE)
    assert melts[0] == melts[1] > melts[2] > melts[3] > melts[4] == alone


def test_ice_that_is_gone_before_its_time_leaves_nothing_below_its_freezing_point() -> None:
    """1 g of ice in cold water with a little sugar melts whole where the published dilution is asked for."""
    vessel = Vessel(1001).add(WATER, 50.0, temperature_c=0.0).add(SUGAR, 1.0, temperature_c=0.0)
    trace = traced(vessel.chill("shake", ice_g=1.0, ice_c=0.0, by=ChillBy.PUBLISHED))
    freezing_c = float(freezing_point_c(trace.final_state[MASSES, None])[0])
    assert (trace.value("chill") or 0.0) >= freezing_c - 1e-8
