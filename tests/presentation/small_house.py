"""A small house for the tests of the sheet: one drink, one house-made part with a weighed yield, its leftover, and a
few raw ingredients whose compositions are round figures made up for these tests."""

from dataclasses import replace

from washline.chemistry.components import COMPONENTS
from washline.engine.workings import Workings
from washline.model.amount import Amount, Basis, grams, millilitres
from washline.model.book import HouseBook
from washline.model.house import Glass, Measure, Method
from washline.model.item import Build, BuildKind, KeptAt, Leftover, Price, RawIngredient
from washline.model.step import Add, Blend, Chill, Dry, Garnish, Rest, Strain, Top

VERMOUTH, PEAR, MALIC, SUGAR, VERJUS, SODA, LEAF, GIN, BITTERS = range(1, 10)
CORDIAL, SPENT_PEAR, LEATHER, SIGNAL, OTHER = 20, 21, 22, 30, 31
PEAR_LINE, MALIC_LINE, BLENDING, RESTING, SPIN, SUGAR_LINE = range(100, 106)
LEATHER_LINE, DRYING = 110, 111
VERMOUTH_LINE, CORDIAL_LINE, VERJUS_LINE, ICE, SODA_LINE, LEAF_LINE = range(120, 126)
OTHER_LINE = 130


def raw(item_id: int, name: str, *, form: str = "liquid", kept_at: KeptAt = KeptAt.ROOM, price: float | None = None,
        density: float | None = None, piece_g: float | None = None, unknown: tuple[str, ...] = (),
        **parts: float) -> RawIngredient:  # fmt: skip
    """A raw ingredient with these parts per 100 g; the rest is water, unless something is unknown."""
    rest = 0.0 if unknown else 100.0 - sum(parts.values())
    known = {"water": rest, **parts} if rest > 0 else dict(parts)
    composition = tuple(None if key in unknown else known.get(key, 0.0) for key in COMPONENTS)
    return RawIngredient(
        id=item_id, slug=name.replace(" ", "-"), name=name, form=form, composition=composition, kept_at=kept_at,
        density_g_per_ml=density, piece_g=piece_g, allergens=(), dash_ml=0.8,
        prices=(Price(price, "l" if form == "liquid" else "kg", "2026-01-01"),) if price is not None else (),
    )  # fmt: skip


def house() -> HouseBook:
    """The house book of these tests."""
    fridge = KeptAt.FRIDGE
    raws = [
        raw(VERMOUTH, "dry white vermouth", kept_at=fridge, price=11.0, ethanol=14.3, glucose=1.5, fructose=1.5,
            tartaric=0.4),
        raw(PEAR, "ripe pear", form="solid", price=4.0, fructose=6.5, glucose=2.8, sucrose=0.8, malic=0.2, insoluble=3.0),
        raw(MALIC, "malic acid", form="powder", price=12.0, malic=99.5),
        raw(SUGAR, "white sugar", form="powder", price=1.2, sucrose=100.0),
        raw(VERJUS, "verjus", kept_at=fridge, price=9.0, glucose=1.4, fructose=1.5, malic=1.4, tartaric=0.7),
        raw(SODA, "soda water", kept_at=fridge, price=0.8),
        raw(LEAF, "sorrel leaf", form="solid", price=20.0, piece_g=0.6, fibre=3.0),
        raw(GIN, "dry gin", price=25.0, ethanol=39.0),
        raw(BITTERS, "house bitters", price=None, density=0.95,
            unknown=("sucrose", "glucose", "fructose", "lactose", "maltose"), ethanol=36.0, water=54.0),
    ]  # fmt: skip
    book = HouseBook(raws={one.id: one for one in raws}, top_id=200)
    book = replace(
        book,
        glasses={"rocks": Glass(slug="rocks", name="rocks glass", brim_ml=300.0, ice="one cube", ice_g=115.0)},
        methods={"build": Method(slug="build", name="Build on the cube", dilution_low_pct=8, dilution_high_pct=20,
                                  end_low_c=1, end_high_c=6)},
        measures={"dash": Measure(slug="dash", name="Dash", value=0.8, unit="ml", low=0.4, high=1.1)},
    )  # fmt: skip
    book = book.with_leftover(Leftover(id=SPENT_PEAR, build_id=CORDIAL, name="spent pear"))
    for build in (_cordial(), _leather(), _signal(), _other()):
        book = book.with_build(build)
    return book


def _cordial() -> Build:
    def place(step_id: int) -> dict[str, float | int]:
        return {"id": step_id, "build_id": CORDIAL, "place": float(step_id)}

    return Build(
        id=CORDIAL, kind=BuildKind.PART, name="pear cordial", kept_at=KeptAt.FRIDGE, pour_ml=22.5,
        steps=(
            Add(**place(PEAR_LINE), item_id=PEAR, amount=grams(1200.0)),
            Add(**place(MALIC_LINE), item_id=MALIC, amount=grams(24.0)),
            Blend(**place(BLENDING), duration_s=90.0, words="high"),
            Rest(**place(RESTING), duration_s=2700.0, temperature_low_c=35.0, temperature_high_c=40.0, words="covered"),
            Strain(**place(SPIN), weighed_g=905.0, expected_pct=70.0, low_pct=62.0, high_pct=76.0,
                   leftover_id=SPENT_PEAR, leftover_weighed_g=305.0),
            Add(**place(SUGAR_LINE), item_id=SUGAR, amount=Amount(42.0, "%", Basis.PERCENT_OF_LINES, (SPIN,))),
        ),
    )  # fmt: skip


def _leather() -> Build:
    return Build(
        id=LEATHER, kind=BuildKind.PART, name="pear leather", piece_g=4.3,
        steps=(
            Add(id=LEATHER_LINE, build_id=LEATHER, place=1.0, item_id=SPENT_PEAR, amount=grams(305.0)),
            Dry(id=DRYING, build_id=LEATHER, place=2.0, final_pct=42.0),
        ),
    )  # fmt: skip


def _signal() -> Build:
    def place(step_id: int) -> dict[str, float | int]:
        return {"id": step_id, "build_id": SIGNAL, "place": float(step_id)}

    return Build(
        id=SIGNAL, kind=BuildKind.DRINK, name="Pear Signal", glass="rocks", ice_g=115.0, wash_line_ml=175.0,
        steps=(
            Add(**place(VERMOUTH_LINE), item_id=VERMOUTH, amount=millilitres(60.0)),
            Add(**place(CORDIAL_LINE), item_id=CORDIAL, amount=millilitres(22.5)),
            Add(**place(VERJUS_LINE), item_id=VERJUS, amount=millilitres(15.0)),
            Chill(**place(ICE), method="build", count=10.0, count_unit="turns", melted_g=9.8),
            Top(**place(SODA_LINE), item_id=SODA, amount=millilitres(60.0)),
            Garnish(**place(LEAF_LINE), item_id=LEAF, amount=Amount(1.0, "leaf"), words="on the cube"),
        ),
    )  # fmt: skip


def _other() -> Build:
    line = Add(id=OTHER_LINE, build_id=OTHER, place=1.0, item_id=CORDIAL, amount=millilitres(30.0))
    return Build(id=OTHER, kind=BuildKind.DRINK, name="Other Signal", glass="rocks", steps=(line,))


def workings() -> Workings:
    """The engine on the house."""
    return Workings(house())
