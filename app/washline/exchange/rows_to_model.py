"""Puts rows of the open format into a house book: keys become ids, numbers of steps become ids of steps."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from washline.chemistry.components import COMPONENTS
from washline.exchange.checks import leftovers_of
from washline.exchange.kit_rows import GlassRow, IceRow, MeasureRow, MethodRow, VesselRow
from washline.exchange.row_types import FileRow
from washline.exchange.rows import (
    AddRow,
    AdjustRow,
    AmountRow,
    AnyStepRow,
    BarStrainRow,
    BatchRow,
    BlendRow,
    BuildRow,
    CarbonateRow,
    ChillRow,
    DryRow,
    FermentRow,
    GarnishRow,
    HeatRow,
    InfuseRow,
    LeftoverRow,
    LineRow,
    MakingRow,
    MeasurementRow,
    MuddleRow,
    NoteRow,
    RawRow,
    ReduceRow,
    RestRow,
    RinseRow,
    SmokeRow,
    StrainRow,
    TakeRow,
    TargetRow,
    TopRow,
    WashRow,
)
from washline.model.amount import Amount
from washline.model.book import HouseBook
from washline.model.house import Glass, Ice, Measure, Method, Vessel
from washline.model.item import (
    Batch,
    Build,
    BuildKind,
    Leftover,
    Making,
    Price,
    RawIngredient,
    Sign,
    StepYield,
)
from washline.model.step import (
    Add,
    Adjust,
    AnyStep,
    BarStrain,
    Blend,
    Carbonate,
    Chill,
    Dry,
    Ferment,
    Garnish,
    Heat,
    Infuse,
    Measurement,
    Muddle,
    Note,
    Portion,
    Reduce,
    Rest,
    Rinse,
    Smoke,
    Strain,
    Take,
    Top,
    Wash,
)
from washline.model.target import Aim, Target

STEPS: Mapping[type[AnyStepRow], type[AnyStep]] = {
    AddRow: Add,
    BlendRow: Blend,
    MuddleRow: Muddle,
    RestRow: Rest,
    NoteRow: Note,
    InfuseRow: Infuse,
    WashRow: Wash,
    StrainRow: Strain,
    HeatRow: Heat,
    ReduceRow: Reduce,
    DryRow: Dry,
    FermentRow: Ferment,
    AdjustRow: Adjust,
    MeasurementRow: Measurement,
    TakeRow: Take,
    ChillRow: Chill,
    BarStrainRow: BarStrain,
    RinseRow: Rinse,
    SmokeRow: Smoke,
    CarbonateRow: Carbonate,
    TopRow: Top,
    GarnishRow: Garnish,
}
"""The step that each kind of row stands for."""


@dataclass(frozen=True, slots=True)
class Names:
    """What the keys of a file stand for in a house book: ids of items and targets, slugs of glasses, methods and
    vessels."""

    items: Mapping[str, int]
    targets: Mapping[str, int]
    glasses: Mapping[str, str]
    methods: Mapping[str, str]
    vessels: Mapping[str, str]


def raw_ingredient(row: RawRow, item_id: int, slug: str, name: str) -> RawIngredient:
    """A raw ingredient from its row."""
    return RawIngredient(
        id=item_id,
        slug=slug,
        name=name,
        composition=tuple(getattr(row.composition, component) for component in COMPONENTS),
        prices=tuple(Price(**_fields(price)) for price in row.prices),
        **_fields(row, "slug", "name", "composition", "prices"),
    )


def target(row: TargetRow, target_id: int, name: str) -> Target:
    """A target from its row."""
    return Target(id=target_id, name=name, aims=tuple(Aim(**_fields(aim)) for aim in row.aims))


def glass(row: GlassRow, slug: str, name: str) -> Glass:
    """A glass from its row."""
    return Glass(slug=slug, name=name, **_fields(row, "slug", "name"))


def method(row: MethodRow, slug: str, name: str) -> Method:
    """A method of chilling from its row."""
    return Method(slug=slug, name=name, **_fields(row, "slug", "name"))


def ice(row: IceRow) -> Ice:
    """A kind of ice from its row."""
    return Ice(**_fields(row))


def vessel(row: VesselRow, slug: str, name: str) -> Vessel:
    """A vessel from its row."""
    return Vessel(slug=slug, name=name, **_fields(row, "slug", "name"))


def measure(row: MeasureRow) -> Measure:
    """A measure from its row."""
    return Measure(**_fields(row))


def placed(
    book: HouseBook, rows: Sequence[BuildRow], names: Names, called: Mapping[str, str]
) -> tuple[HouseBook, Mapping[str, int]]:
    """The house book with new builds put in, and the ids of these builds and their leftovers by key.

    Ids follow ``book.top_id`` in the order of the rows: the build, its steps, its leftovers; then come the makings of all.
    ``called`` renames builds by key.
    """
    next_id = book.top_id + 1
    made: dict[str, int] = {}
    for row in rows:
        made[row.key] = next_id
        next_id += 1 + len(row.steps)
        for leftover in leftovers_of(row):
            made[leftover.key] = next_id
            next_id += 1
    everything = replace_items(names, made)
    builds = {made[row.key]: _build(row, everything, called) for row in rows}
    leftovers = {
        made[leftover.key]: _leftover(leftover, made[leftover.key], made[row.key], everything)
        for row in rows
        for leftover in leftovers_of(row)
    }
    makings = _makings(rows, made, next_id)
    new_book = replace(
        book,
        builds={**book.builds, **builds},
        leftovers={**book.leftovers, **leftovers},
        makings={**book.makings, **makings},
        top_id=next_id - 1 + len(makings),
    )
    return new_book, made


def _makings(rows: Sequence[BuildRow], made: Mapping[str, int], first: int) -> dict[int, Making]:
    owned = [(made[row.key], making) for row in rows for making in row.makings]
    return {
        making_id: _making(making, making_id, build_id)
        for making_id, (build_id, making) in enumerate(owned, start=first)
    }


def _making(row: MakingRow, making_id: int, build_id: int) -> Making:
    yields = tuple(StepYield(build_id + one.step, one.before_g, one.weighed_g) for one in row.yields)
    return Making(id=making_id, build_id=build_id, date=row.date, yields=yields, note=row.note)


def replace_items(names: Names, made: Mapping[str, int]) -> Names:
    """The names with more items."""
    return replace(names, items={**names.items, **made})


def _build(row: BuildRow, names: Names, called: Mapping[str, str]) -> Build:
    build_id = names.items[row.key]
    step_ids = range(build_id + 1, build_id + 1 + len(row.steps))
    elsewhere = (
        "key",
        "kind",
        "name",
        "glass",
        "target",
        "twist_of",
        "acts_as",
        "batch",
        "if_off",
        "steps",
        "makings",
    )
    return Build(
        id=build_id,
        kind=BuildKind(row.kind),
        name=called.get(row.key, row.name),
        glass=None if row.glass is None else names.glasses[row.glass],
        target_id=None if row.target is None else names.targets[row.target],
        parent_id=None if row.twist_of is None else names.items[row.twist_of],
        acts_as_id=None if row.acts_as is None else names.items[row.acts_as],
        batch=_batch(row.batch, names),
        if_off=tuple(Sign(sign.taste, sign.remedy) for sign in row.if_off),
        steps=tuple(_step(step, index, build_id, step_ids, names) for index, step in enumerate(row.steps)),
        **_fields(row, *elsewhere),
    )


def _batch(row: BatchRow | None, names: Names) -> Batch | None:
    if row is None:
        return None
    vessel_slug = names.vessels[row.vessel] if row.vessel else ""
    return Batch(vessel=vessel_slug, **_fields(row, "vessel"))


def _leftover(row: LeftoverRow, item_id: int, build_id: int, names: Names) -> Leftover:
    acts_as_id = None if row.acts_as is None else names.items[row.acts_as]
    return Leftover(id=item_id, build_id=build_id, acts_as_id=acts_as_id, **_fields(row, "key", "acts_as"))


def _step(row: AnyStepRow, index: int, build_id: int, step_ids: range, names: Names) -> AnyStep:
    own: dict[str, Any] = {}
    if isinstance(row, LineRow | TakeRow):
        own["amount"] = _amount(row.amount, step_ids)
    if isinstance(row, LineRow):
        own["item_id"] = names.items[row.item]
    if isinstance(row, StrainRow | TakeRow):
        own["leftover_id"] = None if row.leftover is None else names.items[row.leftover.key]
    if isinstance(row, AdjustRow):
        own["portions"] = tuple(Portion(names.items[one.item], one.parts) for one in row.portions)
        own["like_item_id"] = None if row.like is None else names.items[row.like]
    if isinstance(row, ChillRow):
        own["method"] = names.methods[row.method]
    if isinstance(row, CarbonateRow):
        own["vessel"] = names.vessels[row.vessel] if row.vessel else ""
    copied = _fields(row, "amount", "item", "leftover", "portions", "like", *own)
    kind = STEPS[type(row)]
    return kind(id=step_ids[index], build_id=build_id, place=float(index + 1), **own, **copied)


def _amount(row: AmountRow, step_ids: range) -> Amount:
    of = tuple(step_ids[number - 1] for number in row.of)
    return Amount(row.number, row.unit, row.basis, of, row.typed, row.heft)


def _fields(row: FileRow, *others: str) -> dict[str, Any]:
    """The fields of a row that are called and mean the same in the model: all but the ``others``."""
    return {name: getattr(row, name) for name in row.__struct_fields__ if name not in others}
