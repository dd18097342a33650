"""A small invented house for the tests of the document: two parts, of which one is made of what the other leaves over."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from msgspec import structs

from washline.chemistry.components import COMPONENTS
from washline.model.amount import Amount, Basis, grams, millilitres
from washline.model.book import HouseBook
from washline.model.house import Calibration, Glass, Ice, Measure, Method, Swap, Vessel, Weighing
from washline.model.item import Batch, Build, BuildKind, Leftover, Making, Price, RawIngredient, StepYield
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    BarStrain,
    Blend,
    Carbonate,
    Chill,
    Ferment,
    FermentKind,
    Garnish,
    Goal,
    Infuse,
    Line,
    Measurable,
    Measurement,
    Muddle,
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

GIN, LIME, SUGAR, PEAR, SODA, LEAF, TONIC = 1, 2, 3, 4, 5, 6, 7
CORDIAL, LEATHER, SIGNAL, TIDE = 20, 21, 22, 23
SPENT = 30
PEARS, BLEND, PRESS, SWEETEN = 40, 41, 42, 43
LEATHER_PEAR, LEATHER_DRY = 45, 46
SIGNAL_GIN, SIGNAL_CORDIAL, SIGNAL_LIME, SIGNAL_CHILL, SIGNAL_SODA, SIGNAL_LEAF = 50, 51, 52, 53, 54, 55
TIDE_GIN, TIDE_CORDIAL, TIDE_CHILL = 60, 61, 62
APERITIF = 70
TOP_ID = 70


def composition(**grams_per_100g: float) -> tuple[float | None, ...]:
    """A composition in the fixed order of components; what is not named is none."""
    return tuple(grams_per_100g.get(key, 0.0) for key in COMPONENTS)


def raw(item_id: int, name: str, form: str = "liquid", **grams_per_100g: float) -> RawIngredient:
    return RawIngredient(
        id=item_id,
        slug=name.replace(" ", "-"),
        name=name,
        form=form,
        composition=composition(**grams_per_100g),
        allergens=(),
        piece_g=0.5 if form == "solid" else None,
        prices=(Price(20.0, "kg" if form == "solid" else "l", "2026-11-01"),),
    )


RAWS = (
    raw(GIN, "dry gin", water=60.0, ethanol=40.0),
    raw(LIME, "lime juice", water=91.0, citric=6.0, sucrose=2.0, other_solids=1.0),
    raw(SUGAR, "white sugar", "solid", sucrose=100.0),
    raw(PEAR, "ripe pear", "solid", water=84.0, fructose=6.0, glucose=4.0, malic=0.5, insoluble=5.5),
    raw(SODA, "soda water", water=100.0),
    raw(LEAF, "sorrel leaf", "solid", water=93.0, fibre=4.0, other_acid=3.0),
    raw(TONIC, "tonic water", water=91.0, sucrose=8.6, citric=0.4),
)

CORDIAL_BUILD = Build(
    id=CORDIAL,
    kind=BuildKind.PART,
    name="pear cordial",
    steps=(
        Add(id=PEARS, build_id=CORDIAL, place=1.0, item_id=PEAR, amount=grams(1200.0)),
        Blend(id=BLEND, build_id=CORDIAL, place=2.0, duration_s=90.0),
        Strain(id=PRESS, build_id=CORDIAL, place=3.0, weighed_g=905.0, leftover_id=SPENT),
        Add(
            id=SWEETEN,
            build_id=CORDIAL,
            place=4.0,
            item_id=SUGAR,
            amount=Amount(42.0, "%", Basis.PERCENT_OF_LINES, (PRESS,), "42 %"),
        ),
    ),
)
LEATHER_BUILD = Build(
    id=LEATHER,
    kind=BuildKind.PART,
    name="pear leather",
    piece_g=4.0,
    steps=(
        Add(id=LEATHER_PEAR, build_id=LEATHER, place=1.0, item_id=SPENT, amount=grams(250.0)),
        Reduce(id=LEATHER_DRY, build_id=LEATHER, place=2.0, final_pct=60.0),
    ),
)
SIGNAL_BUILD = Build(
    id=SIGNAL,
    kind=BuildKind.DRINK,
    name="Pear Signal",
    glass="rocks",
    target_id=APERITIF,
    steps=(
        Add(id=SIGNAL_GIN, build_id=SIGNAL, place=1.0, item_id=GIN, amount=millilitres(30.0)),
        Add(id=SIGNAL_CORDIAL, build_id=SIGNAL, place=2.0, item_id=CORDIAL, amount=millilitres(22.5)),
        Add(id=SIGNAL_LIME, build_id=SIGNAL, place=3.0, item_id=LIME, amount=millilitres(15.0)),
        Chill(
            id=SIGNAL_CHILL,
            build_id=SIGNAL,
            place=4.0,
            method="build",
            count=10.0,
            count_unit="turns",
            melted_g=10.0,
        ),
        Top(id=SIGNAL_SODA, build_id=SIGNAL, place=5.0, item_id=SODA, amount=millilitres(60.0)),
        Garnish(id=SIGNAL_LEAF, build_id=SIGNAL, place=6.0, item_id=LEAF, amount=Amount(1.0, "leaf")),
    ),
)
TIDE_BUILD = Build(
    id=TIDE,
    kind=BuildKind.DRINK,
    name="Sloe Tide",
    steps=(
        Add(id=TIDE_GIN, build_id=TIDE, place=1.0, item_id=GIN, amount=millilitres(45.0)),
        Add(id=TIDE_CORDIAL, build_id=TIDE, place=2.0, item_id=CORDIAL, amount=millilitres(15.0)),
        Chill(id=TIDE_CHILL, build_id=TIDE, place=3.0, method="shake"),
    ),
)

METHODS = (
    Method(
        slug="build",
        name="Build on ice",
        dilution_low_pct=5.0,
        dilution_high_pct=15.0,
        end_low_c=0.0,
        end_high_c=4.0,
    ),
    Method(
        slug="throw",
        name="Throw",
        dilution_low_pct=20.0,
        dilution_high_pct=40.0,
        end_low_c=-2.0,
        end_high_c=2.0,
    ),
    Method(
        slug="shake",
        name="Shake",
        dilution_low_pct=40.0,
        dilution_high_pct=60.0,
        end_low_c=-6.0,
        end_high_c=-4.0,
    ),
)


def house() -> HouseBook:
    """The house, made anew; its ids are the constants of this module."""
    return HouseBook(
        raws={row.id: row for row in RAWS},
        builds={row.id: row for row in (CORDIAL_BUILD, LEATHER_BUILD, SIGNAL_BUILD, TIDE_BUILD)},
        leftovers={SPENT: Leftover(id=SPENT, build_id=CORDIAL, name="spent pear")},
        targets={
            APERITIF: Target(
                id=APERITIF,
                name="aperitif",
                aims=(
                    Aim("strength", 5.0, 8.0, 11.0),
                    Aim("sweetness", 4.5, 7.0, 9.5),
                    Aim("acidity", 0.35, 0.55, 0.75),
                    Aim("ethanol", 0.0, 10.0, 20.0, is_gate=True),
                ),
            )
        },
        glasses={"rocks": Glass(slug="rocks", name="Double rocks", brim_ml=350.0, ice="cube", ice_g=115.0)},
        methods={row.slug: row for row in METHODS},
        measures={"dash": Measure(slug="dash", name="Dash", value=0.8, unit="ml", low=0.6, high=1.0)},
        top_id=TOP_ID,
    )


BREW, CURD, MAKING, BREW_TOP_ID = 80, 95, 96, 96
BREW_LIME, BREW_MUDDLE, BREW_LEAF, BREW_WASH, BREW_STRAIN = 81, 82, 83, 84, 85
BREW_FERMENT, BREW_ACID, BREW_SWEET, BREW_PH = 86, 87, 88, 89


def brew_steps() -> tuple[AnyStep, ...]:
    """All bench steps that the rest of the house has not."""
    at = {"build_id": BREW}
    return (
        Add(id=BREW_LIME, place=1.0, item_id=LIME, amount=grams(900.0), weight=Weight.BOUGHT, bought_g=910.0, **at),
        Muddle(id=BREW_MUDDLE, place=2.0, words="bruise", **at),
        Infuse(id=BREW_LEAF, place=3.0, item_id=LEAF, amount=Amount(5.0, "%", Basis.PERCENT_OF_LINES, (BREW_LIME,)),
               acids_given_pct=60.0, water_given_pct=5.0, given_spread_pct=20.0, **at),
        Wash(id=BREW_WASH, place=4.0, kind=WashKind.MILK, protein_held_pct=80.0, **at),
        Strain(id=BREW_STRAIN, place=5.0, way="milk", weighed_g=820.0, leftover_id=CURD, **at),
        Ferment(id=BREW_FERMENT, place=6.0, kind=FermentKind.YEAST, gas_lost_g=2.0, **at),
        Adjust(id=BREW_ACID, place=7.0, goal=Goal.ACIDITY, value=7.0, portions=(Portion(LIME, 2.0), Portion(TONIC)), **at),
        Adjust(id=BREW_SWEET, place=8.0, goal=Goal.BRIX, like_item_id=TONIC, portions=(Portion(SUGAR),), **at),
        Measurement(id=BREW_PH, place=9.0, quantity=Measurable.BRIX, value=9.0, instrument="refractometer",
                    uncertainty=0.2, gain=0.5, **at),
    )  # fmt: skip


def bench_house() -> HouseBook:
    """The house with a part that has all bench steps, its leftover, and one making of it."""
    brew = Build(
        id=BREW,
        kind=BuildKind.PART,
        name="leaf brew",
        steps=brew_steps(),
        acts_as_id=None,
        may_contain=("celery",),
    )
    curd = Leftover(id=CURD, build_id=BREW, name="leaf curd", acts_as_id=LEAF, value_per_kg=2.0)
    making = Making(
        id=MAKING, build_id=BREW, date="2026-11-02", yields=(StepYield(BREW_STRAIN, 940.0, 815.0),)
    )
    return house().with_build(brew).with_leftover(curd).with_making(making)


RYE, RYE_RINSE, RYE_GIN, RYE_CHILL, RYE_STRAIN, RYE_SMOKE, RYE_GAS, RYE_FLOAT, RYE_TOP_ID = (
    80,
    81,
    82,
    83,
    84,
    85,
    86,
    87,
    88,
)
WEIGHING = 88


def bar_steps() -> tuple[AnyStep, ...]:
    """All steps at the bar that the rest of the house has not."""
    at = {"build_id": RYE}
    return (
        Rinse(id=RYE_RINSE, place=1.0, item_id=LIME, amount=millilitres(10.0), **at),
        Add(id=RYE_GIN, place=2.0, item_id=GIN, amount=millilitres(60.0), **at),
        Chill(id=RYE_CHILL, place=3.0, method="throw", ice="cubes", **at),
        BarStrain(id=RYE_STRAIN, place=4.0, fresh_ice="one 50 mm cube", fresh_ice_g=115.0, **at),
        Smoke(id=RYE_SMOKE, place=5.0, **at),
        Carbonate(id=RYE_GAS, place=6.0, vessel="bottle", co2_g_per_l=5.0, at_c=2.0, **at),
        Top(id=RYE_FLOAT, place=7.0, item_id=SODA, amount=millilitres(10.0), is_layer=True, **at),
    )  # fmt: skip


def bar_house() -> HouseBook:
    """The house with ice and vessels, a drink with all steps at the bar, one weighing of it, and swaps."""
    book = house()
    ices = (
        Ice(slug="cubes", name="Cubes"),
        Ice(slug="cube-50", name="50 mm cube", pace=0.7),
        Ice(slug="pebble", name="Pebble"),
    )
    vessels = (
        Vessel(slug="bottle", name="Bottle", volume_ml=212.0, fill_ml=180.0, rated_kpa=600.0),
        Vessel(slug="keg", name="Keg", volume_ml=19_500.0, rated_kpa=900.0),
        Vessel(slug="jar", name="Jar", volume_ml=530.0),
    )
    rye = Build(
        id=RYE,
        kind=BuildKind.DRINK,
        name="Fennel Rye",
        steps=bar_steps(),
        batch=Batch(serves=20.0, vessel="jar"),
    )
    weighing = Weighing(
        id=WEIGHING, method="throw", ice="cubes", date="2026-11-20", build_id=RYE, step_id=RYE_CHILL,
        composition=composition(water=50.0, ethanol=20.0), liquid_c=18.0, ice_g=150.0, melted_g=24.8,
    )  # fmt: skip
    calibration = Calibration(
        slug="throw/cubes", method="throw", ice="cubes", date="2026-11-20", tau_s=12.0, weighings=1
    )
    book = replace(book, ices={row.slug: row for row in ices}, vessels={row.slug: row for row in vessels})
    book = book.with_build(rye).with_weighing(weighing).with_calibration(calibration)
    return book.with_settings(structs.replace(book.settings, swaps=(Swap(GIN, TONIC, 0.8), Swap(SPENT))))


def amount_of(book: HouseBook, build_id: int, step_id: int) -> Amount:
    """The amount of a line or take."""
    step = book.step(build_id, step_id)
    assert isinstance(step, Line | Take)
    return step.amount


def rest(minutes: float) -> Rest:
    """A step to put in: its ids do not matter."""
    return Rest(id=0, build_id=0, place=0.0, duration_s=60.0 * minutes)


class Clock:
    """A clock that stands until it is moved on."""

    def __init__(self) -> None:
        self.now = datetime(2026, 11, 21, 18, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now

    def pass_seconds(self, seconds: float) -> None:
        """Moves the clock on."""
        self.now += timedelta(seconds=seconds)
