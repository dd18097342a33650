"""A bar of round figures for the tests of what stands in the glass: glasses, ices, methods, vessels and drinks."""

from dataclasses import replace
from typing import Any

from msgspec import structs

from tests.presentation.small_house import GIN, SODA, SUGAR, raw
from washline.model.amount import millilitres
from washline.model.book import HouseBook
from washline.model.house import Glass, Ice, Method, MethodKind, Settings, Vessel
from washline.model.item import Build, BuildKind
from washline.model.step import Add, AnyStep, Chill, Top

EGG, CREAM, SYRUP = 11, 12, 13
DRINK = 40
BASE_LINE, EGG_LINE, SHAKE, TOP_LINE, FLOAT_LINE = 201, 202, 203, 204, 205


def method(slug: str, kind: MethodKind, **fields: Any) -> Method:
    """A method with nothing but what a test says of it."""
    name = fields.pop("name", slug)
    return Method(
        slug=slug, name=name, kind=kind, dilution_low_pct=10, dilution_high_pct=20, end_low_c=-5, end_high_c=0,
        **fields,
    )  # fmt: skip


def step(kind: type[AnyStep], step_id: int, **fields: Any) -> AnyStep:
    """A step of the drink."""
    return kind(id=step_id, build_id=DRINK, place=float(step_id), **fields)


def bar() -> HouseBook:
    """The bar; its drink is 60 ml of gin, stirred, in a 200 ml glass without ice."""
    gin = structs.replace(raw(GIN, "dry gin", ethanol=39.0), density_g_per_ml=0.94)
    egg = structs.replace(raw(EGG, "egg white", protein=10.0), foams=True, density_g_per_ml=1.04)
    soda = structs.replace(raw(SODA, "soda water"), co2_g_per_l=6.0, density_g_per_ml=1.0)
    syrup = structs.replace(raw(SYRUP, "heavy syrup", sucrose=66.0), density_g_per_ml=1.32)
    cream = structs.replace(raw(CREAM, "cream", fat=35.0), density_g_per_ml=0.99)
    raws = [gin, egg, soda, syrup, cream, raw(SUGAR, "white sugar", form="powder", sucrose=100.0)]
    book = HouseBook(
        raws={one.id: one for one in raws},
        top_id=300,
        settings=Settings(wash_line_pct=80.0, egg_foam_pct=20.0, foam_allowance_ml=5.0),
        glasses={
            "rocks": Glass(
                slug="rocks", name="rocks glass", brim_ml=300.0, ice="one 50 mm cube", ice_g=114.6
            ),
            "coupe": Glass(slug="coupe", name="coupe", brim_ml=200.0, usual_fill_ml=100.0),
        },
        methods={
            "stir": method("stir", MethodKind.ON_ICE, name="Stir", ice="cubes", published="stirred"),
            "shake": method("shake", MethodKind.ON_ICE, name="Shake", ice="cubes", published="shaken"),
            "dry-shake": method("dry-shake", MethodKind.NO_ICE, name="Dry shake"),
            "swizzle": method("swizzle", MethodKind.IN_GLASS, name="Swizzle", ice="crushed"),
        },
        ices={
            "cubes": Ice(slug="cubes", name="Cubes"),
            "crushed": Ice(slug="crushed", name="Crushed", edge_mm=8.0, pace=3.0),
            "spear": Ice(slug="spear", name="Spear", edge_mm=36.0),
        },
        vessels={
            "bottle": Vessel(
                slug="bottle", name="rated bottle", volume_ml=750.0, fill_ml=700.0, rated_kpa=400.0
            )
        },
    )
    steps = (
        step(Add, BASE_LINE, item_id=GIN, amount=millilitres(60.0)),
        step(Chill, SHAKE, method="stir", melted_g=20.0),
    )
    return book.with_build(
        Build(id=DRINK, kind=BuildKind.DRINK, name="Test drink", glass="coupe", steps=steps)
    )


def with_drink(book: HouseBook, **fields: Any) -> HouseBook:
    """The bar with other fields of its drink."""
    return book.with_build(structs.replace(book.builds[DRINK], **fields))


def with_settings(book: HouseBook, **fields: Any) -> HouseBook:
    """The bar with other settings."""
    return replace(book, settings=structs.replace(book.settings, **fields))


def sour(book: HouseBook) -> HouseBook:
    """The drink with an egg white before its shake."""
    return with_drink(
        book,
        steps=(
            step(Add, BASE_LINE, item_id=GIN, amount=millilitres(60.0)),
            step(Add, EGG_LINE, item_id=EGG, amount=millilitres(20.0)),
            step(Chill, SHAKE, method="shake", melted_g=20.0),
        ),
    )


def topped(book: HouseBook) -> HouseBook:
    """The drink with soda on top."""
    soda = step(Top, TOP_LINE, item_id=SODA, amount=millilitres(60.0))
    return with_drink(book, steps=(*book.builds[DRINK].steps, soda))
