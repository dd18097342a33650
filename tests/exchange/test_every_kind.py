"""Every kind of step and every field goes through a build file and comes back; files once written stay readable."""

from dataclasses import replace
from pathlib import Path
from typing import Any, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import Struct, structs

from tests.exchange import every_kind
from washline.chemistry.components import COMPONENTS
from washline.exchange import house_rows, kit_rows, rows
from washline.exchange.build_file import Choice, adoption, read_build, resolve, settled, write_build
from washline.exchange.rows import AnyStepRow, CompositionRow
from washline.exchange.rows_to_model import STEPS
from washline.model import house, item, step, target
from washline.model.amount import Amount, Basis, Heft
from washline.model.book import HouseBook
from washline.model.house import JointCost, Settings
from washline.model.item import Build
from washline.model.step import Add, Adjust, AnyStep

FIRST = Path(__file__).parent / "files" / "every-kind-1.build.json"
SECOND = Path(__file__).parent / "files" / "every-kind-2.build.json"
FROZEN = Path(__file__).parent / "files" / "every-kind-3.build.json"


def without_ids(build: Build) -> list[Any]:
    """A build's steps with ids replaced by what they stand for within the build."""
    numbers = {one.id: number for number, one in enumerate(build.steps)}
    result = []
    for number, one in enumerate(build.steps):
        plain = structs.asdict(one) | {"id": number, "build_id": 0, "place": 0.0}
        for key in ("item_id", "leftover_id", "like_item_id"):
            plain.pop(key, None)
        plain["portions"] = [portion.parts for portion in plain.get("portions", ())]
        amount = plain.get("amount")
        if isinstance(amount, Amount):
            plain["amount"] = structs.replace(amount, of=tuple(numbers[of] for of in amount.of))
        result.append((type(one), plain))
    return result


@pytest.fixture(scope="module")
def book() -> HouseBook:
    return every_kind.house()


def empty() -> HouseBook:
    settings = structs.replace(every_kind.house().settings, house_name="Another")
    return HouseBook(settings=settings, top_id=500)


def older() -> HouseBook:
    """An empty house that counts as the houses of older files did."""
    settings = Settings(
        house_name="Another", currency="GBP", oz_ml=28.4130625, room_c=19.0, joint_cost=JointCost.VALUE
    )
    return HouseBook(settings=settings, top_id=500)


def of_this_version(data: bytes) -> bytes:
    """A file of an older version that says it is of version 3."""
    old = b'"version": 1,' if b'"version": 1,' in data else b'"version": 2,'
    assert data.count(old) == 1
    return data.replace(old, b'"version": 3,')


def test_a_file_of_version_1_stays_readable_and_means_what_it_meant() -> None:
    """The frozen file was written by version 1; what is written of the same house today differs in the version alone."""
    book = every_kind.first_house()
    assert write_build(book, every_kind.DRINK) == of_this_version(FIRST.read_bytes())


def test_a_file_of_version_1_goes_into_an_empty_house_and_comes_out_as_it_was() -> None:
    settings = structs.replace(older().settings, joint_cost=JointCost.MAIN)
    plain = older().with_settings(settings)
    draft = read_build(FIRST.read_bytes())
    assert draft.problems == ()
    adopted = adoption(resolve(draft, plain), plain)
    assert write_build(adopted.book, adopted.build_id) == of_this_version(FIRST.read_bytes())
    drink = adopted.book.builds[adopted.build_id]
    assert without_ids(drink) == without_ids(every_kind.first_house().builds[every_kind.DRINK])


def test_a_file_of_version_2_stays_readable_and_means_what_it_meant() -> None:
    """The frozen file was written by version 2; what is written of the same house today differs in the version alone."""
    book = every_kind.second_house()
    assert write_build(book, every_kind.DRINK) == of_this_version(SECOND.read_bytes())


def test_a_file_of_version_2_goes_into_an_empty_house_and_comes_out_as_it_was() -> None:
    draft = read_build(SECOND.read_bytes())
    assert draft.problems == ()
    adopted = adoption(resolve(draft, older()), older())
    assert write_build(adopted.book, adopted.build_id) == of_this_version(SECOND.read_bytes())


def test_a_file_of_version_2_raises_no_doubt_about_what_it_could_not_say(book: HouseBook) -> None:
    """Methods as heat, what foams and how foam is counted: the house's own stand."""
    drink = every_kind.second_house().builds[every_kind.DRINK]
    ours = book.with_build(drink)
    resolution = resolve(read_build(SECOND.read_bytes()), ours)
    assert (resolution.doubts, resolution.new, resolution.notes) == ((), (), ())
    assert adoption(resolution, ours).book == ours


def test_ices_and_vessels_that_the_house_has_not_got_come_with_the_build() -> None:
    adopted = adoption(resolve(read_build(FROZEN.read_bytes()), empty()), empty()).book
    assert (adopted.ices, adopted.vessels) == (every_kind.house().ices, every_kind.house().vessels)


def test_a_house_keeps_its_own_ice_of_that_name_and_is_told(book: HouseBook) -> None:
    ours = structs.replace(book.ices["pebble"], slug="ours", pace=2.0)
    other = replace(book, ices={"ours": ours})
    resolution = resolve(read_build(FROZEN.read_bytes()), other)
    assert resolution.notes == (
        "Pebble has a pace of 2.5 at -0.5 °C in the file and of 2 at -0.5 °C in this house, which is kept.",
    )
    assert adoption(resolution, other).book.ices == {"ours": ours}


def test_a_vessel_rated_otherwise_is_a_doubt_that_both_answers_settle(book: HouseBook) -> None:
    weaker = structs.replace(book.vessels["bottle"], rated_kpa=300.0)
    other = replace(book, vessels={**book.vessels, "bottle": weaker}, builds={})
    other = replace(other, leftovers={}, makings={})
    (doubt,) = resolve(read_build(FROZEN.read_bytes()), other).doubts
    assert doubt.words == "Vessel “Bottle” is not the same here as in the file."
    found = {}
    for choice in Choice:
        resolution = settled(resolve(read_build(FROZEN.read_bytes()), other), other, doubt.key, choice)
        adopted = adoption(resolution, other)
        (gas,) = (
            one for one in adopted.book.builds[adopted.build_id].steps if isinstance(one, step.Carbonate)
        )
        found[choice] = adopted.book.vessels[gas.vessel].rated_kpa
    assert found == {Choice.OURS: 300.0, Choice.THEIRS: 600.0}


def test_how_a_drink_is_made_ahead_raises_no_doubt(book: HouseBook) -> None:
    drink = structs.replace(book.builds[every_kind.DRINK], batch=None)
    other = book.with_build(drink)
    assert resolve(read_build(FROZEN.read_bytes()), other).doubts == ()


def test_a_vessel_that_the_file_does_not_hold_is_listed() -> None:
    data = FROZEN.read_bytes().replace(b'"slug": "bottle"', b'"slug": "flask"')
    problems = [str(one) for one in read_build(data).problems]
    assert problems == ["$.builds[2].steps[12].vessel: The vessel “bottle” is not in this file."]


def test_a_file_written_by_version_3_is_still_written_so(book: HouseBook) -> None:
    assert write_build(book, every_kind.DRINK) == FROZEN.read_bytes()


def test_a_file_of_version_3_goes_into_an_empty_house_and_comes_out_unchanged() -> None:
    data = FROZEN.read_bytes()
    draft = read_build(data)
    assert draft.problems == ()
    adopted = adoption(resolve(draft, empty()), empty())
    assert write_build(adopted.book, adopted.build_id) == data


def test_makings_come_back_with_their_yields_on_the_right_strain() -> None:
    adopted = adoption(resolve(read_build(FROZEN.read_bytes()), empty()), empty()).book
    brew = next(build for build in adopted.builds.values() if build.name == "milk brew")
    strain = next(one for one in brew.steps if isinstance(one, step.Strain))
    assert [structs.replace(making, id=0) for making in adopted.makings.values()] == [
        item.Making(
            id=0, build_id=brew.id, date=date, yields=(item.StepYield(strain.id, 552.0, g),), note="cloudy"
        )
        for date, g in (("2026-11-02", 425.5), ("2026-11-16", 431.0))
    ]
    assert max(adopted.makings) == adopted.top_id
    assert not set(adopted.makings) & {one.id for build in adopted.builds.values() for one in build.steps}


def test_what_an_adjustment_takes_in_and_is_like_leads_to_the_right_items() -> None:
    adopted = adoption(resolve(read_build(FROZEN.read_bytes()), empty()), empty()).book
    brew = next(build for build in adopted.builds.values() if build.name == "milk brew")
    acid, sweet = (one for one in brew.steps if isinstance(one, Adjust))
    named = {
        row.id: row.name
        for rows in (adopted.raws, adopted.builds, adopted.leftovers)
        for row in rows.values()
    }
    assert [named[portion.item_id] for portion in acid.portions] == ["Cider, dry, 5.0 %", "spent leaves"]
    assert (acid.like_item_id, named[sweet.like_item_id or 0]) == (None, "fennel cider syrup")


def test_a_build_and_a_leftover_act_as_the_same_raw_ingredient_after_the_journey() -> None:
    adopted = adoption(resolve(read_build(FROZEN.read_bytes()), empty()), empty()).book
    (raw,) = adopted.raws
    brew = next(build for build in adopted.builds.values() if build.name == "milk brew")
    curd = next(one for one in adopted.leftovers.values() if one.name == "curd")
    assert (brew.acts_as_id, curd.acts_as_id) == (raw, raw)


def test_todays_fruit_stays_at_home(book: HouseBook) -> None:
    raw = structs.replace(
        book.raws[every_kind.RAW], today=item.Today(10.0, -5.0, "2026-11-22T02:00", "tasted")
    )
    assert write_build(book.with_raw(raw), every_kind.DRINK) == FROZEN.read_bytes()


def test_when_it_was_made_and_what_is_asked_for_it_raise_no_doubt(book: HouseBook) -> None:
    brew = structs.replace(book.builds[every_kind.BREW], price=6.0, labour_min=None, waste_pct=9.0)
    other = replace(book.with_build(brew), makings={})
    resolution = resolve(read_build(FROZEN.read_bytes()), other)
    assert (resolution.doubts, resolution.new) == ((), ())
    assert adoption(resolution, other).book == other


def test_every_kind_of_step_comes_back_as_it_was(book: HouseBook) -> None:
    adopted = adoption(resolve(read_build(FROZEN.read_bytes()), empty()), empty())
    by_name = {build.name: build for build in adopted.book.builds.values()}
    for build in book.builds.values():
        assert without_ids(by_name[build.name]) == without_ids(build)


def test_the_sample_holds_every_kind_of_step(book: HouseBook) -> None:
    kinds = {type(one) for build in book.builds.values() for one in build.steps}
    assert kinds == set(get_args(AnyStep))


def test_the_sample_holds_every_basis(book: HouseBook) -> None:
    steps = [one for build in book.builds.values() for one in build.steps]
    assert {one.amount.basis for one in steps if isinstance(one, step.Line | step.Take)} == set(Basis)


def test_the_fields_of_builds_leftovers_and_raw_ingredients_come_back(book: HouseBook) -> None:
    adopted = adoption(resolve(read_build(FROZEN.read_bytes()), empty()), empty()).book
    (raw,) = adopted.raws.values()
    assert structs.replace(raw, id=every_kind.RAW) == book.raws[every_kind.RAW]
    leavings = {one.name: bare(one) for one in adopted.leftovers.values()}
    assert leavings == {one.name: bare(one) for one in book.leftovers.values()}
    builds = {one.name: bare(one) for one in adopted.builds.values()}
    assert builds == {one.name: bare(one) for one in book.builds.values()}
    (found,) = adopted.targets.values()
    assert found.aims == book.targets[every_kind.TARGET].aims
    assert (adopted.glasses, adopted.methods, adopted.measures) == (book.glasses, book.methods, book.measures)


def bare(row: Any) -> Any:
    """A build or leftover without ids and steps."""
    ids = {"id", "build_id", "acts_as_id", "target_id", "parent_id"} & set(row.__struct_fields__)
    steps = {"steps": ()} if isinstance(row, Build) else {}
    return structs.replace(row, **steps, **dict.fromkeys(ids, 0))


def test_references_lead_to_the_right_items_after_the_journey() -> None:
    adopted = adoption(resolve(read_build(FROZEN.read_bytes()), empty()), empty())
    drink = adopted.book.builds[adopted.build_id]
    names = [
        getattr(adopted.book.item(one.item_id), "name", "")
        for one in drink.steps
        if isinstance(one, step.Line)
    ]
    assert names == [
        "fennel cider syrup",
        "spent leaves",
        "milk brew",
        "Cider, dry, 5.0 %",
        "Cider, dry, 5.0 %",
        "Cider, dry, 5.0 %",
        "stewed fennel",
        "Cider, dry, 5.0 %",
        "Cider, dry, 5.0 %",
        "stewed fennel",
    ]


def test_what_is_new_for_an_empty_house_is_named() -> None:
    resolution = resolve(read_build(FROZEN.read_bytes()), empty())
    assert resolution.new == (
        "Cider, dry, 5.0 %",
        "stirred, spirit-forward",
        "Rocks glass, single",
        "Stir on ice, strain",
        "Bottle",
        "Jar",
        "Pebble",
        "Dash",
        "fennel cider syrup",
        "milk brew",
        "Fennel Rye",
    )
    assert (resolution.reused, resolution.doubts, resolution.notes) == ((), (), ())


MODEL_TO_ROW: list[tuple[type[Struct], type[Struct], set[str]]] = [
    (item.RawIngredient, rows.RawRow, {"id", "today"}),
    (item.Price, rows.PriceRow, set()),
    (item.Leftover, rows.LeftoverRow, {"id", "build_id", "acts_as_id"}),
    (item.Making, rows.MakingRow, {"id", "build_id"}),
    (item.StepYield, rows.StepYieldRow, {"step_id"}),
    (item.Sign, rows.SignRow, set()),
    (item.Today, house_rows.TodayRow, set()),
    (item.Build, rows.BuildRow, {"id", "target_id", "parent_id", "acts_as_id", "is_tried"}),
    (target.Target, rows.TargetRow, {"id"}),
    (target.Aim, rows.AimRow, set()),
    (house.Glass, kit_rows.GlassRow, set()),
    (house.Method, kit_rows.MethodRow, set()),
    (house.Measure, kit_rows.MeasureRow, set()),
    (house.Shared, house_rows.SharedRow, set()),
    (house.Ice, kit_rows.IceRow, set()),
    (house.Vessel, kit_rows.VesselRow, set()),
    (item.Batch, rows.BatchRow, set()),
    (house.Swap, house_rows.SwapRow, {"from_id", "to_id"}),
    (step.Portion, rows.PortionRow, {"item_id"}),
    (Amount, rows.AmountRow, set()),
    *(
        (kind, row, {"id", "build_id", "place", "item_id", "leftover_id", "like_item_id"})
        for row, kind in STEPS.items()
    ),
]


@pytest.mark.parametrize("model, row, elsewhere", MODEL_TO_ROW)
def test_no_field_of_the_model_is_forgotten_by_the_file(
    model: type[Struct], row: type[Struct], elsewhere: set[str]
) -> None:
    """``elsewhere`` are ids, which a file says by keys, the place, which it says by the order, and what is a house's own
    business: whether it is still trying a twist, and today's fruit."""
    assert set(model.__struct_fields__) - elsewhere <= set(row.__struct_fields__)


def test_every_kind_of_step_has_its_row() -> None:
    assert set(STEPS) == set(get_args(AnyStepRow))
    assert set(STEPS.values()) == set(get_args(AnyStep))


def test_a_composition_has_the_components_of_the_chemistry_in_their_order() -> None:
    assert CompositionRow.__struct_fields__ == COMPONENTS


def test_every_setting_that_moves_a_reading_is_in_the_file() -> None:
    moves_none = {
        "tax_pct", "wanted_pour_cost_pct", "labour_per_hour", "shared", "service_ends", "wording_law", "swaps",
        "salt_batch_pct", "bitters_batch_pct",
    }  # fmt: skip
    elsewhere = {"house_name", "is_demo", "alcohol_units", "paper_size", *moves_none}
    assert set(Settings.__struct_fields__) - elsewhere == set(kit_rows.CountingRow.__struct_fields__)


numbers = st.floats(0.0, 1e6)


@given(
    st.lists(st.tuples(numbers, st.sampled_from(["g", "ml", "dash", "drop", "oz"]), st.text(max_size=12)), min_size=1,
             max_size=6),
    st.text(min_size=1, max_size=30).filter(lambda text: text.strip() != ""),
)  # fmt: skip
def test_any_amounts_and_words_survive_the_journey(lines: list[tuple[float, str, str]], name: str) -> None:
    steps = tuple(
        Add(
            id=100 + n,
            build_id=50,
            place=float(n),
            item_id=every_kind.RAW,
            amount=Amount(number, unit),
            words=words,
        )
        for n, (number, unit, words) in enumerate(lines)
    )
    drink = structs.replace(every_kind.house().builds[every_kind.DRINK], name=name, steps=steps)
    book = replace(every_kind.house(), builds={drink.id: drink}, leftovers={})
    data = write_build(book, drink.id)
    draft = read_build(data)
    assert draft.problems == ()
    adopted = adoption(resolve(draft, empty()), empty())
    assert without_ids(adopted.book.builds[adopted.build_id]) == without_ids(drink)
    assert write_build(adopted.book, adopted.build_id) == data


percents = st.none() | st.floats(0.0, 100.0)
masses = st.none() | st.floats(0.0, 1e9)
celsius = st.none() | st.floats(-100.0, 500.0)
texts = st.text(max_size=12)
AT = {"id": st.just(100), "build_id": st.just(every_kind.DRINK), "place": st.just(1.0), "words": texts}
WORK = {**AT, "duration_s": masses, "left_out": st.booleans()}
LINE = {
    **AT,
    "item_id": st.just(every_kind.RAW),
    "amount": st.builds(Amount, st.floats(0.0, 1e6), st.just("ml"), heft=st.sampled_from(Heft)),
}
BAR_STEPS = st.one_of(
    st.builds(
        step.Chill, **WORK, method=st.just("stir"), ice=texts, ice_g=masses, ice_state=st.sampled_from(step.IceState),
        ice_c=st.none() | st.floats(-100.0, 0.0), vessel_c=celsius, by=st.sampled_from(step.ChillBy), melted_g=masses,
        end_c=celsius,
    ),
    st.builds(
        step.BarStrain, **WORK, way=st.sampled_from(step.BarStrainWay), held_back_ml=masses, fresh_ice=texts,
        fresh_ice_g=masses,
    ),
    st.builds(step.Smoke, **WORK),
    st.builds(
        step.Carbonate, **WORK, vessel=st.sampled_from(["", "bottle", "jar"]), over_kpa=st.none() | st.floats(0.0, 5e3),
        at_c=celsius, co2_g_per_l=masses, reached_pct=percents, fills=masses, warmest_c=celsius, opening_loss_pct=percents,
    ),
    st.builds(step.Rinse, **LINE, film_ml=masses, temperature_c=celsius),
    st.builds(step.Top, **LINE, temperature_c=celsius, is_layer=st.booleans()),
    st.builds(step.Garnish, **LINE, in_liquid=st.booleans(), way=st.sampled_from(step.GarnishWay), stays_g=masses),
)  # fmt: skip
BATCHES = st.none() | st.builds(
    item.Batch, serves=st.floats(0.1, 1e5), vessel=st.sampled_from(["", "bottle"]),
    vessel_count=st.none() | st.floats(0.01, 1e5), service=st.sampled_from(item.BatchService),
    citrus_at_service=st.booleans(), fizz_at_service=st.booleans(), salt_pct=percents, bitters_pct=percents,
    round_g=st.floats(0.001, 1e3),
)  # fmt: skip


@given(BAR_STEPS, BATCHES, masses)
def test_any_step_at_the_bar_and_any_batch_survive_the_journey(
    one: AnyStep, batch: item.Batch | None, foam_ml: float | None
) -> None:
    book = every_kind.house()
    drink = structs.replace(book.builds[every_kind.DRINK], steps=(one,), batch=batch, foam_ml=foam_ml)
    book = replace(book, builds={drink.id: drink}, leftovers={}, makings={})
    data = write_build(book, drink.id)
    draft = read_build(data)
    assert draft.problems == ()
    adopted = adoption(resolve(draft, empty()), empty())
    found = adopted.book.builds[adopted.build_id]
    assert without_ids(found) == without_ids(drink)
    assert (found.batch, found.foam_ml) == (batch, foam_ml)
    assert write_build(adopted.book, adopted.build_id) == data


def test_two_steps_that_leave_over_the_same_item_are_refused(book: HouseBook) -> None:
    part = book.builds[every_kind.PART]
    steps = tuple(
        structs.replace(one, leftover_id=every_kind.LEAVINGS) if isinstance(one, step.Take) else one
        for one in part.steps
    )
    with pytest.raises(Exception, match="Two of its steps leave over the same item"):
        write_build(book.with_build(structs.replace(part, steps=steps)), part.id)


def test_a_twist_and_its_parent_in_one_file_stay_related(book: HouseBook) -> None:
    """A file may hold more than its main build rests on: a parent that is not needed is left where it is."""
    data = FROZEN.read_bytes()
    adopted = adoption(resolve(read_build(data), empty()), empty())
    twist = structs.replace(
        adopted.book.builds[adopted.build_id],
        id=900,
        name="Fennel Rye, twist",
        parent_id=adopted.build_id,
        steps=(),
    )
    with_twist = adopted.book.with_build(twist)
    again = adoption(resolve(read_build(write_build(with_twist, 900)), adopted.book), adopted.book)
    assert again.book.builds[again.build_id].parent_id is None


@pytest.mark.parametrize("choice", list(Choice))
def test_each_doubt_can_be_settled_either_way_and_then_it_goes_in(book: HouseBook, choice: Choice) -> None:
    thinner = structs.replace(book.raws[every_kind.RAW], strength_pct_vol=4.0)
    other = book.with_raw(thinner)
    resolution = resolve(read_build(FROZEN.read_bytes()), other)
    while resolution.open_doubts:
        resolution = settled(resolution, other, resolution.open_doubts[0].key, choice)
    adopted = adoption(resolution, other)
    assert len(adopted.book.builds) == (3 if choice is Choice.OURS else 6)
