"""A drink made ahead: what goes into the vessel, what waits for service, and that a serve from it is the same drink."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from tests.presentation.batch_house import (
    BOTTLE,
    DRINK,
    GROWLER,
    Pen,
    base,
    batch_of,
    ebb,
    item,
    renamed,
    saltings,
    sour,
    stirred,
)
from washline.document.commands.batched import still_water_of
from washline.document.commands.batching import rounded_to
from washline.document.commands.command import Refusal
from washline.model.amount import Amount, Basis, grams, millilitres
from washline.model.item import BatchService, BuildKind, KeptAt
from washline.model.step import Add, BarStrain, BarStrainWay, Carbonate, Chill, Strain, Take
from washline.presentation.batch_plan import Batched, Role, Why

FULL = {"salt_pct": 100.0, "bitters_pct": 100.0, "round_g": 0.0}
"""Nothing rounded, salt and bitters at 100 %."""


def weights(made: Batched) -> list[float]:
    return [line.batch_g for line in made.plan.lines]


def waiting(made: Batched) -> list[Why]:
    return [one.why for one in made.plan.at_service]


# The two batches of the demo house (DEMO 2.8 and 2.10, worked out there by hand from the pantry's rows)


def test_saltings_batch_of_ten_weighs_what_the_demo_says() -> None:
    made = batch_of(saltings(), serves=10.0, salt_pct=100.0, round_g=0.0)
    assert weights(made) == pytest.approx([561.5, 149.1, 99.8, 1.1], abs=0.1)
    assert made.mass_g == pytest.approx(811.6, abs=0.3)
    assert made.volume_ml == pytest.approx(848.0, abs=1.0)


def test_saltings_batch_of_ten_reads_what_the_demo_says() -> None:
    made = batch_of(saltings(), serves=10.0, salt_pct=100.0, round_g=0.0)
    assert made.trace.value("strength") == pytest.approx(36.3, abs=0.1)
    # "ice would start near −20.8 °C"
    assert made.trace.result.value("freezing") == pytest.approx(-20.8, abs=0.5)
    assert made.portion_ml == pytest.approx(85.0, abs=0.5)


def test_ebb_batch_of_twenty_weighs_what_the_demo_says() -> None:
    made = batch_of(ebb(), serves=20.0, service=BatchService.CARBONATED, salt_pct=100.0, round_g=0.0)
    assert weights(made) == pytest.approx([1628.3, 184.6, 112.0, 5.2, 1740.0], abs=0.6)
    before_gas = sum(weights(made))
    assert before_gas == pytest.approx(3670.0, abs=1.0)
    assert made.volume_ml == pytest.approx(3606.0, abs=4.0)
    assert made.trace.value("strength") == pytest.approx(9.1, abs=0.1)


def test_ebb_holds_its_gas_at_the_pressure_of_the_demo() -> None:
    made = batch_of(ebb(), serves=20.0, vessel=BOTTLE, service=BatchService.CARBONATED, round_g=0.0)
    carbonating = next(step for step in made.plan.build.steps if isinstance(step, Carbonate))
    gas = made.trace.step(carbonating.id).gas
    assert gas is not None
    assert gas.co2_g_per_l == pytest.approx(7.0)
    # "at 2 °C to 7 g CO2 per litre: equilibrium needs 2.6 bar absolute (1.6 bar over)"
    assert gas.needed_over_kpa == pytest.approx(160.0, abs=12.0)


def test_ebb_fills_twenty_bottles_from_twenty_serves() -> None:
    made = batch_of(ebb(), vessel=BOTTLE, vessel_count=20.0, service=BatchService.CARBONATED, **FULL)
    assert made.plan.serves == pytest.approx(3600.0 / 3606.0 * 20.0, abs=0.03)
    assert made.volume_ml == pytest.approx(3600.0, abs=1e-6 * 3600.0)


# Scaling


@settings(max_examples=20)
@given(st.floats(1.0, 500.0), st.sampled_from(list(BatchService)))
def test_scaling_scales_every_weight(serves: float, service: BatchService) -> None:
    one = batch_of(stirred(), serves=1.0, service=service, vessel=BOTTLE, **FULL)
    many = batch_of(stirred(), serves=serves, service=service, vessel=BOTTLE, **FULL)
    assert weights(many) == pytest.approx([serves * weight for weight in weights(one)], rel=1e-9)
    assert many.volume_ml is not None
    assert one.volume_ml is not None
    assert many.volume_ml == pytest.approx(serves * one.volume_ml, rel=1e-9)


@settings(max_examples=20)
@given(
    st.floats(0.5, 200.0),
    st.sampled_from([BatchService.FREEZER, BatchService.FRIDGE, BatchService.TAP, BatchService.ON_ICE]),
    st.booleans(),
    st.booleans(),
)
def test_a_serve_from_the_batch_is_the_served_drink_when_nothing_is_rounded_or_held_back(
    serves: float, service: BatchService, has_citrus: bool, has_fizz: bool
) -> None:
    made = batch_of(
        sour(), serves=serves, service=service, citrus_at_service=has_citrus, fizz_at_service=has_fizz, **FULL
    )
    # The pantry's still water holds 0.05 g of minerals in 100 g, and ice holds none.
    near = 1e-6 if service is BatchService.ON_ICE else 3e-4
    for key in ("strength", "sweetness", "acidity", "length", "ethanol", "mass"):
        assert made.serve.result.value(key) == pytest.approx(made.drink.result.value(key), rel=near), key


@settings(max_examples=20)
@given(st.floats(1.0, 60.0), st.sampled_from([0.01, 0.1, 0.5, 1.0, 5.0]))
def test_every_weight_is_a_step_of_the_scale_and_the_sum_is_what_is_in_the_vessel(
    serves: float, step_g: float
) -> None:
    made = batch_of(stirred(), serves=serves, service=BatchService.FRIDGE, round_g=step_g)
    for line in made.plan.lines:
        steps = line.batch_g / step_g
        assert line.is_below_scale or steps == pytest.approx(round(steps), abs=1e-4)
    assert made.mass_g == pytest.approx(sum(weights(made)), rel=1e-9)


def test_rounded_weights_are_what_is_evaluated() -> None:
    exact = batch_of(saltings(), serves=1.0, round_g=0.0)
    coarse = batch_of(saltings(), serves=1.0, round_g=10.0)
    assert weights(coarse)[:3] == [60.0, 10.0, 10.0]
    assert coarse.trace.value("strength") != pytest.approx(exact.trace.value("strength"), abs=0.5)


def test_a_weight_below_the_step_of_the_scale_stays_exact() -> None:
    made = batch_of(saltings(), serves=1.0, salt_pct=100.0, round_g=1.0)
    saline = made.plan.lines[3]
    assert saline.is_below_scale
    assert saline.batch_g == pytest.approx(0.11, abs=0.01)


@pytest.mark.parametrize(
    ("weight", "step", "rounded"), [(2.5, 1.0, 3.0), (2.44, 0.1, 2.4), (7.4, 5.0, 5.0), (7.4, 0.0, 7.4)]
)
def test_weights_round_to_the_nearest_step_and_halves_up(weight: float, step: float, rounded: float) -> None:
    assert rounded_to(weight, step) == rounded


# Salt and bitters


def test_salt_and_bitters_start_at_what_the_house_settings_say() -> None:
    made = batch_of(stirred(), serves=10.0, round_g=0.0)
    shares = {line.role: line.share for line in made.plan.lines}
    assert shares == {Role.LINE: 1.0, Role.BITTERS: 0.6, Role.SALT: 0.75, Role.WATER: 1.0}


def test_salt_and_bitters_of_the_batch_win_over_the_house() -> None:
    made = batch_of(stirred(), serves=10.0, salt_pct=50.0, bitters_pct=0.0, round_g=0.0)
    shares = {line.role: line.share for line in made.plan.lines}
    assert (shares[Role.SALT], shares[Role.BITTERS]) == (0.5, 0.0)


def test_less_salt_lowers_the_salt_of_a_serve_by_as_much() -> None:
    made = batch_of(saltings(), serves=10.0, salt_pct=50.0, round_g=0.0)
    whole = batch_of(saltings(), serves=10.0, salt_pct=100.0, round_g=0.0)
    saline = [one.trace.step(one.plan.lines[3].batch_step_id).found_g for one in (made, whole)]
    assert saline[0] is not None
    assert saline[1] is not None
    assert saline[0] == pytest.approx(saline[1] / 2.0)


# Dilution


@pytest.mark.parametrize(
    "service", [BatchService.FREEZER, BatchService.FRIDGE, BatchService.TAP, BatchService.CARBONATED]
)
def test_dilution_goes_in_as_the_same_water_a_serve(service: BatchService) -> None:
    made = batch_of(stirred(), serves=10.0, service=service, vessel=BOTTLE, round_g=0.0)
    water = next(line for line in made.plan.lines if line.role is Role.WATER)
    assert water.item_id == item("water-still")
    assert water.batch_g == pytest.approx(276.0)
    assert not any(isinstance(step, Chill) for step in made.plan.build.steps)


def test_on_ice_no_water_goes_in_and_the_chill_waits() -> None:
    made = batch_of(stirred(), serves=10.0, service=BatchService.ON_ICE, round_g=0.0)
    assert all(line.role is not Role.WATER for line in made.plan.lines)
    assert waiting(made) == [Why.ICE]


def test_a_batch_undiluted_is_stronger_in_the_vessel_and_the_same_in_the_glass() -> None:
    on_ice = batch_of(stirred(), serves=10.0, service=BatchService.ON_ICE, **FULL)
    diluted = batch_of(stirred(), serves=10.0, service=BatchService.FRIDGE, **FULL)
    strengths = [made.trace.value("strength") or 0.0 for made in (on_ice, diluted)]
    assert strengths[0] > strengths[1] + 5.0
    assert on_ice.serve.value("strength") == pytest.approx(diluted.serve.value("strength"), rel=3e-4)


def test_without_still_water_the_dilution_is_refused_with_a_remedy() -> None:
    book = base()
    while (water := still_water_of(book)) is not None:
        book = replace(book, raws={key: raw for key, raw in book.raws.items() if key != water})
    drink = Pen().add("gin-dry-47", millilitres(60)).chill("stir", melted_g=20.0).build()
    with pytest.raises(Refusal, match="no still water"):
        batch_of(drink, book=book, serves=10.0)


def test_still_water_is_found_by_what_it_is_where_the_pantrys_is_gone() -> None:
    book = renamed(base(), item("water-still"), slug="tap")
    assert still_water_of(book) == item("water-still")


# What waits for service


def test_rinse_smoke_and_garnish_always_wait() -> None:
    made = batch_of(sour(), serves=4.0, service=BatchService.FRIDGE, fizz_at_service=False)
    assert waiting(made) == [Why.RINSE, Why.GARNISH, Why.SMOKE]


def test_citrus_waits_when_so_chosen_and_each_serve_gets_its_own() -> None:
    made = batch_of(sour(), serves=4.0, service=BatchService.FRIDGE, citrus_at_service=True)
    citrus = next(one for one in made.plan.at_service if one.why is Why.CITRUS)
    assert citrus.serve_ml == pytest.approx(22.5, abs=0.01)
    assert item("lemon juice, ours (breakdown)") not in [line.item_id for line in made.plan.lines]


def test_fizz_waits_unless_it_is_chosen_to_go_in() -> None:
    assert Why.FIZZ in waiting(batch_of(sour(), serves=4.0))
    poured = batch_of(sour(), serves=4.0, fizz_at_service=False)
    assert item("soda-water") in [line.item_id for line in poured.plan.lines]


def test_a_float_waits() -> None:
    drink = (
        Pen()
        .add("gin-dry-47", millilitres(45))
        .top("vermouth-rosso-16", millilitres(10), is_layer=True)
        .build()
    )
    assert waiting(batch_of(drink, serves=4.0)) == [Why.FLOAT]


def test_what_is_left_out_of_the_drink_is_nowhere_in_its_batch() -> None:
    drink = stirred()
    first = structs.replace(drink.steps[1], left_out=True)
    made = batch_of(structs.replace(drink, steps=(drink.steps[0], first, *drink.steps[2:])), serves=4.0)
    assert item("vermouth-rosso-16") not in [line.item_id for line in made.plan.lines]


# The build that goes into the vessel


def test_the_batch_is_a_part_that_stands_where_it_is_kept() -> None:
    freezer, fridge = (
        batch_of(stirred(), serves=4.0, service=service).plan.build
        for service in (BatchService.FREEZER, BatchService.FRIDGE)
    )
    assert (freezer.kind, freezer.kept_at, fridge.kept_at) == (BuildKind.PART, KeptAt.FREEZER, KeptAt.FRIDGE)


def test_making_a_batch_changes_no_house_book() -> None:
    made = batch_of(stirred(), serves=4.0)
    assert made.plan.build.id not in made.drink.book.builds
    assert made.drink.book.builds[DRINK] == stirred()


def test_shares_of_other_lines_go_in_as_grams() -> None:
    pen = (
        Pen()
        .add("gin-dry-47", grams(100))
        .add("sugar-white", Amount(10.0, "%", Basis.PERCENT_OF_LINES, (DRINK + 1,)))
    )
    made = batch_of(pen.build(), serves=5.0, round_g=0.0)
    assert weights(made) == pytest.approx([500.0, 50.0])
    assert all(step.amount.basis is Basis.ABSOLUTE for step in made.plan.build.steps if isinstance(step, Add))


def test_a_carbonated_batch_without_a_step_of_its_own_is_brought_to_seven_grams_a_litre() -> None:
    made = batch_of(stirred(), serves=4.0, service=BatchService.CARBONATED, vessel=BOTTLE)
    last = made.plan.build.steps[-1]
    assert isinstance(last, Carbonate)
    assert (last.vessel, last.co2_g_per_l) == (BOTTLE, 7.0)
    assert made.trace.result.value("fizz") == pytest.approx(7.0, abs=0.05)


def test_a_carbonated_drink_in_a_still_batch_says_so() -> None:
    made = batch_of(ebb(), serves=4.0, service=BatchService.FRIDGE)
    assert not any(isinstance(step, Carbonate) for step in made.plan.build.steps)
    assert "carbonated" in made.plan.dropped[0]


def test_a_vessel_of_unknown_rating_is_refused_by_the_evaluator() -> None:
    made = batch_of(stirred(), serves=4.0, service=BatchService.CARBONATED, vessel=GROWLER)
    assert made.trace.problems
    assert "rated" in made.trace.problems[0].words


def test_what_is_weighed_in_a_step_grows_and_its_leftover_is_no_item() -> None:
    pen = Pen().add("gin-dry-47", grams(100)).add("sorrel-leaf", grams(5))
    strain = Strain(
        id=DRINK + 3, build_id=DRINK, place=3.0, weighed_g=98.0, leftover_weighed_g=6.0, leftover_id=77
    )
    take = Take(id=DRINK + 4, build_id=DRINK, place=4.0, amount=grams(10))
    made = batch_of(structs.replace(pen.build(), steps=(*pen.steps, strain, take)), serves=3.0, round_g=0.0)
    grown = made.plan.build.steps[2]
    assert isinstance(grown, Strain)
    assert (grown.weighed_g, grown.leftover_weighed_g, grown.leftover_id) == (294.0, 18.0, None)
    assert made.mass_g == pytest.approx(264.0)


def test_a_fine_strain_is_done_in_the_batch_and_a_plain_one_is_not() -> None:
    drink = stirred()
    for way, count in ((BarStrainWay.FINE, 1), (BarStrainWay.STRAIN, 0)):
        strain = BarStrain(id=DRINK + 9, build_id=DRINK, place=9.0, way=way, held_back_ml=3.0)
        made = batch_of(structs.replace(drink, steps=(*drink.steps, strain)), serves=3.0)
        kept = [step for step in made.plan.build.steps if isinstance(step, BarStrain)]
        assert len(kept) == count
        assert all(step.held_back_ml is None for step in kept)


# Vessels and refusals


@settings(max_examples=15)
@given(st.floats(1.0, 40.0), st.floats(50.0, 5000.0))
def test_vessels_are_filled_to_their_mark(count: float, fill_ml: float) -> None:
    book = base()
    vessel = structs.replace(book.vessels[GROWLER], volume_ml=fill_ml * 1.1, fill_ml=fill_ml)
    book = replace(book, vessels={**book.vessels, GROWLER: vessel})
    made = batch_of(sour(), book=book, vessel=GROWLER, vessel_count=count, **FULL)
    assert made.volume_ml == pytest.approx(count * fill_ml, rel=1e-6)


def test_a_vessel_without_a_fill_keeps_a_twentieth_of_neck_space() -> None:
    book = base()
    vessel = structs.replace(book.vessels[GROWLER], fill_ml=None)
    made = batch_of(
        stirred(),
        book=replace(book, vessels={**book.vessels, GROWLER: vessel}),
        vessel=GROWLER,
        vessel_count=1.0,
        **FULL,
    )
    assert made.volume_ml == pytest.approx(0.95 * 720.0, rel=1e-6)


def test_full_vessels_without_a_vessel_are_refused() -> None:
    with pytest.raises(Refusal, match="no vessel"):
        batch_of(stirred(), vessel="gone", vessel_count=2.0)


@pytest.mark.parametrize("serves", [0.0, -1.0, float("nan"), float("inf"), 1e6])
def test_a_number_of_serves_that_cannot_be_is_refused(serves: float) -> None:
    with pytest.raises(Refusal, match="serves cannot be made"):
        batch_of(stirred(), serves=serves)


def test_a_line_without_a_weight_is_refused_by_name() -> None:
    drink = Pen().add("gin-dry-47", Amount(2.0, "furlong")).build()
    with pytest.raises(Refusal, match=r"Dry gin.*has no weight"):
        batch_of(drink, serves=2.0)
