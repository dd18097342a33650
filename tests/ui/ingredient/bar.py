"""A bar small enough to compute by hand: two sours, of which one pours juice of the house's own breaking down."""

from washline.chemistry.components import COMPONENTS
from washline.model.amount import grams, millilitres
from washline.model.book import HouseBook
from washline.model.item import Build, BuildKind, KeptAt, Price, RawIngredient
from washline.model.step import Add, Strain
from washline.model.target import Aim, Target

GIN, LEMON, SYRUP, WATER, WHOLE = range(1, 6)
SOUR, LANTERN, OURS, TARGET = 20, 21, 22, 30
LEMON_LINE = 102


def raw(item_id: int, name: str, form: str = "liquid", **parts: float) -> RawIngredient:
    """A raw ingredient; what is not named is water."""
    known = {"water": 100.0 - sum(parts.values()), **parts}
    return RawIngredient(
        id=item_id,
        slug=name.replace(" ", "-"),
        name=name,
        form=form,
        composition=tuple(known.get(key, 0.0) for key in COMPONENTS),
        allergens=(),
        prices=(Price(4.0, "l" if form == "liquid" else "kg", "2026-11-01"),),
        kept_at=KeptAt.FRIDGE,
        **(
            {"acid_uncertainty_pct": 12.0, "ph_model": "potassium", "strong_cation_mmol_per_100g": 3.0}
            if item_id in (LEMON, WHOLE)
            else {}
        ),  # type: ignore[arg-type]
    )


def _add(step_id: int, build_id: int, item_id: int, ml: float) -> Add:
    amount = millilitres(ml)
    return Add(id=step_id, build_id=build_id, place=float(step_id), item_id=item_id, amount=amount)


def bar() -> HouseBook:
    """The house book, made anew."""
    raws = (
        raw(GIN, "dry gin", ethanol=40.0),
        raw(LEMON, "lemon juice", citric=5.0, sucrose=2.0),
        raw(SYRUP, "plain syrup", sucrose=50.0),
        raw(WATER, "water"),
        raw(WHOLE, "whole lemon", "solid", citric=5.0, insoluble=4.0),
    )
    aims = (
        Aim("strength", 10.0, 15.0, 20.0),
        Aim("sweetness", 5.0, 10.0, 14.0),
        Aim("acidity", 0.6, 0.8, 0.95),
    )
    book = HouseBook(raws={one.id: one for one in raws}, top_id=400)
    book = book.with_target(Target(id=TARGET, name="sour", aims=aims))
    ours = Build(
        id=OURS,
        kind=BuildKind.PART,
        name="lemon juice, ours",
        acts_as_id=LEMON,
        steps=(
            Add(id=301, build_id=OURS, place=1.0, item_id=WHOLE, amount=grams(1000.0)),
            Strain(id=302, build_id=OURS, place=2.0, weighed_g=400.0),
        ),
    )
    sour = Build(
        id=SOUR,
        kind=BuildKind.DRINK,
        name="Marsh Sour",
        target_id=TARGET,
        steps=tuple(
            _add(step, SOUR, item, ml)
            for step, item, ml in (
                (101, GIN, 45.0),
                (LEMON_LINE, LEMON, 22.5),
                (103, SYRUP, 22.5),
                (104, WATER, 40.0),
            )
        ),
    )
    lantern = Build(
        id=LANTERN,
        kind=BuildKind.DRINK,
        name="Low Lantern",
        target_id=TARGET,
        steps=tuple(
            _add(step, LANTERN, item, ml)
            for step, item, ml in (
                (201, GIN, 45.0),
                (202, OURS, 20.0),
                (203, SYRUP, 22.5),
                (204, WATER, 50.0),
            )
        ),
    )
    for build in (ours, sour, lantern):
        book = book.with_build(build)
    return book
