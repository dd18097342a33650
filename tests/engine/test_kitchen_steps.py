"""The bench steps one by one: infuse, wash, strain with measured values, evaporate, ferment; each ledger to the gram."""

import pytest

from tests.engine.kitchen import (
    BUTTER,
    EGG,
    LEMON,
    MILK,
    PEAR,
    SALT,
    SPENT,
    SPIRIT,
    SUGAR,
    TEA,
    WATER,
    Vessel,
    house,
    pantry,
)
from washline.chemistry.components import (
    CITRIC,
    CO2,
    ETHANOL,
    FAT,
    FRUCTOSE,
    GLUCOSE,
    LACTIC,
    LACTOSE,
    PROTEIN,
    SUCROSE,
)
from washline.engine.flags import BUFFER_WORDS, raws_of_unknown_buffer
from washline.engine.state import CATIONS
from washline.engine.straining import WAYS
from washline.engine.trace import Trace
from washline.engine.workings import Workings
from washline.model.amount import Basis
from washline.model.item import BuildKind
from washline.model.step import FermentKind, WashKind


def traced(vessel: Vessel) -> Trace:
    return Workings(house().with_build(vessel.build(BuildKind.PART))).trace(vessel.build_id)


def close(value: float) -> object:
    return pytest.approx(value, rel=1e-9)


ALL_GIVEN = {
    "water_given_pct": 100.0,
    "sugars_given_pct": 50.0,
    "acids_given_pct": 25.0,
    "salt_given_pct": 100.0,
    "solids_given_pct": 0.0,
}


def test_a_solid_gives_the_shares_that_the_house_set() -> None:
    """100 g of pear: 84 g of water, 10.1 g of sugars, 0.2 g of malic acid."""
    trace = traced(Vessel(1001).add(WATER, 400.0).infuse(PEAR, 100.0, **ALL_GIVEN))
    share = trace.steps[1].share
    assert trace.steps[1].held_g == close(100.0 - 84.0 - 5.05 - 0.05)
    assert float(trace.steps[1].after[GLUCOSE]) == close(1.4)
    assert float(trace.steps[1].after[10]) == close(0.05)
    assert share.grams == close(100.0)
    assert trace.total.grams == close(500.0)
    assert float(trace.held_state[22]) == close(5.0)


def test_what_is_held_stays_behind_with_the_strain() -> None:
    vessel = Vessel(1001).add(WATER, 400.0).infuse(PEAR, 100.0, **ALL_GIVEN)
    trace = traced(vessel.strain(weighed_g=450.0, leftover_id=SPENT))
    assert trace.held_state.tolist() == [0.0] * len(trace.held_state)
    assert float(trace.final_state[22]) == 0.0
    assert trace.steps[2].left_g == close(50.0)
    assert trace.outflows[0].item_id == SPENT
    assert trace.outflows[0].masses[SUCROSE] + float(trace.final_state[SUCROSE]) == close(0.8)


def test_a_share_that_nobody_knows_counts_nothing_and_says_at_least() -> None:
    vessel = Vessel(1001).add(WATER, 400.0).infuse(PEAR, 100.0, water_given_pct=100.0)
    result = traced(vessel.strain(expected_pct=90.0)).result
    assert result.value("sweetness") == 0.0
    per_100_ml = 100.0 / (result.value("length") or 1.0)
    assert result.more_than("sweetness") == pytest.approx(10.1 * 450.0 / 484.0 * per_100_ml, rel=1e-9)
    assert result.more_than("acidity") == pytest.approx(0.2 * 450.0 / 484.0 * per_100_ml, rel=1e-9)
    assert result.more_than("strength") == 0.0


def test_ethanol_always_goes_over() -> None:
    vessel = Vessel(1001).add(WATER, 100.0).infuse(SPIRIT, 100.0)
    assert traced(vessel).steps[1].after[ETHANOL] == close(33.3)


def test_unknown_sugar_of_a_solid_goes_over_by_the_share_given() -> None:
    vessel = Vessel(1001).add(WATER, 100.0).infuse(TEA, 10.0, sugars_given_pct=50.0, acids_given_pct=0.0)
    result = traced(vessel.strain(weighed_g=90.0)).result
    per_100_ml = 100.0 / (result.value("length") or 1.0)
    assert result.more_than("sweetness") == pytest.approx(3.3 * 0.5 * 0.9 * per_100_ml, rel=1e-9)
    assert result.more_than("acidity") == 0.0


def test_a_percent_of_the_vessel_counts_what_is_held() -> None:
    vessel = Vessel(1001).add(WATER, 900.0).infuse(PEAR, 100.0, water_given_pct=0.0)
    assert traced(vessel.share(SALT, 2.0, Basis.PERCENT_OF_VESSEL)).steps[2].found_g == close(20.0)


def test_taking_takes_liquid_and_held_in_proportion() -> None:
    vessel = Vessel(1001).add(WATER, 900.0).infuse(PEAR, 100.0, water_given_pct=0.0)
    trace = traced(vessel.take(500.0))
    assert (trace.steps[2].held_g, trace.steps[2].vessel_g) == (close(50.0), close(500.0))
    assert trace.outflows[0].masses[22] == close(2.5)


def test_a_hot_infusion_keeps_its_liquid_warm() -> None:
    vessel = Vessel(1001).add(WATER, 500.0, temperature_c=90.0).infuse(TEA, 10.0)
    assert traced(vessel).steps[1].readings_after[6] == pytest.approx(90.0, abs=0.01)


def test_muddling_moves_no_gram() -> None:
    trace = traced(Vessel(1001).add(WATER, 100.0).muddle())
    assert trace.steps[1].after.tolist() == trace.steps[0].after.tolist()


def test_a_fat_wash_holds_all_the_fat_and_nothing_else() -> None:
    trace = traced(Vessel(1001).add(SPIRIT, 700.0).add(BUTTER, 100.0).wash())
    assert trace.steps[2].held_g == close(81.0)
    assert trace.steps[2].after[FAT] == 0.0
    assert trace.steps[2].after[PROTEIN] == close(1.0)


def test_a_milk_wash_holds_fat_and_the_casein_share_of_the_protein() -> None:
    """Casein is about 80 % of milk protein (Walstra, Wouters and Geurts 2006, from memory)."""
    trace = traced(Vessel(1001).add(SPIRIT, 500.0).add(MILK, 100.0).wash(kind=WashKind.MILK))
    assert trace.steps[2].held_g == close(3.2 + 0.8 * 3.2)


def test_held_shares_of_a_wash_are_the_house_s() -> None:
    vessel = Vessel(1001).add(LEMON, 100.0).add(MILK, 100.0)
    vessel.wash(kind=WashKind.MILK, fat_held_pct=50.0, protein_held_pct=100.0, acids_held_pct=20.0)
    step = traced(vessel).steps[2]
    assert step.after[CITRIC] == close(4.0)
    assert step.held_g == close(1.6 + 3.2 + 1.0)
    assert step.after[CATIONS] == close(3.0 * 0.8)


def test_a_brix_measured_on_the_strained_liquid_re_splits_what_was_strained() -> None:
    """100 g sugar in 1,000 g: the strained 600 g measure 7 °Bx, so that 42 g are in it and 58 g stay in the cake."""
    vessel = Vessel(1001).add(WATER, 900.0).add(SUGAR, 100.0)
    trace = traced(vessel.strain(weighed_g=600.0, leftover_id=SPENT, measured_brix=7.0))
    assert float(trace.final_state[SUCROSE]) == close(42.0)
    assert trace.outflows[0].masses[SUCROSE] == close(58.0)
    assert trace.outflows[0].grams == close(400.0)
    assert trace.steps[2].missed == ()


def test_what_the_cake_cannot_give_is_said() -> None:
    vessel = Vessel(1001).add(WATER, 900.0).add(SUGAR, 100.0)
    trace = traced(vessel.strain(weighed_g=600.0, measured_brix=30.0))
    assert trace.steps[2].missed == ("more than the cake can give or take: the split is as near as it gets",)
    assert float(trace.final_state[SUCROSE]) == close(100.0)
    assert trace.total.grams == close(600.0)


def test_loss_has_the_measured_composition_of_the_liquid() -> None:
    vessel = Vessel(1001).add(WATER, 900.0).add(SUGAR, 100.0)
    vessel.strain(weighed_g=600.0, leftover_weighed_g=300.0, measured_brix=7.0)
    flows = {flow.kind: flow for flow in traced(vessel).outflows}
    assert flows["loss"].grams == close(100.0)
    assert flows["loss"].masses[SUCROSE] == close(7.0)
    assert flows["leftover"].masses[SUCROSE] == close(51.0)


def test_an_acidity_measured_on_the_strained_liquid_moves_the_acids_with_their_cations() -> None:
    vessel = Vessel(1001).add(LEMON, 500.0).add(WATER, 500.0)
    trace = traced(vessel.strain(weighed_g=600.0, measured_acidity_pct=2.0, measured_brix=4.5))
    assert trace.total.acids_g == close(12.0)
    assert trace.result.value("brix_true") == close(4.5)
    assert trace.outflows[0].masses[CITRIC] + float(trace.final_state[CITRIC]) == close(25.0)


def test_an_infused_solid_gives_more_where_the_liquid_measures_more() -> None:
    """The pear's sugars are held; 5 °Bx on the strained liquid draws them out of it."""
    vessel = Vessel(1001).add(WATER, 100.0).infuse(PEAR, 100.0, water_given_pct=100.0, sugars_given_pct=0.0)
    trace = traced(vessel.strain(weighed_g=150.0, measured_brix=5.0))
    assert trace.result.value("brix_true") == close(5.0)
    assert trace.steps[2].missed == ()
    assert float(trace.final_state[GLUCOSE]) / float(trace.final_state[FRUCTOSE]) == close(2.8 / 6.5)


def test_a_way_offers_its_usual_yield_with_where_it_is_from() -> None:
    """Fine strain 1-3 %, coffee filter 5-15, agar 10-25, centrifuge 5-10 % lost (common practice)."""
    assert set(WAYS) == {
        "press", "cloth", "paper", "fine", "spin", "enzyme", "agar", "freeze-thaw", "milk", "skim",
    }  # fmt: skip
    assert (WAYS["fine"].low_pct, WAYS["fine"].high_pct) == (97.0, 99.0)
    assert (WAYS["agar"].low_pct, WAYS["spin"].high_pct) == (75.0, 95.0)
    assert all(way.key == key and 0.0 < way.low_pct < way.high_pct < 100.0 for key, way in WAYS.items())
    assert all(way.sentence.endswith(".") and way.source for way in WAYS.values())


def test_reducing_to_a_brix_lets_only_water_leave() -> None:
    """200 g of solids are half of 400 g."""
    trace = traced(Vessel(1001).add(WATER, 800.0).add(SUGAR, 200.0).reduce(final_brix=50.0))
    assert trace.total.grams == close(400.0)
    assert trace.result.value("brix_true") == close(50.0)


def test_reducing_to_a_brix_that_is_passed_takes_nothing_and_says_so() -> None:
    trace = traced(Vessel(1001).add(WATER, 800.0).add(SUGAR, 200.0).reduce(final_brix=10.0))
    assert trace.total.grams == close(1000.0)
    assert trace.steps[2].missed == ("already above its °Bx: nothing was taken",)


@pytest.mark.parametrize(
    "way, minutes, kept",
    [("simmered", 30.0, 35.0), ("simmered", 15.0, 40.0), ("flamed", None, 75.0), ("closed", None, 100.0)],
)
def test_ethanol_stays_by_the_published_table(way: str, minutes: float | None, kept: float) -> None:
    """USDA Table of Nutrient Retention Factors, release 6 (2007)."""
    vessel = Vessel(1001).add(SPIRIT, 300.0)
    vessel.heat(final_pct=60.0, ethanol_way=way, duration_s=None if minutes is None else minutes * 60.0)
    assert traced(vessel).total.ethanol_g == close(99.9 * kept / 100.0)


@pytest.mark.parametrize(
    "fields, words",
    [
        ({"ethanol_way": "simmered"}, "say how long it is heated: the ethanol that stays depends on it"),
        ({"ethanol_way": "sung to"}, "way of heating not known here: sung to"),
    ],
)
def test_a_way_that_cannot_be_looked_up_says_why(fields: dict[str, str], words: str) -> None:
    build = Vessel(1001).add(SPIRIT, 300.0).heat(final_pct=60.0, **fields).build()
    assert words in Workings(pantry().with_build(build)).result_now(1001).reasons("strength")


def test_what_is_held_gives_its_water_last() -> None:
    vessel = Vessel(1001).add(SUGAR, 100.0).add(WATER, 50.0).infuse(PEAR, 100.0, water_given_pct=0.0)
    trace = traced(vessel.heat(final_g=180.0))
    assert trace.steps[3].vessel_g == close(180.0)
    assert trace.steps[3].held_g == close(100.0 - 20.0)


def test_lactic_ferment_splits_sugar_into_equal_moles_with_gas_and_into_two_acids_without() -> None:
    """C6H12O6 = lactic acid + ethanol + CO2 (180.156 = 90.078 + 46.068 + 44.01): 4.401 g of gas are 0.1 mol."""
    vessel = Vessel(1001).add(WATER, 900.0).add(SUGAR, 100.0).ferment(gas_lost_g=4.401)
    after = traced(vessel).steps[2].after
    assert (float(after[LACTIC]), float(after[ETHANOL])) == (close(9.0078), close(4.6068))
    assert float(after[SUCROSE]) == close(100.0 - 0.05 * (2 * 180.156 - 18.01528))
    assert float(after[0]) == close(900.0 - 0.05 * 18.01528)


def test_an_acidity_without_gas_is_lactic_acid_alone() -> None:
    """6.404 g of citric acid take up 100 mmol of base, as 9.0078 g of lactic acid do."""
    vessel = Vessel(1001).add(WATER, 900.0).add(SUGAR, 100.0).ferment(final_acidity_pct=0.64041)
    trace = traced(vessel)
    assert float(trace.steps[2].after[LACTIC]) == pytest.approx(9.0078, rel=1e-4)
    assert trace.outflows[0].grams == 0.0
    assert trace.result.value("strength") == 0.0


def test_yeast_makes_two_of_ethanol_and_two_of_gas() -> None:
    """C6H12O6 = 2 C2H5OH + 2 CO2: 88.02 g of gas and 92.136 g of ethanol from 180.156 g."""
    vessel = Vessel(1001).add(WATER, 800.0).add(SUGAR, 200.0)
    after = traced(vessel.ferment(kind=FermentKind.YEAST, gas_lost_g=44.01)).steps[2].after
    assert float(after[ETHANOL]) == close(46.068)
    assert float(after[LACTIC]) == 0.0


def test_yeast_to_a_brix_reads_it() -> None:
    vessel = Vessel(1001).add(WATER, 800.0).add(SUGAR, 200.0)
    trace = traced(vessel.ferment(kind=FermentKind.YEAST, final_brix=5.0))
    assert trace.result.value("brix_true") == close(5.0)
    assert trace.outflows[0].kind == "gas"


def test_yeast_leaves_milk_sugar() -> None:
    vessel = Vessel(1001).add(MILK, 1000.0).ferment(kind=FermentKind.YEAST, gas_lost_g=1.0)
    trace = traced(vessel)
    assert float(trace.steps[1].after[LACTOSE]) == close(50.0)
    assert trace.steps[1].missed == ("more than the sugar in the vessel can become: all of it was used",)


@pytest.mark.parametrize(
    "fields, words",
    [
        ({"gas_lost_g": 90.0}, "more than the sugar in the vessel can become: all of it was used"),
        (
            {"gas_lost_g": 4.0, "final_acidity_pct": 0.1},
            "the gas that left means more acid than that: the gas stands",
        ),
    ],
)
def test_a_ferment_that_cannot_be_says_so(fields: dict[str, float], words: str) -> None:
    vessel = Vessel(1001).add(WATER, 900.0).add(SUGAR, 100.0).ferment(**fields)
    assert traced(vessel).steps[2].missed == (words,)


def test_a_measured_ph_of_a_ferment_stands_and_its_titration_too() -> None:
    vessel = Vessel(1001).add(WATER, 950.0).add(SUGAR, 50.0)
    trace = traced(vessel.ferment(final_acidity_pct=0.7, final_ph=3.5))
    assert trace.result.value("ph") == pytest.approx(3.5, abs=1e-6)
    assert trace.total.acids_g == close(7.0)


def test_the_gas_of_a_ferment_is_of_its_step_and_no_item() -> None:
    flow = traced(Vessel(1001).add(WATER, 900.0).add(SUGAR, 100.0).ferment(gas_lost_g=2.0)).outflows[0]
    assert (flow.kind, flow.step_id, flow.item_id) == ("gas", 1001003, None)
    assert flow.masses[CO2] == close(2.0)


def test_what_a_ferment_makes_is_of_the_lines_that_gave_sugar_and_water() -> None:
    """Sucrose and the water that splits it: 342.297 and 18.015 of 360.312 g."""
    vessel = Vessel(1001).add(SPIRIT, 100.0).add(WATER, 800.0).add(SUGAR, 100.0)
    trace = traced(vessel.ferment(kind=FermentKind.YEAST, gas_lost_g=10.0))
    made = 10.0 * 46.068 / 44.01
    assert trace.steps[2].share.ethanol_g == close(made * (1.0 - 18.01528 / 360.312))
    assert sum(step.share.ethanol_g for step in trace.steps) == close(33.3 + made)


def test_the_ph_of_what_holds_egg_white_is_flagged() -> None:
    build = Vessel(1001).add(LEMON, 50.0).add(EGG, 20.0).build()
    workings = Workings(pantry().with_build(build))
    assert BUFFER_WORDS in workings.result_now(1001).reasons("ph")
    assert workings.result_now(1001).is_outside("ph")
    assert raws_of_unknown_buffer(workings.book, 1001) == (EGG,)


def test_a_little_of_what_has_an_unknown_buffer_is_not_flagged() -> None:
    build = Vessel(1001).add(LEMON, 50.0).add(WATER, 50.0).add(EGG, 1.9).build()
    assert BUFFER_WORDS not in Workings(pantry().with_build(build)).result_now(1001).reasons("ph")


def test_a_drink_reads_its_ph_water_activity_and_freezing_point() -> None:
    """Lemon juice reads 2.0 to 2.6 (FDA, approximate pH of foods); 10 % of sucrose in water freezes at -0.63 °C and 58.5 %
    have a water activity of 0.90 (CRC Handbook, 102nd ed.; Robinson and Stokes)."""
    lemon = traced(Vessel(1001).add(LEMON, 100.0)).result.value("ph")
    assert lemon is not None
    assert 2.0 < lemon < 2.6
    light = traced(Vessel(1001).add(WATER, 90.0).add(SUGAR, 10.0)).result
    heavy = traced(Vessel(1001).add(WATER, 41.5).add(SUGAR, 58.5)).result
    assert light.value("freezing") == pytest.approx(-0.63, abs=0.01)
    assert heavy.value("water_activity") == pytest.approx(0.90, abs=0.005)


def test_a_liquid_is_not_boiled_down_to_nothing_dissolved() -> None:
    trace = traced(Vessel(1001).add(WATER, 90.0).add(SUGAR, 10.0).reduce(final_brix=0.0))
    assert trace.value("mass") == pytest.approx(100.0)
    assert trace.steps[-1].missed
