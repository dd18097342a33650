"""What was bought is paid for, joint costs are shared as the house says, and outputs may act as another item."""

from dataclasses import replace

import pytest
from msgspec import structs

from tests.engine.kitchen import CORDIAL, LEMON, PEAR, SPENT, SUGAR, WATER, Vessel, house, pantry
from washline.engine.items import raw_per_gram
from washline.engine.trace import Trace
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.house import JointCost
from washline.model.item import Build, BuildKind, Leftover, Today
from washline.model.step import Goal, Weight

PEEL = 1501


def close(value: float) -> object:
    return pytest.approx(value, rel=1e-9)


def traced(build: Build, book: HouseBook | None = None) -> Trace:
    return Workings((book or pantry()).with_build(build)).trace(build.id)


def test_of_produce_as_bought_the_edible_yield_goes_into_the_vessel() -> None:
    """1,000 g of pear at 0.9 and 2.00 a kilogram."""
    trace = traced(Vessel(1001).add(PEAR, 1000.0, weight=Weight.BOUGHT).build())
    assert (trace.steps[0].found_g, trace.steps[0].bought_g) == (close(900.0), close(1000.0))
    assert trace.result.value("cost") == close(2.0)


@pytest.mark.parametrize("weight", [Weight.USED, Weight.TRIMMED])
def test_of_produce_as_used_more_was_bought(weight: Weight) -> None:
    trace = traced(Vessel(1001).add(PEAR, 900.0, weight=weight).build())
    assert (trace.steps[0].found_g, trace.steps[0].bought_g) == (close(900.0), close(1000.0))
    assert trace.result.value("cost") == close(2.0)


def test_what_was_weighed_as_bought_is_what_is_paid() -> None:
    """1,200 g bought for 900 g used: 2.40, whatever the item's own yield is."""
    vessel = Vessel(1001).add(WATER, 100.0).add(PEAR, 900.0, bought_g=1200.0, weight=Weight.TRIMMED)
    trace = traced(vessel.build())
    assert trace.steps[1].bought_g == 1200.0
    assert trace.result.value("cost") == close(0.2 + 2.4)
    assert trace.steps[1].share.cost == close(2.4)


def test_an_infused_solid_is_paid_as_bought_too() -> None:
    vessel = Vessel(1001).add(WATER, 100.0).infuse(PEAR, 90.0, bought_g=150.0)
    assert traced(vessel.build()).result.value("cost") == close(0.2 + 0.3)
    bought = Vessel(1001).add(WATER, 100.0).infuse(PEAR, 100.0, weight=Weight.BOUGHT)
    assert traced(bought.build()).steps[1].found_g == close(90.0)


def test_a_weight_as_bought_without_a_known_yield_says_so() -> None:
    build = Vessel(1001).add(SUGAR, 100.0, weight=Weight.BOUGHT).build()
    reasons = Workings(pantry().with_build(build)).result_now(1001).reasons("strength")
    assert "the edible yield is not known: weigh what is used" in reasons


def test_what_is_used_as_it_comes_has_no_bought_weight() -> None:
    assert traced(Vessel(1001).add(SUGAR, 100.0).build()).steps[0].bought_g is None


def strained(joint: JointCost, main: float | None = None, left: float | None = None) -> HouseBook:
    """900 g of pear for 2.00: 600 g of liquid, 300 g left over."""
    book = pantry()
    book = book.with_settings(structs.replace(book.settings, joint_cost=joint))
    vessel = Vessel(CORDIAL).add(PEAR, 900.0).strain(weighed_g=600.0, leftover_id=SPENT)
    book = book.with_build(vessel.build(BuildKind.PART, value_per_kg=main))
    return book.with_leftover(Leftover(id=SPENT, build_id=CORDIAL, name="spent", value_per_kg=left))


@pytest.mark.parametrize(
    "book, cost",
    [
        (strained(JointCost.MAIN), 2.0),
        (strained(JointCost.MASS), 2.0 * 600.0 / 900.0),
        (strained(JointCost.VALUE), 2.0 * 600.0 / 900.0),
        (strained(JointCost.VALUE, main=6.0), 2.0 * 600.0 / 900.0),
        (strained(JointCost.VALUE, main=6.0, left=2.0), 2.0 * 3600.0 / 4200.0),
        (strained(JointCost.VALUE, main=6.0, left=0.0), 2.0),
    ],
)
def test_the_cost_of_a_joint_step_is_shared_as_the_house_says(book: HouseBook, cost: float) -> None:
    workings = Workings(book)
    assert workings.result_now(CORDIAL).value("cost") == close(cost)
    leftover = workings.columns_of(SPENT)
    assert leftover is not None
    assert leftover[0][25] * 300.0 == pytest.approx(2.0 - cost, abs=1e-12)


def test_a_leftover_that_is_thrown_away_carries_no_cost() -> None:
    book = strained(JointCost.MASS)
    build = Vessel(1001).add(PEAR, 900.0).strain(weighed_g=600.0).build(BuildKind.PART)
    assert traced(build, book).result.value("cost") == close(2.0)


def test_what_is_lost_carries_no_cost() -> None:
    book = strained(JointCost.MASS)
    vessel = Vessel(CORDIAL).add(PEAR, 900.0)
    vessel.strain(weighed_g=600.0, leftover_weighed_g=200.0, leftover_id=SPENT)
    assert traced(vessel.build(BuildKind.PART), book).result.value("cost") == close(2.0 * 600.0 / 800.0)


def broken_down(joint: JointCost, acts_as: int | None) -> HouseBook:
    book = pantry()
    book = book.with_settings(structs.replace(book.settings, joint_cost=joint))
    vessel = Vessel(CORDIAL).add(PEAR, 900.0).take(90.0, leftover_id=PEEL)
    book = book.with_build(vessel.build(BuildKind.PART))
    return book.with_leftover(Leftover(id=PEEL, build_id=CORDIAL, name="peel", acts_as_id=acts_as))


@pytest.mark.parametrize(
    "joint, acts_as, cost",
    [
        (JointCost.MAIN, None, 1.8),
        (JointCost.MAIN, LEMON, 2.0),
        (JointCost.MASS, LEMON, 1.8),
        (JointCost.VALUE, None, 1.8),
    ],
)
def test_a_plain_take_carries_its_cost_and_one_of_a_breakdown_as_the_house_says(
    joint: JointCost, acts_as: int | None, cost: float
) -> None:
    assert Workings(broken_down(joint, acts_as)).result_now(CORDIAL).value("cost") == close(cost)


def test_an_output_that_acts_as_an_item_pours_as_it_does_at_its_own_cost() -> None:
    """Kept in the fridge at 4 °C, it costs what it was made for."""
    book = broken_down(JointCost.MASS, LEMON)
    drink = Vessel(2001).add(PEEL, 30.0, "ml").build()
    plain = Vessel(2002).add(LEMON, 30.0, "ml").build()
    workings = Workings(book.with_build(drink).with_build(plain))
    ours, lemons = workings.result_now(2001), workings.result_now(2002)
    for key in ("acidity", "mass", "length", "density", "ph", "chill", "sugar_acid_ratio"):
        assert ours.value(key) == pytest.approx(lemons.value(key), rel=1e-12)
    assert ours.value("cost") == close((ours.value("mass") or 0.0) * 2.0 / 900.0)


def test_what_does_not_close_is_known_by_component() -> None:
    """90 g of pear hold 75.6 g of water; as lemon juice 81.9 g."""
    trace = Workings(broken_down(JointCost.MASS, LEMON)).trace(CORDIAL)
    unclosed = trace.unclosed_g(PEEL)
    assert unclosed is not None
    assert unclosed[0] == pytest.approx(81.9 - 75.6, rel=1e-9)
    assert float(unclosed.sum()) == pytest.approx(0.0, abs=1e-9)
    assert trace.unclosed_g(CORDIAL) is None


def test_an_output_that_acts_as_what_is_not_there_has_no_value() -> None:
    book = broken_down(JointCost.MASS, 999).with_build(Vessel(2001).add(PEEL, 30.0).build())
    assert Workings(book).result_now(2001).value("mass") is None


def test_a_part_that_acts_as_an_item_opens_with_its_lines_shares_by_weight() -> None:
    book = broken_down(JointCost.MASS, LEMON).with_build(
        Vessel(2001).add(PEEL, 30.0).add(WATER, 10.0).build()
    )
    trace = Workings(book).trace(2001)
    inside = trace.inside(2001001, PEEL)
    assert inside is not None
    assert inside.shares[CORDIAL * 1000 + 1].grams == close(30.0)
    assert inside.shares[CORDIAL * 1000 + 1].acids_g == close(trace.steps[0].share.acids_g)


def test_a_part_opens_in_the_adjustment_that_pours_it() -> None:
    vessel = Vessel(2001).add(WATER, 100.0).adjust(Goal.BRIX, 10.0, (CORDIAL, 3.0), (SUGAR, 1.0))
    trace = Workings(house().with_build(vessel.build())).trace(2001)
    inside = trace.inside(2001002, CORDIAL)
    assert inside is not None
    assert sum(share.grams for share in inside.shares.values()) == close(
        dict(trace.steps[1].portions_g)[CORDIAL]
    )


def test_todays_fruit_has_more_or_less_of_its_sugars_and_acids_against_its_water() -> None:
    """Lemon juice: 5.0 % citric acid, 2.5 % sugars; sharper by 20 %, less sweet by 10 %."""
    book = pantry()
    lemon = structs.replace(book.raws[LEMON], today=Today(sugars_pct=-10.0, acids_pct=20.0))
    plain, today = raw_per_gram(book, book.raws[LEMON]), raw_per_gram(book, lemon)
    assert today[9] == close(0.06)
    assert today[3] + today[4] == close(0.0225)
    assert today[0] == close(0.91 - 0.01 + 0.0025)
    assert float(today[:24].sum()) == close(float(plain[:24].sum()))


def test_todays_fruit_reaches_the_drinks_and_goes_again() -> None:
    book = house()
    workings = Workings(book)
    before = workings.result_now(201).value("acidity")
    sharper = structs.replace(book.raws[LEMON], today=Today(acids_pct=20.0))
    preview = replace(book, raws={**book.raws, LEMON: sharper})
    assert (workings.trace(201, preview).result.value("acidity") or 0.0) > 1.1 * (before or 0.0)
    assert workings.result_now(201).value("acidity") == before


def test_what_has_no_water_cannot_be_sweeter() -> None:
    book = pantry()
    sugar = structs.replace(book.raws[SUGAR], today=Today(sugars_pct=50.0))
    assert raw_per_gram(book, sugar)[2] == 1.0
