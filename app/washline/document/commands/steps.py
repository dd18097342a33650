"""Steps of a build: putting in, changing, leaving out, removing and moving."""

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from msgspec import structs

from washline.document.commands.command import Command, Refusal, build_of, next_id, step_of, steps_of
from washline.document.commands.fields import plain_name, replaced
from washline.document.commands.leftovers import leftovers_of, without_leftovers
from washline.document.commands.placing import arranged, inserted, with_step
from washline.document.commands.weighings import weighings_without_steps
from washline.document.commands.yields import without_yields
from washline.document.naming import listed, step_name
from washline.document.references import referring
from washline.model.amount import grams
from washline.model.book import HouseBook
from washline.model.item import Build, Leftover
from washline.model.step import Adjust, AnyStep, Chill, Evaporate, Portion, Strain, Take

_FIXED = ("id", "build_id", "place", "item_id", "amount", "leftover_id", "portions")
_AT_MOST_ONE: tuple[tuple[type, tuple[str, ...]], ...] = (
    (Chill, ("melted_g", "final_g", "final_ml")),
    (Evaporate, ("final_g", "final_pct", "final_brix")),
    (Adjust, ("value", "like_item_id")),
)
"""Fields that say the same thing in different ways: giving one takes the others back."""


def add_step(build_id: int, step: AnyStep, after: int | None = None, leftover_name: str = "") -> Command:
    """Puts in a step after another (``AT_START``: before all, ``None``: at the end); its id is ``next_id(book)``.

    ``id``, ``build_id`` and ``place`` of the step given do not matter. With ``leftover_name`` what a strain holds back,
    or a take sets aside, becomes an item.
    """

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        new = structs.replace(step, id=next_id(book), build_id=build_id)
        if leftover_name and isinstance(new, Strain | Take):
            leftover = Leftover(id=new.id + 1, build_id=build_id, name=plain_name(leftover_name))
            book = book.with_leftover(leftover)
            new = structs.replace(new, leftover_id=leftover.id)
        return book.with_build(inserted(build, [new], after))

    return command


def set_step(build_id: int, step_id: int, **fields: Any) -> Command:
    """Changes fields of a step: words, time, temperature, what was weighed, how it is chilled, whether it is left out …

    What a line takes in, how much, what an adjustment adds, and what is left over have commands of their own. Of
    ``melted_g``, ``final_g`` and ``final_ml`` of a chill, of ``final_g``, ``final_pct`` and ``final_brix`` of an
    evaporation, and of ``value`` and ``like_item_id`` of an adjustment, giving one clears the others.
    """

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        step = step_of(build, step_id)
        changed = replaced(step, _without_rivals(step, fields), _FIXED)
        return book.with_build(with_step(build, changed))

    return command


def set_portions(build_id: int, step_id: int, portions: Sequence[Portion]) -> Command:
    """Says which items an adjustment adds, and in which parts by weight."""

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        step = step_of(build, step_id)
        if not isinstance(step, Adjust):
            raise Refusal(f"A step {step_name(book, step)} adds no portions.")
        return book.with_build(with_step(build, structs.replace(step, portions=tuple(portions))))

    return command


def leave_out(build_id: int, step_ids: Collection[int], is_left_out: bool = True) -> Command:
    """Leaves steps out (kept, struck through, without effect), or takes them in again."""
    chosen = frozenset(step_ids)

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        steps_of(build, chosen)
        steps = tuple(
            structs.replace(step, left_out=is_left_out) if step.id in chosen else step for step in build.steps
        )
        return book.with_build(structs.replace(build, steps=steps))

    return command


def remove_steps(
    build_id: int, step_ids: Collection[int], found_g: Mapping[int, float] | None = None
) -> Command:
    """Removes steps, the leftovers that they made, and what their makings weighed; what was weighed of their melt stays.

    A line that is a share of a removed one stands at the grams that were found for it, from ``found_g`` by step id;
    without them, and for a leftover that is used, the removal is refused with the names of who needs it.
    """
    chosen = frozenset(step_ids)

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        removed = steps_of(build, chosen)
        stand_alone = standing_alone(book, build, chosen, found_g or {})
        steps = tuple(stand_alone.get(step.id, step) for step in build.steps if step.id not in chosen)
        book = book.with_build(structs.replace(build, steps=steps))
        book = weighings_without_steps(without_yields(book, build_id, chosen), chosen)
        return without_leftovers(book, leftovers_of(removed))

    return command


def move_steps(build_id: int, step_ids: Collection[int], before: int | None) -> Command:
    """Moves steps, in the order that they have, before another one (``None``: to the end)."""
    chosen = frozenset(step_ids)

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        moved = steps_of(build, chosen)
        rest = tuple(step for step in build.steps if step.id not in chosen)
        index = len(rest) if before is None else _index_before(build, rest, before)
        if (*rest[:index], *moved, *rest[index:]) == build.steps:
            return book
        return book.with_build(arranged(build, rest[:index], moved, rest[index:]))

    return command


def standing_alone(
    book: HouseBook, build: Build, bases: Collection[int], found_g: Mapping[int, float]
) -> dict[int, AnyStep]:
    """The steps of a build that are a share of one of ``bases``, with the grams found in its stead; refuses where no
    grams were found for one."""
    shares = referring(build, bases)
    lost = [step for step in shares if step.id not in found_g]
    if lost:
        held = listed(step_name(book, step) for step in build.steps if step.id in bases)
        raise Refusal(
            f"{held} cannot be removed.",
            f"The amount of {listed(step_name(book, step) for step in lost)} is a share of it.",
            "Type that amount in grams first.",
        )
    return {step.id: structs.replace(step, amount=grams(found_g[step.id])) for step in shares}


def _index_before(build: Build, rest: tuple[AnyStep, ...], before: int) -> int:
    """Where in ``rest`` a step stands, or, if it is among those that move, the next one that does not."""
    place = step_of(build, before).place
    return sum(step.place < place for step in rest)


def _without_rivals(step: AnyStep, fields: Mapping[str, Any]) -> dict[str, Any]:
    result = dict(fields)
    for kind, rivals in _AT_MOST_ONE:
        given = [name for name in rivals if fields.get(name) is not None]
        if isinstance(step, kind) and len(given) > 1:
            raise Refusal(
                "Only one of these can be given: it decides the others.", remedy="Clear all but one."
            )
        if isinstance(step, kind) and given:
            result.update({name: None for name in rivals if name != given[0]})
    return result
