"""Random rows of every kind, and random house books whose references hold."""

from collections.abc import Callable
from typing import Any

from hypothesis import strategies as st
from msgspec import structs

from washline.chemistry.components import COMPONENT_COUNT
from washline.model.amount import Amount, Basis, Heft
from washline.model.book import HouseBook
from washline.model.house import (
    Calibration,
    Glass,
    Ice,
    JointCost,
    Measure,
    Method,
    MethodKind,
    Settings,
    Shared,
    Swap,
    Vessel,
    Weighing,
)
from washline.model.item import (
    Batch,
    BatchService,
    Build,
    BuildKind,
    KeptAt,
    Leftover,
    Making,
    Price,
    RawIngredient,
    Sign,
    StepYield,
    Today,
)
from washline.model.reading import READING_KEYS
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    BarStrain,
    BarStrainWay,
    Blend,
    Carbonate,
    Chill,
    ChillBy,
    Dry,
    Ferment,
    FermentKind,
    Garnish,
    GarnishWay,
    Goal,
    Heat,
    IceState,
    Infuse,
    Measurable,
    Measurement,
    Muddle,
    Note,
    Per,
    Portion,
    Reduce,
    Rest,
    Rinse,
    Smoke,
    Strain,
    Take,
    Top,
    Wash,
    WashKind,
    Weight,
)
from washline.model.target import Aim, Target

RAWS = (1, 2, 3)
PART, LEFTOVER, DRINK, TARGET, MAKING, WEIGHING = 10, 11, 20, 30, 40, 50

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)


def reals(low: float, high: float) -> st.SearchStrategy[float]:
    """Numbers of a range, both ends and the smallest of all included; a negative zero is no number that people type."""
    return st.floats(low, high).map(lambda number: number + 0.0)


grams = reals(0.0, 1e9)
percent = reals(0.0, 100.0)
celsius = reals(-273.15, 1000.0)


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """A value or none."""
    return st.none() | strategy


def tuples(strategy: st.SearchStrategy[Any], most: int = 3) -> st.SearchStrategy[tuple[Any, ...]]:
    """A few in order."""
    return st.lists(strategy, max_size=most).map(tuple)


def amounts(of: tuple[int, ...] = ()) -> st.SearchStrategy[Amount]:
    """Amounts of any basis; those of ``of`` refer to these steps."""
    bases = [Basis.PERCENT_OF_LINES, Basis.PARTS] if of else list(Basis)
    return st.builds(
        Amount, reals(0.0, 1e12), texts, st.sampled_from(bases), st.permutations(of).map(tuple), texts,
        st.sampled_from(Heft),
    )  # fmt: skip


settings = st.builds(
    Settings,
    house_name=texts,
    is_demo=st.booleans(),
    oz_ml=reals(1.0, 100.0),
    freezer_c=celsius,
    wash_line_pct=percent,
    joint_cost=st.sampled_from(JointCost),
    tax_pct=percent,
    wanted_pour_cost_pct=percent,
    labour_per_hour=maybe(grams),
    shared=tuples(st.builds(Shared, texts, tuples(texts))),
    service_ends=texts,
    foam_allowance_ml=grams,
    egg_foam_pct=percent,
    glass_w_per_k=reals(0.0, 1e6),
    glass_j_per_k=reals(0.0, 1e6),
    rinse_film_ml=grams,
    scant_ml=grams,
    heavy_ml=grams,
    wording_law=texts,
    warmest_c=celsius,
    salt_batch_pct=percent,
    bitters_batch_pct=percent,
    swaps=tuples(st.builds(Swap, st.sampled_from(RAWS), maybe(st.sampled_from(RAWS)), reals(0.0, 1e6))),
)
glasses = st.builds(
    Glass, slug=st.just("coupe"), name=texts, brim_ml=grams, usual_fill_ml=maybe(grams), ice=texts, ice_g=grams,
    wash_line_ml=maybe(grams), source=texts, note=texts,
)  # fmt: skip
methods = st.builds(
    Method, slug=st.just("stir"), name=texts, ice=texts, ice_g=maybe(grams), time_low_s=maybe(grams),
    time_high_s=maybe(grams), dilution_low_pct=reals(0.0, 10.0), dilution_high_pct=reals(10.0, 100.0),
    end_low_c=reals(-20.0, 0.0), end_high_c=reals(0.0, 20.0), source=texts, source_kind=texts, note=texts,
    kind=st.sampled_from(MethodKind), published=texts, approach=reals(0.0, 1.0), tau_s=grams, core=reals(0.0, 1.0),
    ice_g_per_ml=reals(0.0, 1e6), surface_water_pct=percent, vessel_j_per_k=grams, vessel_is_cold=st.booleans(),
    kept_at=maybe(st.sampled_from(KeptAt)),
)  # fmt: skip
ices = st.builds(
    Ice, slug=st.just("cubes"), name=texts, pace=reals(0.0, 1e6), temperature_c=celsius, surface_water_pct=maybe(percent),
    wet_pct=percent, edge_mm=grams, piece_g=maybe(grams), source=texts, source_kind=texts, note=texts,
)  # fmt: skip
vessels = st.builds(
    Vessel, slug=st.just("bottle"), name=texts, volume_ml=grams, fill_ml=maybe(grams), rated_kpa=maybe(reals(0.0, 1e6)),
    source=texts, source_kind=texts, note=texts,
)  # fmt: skip
calibrations = st.builds(
    Calibration, slug=st.just("stir/cubes"), method=st.just("stir"), ice=st.just("cubes"), date=texts, tau_s=maybe(grams),
    surface_water_pct=maybe(percent), factor=reals(0.0, 1e6), offset=reals(-1e6, 1e6),
    weighings=st.integers(0, 1_000_000), left_ml_per_100_ml=maybe(grams),
)  # fmt: skip
batches = st.builds(
    Batch, serves=grams, vessel=texts, vessel_count=maybe(grams), service=st.sampled_from(BatchService),
    citrus_at_service=st.booleans(), fizz_at_service=st.booleans(), salt_pct=maybe(percent), bitters_pct=maybe(percent),
    round_g=grams,
)  # fmt: skip
measures = st.builds(
    Measure, slug=st.just("dash"), name=texts, value=reals(0.0, 1e6), unit=texts, low=reals(0.0, 1.0),
    high=reals(1.0, 2.0), source=texts, source_kind=texts, note=texts,
)  # fmt: skip
aims = st.builds(
    Aim, st.sampled_from(READING_KEYS), reals(-100.0, 0.0), reals(0.0, 1.0), reals(1.0, 100.0), st.booleans(), texts,
    texts,
)  # fmt: skip
targets = st.builds(Target, id=st.just(TARGET), name=texts, aims=tuples(aims))
kept_at = st.sampled_from(KeptAt)
priced = {
    "acts_as_id": maybe(st.sampled_from(RAWS)),
    "value_per_kg": maybe(grams),
    "may_contain": tuples(texts),
}
days = maybe(st.integers(0, 1_000_000))


def raws(raw_id: int) -> st.SearchStrategy[RawIngredient]:
    """Raw ingredients with blanks anywhere."""
    shares = st.tuples(*[maybe(reals(0.0, 100.0))] * COMPONENT_COUNT)
    price = st.builds(Price, grams, texts, texts, texts)
    return st.builds(
        RawIngredient, id=st.just(raw_id), slug=texts, name=texts, category=texts, form=texts, composition=shares,
        density_g_per_ml=maybe(reals(0.0, 25.0)), strength_pct_vol=maybe(percent), co2_g_per_l=maybe(percent),
        bitterness=maybe(percent), strong_cation_mmol_per_100g=maybe(reals(-1e5, 1e5)),
        other_acid_name=texts, ph_model=texts, typical_ph_low=maybe(reals(0.0, 14.0)),
        typical_ph_high=maybe(reals(0.0, 14.0)), titratable_acidity_pct=maybe(percent),
        soluble_solids_pct=maybe(percent), season_months=texts,
        sugar_uncertainty_pct=maybe(percent), acid_uncertainty_pct=maybe(percent), allergens=tuples(texts),
        cautions=tuples(texts), kept_at=kept_at, drop_ml=maybe(grams), dash_ml=maybe(grams), piece_g=maybe(grams),
        edible_yield=maybe(reals(0.0, 10.0)), edible_yield_basis=texts, house_days=days, prices=tuples(price),
        may_contain=tuples(texts),
        today=maybe(st.builds(Today, reals(-100.0, 100.0), reals(-100.0, 100.0), texts, texts)),
        foams=st.booleans(), vegan=texts, vegetarian=texts, source=texts, source_kind=texts,
        from_memory_fields=texts, note=texts,
    )  # fmt: skip


def steps(build_id: int, step_id: int, of: tuple[int, ...]) -> st.SearchStrategy[AnyStep]:
    """A step of any kind; its amount may refer to the steps ``of``, its leftover is the one there is."""
    own = {
        "id": st.just(step_id), "build_id": st.just(build_id), "place": st.just(float(step_id)), "words": texts,
        "left_out": st.booleans(),
    }  # fmt: skip
    work = {
        **own,
        "duration_s": maybe(grams),
        "temperature_low_c": maybe(celsius),
        "temperature_high_c": maybe(celsius),
    }
    vapour = {
        **work,
        "final_brix": maybe(percent),
        "ethanol_way": texts,
        "final_g": maybe(grams),
        "final_pct": maybe(percent),
        "ethanol_kept_pct": maybe(percent),
    }
    amount = amounts() | amounts(of) if of else amounts()
    line = {**own, "item_id": st.sampled_from(RAWS), "amount": amount}
    produce = {
        **line, "temperature_c": maybe(celsius), "weight": st.sampled_from(Weight), "bought_g": maybe(grams),
    }  # fmt: skip
    adjust = {
        **work, "goal": st.sampled_from(Goal), "per": st.sampled_from(Per),
        "portions": tuples(st.builds(Portion, st.sampled_from(RAWS), grams)),
    }  # fmt: skip
    leftover = maybe(st.just(LEFTOVER)) if build_id == PART else st.none()
    kinds: list[Callable[[], st.SearchStrategy[AnyStep]]] = [
        lambda: st.builds(Add, **produce),
        lambda: st.builds(
            Infuse, **{**work, **produce}, water_given_pct=maybe(percent), sugars_given_pct=maybe(percent),
            acids_given_pct=maybe(percent), salt_given_pct=maybe(percent), solids_given_pct=maybe(percent),
            given_spread_pct=maybe(percent),
        ),
        lambda: st.builds(Muddle, **work),
        lambda: st.builds(
            Wash, **work, kind=st.sampled_from(WashKind), fat_held_pct=maybe(percent), protein_held_pct=maybe(percent),
            acids_held_pct=maybe(percent),
        ),
        lambda: st.builds(
            Ferment, **work, kind=st.sampled_from(FermentKind), gas_lost_g=maybe(grams),
            final_acidity_pct=maybe(percent), final_brix=maybe(percent), final_ph=maybe(reals(0.0, 14.0)),
            discard_above_ph=maybe(reals(0.0, 14.0)), discard_on_day=maybe(reals(0.0, 100.0)),
        ),
        lambda: st.builds(Adjust, **adjust, value=percent),
        lambda: st.builds(Adjust, **adjust, like_item_id=st.sampled_from(RAWS)),
        lambda: st.builds(
            Measurement, **work, quantity=st.sampled_from(Measurable), value=reals(-50.0, 1e6), instrument=texts,
            uncertainty=maybe(grams), gain=reals(0.0, 1.0),
        ),
        lambda: st.builds(Top, **line, temperature_c=maybe(celsius), is_layer=st.booleans()),
        lambda: st.builds(
            Garnish, **line, in_liquid=st.booleans(), way=st.sampled_from(GarnishWay), stays_g=maybe(grams)
        ),
        lambda: st.builds(Rinse, **line, temperature_c=maybe(celsius), film_ml=maybe(grams)),
        lambda: st.builds(Smoke, **work),
        lambda: st.builds(
            BarStrain, **work, way=st.sampled_from(BarStrainWay), held_back_ml=maybe(grams), fresh_ice=texts,
            fresh_ice_g=maybe(grams), vessel_c=maybe(celsius),
        ),
        lambda: st.builds(
            Carbonate, **work, vessel=texts, over_kpa=maybe(reals(0.0, 1e6)), at_c=maybe(celsius),
            co2_g_per_l=maybe(percent), reached_pct=maybe(percent), fills=maybe(grams), warmest_c=maybe(celsius),
            opening_loss_pct=maybe(percent),
        ),
        lambda: st.builds(Take, **own, amount=amount, leftover_id=leftover),
        lambda: st.builds(Blend, **work),
        lambda: st.builds(Rest, **work),
        lambda: st.builds(Note, **work),
        lambda: st.builds(
            Strain, **work, weighed_g=maybe(grams), expected_pct=maybe(percent), low_pct=maybe(percent),
            high_pct=maybe(percent), leftover_id=leftover, leftover_weighed_g=maybe(grams), way=texts,
            measured_brix=maybe(reals(-5.0, 100.0)), measured_acidity_pct=maybe(percent),
        ),
        lambda: st.builds(Heat, **vapour),
        lambda: st.builds(Reduce, **vapour),
        lambda: st.builds(Dry, **vapour),
        lambda: st.builds(
            Chill, **work, method=st.just("stir"), ice=texts, ice_g=maybe(grams), count=maybe(grams),
            count_unit=texts, melted_g=maybe(grams), final_g=maybe(grams), final_ml=maybe(grams),
            ice_state=st.sampled_from(IceState), ice_c=maybe(celsius), vessel_c=maybe(celsius),
            by=st.sampled_from(ChillBy), end_c=maybe(celsius),
        ),
    ]  # fmt: skip
    return st.sampled_from(kinds).flatmap(lambda make: make())


@st.composite
def builds(draw: st.DrawFn, build_id: int, kind: BuildKind) -> Build:
    """A build of up to four steps."""
    made: list[AnyStep] = []
    for number in range(draw(st.integers(0, 4))):
        made.append(draw(steps(build_id, build_id * 100 + number, tuple(step.id for step in made))))
    bare = draw(
        st.builds(
            Build, id=st.just(build_id), kind=st.just(kind), name=texts, note=texts, glass=maybe(st.just("coupe")),
            ice=maybe(texts), ice_g=maybe(grams), wash_line_ml=maybe(grams), target_id=maybe(st.just(TARGET)),
            parent_id=maybe(st.just(PART)), is_tried=st.booleans(), kept_at=kept_at, house_days=days,
            bitterness=maybe(percent), drop_ml=maybe(grams), dash_ml=maybe(grams), piece_g=maybe(grams),
            pour_ml=maybe(grams), added_allergens=tuples(texts), tastes_like=texts, **priced, keeps_by=texts,
            price=maybe(grams), labour_min=maybe(grams), waste_pct=maybe(percent),
            fizz_loss_pct=maybe(percent), foam_ml=maybe(grams), batch=maybe(batches),
            if_off=tuples(st.builds(Sign, texts, texts)),
        )
    )  # fmt: skip
    return structs.replace(bare, steps=tuple(made))


leftovers = st.builds(
    Leftover, id=st.just(LEFTOVER), build_id=st.just(PART), name=texts, kept_at=kept_at, house_days=days,
    piece_g=maybe(grams), bitterness=maybe(percent), **priced,
)  # fmt: skip


def makings(step_ids: tuple[int, ...]) -> st.SearchStrategy[Making]:
    """A making of the part with yields of some of its steps."""
    yields = (
        tuples(st.builds(StepYield, st.sampled_from(step_ids), grams, grams)) if step_ids else st.just(())
    )
    return st.builds(
        Making, id=st.just(MAKING), build_id=st.just(PART), date=texts, yields=yields, note=texts
    )


def weighings(step_ids: tuple[int, ...]) -> st.SearchStrategy[Weighing]:
    """A weighing, of a step of the part or of none that is left."""
    return st.builds(
        Weighing, id=st.just(WEIGHING), method=st.just("stir"), ice=st.just("cubes"), date=texts,
        build_id=maybe(st.just(PART)), step_id=maybe(st.sampled_from(step_ids)) if step_ids else st.none(),
        composition=st.tuples(*[maybe(grams)] * COMPONENT_COUNT), liquid_c=celsius, ice_g=grams, ice_c=celsius,
        surface_water_g=grams, seconds=maybe(grams), vessel_j_per_k=grams, vessel_c=celsius, melted_g=grams, note=texts,
    )  # fmt: skip


@st.composite
def books(draw: st.DrawFn) -> HouseBook:
    """House books with the same few ids, so that two of them differ in rows and not in all of them; the drink may be
    missing."""
    part = draw(builds(PART, BuildKind.PART))
    made = {PART: part}
    if draw(st.booleans()):
        made[DRINK] = draw(builds(DRINK, BuildKind.DRINK))
    return HouseBook(
        settings=draw(settings),
        raws={raw_id: draw(raws(raw_id)) for raw_id in RAWS},
        builds=made,
        leftovers={LEFTOVER: draw(leftovers)},
        targets={TARGET: draw(targets)},
        glasses={"coupe": draw(glasses)},
        methods={"stir": draw(methods)},
        measures={"dash": draw(measures)},
        makings={
            making.id: making
            for making in draw(tuples(makings(tuple(step.id for step in part.steps)), most=1))
        },
        ices={"cubes": draw(ices)},
        vessels={"bottle": draw(vessels)},
        weighings={
            weighing.id: weighing
            for weighing in draw(tuples(weighings(tuple(step.id for step in part.steps)), most=1))
        },
        calibrations={one.slug: one for one in draw(tuples(calibrations, most=1))},
        top_id=10_000,
    )
