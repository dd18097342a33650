"""What a command is, what refuses it, and how commands find what they change."""

from collections.abc import Callable
from typing import NoReturn

from washline.model.book import HouseBook
from washline.model.item import Build, Item
from washline.model.step import AnyStep
from washline.problem import UserError

Command = Callable[[HouseBook], HouseBook]
"""A pure function from a house book to the next one; it may raise ``Refusal``."""


class Refusal(UserError):  # noqa: N818  what the door answers is no error of the program
    """What was asked cannot be: nothing was changed, and the words say why and what would help."""


def next_id(book: HouseBook) -> int:
    """The id that the next new thing gets: a command gives it to the line, drink or target that it makes first."""
    return book.top_id + 1


def in_turn(*commands: Command) -> Command:
    """Several commands as one."""

    def command(book: HouseBook) -> HouseBook:
        for one in commands:
            book = one(book)
        return book

    return command


def item_of(book: HouseBook, item_id: int) -> Item:
    """The item with that id; refuses where there is none."""
    item = book.item(item_id)
    return item if item is not None else _gone("This item")


def build_of(book: HouseBook, build_id: int) -> Build:
    """The build with that id; refuses where there is none."""
    build = book.builds.get(build_id)
    return build if build is not None else _gone("This drink or part")


def step_of(build: Build, step_id: int) -> AnyStep:
    """The step of a build with that id; refuses where there is none."""
    for step in build.steps:
        if step.id == step_id:
            return step
    return _gone(f"This step of {build.name}")


def steps_of(build: Build, step_ids: frozenset[int]) -> tuple[AnyStep, ...]:
    """The steps of a build with those ids, in the order of the build; refuses where one is missing."""
    found = tuple(step for step in build.steps if step.id in step_ids)
    return found if len(found) == len(step_ids) else _gone(f"One of these steps of {build.name}")


def _gone(what: str) -> NoReturn:
    raise Refusal(f"{what} is no longer in the house book.", remedy="Undo brings it back.")
