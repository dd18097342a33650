"""The demo house's house-made parts, worked by hand in its recipes, against the engine."""

from dataclasses import replace

import pytest

from tests.engine.demo_rows import (
    AGAR,
    APPLE_JUICE_TART,
    BARLEY_ROASTED,
    BAY_LEAF_FRESH,
    BEETROOT,
    BUTTER_UNSALTED,
    CIDER_DRY,
    CITRIC_ACID_ANHYDROUS,
    CREAM,
    FENNEL_BULB,
    LEMON_FRUIT,
    LEMON_JUICE,
    LEMON_PEEL,
    MALIC_ACID,
    MILK_WHOLE,
    NEUTRAL_SPIRIT,
    ROSEHIP_FRESH,
    ROWS,
    SALT_TABLE,
    SAMPHIRE_FRESH,
    SUGAR_WHITE,
    VERMOUTH_DRY,
    WATER_STILL,
    WHISKEY_RYE,
    WHISKY_MALT,
)
from tests.engine.kitchen import Vessel, pantry
from washline.chemistry.components import CITRIC, ETHANOL, FAT, LACTIC, NACL, PROTEIN, WATER
from washline.engine.trace import Trace
from washline.engine.workings import Workings
from washline.model.amount import Basis
from washline.model.book import HouseBook
from washline.model.item import BuildKind, Leftover
from washline.model.step import FermentKind, Goal, Measurable, WashKind

PART, LEFT = 1001, 1500


def larder() -> HouseBook:
    book = pantry()
    book = replace(book, raws={**book.raws, **{row.id: row for row in ROWS}})
    return book.with_leftover(Leftover(id=LEFT, build_id=PART, name="left over"))


def traced(vessel: Vessel, book: HouseBook | None = None) -> Trace:
    return Workings((book or larder()).with_build(vessel.build(BuildKind.PART))).trace(vessel.build_id)


def bay_tincture() -> Vessel:
    vessel = Vessel(PART).add(NEUTRAL_SPIRIT, 160.0).add(WATER_STILL, 90.0)
    vessel.infuse(
        BAY_LEAF_FRESH,
        20.0,
        water_given_pct=100.0,
        sugars_given_pct=0.0,
        acids_given_pct=0.0,
        salt_given_pct=0.0,
        solids_given_pct=0.0,
    )
    vessel.strain(weighed_g=232.0, leftover_weighed_g=30.0, leftover_id=LEFT, way="paper")
    return vessel.adjust(Goal.STRENGTH, 60.0, WATER_STILL)


def test_bay_tincture_takes_24_3_g_of_water_to_60_pct_vol() -> None:
    trace = traced(bay_tincture())
    assert trace.steps[1].readings_after[0] == pytest.approx(67.8, abs=0.05)
    assert trace.steps[3].readings_after[0] == pytest.approx(65.4, abs=0.05)
    assert trace.steps[4].found_g == pytest.approx(24.3, abs=0.05)
    assert trace.result.value("strength") == pytest.approx(60.0, abs=1e-9)
    assert trace.result.value("mass") == pytest.approx(256.3, abs=0.05)


def test_the_bay_leaf_s_dry_matter_stays_in_the_vessel_until_it_is_strained() -> None:
    steps = traced(bay_tincture()).steps
    assert steps[2].vessel_g == pytest.approx(270.0, rel=1e-12)
    assert steps[2].held_g == pytest.approx(9.0, rel=1e-12)
    assert (steps[3].left_g, steps[3].loss_g) == (pytest.approx(30.0), pytest.approx(8.0))
    assert steps[3].held_g == 0.0


def test_rosehip_syrup_takes_659_4_g_of_sugar_to_50_brix() -> None:
    """A refractometer showed 6.6 °Bx: 760 x 0.066 = 50.2 g; (50.2 + s) / (760 + s) = 0.5."""
    vessel = Vessel(PART).add(ROSEHIP_FRESH, 300.0).add(WATER_STILL, 900.0).heat(final_g=1000.0)
    vessel.strain(weighed_g=760.0, leftover_weighed_g=230.0, leftover_id=LEFT, measured_brix=6.6)
    trace = traced(vessel.adjust(Goal.BRIX, 50.0, SUGAR_WHITE))
    assert trace.steps[3].missed == ()
    assert trace.steps[4].found_g == pytest.approx(659.4, abs=0.15)
    assert trace.result.value("brix_true") == pytest.approx(50.0, abs=1e-9)


def test_sharp_apple_takes_20_0_and_30_1_g_to_6_pct_acidity_by_weight() -> None:
    """860 x 0.0070 = 6.0; 20.0 + 30.1 / 1.047 = 48.7, less the powders' moisture; 54.6 / 910.1 = 6.00 %."""
    vessel = Vessel(PART).add(APPLE_JUICE_TART, 1050.0).share(AGAR, 0.2, Basis.PERCENT_OF_VESSEL)
    vessel.heat(final_g=1049.1)
    vessel.strain(weighed_g=860.0, leftover_weighed_g=179.1, leftover_id=LEFT, way="agar")
    vessel.measure(Measurable.ACIDITY, 0.70)
    trace = traced(vessel.adjust(Goal.ACIDITY, 6.0, (CITRIC_ACID_ANHYDROUS, 2.0), (MALIC_ACID, 3.0)))
    grams = dict(trace.steps[5].portions_g)
    assert grams[CITRIC_ACID_ANHYDROUS] == pytest.approx(20.0, abs=0.06)
    assert grams[MALIC_ACID] == pytest.approx(30.1, abs=0.06)
    assert trace.total.grams == pytest.approx(910.1, abs=0.05)
    assert trace.total.acids_g / trace.total.grams == pytest.approx(0.06, rel=1e-9)
    assert trace.result.value("ph") == pytest.approx(2.2, abs=0.1)


def beet() -> Vessel:
    vessel = Vessel(PART).add(BEETROOT, 600.0).add(WATER_STILL, 1000.0)
    vessel.share(SALT_TABLE, 2.0, Basis.PERCENT_OF_VESSEL)
    vessel.ferment(kind=FermentKind.LACTIC, gas_lost_g=4.0, final_acidity_pct=0.73, final_ph=3.5)
    return vessel.strain(weighed_g=1010.0, leftover_weighed_g=610.0, leftover_id=LEFT)


def test_beet_brine_makes_16_4_g_of_lactic_acid_4_g_of_gas_and_4_2_g_of_ethanol() -> None:
    trace = traced(beet())
    after = trace.steps[3].after
    assert after[LACTIC] == pytest.approx(16.4, abs=0.05)
    assert after[ETHANOL] == pytest.approx(4.2, abs=0.02)
    gas = next(flow for flow in trace.outflows if flow.kind == "gas")
    assert (gas.grams, gas.step_id) == (pytest.approx(4.0, rel=1e-12), PART * 1000 + 4)
    assert trace.steps[3].vessel_g == pytest.approx(1628.0, rel=1e-12)


def test_beet_brine_reads_as_its_recipe_expects() -> None:
    result = traced(beet()).result
    assert result.value("salt") == pytest.approx(2.1, abs=0.05)
    assert result.value("acidity") == pytest.approx(0.75, abs=0.01)
    assert result.value("strength") == pytest.approx(0.3, abs=0.05)
    assert result.value("density") == pytest.approx(1.023, abs=0.002)
    assert result.value("ph") == pytest.approx(3.5, abs=0.01)


def test_fennel_cider_loses_25_7_of_39_5_g_of_ethanol_when_it_simmers_for_30_minutes() -> None:
    vessel = Vessel(PART).add(CIDER_DRY, 1000.0).add(FENNEL_BULB, 200.0)
    vessel.heat(final_g=1045.0, ethanol_way="simmered", duration_s=1800.0)
    vessel.strain(weighed_g=850.0, leftover_weighed_g=187.0, leftover_id=LEFT)
    vessel.reduce(final_g=400.0, ethanol_kept_pct=25.0)
    trace = traced(vessel.adjust(Goal.BRIX, 50.0, SUGAR_WHITE))
    vapour = next(flow for flow in trace.outflows if flow.kind == "vapour")
    assert trace.steps[1].after[ETHANOL] == pytest.approx(39.5, abs=0.05)
    assert vapour.masses[ETHANOL] == pytest.approx(25.7, abs=0.05)
    assert vapour.masses[WATER] == pytest.approx(129.3, abs=0.05)
    assert trace.steps[5].found_g == pytest.approx(340.9, abs=0.5)


def brown_butter_rye() -> Vessel:
    vessel = Vessel(PART).add(BUTTER_UNSALTED, 125.0).heat(final_g=103.0).add(WHISKEY_RYE, 700.0, "ml")
    vessel.wash(kind=WashKind.FAT)
    return vessel.strain(weighed_g=622.0, leftover_weighed_g=125.0, leftover_id=LEFT, way="skim")


def test_brown_butter_rye_keeps_its_strength_and_loses_all_its_fat() -> None:
    trace = traced(brown_butter_rye())
    assert trace.steps[3].vessel_g == pytest.approx(754.1, abs=0.05)
    assert trace.steps[3].held_g == pytest.approx(101.3, abs=0.1)
    assert trace.final_state[FAT] == 0.0
    assert trace.result.value("strength") == pytest.approx(50.0, abs=0.2)
    butter = trace.outflows[1]
    assert (butter.kind, butter.item_id) == ("leftover", LEFT)
    assert butter.masses[FAT] == pytest.approx(101.34, abs=0.05)
    assert butter.masses[ETHANOL] / 0.42426 == pytest.approx(22.0, abs=2.0)


def punch_base() -> Vessel:
    vessel = Vessel(PART).add(WHISKY_MALT, 943.1).add(WATER_STILL, 406.0).add(LEMON_JUICE, 220.0)
    vessel.add(SUGAR_WHITE, 190.0).add(MILK_WHOLE, 360.0).add(CREAM, 60.0)
    vessel.wash(kind=WashKind.MILK, acids_held_pct=13.0)
    return vessel.strain(weighed_g=1880.0, leftover_weighed_g=284.0, leftover_id=LEFT, way="milk")


def test_the_punch_s_curd_takes_acid_all_fat_and_the_casein() -> None:
    """Casein is 80 % of milk protein, and here the lemon's protein curdles with it."""
    trace = traced(punch_base())
    before, after = trace.steps[5].after, trace.steps[6].after
    assert after[FAT] == 0.0
    assert after[PROTEIN] == pytest.approx(0.2 * before[PROTEIN], rel=1e-12)
    assert before[CITRIC] - after[CITRIC] == pytest.approx(1.4, abs=0.05)
    assert trace.result.value("strength") == pytest.approx(20.5, abs=0.3)
    assert trace.result.value("acidity") == pytest.approx(0.44, abs=0.02)


def test_samphire_gives_60_pct_of_its_salt_and_half_of_its_water() -> None:
    vessel = Vessel(PART).add(VERMOUTH_DRY, 744.8)
    vessel.infuse(
        SAMPHIRE_FRESH,
        60.0,
        water_given_pct=50.0,
        sugars_given_pct=0.0,
        acids_given_pct=0.0,
        salt_given_pct=60.0,
        solids_given_pct=0.0,
    )
    vessel.strain(weighed_g=751.0, leftover_weighed_g=46.0, leftover_id=LEFT, way="fine")
    trace = traced(vessel)
    assert trace.steps[1].share.rows[NACL] < 60.0 * 0.026 * 0.6
    assert trace.steps[1].after[NACL] == pytest.approx(60.0 * 0.026 * 0.6, rel=1e-9)
    assert trace.result.value("strength") == pytest.approx(17.4, abs=0.1)
    assert trace.result.value("salt") == pytest.approx(0.12, abs=0.01)
    assert trace.result.value("acidity") == pytest.approx(0.39, abs=0.08)


def test_barley_tea_holds_its_barley_until_it_is_strained() -> None:
    vessel = Vessel(PART).add(WATER_STILL, 500.0, temperature_c=90.0)
    vessel.infuse(BARLEY_ROASTED, 60.0, sugars_given_pct=100.0, solids_given_pct=50.0)
    trace = traced(vessel.strain(weighed_g=406.0, leftover_weighed_g=146.0, leftover_id=LEFT))
    assert trace.steps[1].held_g == pytest.approx(60.0 - 6.9 - 0.75, abs=0.01)
    assert trace.result.value("brix_true") == pytest.approx(1.55, abs=0.1)


def test_the_juice_of_a_lemon_breakdown_pours_as_lemon_juice() -> None:
    peel, hulls, juice = 1501, 1502, PART
    vessel = Vessel(juice).add(LEMON_FRUIT, 2000.0)
    vessel.take(160.0, leftover_id=peel)
    vessel.strain(weighed_g=760.0, leftover_weighed_g=1050.0, leftover_id=hulls, way="press")
    book = larder().with_build(vessel.build(BuildKind.PART, acts_as_id=LEMON_JUICE))
    book = book.with_leftover(
        Leftover(id=peel, build_id=juice, name="lemon peel, ours", acts_as_id=LEMON_PEEL)
    )
    book = book.with_leftover(Leftover(id=hulls, build_id=juice, name="lemon hulls"))
    drink = Vessel(2001).add(juice, 22.5, "ml").add(peel, 3.0).build()
    same = Vessel(2002).add(LEMON_JUICE, 22.5, "ml").add(LEMON_PEEL, 3.0).build()
    workings = Workings(book.with_build(drink).with_build(same))
    ours, theirs = workings.result_now(2001), workings.result_now(2002)
    for key in ("acidity", "sweetness", "length", "density", "ph", "mass"):
        assert ours.value(key) == pytest.approx(theirs.value(key), rel=1e-12)
    assert ours.value("cost") == pytest.approx(22.5 * 1.033 * 2.0 * 2.0 / 760.0, rel=1e-9)
    unclosed = workings.trace(juice).unclosed_g(juice)
    assert unclosed is not None
    assert float(unclosed.sum()) == pytest.approx(0.0, abs=1e-6)
    assert abs(float(unclosed[CITRIC])) > 1.0
