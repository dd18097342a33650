import numpy as np
import pytest

from tests.engine.kitchen import (
    BITTERS,
    CORDIAL,
    EGG,
    LEMON,
    LONG,
    PEAR,
    SALT,
    SODA,
    SOUR,
    SPENT,
    SPIRIT,
    SUGAR,
    TEA,
    WATER,
    Vessel,
    house,
    pantry,
)
from washline.engine.workings import Workings
from washline.model.amount import Basis
from washline.model.book import HouseBook
from washline.model.item import Build, BuildKind
from washline.model.step import ChillBy


def read(build: Build, key: str, book: HouseBook | None = None) -> float | None:
    return Workings((book or pantry()).with_build(build)).result_now(build.id).value(key)


def close(value: float) -> object:
    return pytest.approx(value, rel=1e-6)


def test_spirit_alone_reads_its_label() -> None:
    """40 % vol is 33.30 % by mass (OIML R 22, 1975)."""
    assert read(Vessel(1001).add(SPIRIT, 50.0, "ml").build(), "strength") == pytest.approx(40.0, abs=0.01)


def test_equal_volumes_of_ethanol_and_water_contract() -> None:
    """50 ml + 50 ml give 96.46 ml (OIML R 22); here 78.924 g of ethanol in 200 ml before mixing."""
    book = pantry().with_raw(
        pantry()
        .raws[SPIRIT]
        .__class__(
            id=50,
            slug="e",
            name="e",
            composition=(0.0, 100.0, *([0.0] * 22)),
            density_g_per_ml=0.78924,
            allergens=(),
        )
    )
    drink = Vessel(1001).add(50, 100.0, "ml").add(WATER, 100.0, "ml").build()
    assert read(drink, "length", book) == pytest.approx(2 * 96.46, abs=0.05)
    assert read(drink, "strength", book) == pytest.approx(51.83, abs=0.02)


def test_topping_with_soda_lowers_strength_and_brings_fizz() -> None:
    short = Vessel(1001).add(SPIRIT, 40.0, "ml")
    long = Vessel(1001).add(SPIRIT, 40.0, "ml").top(SODA, 120.0)
    assert (read(long.build(), "strength") or 0) < (read(short.build(), "strength") or 0) / 3.9
    assert read(long.build(), "fizz") == pytest.approx(7.5 * 0.12 / 0.15956 * 0.75, rel=0.01)


def test_a_quarter_of_the_gas_leaves_on_pouring_and_is_named() -> None:
    drink = Vessel(1001).top(SODA, 100.0).build()
    trace = Workings(pantry().with_build(drink)).trace(1001)
    assert [flow.kind for flow in trace.outflows] == ["gas"]
    assert trace.outflows[0].grams == close(0.75 * 0.25)


def test_sugar_for_a_weighed_yield_is_a_percent_of_what_was_strained() -> None:
    """30 g per 100 g strained: 412 g takes 123.6 g, 337 g takes 101 g (common practice, no source)."""
    for strained, sugar in ((412.0, 123.6), (337.0, 101.1)):
        part = Vessel(1001).add(PEAR, 600.0).strain(weighed_g=strained)
        part.share(SUGAR, 30.0, Basis.PERCENT_OF_LINES, 2)
        found = Workings(pantry().with_build(part.build(BuildKind.PART))).trace(1001).steps[2].found_g
        assert found == close(sugar)


def test_an_estimated_yield_is_a_percent_of_the_vessel() -> None:
    part = Vessel(1001).add(PEAR, 600.0).strain(expected_pct=70.0, low_pct=62.0, high_pct=76.0)
    step = Workings(pantry().with_build(part.build(BuildKind.PART))).trace(1001).steps[1]
    assert (step.found_g, step.estimate_g, step.estimate_low_g) == (close(420.0), close(420.0), close(372.0))
    assert step.left_g == close(180.0)


def test_all_insoluble_solids_stay_on_the_filter() -> None:
    part = (
        Vessel(1001).add(PEAR, 1000.0).strain(weighed_g=800.0, leftover_weighed_g=180.0).build(BuildKind.PART)
    )
    trace = Workings(pantry().with_build(part)).trace(1001)
    assert trace.final_state[22] == 0.0
    assert {flow.kind: round(flow.grams, 6) for flow in trace.outflows} == {"leftover": 180.0, "loss": 20.0}
    assert trace.outflows[0].masses[22] == close(50.0)


def test_a_leftover_is_an_item_with_its_own_composition() -> None:
    book = house().with_build(Vessel(1001).add(SPENT, 100.0).build(BuildKind.PART))
    workings = Workings(book)
    brix = workings.result_now(1001).value("brix_true")
    assert brix is not None
    assert brix > 5.0
    assert workings.trace(1001).final_state[22] > 10.0


def test_percent_of_the_vessel_parts_and_marks() -> None:
    vessel = Vessel(1001).add(WATER, 200.0)
    vessel.share(SALT, 2.0, Basis.PERCENT_OF_VESSEL)
    vessel.share(SUGAR, 4.0, Basis.PARTS, 2)
    vessel.share(WATER, 300.0, Basis.TO_MASS)
    found = [step.found_g for step in Workings(pantry().with_build(vessel.build())).trace(1001).steps]
    assert found == [close(200.0), close(4.0), close(16.0), close(80.0)]


@pytest.mark.parametrize("mark_ml", [120.0, 180.0, 350.0])
def test_topping_to_a_volume_meets_it_with_contraction(mark_ml: float) -> None:
    vessel = Vessel(1001).add(SPIRIT, 60.0, "ml").top(WATER, mark_ml, "ml", Basis.TO_VOLUME)
    assert read(vessel.build(), "length") == pytest.approx(mark_ml, rel=1e-9)


def test_topping_to_the_wash_line_fills_what_the_ice_leaves() -> None:
    """82.5 % of what 130 g of ice leaves of a 350 ml brim, less 5 ml for the foam of soda (common practice, no source)."""
    vessel = Vessel(1001).add(SPIRIT, 45.0, "ml").top(SODA, 0.0, "", Basis.TO_WASH_LINE)
    assert read(vessel.build(), "length") == pytest.approx(0.825 * (350.0 - 130.0 / 0.917) - 5.0, rel=1e-9)
    assert read(vessel.build(wash_line_ml=194.0), "length") == pytest.approx(194.0, rel=1e-9)


def test_a_mark_that_is_already_passed_adds_nothing_and_says_so() -> None:
    vessel = Vessel(1001).add(WATER, 200.0).top(SODA, 150.0, "ml", Basis.TO_VOLUME)
    step = Workings(pantry().with_build(vessel.build())).trace(1001).steps[1]
    assert step.found_g == 0.0
    assert step.missed == ("already above its mark: nothing was added",)


def test_more_strained_than_there_is_takes_what_there_is_and_says_so() -> None:
    part = Vessel(1001).add(PEAR, 100.0).strain(weighed_g=500.0).build(BuildKind.PART)
    trace = Workings(pantry().with_build(part)).trace(1001)
    assert trace.total.grams == close(95.0)
    assert trace.steps[1].missed


@pytest.mark.parametrize("final", [{"final_g": 400.0}, {"final_pct": 40.0}])
def test_reducing_lets_water_leave_to_a_mass_or_a_percent(final: dict[str, float]) -> None:
    part = Vessel(1001).add(WATER, 800.0).add(SUGAR, 200.0).heat(**final).build(BuildKind.PART)
    trace = Workings(pantry().with_build(part)).trace(1001)
    assert trace.total.grams == close(400.0)
    assert trace.total.sugars_g == close(200.0)
    assert [(flow.kind, round(flow.grams, 6)) for flow in trace.outflows] == [("vapour", 600.0)]


def test_ethanol_leaves_by_the_share_that_the_house_says() -> None:
    part = Vessel(1001).add(SPIRIT, 300.0).heat(final_g=150.0, ethanol_kept_pct=35.0).build(BuildKind.PART)
    trace = Workings(pantry().with_build(part)).trace(1001)
    assert trace.total.ethanol_g == close(99.9 * 0.35)
    assert trace.total.grams == close(150.0)


def test_drying_below_the_solids_takes_all_water_and_says_so() -> None:
    part = Vessel(1001).add(WATER, 50.0).add(SUGAR, 100.0).dry(final_g=80.0).build(BuildKind.PART)
    trace = Workings(pantry().with_build(part)).trace(1001)
    assert trace.total.grams == close(100.0)
    assert trace.steps[2].missed


def test_taking_leaves_the_same_liquid() -> None:
    whole = Vessel(1001).add(SPIRIT, 100.0).add(SUGAR, 20.0)
    part = Vessel(1001).add(SPIRIT, 100.0).add(SUGAR, 20.0).take(25.0, "%", Basis.PERCENT_OF_VESSEL)
    for key in ("strength", "sweetness", "density"):
        assert read(part.build(), key) == close(read(whole.build(), key) or 0.0)
    assert read(part.build(), "mass") == close(90.0)


def test_a_weighed_melt_wins_over_the_method() -> None:
    vessel = Vessel(1001).add(SPIRIT, 60.0, "ml").add(SUGAR, 5.0)
    assert read(vessel.chill("shake", melted_g=11.0).build(), "mass") == close(60.0 * 0.94805 + 5.0 + 11.0)
    again = Vessel(1001).add(SPIRIT, 60.0, "ml").chill("throw", final_g=100.0)
    assert read(again.build(), "mass") == close(100.0)
    third = Vessel(1001).add(SPIRIT, 60.0, "ml").chill("throw", final_ml=90.0)
    assert read(third.build(), "length") == close(90.0)


@pytest.mark.parametrize("method, before, share", [("stir", 30.0, 0.4099), ("shake", 20.0, 0.48872)])
def test_stir_and_shake_melt_by_the_published_regression(method: str, before: float, share: float) -> None:
    """Arnold, Liquid Intelligence (2014), from memory: 41.0 and 48.9 ml per 100 ml at 30 and 20 % vol."""
    water = 100.0 * (40.0 / before - 1.0)
    drink = Vessel(1001).add(SPIRIT, 100.0, "ml").add(WATER, water, "ml").chill(method).build()
    assert read(drink, "dilution") == pytest.approx(100.0 * share, abs=0.6)


def test_a_dry_shake_melts_nothing_and_the_shake_after_it_counts_from_before_ice() -> None:
    vessel = Vessel(1001).add(SPIRIT, 60.0, "ml").add(EGG, 20.0, "ml").chill("dry-shake")
    both = vessel.chill("shake", melted_g=40.0).build()
    assert read(both, "dilution") == pytest.approx(50.0, abs=0.5)
    # 20 % vol with 7 % of egg white's solids: its freezing point (physical reference, section d: 10.92 K at 20 % by mass).
    assert read(both, "chill") == pytest.approx(-8.3, abs=0.1)


def test_a_drink_without_ice_has_no_dilution() -> None:
    assert read(Vessel(1001).add(WATER, 100.0).build(), "dilution") == 0.0


def test_topping_warms_what_was_chilled() -> None:
    cold = Vessel(1001).add(WATER, 100.0).chill("throw", melted_g=0.0)
    # Water thrown 92 % of the way from 20 °C to its freezing point.
    assert read(cold.build(), "chill") == pytest.approx(1.6, abs=1e-9)
    assert read(cold.top(SODA, 100.0).build(), "chill") == pytest.approx(2.8, abs=0.05)


def test_hot_water_is_poured_at_its_typed_temperature() -> None:
    hot = Vessel(1001).add(WATER, 100.0, temperature_c=80.0).add(WATER, 100.0).build()
    assert read(hot, "chill") == pytest.approx(50.0, abs=0.6)


def test_garnish_counts_in_cost_and_energy_but_not_in_the_liquid() -> None:
    bare = Vessel(1001).add(WATER, 100.0)
    on_glass = Vessel(1001).add(WATER, 100.0).garnish(SUGAR, 5.0)
    told = Vessel(1001).add(WATER, 100.0).garnish(SUGAR, 5.0, in_liquid=True)
    assert read(on_glass.build(), "sweetness") == read(bare.build(), "sweetness") == 0.0
    assert read(on_glass.build(), "energy_kcal") == close(20.0)
    assert read(on_glass.build(), "cost") == close(0.21)
    assert (read(told.build(), "sweetness") or 0.0) > 4.0


def test_what_was_bought_is_paid_for_not_only_what_is_used() -> None:
    assert read(Vessel(1001).add(PEAR, 900.0).build(), "cost") == close(2.0)


def test_the_cost_of_a_joint_step_stays_with_the_main_output() -> None:
    part = Vessel(1001).add(PEAR, 900.0).strain(weighed_g=500.0).build(BuildKind.PART)
    assert read(part, "cost") == close(2.0)


def test_bitterness_is_mixed_by_mass() -> None:
    drink = Vessel(1001).add(BITTERS, 10.0).add(WATER, 90.0).build()
    assert read(drink, "bitterness") == close(1.0)


def test_a_part_keeps_the_bitterness_that_the_house_set() -> None:
    part = Vessel(101).add(WATER, 100.0).build(BuildKind.PART, bitterness=3.0)
    book = pantry().with_build(part)
    assert read(Vessel(1001).add(101, 50.0).add(WATER, 50.0).build(), "bitterness", book) == close(1.5)


def test_unknown_sugar_makes_a_reading_at_least() -> None:
    drink = Vessel(1001).add(WATER, 100.0).add(TEA, 2.0).build()
    result = Workings(pantry().with_build(drink)).result_now(1001)
    assert result.value("sweetness") == 0.0
    assert result.more_than("sweetness") == pytest.approx(0.66 / 100.9 * 100.0, rel=0.02)
    assert result.more_than("strength") == 0.0


def test_an_item_without_a_price_leaves_the_cost_open_upward() -> None:
    drink = Vessel(1001).add(WATER, 100.0).add(TEA, 2.0).build()
    assert Workings(pantry().with_build(drink)).result_now(1001).more_than("cost") == np.inf


def test_an_empty_drink_has_no_reading_but_costs_nothing() -> None:
    result = Workings(pantry().with_build(Vessel(1001).build())).result_now(1001)
    assert result.value("strength") is None
    assert result.value("length") is None
    assert result.value("cost") == 0.0


def test_a_step_left_out_does_nothing() -> None:
    vessel = Vessel(1001).add(WATER, 100.0).add(SUGAR, 50.0, left_out=True)
    assert read(vessel.build(), "mass") == close(100.0)


@pytest.mark.parametrize(
    "vessel, words",
    [
        (Vessel(1001).add(999, 10.0), "this item is no longer in the house book"),
        (Vessel(1001).add(WATER, 1.0, "firkin"), "unit not known here: firkin"),
        (Vessel(1001).add(SUGAR, 10.0, "ml"), "a solid is not poured by volume: give grams"),
        (Vessel(1001).add(WATER, 1.0, "piece"), "what one piece weighs is not known: give grams"),
        (
            Vessel(1001).share(WATER, 10.0, Basis.PERCENT_OF_LINES, 9),
            "the line it is a share of is not above it",
        ),
        (Vessel(1001).add(WATER, 10.0).strain(), "weigh what was strained, or say what percent is expected"),
        (Vessel(1001).add(WATER, 10.0).chill("waltz"), "chilling method not known here: waltz"),
    ],
)
def test_a_line_that_cannot_be_computed_leaves_no_value_and_says_why(vessel: Vessel, words: str) -> None:
    result = Workings(pantry().with_build(vessel.build())).result_now(1001)
    assert result.value("strength") is None
    assert words in result.reasons("strength")


def test_a_garnish_of_unknown_weight_spoils_cost_and_energy_only() -> None:
    drink = Vessel(1001).add(SPIRIT, 50.0, "ml").garnish(WATER, 1.0, "leaf").build()
    result = Workings(pantry().with_build(drink)).result_now(1001)
    assert result.value("cost") is None
    assert result.value("energy_kj") is None
    assert result.value("strength") == pytest.approx(40.0, abs=0.01)


def test_a_part_that_cannot_be_computed_spoils_what_pours_it() -> None:
    book = house().with_build(Vessel(CORDIAL).add(999, 100.0).build(BuildKind.PART))
    workings = Workings(book)
    assert workings.result_now(SOUR).value("sweetness") is None
    assert workings.result_now(LONG).value("sweetness") is None


def test_stirring_a_spirit_that_is_too_strong_is_flagged() -> None:
    strong = Vessel(1001).add(SPIRIT, 50.0, "ml").chill("stir", by=ChillBy.PUBLISHED).build()
    result = Workings(pantry().with_build(strong)).result_now(1001)
    assert result.is_outside("dilution")
    assert "10 to 35 % vol" in result.reasons("dilution")[0]


def test_the_classic_served_strength_of_a_published_drink() -> None:
    """Shaken rum, lime, syrup: 22.9 % vol before ice, 15.0 served (Arnold 2014, from memory)."""
    drink = Vessel(1001).add(SPIRIT, 60.0, "ml").add(WATER, 37.45, "ml").add(LEMON, 7.9, "ml").chill("shake")
    assert read(drink.build(), "strength") == pytest.approx(15.0, abs=0.8)
