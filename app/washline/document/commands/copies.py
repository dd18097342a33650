"""Copying and pasting steps: as data that can leave the program and come back, also into another house book."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from msgspec import Struct, field, structs

from washline.document.commands.command import Command, Refusal, build_of, next_id, steps_of
from washline.document.commands.leftovers import leftovers_of
from washline.document.commands.placing import inserted
from washline.document.naming import item_name, listed, step_name
from washline.document.references import named_items, with_items
from washline.model.amount import Amount, grams
from washline.model.book import HouseBook
from washline.model.item import Build, Leftover
from washline.model.step import AnyStep, Line, Strain, Take


class StepCopies(Struct, frozen=True, gc=False):
    """Copied steps in order, with what they need elsewhere: the leftovers that they make, the names of the items that
    they name, and the grams found for shares."""

    steps: tuple[AnyStep, ...]
    leftovers: tuple[Leftover, ...] = ()
    item_names: dict[int, str] = field(default_factory=dict)
    found_g: dict[int, float] = field(default_factory=dict)


def copy_steps(
    book: HouseBook, build_id: int, step_ids: Collection[int], found_g: Mapping[int, float] | None = None
) -> StepCopies:
    """Copies of steps in the order of the build. ``found_g`` gives, by step id, the grams found for shares: they stand
    in where the line that a share refers to is not pasted with it."""
    steps = steps_of(build_of(book, build_id), frozenset(step_ids))
    leftovers = tuple(book.leftovers[leftover_id] for leftover_id in leftovers_of(steps))
    named = [item_id for step in steps for item_id in named_items(step)]
    acted = [row.acts_as_id for row in leftovers if row.acts_as_id is not None]
    return StepCopies(
        steps,
        leftovers,
        {item_id: item_name(book, item_id) for item_id in (*named, *acted)},
        {step.id: found_g[step.id] for step in steps if found_g and step.id in found_g},
    )


def paste_steps(copies: StepCopies, build_id: int, after: int | None = None) -> Command:
    """Puts copies in after a step (``AT_START``: before all, ``None``: at the end), with new ids.

    Shares of a step that was copied too refer to its copy; shares of a step that stands above in the same build still
    refer to it; any other share stands at the grams found, or is refused. Leftovers are made anew under their names.
    Items are found by id and name, else by name alone, so that steps can come from another house book.
    """

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        paste = _Paste(book, copies, build, _items_here(book, copies))
        pasted = inserted(build, [paste.copy_of(step) for step in copies.steps], after)
        above = {step.id for step in pasted.steps[: pasted.steps.index(_first(pasted, next_id(book)))]}
        steps = tuple(paste.rebased(step, above) if step.id > book.top_id else step for step in pasted.steps)
        for leftover in paste.new_leftovers():
            book = book.with_leftover(leftover)
        return book.with_build(structs.replace(build, steps=steps))

    return command if copies.steps else lambda book: book


def _first(build: Build, step_id: int) -> AnyStep:
    return next(step for step in build.steps if step.id == step_id)


def _items_here(book: HouseBook, copies: StepCopies) -> dict[int, int]:
    """The ids in this book of the items that the copies pour."""
    found: dict[int, int] = {}
    lost = []
    for item_id, name in copies.item_names.items():
        here = book.item(item_id)
        if here is not None and here.name == name:
            found[item_id] = item_id
            continue
        same = [
            item.id
            for rows in (book.raws, book.builds, book.leftovers)
            for item in rows.values()
            if item.name == name
        ]
        if len(same) == 1:
            found[item_id] = same[0]
        else:
            lost.append(name)
    if lost:
        raise Refusal(
            "These lines cannot be pasted here.",
            f"This house book has no {listed(lost)}, or more than one.",
            "Make it here first, or copy the lines again.",
        )
    return found


@dataclass(frozen=True, slots=True)
class _Paste:
    """One paste: how ids of the copies become ids of the book."""

    book: HouseBook
    copies: StepCopies
    build: Build
    items: Mapping[int, int]

    def new_id(self, step_id: int) -> int | None:
        order = [step.id for step in self.copies.steps]
        return next_id(self.book) + order.index(step_id) if step_id in order else None

    def new_leftover_id(self, leftover_id: int) -> int:
        order = [leftover.id for leftover in self.copies.leftovers]
        return next_id(self.book) + len(self.copies.steps) + order.index(leftover_id)

    def new_leftovers(self) -> tuple[Leftover, ...]:
        return tuple(
            structs.replace(
                leftover,
                id=self.new_leftover_id(leftover.id),
                build_id=self.build.id,
                acts_as_id=None if leftover.acts_as_id is None else self.items[leftover.acts_as_id],
            )
            for leftover in self.copies.leftovers
        )

    def copy_of(self, step: AnyStep) -> AnyStep:
        """The step with ids of this book; its share still refers to what it referred to."""
        step = structs.replace(step, id=self.new_id(step.id), build_id=self.build.id)
        step = with_items(step, self.items)
        if isinstance(step, Strain | Take) and step.leftover_id is not None:
            return structs.replace(step, leftover_id=self.new_leftover_id(step.leftover_id))
        return step

    def rebased(self, step: AnyStep, above: Collection[int]) -> AnyStep:
        """The pasted step with its share on what is there now."""
        if not isinstance(step, Line | Take) or not step.amount.of:
            return step
        bases = [self._base(base, above) for base in step.amount.of]
        if None not in bases:
            of = tuple(base for base in bases if base is not None)
            return structs.replace(step, amount=structs.replace(step.amount, of=of))
        return structs.replace(step, amount=self._found(step))

    def _base(self, base: int, above: Collection[int]) -> int | None:
        return self.new_id(base) or (base if base in above else None)

    def _found(self, step: Line | Take) -> Amount:
        old_id = self.copies.steps[step.id - next_id(self.book)].id
        if old_id not in self.copies.found_g:
            raise Refusal(
                f"{step_name(self.book, step)} cannot be pasted here.",
                "Its amount is a share of a line that is not above it here.",
                "Copy that line with it, or type the amount in grams first.",
            )
        return grams(self.copies.found_g[old_id])
