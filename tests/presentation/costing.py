"""A house for the tests of costs, with round figures: a gram of spirit costs 2 cent, a litre of it weighs a kilogram."""

from msgspec import structs

from washline.chemistry.components import COMPONENTS
from washline.engine.workings import Workings
from washline.model.amount import grams
from washline.model.book import HouseBook
from washline.model.house import Settings
from washline.model.item import Build, BuildKind, Leftover, Price, RawIngredient
from washline.model.step import Add, Strain

SPIRIT, WATER, HERB, ROOT, SECRET = 1, 2, 3, 4, 5
TINCTURE, SPENT, SYRUP, NEAT, MIXED, GUESS, NOTHING, LEFT = 20, 21, 22, 30, 31, 32, 33, 34
STRAIN = 202


def raw(item_id: int, name: str, prices: tuple[Price, ...], **fields: object) -> RawIngredient:
    """A raw ingredient that is water as far as the chemistry goes, and weighs a gram a millilitre."""
    composition = tuple(100.0 if key == "water" else 0.0 for key in COMPONENTS)
    given: dict[str, object] = {"density_g_per_ml": 1.0, "allergens": (), **fields}
    return RawIngredient(id=item_id, slug=name, name=name, composition=composition, prices=prices, **given)  # type: ignore[arg-type]


RAWS = (
    raw(SPIRIT, "spirit", (Price(30.0, "l", "2025-03-01"), Price(20.0, "l", "2026-05-01"))),
    raw(WATER, "water", (Price(0.0, "l", "2026-01-01"),)),
    raw(HERB, "herb", (Price(10.0, "kg", "2026-02-01"),), form="solid", edible_yield=0.5, edible_yield_basis="leaf"),
    raw(ROOT, "root", (Price(4.0, "kg", "2026-04-01"),), form="solid"),
    raw(SECRET, "secret", ()),
)  # fmt: skip


def line(step_id: int, build_id: int, item_id: int, grams_: float) -> Add:
    """So many grams of an item."""
    return Add(id=step_id, build_id=build_id, place=float(step_id), item_id=item_id, amount=grams(grams_))


def build(build_id: int, name: str, kind: BuildKind, *steps: object, **fields: object) -> Build:
    """A build of these steps."""
    return Build(id=build_id, kind=kind, name=name, steps=steps, **fields)  # type: ignore[arg-type]


def house(**settings: object) -> HouseBook:
    """The house. The tincture takes 900 g of spirit and 100 g of root, and leaves 800 g and 200 g of spent root."""
    part, drink = BuildKind.PART, BuildKind.DRINK
    strain = Strain(id=STRAIN, build_id=TINCTURE, place=300.0, weighed_g=800.0, leftover_id=SPENT)
    builds = (
        build(TINCTURE, "tincture", part, line(200, TINCTURE, SPIRIT, 900.0), line(201, TINCTURE, ROOT, 100.0), strain,
              pour_ml=20.0),
        build(SYRUP, "herb syrup", part, line(210, SYRUP, HERB, 100.0), line(211, SYRUP, TINCTURE, 100.0)),
        build(NEAT, "Neat", drink, line(220, NEAT, SPIRIT, 50.0)),
        build(MIXED, "Mixed", drink, line(230, MIXED, TINCTURE, 40.0), line(231, MIXED, WATER, 60.0)),
        build(GUESS, "Guess", drink, line(240, GUESS, SPIRIT, 50.0), line(241, GUESS, SECRET, 10.0)),
        build(NOTHING, "Nothing", drink),
        build(LEFT, "Left", drink, line(250, LEFT, SPENT, 10.0), line(251, LEFT, SPIRIT, 10.0)),
    )  # fmt: skip
    book = HouseBook(
        settings=Settings(**{"tax_pct": 20.0, "wanted_pour_cost_pct": 20.0, **settings}),  # type: ignore[arg-type]
        raws={one.id: one for one in RAWS},
        leftovers={SPENT: Leftover(id=SPENT, build_id=TINCTURE, name="spent root")},
        top_id=400,
    )
    for one in builds:
        book = book.with_build(one)
    return book


def changed(book: HouseBook, build_id: int, **fields: object) -> HouseBook:
    """The house with fields of a build changed."""
    return book.with_build(structs.replace(book.builds[build_id], **fields))  # type: ignore[arg-type]


def worked_out(book: HouseBook) -> Workings:
    """The engine on a house, everything evaluated."""
    workings = Workings(book)
    workings.evaluate_all()
    return workings
