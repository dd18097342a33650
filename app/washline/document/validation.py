"""What cannot be in a house book: checked on the rows that a change touches, before anything is written.

What is merely missing (a unit that nobody knows, a yield not weighed yet) is allowed; the engine says so in its row.
"""

import math
from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Any

from msgspec import Struct

from washline.document.commands.command import Refusal
from washline.document.limits import Limits, fault, faults
from washline.document.naming import item_name, listed, step_name
from washline.document.references import (
    builds_with_method,
    builds_with_target,
    drinks_in_glass,
    named_users,
    taken_item,
    uses,
)
from washline.model.book import HouseBook
from washline.model.change import Change, ChangeSet, Table
from washline.model.graph import cycle_if_used
from washline.model.item import Build, Leftover, RawIngredient
from washline.model.reading import BY_KEY
from washline.model.step import Add, AnyStep, Chill, Garnish, Strain, Take, Top
from washline.model.target import FEWEST_AXES, MOST_AXES, Target

MOST_LETTERS = 10_000
"""A name or text longer than this was pasted by mistake."""

MOST_GRAMS_IN_100 = 101.0
"""The rounded components of a published row may exceed 100 g by a little."""


def validate(book: HouseBook, change_set: ChangeSet) -> None:
    """Raises ``Refusal`` with the first thing that cannot be in ``book``, the house book after the change."""
    touched = change_set.build_ids()
    for change in change_set.changes:
        if change.after is None:
            _check_unused(book, change)
        else:
            _check_row(change.after)
            if isinstance(change.after, Leftover):
                touched.add(change.after.build_id)
    for build_id in sorted(touched & book.builds.keys()):
        _check_build(book, book.builds[build_id])
    for change in change_set.changes:
        if isinstance(change.after, Add | Top | Garnish):
            _check_cycle(book, change.after)


def _check_row(row: Struct) -> None:
    for words in _row_faults(row):
        raise Refusal(words)


def _row_faults(row: Struct) -> Iterator[str]:
    yield from faults(row)
    yield from _text_faults(row)
    if isinstance(row, Add | Top | Garnish | Take):
        yield from faults(row.amount)
    if isinstance(row, RawIngredient):
        yield from _raw_faults(row)
    if isinstance(row, Target):
        yield from _target_faults(row)


def _text_faults(row: Struct) -> Iterator[str]:
    for name in row.__struct_fields__:
        text = getattr(row, name)
        if isinstance(text, str) and len(text) > MOST_LETTERS:
            yield f"This text has {len(text):,} letters; at most {MOST_LETTERS:,} are kept."
        if name == "name" and not text.strip():
            yield "A name is missing."


def _raw_faults(raw: RawIngredient) -> Iterator[str]:
    for grams in raw.composition:
        yield from fault(grams, Limits(0.0, MOST_GRAMS_IN_100, f"a component of {raw.name} in g per 100 g"))
    total = math.fsum(grams for grams in raw.composition if grams is not None)
    if total > MOST_GRAMS_IN_100:
        yield f"The components of {raw.name} add up to {total:.1f} g in 100 g."
    for price in raw.prices:
        yield from faults(price)


def _target_faults(target: Target) -> Iterator[str]:
    count = len(target.axes)
    if not FEWEST_AXES <= count <= MOST_AXES:
        yield f"A target has {FEWEST_AXES} to {MOST_AXES} axes; {target.name} would have {count}."
    readings = [aim.reading for aim in target.aims]
    for aim in target.aims:
        if aim.reading not in BY_KEY:
            yield f"There is no reading {aim.reading}."
            continue
        name = BY_KEY[aim.reading].name.lower()
        if readings.count(aim.reading) > 1:
            yield f"{target.name} has two aims for {name}."
        if not all(math.isfinite(number) for number in (aim.low, aim.ideal, aim.high)):
            yield f"The aim for {name} must be made of numbers."
        elif not aim.low <= aim.ideal <= aim.high:
            yield f"The aim for {name} must rise: {aim.low:g} to {aim.high:g} with {aim.ideal:g} between them."


def _check_unused(book: HouseBook, change: Change) -> None:
    """Refuses that something is gone which another row still names."""
    row = change.before
    if isinstance(row, RawIngredient | Build | Leftover):
        users = named_users(book, uses(book, row.id)) or listed(_twists(book, row.id))
    else:
        finders: Mapping[Table, Any] = {
            Table.GLASS: drinks_in_glass,
            Table.METHOD: builds_with_method,
            Table.TARGET: builds_with_target,
        }
        finder = finders.get(change.table)
        users = listed(build.name for build in finder(book, change.key)) if finder else ""
    if users:
        raise Refusal(f"{getattr(row, 'name', 'This')} cannot be removed.", f"It is used in {users}.")


def _twists(book: HouseBook, build_id: int) -> Iterator[str]:
    return (build.name for build in book.builds.values() if build.parent_id == build_id)


def _check_build(book: HouseBook, build: Build) -> None:
    _check_names(book, build)
    for first, second in pairwise(build.steps):
        if not first.place < second.place:
            raise ValueError(f"places of build {build.id} do not rise: {first.place}, {second.place}")
    above: set[int] = set()
    for step in build.steps:
        _check_step(book, build, step, above)
        above.add(step.id)


def _check_names(book: HouseBook, build: Build) -> None:
    """What a build names is in the book."""
    named = (
        ("glass", build.glass, book.glasses),
        ("target", build.target_id, book.targets),
        ("drink that it was twisted from", build.parent_id, book.builds),
    )
    for what, key, rows in named:
        if key is not None and key not in rows:
            raise Refusal(f"The {what} of {build.name} is not in the house book.")


def _check_step(book: HouseBook, build: Build, step: AnyStep, above: set[int]) -> None:
    item_id = taken_item(step)
    if item_id is not None:
        item = book.item(item_id)
        if item is None:
            raise Refusal(f"A line of {build.name} pours something that is not in the house book.")
        if isinstance(item, Build) and item.is_drink:
            raise Refusal(
                f"{item.name} cannot go into {build.name}.",
                "It is a drink, which ends in a glass.",
                "Make a house-made part of it first.",
            )
    if isinstance(step, Add | Top | Garnish | Take) and not above.issuperset(step.amount.of):
        raise Refusal(
            f"{step_name(book, step)} must stand below the line that it is a share of.",
            f"In {build.name} that line would come later, or is gone.",
        )
    if isinstance(step, Chill) and step.method not in book.methods:
        raise Refusal(f"The way to chill {build.name} is not in the house book: {step.method}.")
    if isinstance(step, Strain | Take) and step.leftover_id is not None:
        leftover = book.leftovers.get(step.leftover_id)
        if leftover is None or leftover.build_id != build.id:
            raise ValueError(f"step {step.id} of build {build.id} has a leftover that is not its own")


def _check_cycle(book: HouseBook, line: Add | Top | Garnish) -> None:
    cycle = () if line.left_out else cycle_if_used(book, line.build_id, line.item_id)
    if cycle:
        way = ", made of ".join(book.builds[member].name for member in cycle)
        raise Refusal(
            f"{item_name(book, line.item_id)} cannot go into {book.builds[line.build_id].name}.",
            f"It would be made of itself: {way}.",
            "Choose another item.",
        )
