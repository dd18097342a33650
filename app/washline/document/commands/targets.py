"""Targets: named sets of aims, made, changed and removed."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from msgspec import structs

from washline.document.commands.command import Command, Refusal, next_id
from washline.document.commands.fields import plain_name
from washline.document.naming import listed
from washline.document.references import builds_with_target
from washline.model.book import HouseBook
from washline.model.reading import BY_KEY
from washline.model.target import Aim, Target


def new_target(name: str, aims: Sequence[Aim]) -> Command:
    """Makes a target; its id is ``next_id(book)``."""
    return lambda book: book.with_target(Target(id=next_id(book), name=plain_name(name), aims=tuple(aims)))


def rename_target(target_id: int, name: str) -> Command:
    """Gives a target another name."""
    return lambda book: book.with_target(structs.replace(_target(book, target_id), name=plain_name(name)))


def set_aim(target_id: int, aim: Aim) -> Command:
    """Puts an aim in the stead of the one for the same reading."""

    def changed(aims: tuple[Aim, ...]) -> tuple[Aim, ...]:
        _index(aims, aim.reading)
        return tuple(aim if one.reading == aim.reading else one for one in aims)

    return _with_aims(target_id, changed)


def add_aim(target_id: int, aim: Aim, at: int | None = None) -> Command:
    """Puts an aim in at a position (``None``: behind the others)."""

    def changed(aims: tuple[Aim, ...]) -> tuple[Aim, ...]:
        index = len(aims) if at is None else at
        return (*aims[:index], aim, *aims[index:])

    return _with_aims(target_id, changed)


def remove_aim(target_id: int, reading: str) -> Command:
    """Takes a reading out of a target."""

    def changed(aims: tuple[Aim, ...]) -> tuple[Aim, ...]:
        index = _index(aims, reading)
        return aims[:index] + aims[index + 1 :]

    return _with_aims(target_id, changed)


def move_aim(target_id: int, reading: str, to_index: int) -> Command:
    """Moves an aim to a position among the others."""

    def changed(aims: tuple[Aim, ...]) -> tuple[Aim, ...]:
        index = _index(aims, reading)
        rest = aims[:index] + aims[index + 1 :]
        return (*rest[:to_index], aims[index], *rest[to_index:])

    return _with_aims(target_id, changed)


def set_gate(target_id: int, reading: str, is_gate: bool) -> Command:
    """Makes an aim a limit that is no axis, or an axis again."""

    def changed(aims: tuple[Aim, ...]) -> tuple[Aim, ...]:
        index = _index(aims, reading)
        return (*aims[:index], structs.replace(aims[index], is_gate=is_gate), *aims[index + 1 :])

    return _with_aims(target_id, changed)


def remove_target(target_id: int, and_clear: bool = False) -> Command:
    """Removes a target; refused where a drink is judged by it, unless these are to have none (``and_clear``)."""

    def command(book: HouseBook) -> HouseBook:
        target = _target(book, target_id)
        users = list(builds_with_target(book, target_id))
        if users and not and_clear:
            raise Refusal(
                f"The target {target.name} cannot be removed.",
                f"{listed(build.name for build in users)} is judged by it.",
                "Choose another target there first.",
            )
        for build in users:
            book = book.with_build(structs.replace(build, target_id=None))
        return replace(book, targets={key: row for key, row in book.targets.items() if key != target_id})

    return command


def _with_aims(target_id: int, changed: Callable[[tuple[Aim, ...]], tuple[Aim, ...]]) -> Command:
    def command(book: HouseBook) -> HouseBook:
        target = _target(book, target_id)
        return book.with_target(structs.replace(target, aims=changed(target.aims)))

    return command


def _target(book: HouseBook, target_id: int) -> Target:
    target = book.targets.get(target_id)
    if target is None:
        raise Refusal("This target is no longer in the house book.", remedy="Undo brings it back.")
    return target


def _index(aims: tuple[Aim, ...], reading: str) -> int:
    for index, aim in enumerate(aims):
        if aim.reading == reading:
            return index
    raise Refusal(f"This target has no aim for {BY_KEY[reading].name.lower()}.")
