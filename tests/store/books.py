"""House books for the tests of the store: a small one with a row of every kind, and one as large as wanted."""

import random
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from msgspec import structs

from washline.chemistry.components import COMPONENT_COUNT
from washline.model.amount import Amount, Basis, Heft, millilitres
from washline.model.book import HouseBook
from washline.model.change import Change, ChangeSet, Table
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
from washline.model.step import (
    Add,
    Adjust,
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

NOW = datetime(2026, 3, 1, 18, 40, 5, 250000, tzinfo=UTC)

LIME, SPIRIT, SODA, PEEL = 1, 2, 3, 4
CORDIAL, PULP, DRINK, TWIST, TARGET = 10, 11, 20, 21, 30
FIRST_LINE, SECOND_LINE = 101, 102
BREW, LEES, MAKING, BREW_STRAIN = 40, 41, 42, 405
SERVED, WEIGHING = 50, 60


def raw(raw_id: int, name: str, **fields: Any) -> RawIngredient:
    """A raw ingredient whose composition is water for the most part and not known for the rest."""
    composition = (91.5, 0.0, 0.1 + 0.2, *([None] * 20), 0.0)
    return RawIngredient(id=raw_id, slug=name.replace(" ", "-"), name=name, composition=composition, **fields)


def small_book() -> HouseBook:
    """A drink, its twist, two parts with leftovers and a making, a drink from a bottle with a weighing, and every kind of
    step."""
    book = second_book()
    return in_the_glass(book).with_build(served()).with_weighing(weighing())


def in_the_glass(book: HouseBook) -> HouseBook:
    """The book with ice, vessels, swaps and what the house weighed."""
    lengthened = structs.replace(
        book.settings, swaps=(Swap(SPIRIT, SODA, 0.75), Swap(PEEL)), scant_ml=2.0, wording_law="strictest"
    )
    throw = Method(
        slug="throw", name="Throw", kind=MethodKind.COLD_STORE, dilution_low_pct=25.0, dilution_high_pct=42.0,
        end_low_c=-3.0, end_high_c=2.0, published="shaken", approach=0.1 + 0.2, tau_s=10.0, core=0.75,
        ice_g_per_ml=1.9, surface_water_pct=2.5, vessel_j_per_k=98.5, vessel_is_cold=False, kept_at=KeptAt.FREEZER,
    )  # fmt: skip
    ices = (
        Ice(slug="cubes", name="Cubes", piece_g=24.8),
        Ice(slug="crushed", name="Crushed", pace=3.0, temperature_c=-0.5, surface_water_pct=0.0, wet_pct=8.0),
    )
    vessels = (
        Vessel(
            slug="bottle", name="Bottle", volume_ml=212.0, fill_ml=180.0, rated_kpa=600.0, note="crown cap"
        ),
        Vessel(slug="jar", name="Jar", volume_ml=530.0),
    )
    return replace(
        book.with_settings(lengthened),
        raws={**book.raws, SODA: structs.replace(book.raws[SODA], foams=True)},
        methods={**book.methods, "throw": throw},
        ices={ice.slug: ice for ice in ices},
        vessels={vessel.slug: vessel for vessel in vessels},
    ).with_calibration(
        Calibration(
            slug="stir/cubes", method="stir", ice="cubes", date="2026-02-28", tau_s=12.5, surface_water_pct=0.0,
            factor=1.05, offset=-0.01, weighings=3, left_ml_per_100_ml=1.2,
        )
    )  # fmt: skip


def served() -> Build:
    """A drink with the steps at the bar that the others have not."""
    at: dict[str, Any] = {"build_id": SERVED}
    steps = (
        Rinse(id=501, place=1.0, item_id=SPIRIT, amount=millilitres(10.0), film_ml=1.25, temperature_c=-18.0, **at),
        Add(id=502, place=2.0, item_id=LIME, amount=Amount(22.5, "ml", typed="scant 3/4", heft=Heft.SCANT), **at),
        Chill(
            id=503, place=3.0, method="throw", ice="cubes", ice_g=150.0, ice_state=IceState.WET, ice_c=-2.5, vessel_c=20.0,
            by=ChillBy.BALANCE, end_c=-1.5, **at,
        ),
        BarStrain(
            id=504, place=4.0, way=BarStrainWay.FINE, held_back_ml=3.5, fresh_ice="one 50 mm cube", fresh_ice_g=115.0, **at
        ),
        Smoke(id=505, place=5.0, duration_s=20.0, words="under a cloche", **at),
        Carbonate(
            id=506, place=6.0, vessel="bottle", over_kpa=220.0, at_c=2.0, co2_g_per_l=7.0, reached_pct=92.5, fills=3.0,
            warmest_c=30.0, opening_loss_pct=8.0, **at,
        ),
        Top(id=507, place=7.0, item_id=SODA, amount=Amount(15.0, "ml", heft=Heft.HEAVY), is_layer=True, **at),
        Garnish(
            id=508, place=8.0, item_id=PEEL, amount=Amount(1.0, "piece"), way=GarnishWay.EXPRESS, stays_g=0.05, **at
        ),
    )  # fmt: skip
    batch = Batch(
        serves=20.0, vessel="bottle", vessel_count=18.5, service=BatchService.CARBONATED, citrus_at_service=True,
        fizz_at_service=False, salt_pct=70.0, bitters_pct=55.5, round_g=0.5,
    )  # fmt: skip
    return Build(
        id=SERVED,
        kind=BuildKind.DRINK,
        name="Bottled lime",
        steps=steps,
        fizz_loss_pct=20.0,
        foam_ml=12.5,
        batch=batch,
    )


def weighing() -> Weighing:
    """What melted into the drink from a bottle, with a component that nobody knows."""
    composition = (71.5, 12.25, None, *[0.0] * (COMPONENT_COUNT - 3))
    return Weighing(
        id=WEIGHING, method="throw", ice="cubes", date="2026-02-27", build_id=SERVED, step_id=503, composition=composition,
        liquid_c=14.0, ice_g=150.0, ice_c=-2.5, surface_water_g=7.5, seconds=25.0, vessel_j_per_k=100.0, vessel_c=21.0,
        melted_g=24.8, note="six passes",
    )  # fmt: skip


def second_book() -> HouseBook:
    """The part of the small book that version 2 could hold."""
    book = first_book()
    lime = structs.replace(
        book.raws[LIME],
        may_contain=("celery", "nuts"),
        today=Today(-12.5, 8.0, "2026-03-02T02:00", "a strip read pH 2.5"),
    )
    book = book.with_raw(lime).with_build(brew())
    book = book.with_leftover(
        Leftover(
            id=LEES, build_id=BREW, name="brew lees", bitterness=2.5, acts_as_id=PEEL, value_per_kg=1.5,
            may_contain=("milk",),
        )
    )  # fmt: skip
    book = book.with_making(
        Making(
            id=MAKING,
            build_id=BREW,
            date="2026-02-27",
            yields=(StepYield(BREW_STRAIN, 820.0, 701.5),),
            note="slow",
        )
    )
    return book.with_settings(
        structs.replace(
            book.settings, joint_cost=JointCost.MASS, labour_per_hour=18.5,
            shared=(Shared("tins", ("milk", "eggs")), Shared("freezer", ()), Shared("tins", ("nuts",))),
        )
    )  # fmt: skip


def first_book() -> HouseBook:
    """The part of the small book that version 1 could hold."""
    return HouseBook(
        settings=Settings(house_name="Back bar", oz_ml=29.5735),
        raws={
            LIME: raw(LIME, "lime juice", prices=(Price(4.2, "l", "2026-02-01"), Price(4.5, "l", "2026-02-20"))),
            SPIRIT: raw(SPIRIT, "grain spirit", allergens=(), cautions=("high-proof-flammable",)),
            SODA: raw(SODA, "soda water", allergens=("sulphites", "unknown"), kept_at=KeptAt.FRIDGE),
            PEEL: raw(PEEL, "lime peel", form="solid", piece_g=1.25),
        },
        builds={CORDIAL: cordial(), DRINK: drink(DRINK, "Tall lime"), TWIST: twist()},
        leftovers={PULP: Leftover(id=PULP, build_id=CORDIAL, name="lime pulp", house_days=2)},
        targets={TARGET: Target(id=TARGET, name="long", aims=aims())},
        glasses={
            "highball": Glass(slug="highball", name="Highball", brim_ml=350.0, ice_g=130.0),
            "coupe": Glass(slug="coupe", name="Coupe", brim_ml=180.0),
        },
        methods={
            "stir": Method(
                slug="stir", name="Stir", dilution_low_pct=35.0, dilution_high_pct=50.0, end_low_c=-5.0, end_high_c=0.0
            )
        },
        measures={"dash": Measure(slug="dash", name="Dash", value=0.8, unit="ml", low=0.4, high=1.1)},
        top_id=30_000,
    )  # fmt: skip


def aims() -> tuple[Aim, ...]:
    """A gate and three axes."""
    return (
        Aim("strength", 0.0, 0.0, 0.5, is_gate=True, note="local figure"),
        Aim("sweetness", 2.0, 5.0, 7.5),
        Aim("acidity", 0.15, 0.3, 0.5),
        Aim("chill", -6.0, -4.0, -2.0),
    )


def cordial() -> Build:
    """A house-made part with the steps that parts have."""
    at: dict[str, Any] = {"build_id": CORDIAL}
    steps = (
        Add(id=FIRST_LINE, place=1.0, item_id=LIME, amount=Amount(500.0, "g", typed="½ kg"), **at),
        Add(
            id=SECOND_LINE,
            place=2.0,
            item_id=PEEL,
            amount=Amount(30.0, "%", Basis.PERCENT_OF_LINES, (FIRST_LINE,), "30%"),
            temperature_c=80.0,
            **at,
        ),
        Blend(id=103, place=3.0, duration_s=60.0, words="smooth", **at),
        Rest(id=104, place=4.0, duration_s=86400.0, temperature_low_c=2.0, temperature_high_c=5.0, **at),
        Heat(id=105, place=5.0, final_pct=90.0, **at),
        Reduce(id=106, place=6.0, final_g=400.0, ethanol_kept_pct=0.0, **at),
        Strain(id=107, place=7.0, expected_pct=80.0, low_pct=75.0, high_pct=85.0, leftover_id=PULP, **at),
        Take(id=108, place=8.0, amount=Amount(50.0, "g"), **at),
        Dry(id=109, place=9.0, left_out=True, **at),
        Note(id=110, place=10.0, words="52 °Bx on the refractometer", **at),
    )
    return Build(
        id=CORDIAL, kind=BuildKind.PART, name="Lime cordial", steps=steps, house_days=7, kept_at=KeptAt.FRIDGE,
        if_off=(Sign("flat", "add a pinch of salt"), Sign("yeasty", "throw it away")),
    )  # fmt: skip


def brew() -> Build:
    """A house-made part with all bench steps that the cordial has not."""
    at: dict[str, Any] = {"build_id": BREW}
    steps = (
        Add(id=401, place=1.0, item_id=LIME, amount=Amount(750.0, "g"), weight=Weight.BOUGHT, bought_g=760.5, **at),
        Muddle(id=402, place=2.0, words="bruise", **at),
        Infuse(
            id=403, place=3.0, item_id=PEEL, amount=Amount(8.0, "%", Basis.PERCENT_OF_LINES, (401,)), temperature_c=60.0,
            weight=Weight.TRIMMED, duration_s=600.0, water_given_pct=10.0, sugars_given_pct=60.0, acids_given_pct=80.0,
            salt_given_pct=0.0, given_spread_pct=15.0, **at,
        ),
        Wash(id=404, place=4.0, kind=WashKind.MILK, protein_held_pct=82.0, acids_held_pct=3.0, **at),
        Strain(id=BREW_STRAIN, place=5.0, way="milk", expected_pct=85.0, leftover_id=LEES, measured_brix=11.2,
               measured_acidity_pct=0.85, **at),
        Ferment(id=406, place=6.0, kind=FermentKind.YEAST, gas_lost_g=6.5, final_brix=4.5, final_ph=3.4,
                final_acidity_pct=0.9, discard_above_ph=4.2, discard_on_day=3.0, **at),
        Adjust(id=407, place=7.0, goal=Goal.ACIDITY, value=6.0, per=Per.VOLUME,
               portions=(Portion(LIME, 2.0), Portion(SPIRIT)), **at),
        Adjust(id=408, place=8.0, goal=Goal.BRIX, like_item_id=LIME, portions=(Portion(SODA),), left_out=True, **at),
        Measurement(id=409, place=9.0, quantity=Measurable.PH, value=3.31, instrument="meter", uncertainty=0.05, gain=0.8,
                    **at),
        Reduce(id=410, place=10.0, final_brix=30.0, ethanol_way="simmered", **at),
    )  # fmt: skip
    return Build(
        id=BREW, kind=BuildKind.PART, name="Peel brew", steps=steps, may_contain=("gluten",), acts_as_id=LIME,
        value_per_kg=12.0, keeps_by="frozen", price=4.5, labour_min=25.0, waste_pct=5.0,
    )  # fmt: skip


def drink(build_id: int, name: str, **fields: Any) -> Build:
    """A drink with the steps that drinks have."""
    first = 200 if build_id == DRINK else build_id * 1000
    at: dict[str, Any] = {"build_id": build_id}
    steps = (
        Add(id=first, place=1.0, item_id=CORDIAL, amount=millilitres(22.5), **at),
        Add(id=first + 1, place=1.5, item_id=SPIRIT, amount=Amount(45.0, "ml", typed="1 1/2 oz"), **at),
        Chill(id=first + 2, place=2.0, method="stir", count=10.0, count_unit="turns", melted_g=18.25, **at),
        Top(id=first + 3, place=3.0, item_id=SODA, amount=Amount(0.0, "", Basis.TO_WASH_LINE), **at),
        Garnish(id=first + 4, place=4.0, item_id=PEEL, amount=Amount(1.0, "piece"), in_liquid=True, **at),
    )
    return Build(
        id=build_id,
        kind=BuildKind.DRINK,
        name=name,
        steps=steps,
        glass="highball",
        ice_g=0.0,
        target_id=TARGET,
        added_allergens=("celery",),
        tastes_like="a bright afternoon",
        **fields,
    )


def twist() -> Build:
    """A twist of the drink that nobody has decided about."""
    return drink(TWIST, "Tall lime, twisted", parent_id=DRINK, is_tried=True)


def large_book(drinks: int, lines: int = 7) -> HouseBook:
    """A book of many drinks, each with so many lines; the same at every call."""
    chance = random.Random(7)
    book = small_book()
    builds = dict(book.builds)
    number = 1_000_000
    for _ in range(drinks):
        build_id, number = number, number + lines + 1
        steps = tuple(
            Add(
                id=build_id + 1 + line,
                build_id=build_id,
                place=float(line + 1),
                item_id=chance.choice((LIME, SPIRIT, SODA, CORDIAL)),
                amount=millilitres(chance.choice((15.0, 22.5, 30.0, 45.0, 100.0 * chance.random()))),
            )
            for line in range(lines)
        )
        builds[build_id] = Build(
            id=build_id, kind=BuildKind.DRINK, name=f"Drink {build_id}", steps=steps, glass="coupe"
        )
    return replace(book, builds=builds, top_id=number - 1)


def new_amount(book: HouseBook, number: float, step_id: int = 201) -> ChangeSet:
    """Another number in one line."""
    step = next(step for build in book.builds.values() for step in build.steps if step.id == step_id)
    assert isinstance(step, Add)
    after = structs.replace(step, amount=structs.replace(step.amount, number=number, typed=""))
    return ChangeSet((Change(Table.STEP, step_id, step, after),))


def tables_of(
    path: Path, *, without: tuple[str, ...] = ("journal", "journal_change", "meta")
) -> dict[str, list[Any]]:
    """All rows of all tables as SQLite has them, by table."""
    with closing(sqlite3.connect(path)) as connection:
        names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        return {
            name: connection.execute(f"SELECT * FROM {name}").fetchall()
            for (name,) in names
            if name not in without
        }
