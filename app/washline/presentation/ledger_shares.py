"""Who takes what a build yields: the parts that take it in, the drinks it is poured into, and what is left of it."""

import math
from dataclasses import dataclass, field
from typing import Protocol

from washline.engine.trace import Trace, trace_of
from washline.model.book import HouseBook
from washline.model.graph import inputs_of, maker_of
from washline.model.item import Build, Leftover
from washline.presentation.book_list import short_name
from washline.presentation.ledger_vessel import SMALLEST_G, Vessel, vessel_of
from washline.presentation.row_words import item_name
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_trimmed, with_unit

MOST_NAMED = 2
"""So many drinks are named; of more it is said how many."""


class Users(Protocol):
    """Who knows which builds take an item in."""

    def users_of(self, item_id: int) -> frozenset[int]:
        """The builds that take an item in."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What one part takes of something: ``scale`` is how much of its batch that makes."""

    build_id: int
    grams: float
    scale: float


@dataclass(frozen=True, slots=True)
class Served:
    """What drinks take of something: whole pours or pieces of ``each_g``, ``words`` saying of what size."""

    count: int
    each_g: float
    words: str
    drink_ids: tuple[int, ...]

    @property
    def grams(self) -> float:
        """Grams in all pours."""
        return self.count * self.each_g


@dataclass(frozen=True, slots=True)
class SharedOut:
    """All of something: what parts take, what drinks take, and what stays. ``unknown_ids`` take some of it, and how much
    is not known."""

    taken: tuple[Taken, ...]
    served: Served | None
    rest_g: float
    unknown_ids: tuple[int, ...] = ()

    @property
    def used_g(self) -> float:
        """Grams that somebody takes."""
        served = self.served.grams if self.served is not None else 0.0
        return sum((one.grams for one in self.taken), served)


@dataclass(slots=True)
class House:
    """A house book with traces and vessels as they are asked for, for one ledger or one list."""

    book: HouseBook
    trace: Trace
    users: Users
    style: NumberStyle = ENGLISH_STYLE
    _vessels: dict[int, Vessel] = field(default_factory=dict)

    def vessel(self, build_id: int) -> Vessel:
        """The entries of a build."""
        if build_id not in self._vessels:
            is_own = build_id == self.trace.build.id
            trace = self.trace if is_own else trace_of(self.book, build_id, self.trace.source)
            self._vessels[build_id] = vessel_of(trace)
        return self._vessels[build_id]

    def takers_of(self, item_id: int) -> list[Build]:
        """The builds that take an item in, in the order of the book."""
        builds = (self.book.builds.get(build_id) for build_id in sorted(self.users.users_of(item_id)))
        return [build for build in builds if build is not None and item_id in inputs_of(build)]

    def taken_g(self, build_id: int, item_id: int) -> float | None:
        """Grams of an item in one batch or serve of a build; ``None`` where that is not known."""
        inflows = self.vessel(build_id).inflows
        grams = sum((one.used.grams for one in inflows if one.item_id == item_id), 0.0)
        return grams if math.isfinite(grams) else None

    def shared_out(self, item_id: int, grams: float) -> SharedOut:
        """How so many grams of an item are used. Parts take what a batch of them needs, each less where all together need
        more than there is; of the rest go as many whole pours or pieces into drinks as there are."""
        takers = self.takers_of(item_id)
        needs = {build.id: self.taken_g(build.id, item_id) for build in takers if not build.is_drink}
        unknown = tuple(build_id for build_id, need in needs.items() if need is None)
        known = {build_id: need for build_id, need in needs.items() if need}
        wanted = sum(known.values(), 0.0)
        scale = min(1.0, grams / wanted) if wanted > 0.0 else 0.0
        taken = tuple(Taken(build_id, need * scale, scale) for build_id, need in known.items() if scale > 0.0)
        rest = max(0.0, grams - wanted * scale)
        served = self._served(item_id, rest, [build for build in takers if build.is_drink])
        if served is not None:
            rest = max(0.0, rest - served.grams)
        return SharedOut(taken, served, rest if rest > SMALLEST_G * max(1.0, grams) else 0.0, unknown)

    def _served(self, item_id: int, grams: float, drinks: list[Build]) -> Served | None:
        if not drinks or grams <= 0.0:
            return None
        item, each, words = self.book.item(item_id), None, ""
        if len(drinks) > 1 and isinstance(item, Build | Leftover):
            each, words = self._usual_pour(item)
        if each is None:
            each, words = self.taken_g(drinks[0].id, item_id), ""
        if not each or each <= 0.0:
            return None
        if not words:
            words = f"{format_trimmed(each, 1, self.style)} g"
        count = math.floor(grams / each + 1e-9)
        return Served(count, each, words, tuple(drink.id for drink in drinks)) if count else None

    def _usual_pour(self, item: Build | Leftover) -> tuple[float | None, str]:
        """The grams of the pour or piece that the house has set for an item."""
        pour_ml = item.pour_ml if isinstance(item, Build) else None
        if pour_ml is not None:
            readings = self.vessel(item.id).trace.result
            mass, volume = readings.value("mass"), readings.value("length")
            if mass and volume:
                number = format_trimmed(pour_ml, 1, self.style)
                return pour_ml * mass / volume, with_unit(number, "ml")
        if item.piece_g is not None:
            return item.piece_g, with_unit(format_trimmed(item.piece_g, 1, self.style), "g")
        return None, ""

    def served_words(self, served: Served) -> str:
        """Into what it is poured: *48 × Pear Signal*, *48 pours of 22.5 ml, for Pear Signal or bay twist*."""
        whole = [item_name(self.book, drink_id) for drink_id in served.drink_ids]
        names = [whole[0], *(short_name(name, whole[0]) for name in whole[1:])]
        if len(names) == 1:
            return f"{served.count} × {names[0]}"
        if len(names) <= MOST_NAMED:
            return f"{served.count} × {served.words}, for {' or '.join(names)}"
        return f"{served.count} × {served.words}, for {len(names)} drinks"

    def container(self, item_id: int) -> str:
        """Where what is not used of an item stays: a liquid in its bottle, pieces in their tin."""
        item = self.book.item(item_id)
        is_poured = isinstance(item, Build) and item.piece_g is None
        return "left in the bottle" if is_poured else "left over"

    def maker(self, item_id: int) -> Build | None:
        """The build that yields an item."""
        return maker_of(self.book, item_id)
