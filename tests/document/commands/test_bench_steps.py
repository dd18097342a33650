"""The bench steps as commands: infusions, adjustments, washes, ferments, measurements, and what is weighed of them."""

from dataclasses import replace

import pytest
from msgspec import structs

from tests.document.bytes import bytes_of
from tests.document.doing import done
from tests.document.house import (
    BREW,
    BREW_ACID,
    BREW_FERMENT,
    BREW_LEAF,
    BREW_LIME,
    BREW_PH,
    BREW_STRAIN,
    BREW_SWEET,
    BREW_TOP_ID,
    BREW_WASH,
    CORDIAL,
    CURD,
    GIN,
    LEAF,
    LEATHER,
    LEATHER_DRY,
    LIME,
    MAKING,
    PRESS,
    SIGNAL,
    SIGNAL_LEAF,
    SIGNAL_LIME,
    SPENT,
    SUGAR,
    SWEETEN,
    TIDE,
    TIDE_CORDIAL,
    TONIC,
    amount_of,
    bench_house,
)
from washline.document.commands.command import Refusal
from washline.document.commands.copies import copy_steps, paste_steps
from washline.document.commands.house import set_settings
from washline.document.commands.items import remove_item, set_build
from washline.document.commands.leftovers import set_leftover
from washline.document.commands.lines import add_line, set_amount, set_item, set_kind
from washline.document.commands.raws import new_raw, set_raw
from washline.document.commands.steps import add_step, leave_out, remove_steps, set_portions, set_step
from washline.document.commands.twisting import (
    keep_both,
    let_go,
    make_twist,
    take_parents_place,
    twist_part_for,
)
from washline.model.amount import Amount, grams
from washline.model.book import HouseBook
from washline.model.change import difference
from washline.model.house import Settings, Shared
from washline.model.item import Making, StepYield, Today
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    FermentKind,
    Goal,
    Infuse,
    Measurable,
    Measurement,
    Portion,
    Reduce,
    Strain,
    Top,
    Wash,
    Weight,
)

HOUSE = bench_house()
NEW = {"id": 0, "build_id": 0, "place": 0.0}


def brew(book: HouseBook, step_id: int) -> AnyStep:
    step = book.step(BREW, step_id)
    assert step is not None
    return step


def adjustment(book: HouseBook, step_id: int, build_id: int = BREW) -> Adjust:
    step = book.step(build_id, step_id)
    assert isinstance(step, Adjust)
    return step


def test_an_infusion_is_put_in_like_any_line() -> None:
    book = done(HOUSE, add_line(TIDE, LEAF, grams(12.0), kind=Infuse))
    step = book.step(TIDE, BREW_TOP_ID + 1)
    assert isinstance(step, Infuse)
    assert (step.item_id, step.amount, step.acids_given_pct) == (LEAF, grams(12.0), None)


def test_amount_and_item_of_an_infusion_are_set() -> None:
    book = done(HOUSE, set_amount(BREW, BREW_LEAF, grams(30.0)))
    assert amount_of(book, BREW, BREW_LEAF) == grams(30.0)
    step = brew(done(book, set_item(BREW, BREW_LEAF, TONIC)), BREW_LEAF)
    assert isinstance(step, Infuse)
    assert (step.item_id, step.acids_given_pct) == (TONIC, 60.0)


def test_a_line_becomes_an_infusion_and_keeps_what_was_bought() -> None:
    step = brew(done(HOUSE, set_kind(BREW, BREW_LIME, Infuse)), BREW_LIME)
    assert isinstance(step, Infuse)
    assert (step.weight, step.bought_g, step.amount, step.item_id) == (
        Weight.BOUGHT,
        910.0,
        grams(900.0),
        LIME,
    )


def test_an_infusion_becomes_a_line_and_stays_the_same_line() -> None:
    book = done(HOUSE, set_kind(BREW, BREW_LEAF, Add))
    step = brew(book, BREW_LEAF)
    assert isinstance(step, Add)
    assert (step.id, step.place, step.item_id) == (BREW_LEAF, 3.0, LEAF)
    assert step.amount.of == (BREW_LIME,)


def test_an_infusion_that_becomes_a_top_loses_what_a_top_has_not() -> None:
    assert isinstance(brew(done(HOUSE, set_kind(BREW, BREW_LEAF, Top)), BREW_LEAF), Top)


def test_the_weight_meant_and_what_was_bought_are_set() -> None:
    step = brew(done(HOUSE, set_step(BREW, BREW_LEAF, weight=Weight.TRIMMED, bought_g=60.0)), BREW_LEAF)
    assert isinstance(step, Infuse)
    assert (step.weight, step.bought_g) == (Weight.TRIMMED, 60.0)


def test_a_final_brix_a_final_weight_and_a_final_percent_rule_one_another_out() -> None:
    book = done(HOUSE, set_step(LEATHER, LEATHER_DRY, final_brix=60.0))
    step = book.step(LEATHER, LEATHER_DRY)
    assert isinstance(step, Reduce)
    assert (step.final_g, step.final_pct, step.final_brix) == (None, None, 60.0)
    step = done(book, set_step(LEATHER, LEATHER_DRY, final_g=100.0)).step(LEATHER, LEATHER_DRY)
    assert isinstance(step, Reduce)
    assert (step.final_g, step.final_pct, step.final_brix) == (100.0, None, None)
    with pytest.raises(Refusal, match="Only one of these"):
        done(HOUSE, set_step(LEATHER, LEATHER_DRY, final_brix=60.0, final_g=100.0))


def test_a_value_and_a_likeness_rule_each_other_out() -> None:
    book = done(HOUSE, set_step(BREW, BREW_ACID, like_item_id=TONIC))
    assert (adjustment(book, BREW_ACID).value, adjustment(book, BREW_ACID).like_item_id) == (None, TONIC)
    book = done(book, set_step(BREW, BREW_ACID, value=5.0))
    assert (adjustment(book, BREW_ACID).value, adjustment(book, BREW_ACID).like_item_id) == (5.0, None)
    with pytest.raises(Refusal, match="Only one of these"):
        done(HOUSE, set_step(BREW, BREW_ACID, value=5.0, like_item_id=TONIC))


def test_an_adjustment_without_a_goal_is_refused() -> None:
    with pytest.raises(Refusal, match="An adjustment has one goal: a value, or an item to be like"):
        done(HOUSE, set_step(BREW, BREW_ACID, value=None))
    with pytest.raises(Refusal, match="one goal"):
        done(HOUSE, add_step(TIDE, Adjust(**NEW, goal=Goal.BRIX, portions=(Portion(SUGAR),))))


def test_portions_are_set_in_their_order() -> None:
    portions = (Portion(TONIC, 1.5), Portion(SUGAR, 3.0))
    book = done(HOUSE, set_portions(BREW, BREW_ACID, portions))
    assert adjustment(book, BREW_ACID).portions == portions
    assert difference(HOUSE, book).build_ids() == {BREW}


@pytest.mark.parametrize(
    ("portions", "words"),
    [
        ((), "An adjustment adds at least one item"),
        ((Portion(SUGAR, 0.0),), "An item of an adjustment has more than no parts"),
        ((Portion(SUGAR, -1.0),), "The parts must be a number from 0"),
        ((Portion(SUGAR, float("nan")),), "The parts must be a number from 0"),
        ((Portion(999),), "pours something that is not in the house book"),
        ((Portion(SIGNAL),), "Pear Signal cannot go into leaf brew. It is a drink"),
        ((Portion(CURD),), "leaf curd cannot go into leaf brew. It would be made of itself"),
        ((Portion(SUGAR), Portion(BREW)), "leaf brew cannot go into leaf brew. It would be made of itself"),
    ],
)
def test_portions_that_cannot_be_are_refused(portions: tuple[Portion, ...], words: str) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, set_portions(BREW, BREW_ACID, portions))


def test_only_an_adjustment_has_portions() -> None:
    with pytest.raises(Refusal, match="A step lime juice adds no portions"):
        done(HOUSE, set_portions(BREW, BREW_LIME, (Portion(SUGAR),)))
    with pytest.raises(TypeError, match="portions"):
        done(HOUSE, set_step(BREW, BREW_ACID, portions=(Portion(SUGAR),)))


def test_a_part_is_not_adjusted_to_be_like_what_is_made_of_it() -> None:
    book = done(HOUSE, add_line(LEATHER, CURD, grams(5.0)))
    with pytest.raises(Refusal) as refused:
        done(book, set_step(BREW, BREW_SWEET, like_item_id=LEATHER))
    assert refused.value.what == "leaf brew cannot be adjusted to be like pear leather."
    assert (
        refused.value.cause
        == "It would be made of itself: pear leather, made of leaf brew, made of pear leather."
    )


def test_nothing_is_adjusted_to_be_like_a_drink() -> None:
    with pytest.raises(Refusal, match="leaf brew cannot be adjusted to be like Pear Signal. It is a drink"):
        done(HOUSE, set_step(BREW, BREW_SWEET, like_item_id=SIGNAL))


def test_a_likeness_that_is_left_out_closes_no_cycle_until_it_is_taken_in() -> None:
    book = done(HOUSE, leave_out(BREW, [BREW_SWEET]))
    book = done(book, set_step(BREW, BREW_SWEET, like_item_id=BREW))
    with pytest.raises(Refusal, match="made of itself"):
        done(book, leave_out(BREW, [BREW_SWEET], is_left_out=False))


@pytest.mark.parametrize(
    ("step_id", "fields", "words"),
    [
        (BREW_LIME, {"bought_g": -1.0}, "The weight as bought in grams must be a number from 0"),
        (BREW_LEAF, {"water_given_pct": 100.5}, "The water given in percent must be a number from 0 to 100"),
        (BREW_LEAF, {"sugars_given_pct": -1.0}, "The sugars given"),
        (BREW_LEAF, {"acids_given_pct": float("inf")}, "The acids given"),
        (BREW_LEAF, {"salt_given_pct": 101.0}, "The salt given"),
        (BREW_LEAF, {"solids_given_pct": 101.0}, "The other solids given"),
        (BREW_LEAF, {"given_spread_pct": 101.0}, "The spread of what is given"),
        (BREW_LEAF, {"temperature_c": 501.0}, "The temperature in °C"),
        (BREW_WASH, {"fat_held_pct": 101.0}, "The fat held"),
        (BREW_WASH, {"protein_held_pct": -0.1}, "The protein held"),
        (BREW_WASH, {"acids_held_pct": 200.0}, "The acids held"),
        (BREW_STRAIN, {"measured_brix": 100.1}, "The strained liquid in °Bx must be a number from 0 to 100"),
        (BREW_STRAIN, {"measured_acidity_pct": 101.0}, "The acidity of the strained liquid"),
        (BREW_FERMENT, {"gas_lost_g": -1.0}, "The gas that left in grams"),
        (BREW_FERMENT, {"final_ph": 14.5}, "The pH reached must be a number from 0 to 14"),
        (BREW_FERMENT, {"discard_above_ph": -1.0}, "The highest pH allowed"),
        (BREW_FERMENT, {"discard_on_day": 40_000.0}, "The day by which it is reached"),
        (BREW_FERMENT, {"final_brix": 120.0}, "The liquid reached in °Bx"),
        (BREW_FERMENT, {"final_acidity_pct": 120.0}, "The acidity reached"),
        (BREW_ACID, {"value": 151.0}, "The acidity to reach in percent must be a number from 0 to 150"),
        (BREW_ACID, {"goal": Goal.STRENGTH, "value": 101.0}, "The strength to reach in % vol"),
        (BREW_ACID, {"goal": Goal.BRIX, "value": 100.5}, "The goal in °Bx"),
        (BREW_ACID, {"goal": Goal.SALT, "value": -1.0}, "The salt to reach in percent"),
        (BREW_PH, {"gain": 1.1}, "The share taken over must be a number from 0 to 1"),
        (BREW_PH, {"uncertainty": -1.0}, "The uncertainty must be a number from 0"),
        (
            BREW_PH,
            {"quantity": Measurable.PH, "value": 15.0},
            "The measured pH must be a number from 0 to 14",
        ),
        (BREW_PH, {"quantity": Measurable.DENSITY, "value": 1005.0}, "The measured density in g/ml"),
        (BREW_PH, {"quantity": Measurable.STRENGTH, "value": 120.0}, "The measured strength in % vol"),
        (BREW_PH, {"quantity": Measurable.MASS, "value": -5.0}, "The measured mass in grams"),
        (BREW_PH, {"quantity": Measurable.VOLUME, "value": 1e8}, "The measured volume in ml"),
        (BREW_PH, {"quantity": Measurable.ACIDITY, "value": 101.0}, "The measured acidity in percent"),
        (BREW_PH, {"value": 101.0}, "The measured liquid in °Bx"),
    ],
)
def test_what_cannot_be_of_a_bench_step_is_refused_with_what_was_expected(
    step_id: int, fields: dict[str, object], words: str
) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, set_step(BREW, step_id, **fields))


@pytest.mark.parametrize(
    ("step_id", "fields"),
    [
        (BREW_LEAF, {"water_given_pct": 0.0, "sugars_given_pct": 100.0, "given_spread_pct": None}),
        (BREW_STRAIN, {"way": "paper", "measured_brix": 9.5, "measured_acidity_pct": 0.8}),
        (BREW_FERMENT, {"kind": FermentKind.LACTIC, "gas_lost_g": None, "final_acidity_pct": 0.9}),
        (BREW_PH, {"quantity": Measurable.DENSITY, "value": 0.948, "instrument": "hydrometer"}),
        (BREW_PH, {"quantity": Measurable.PH, "value": 3.4, "uncertainty": 0.05, "gain": 0.0}),
    ],
)
def test_fields_of_a_bench_step_are_set_and_come_back_to_the_byte(
    step_id: int, fields: dict[str, object]
) -> None:
    book = done(HOUSE, set_step(BREW, step_id, **fields))
    step = brew(book, step_id)
    assert {name: getattr(step, name) for name in fields} == fields
    back = {name: getattr(brew(HOUSE, step_id), name) for name in fields}
    assert bytes_of(done(book, set_step(BREW, step_id, **back))) == bytes_of(HOUSE)


def test_an_item_that_is_only_adjusted_with_or_only_infused_is_in_use() -> None:
    book = done(HOUSE, new_raw("malic acid"))
    malic = book.top_id
    book = done(book, set_portions(BREW, BREW_ACID, (Portion(LIME), Portion(malic))))
    with pytest.raises(Refusal, match="malic acid cannot be removed. malic acid is used in leaf brew"):
        done(book, remove_item(malic))


def test_an_item_that_something_is_only_like_is_in_use() -> None:
    book = done(HOUSE, new_raw("grape juice"))
    grape = book.top_id
    book = done(book, set_step(BREW, BREW_SWEET, like_item_id=grape))
    with pytest.raises(Refusal, match="grape juice is used in leaf brew"):
        done(book, remove_item(grape))


def test_a_raw_ingredient_as_which_a_leftover_acts_is_in_use() -> None:
    book = done(HOUSE, new_raw("lemon peel"))
    peel = book.top_id
    book = done(book, set_leftover(CURD, acts_as_id=peel))
    with pytest.raises(Refusal, match="lemon peel is used in leaf brew"):
        done(book, remove_item(peel))
    gone = replace(book, raws={key: raw for key, raw in book.raws.items() if key != peel})
    with pytest.raises(Refusal, match="lemon peel cannot be removed. It is used in leaf brew"):
        done(book, lambda _: gone)
    assert peel not in done(done(book, set_leftover(CURD, acts_as_id=None)), remove_item(peel)).raws


@pytest.mark.parametrize("item_id", [CORDIAL, SPENT, 999])
def test_only_a_raw_ingredient_lends_its_composition(item_id: int) -> None:
    with pytest.raises(Refusal, match="Only a raw ingredient has a composition that can be taken over"):
        done(HOUSE, set_build(BREW, acts_as_id=item_id))
    with pytest.raises(Refusal, match="leaf curd cannot act as"):
        done(HOUSE, set_leftover(CURD, acts_as_id=item_id))
    left_out = done(HOUSE, leave_out(BREW, [BREW_STRAIN]))
    with pytest.raises(Refusal, match="leaf curd cannot act as"):
        done(left_out, set_leftover(CURD, acts_as_id=item_id))


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"price": -1.0}, "The price must be a number"),
        ({"labour_min": -1.0}, "The work in minutes"),
        ({"waste_pct": 101.0}, "The waste in percent"),
        ({"value_per_kg": float("nan")}, "The worth of a kilogram"),
    ],
)
def test_costs_of_a_build_that_cannot_be_are_refused(fields: dict[str, float], words: str) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, set_build(BREW, **fields))


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"tax_pct": 101.0}, "The tax in percent"),
        ({"wanted_pour_cost_pct": 0.0}, "The wanted pour cost in percent must be a number from 1 to 100"),
        ({"labour_per_hour": -1.0}, "An hour of work"),
        ({"service_ends": "25:00"}, "The end of service is a time like 02:00, not “25:00”"),
        ({"service_ends": "2 am"}, "The end of service"),
        ({"shared": (Shared("cellar", ("milk",)),)}, "There is no shared place cellar"),
    ],
)
def test_settings_that_cannot_be_are_refused(fields: dict[str, object], words: str) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, set_settings(**fields))


def test_every_place_that_the_model_names_can_be_shared() -> None:
    places = ("freezer", "fridge", "room", "ice_well", "oven", "tins")
    shared = tuple(Shared(place, ("milk",)) for place in places)
    assert done(HOUSE, set_settings(shared=shared)).settings == Settings(shared=shared)


@pytest.mark.parametrize(
    ("today", "words"),
    [
        (Today(400.0, 0.0, "2026-11-22T02:00"), "The sugars of today's fruit in percent of the table"),
        (Today(0.0, -101.0, "2026-11-22T02:00"), "The acids of today's fruit in percent of the table"),
        (
            Today(5.0, 0.0, "tonight"),
            "Today's lime juice holds until a time like 2026-11-22T02:00, not “tonight”",
        ),
        (Today(5.0), "holds until a time"),
    ],
)
def test_todays_fruit_that_cannot_be_is_refused(today: Today, words: str) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, set_raw(LIME, today=today))


def test_todays_fruit_is_kept_until_its_time() -> None:
    today = Today(-10.0, 12.5, "2026-11-22T02:00", "tasted")
    assert done(HOUSE, set_raw(LIME, today=today)).raws[LIME].today == today


def with_making(**fields: object) -> HouseBook:
    return HOUSE.with_making(structs.replace(HOUSE.makings[MAKING], **fields))


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"date": "in May"}, "The day of a making is written like 2026-11-21, not “in May”"),
        ({"yields": (StepYield(BREW_STRAIN, -1.0, 5.0),)}, "The vessel before a strain in grams"),
        ({"yields": (StepYield(BREW_STRAIN, 5.0, float("nan")),)}, "The weighed liquid in grams"),
    ],
)
def test_a_making_that_cannot_be_is_refused(fields: dict[str, object], words: str) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, lambda _: with_making(**fields))


@pytest.mark.parametrize(
    "fields",
    [
        {"build_id": 999},
        {"yields": (StepYield(BREW_LIME, 5.0, 4.0),)},
        {"yields": (StepYield(PRESS, 5.0, 4.0),)},
    ],
)
def test_a_making_of_what_is_not_there_is_a_fault_of_the_program(fields: dict[str, object]) -> None:
    with pytest.raises(ValueError, match="is of a build or strain that is gone"):
        done(HOUSE, lambda _: with_making(**fields))


def test_a_strain_that_is_removed_takes_its_yields_out_of_the_makings() -> None:
    book = done(HOUSE, remove_steps(BREW, [BREW_STRAIN]))
    assert book.makings == {MAKING: structs.replace(HOUSE.makings[MAKING], yields=())}
    assert done(HOUSE, remove_steps(BREW, [BREW_WASH])).makings is HOUSE.makings


def test_a_part_that_is_removed_takes_its_makings_with_it() -> None:
    book = done(HOUSE, remove_item(BREW))
    assert (book.makings, CURD in book.leftovers) == ({}, False)


def test_a_twist_starts_without_makings_and_copies_the_adjustments() -> None:
    book = done(HOUSE, make_twist(BREW, "leaf brew, sharper"))
    assert book.makings == HOUSE.makings
    twist = book.builds[BREW_TOP_ID + 1]
    copied = [step for step in twist.steps if isinstance(step, Adjust)]
    assert [step.portions for step in copied] == [
        adjustment(HOUSE, step_id).portions for step_id in (BREW_ACID, BREW_SWEET)
    ]
    infusion = next(step for step in twist.steps if isinstance(step, Infuse))
    assert infusion.amount.of == (twist.steps[0].id,)
    curd = next(row for row in book.leftovers.values() if row.build_id == twist.id)
    assert (curd.acts_as_id, curd.value_per_kg) == (LEAF, 2.0)


def test_a_twist_that_takes_its_parents_place_brings_its_makings_and_the_parent_keeps_its_own() -> None:
    book = done(HOUSE, make_twist(BREW, "leaf brew, sharper"))
    twist = book.builds[BREW_TOP_ID + 1]
    strain = next(step for step in twist.steps if isinstance(step, Strain))
    own = Making(id=300, build_id=twist.id, date="2026-11-20", yields=(StepYield(strain.id, 900.0, 780.0),))
    book = done(book, lambda book: book.with_making(own))
    book = done(book, take_parents_place(twist.id))
    assert book.makings == {
        MAKING: HOUSE.makings[MAKING],
        300: structs.replace(own, build_id=BREW, yields=(StepYield(BREW_STRAIN, 900.0, 780.0),)),
    }


def test_yields_of_a_strain_that_the_twist_has_not_are_gone_when_it_takes_the_place() -> None:
    book = done(HOUSE, make_twist(BREW, "leaf brew, unstrained"))
    twist = book.builds[BREW_TOP_ID + 1]
    strain = next(step for step in twist.steps if isinstance(step, Strain))
    book = done(book, remove_steps(twist.id, [strain.id]))
    book = done(book, take_parents_place(twist.id))
    assert book.makings == {MAKING: structs.replace(HOUSE.makings[MAKING], yields=())}


def test_a_twist_that_is_let_go_takes_its_makings_with_it_and_one_that_is_kept_has_them() -> None:
    book = done(HOUSE, make_twist(BREW, "leaf brew, sharper"))
    own = Making(id=300, build_id=BREW_TOP_ID + 1, date="2026-11-20")
    book = done(book, lambda book: book.with_making(own))
    assert done(book, keep_both(BREW_TOP_ID + 1)).makings[300] == own
    assert done(book, let_go(BREW_TOP_ID + 1)).makings == HOUSE.makings


def test_who_is_adjusted_with_a_twist_that_is_let_go_goes_back_to_its_parent() -> None:
    book = done(HOUSE, make_twist(CORDIAL, "cordial, sharper"))
    twist_id = BREW_TOP_ID + 1
    book = done(book, set_portions(BREW, BREW_ACID, (Portion(twist_id, 2.0), Portion(LIME))))
    book = done(book, set_step(BREW, BREW_SWEET, like_item_id=twist_id))
    book = done(book, let_go(twist_id))
    assert adjustment(book, BREW_ACID).portions == (Portion(CORDIAL, 2.0), Portion(LIME))
    assert adjustment(book, BREW_SWEET).like_item_id == CORDIAL


def test_a_part_twisted_for_one_drink_is_adjusted_with_there_alone() -> None:
    step = Adjust(**NEW, goal=Goal.BRIX, value=12.0, portions=(Portion(CORDIAL),))
    book = done(HOUSE, add_step(TIDE, step))
    book = done(book, remove_steps(TIDE, [TIDE_CORDIAL]))
    first = book.top_id + 1
    book = done(book, twist_part_for(TIDE, [CORDIAL], set_amount(CORDIAL, SWEETEN, grams(300.0))))
    assert adjustment(book, BREW_TOP_ID + 1, TIDE).portions == (Portion(first),)
    assert amount_of(book, CORDIAL, SWEETEN).of == (PRESS,)


def test_bench_steps_are_pasted_into_another_part_with_all_they_say() -> None:
    ids = [step.id for step in HOUSE.builds[BREW].steps]
    book = done(HOUSE, paste_steps(copy_steps(HOUSE, BREW, ids), LEATHER))
    pasted = book.builds[LEATHER].steps[-len(ids) :]
    assert [type(step) for step in pasted] == [type(step) for step in HOUSE.builds[BREW].steps]
    infusion, acid, sweet = pasted[2], pasted[6], pasted[7]
    assert isinstance(infusion, Infuse)
    assert isinstance(acid, Adjust)
    assert isinstance(sweet, Adjust)
    assert infusion.amount.of == (pasted[0].id,)
    assert acid.portions == (Portion(LIME, 2.0), Portion(TONIC))
    assert (sweet.value, sweet.like_item_id) == (None, TONIC)
    curd = next(row for row in book.leftovers.values() if row.build_id == LEATHER)
    assert (curd.name, curd.acts_as_id) == ("leaf curd", LEAF)
    assert book.makings == HOUSE.makings


def test_steps_of_another_house_book_find_their_items_by_name() -> None:
    copies = copy_steps(HOUSE, BREW, [BREW_ACID, BREW_SWEET, BREW_STRAIN])
    raws = {key + 500: structs.replace(raw, id=key + 500) for key, raw in HOUSE.raws.items()}
    other = done(HouseBook(raws=raws, top_id=600), lambda book: book.with_build(brew_shell()))
    steps = done(other, paste_steps(copies, BREW)).builds[BREW].steps
    assert [step.portions for step in steps if isinstance(step, Adjust)] == [
        (Portion(LIME + 500, 2.0), Portion(TONIC + 500)),
        (Portion(SUGAR + 500),),
    ]


def brew_shell():  # type: ignore[no-untyped-def]
    """The brew without steps."""
    return structs.replace(HOUSE.builds[BREW], steps=())


def test_what_a_pasted_adjustment_needs_and_the_house_has_not_is_named() -> None:
    copies = copy_steps(HOUSE, BREW, [BREW_ACID])
    with pytest.raises(Refusal, match="This house book has no lime juice and tonic water, or more than one"):
        done(HouseBook(builds={BREW: brew_shell()}, top_id=600), paste_steps(copies, BREW))


def test_the_wash_and_the_measurement_are_put_in_with_ids_of_their_own() -> None:
    book = done(HOUSE, add_step(CORDIAL, Wash(**NEW)))
    book = done(book, add_step(CORDIAL, Measurement(**NEW, quantity=Measurable.PH, value=3.4, gain=0.5)))
    wash, measurement = book.builds[CORDIAL].steps[-2:]
    assert (wash.id, measurement.id) == (BREW_TOP_ID + 1, BREW_TOP_ID + 2)
    assert isinstance(measurement, Measurement)


def test_a_line_with_a_share_of_an_infusion_needs_it_above() -> None:
    book = done(HOUSE, set_amount(BREW, BREW_LEAF, Amount(5.0, "g")))
    assert amount_of(book, BREW, BREW_LEAF) == grams(5.0)
    with pytest.raises(
        Refusal, match="lime juice cannot be removed. The amount of sorrel leaf is a share of it"
    ):
        done(HOUSE, remove_steps(BREW, [BREW_LIME]))
    freed = done(HOUSE, remove_steps(BREW, [BREW_LIME], {BREW_LEAF: 45.0}))
    assert amount_of(freed, BREW, BREW_LEAF) == grams(45.0)


def test_a_garnish_and_a_top_do_not_know_what_was_bought() -> None:
    with pytest.raises(TypeError, match="bought_g"):
        done(HOUSE, set_step(SIGNAL, SIGNAL_LEAF, bought_g=5.0))
    assert isinstance(
        done(HOUSE, set_step(SIGNAL, SIGNAL_LIME, bought_g=20.0)).step(SIGNAL, SIGNAL_LIME), Add
    )
    assert GIN in HOUSE.raws
