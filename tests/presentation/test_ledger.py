"""Where the mass went: the ledger closes to the gram, and says what became of what was bought."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from msgspec import structs

from tests.engine.any_build import any_build
from tests.engine.kitchen import (
    CORDIAL,
    LEMON,
    PEAR,
    SALT,
    SOUR,
    SPENT,
    SUGAR,
    WATER,
    Vessel,
    house,
)
from tests.presentation import demo
from washline.chemistry.components import LACTIC
from washline.engine.workings import Workings
from washline.model.amount import Amount, grams
from washline.model.book import HouseBook
from washline.model.item import Build, BuildKind, Leftover
from washline.model.step import Add, FermentKind, Goal, Measurable, Weight
from washline.presentation.ledger import EMPTY, Account, Ledger, ledger_of
from washline.presentation.ledger_vessel import GROUPS, Fate, Origin

PASTE, CRUMB, PULP, DRINK = 301, 302, 303, 304


def told(book: HouseBook, build_id: int, *, follows: bool = True) -> Ledger:
    workings = Workings(book)
    return ledger_of(workings.trace(build_id), workings, follows=follows)


def told_demo(name: str, *, follows: bool = True) -> Ledger:
    one = demo.build(name)
    return ledger_of(demo.workings().trace(one.id), demo.workings(), follows=follows)


def by_fate(ledger: Ledger) -> dict[Fate, float]:
    found: dict[Fate, float] = {}
    for row in ledger.outs:
        found[Fate(row.group)] = found.get(Fate(row.group), 0.0) + row.grams
    return found


def named(rows: tuple[Account, ...], words: str) -> Account:
    return next(row for row in rows if words in row.name)


def with_part(vessel: Vessel, name: str, **fields: object) -> HouseBook:
    return house().with_build(vessel.build(BuildKind.PART, name=name, glass=None, **fields))


# It closes


@given(any_build())
@settings(max_examples=120)
def test_all_that_went_in_came_out(build: Build) -> None:
    ledger = told(house().with_build(build), build.id)
    if not ledger.problem:
        assert ledger.in_less_out_g == pytest.approx(0.0, abs=1e-6 * max(1.0, ledger.in_g))


@given(any_build())
@settings(max_examples=120)
def test_every_component_closes_but_for_what_is_said_to_have_turned(build: Build) -> None:
    ledger = told(house().with_build(build), build.id)
    for index, (_name, rows) in enumerate(GROUPS):
        turned = sum(one.gained_g[index] for one in ledger.turned)
        open_g = ledger.all_in.of(rows) + turned - ledger.all_out.of(rows)
        assert open_g == pytest.approx(0.0, abs=1e-5 * max(1.0, ledger.in_g))


@given(any_build())
@settings(max_examples=60)
def test_no_more_is_used_than_was_bought(build: Build) -> None:
    used = told(house().with_build(build), build.id).used
    if used is not None:
        assert -1e-6 <= used.pct <= 100.0 + 1e-6


def test_a_build_without_lines_is_empty() -> None:
    ledger = told(house().with_build(Vessel(PASTE).build(BuildKind.PART)), PASTE)
    assert ledger.is_empty
    assert ledger.problem == EMPTY


def test_what_cannot_be_computed_says_why() -> None:
    ledger = told(house().with_build(Vessel(PASTE).add(999, 50.0).build(BuildKind.PART)), PASTE)
    assert ledger.problem.startswith("It cannot be told where the mass went")
    assert not ledger.is_empty
    assert ledger.ins == ledger.outs == ()


# Of a part, with the figures of DEMO.md (sections 1.1, 1.2, 1.11), worked out there by hand


def test_the_cordial_and_its_leather_add_up_as_in_the_demo() -> None:
    fates = by_fate(told_demo("pear-sorrel cordial"))
    # 905 + 380.1 in the bottle, 208.0 of leather; 287.2 g water left, 14.0 on the filter.
    assert fates[Fate.MAIN] == pytest.approx(1285.1 + 208.0, abs=0.05)
    assert fates[Fate.EVAPORATED] == pytest.approx(287.2, abs=0.05)
    assert fates[Fate.LOST] == pytest.approx(14.0, abs=0.05)


def test_leftovers_that_are_not_followed_are_told_with_who_takes_them() -> None:
    ledger = told_demo("pear-sorrel cordial", follows=False)
    row = named(ledger.outs, "spent pear")
    assert row.name == "spent pear, into pear leather"
    assert row.group is Fate.REUSED
    assert row.grams == pytest.approx(405.9, abs=0.01)
    assert ledger.followed == ()


def test_what_was_bought_and_cut_away_is_thrown_away_and_its_matter_is_not_known() -> None:
    # DEMO: 1,333 g of pear bought for 1,200 g, 129 g of sorrel for 90 g.
    ledger = told_demo("pear-sorrel cordial")
    trimmed = named(ledger.outs, "trimmed away")
    assert named(ledger.ins, "Pear").grams == pytest.approx(1333.0, abs=0.5)
    assert trimmed.group is Fate.THROWN
    assert trimmed.grams == pytest.approx(133.0 + 39.0, abs=1.0)
    assert trimmed.matter is None


def test_a_leftover_of_which_some_is_taken_is_kept_for_the_rest() -> None:
    # DEMO: 179.1 g of apple curd a batch, the lace takes 20 g.
    row = named(told_demo("sharp apple").outs, "apple curd")
    assert row.group is Fate.KEPT
    assert row.grams == pytest.approx(159.1, abs=0.01)
    assert row.name == "apple curd, what is left of it"


def test_a_leftover_that_nobody_takes_says_so() -> None:
    assert named(told_demo("rosehip syrup").outs, "spent hips").name == "spent hips, nobody takes it"


def test_a_batch_goes_into_whole_pours_and_the_rest_stays_in_the_bottle() -> None:
    # DEMO: 48 pours of 22.5 ml of cordial, 48 pieces of leather of 4.3 g.
    rows = told_demo("pear-sorrel cordial").outs
    assert (
        named(rows, "48 × 22.5").name
        == "pear-sorrel cordial, in 48 × 22.5\u202fml, for Pear Signal or bay twist"
    )
    assert named(rows, "left in the bottle").grams == pytest.approx(14.6, abs=1.1)
    assert named(rows, "pear leather, in").name == "pear leather, in 48 × Quince Ferry"


def test_used_of_bought_counts_the_bottle_and_the_leftovers_that_are_taken() -> None:
    used = told_demo("sharp apple").used
    assert used is not None
    # 910.1 of 1,102.2 g in the bottle, 20 g of curd in the lace; all of it was bought.
    assert used.main_pct == pytest.approx(100 * 910.1 / 1102.2, abs=0.01)
    assert used.leftover_pct == pytest.approx(100 * 20 / 1102.2, abs=0.01)
    assert used.pct == pytest.approx(used.main_pct + used.leftover_pct)


# Of a drink


def test_a_drink_is_told_through_its_parts_by_the_share_of_their_batch() -> None:
    ledger = told_demo("Pear Signal")
    # DEMO: 26.5 g of a batch of 1,285.1 g; 380.1 g of sugar go into it.
    sugar = named(ledger.ins, "Sugar, white, granulated, in pear-sorrel cordial")
    assert sugar.grams == pytest.approx(380.1 * 26.47 / 1285.1, abs=0.01)
    assert len(ledger.through) == 2
    assert {row.group for row in ledger.ins} == {Origin.BOUGHT, Origin.ICE}


def test_ice_counts_as_going_in_and_is_not_bought() -> None:
    ledger = told_demo("Pear Signal")
    ice = named(ledger.ins, "water from ice")
    pear = demo.workings().trace(demo.build("Pear Signal").id)
    melted_g = next(step.chill.melted_g for step in pear.steps if step.chill is not None)
    assert (ice.group, ice.grams) == (Origin.ICE, pytest.approx(melted_g))
    # DEMO: about 10 g melt on the cube.
    assert ice.grams == pytest.approx(10.0, abs=0.6)
    bought = sum(row.grams for row in ledger.ins if row.group is Origin.BOUGHT)
    assert ledger.used is not None
    assert ledger.used.bought_g == pytest.approx(bought)


def test_what_sits_on_the_glass_and_the_gas_are_told_apart() -> None:
    fates = by_fate(told_demo("Pear Signal"))
    assert fates[Fate.ON_GLASS] == pytest.approx(0.6)
    assert 0.0 < fates[Fate.GAS] < 0.5


def test_a_leftover_in_a_part_of_a_drink_goes_no_further_back() -> None:
    row = named(told_demo("Quince Ferry").ins, "spent pear")
    assert row.group is Origin.LEFTOVER
    assert row.name == "spent pear, in pear leather"


def test_a_part_poured_twice_is_told_once() -> None:
    drink = Vessel(DRINK).add(CORDIAL, 20.0).add(WATER, 50.0).add(CORDIAL, 10.0).build()
    ledger = told(house().with_build(drink), DRINK)
    assert sum("pear, as bought" in row.name for row in ledger.ins) == 1
    assert ledger.in_less_out_g == pytest.approx(0.0, abs=1e-9)


# What does not close by itself


def test_a_ferment_turns_sugar_into_acid_and_says_so() -> None:
    vessel = Vessel(PASTE).add(PEAR, 600.0).add(WATER, 1000.0).add(SALT, 32.0)
    vessel.ferment(kind=FermentKind.LACTIC, gas_lost_g=4.0, final_acidity_pct=0.7)
    ledger = told(with_part(vessel, "brine"), PASTE)
    closings = {one.name: one for one in ledger.closings}
    assert closings["sugars"].grams > 1.0
    assert closings["acids"].grams < -1.0
    assert closings["acids"].why == ("turned by the ferment",)
    assert by_fate(ledger)[Fate.GAS] == pytest.approx(4.0)
    assert float(ledger.all_out.masses[LACTIC]) > 1.0


def test_a_weighing_that_finds_less_is_a_difference_of_the_measurement() -> None:
    vessel = Vessel(PASTE).add(SUGAR, 200.0).add(WATER, 300.0).measure(Measurable.MASS, 480.0)
    ledger = told(with_part(vessel, "syrup"), PASTE)
    assert by_fate(ledger)[Fate.DIFFERENCE] == pytest.approx(20.0)
    assert by_fate(ledger)[Fate.MAIN] == pytest.approx(480.0)
    assert ledger.closings == ()


def test_a_weighing_that_finds_more_is_a_difference_below_zero() -> None:
    vessel = Vessel(PASTE).add(SUGAR, 200.0).add(WATER, 300.0).measure(Measurable.MASS, 510.0)
    ledger = told(with_part(vessel, "syrup"), PASTE)
    assert by_fate(ledger)[Fate.DIFFERENCE] == pytest.approx(-10.0)
    assert ledger.in_less_out_g == pytest.approx(0.0, abs=1e-9)


def test_a_measured_acidity_says_what_it_corrected() -> None:
    vessel = Vessel(PASTE).add(LEMON, 500.0).measure(Measurable.ACIDITY, 5.5)
    closings = {one.name: one for one in told(with_part(vessel, "juice"), PASTE).closings}
    assert closings["acids"].grams < 0.0 < closings["water"].grams
    assert closings["acids"].why == ("corrected by a measurement",)


def test_an_output_that_acts_as_an_ingredient_closes_in_grams_and_not_in_components() -> None:
    # Breaking down: 1,000 g of pears give a liquid with the composition of the row "lemon juice".
    vessel = Vessel(PASTE).add(PEAR, 900.0).strain(weighed_g=400.0, leftover_id=PULP)
    book = with_part(vessel, "juice", acts_as_id=LEMON)
    ledger = told(book.with_leftover(Leftover(id=PULP, build_id=PASTE, name="pulp")), PASTE)
    assert ledger.in_less_out_g == pytest.approx(0.0, abs=1e-9)
    # 5 % of 400 g: the row's citric acid, where the pears brought 0.2 % malic of 900 g.
    main = named(ledger.outs, "juice, in the bottle")
    assert main.matter is not None
    assert main.matter.acids_g == pytest.approx(20.0)
    acids = next(one for one in ledger.closings if one.name == "acids")
    assert acids.why == ("juice has the composition of lemon juice",)


def test_an_adjustment_is_told_by_what_it_found() -> None:
    vessel = Vessel(PASTE).add(WATER, 500.0).adjust(Goal.BRIX, 50.0, SUGAR)
    row = named(told(with_part(vessel, "syrup"), PASTE).ins, "sugar")
    # s / (500 + s) = 0.5
    assert row.grams == pytest.approx(500.0, abs=0.1)


# Who takes what


def test_two_parts_that_need_more_than_there_is_share_it() -> None:
    book = house()
    for build_id, amount in ((PASTE, 300.0), (CRUMB, 100.0)):
        part = Vessel(build_id).add(SPENT, amount).build(BuildKind.PART, name=f"part {build_id}")
        book = book.with_build(part)
    ledger = told(book, CORDIAL, follows=False)
    left = 1050.0 - 700.0
    rows = [row for row in ledger.outs if row.group is Fate.REUSED]
    assert [row.grams for row in rows] == pytest.approx([left * 0.75, left * 0.25])
    assert Fate.KEPT not in by_fate(ledger)


def test_a_part_that_takes_two_leftovers_is_followed_once_and_all_closes() -> None:
    vessel = (
        Vessel(PASTE).add(PEAR, 500.0).take(50.0, leftover_id=PULP).strain(weighed_g=200.0, leftover_id=CRUMB)
    )
    book = with_part(vessel, "juice")
    for item_id in (PULP, CRUMB):
        book = book.with_leftover(Leftover(id=item_id, build_id=PASTE, name=f"leftover {item_id}"))
    both = Vessel(DRINK).add(PULP, 50.0).add(CRUMB, 100.0).dry(final_pct=40.0)
    ledger = told(book.with_build(both.build(BuildKind.PART, name="crisp")), PASTE)
    assert ledger.followed == (DRINK,)
    assert ledger.in_less_out_g == pytest.approx(0.0, abs=1e-9)
    assert named(ledger.ins, f"leftover {CRUMB}").group is Origin.LEFTOVER


def test_what_is_strained_off_without_a_name_is_thrown_away() -> None:
    vessel = Vessel(PASTE).add(PEAR, 500.0).strain(weighed_g=300.0)
    row = named(told(with_part(vessel, "juice"), PASTE).outs, "poured away")
    assert (row.group, row.grams) == (Fate.THROWN, pytest.approx(200.0))


def test_a_line_weighed_as_bought_goes_in_as_bought() -> None:
    # The pear's edible yield is 0.90.
    vessel = Vessel(PASTE).add(PEAR, 200.0, weight=Weight.BOUGHT)
    ledger = told(with_part(vessel, "pear"), PASTE)
    assert named(ledger.ins, "pear, as bought").grams == pytest.approx(200.0)
    assert by_fate(ledger)[Fate.THROWN] == pytest.approx(20.0)


def test_a_line_that_is_left_out_is_not_in_the_ledger() -> None:
    build = Vessel(PASTE).add(SUGAR, 100.0).add(WATER, 100.0).build(BuildKind.PART)
    steps = (build.steps[0], structs.replace(build.steps[1], left_out=True))
    ledger = told(house().with_build(structs.replace(build, steps=steps)), PASTE)
    assert [row.name for row in ledger.ins] == ["sugar"]


def test_ten_times_the_batch_is_ten_times_the_ledger_and_the_same_percent() -> None:
    def batch(factor: float) -> Ledger:
        vessel = Vessel(PASTE).add(PEAR, 100.0 * factor).add(SUGAR, 50.0 * factor)
        vessel.strain(expected_pct=70.0)
        return told(with_part(vessel, "syrup"), PASTE)

    one, ten = batch(1.0), batch(10.0)
    assert ten.in_g == pytest.approx(10.0 * one.in_g)
    assert one.used is not None
    assert ten.used is not None
    assert ten.used.pct == pytest.approx(one.used.pct)


def test_a_preview_is_told_as_it_would_be() -> None:
    workings = Workings(house())
    book = workings.book
    sour = book.builds[SOUR]
    line = sour.steps[0]
    assert isinstance(line, Add)
    steps = (structs.replace(line, amount=grams(99.0)), *sour.steps[1:])
    changed = replace(book, builds={**book.builds, SOUR: structs.replace(sour, steps=steps)})
    ledger = ledger_of(workings.trace(SOUR, changed), workings)
    assert named(ledger.ins, "spirit").grams == pytest.approx(99.0)


def test_an_amount_of_pieces_is_told_in_grams() -> None:
    build = Vessel(PASTE).build(BuildKind.PART)
    line = Add(id=1, build_id=PASTE, place=1.0, item_id=PEAR, amount=Amount(2.0, "piece"))
    ledger = told(house().with_build(structs.replace(build, steps=(line,))), PASTE)
    assert ledger.ins[0].grams >= 360.0


def test_a_garnish_that_cannot_be_computed_is_not_counted_and_said() -> None:
    drink = Vessel(DRINK).add(WATER, 50.0).garnish(999, 1.0).build()
    ledger = told(house().with_build(drink), DRINK)
    assert ledger.in_g == pytest.approx(50.0)
    assert len(ledger.uncounted) == 1


@pytest.mark.parametrize("is_drink", [False, True])
def test_a_leftover_that_acts_as_an_ingredient_is_taken_in_as_that(is_drink: bool) -> None:
    vessel = Vessel(PASTE).add(PEAR, 900.0).take(100.0, leftover_id=PULP)
    book = with_part(vessel, "pears")
    book = book.with_leftover(Leftover(id=PULP, build_id=PASTE, name="our lemon", acts_as_id=LEMON))
    taker = (
        Vessel(CRUMB)
        .add(PULP, 60.0)
        .add(SUGAR, 60.0)
        .add(PASTE, 10.0)
        .build(BuildKind.DRINK if is_drink else BuildKind.PART)
    )
    ledger = told(book.with_build(taker), CRUMB if is_drink else PASTE)
    assert ledger.in_less_out_g == pytest.approx(0.0, abs=1e-9)
    for index, (_name, rows) in enumerate(GROUPS):
        turned = sum(one.gained_g[index] for one in ledger.turned)
        assert ledger.all_in.of(rows) + turned - ledger.all_out.of(rows) == pytest.approx(0.0, abs=1e-6)
    acids = next(one for one in ledger.closings if one.name == "acids")
    assert acids.why == ("our lemon has the composition of lemon juice",)
