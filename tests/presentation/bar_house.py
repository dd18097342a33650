"""A bar for the tests of what happens at and on the glass: the small house with methods, ice, vessels and a drink that has
every step of the bar. Figures are round, made up for these tests."""

from dataclasses import replace

from msgspec import structs

from tests.presentation.small_house import house, raw
from washline.chemistry.components import COMPONENTS
from washline.model.amount import Amount, Heft, millilitres
from washline.model.book import HouseBook
from washline.model.house import Glass, Ice, Method, MethodKind, Vessel, Weighing
from washline.model.item import Build, BuildKind, KeptAt
from washline.model.step import (
    Add,
    AnyStep,
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    Garnish,
    GarnishWay,
    IceState,
    Rinse,
    Smoke,
    Top,
)

ANISE, RYE, VERMOUTH_RED, PEEL, CREAM, SALT, FIZZ = range(50, 57)
AT_THE_BAR, BOTTLED = 70, 71
(RINSING, RYE_LINE, VERMOUTH_LINE, STIRRING, STRAINING, FLOATING, EXPRESSING, RIMMING, SMOKING) = range(
    400, 409
)
(BASE_LINE, CARBONATING) = range(420, 422)

METHODS = (
    Method(slug="stir", name="Stir on ice, strain", ice="Cubes", ice_g=180.0, dilution_low_pct=35.0, dilution_high_pct=50.0,
           end_low_c=-5.0, end_high_c=0.0, published="stirred", core=0.5),
    Method(slug="shake", name="Shake on ice, strain", ice="Cubes", ice_g=200.0, dilution_low_pct=48.0,
           dilution_high_pct=62.0, end_low_c=-8.0, end_high_c=-3.0, published="shaken", approach=1.0, tau_s=4.5),
    Method(slug="dry-shake", name="Dry shake without ice", kind=MethodKind.NO_ICE, dilution_low_pct=0.0,
           dilution_high_pct=0.0, end_low_c=18.0, end_high_c=25.0),
    Method(slug="blend", name="Blend with ice", kind=MethodKind.ALL_IN, ice="Crushed", ice_g=150.0, dilution_low_pct=80.0,
           dilution_high_pct=140.0, end_low_c=-6.0, end_high_c=-2.0, approach=1.0),
    Method(slug="rinse", name="Rinse the glass and discard", kind=MethodKind.OTHER, dilution_low_pct=0.0,
           dilution_high_pct=0.0, end_low_c=0.0, end_high_c=20.0),
)  # fmt: skip
ICES = (
    Ice(slug="cubes", name="Cubes"),
    Ice(slug="cube-50", name="50 mm cube", pace=0.7, edge_mm=50.0, piece_g=115.0),
    Ice(slug="cracked", name="Cracked", pace=1.5, wet_pct=6.0),
    Ice(slug="crushed", name="Crushed", pace=3.0, wet_pct=8.0),
    Ice(slug="machine-cubes", name="Machine cubes", pace=1.5, surface_water_pct=5.0),
)
VESSELS = (
    Vessel(
        slug="crown-bottle-200",
        name="Crown-cap bottle, 200 ml",
        volume_ml=212.0,
        fill_ml=180.0,
        rated_kpa=600.0,
    ),
    Vessel(slug="keg-19", name="Keg, 19 l", volume_ml=19_500.0, fill_ml=18_000.0, rated_kpa=900.0),
    Vessel(slug="jar-500", name="Jar with lid, 500 ml", volume_ml=530.0, fill_ml=480.0),
)


def bar_house(*more: AnyStep) -> HouseBook:
    """The bar, with more steps behind those of its drink."""
    book = house()
    raws = [
        raw(ANISE, "anise spirit", price=30.0, ethanol=55.0, sucrose=2.0),
        raw(RYE, "rye spirit", price=28.0, ethanol=42.0),
        raw(
            VERMOUTH_RED,
            "red vermouth",
            kept_at=KeptAt.FRIDGE,
            price=12.0,
            ethanol=12.0,
            glucose=7.0,
            fructose=7.0,
        ),
        raw(PEEL, "lemon peel", form="solid", price=3.0, piece_g=2.0, fibre=10.0),
        raw(CREAM, "cream", kept_at=KeptAt.FRIDGE, price=6.0, fat=30.0),
        raw(SALT, "flake salt", form="powder", price=5.0, nacl=99.0),
        raw(FIZZ, "tall base", kept_at=KeptAt.FRIDGE, sucrose=6.0),
    ]
    book = replace(
        book,
        raws={**book.raws, **{one.id: one for one in raws}},
        methods={**book.methods, **{one.slug: one for one in METHODS}},
        ices={one.slug: one for one in ICES},
        vessels={one.slug: one for one in VESSELS},
        glasses={
            **book.glasses,
            "stem": Glass(slug="stem", name="stemmed bell glass", brim_ml=150.0, usual_fill_ml=110.0),
        },
        top_id=500,
    )
    return replace(book.with_build(drink(*more)).with_build(_bottled()), top_id=500)


def drink(*more: AnyStep) -> Build:
    """The drink with every step of the bar."""

    def place(step_id: int) -> dict[str, int | float]:
        return {"id": step_id, "build_id": AT_THE_BAR, "place": float(step_id)}

    return Build(
        id=AT_THE_BAR, kind=BuildKind.DRINK, name="Stirred at the bar", glass="stem",
        steps=(
            Rinse(**place(RINSING), item_id=ANISE, amount=millilitres(5.0)),
            Add(**place(RYE_LINE), item_id=RYE, amount=Amount(60.0, "ml")),
            Add(**place(VERMOUTH_LINE), item_id=VERMOUTH_RED, amount=Amount(0.75, "oz", heft=Heft.SCANT)),
            Chill(**place(STIRRING), method="stir", ice="cubes", ice_g=180.0, ice_state=IceState.WET, duration_s=30.0),
            BarStrain(**place(STRAINING), way=BarStrainWay.FINE, held_back_ml=3.0),
            Top(**place(FLOATING), item_id=CREAM, amount=millilitres(10.0), is_layer=True),
            Garnish(**place(EXPRESSING), item_id=PEEL, amount=Amount(1.0, "piece"), way=GarnishWay.EXPRESS, stays_g=0.0),
            Garnish(**place(RIMMING), item_id=SALT, amount=Amount(2.0, "g"), way=GarnishWay.RIM, stays_g=0.5),
            Smoke(**place(SMOKING), words="oak", duration_s=20.0),
            *more,
        ),
    )  # fmt: skip


def _bottled() -> Build:
    def place(step_id: int) -> dict[str, int | float]:
        return {"id": step_id, "build_id": BOTTLED, "place": float(step_id)}

    return Build(
        id=BOTTLED, kind=BuildKind.PART, name="bottled tall", kept_at=KeptAt.FRIDGE,
        steps=(
            Add(**place(BASE_LINE), item_id=FIZZ, amount=Amount(180.0, "ml")),
            Carbonate(**place(CARBONATING), vessel="crown-bottle-200", co2_g_per_l=6.0, at_c=2.0, fills=3.0),
        ),
    )  # fmt: skip


def weighed(book: HouseBook, melted_g: float, date: str = "2026-11-21") -> HouseBook:
    """The book with a weighing of the stir in its drink."""
    return book.with_weighing(
        Weighing(id=600, method="stir", ice="cubes", date=date, build_id=AT_THE_BAR, step_id=STIRRING,
                 composition=(0.0,) * len(COMPONENTS), liquid_c=15.0, ice_g=180.0, melted_g=melted_g)
    )  # fmt: skip


def with_step(book: HouseBook, step: AnyStep) -> HouseBook:
    """The book with a step of the drink replaced by another one of the same id."""
    build = book.builds[AT_THE_BAR]
    steps = tuple(step if one.id == step.id else one for one in build.steps)
    return book.with_build(structs.replace(build, steps=steps))
