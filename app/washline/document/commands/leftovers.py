"""Leftovers: made with their strain or take, named, and removed with it."""

from dataclasses import replace
from typing import Any

from msgspec import structs

from washline.document.commands.command import Command, Refusal, build_of, next_id, step_of
from washline.document.commands.fields import plain_name, replaced
from washline.document.commands.placing import with_step
from washline.document.naming import step_name
from washline.document.references import named_users, swaps_with, uses
from washline.model.book import HouseBook
from washline.model.item import Build, Leftover
from washline.model.step import Strain, Take


def name_leftover(build_id: int, step_id: int, name: str) -> Command:
    """Gives what a strain holds back, or a take sets aside, a name: it becomes an item, or is renamed."""

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        step = _dividing(book, build, step_id)
        if step.leftover_id is not None:
            return set_leftover(step.leftover_id, name=name)(book)
        leftover = Leftover(id=next_id(book), build_id=build_id, name=plain_name(name))
        changed = with_step(build, structs.replace(step, leftover_id=leftover.id))
        return book.with_leftover(leftover).with_build(changed)

    return command


def set_leftover(leftover_id: int, **fields: Any) -> Command:
    """Changes fields of a leftover: ``name``, ``kept_at``, ``house_days``, ``acts_as_id``, ``may_contain`` …"""

    def command(book: HouseBook) -> HouseBook:
        leftover = book.leftovers.get(leftover_id)
        if leftover is None:
            raise Refusal("This leftover is no longer in the house book.", remedy="Undo brings it back.")
        return book.with_leftover(replaced(leftover, fields, fixed=("id", "build_id")))

    return command


def drop_leftover(build_id: int, step_id: int) -> Command:
    """Lets what a step holds back or sets aside be no item any more; refused where it is used."""

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        step = _dividing(book, build, step_id)
        if step.leftover_id is None:
            return book
        changed = with_step(build, structs.replace(step, leftover_id=None))
        return without_leftovers(book.with_build(changed), (step.leftover_id,))

    return command


def without_leftovers(book: HouseBook, leftover_ids: tuple[int, ...]) -> HouseBook:
    """The book without some leftovers; refuses where one is used, naming every user."""
    for leftover_id in leftover_ids:
        if swaps_with(book, {leftover_id}):
            raise Refusal(
                f"{book.leftovers[leftover_id].name} cannot be removed.",
                "A swap for alcohol-free versions names it.",
                "Take that swap out of the house's settings first.",
            )
        found = uses(book, leftover_id)
        if found:
            raise Refusal(
                f"{book.leftovers[leftover_id].name} cannot be removed.",
                f"It is used in {named_users(book, found)}.",
                "Take it out there first.",
            )
    kept = {key: leftover for key, leftover in book.leftovers.items() if key not in leftover_ids}
    return replace(book, leftovers=kept)


def leftovers_of(steps: tuple[object, ...]) -> tuple[int, ...]:
    """The ids of what these steps leave over."""
    made = (step.leftover_id for step in steps if isinstance(step, Strain | Take))
    return tuple(leftover_id for leftover_id in made if leftover_id is not None)


def _dividing(book: HouseBook, build: Build, step_id: int) -> Strain | Take:
    step = step_of(build, step_id)
    if not isinstance(step, Strain | Take):
        raise Refusal(f"A step {step_name(book, step)} leaves nothing over.")
    return step
