"""House books for the tests of the store: a small one with a row of every kind, and one as large as wanted."""

import random
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from msgspec import structs

from washline.model.amount import Amount, Basis, millilitres
from washline.model.book import HouseBook
from washline.model.change import Change, ChangeSet, Table
from washline.model.house import Glass, JointCost, Measure, Method, Settings, Shared
from washline.model.item import (
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
    Blend,
    Chill,
    Dry,
    Ferment,
    FermentKind,
    Garnish,
    Goal,
    Heat,
    Infuse,
    Measurable,
    Measurement,
    Muddle,
    Note,
    Per,
    Portion,
    Reduce,
    Rest,
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


def raw(raw_id: int, name: str, **fields: Any) -> RawIngredient:
    """A raw ingredient whose composition is water for the most part and not known for the rest."""
    composition = (91.5, 0.0, 0.1 + 0.2, *([None] * 20), 0.0)
    return RawIngredient(id=raw_id, slug=name.replace(" ", "-"), name=name, composition=composition, **fields)


def small_book() -> HouseBook:
    """A drink, its twist, two parts with leftovers and a making, and every kind of step."""
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
