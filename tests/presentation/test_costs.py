"""What drinks and parts cost. The expected figures are worked by hand from the round prices of ``costing``."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import structs

from tests.presentation.costing import (
    GUESS,
    HERB,
    LEFT,
    MIXED,
    NEAT,
    NOTHING,
    ROOT,
    SECRET,
    SPENT,
    SPIRIT,
    STRAIN,
    SYRUP,
    TINCTURE,
    WATER,
    changed,
    house,
    worked_out,
)
from washline.engine.workings import Workings
from washline.model.amount import Amount, Basis, grams
from washline.model.book import HouseBook
from washline.model.house import JointCost
from washline.model.item import Price
from washline.model.step import Strain
from washline.presentation.costs import (
    Costs,
    DrinkCost,
    PartCost,
    money_decimals,
    names_of,
    price_step,
    rounded_up,
)
from washline.presentation.costs_sources import CostSources, EdibleYield, joint_words, usable_share


def drink(book: HouseBook, build_id: int) -> DrinkCost:
    found = Costs(worked_out(book)).drink(build_id)
    assert found is not None
    return found


def part(book: HouseBook, item_id: int, bottle_ml: float = 700.0) -> PartCost:
    found = Costs(worked_out(book)).part(item_id, bottle_ml)
    assert found is not None
    return found


# Drinks


def test_pour_cost_is_cost_in_percent_of_the_price_before_tax() -> None:
    # 50 g of spirit at 20 a litre are 1.00; 6.00 with 20 % tax are 5.00 before it.
    neat = drink(changed(house(), NEAT, price=6.0), NEAT)
    assert neat.cost == pytest.approx(1.0)
    assert neat.net_price == pytest.approx(5.0)
    assert neat.tax == pytest.approx(1.0)
    assert neat.pour_cost_pct == pytest.approx(20.0)
    assert neat.margin == pytest.approx(4.0)


def test_price_for_the_wanted_pour_cost_has_tax_in_it() -> None:
    neat = drink(house(tax_pct=25.0, wanted_pour_cost_pct=16.0), NEAT)
    assert neat.wanted_exact == pytest.approx(1.0 / 0.16 * 1.25)
    assert neat.wanted_price == 7.9


def test_price_for_the_wanted_pour_cost_gives_that_pour_cost() -> None:
    wanted = drink(house(), NEAT).wanted_exact
    assert drink(changed(house(), NEAT, price=wanted), NEAT).pour_cost_pct == pytest.approx(20.0)


def test_without_a_wanted_pour_cost_there_is_no_wanted_price() -> None:
    assert drink(house(wanted_pour_cost_pct=0.0), NEAT).wanted_price is None


def test_without_a_price_there_is_neither_pour_cost_nor_margin() -> None:
    neat = drink(house(), NEAT)
    assert (neat.price, neat.net_price, neat.tax, neat.pour_cost_pct, neat.margin) == (None,) * 5
    assert neat.cost is not None


def test_price_of_nothing_has_no_pour_cost() -> None:
    free = drink(changed(house(), NEAT, price=0.0), NEAT)
    assert free.pour_cost_pct is None
    assert free.margin == pytest.approx(-1.0)


def test_waste_adds_its_percent_to_the_cost() -> None:
    neat = drink(changed(house(), NEAT, waste_pct=10.0), NEAT)
    assert (neat.cost, neat.waste) == (pytest.approx(1.1), pytest.approx(0.1))


def test_labour_counts_in_the_margin_and_not_in_the_cost() -> None:
    book = changed(house(labour_per_hour=20.0), NEAT, labour_min=3.0, price=6.0)
    neat = drink(book, NEAT)
    assert (neat.labour_min, neat.labour) == (3.0, pytest.approx(1.0))
    assert neat.cost == pytest.approx(1.0)
    assert neat.margin == pytest.approx(3.0)


def test_labour_that_nobody_has_counted_is_not_zero() -> None:
    neat = drink(house(labour_per_hour=20.0), NEAT)
    assert (neat.labour_min, neat.labour) == (None, None)


def test_minutes_without_a_wage_are_not_counted_in_money() -> None:
    neat = drink(changed(house(), NEAT, labour_min=3.0, price=6.0), NEAT)
    assert (neat.labour_min, neat.labour) == (3.0, None)
    assert neat.margin == pytest.approx(4.0)


def test_waste_and_labour_of_a_part_go_with_what_is_poured_of_it() -> None:
    # The tincture costs 900 g × 0.02 + 100 g × 0.004 = 18.40 for 800 g; 40 g of it are 0.92 and a twentieth of an hour.
    book = changed(house(labour_per_hour=20.0), TINCTURE, waste_pct=50.0, labour_min=60.0)
    mixed = drink(book, MIXED)
    assert mixed.cost == pytest.approx(0.92 * 1.5)
    assert mixed.labour_min == pytest.approx(3.0)
    assert mixed.labour == pytest.approx(1.0)


def test_waste_on_waste_is_wasted_too() -> None:
    book = changed(changed(house(), TINCTURE, waste_pct=50.0), MIXED, waste_pct=10.0)
    assert drink(book, MIXED).cost == pytest.approx(0.92 * 1.5 * 1.1)


def test_share_of_a_line_carries_the_labour_of_its_part_as_a_weight_does() -> None:
    # The second way to the grams of a line: the build is run because its amount is no plain weight.
    book = changed(house(), TINCTURE, labour_min=60.0)
    mixed = book.builds[MIXED]
    share = Amount(40.0, "%", Basis.PERCENT_OF_LINES, (231,))
    first = structs.replace(mixed.steps[0], place=400.0, amount=share)
    water = structs.replace(mixed.steps[1], amount=grams(100.0))
    book = book.with_build(structs.replace(mixed, steps=(water, first)))
    assert drink(book, MIXED).labour_min == pytest.approx(3.0)


def test_missing_price_makes_the_cost_a_lower_bound() -> None:
    guess = drink(changed(house(), GUESS, price=6.0), GUESS)
    assert guess.is_at_least
    assert guess.cost == pytest.approx(1.0)


def test_cost_of_which_nothing_is_known_is_not_zero() -> None:
    book = house()
    only = structs.replace(book.builds[GUESS], steps=book.builds[GUESS].steps[1:])
    guess = drink(book.with_build(only), GUESS)
    assert (guess.cost, guess.wanted_price) == (None, None)


def test_empty_drink_costs_nothing_known() -> None:
    nothing = drink(house(), NOTHING)
    assert nothing.is_empty
    assert nothing.cost is None


def test_drink_that_was_never_computed_has_no_figures_yet() -> None:
    costs = Costs(Workings(house()))
    neat = costs.drink(NEAT)
    assert neat is not None
    assert neat.is_stale
    assert (neat.cost, neat.serve_ml, neat.alcohol_g) == (None, None, None)


def test_what_is_gone_has_no_row() -> None:
    costs = Costs(worked_out(house()))
    assert costs.drink(12345) is None
    assert costs.part(12345, 700.0) is None
    assert costs.part(SPIRIT, 700.0) is None


def test_figures_follow_when_something_changed() -> None:
    workings = worked_out(changed(house(), TINCTURE, labour_min=60.0))
    costs = Costs(workings)
    before = costs.drink(MIXED)
    workings.book = changed(workings.book, TINCTURE, labour_min=120.0)
    costs.forget()
    after = costs.drink(MIXED)
    assert before is not None
    assert after is not None
    assert (before.labour_min, after.labour_min) == (pytest.approx(3.0), pytest.approx(6.0))


# Parts


def test_part_costs_by_batch_kilogram_litre_bottle_and_pour() -> None:
    tincture = part(house(), TINCTURE, 500.0)
    assert tincture.batch == pytest.approx(18.4)
    assert tincture.batch_g == pytest.approx(800.0)
    assert tincture.per_kg == pytest.approx(23.0)
    # Its volume is that of water at 20 °C, 0.9982 g/ml (Kell 1975).
    assert tincture.per_litre == pytest.approx(23.0 * 0.9982, rel=1e-4)
    assert tincture.per_bottle == pytest.approx(23.0 * 0.9982 * 0.5, rel=1e-4)
    assert tincture.per_pour == pytest.approx(23.0 * 0.9982 * 0.02, rel=1e-4)


def test_part_without_a_pour_has_no_cost_of_one() -> None:
    assert part(house(), SYRUP).per_pour is None


def test_waste_is_in_the_cost_of_a_part_and_labour_beside_it() -> None:
    book = changed(house(labour_per_hour=30.0), TINCTURE, waste_pct=10.0, labour_min=20.0)
    tincture = part(book, TINCTURE)
    assert tincture.batch == pytest.approx(18.4 * 1.1)
    assert tincture.waste == pytest.approx(1.84)
    assert tincture.labour == pytest.approx(10.0)


def test_leftover_is_free_where_the_main_output_bears_all() -> None:
    book = changed(house(joint_cost=JointCost.MAIN), TINCTURE, waste_pct=10.0, labour_min=20.0)
    spent = part(book, SPENT)
    assert spent.is_leftover
    assert (spent.batch, spent.waste, spent.batch_g) == (0.0, 0.0, pytest.approx(200.0))


def test_leftover_bears_its_weight_where_cost_goes_by_weight() -> None:
    # 18.40 for 1,000 g that come out: 800 g and 200 g.
    book = house(joint_cost=JointCost.MASS)
    assert part(book, TINCTURE).batch == pytest.approx(18.4 * 0.8)
    assert part(book, SPENT).batch == pytest.approx(18.4 * 0.2)


def test_leftover_bears_its_worth_where_cost_goes_by_value() -> None:
    # 800 g worth 3 a kilogram beside 200 g worth 4: 2.4 to 0.8, so that the leftover bears a quarter.
    book = changed(house(joint_cost=JointCost.VALUE), TINCTURE, value_per_kg=3.0)
    book = book.with_leftover(structs.replace(book.leftovers[SPENT], value_per_kg=4.0))
    assert part(book, TINCTURE).batch == pytest.approx(18.4 * 0.75)
    assert part(book, SPENT).batch == pytest.approx(18.4 * 0.25)


def test_labour_is_shared_as_the_cost_is() -> None:
    book = changed(house(joint_cost=JointCost.MASS), TINCTURE, labour_min=60.0)
    assert part(book, TINCTURE).labour_min == pytest.approx(48.0)
    # 10 g of 200 g that bear a fifth of an hour.
    assert drink(book, LEFT).labour_min == pytest.approx(0.6)


def test_leftover_bears_its_share_of_waste_too() -> None:
    book = changed(house(joint_cost=JointCost.MASS), TINCTURE, waste_pct=10.0)
    assert part(book, SPENT).batch == pytest.approx(18.4 * 0.2 * 1.1)


def test_part_with_nothing_priced_in_it_is_not_free() -> None:
    book = house()
    syrup = structs.replace(
        book.builds[SYRUP], steps=(structs.replace(book.builds[SYRUP].steps[0], item_id=SECRET),)
    )
    found = part(book.with_build(syrup), SYRUP)
    assert (found.batch, found.per_kg, found.is_at_least) == (None, None, True)


# What a cost rests on


def test_newest_price_of_each_counts_and_the_oldest_of_these_is_told() -> None:
    sources = Costs(worked_out(house())).sources(SYRUP)
    assert sources.oldest == ("2026-02-01", HERB)


def test_price_that_was_followed_by_a_newer_one_is_not_the_oldest() -> None:
    assert Costs(worked_out(house())).sources(NEAT).oldest == ("2026-05-01", SPIRIT)


def test_missing_price_is_found_through_a_part() -> None:
    book = house()
    tincture = book.builds[TINCTURE]
    steps = (tincture.steps[0], structs.replace(tincture.steps[1], item_id=SECRET), tincture.steps[2])
    book = book.with_build(structs.replace(tincture, steps=steps))
    costs = Costs(worked_out(book))
    assert costs.sources(MIXED).unpriced == (SECRET,)
    assert names_of(book, costs.sources(MIXED).unpriced) == ("secret",)


def test_free_leftover_brings_no_price_of_its_own() -> None:
    sources = Costs(worked_out(house())).sources(LEFT)
    assert sources.oldest == ("2026-05-01", SPIRIT)
    assert sources.joint == (TINCTURE,)


def test_edible_yield_is_told_where_the_price_is_for_what_is_bought() -> None:
    costs = Costs(worked_out(house()))
    assert costs.sources(SYRUP).yields == (EdibleYield(HERB, 0.5),)
    assert costs.sources(TINCTURE).yields == ()


def test_yield_that_was_weighed_for_a_line_is_told_in_the_place_of_the_usual_one() -> None:
    book = house()
    syrup = book.builds[SYRUP]
    herb = structs.replace(syrup.steps[0], bought_g=125.0)
    book = book.with_build(structs.replace(syrup, steps=(herb, syrup.steps[1])))
    costs = Costs(worked_out(book))
    assert costs.sources(SYRUP).yields == (EdibleYield(HERB, 0.8),)
    # 125 g of herb at 10 a kilogram are 1.25, and 100 g of tincture 2.30.
    assert part(book, SYRUP).batch == pytest.approx(3.55)


def test_share_that_is_used_is_read_off_what_the_engine_counts() -> None:
    assert usable_share(Price(10.0, "kg", "2026-01-01"), 0.02) == 0.5
    assert usable_share(Price(10.0, "l", "2026-01-01"), 0.02) == 1.0
    assert usable_share(Price(0.0, "kg", "2026-01-01"), 0.0) == 1.0


def test_cost_rests_on_the_joint_rule_through_a_part() -> None:
    costs = Costs(worked_out(house()))
    assert costs.sources(MIXED).joint == (TINCTURE,)
    assert costs.sources(NEAT).joint == ()


def test_strain_that_nobody_named_a_leftover_of_shares_no_cost() -> None:
    book = house()
    steps = tuple(
        structs.replace(step, leftover_id=None) if isinstance(step, Strain) else step
        for step in book.builds[TINCTURE].steps
    )
    book = changed(book, TINCTURE, steps=steps)
    assert all(step.id != STRAIN or getattr(step, "leftover_id", 0) is None for step in steps)
    assert Costs(worked_out(book)).sources(MIXED).joint == ()


@pytest.mark.parametrize(
    "rule, words",
    [
        (JointCost.MAIN, "Joint cost of tincture: all stays with the main output, leftovers are free."),
        (JointCost.MASS, "Joint cost of tincture: shared by weight."),
        (
            JointCost.VALUE,
            "Joint cost of tincture: shared by weight × value per kg. "
            "By weight where no value is set: tincture, spent root.",
        ),
    ],
)
def test_joint_rule_in_force_is_said(rule: JointCost, words: str) -> None:
    assert joint_words(house(joint_cost=rule), (TINCTURE,)) == words


def test_no_joint_rule_is_said_where_none_is_in_it() -> None:
    assert joint_words(house(), ()) == ""


def test_loop_of_a_damaged_file_ends() -> None:
    book = house()
    syrup = book.builds[SYRUP]
    loop = structs.replace(syrup, steps=(structs.replace(syrup.steps[1], item_id=SYRUP),))
    assert CostSources(Workings(book.with_build(loop))).of_build(SYRUP).unpriced == ()


# Rounding


@pytest.mark.parametrize(
    "exact, step, price",
    [
        (7.5, 0.1, 7.5),
        (7.500000000000001, 0.1, 7.5),
        (7.51, 0.1, 7.6),
        (0.3, 0.1, 0.3),
        (0.0, 0.1, 0.0),
        (1234.0, 10.0, 1240.0),
    ],
)
def test_price_is_rounded_up_to_the_next_step(exact: float, step: float, price: float) -> None:
    assert rounded_up(exact, step) == price


@given(exact=st.floats(0.0, 1e5), step=st.sampled_from([0.1, 1.0, 10.0]))
def test_rounded_price_is_never_below_and_never_a_step_above(exact: float, step: float) -> None:
    price = rounded_up(exact, step)
    assert exact - 1e-8 <= price < exact + step + 1e-8


def test_money_has_the_decimals_and_steps_of_its_currency() -> None:
    assert (money_decimals("EUR"), money_decimals("JPY")) == (2, 0)
    assert (price_step("EUR"), price_step("SEK"), price_step("JPY")) == (0.1, 1.0, 10.0)


def test_water_that_costs_nothing_is_known() -> None:
    assert Costs(worked_out(house())).sources(WATER).unpriced == ()
    assert Costs(worked_out(house())).sources(ROOT).oldest == ("2026-04-01", ROOT)
