"""What cannot be in a house book: checked on the rows that a change touches, before anything is written.

What is merely missing (a unit that nobody knows, a yield not weighed yet) is allowed; the engine says so in its row.
"""

import math
import re
from collections.abc import Callable, Iterator, Mapping
from datetime import datetime
from itertools import pairwise
from typing import Any

from msgspec import Struct

from washline.document.commands.command import Refusal
from washline.document.commands.leftovers import leftovers_of
from washline.document.house_faults import reference_faults, row_faults, weighing_is_of_its_step
from washline.document.limits import GOALS, MEASURED, Limits, fault, faults
from washline.document.naming import item_name, listed, step_name
from washline.document.references import (
    builds_with_target,
    named_items,
    named_users,
    swaps_with,
    users_of_glass,
    users_of_method,
    users_of_vessel,
    uses,
    weighed_with,
)
from washline.engine.state import VOLUME
from washline.engine.units import kind_and_factor
from washline.model.amount import Amount, Basis, Heft
from washline.model.book import HouseBook
from washline.model.change import Change, ChangeSet, Table
from washline.model.graph import cycle_if_used
from washline.model.house import Settings, Weighing
from washline.model.item import Build, KeptAt, Leftover, Making, RawIngredient
from washline.model.reading import BY_KEY
from washline.model.step import Adjust, AnyStep, Chill, Line, Measurement, Step, Strain, Take
from washline.model.target import FEWEST_AXES, MOST_AXES, Target

MOST_LETTERS = 10_000
"""A name or text longer than this was pasted by mistake."""

SHARED_PLACES = (*(place.value for place in KeptAt), "oven", "tins")
"""Where allergens can get in: see ``model.house.Shared``."""

_TIME_OF_DAY = re.compile(r"([01]\d|2[0-3]):[0-5]\d")

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
            for words in reference_faults(book, change.after):
                raise Refusal(words)
            if isinstance(change.after, Leftover):
                touched.add(change.after.build_id)
    for build_id in sorted(touched & book.builds.keys()):
        _check_build(book, book.builds[build_id])
    for change in change_set.changes:
        if isinstance(change.after, Line | Adjust):
            _check_cycle(book, change.after)
    for making in _touched_makings(book, change_set):
        _check_making(book, making)
    for weighing in _touched_weighings(book, change_set):
        if not weighing_is_of_its_step(book, weighing):
            raise ValueError(f"weighing {weighing.id} is of a build or step that is gone")


def _check_row(row: Struct) -> None:
    for words in _row_faults(row):
        raise Refusal(words)


def _row_faults(row: Struct) -> Iterator[str]:
    yield from faults(row)
    yield from _text_faults(row)
    yield from row_faults(row)
    if isinstance(row, Line | Take):
        yield from faults(row.amount)
    if isinstance(row, Adjust):
        yield from _adjustment_faults(row)
    if isinstance(row, Measurement):
        yield from fault(row.value, MEASURED[row.quantity])
    if isinstance(row, Making):
        yield from _making_faults(row)
    if isinstance(row, Settings):
        yield from _settings_faults(row)
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


def _adjustment_faults(step: Adjust) -> Iterator[str]:
    if (step.value is None) == (step.like_item_id is None):
        yield "An adjustment has one goal: a value, or an item to be like."
    yield from fault(step.value, GOALS[step.goal])
    if not step.portions:
        yield "An adjustment adds at least one item."
    for portion in step.portions:
        yield from faults(portion)
        if portion.parts == 0.0:
            yield "An item of an adjustment has more than no parts."


def _making_faults(making: Making) -> Iterator[str]:
    if not _is_time(making.date):
        yield f"The day of a making is written like 2026-11-21, not “{making.date}”."
    for one in making.yields:
        yield from faults(one)


def _settings_faults(settings: Settings) -> Iterator[str]:
    if not _TIME_OF_DAY.fullmatch(settings.service_ends):
        yield f"The end of service is a time like 02:00, not “{settings.service_ends}”."
    for shared in settings.shared:
        if shared.place not in SHARED_PLACES:
            yield f"There is no shared place {shared.place}."


def _is_time(text: str) -> bool:
    try:
        datetime.fromisoformat(text)
    except ValueError:
        return False
    return True


def _raw_faults(raw: RawIngredient) -> Iterator[str]:
    for grams in raw.composition:
        yield from fault(grams, Limits(0.0, MOST_GRAMS_IN_100, f"a component of {raw.name} in g per 100 g"))
    total = math.fsum(grams for grams in raw.composition if grams is not None)
    if total > MOST_GRAMS_IN_100:
        yield f"The components of {raw.name} add up to {total:.1f} g in 100 g."
    for price in raw.prices:
        yield from faults(price)
    if raw.today is not None:
        yield from faults(raw.today)
        if not _is_time(raw.today.until):
            yield f"Today's {raw.name} holds until a time like 2026-11-22T02:00, not “{raw.today.until}”."


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
        if swaps_with(book, {row.id}):
            users = users or "a swap for alcohol-free versions"
    else:
        finders: Mapping[Table, Callable[[HouseBook, Any], Iterator[str]]] = {
            Table.GLASS: users_of_glass,
            Table.METHOD: users_of_method,
            Table.VESSEL: users_of_vessel,
            Table.ICE: lambda held, slug: weighed_with(held, slug, "ice"),
            Table.TARGET: lambda held, key: (build.name for build in builds_with_target(held, key)),
        }
        finder = finders.get(change.table)
        users = listed(finder(book, change.key)) if finder else ""
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
    leftovers = (book.leftovers.get(leftover_id) for leftover_id in leftovers_of(build.steps))
    for row in (build, *leftovers):
        if row is not None and row.acts_as_id is not None and row.acts_as_id not in book.raws:
            raise Refusal(
                f"{row.name} cannot act as {item_name(book, row.acts_as_id)}.",
                "Only a raw ingredient has a composition that can be taken over.",
                "Choose a raw ingredient.",
            )


def _check_step(book: HouseBook, build: Build, step: AnyStep, above: set[int]) -> None:
    for item_id in named_items(step):
        item = book.item(item_id)
        if item is None:
            raise Refusal(f"A line of {build.name} pours something that is not in the house book.")
        if isinstance(item, Build) and item.is_drink:
            is_liked = isinstance(step, Adjust) and step.like_item_id == item_id
            raise Refusal(
                f"{build.name} cannot be adjusted to be like {item.name}."
                if is_liked
                else f"{item.name} cannot go into {build.name}.",
                "It is a drink, which ends in a glass.",
                "Make a house-made part of it first.",
            )
    if isinstance(step, Line | Take) and not above.issuperset(step.amount.of):
        raise Refusal(
            f"{step_name(book, step)} must stand below the line that it is a share of.",
            f"In {build.name} that line would come later, or is gone.",
        )
    if isinstance(step, Line | Take) and step.amount.heft is not Heft.EVEN:
        _check_heft(book, step_name(book, step), step.amount)
    if isinstance(step, Chill) and step.method not in book.methods:
        raise Refusal(f"The way to chill {build.name} is not in the house book: {step.method}.")
    if isinstance(step, Strain | Take) and step.leftover_id is not None:
        leftover = book.leftovers.get(step.leftover_id)
        if leftover is None or leftover.build_id != build.id:
            raise ValueError(f"step {step.id} of build {build.id} has a leftover that is not its own")


def _check_heft(book: HouseBook, name: str, amount: Amount) -> None:
    unit = kind_and_factor(book, amount.unit)
    if amount.basis is not Basis.ABSOLUTE or (unit is not None and unit[0] != VOLUME):
        raise Refusal(
            f"The amount of {name} cannot be {amount.heft.value}.",
            "A pour is scant or heavy by a volume.",
            "Type it in ml or oz.",
        )


def _check_cycle(book: HouseBook, step: Line | Adjust) -> None:
    for item_id in () if step.left_out else named_items(step):
        cycle = cycle_if_used(book, step.build_id, item_id)
        if not cycle:
            continue
        way = ", made of ".join(book.builds[member].name for member in cycle)
        is_liked = isinstance(step, Adjust) and step.like_item_id == item_id
        name, build = item_name(book, item_id), book.builds[step.build_id].name
        raise Refusal(
            f"{build} cannot be adjusted to be like {name}."
            if is_liked
            else f"{name} cannot go into {build}.",
            f"It would be made of itself: {way}.",
            "Choose another item.",
        )


def _touched_makings(book: HouseBook, change_set: ChangeSet) -> Iterator[Making]:
    """The makings that were changed, and those of builds that lost a step or are gone."""
    for change in change_set.changes:
        if isinstance(change.after, Making):
            yield change.after
    losers = _losers(change_set)
    if losers:
        yield from (making for making in book.makings.values() if making.build_id in losers)


def _touched_weighings(book: HouseBook, change_set: ChangeSet) -> Iterator[Weighing]:
    """The weighings that were changed, and those of builds that lost a step or are gone."""
    yield from (change.after for change in change_set.changes if isinstance(change.after, Weighing))
    losers = _losers(change_set)
    if losers:
        yield from (row for row in book.weighings.values() if row.build_id in losers)


def _losers(change_set: ChangeSet) -> set[int]:
    """The builds that lost a step or are gone."""
    return {
        row.build_id if isinstance(row, Step) else row.id
        for change in change_set.changes
        if change.after is None and isinstance(row := change.before, Step | Build)
    }


def _check_making(book: HouseBook, making: Making) -> None:
    """A making is of a build that is there, and its yields are of strains of that build."""
    build = book.builds.get(making.build_id)
    strains = {step.id for step in build.steps if isinstance(step, Strain)} if build else set()
    if build is None or not strains.issuperset(one.step_id for one in making.yields):
        raise ValueError(f"making {making.id} is of a build or strain that is gone")
