"""An alcohol-free version in one step: a twist in which what brings alcohol gives way to something else, or is left out."""

import math
from collections.abc import Iterable, Mapping, Sequence

from msgspec import structs

from washline.document.commands.command import Command, Refusal, build_of, item_of, next_id
from washline.document.commands.twisting import make_twist
from washline.document.naming import item_name
from washline.model.amount import Amount, Basis, grams, millilitres
from washline.model.book import HouseBook
from washline.model.house import Swap
from washline.model.item import Build
from washline.model.step import AnyStep, Chill, Line, Measurement
from washline.quantity.unit_names import UNITS


def make_alcohol_free(
    build_id: int,
    swaps: Sequence[Swap],
    name: str,
    found_ml: Mapping[int, float] | None = None,
    *,
    remembers: bool = True,
) -> Command:
    """Copies a drink as a twist, in which every line of an item that a rule names gives way to the rule's other item,
    ``factor`` times as much of it by volume, or is left out where the rule names none. The twist's id is ``next_id(book)``.

    ``found_ml`` gives the volume of lines that are weighed in, by step id; where it is not known, grams are multiplied. A
    share and a mark (to the wash line) stay a share and a mark. What was weighed or measured on the parent is not taken
    over: the version melts otherwise. With ``remembers`` the rules become the house's own. Raises ``Refusal`` for a rule
    that cannot be, and where no line answers to any.
    """
    rules = {swap.from_id: swap for swap in swaps}

    def command(book: HouseBook) -> HouseBook:
        parent = build_of(book, build_id)
        _check(book, parent, rules.values())
        twist_id = next_id(book)
        book = make_twist(build_id, name)(book)
        twist = book.builds[twist_id]
        volumes = {
            copy.id: (found_ml or {}).get(step.id)
            for step, copy in zip(parent.steps, twist.steps, strict=True)
        }
        steps = tuple(_swapped(step, rules, volumes[step.id]) for step in twist.steps)
        book = book.with_build(structs.replace(twist, steps=steps))
        if not remembers:
            return book
        return book.with_settings(
            structs.replace(book.settings, swaps=with_rules(book.settings.swaps, swaps))
        )

    return command


def with_rules(kept: Iterable[Swap], new: Iterable[Swap]) -> tuple[Swap, ...]:
    """The rules of a house with others put in: one rule for an item."""
    rules = {swap.from_id: swap for swap in kept}
    rules.update({swap.from_id: swap for swap in new})
    return tuple(rules.values())


def _check(book: HouseBook, parent: Build, rules: Iterable[Swap]) -> None:
    poured = {step.item_id for step in parent.steps if isinstance(step, Line) and not step.left_out}
    rules = list(rules)
    if not any(rule.from_id in poured for rule in rules):
        raise Refusal(
            f"None of these choices changes a line of {parent.name}.",
            remedy="Choose what takes the place of a line, or leave it out.",
        )
    for rule in rules:
        if rule.to_id is None:
            continue
        name = item_name(book, rule.from_id)
        item_of(book, rule.to_id)
        if rule.to_id == rule.from_id:
            raise Refusal(
                f"{name} cannot give way to itself.", remedy="Choose something else, or let it stay."
            )
        if not (math.isfinite(rule.factor) and rule.factor > 0.0):
            raise Refusal(
                f"{name} needs a factor above 0.", remedy="Type 1 for as much, or leave the line out."
            )


def _swapped(step: AnyStep, rules: Mapping[int, Swap], found_ml: float | None) -> AnyStep:
    if isinstance(step, Chill):
        return structs.replace(step, melted_g=None, final_g=None, final_ml=None, end_c=None)
    if isinstance(step, Measurement):
        return structs.replace(step, left_out=True)
    rule = rules.get(step.item_id) if isinstance(step, Line) and not step.left_out else None
    if rule is None or not isinstance(step, Line):
        return step
    if rule.to_id is None:
        return structs.replace(step, left_out=True)
    return structs.replace(step, item_id=rule.to_id, amount=_amount(step.amount, rule.factor, found_ml))


def _amount(amount: Amount, factor: float, found_ml: float | None) -> Amount:
    """So many times as much by volume: what was weighed is poured."""
    if amount.basis is Basis.TO_WASH_LINE:
        return amount
    unit = UNITS.get(amount.unit)
    if amount.basis is Basis.ABSOLUTE and unit is not None and unit.dimension == "mass":
        if found_ml is not None and math.isfinite(found_ml):
            return millilitres(round(found_ml * factor, 2))
        return grams(amount.number * factor) if amount.unit == "g" else _times(amount, factor)
    return _times(amount, factor)


def _times(amount: Amount, factor: float) -> Amount:
    return amount if factor == 1.0 else structs.replace(amount, number=amount.number * factor, typed="")
