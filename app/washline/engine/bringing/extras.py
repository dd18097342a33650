"""Ingredients that may be used besides those of a drink: each a line that starts at nothing, if it may be used at all."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
from msgspec import structs

from washline.engine.bringing.pours import extra_step_id, is_plain
from washline.engine.bringing.request import Change, Extra, Refused, Request
from washline.engine.compiling_steps import compile_build
from washline.engine.contents import contents
from washline.engine.spread import Source
from washline.engine.state import MASSES
from washline.model.amount import Amount
from washline.model.book import HouseBook
from washline.model.graph import cycle_if_used
from washline.model.item import Build
from washline.model.step import Add, AnyStep, Top


@dataclass(frozen=True, slots=True)
class Brought:
    """What a changed build holds that it did not: allergens and cautions by key, and items of unknown allergens."""

    allergens: tuple[str, ...]
    unknown: tuple[int, ...]
    cautions: tuple[str, ...]

    @property
    def is_hazard(self) -> bool:
        """Whether somebody could come to harm who was safe before."""
        return bool(self.allergens or self.unknown)


def usable(
    book: HouseBook, build: Build, request: Request, source: Source
) -> tuple[Request, tuple[Refused, ...]]:
    """The request with those extras that may be used, by item, and those that may not with the reason."""
    kept: list[Extra] = []
    refused: list[Refused] = []
    for extra in sorted(request.extras, key=lambda one: one.item_id):
        words = _why_not(book, build, replace(request, extras=tuple(kept)), extra, source)
        if words:
            refused.append(Refused(extra.item_id, words))
        else:
            kept.append(extra)
    return replace(request, extras=tuple(kept)), tuple(refused)


def _why_not(book: HouseBook, build: Build, request: Request, extra: Extra, source: Source) -> str:
    item = book.item(extra.item_id)
    if item is None:
        return "It is no longer in the house book."
    if any(one.item_id == extra.item_id for one in request.extras):
        return f"{item.name} was named twice."
    if any(is_plain(step) and _pours(step, extra.item_id) for step in build.steps):
        return f"{item.name} is a line of the drink: its own amount can change."
    if cycle_if_used(book, build.id, extra.item_id):
        return f"{item.name} is made with this drink."
    if not (extra.high > 0.0 and extra.step > 0.0):
        return f"{item.name}: the most that may be used, and its step, must be more than 0."
    with_it = with_extras(build, (replace(extra),))
    problems = [
        problem.words
        for problem in compile_build(book.with_build(with_it), with_it).problems
        if problem.step_id == extra_step_id(0)
    ]
    found = source.columns_of(extra.item_id)
    if problems or found is None or bool(np.any(np.isnan(found[0][MASSES]))):
        return f"{item.name} cannot be computed" + (f": {problems[0]}." if problems else ".")
    brings = brought(book, build, with_it)
    if brings.is_hazard and not request.allow_allergens:
        return f"{item.name} would bring {_listed(brings)}."
    return ""


def _pours(step: AnyStep, item_id: int) -> bool:
    return isinstance(step, Add | Top) and step.item_id == item_id


def _listed(brings: Brought) -> str:
    if not brings.allergens:
        return "something whose allergens nobody knows"
    more = " and something whose allergens nobody knows" if brings.unknown else ""
    return f"an allergen ({', '.join(key.replace('_', ' ') for key in brings.allergens)}){more}"


def brought(book: HouseBook, before: Build, after: Build) -> Brought:
    """What a changed build holds that it did not."""
    old, new = contents(book.with_build(before), before.id), contents(book.with_build(after), after.id)
    known = {*(key for key, _ids in old.allergens), *old.added}
    cautions = {key for key, _ids in old.cautions}
    return Brought(
        tuple(key for key, _ids in new.allergens if key not in known),
        tuple(raw_id for raw_id in new.unknown if raw_id not in old.unknown),
        tuple(key for key, _ids in new.cautions if key not in cautions),
    )


def with_extras(build: Build, extras: Iterable[Extra]) -> Build:
    """The build with a line of nothing for each extra, after the first lines that are poured."""
    amounts = ((extra.item_id, Amount(0.0, extra.unit)) for extra in extras)
    lines = tuple((extra_step_id(index), *amount) for index, amount in enumerate(amounts))
    return _with_lines(build, lines)


def with_changes(build: Build, changes: Iterable[Change], new_ids: Iterable[int] = ()) -> Build:
    """The build with the changes of a proposal. ``new_ids`` are the ids of the steps of new ingredients, in order; without
    them they are as those of extras. Steps that the build no longer has are passed over."""
    changes = tuple(changes)
    amounts = {change.step_id: change.after for change in changes if change.step_id is not None}
    steps = tuple(
        structs.replace(step, amount=amounts[step.id])
        if isinstance(step, Add | Top) and step.id in amounts
        else step
        for step in build.steps
    )
    ids = iter(new_ids)
    new = [change for change in changes if change.step_id is None]
    lines = tuple(
        (next(ids, extra_step_id(index)), change.item_id, change.after) for index, change in enumerate(new)
    )
    return _with_lines(structs.replace(build, steps=steps), lines)


def _with_lines(build: Build, lines: tuple[tuple[int, int, Amount], ...]) -> Build:
    if not lines:
        return build
    steps = build.steps
    first = next((index for index, step in enumerate(steps) if isinstance(step, Add)), None)
    at = 0 if first is None else first + 1
    while at < len(steps) and isinstance(steps[at], Add):
        at += 1
    before = steps[at - 1].place if at else (steps[0].place - 1.0 if steps else 0.0)
    after = steps[at].place if at < len(steps) else before + len(lines) + 1.0
    gap = (after - before) / (len(lines) + 1)
    new = tuple(
        Add(id=step_id, build_id=build.id, place=before + gap * (index + 1), item_id=item_id, amount=amount)
        for index, (step_id, item_id, amount) in enumerate(lines)
    )
    return structs.replace(build, steps=(*steps[:at], *new, *steps[at:]))
