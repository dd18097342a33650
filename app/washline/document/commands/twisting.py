"""Twists: a drink or part copied from another that it remembers, and what becomes of the two."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from msgspec import structs

from washline.document.commands.command import Command, Refusal, build_of, next_id
from washline.document.commands.fields import plain_name
from washline.document.commands.items import outputs, without_build
from washline.document.commands.leftovers import leftovers_of
from washline.document.commands.weighings import weighings_without_steps, with_weighings_moved
from washline.document.commands.yields import with_makings_moved, without_yields
from washline.document.naming import listed
from washline.document.references import named_users, swaps_with, uses_of_any, with_items
from washline.document.twists import line_pairs
from washline.model.book import HouseBook
from washline.model.change import Table, difference
from washline.model.house import Swap
from washline.model.item import Build, Leftover
from washline.model.step import AnyStep, Line, Strain, Take

_OWN = ("id", "kind", "name", "steps", "parent_id", "is_tried")
"""What a build keeps of its own when it takes over the content of its twist."""


def make_twist(build_id: int, name: str) -> Command:
    """Copies a drink or part under another name, to be tried; the copy remembers it as its parent. Its id is
    ``next_id(book)``. It is being tried until it is kept, takes its parent's place, or is let go."""

    def command(book: HouseBook) -> HouseBook:
        copied = _copied(book, build_of(book, build_id), plain_name(name))
        return copied.book.with_build(structs.replace(copied.build, is_tried=True))

    return command


def keep_both(twist_id: int) -> Command:
    """Decides that a twist stays beside its parent, which it still remembers: it is no longer being tried."""

    def command(book: HouseBook) -> HouseBook:
        _parent_of(book, twist_id)
        return book.with_build(structs.replace(build_of(book, twist_id), is_tried=False))

    return command


def let_go(twist_id: int) -> Command:
    """Removes a twist. Whoever pours it goes back to what it was twisted from."""

    def command(book: HouseBook) -> HouseBook:
        twist = build_of(book, twist_id)
        parent = _parent_of(book, twist_id)
        heirs = {twist_id: parent.id, **_leftover_heirs(parent, twist)}
        _refuse_lost(book, twist, set(outputs(book, twist_id)) - heirs.keys(), "let go")
        return without_build(_poured_instead(book, heirs), twist)

    return command


def take_parents_place(twist_id: int) -> Command:
    """Gives the parent the content of its twist, and removes the twist.

    The parent keeps its id, its name, its own parent and its place in every list, so that whoever pours it, its other
    twists and its history stay whole. Its steps keep their ids where a step of the twist answers to them. Whoever pours
    the twist, or something left over by it, pours the parent and its leftovers instead. The makings and
    weighings of both become the parent's, without the yields of strains that are gone.
    """

    def command(book: HouseBook) -> HouseBook:
        twist = build_of(book, twist_id)
        parent = _parent_of(book, twist_id)
        heirs = _Heirs.of(book, parent, twist)
        _refuse_lost(book, parent, set(outputs(book, parent.id)) - set(heirs.leftovers.values()), "replaced")
        content = {name: getattr(twist, name) for name in twist.__struct_fields__ if name not in _OWN}
        steps = tuple(heirs.step(step, parent.id) for step in twist.steps)
        book = without_yields(book, parent.id, heirs.gone_from(parent))
        book = weighings_without_steps(book, frozenset(heirs.gone_from(parent)))
        book = with_makings_moved(book, twist_id, parent.id, heirs.steps)
        book = with_weighings_moved(book, twist_id, parent.id, heirs.steps)
        book = book.with_build(structs.replace(parent, **content, steps=steps))
        book = _with_leftovers(book, parent.id, heirs.rows(book, parent.id))
        book = _poured_instead(book, {twist_id: parent.id, **heirs.leftovers})
        return without_build(_twists_of(book, twist_id, parent.id), book.builds[twist_id])

    return command


def twist_part_for(drink_id: int, part_ids: Sequence[int], command: Command) -> Command:
    """Makes a change to a part for one drink alone: the part is copied, the copy is changed, and only that drink pours
    the copy.

    ``part_ids`` is the way down from the drink, the changed part last: parts between are copied too. ``command`` is the
    plain command on the part itself. The id of the first copy, the one that the drink pours, is ``next_id(book)``.
    Raises ``ValueError`` if the command changes anything but that part.
    """

    def twisted(book: HouseBook) -> HouseBook:
        drink = build_of(book, drink_id)
        edited = _edited_alone(book, part_ids[-1], command)
        user_id = drink_id
        for part_id in part_ids:
            part = build_of(edited if part_id == part_ids[-1] else book, part_id)
            source = replace(book, leftovers=edited.leftovers) if part_id == part_ids[-1] else book
            copied = _copied(source, part, free_name(book, part_name_for(part, drink)))
            book = replace(copied.book, leftovers=_only_new(book, copied))
            poured = {part_id: copied.build.id, **copied.leftovers}
            book = book.with_build(_now_pouring(build_of(book, user_id), part, poured))
            user_id = copied.build.id
        return book

    return twisted


def default_twist_name(book: HouseBook, build_id: int) -> str:
    """A free name for a twist: *Pear Signal, twist*, then *Pear Signal, twist 2* …"""
    return free_name(book, f"{build_of(book, build_id).name}, twist")


def part_name_for(part: Build, drink: Build) -> str:
    """What a part is called that was twisted for one drink: *cordial, for Pear Signal*."""
    return f"{part.name}, for {drink.name}"


def free_name(book: HouseBook, name: str) -> str:
    """The name itself, or with a number behind it where a build has it already."""
    taken = {build.name for build in book.builds.values()}
    free, count = name, 1
    while free in taken:
        count += 1
        free = f"{name} {count}"
    return free


@dataclass(frozen=True, slots=True)
class _Copied:
    """A book with a copy of a build; ``leftovers`` leads from the leftovers of the original to those of the copy."""

    book: HouseBook
    build: Build
    leftovers: Mapping[int, int]


def _copied(book: HouseBook, build: Build, name: str) -> _Copied:
    """Copies a build with new ids: first the build, then its steps, then its leftovers. Its makings are its own."""
    first = next_id(book)
    steps = {step.id: first + count for count, step in enumerate(build.steps, start=1)}
    kept = leftovers_of(build.steps)
    leftovers = {old: first + len(steps) + count for count, old in enumerate(kept, start=1)}
    copy = structs.replace(
        build,
        id=first,
        name=name,
        parent_id=build.id,
        is_tried=False,
        steps=tuple(_with_ids(step, first, steps, leftovers) for step in build.steps),
    )
    rows = [structs.replace(book.leftovers[old], id=new, build_id=first) for old, new in leftovers.items()]
    for row in rows:
        book = book.with_leftover(row)
    return _Copied(book.with_build(copy), copy, leftovers)


def _with_ids(
    step: AnyStep, build_id: int, steps: Mapping[int, int], leftovers: Mapping[int, int]
) -> AnyStep:
    step = structs.replace(step, id=steps[step.id], build_id=build_id)
    if isinstance(step, Line | Take) and step.amount.of:
        of = tuple(steps[base] for base in step.amount.of)
        step = structs.replace(step, amount=structs.replace(step.amount, of=of))
    if isinstance(step, Strain | Take) and step.leftover_id is not None:
        step = structs.replace(step, leftover_id=leftovers[step.leftover_id])
    return step


def _parent_of(book: HouseBook, twist_id: int) -> Build:
    twist = build_of(book, twist_id)
    parent = book.builds.get(twist.parent_id) if twist.parent_id is not None else None
    if parent is None:
        raise Refusal(f"{twist.name} is no twist of another.")
    return parent


def _leftover_heirs(heir: Build, gone: Build) -> dict[int, int]:
    """From the leftovers of ``gone`` to those of the steps of ``heir`` that answer to theirs."""
    pairs = ((pair.parent, pair.twist) for pair in line_pairs(heir, gone))
    return {
        other.leftover_id: step.leftover_id
        for step, other in pairs
        if isinstance(step, Strain | Take)
        and isinstance(other, Strain | Take)
        and step.leftover_id is not None
        and other.leftover_id is not None
    }


@dataclass(frozen=True, slots=True)
class _Heirs:
    """Which ids of a twist become which of its parent: of steps, and of leftovers."""

    steps: Mapping[int, int]
    leftovers: Mapping[int, int]

    @classmethod
    def of(cls, book: HouseBook, parent: Build, twist: Build) -> "_Heirs":
        answered = {
            pair.twist.id: pair.parent.id
            for pair in line_pairs(parent, twist)
            if pair.twist is not None and pair.parent is not None
        }
        first = next_id(book)
        steps = {step.id: answered.get(step.id, first + count) for count, step in enumerate(twist.steps)}
        known = _leftover_heirs(parent, twist)
        first += len(twist.steps)
        made = enumerate(leftovers_of(twist.steps))
        return cls(steps, {old: known.get(old, first + count) for count, old in made})

    def gone_from(self, parent: Build) -> set[int]:
        """The steps of the parent that no step of the twist answers to."""
        return {step.id for step in parent.steps} - set(self.steps.values())

    def step(self, step: AnyStep, build_id: int) -> AnyStep:
        return _with_ids(step, build_id, self.steps, self.leftovers)

    def rows(self, book: HouseBook, build_id: int) -> tuple[Leftover, ...]:
        return tuple(
            structs.replace(book.leftovers[old], id=new, build_id=build_id)
            for old, new in self.leftovers.items()
        )


def _with_leftovers(book: HouseBook, build_id: int, rows: Sequence[Leftover]) -> HouseBook:
    """The book with just these leftovers of a build."""
    others = {key: row for key, row in book.leftovers.items() if row.build_id != build_id}
    book = replace(book, leftovers=others)
    for row in rows:
        book = book.with_leftover(row)
    return book


def _refuse_lost(book: HouseBook, build: Build, leftover_ids: set[int], how: str) -> None:
    found = uses_of_any(book, leftover_ids)
    if found:
        lost = listed(book.leftovers[leftover_id].name for leftover_id in sorted(leftover_ids))
        raise Refusal(
            f"{build.name} cannot be {how}.",
            f"{lost} is left over by it alone, and is used in {named_users(book, found)}.",
            "Take it out there first.",
        )


def _pouring(build: Build, instead: Mapping[int, int]) -> Build:
    """The build with lines of some items on others."""
    steps = tuple(with_items(step, instead) for step in build.steps)
    return structs.replace(build, steps=steps)


def _now_pouring(user: Build, part: Build, instead: Mapping[int, int]) -> Build:
    pouring = _pouring(user, instead)
    if pouring == user:
        raise Refusal(f"{user.name} does not pour {part.name}.")
    return pouring


def _poured_instead(book: HouseBook, instead: Mapping[int, int]) -> HouseBook:
    for use in uses_of_any(book, instead.keys()):
        book = book.with_build(_pouring(book.builds[use.build_id], instead))
    if not swaps_with(book, instead.keys()):
        return book
    swaps = tuple(_swapping(swap, instead) for swap in book.settings.swaps)
    kept = {swap.from_id: swap for swap in reversed(swaps) if swap.from_id != swap.to_id}
    return book.with_settings(structs.replace(book.settings, swaps=tuple(reversed(kept.values()))))


def _swapping(swap: Swap, instead: Mapping[int, int]) -> Swap:
    to_id = None if swap.to_id is None else instead.get(swap.to_id, swap.to_id)
    return structs.replace(swap, from_id=instead.get(swap.from_id, swap.from_id), to_id=to_id)


def _twists_of(book: HouseBook, old_parent: int, new_parent: int) -> HouseBook:
    """The book with the twists of one build made twists of another."""
    for build in book.builds.values():
        if build.parent_id == old_parent and build.id != new_parent:
            book = book.with_build(structs.replace(build, parent_id=new_parent))
    return book


def _edited_alone(book: HouseBook, part_id: int, command: Command) -> HouseBook:
    """The book after a command that may change one part and its leftovers only."""
    build_of(book, part_id)
    edited = command(book)
    for change in difference(book, edited).changes:
        row = change.after or change.before
        owner = change.key if change.table is Table.BUILD else getattr(row, "build_id", None)
        if owner != part_id:
            raise ValueError(f"the command changes more than part {part_id}: {change.table} {change.key}")
    return edited


def _only_new(book: HouseBook, copied: _Copied) -> dict[int, Leftover]:
    """The leftovers of the book as they were, and those of the copy: the original keeps its own."""
    made = {new: copied.book.leftovers[new] for new in copied.leftovers.values()}
    return {**book.leftovers, **made}
