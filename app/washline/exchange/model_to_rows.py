"""Writes what a house book holds as rows of the open format: ids become keys, ids of steps become their numbers."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import msgspec

from washline.chemistry.components import COMPONENTS
from washline.exchange.rows import (
    AimRow,
    AmountRow,
    AnyStepRow,
    BuildRow,
    CompositionRow,
    CountingRow,
    FileRow,
    GlassRow,
    LeftoverRow,
    MeasureRow,
    MethodRow,
    PriceRow,
    RawRow,
    SignRow,
    TargetRow,
)
from washline.exchange.rows_to_model import STEPS
from washline.model.amount import Amount
from washline.model.house import Glass, Measure, Method, Settings
from washline.model.item import Build, Leftover, RawIngredient
from washline.model.step import Add, AnyStep, Chill, Garnish, Strain, Take, Top
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


def raw_row(raw: RawIngredient, slug: str) -> RawRow:
    """The row of a raw ingredient."""
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
        if_off=tuple(SignRow(taste=sign.taste, remedy=sign.remedy) for sign in build.if_off),
        steps=tuple(_step_row(step, build, numbers, keys) for step in build.steps),
        **_fields(build, BuildRow, "key", "kind", "glass", "target", "twist_of", "if_off", "steps"),
    )


def _step_row(step: AnyStep, build: Build, numbers: Mapping[int, int], keys: Keys) -> AnyStepRow:
    own: dict[str, Any] = {}
    if isinstance(step, Add | Top | Garnish | Take):
        own["amount"] = _amount_row(step.amount, build, numbers)
    if isinstance(step, Add | Top | Garnish):
        own["item"] = _item_key(step.item_id, build, numbers[step.id], keys)
    if isinstance(step, Strain | Take):
        own["leftover"] = _leftover_row(step.leftover_id, keys)
    if isinstance(step, Chill):
        own["method"] = keys.methods.get(step.method, step.method)
    kind = _STEP_ROWS[type(step)]
    return kind(**own, **_fields(step, kind, "amount", "item", "leftover", "method"))


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
    return LeftoverRow(key=keys.items[leftover.id], **_fields(leftover, LeftoverRow, "key"))


def _fields(source: msgspec.Struct, row: type[FileRow], *others: str) -> dict[str, Any]:
    """The fields that a row shares with the model by name: all but the ``others``."""
    return {name: getattr(source, name) for name in row.__struct_fields__ if name not in others}
