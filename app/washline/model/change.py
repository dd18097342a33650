"""The difference between two states of a house book, row by row: what is written, undone, recomputed and repainted."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from enum import StrEnum
from itertools import compress
from operator import is_not
from typing import Any

from msgspec import Struct, structs

from washline.model.book import HouseBook
from washline.model.house import Calibration, Glass, Ice, Measure, Method, Settings, Vessel, Weighing
from washline.model.item import Build, Leftover, Making, RawIngredient
from washline.model.step import (
    Add,
    Adjust,
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
    Reduce,
    Rest,
    Rinse,
    Smoke,
    Step,
    Strain,
    Take,
    Top,
    Wash,
)
from washline.model.target import Target


class Table(StrEnum):
    """The kinds of rows of a house book."""

    SETTINGS = "settings"
    RAW = "raw"
    BUILD = "build"
    STEP = "step"
    LEFTOVER = "leftover"
    TARGET = "target"
    GLASS = "glass"
    METHOD = "method"
    MEASURE = "measure"
    MAKING = "making"
    ICE = "ice"
    VESSEL = "vessel"
    WEIGHING = "weighing"
    CALIBRATION = "calibration"


Row = (
    Settings | RawIngredient | Build | Leftover | Target | Glass | Method | Measure | Making
    | Ice | Vessel | Weighing | Calibration
    | Add | Blend | Muddle | Rest | Note | Infuse | Wash | Strain | Heat | Reduce | Dry | Ferment | Adjust | Measurement
    | Take | Chill | BarStrain | Rinse | Smoke | Carbonate | Top | Garnish
)  # fmt: skip

SETTINGS_KEY = 0

_FIELDS = {
    Table.RAW: "raws",
    Table.LEFTOVER: "leftovers",
    Table.TARGET: "targets",
    Table.GLASS: "glasses",
    Table.METHOD: "methods",
    Table.MEASURE: "measures",
    Table.MAKING: "makings",
    Table.ICE: "ices",
    Table.VESSEL: "vessels",
    Table.WEIGHING: "weighings",
    Table.CALIBRATION: "calibrations",
}


class Change(Struct, frozen=True, gc=False):
    """One row before and after. A build's row carries no steps: each step is a row of its own."""

    table: Table
    key: int | str
    before: Row | None
    after: Row | None

    def reversed(self) -> "Change":
        """The change that takes this one back."""
        return Change(self.table, self.key, self.after, self.before)


class ChangeSet(Struct, frozen=True, gc=False):
    """The rows that differ between two states of a house book."""

    changes: tuple[Change, ...] = ()

    def reversed(self) -> "ChangeSet":
        """The change set that takes this one back."""
        return ChangeSet(tuple(change.reversed() for change in reversed(self.changes)))

    def __bool__(self) -> bool:
        return bool(self.changes)

    def build_ids(self) -> set[int]:
        """The builds whose row or steps differ."""
        ids = {change.key for change in self.changes if change.table is Table.BUILD}
        for change in self.changes:
            if change.table is Table.STEP:
                ids |= {row.build_id for row in (change.before, change.after) if isinstance(row, Step)}
        return {int(key) for key in ids}


def without_steps(build: Build) -> Build:
    """The row of a build alone."""
    return structs.replace(build, steps=())


def difference(old: HouseBook, new: HouseBook) -> ChangeSet:
    """The rows that differ from ``old`` to ``new``; shared parts are recognised by identity and cost nothing."""
    changes: list[Change] = []
    if old.settings != new.settings:
        changes.append(Change(Table.SETTINGS, SETTINGS_KEY, old.settings, new.settings))
    for table, name in _FIELDS.items():
        changes.extend(_mapping_changes(table, getattr(old, name), getattr(new, name)))
    for before, after in _pairs(old.builds, new.builds):
        changes.extend(_build_changes(before, after))
    return ChangeSet(tuple(changes))


def apply(book: HouseBook, change_set: ChangeSet) -> HouseBook:
    """The house book after the changes. Rows are taken as they stand in the change set."""
    fields: dict[str, Any] = {}
    for table, name in _FIELDS.items():
        rows = [change for change in change_set.changes if change.table is table]
        if rows:
            fields[name] = _applied(getattr(book, name), rows)
    for change in change_set.changes:
        if change.table is Table.SETTINGS and isinstance(change.after, Settings):
            fields["settings"] = change.after
    touched = change_set.build_ids()
    if touched:
        fields["builds"] = _applied_builds(book, change_set, touched)
    return replace(book, **fields, top_id=max(book.top_id, _highest_id(change_set)))


def _pairs(old: Mapping[Any, Any], new: Mapping[Any, Any]) -> Iterator[tuple[Any, Any]]:
    if old is new:
        return
    if list(old) == list(new):
        # The usual edit keeps every key: what is the same object is passed over without a line of Python.
        values = zip(old.values(), new.values(), strict=True)
        yield from compress(values, map(is_not, old.values(), new.values()))
        return
    for key, after in new.items():
        before = old.get(key)
        if before is not after:
            yield before, after
    for key, before in old.items():
        if key not in new:
            yield before, None


def _mapping_changes(table: Table, old: Mapping[Any, Any], new: Mapping[Any, Any]) -> Iterator[Change]:
    for before, after in _pairs(old, new):
        if before != after:
            row = after if after is not None else before
            yield Change(
                table, row.slug if hasattr(row, "slug") and table is not Table.RAW else row.id, before, after
            )


def _build_changes(before: Build | None, after: Build | None) -> Iterator[Change]:
    old_row = without_steps(before) if before else None
    new_row = without_steps(after) if after else None
    key = after.id if after else before.id if before else 0
    if old_row != new_row:
        yield Change(Table.BUILD, key, old_row, new_row)
    old_steps = {step.id: step for step in before.steps} if before else {}
    new_steps = {step.id: step for step in after.steps} if after else {}
    for old_step, new_step in _pairs(old_steps, new_steps):
        if old_step != new_step:
            yield Change(Table.STEP, (new_step or old_step).id, old_step, new_step)


def _applied(rows: Mapping[Any, Any], changes: list[Change]) -> dict[Any, Any]:
    result = dict(rows)
    for change in changes:
        if change.after is None:
            result.pop(change.key, None)
        else:
            result[change.key] = change.after
    return result


def _applied_builds(book: HouseBook, change_set: ChangeSet, touched: set[int]) -> dict[int, Build]:
    builds = dict(book.builds)
    steps: dict[int, dict[int, Any]] = {
        build_id: {step.id: step for step in builds[build_id].steps} if build_id in builds else {}
        for build_id in touched
    }
    for change in change_set.changes:
        if change.table is Table.BUILD:
            if change.after is None:
                builds.pop(int(change.key), None)
            elif isinstance(change.after, Build):
                builds[int(change.key)] = change.after
        elif change.table is Table.STEP:
            if isinstance(change.before, Step):
                steps[change.before.build_id].pop(int(change.key), None)
            if isinstance(change.after, Step):
                steps[change.after.build_id][int(change.key)] = change.after
    for build_id in touched & builds.keys():
        ordered = tuple(sorted(steps[build_id].values(), key=lambda step: (step.place, step.id)))
        builds[build_id] = structs.replace(builds[build_id], steps=ordered)
    return builds


def _highest_id(change_set: ChangeSet) -> int:
    return max((int(change.key) for change in change_set.changes if isinstance(change.key, int)), default=0)
