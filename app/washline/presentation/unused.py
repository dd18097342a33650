"""Leftovers that nobody takes, or not all of: across the house book, with what could take them and why."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Protocol

from washline.chemistry.components import ETHANOL, WATER
from washline.engine.trace import Trace
from washline.model.book import HouseBook
from washline.model.graph import cycle_if_used, inputs_of, outputs_of
from washline.model.item import Build, KeptAt, Leftover, RawIngredient
from washline.presentation.ledger_shares import House
from washline.presentation.ledger_vessel import Matter, Vessel
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_number, with_unit

MOST_TAKERS = 5
SMALLEST_SHOWN_G = 0.05
TELLING_SHARE = 0.15
"""Of the dry matter of a leftover so much must come from a raw ingredient for the leftover to be of it."""

_MEANS = ("water-mixer", "acid", "salt-mineral", "hydrocolloid-enzyme-additive", "sugar-syrup")
"""Categories of what is in nearly everything: that two builds share it says nothing."""


class Engine(Protocol):
    """What computes the house book."""

    book: HouseBook

    def users_of(self, item_id: int) -> frozenset[int]:
        """The builds that take an item in."""

    def trace(self, build_id: int, book: HouseBook | None = None) -> Trace:
        """A build in detail."""


@dataclass(frozen=True, slots=True)
class Taker:
    """A part or drink that could take a leftover, and the reason in words. ``rank``: 0 takes some already, 1 takes in the
    same raw ingredient, 2 one of its kind."""

    build_id: int
    name: str
    rank: int
    reason: str


@dataclass(frozen=True, slots=True)
class Unused:
    """A leftover of which something is left in every batch. ``left_g`` of ``batch_g`` grams; ``matter`` is of what is left,
    ``None`` where it cannot be computed. ``days`` is how long it keeps, ``None`` where the house has not said."""

    item_id: int
    name: str
    maker_id: int
    maker_name: str
    left_g: float | None
    batch_g: float | None
    matter: Matter | None
    kept_at: KeptAt
    days: int | None
    takers: tuple[Taker, ...]

    @property
    def is_partly_taken(self) -> bool:
        """Whether somebody takes some of it."""
        return self.left_g is not None and self.batch_g is not None and self.left_g < self.batch_g

    def keeps_words(self) -> str:
        """How long it keeps, by the house."""
        if self.days is None:
            return "no house date"
        return f"{self.days} {'day' if self.days == 1 else 'days'}, not tested"


def unused(engine: Engine, style: NumberStyle = ENGLISH_STYLE) -> tuple[Unused, ...]:
    """All leftovers of the house book of which something is left, the heaviest first; those of unknown weight at the
    head."""
    found = [_unused(engine, leftover, style) for leftover in _yielded(engine.book)]
    rows = [one for one in found if one is not None]
    return tuple(sorted(rows, key=lambda row: (row.left_g is not None, -(row.left_g or 0.0), row.name)))


def _yielded(book: HouseBook) -> Iterable[Leftover]:
    """The leftovers that some step still yields."""
    for leftover in book.leftovers.values():
        maker = book.builds.get(leftover.build_id)
        steps = maker.steps if maker is not None else ()
        if any(getattr(step, "leftover_id", None) == leftover.id and not step.left_out for step in steps):
            yield leftover


def _unused(engine: Engine, leftover: Leftover, style: NumberStyle) -> Unused | None:
    book = engine.book
    maker = book.builds[leftover.build_id]
    trace = engine.trace(maker.id)
    house = House(book, trace, engine, style)
    vessel = house.vessel(maker.id)
    days = leftover.house_days if leftover.house_days is not None else maker.house_days
    whole = _batch(vessel, leftover.id)
    if whole is None:
        return Unused(
            leftover.id, leftover.name, maker.id, maker.name, None, None, None, leftover.kept_at, days, ()
        )
    shared = house.shared_out(leftover.id, whole.grams)
    if shared.rest_g < SMALLEST_SHOWN_G:
        return None
    takers = _takers(house, leftover, vessel, style)
    return Unused(
        leftover.id, leftover.name, maker.id, maker.name, shared.rest_g, whole.grams,
        whole.scaled(shared.rest_g / whole.grams), leftover.kept_at, days, takers,
    )  # fmt: skip


def _batch(vessel: Vessel, item_id: int) -> Matter | None:
    """All of a leftover that one batch yields; ``None`` where it cannot be computed."""
    matters = [one.matter for one in vessel.outlets if one.item_id == item_id]
    if not vessel.is_known or not matters:
        return None
    total = matters[0]
    for matter in matters[1:]:
        total = total.plus(matter)
    return total


def _takers(house: House, leftover: Leftover, vessel: Vessel, style: NumberStyle) -> tuple[Taker, ...]:
    """What could take a leftover: those that take some already, then those that take another of the same batch or the same
    raw ingredient, then those of its kind."""
    book = house.book
    found: dict[int, Taker] = {}

    def offer(build_ids: Iterable[int], rank: int, reason: Callable[[Build], str]) -> None:
        for build_id in build_ids:
            build = book.builds.get(build_id)
            if build is None or build_id in found or build_id == vessel.build.id:
                continue
            if rank == 0 or not cycle_if_used(book, build_id, leftover.id):
                found[build_id] = Taker(build_id, build.name, rank, reason(build))

    def already(build: Build) -> str:
        grams = house.taken_g(build.id, leftover.id)
        amount = with_unit(format_number(grams, 1, style), "g") if grams is not None else "some"
        return f"takes {amount} of it already"

    offer((build.id for build in house.takers_of(leftover.id)), 0, already)
    for other in _siblings(book, vessel.build, leftover.id):
        offer(
            sorted(house.users.users_of(other.id)),
            1,
            lambda _build, other=other: f"takes in {other.name}, of the same batch",  # type: ignore[misc]
        )
    raws = telling_raws(vessel, leftover.id)
    for raw in raws:
        offer(sorted(house.users.users_of(raw.id)), 1, lambda _build, raw=raw: f"takes in {raw.name} too")  # type: ignore[misc]
    kinds = {raw.category for raw in raws if raw.category}
    if kinds and len(found) < MOST_TAKERS:
        for build_id, raw in _of_kind(book, kinds):
            offer([build_id], 2, lambda _build, raw=raw: f"takes in {raw.name}, of the same kind")  # type: ignore[misc]
    ranked = sorted(found.values(), key=lambda taker: (taker.rank, taker.name))
    return tuple(ranked[:MOST_TAKERS])


def _siblings(book: HouseBook, maker: Build, leftover_id: int) -> Iterable[Leftover]:
    """The other leftovers of a batch."""
    found = (book.leftovers.get(item_id) for item_id in outputs_of(maker)[1:] if item_id != leftover_id)
    return (other for other in found if other is not None)


def telling_raws(vessel: Vessel, item_id: int) -> list[RawIngredient]:
    """The raw ingredients that a leftover is of: those that bring a good part of its dry matter, and are no mere means
    (sugar, acid, salt, water); the first brings most."""
    shares = vessel.trace.output_shares.get(item_id, {})
    dry: dict[int, float] = {}
    for line in vessel.inflows:
        rows = shares.get(line.step_id)
        raw = vessel.trace.book.raws.get(line.item_id or 0)
        if rows is not None and raw is not None and raw.category not in _MEANS:
            held = Matter(rows[: len(line.used.masses)])
            dry[raw.id] = dry.get(raw.id, 0.0) + held.grams - held.of((WATER, ETHANOL))
    total = sum(dry.values(), 0.0)
    telling = [raw_id for raw_id, grams in dry.items() if grams > 0.0 and grams >= TELLING_SHARE * total]
    return [vessel.trace.book.raws[raw_id] for raw_id in sorted(telling, key=lambda raw_id: -dry[raw_id])]


def _of_kind(book: HouseBook, kinds: set[str]) -> Iterable[tuple[int, RawIngredient]]:
    """Builds that take in a raw ingredient of some category, in the order of the book."""
    for build in book.builds.values():
        for item_id in inputs_of(build):
            raw = book.raws.get(item_id)
            if raw is not None and raw.category in kinds:
                yield build.id, raw
                break
