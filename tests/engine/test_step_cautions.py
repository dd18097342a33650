"""Cautions by what is done. Thresholds: 21 CFR 114.3 (pH 4.6); the rest as said beside the constants of the module."""

import math
from dataclasses import replace

import pytest
from msgspec import structs

from tests.engine.hazards import (
    BUTTER,
    CABBAGE,
    HERB,
    JUICE,
    MILK,
    PART,
    SCENES,
    SORBATE,
    VINEGAR,
    Bench,
    bench,
    cellar,
    lactic,
    poured,
)
from tests.engine.kitchen import PEAR, SALT, SOUR, SPIRIT, SUGAR, WATER, Vessel
from washline.engine.contents import is_frozen_batch
from washline.engine.step_cautions import StepCaution, step_cautions
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.house import Method, MethodKind
from washline.model.item import Batch, BatchService, BuildKind, KeptAt
from washline.model.step import FermentKind


def found(book: HouseBook, build_id: int = SOUR) -> tuple[StepCaution, ...]:
    return step_cautions(Workings(book).trace(build_id))


def keys(book: HouseBook, build_id: int = SOUR) -> set[str]:
    return {one.key for one in found(book, build_id)}


def one(book: HouseBook, key: str) -> StepCaution:
    return next(caution for caution in found(book) if caution.key == key)


def figure(caution: StepCaution, name: str) -> float:
    return dict(caution.figures)[name]


@pytest.mark.parametrize("key", SCENES)
def test_every_caution_of_a_step_reaches_the_drink_that_pours_it(key: str) -> None:
    assert key in keys(SCENES[key]())


def test_plain_sugar_and_water_bring_none() -> None:
    assert found(poured(bench().add(WATER, 500.0).add(SUGAR, 500.0))) == ()


# Infusions


def test_an_infusion_in_strong_spirit_needs_no_caution_for_low_acid() -> None:
    vessel = bench()
    vessel.add(SPIRIT, 500.0)
    assert "low-acid-infusion" not in keys(poured(vessel.infuse(HERB, 20.0)))


def test_an_infusion_in_acid_of_a_known_buffer_needs_none_either() -> None:
    vessel = bench()
    vessel.add(VINEGAR, 500.0)
    assert "low-acid-infusion" not in keys(poured(vessel.infuse(CABBAGE, 5.0)))


def test_what_is_itself_acid_is_no_low_acid_infusion() -> None:
    vessel = bench()
    vessel.add(WATER, 500.0)
    book = poured(vessel.infuse(JUICE, 20.0))
    assert "low-acid-infusion" not in keys(book)


def test_the_infusion_says_its_strength_and_a_ph_that_nobody_knows_is_none() -> None:
    vessel = bench()
    vessel.add(MILK, 500.0)
    caution = one(poured(vessel.infuse(HERB, 20.0)), "low-acid-infusion")
    assert figure(caution, "strength_pct_vol") == 0.0
    assert figure(caution, "ph") != figure(caution, "ph")
    assert caution.item_ids == (HERB,)


def test_an_infusion_that_stands_cold_is_not_warm() -> None:
    vessel = bench()
    vessel.add(WATER, 500.0)
    vessel.infuse(HERB, 20.0, words="in a sealed bag", temperature_high_c=4.0)
    assert "sealed-warm-infusion" not in keys(poured(vessel))


def test_a_sealed_infusion_of_which_no_temperature_is_said_counts_as_warm() -> None:
    vessel = bench()
    vessel.add(WATER, 500.0)
    assert "sealed-warm-infusion" in keys(poured(vessel.infuse(HERB, 20.0, words="closed jar")))


def test_a_little_fat_is_no_infusion_in_fat() -> None:
    vessel = bench()
    vessel.add(WATER, 500.0).add(BUTTER, 10.0)
    assert "oil-infusion" not in keys(poured(vessel.infuse(HERB, 20.0)))


# Ferments


def test_a_ferment_says_its_salt_as_a_share_of_all_that_ferments() -> None:
    # 20 g of a salt that is 99 % NaCl in 1,000 g: 1.98 %.
    assert figure(one(lactic(), "ferment-salt"), "salt_pct") == pytest.approx(1.98, abs=1e-9)


def test_a_ferment_says_the_limit_of_the_house() -> None:
    caution = one(lactic(final_ph=3.5, discard_above_ph=4.2, discard_on_day=4.0), "ferment-ph")
    assert caution.figures == (("final_ph", 3.5), ("discard_above_ph", 4.2), ("discard_on_day", 4.0))


def test_a_ferment_by_yeast_needs_no_salt_but_makes_gas_and_alcohol() -> None:
    vessel = bench()
    vessel.add(WATER, 900.0).add(SUGAR, 100.0)
    got = keys(poured(vessel.ferment(FermentKind.YEAST, gas_lost_g=5.0)))
    assert {"ferment-gas", "ferment-alcohol", "ferment-ph"} <= got
    assert "ferment-salt" not in got


# What is not heated


@pytest.mark.parametrize(("item_id", "key"), [(JUICE, "raw-juice"), (MILK, "raw-milk")])
def test_what_is_heated_in_the_same_part_afterwards_is_not_raw(item_id: int, key: str) -> None:
    heated = Vessel(PART).add(item_id, 500.0).heat(final_pct=95.0)
    assert key not in keys(poured(heated))
    heated_before = Vessel(PART).add(WATER, 500.0).heat(final_pct=95.0).add(item_id, 20.0)
    assert key in keys(poured(heated_before))


def test_a_later_part_that_cooks_it_ends_the_caution_on_that_way_only() -> None:
    raw_part = Vessel(PART).add(JUICE, 500.0).build(BuildKind.PART)
    cooked = Vessel(102).add(PART, 100.0).heat(final_pct=90.0).build(BuildKind.PART)
    book = cellar().with_build(raw_part).with_build(cooked)
    assert "raw-juice" not in keys(book.with_build(Vessel(SOUR).add(102, 20.0).build()))
    assert "raw-juice" in keys(book.with_build(Vessel(SOUR).add(102, 20.0).add(PART, 20.0).build()))


@pytest.mark.parametrize(
    ("temperature_c", "is_raw"), [(None, False), (40.0, True), (62.0, True), (63.0, False), (90.0, False)]
)
def test_warming_below_pasteurisation_cooks_nothing(temperature_c: float | None, is_raw: bool) -> None:
    # 63 °C for half an hour: slow pasteurisation of milk, from memory.
    part = Vessel(PART).add(MILK, 500.0).heat(temperature_high_c=temperature_c)
    assert ("raw-milk" in keys(poured(part))) == is_raw


def test_drying_without_a_temperature_cooks_nothing() -> None:
    assert "raw-milk" in keys(poured(Vessel(PART).add(MILK, 500.0).dry(final_pct=90.0)))


def test_fruit_that_is_strained_unheated_is_a_raw_juice() -> None:
    book = cellar()
    pear = structs.replace(book.raws[PEAR], category="fruit")
    part = Vessel(PART).add(PEAR, 500.0).strain(expected_pct=70.0).build(BuildKind.PART)
    book = book.with_raw(pear).with_build(part).with_build(Vessel(SOUR).add(PART, 20.0).build())
    assert one(book, "raw-juice").item_ids == (PEAR,)
    boiled = Vessel(PART).add(PEAR, 500.0).heat(final_pct=90.0).strain(expected_pct=70.0)
    assert "raw-juice" not in keys(book.with_build(boiled.build(BuildKind.PART)))


def test_milk_that_says_it_is_pasteurised_is_not_raw() -> None:
    book = poured(bench().add(MILK, 500.0))
    assert "raw-milk" not in keys(book.with_raw(structs.replace(book.raws[MILK], name="milk, pasteurised")))


def test_a_step_left_out_brings_no_caution() -> None:
    assert "raw-milk" not in keys(poured(bench().add(MILK, 500.0, left_out=True).add(WATER, 10.0)))


# Spirits, additives, cold


def test_a_spirit_beside_heat_is_told_though_it_is_not_heated_itself() -> None:
    vessel = Vessel(PART).add(BUTTER, 120.0).heat(final_pct=85.0).add(SPIRIT, 650.0)
    assert "spirit-near-heat" in keys(poured(vessel))


def test_a_weak_liquid_that_is_heated_is_told_above_half_a_percent_of_ethanol() -> None:
    # 33.3 g of ethanol in 100 g of the spirit: 10 g in 1,000 g make 0.33 %, 20 g make 0.67 %.
    def heated(spirit_g: float) -> HouseBook:
        weak = Vessel(103).add(WATER, 1000.0 - spirit_g).add(SPIRIT, spirit_g).build(BuildKind.PART)
        part = Vessel(PART).add(103, 500.0).heat(final_pct=90.0)
        return poured(part).with_build(weak)

    assert "spirit-near-heat" not in keys(heated(10.0))
    assert "spirit-near-heat" in keys(heated(20.0))


def test_a_warm_rest_with_spirit_counts_as_heat_and_a_cool_one_does_not() -> None:
    def rested(temperature_c: float) -> HouseBook:
        vessel = bench()
        vessel.add(SPIRIT, 500.0)
        return poured(vessel.rest(temperature_high_c=temperature_c))

    assert "spirit-near-heat" in keys(rested(60.0))
    assert "spirit-near-heat" not in keys(rested(20.0))


def test_the_dose_of_an_additive_is_told_where_it_is_weighed_in() -> None:
    # 0.3 g in 999.3 g of water and salt, close to a litre.
    caution = one(SCENES["additive-limit"](), "additive-limit")
    assert caution.build_id == PART
    assert caution.item_ids == (SORBATE,)
    assert figure(caution, "mg_per_l") == pytest.approx(300.0, rel=0.005)


def test_a_frozen_bottle_is_told_with_its_temperature_in_the_drink_that_pours_it() -> None:
    caution = one(SCENES["sub-zero-pour"](), "sub-zero-pour")
    assert caution.figures == (("temperature_c", -18.0),)


def with_deep(kept_at: KeptAt) -> HouseBook:
    """A house with a method of its own, by which drinks stand in a cold place."""
    deep = Method(
        slug="deep", name="Deep", kind=MethodKind.COLD_STORE, kept_at=kept_at,
        dilution_low_pct=0.0, dilution_high_pct=0.0, end_low_c=-18.0, end_high_c=-18.0,
    )  # fmt: skip
    book = cellar()
    return replace(book, methods={**book.methods, "deep": deep})


def test_a_frozen_batch_tells_its_strength_where_it_is_a_spirit() -> None:
    book = with_deep(KeptAt.FREEZER)
    strong = book.with_build(Vessel(SOUR).add(SPIRIT, 450.0).chill("deep").build())
    weak = book.with_build(Vessel(SOUR).add(SPIRIT, 50.0).add(WATER, 400.0).chill("deep").build())
    assert figure(one(strong, "sub-zero-pour"), "strength_pct_vol") > 30.0
    assert math.isnan(figure(one(weak, "sub-zero-pour"), "strength_pct_vol"))


@pytest.mark.parametrize(("kept_at", "is_frozen"), [(KeptAt.FREEZER, True), (KeptAt.FRIDGE, False)])
def test_a_method_of_the_house_freezes_a_batch_where_it_stands_in_the_freezer(
    kept_at: KeptAt, is_frozen: bool
) -> None:
    drink = Vessel(SOUR).add(SPIRIT, 450.0).chill("deep").build()
    assert is_frozen_batch(with_deep(kept_at), drink.steps[-1]) is is_frozen


# 70 degC: burn-prevention texts, from memory.
@pytest.mark.parametrize(("temperature_c", "is_told"), [(85.0, True), (70.0, False), (60.0, False)])
def test_what_is_poured_hot_scalds_above_seventy_degrees(temperature_c: float, is_told: bool) -> None:
    drink = Vessel(SOUR).add(WATER, 120.0, temperature_c=temperature_c).build()
    assert ("hot-scald" in keys(cellar().with_build(drink))) is is_told


def test_a_part_of_the_kitchen_that_is_hot_does_not_scald_a_guest() -> None:
    assert "hot-scald" not in keys(poured(bench().add(WATER, 500.0, temperature_c=90.0)))


def test_a_carbonating_warns_of_pressure_with_its_figures_and_of_the_gas() -> None:
    book = SCENES["pressure"]()
    caution = one(book, "pressure")
    assert figure(caution, "rated_kpa") == 800.0
    assert figure(caution, "warmest_c") == 25.0
    # 2 bar over at 4 °C come to about twice as much over at 25 °C: carbon dioxide dissolves half as well.
    assert 400.0 < figure(caution, "warm_over_kpa") < 600.0
    assert "gas-asphyxiation" in keys(book)


def test_a_vessel_that_nobody_rated_leaves_its_figure_unknown() -> None:
    caution = one(poured(bench().add(WATER, 900.0).carbonate(vessel="no-such")), "pressure")
    assert math.isnan(figure(caution, "rated_kpa"))


def bottled(vessel: Bench, **fields: object) -> HouseBook:
    return poured(vessel.rest(words="in a closed bottle"), **fields)


def test_raw_juice_with_sugar_in_a_closed_bottle_ferments_again() -> None:
    caution = one(bottled(bench().add(JUICE, 300.0).add(WATER, 600.0)), "refermentation")
    # 300 g of juice with 10 % of fructose in about 890 ml: 30 g in 0.89 l.
    assert figure(caution, "sugar_g_per_l") == pytest.approx(33.5, abs=1.0)
    assert caution.item_ids == (JUICE,)


def test_a_ferment_in_a_closed_bottle_ferments_again_and_names_its_part() -> None:
    vessel = bench().add(SUGAR, 100.0).add(WATER, 900.0).ferment(FermentKind.LACTIC)
    assert one(bottled(vessel), "refermentation").item_ids == (PART,)


@pytest.mark.parametrize(
    "vessel",
    [
        bench().add(JUICE, 300.0).add(WATER, 600.0).heat(final_g=880.0),
        bench().add(SUGAR, 100.0).add(WATER, 900.0),
        bench().add(JUICE, 5.0).add(WATER, 900.0),
        bench().add(JUICE, 300.0).add(SPIRIT, 700.0),
    ],
    ids=["heated", "no juice and no yeast", "hardly any sugar", "strong enough"],
)  # fmt: skip
def test_what_was_heated_or_has_nothing_to_eat_or_is_strong_does_not_ferment_again(vessel: Bench) -> None:
    assert "refermentation" not in keys(bottled(vessel))


def test_juice_in_an_open_jug_is_no_closed_bottle() -> None:
    assert "refermentation" not in keys(poured(bench().add(JUICE, 300.0).rest(words="in a jug")))


def test_a_batch_on_tap_with_its_juice_ferments_again_unless_the_juice_joins_at_service() -> None:
    drink = structs.replace(Vessel(SOUR).add(JUICE, 60.0).add(WATER, 90.0).build(), name="Lantern")
    with_juice = structs.replace(drink, batch=Batch(service=BatchService.TAP))
    without = structs.replace(drink, batch=Batch(service=BatchService.TAP, citrus_at_service=True))
    assert "refermentation" in keys(cellar().with_build(with_juice))
    assert "refermentation" not in keys(cellar().with_build(without))
    assert "refermentation" not in keys(cellar().with_build(drink))


def test_a_drink_frozen_as_a_batch_is_poured_below_zero() -> None:
    book = cellar().with_build(Vessel(SOUR).add(SPIRIT, 450.0).chill("freezer-batch").build())
    assert one(book, "sub-zero-pour").item_ids == ()


def test_a_part_of_the_freezer_says_so_itself() -> None:
    book = poured(bench().add(SPIRIT, 100.0), kept_at=KeptAt.FREEZER)
    assert keys(book, PART) == {"sub-zero-pour"}
    assert "sub-zero-pour" in keys(book)


def test_what_is_poured_warm_from_the_freezer_is_not_below_zero() -> None:
    book = SCENES["sub-zero-pour"]()
    drink = Vessel(SOUR).add(SPIRIT, 45.0, temperature_c=20.0).build()
    assert "sub-zero-pour" not in keys(book.with_build(drink))


def test_salt_alone_in_water_is_no_ferment() -> None:
    vessel: Bench = bench()
    vessel.add(WATER, 160.0).add(SALT, 40.0)
    assert found(poured(vessel)) == ()
