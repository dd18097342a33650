"""Writes what a house book holds as rows of the open format: ids become keys, ids of steps become their numbers."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import msgspec

from washline.chemistry.components import COMPONENTS
from washline.exchange.kit_rows import CountingRow, GlassRow, IceRow, MeasureRow, MethodRow, VesselRow
from washline.exchange.row_types import FileRow
from washline.exchange.rows import (
    AimRow,
    AmountRow,
    AnyStepRow,
    BatchRow,
    BuildRow,
    CompositionRow,
    LeftoverRow,
    MakingRow,
    PortionRow,
    PriceRow,
    RawRow,
    SignRow,
    StepYieldRow,
    TargetRow,
)
from washline.exchange.rows_to_model import STEPS
from washline.model.amount import Amount
from washline.model.house import Glass, Ice, Measure, Method, Settings, Vessel
from washline.model.item import Batch, Build, Leftover, Making, RawIngredient
from washline.model.step import Adjust, AnyStep, Carbonate, Chill, Line, Strain, Take
from washline.model.target import Target
from washline.problem import UserError

_STEP_ROWS: Mapping[type[AnyStep], type[AnyStepRow]] = {step: row for row, step in STEPS.items()}


@dataclass(frozen=True, slots=True)
class Keys:
    """The keys by which a file calls the things of a house book."""

    items: Mapping[int, str]
    leftovers: Mapping[int, Leftover]
    targets: Mapping[int, str]
    glasses: Mapping[str, str]
    methods: Mapping[str, str]
    vessels: Mapping[str, str] = field(default_factory=dict)
    makings: Mapping[int, Sequence[Making]] = field(default_factory=dict)
    """The makings of each build that are written with it."""


def raw_row(raw: RawIngredient, slug: str) -> RawRow:
    """The row of a raw ingredient. Today's fruit stays in the house that tasted it."""
    return RawRow(
        slug=slug,
        composition=CompositionRow(**dict(zip(COMPONENTS, raw.composition, strict=True))),
        prices=tuple(PriceRow(**_fields(price, PriceRow)) for price in raw.prices),
        **_fields(raw, RawRow, "slug", "composition", "prices"),
    )


def target_row(target: Target, name: str) -> TargetRow:
    """The row of a target."""
    return TargetRow(name=name, aims=tuple(AimRow(**_fields(aim, AimRow)) for aim in target.aims))


def glass_row(glass: Glass) -> GlassRow:
    """The row of a glass."""
    return GlassRow(**_fields(glass, GlassRow))


def method_row(method: Method) -> MethodRow:
    """The row of a method of chilling."""
    return MethodRow(**_fields(method, MethodRow))


def ice_row(ice: Ice) -> IceRow:
    """The row of a kind of ice."""
    return IceRow(**_fields(ice, IceRow))


def vessel_row(vessel: Vessel) -> VesselRow:
    """The row of a vessel."""
    return VesselRow(**_fields(vessel, VesselRow))


def measure_row(measure: Measure) -> MeasureRow:
    """The row of a measure."""
    return MeasureRow(**_fields(measure, MeasureRow))


def counting_row(settings: Settings) -> CountingRow:
    """How a house counts."""
    return CountingRow(**_fields(settings, CountingRow))


def build_row(build: Build, keys: Keys) -> BuildRow:
    """The row of a build. Raises ``UserError`` where a line names an item, or a share a line, that is gone."""
    numbers = {step.id: number for number, step in enumerate(build.steps, start=1)}
    return BuildRow(
        key=keys.items[build.id],
        kind="drink" if build.is_drink else "part",
        glass=None if build.glass is None else keys.glasses.get(build.glass, build.glass),
        target=None if build.target_id is None else keys.targets.get(build.target_id),
        twist_of=None if build.parent_id is None else keys.items.get(build.parent_id),
        acts_as=_acts_as(build, keys),
        batch=_batch_row(build.batch, keys),
        if_off=tuple(SignRow(taste=sign.taste, remedy=sign.remedy) for sign in build.if_off),
        steps=tuple(_step_row(step, build, numbers, keys) for step in build.steps),
        makings=tuple(_making_row(making, numbers) for making in keys.makings.get(build.id, ())),
        **_fields(build, BuildRow, *_BUILD_ELSEWHERE),
    )


_BUILD_ELSEWHERE = (
    "key", "kind", "glass", "target", "twist_of", "acts_as", "batch", "if_off", "steps", "makings",
)  # fmt: skip


def _batch_row(batch: Batch | None, keys: Keys) -> BatchRow | None:
    if batch is None:
        return None
    vessel = keys.vessels.get(batch.vessel, batch.vessel)
    return BatchRow(vessel=vessel, **_fields(batch, BatchRow, "vessel"))


def _making_row(making: Making, numbers: Mapping[int, int]) -> MakingRow:
    yields = tuple(
        StepYieldRow(step=numbers[one.step_id], before_g=one.before_g, weighed_g=one.weighed_g)
        for one in making.yields
        if one.step_id in numbers
    )
    return MakingRow(date=making.date, yields=yields, note=making.note)


def _acts_as(row: Build | Leftover, keys: Keys) -> str | None:
    if row.acts_as_id is None:
        return None
    if row.acts_as_id not in keys.items:
        words = f"{row.name} cannot be written."
        raise UserError(words, "What it acts as is gone.", "Choose another raw ingredient there.")
    return keys.items[row.acts_as_id]


def _step_row(step: AnyStep, build: Build, numbers: Mapping[int, int], keys: Keys) -> AnyStepRow:
    own: dict[str, Any] = {}
    if isinstance(step, Line | Take):
        own["amount"] = _amount_row(step.amount, build, numbers)
    if isinstance(step, Line):
        own["item"] = _item_key(step.item_id, build, numbers[step.id], keys)
    if isinstance(step, Strain | Take):
        own["leftover"] = _leftover_row(step.leftover_id, keys)
    if isinstance(step, Adjust):
        own |= _adjustment(step, build, numbers[step.id], keys)
    if isinstance(step, Chill):
        own["method"] = keys.methods.get(step.method, step.method)
    if isinstance(step, Carbonate):
        own["vessel"] = keys.vessels.get(step.vessel, step.vessel)
    kind = _STEP_ROWS[type(step)]
    return kind(**own, **_fields(step, kind, "amount", "item", "leftover", "portions", "like", *own))


def _adjustment(step: Adjust, build: Build, number: int, keys: Keys) -> dict[str, Any]:
    like = step.like_item_id
    return {
        "portions": tuple(
            PortionRow(item=_item_key(one.item_id, build, number, keys), parts=one.parts)
            for one in step.portions
        ),
        "like": None if like is None else _item_key(like, build, number, keys),
    }


def _amount_row(amount: Amount, build: Build, numbers: Mapping[int, int]) -> AmountRow:
    gone = [step_id for step_id in amount.of if step_id not in numbers]
    if gone:
        words = f"{build.name} cannot be written."
        raise UserError(words, "A share in it refers to a line that is gone.", "Type that amount anew.")
    of = tuple(numbers[step_id] for step_id in amount.of)
    return AmountRow(of=of, **_fields(amount, AmountRow, "of"))


def _item_key(item_id: int, build: Build, number: int, keys: Keys) -> str:
    if item_id not in keys.items:
        words = f"{build.name} cannot be written."
        raise UserError(words, f"Its line {number} names an item that is gone.", "Choose another item there.")
    return keys.items[item_id]


def _leftover_row(leftover_id: int | None, keys: Keys) -> LeftoverRow | None:
    leftover = None if leftover_id is None else keys.leftovers.get(leftover_id)
    if leftover is None:
        return None
    return LeftoverRow(
        key=keys.items[leftover.id],
        acts_as=_acts_as(leftover, keys),
        **_fields(leftover, LeftoverRow, "key", "acts_as"),
    )


def _fields(source: msgspec.Struct, row: type[FileRow], *others: str) -> dict[str, Any]:
    """The fields that a row shares with the model by name: all but the ``others``."""
    return {name: getattr(source, name) for name in row.__struct_fields__ if name not in others}
