"""Where the mass went: the ledger of a house-made part or a drink, to the gram.

A part's ledger follows its leftovers, where that is asked for, into the parts that take them, one level on. A drink's goes
through its parts: of each batch the share that its pour is.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from washline.engine.trace import Trace
from washline.model.item import Build
from washline.presentation.ledger_shares import House, SharedOut, Users
from washline.presentation.ledger_vessel import (
    GROUPS,
    NOTHING,
    SMALLEST_G,
    Fate,
    Inflow,
    Matter,
    Origin,
    Outlet,
    Turned,
    Vessel,
)
from washline.presentation.row_words import item_name
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle

NOT_COMPUTED = "It cannot be told where the mass went"
EMPTY = "Nothing is in the vessel yet. Add a first line to the build."
SHOWN_G = 0.005
"""A difference below this is rounding."""


@dataclass(frozen=True, slots=True)
class Account:
    """One row: what it is, its group (an ``Origin`` or a ``Fate``), its grams, and its matter where that is known.

    ``item_id`` is what the row is of and what opens from it, ``build_id`` the vessel that it went into or came out of.
    """

    key: str
    name: str
    group: Origin | Fate
    grams: float
    matter: Matter | None
    item_id: int | None
    build_id: int


@dataclass(frozen=True, slots=True)
class Used:
    """What became of all that was bought, in grams: ``main_g`` is in the glass or the bottle, ``leftover_g`` in leftovers
    that somebody takes."""

    bought_g: float
    main_g: float
    leftover_g: float

    @property
    def main_pct(self) -> float:
        """Percent of what was bought that is in the glass or the bottle."""
        return 100.0 * self.main_g / self.bought_g

    @property
    def leftover_pct(self) -> float:
        """Percent of what was bought that is in leftovers that somebody takes."""
        return 100.0 * self.leftover_g / self.bought_g

    @property
    def pct(self) -> float:
        """Used of bought, in percent."""
        return self.main_pct + self.leftover_pct


@dataclass(frozen=True, slots=True)
class Closing:
    """What does not close of one group of components: grams in less grams out, and why, in words."""

    name: str
    grams: float
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ledger:
    """The rows of both sides. ``followed`` are the builds that leftovers were followed into, ``through`` the parts of
    which a drink holds a share. ``problem`` says why there is nothing to show."""

    build: Build
    ins: tuple[Account, ...] = ()
    outs: tuple[Account, ...] = ()
    turned: tuple[Turned, ...] = ()
    used: Used | None = None
    followed: tuple[int, ...] = ()
    through: tuple[int, ...] = ()
    problem: str = ""
    is_empty: bool = False
    uncounted: tuple[str, ...] = ()
    """What is on the glass and cannot be computed, in words."""

    @property
    def in_g(self) -> float:
        """All that went in."""
        return _total(self.ins)

    @property
    def out_g(self) -> float:
        """All that came out."""
        return _total(self.outs)

    @property
    def in_less_out_g(self) -> float:
        """What is not accounted for."""
        return self.in_g - self.out_g

    @property
    def all_in(self) -> Matter:
        """The matter of all rows that went in, as far as it is known."""
        return _matter(self.ins)

    @property
    def all_out(self) -> Matter:
        """The matter of all rows that came out, as far as it is known."""
        return _matter(self.outs)

    @property
    def closings(self) -> tuple[Closing, ...]:
        """The groups of components that do not close, with the reasons."""
        inward, outward = self.all_in, self.all_out
        found = []
        for index, (name, rows) in enumerate(GROUPS):
            open_g = inward.of(rows) - outward.of(rows)
            if abs(open_g) > SHOWN_G:
                why = (one.words for one in self.turned if abs(one.gained_g[index]) > SHOWN_G)
                found.append(Closing(name, open_g, tuple(dict.fromkeys(why))))
        return tuple(found)

    def share_pct(self, row: Account) -> float:
        """A row's percent of all that came out."""
        return 100.0 * row.grams / self.out_g if self.out_g else 0.0


def ledger_of(
    trace: Trace, users: Users, style: NumberStyle = ENGLISH_STYLE, *, follows: bool = True
) -> Ledger:
    """The ledger of a build. ``follows``: a part's leftovers are followed into the parts that take them."""
    house = House(trace.book, trace, users, style)
    vessel = house.vessel(trace.build.id)
    problem = problem_of(vessel)
    if problem or vessel.is_empty:
        return Ledger(trace.build, problem=problem or EMPTY, is_empty=not problem)
    parts = Through(house, vessel) if trace.build.is_drink else Following(house, vessel, follows=follows)
    return Ledger(
        trace.build,
        tuple(parts.ins()),
        tuple(sorted(parts.outs(), key=_order)),
        tuple(parts.turned()),
        used_of_bought(house, vessel),
        parts.followed,
        parts.through,
        uncounted=tuple(problem.words for problem in trace.result.problems),
    )


def problem_of(vessel: Vessel) -> str:
    """Why a build has no ledger; empty where it has one."""
    if vessel.is_known:
        return ""
    why = vessel.trace.result.problems
    return f"{NOT_COMPUTED}: {why[0].words}." if why else f"{NOT_COMPUTED}: a line has no known composition."


class Following:
    """The rows of a part, its leftovers followed or told."""

    through: tuple[int, ...] = ()

    def __init__(self, house: House, vessel: Vessel, *, follows: bool) -> None:
        self.house, self.vessel = house, vessel
        self.followed: tuple[int, ...] = ()
        self.lanes: list[tuple[Outlet, SharedOut, list[Vessel]]] = []
        for outlet in vessel.outlets:
            if outlet.fate is Fate.KEPT and outlet.item_id is not None:
                shared = house.shared_out(outlet.item_id, outlet.matter.grams)
                self.lanes.append((outlet, shared, self._taking(outlet, shared) if follows else []))

    def _taking(self, outlet: Outlet, shared: SharedOut) -> list[Vessel]:
        """The parts into which a leftover is followed: each once, and none that cannot be computed."""
        vessels = []
        for taken in shared.taken:
            other = self.house.vessel(taken.build_id)
            if taken.build_id in self.followed or not other.is_known:
                continue
            self.followed = (*self.followed, taken.build_id)
            vessels.append(other.scaled(taken.scale))
        return vessels

    def ins(self) -> Iterator[Account]:
        """What went in, then what the parts that take a leftover need beside it."""
        yield from in_rows(self.vessel, "")
        for outlet, _shared, vessels in self.lanes:
            for vessel in vessels:
                own = tuple(one for one in vessel.inflows if one.item_id != outlet.item_id)
                yield from in_rows(replace(vessel, inflows=own), f", to {vessel.build.name}")

    def outs(self) -> Iterator[Account]:
        """What came out of the part, and of the parts that its leftovers were followed into."""
        yield from main_rows(self.house, self.vessel)
        yield from plain_rows(self.vessel, "")
        for outlet, shared, vessels in self.lanes:
            followed = {vessel.build.id for vessel in vessels}
            yield from leftover_rows(self.house, self.vessel, outlet, shared, followed)
            for vessel in vessels:
                yield from main_rows(self.house, vessel)
                yield from plain_rows(vessel, f", {vessel.build.name}")
                yield from self._left_over_again(vessel)

    def _left_over_again(self, vessel: Vessel) -> Iterator[Account]:
        """The leftovers of a part that was followed: told, and followed no further."""
        for outlet in vessel.outlets:
            if outlet.fate is Fate.KEPT and outlet.item_id is not None:
                shared = self.house.shared_out(outlet.item_id, outlet.matter.grams)
                yield from leftover_rows(self.house, vessel, outlet, shared, set())

    def turned(self) -> Iterator[Turned]:
        """What changed its kind on the way, and what the parts that take a leftover meet it as."""
        yield from self.vessel.turned
        for outlet, _shared, vessels in self.lanes:
            for vessel in vessels:
                yield from vessel.turned
                met = _sum(one.used for one in vessel.inflows if one.item_id == outlet.item_id)
                part = outlet.matter.scaled(met.grams / outlet.matter.grams)
                gained = tuple(met.of(rows) - part.of(rows) for _name, rows in GROUPS)
                yield Turned(f"{item_name(self.house.book, outlet.item_id or 0)} as it is taken in", gained)


class Through:
    """The rows of a drink through its parts: of each batch the share that is poured, down to what was bought."""

    followed: tuple[int, ...] = ()

    def __init__(self, house: House, vessel: Vessel) -> None:
        self.house, self.vessel = house, vessel
        self.parts: list[tuple[Inflow, Vessel]] = []
        self._open(vessel)
        shares: dict[int, float] = {}
        for _line, part in self.parts:
            whole = house.vessel(part.build.id).main.grams
            shares[part.build.id] = shares.get(part.build.id, 0.0) + part.main.grams / whole
        self.through = tuple(shares)
        self.batches = [house.vessel(build_id).scaled(share) for build_id, share in shares.items()]

    def _open(self, vessel: Vessel) -> None:
        for line in vessel.inflows:
            part = share_of_batch(self.house, line)
            if part is not None:
                self.parts.append((line, part))
                self._open(part)

    def ins(self) -> Iterator[Account]:
        """What was bought for the drink and for its share of each batch."""
        yield from in_rows(self._without_parts(self.vessel), "")
        for part in self.batches:
            yield from in_rows(self._without_parts(part), f", in {part.build.name}")

    def _without_parts(self, vessel: Vessel) -> Vessel:
        own = tuple(line for line in vessel.inflows if share_of_batch(self.house, line) is None)
        return replace(vessel, inflows=own)

    def outs(self) -> Iterator[Account]:
        """What is served, and what came out of the share of each batch beside it."""
        yield from main_rows(self.house, self.vessel)
        yield from self._beside(self.vessel, "")
        for part in self.batches:
            yield from self._beside(part, f", {part.build.name}")

    def _beside(self, vessel: Vessel, behind: str) -> Iterator[Account]:
        yield from plain_rows(vessel, behind)
        for outlet in vessel.outlets:
            if outlet.fate is Fate.KEPT and outlet.item_id is not None:
                yield from leftover_rows(
                    self.house, vessel, outlet, share_out_of_batch(self.house, vessel, outlet), set()
                )

    def turned(self) -> Iterator[Turned]:
        """What changed its kind on the way."""
        yield from self.vessel.turned
        for line, part in self.parts:
            yield from part.turned
            gained = tuple(line.used.of(rows) - part.main.of(rows) for _name, rows in GROUPS)
            yield Turned(f"{line.name} as it is poured", gained)


def share_of_batch(house: House, line: Inflow) -> Vessel | None:
    """Of the batch that a line pours, as much as it pours; ``None`` for what is bought or left over."""
    if line.origin is not Origin.MADE or line.item_id is None:
        return None
    part = house.vessel(line.item_id)
    if not part.is_known or part.main.grams <= SMALLEST_G or line.used.grams <= SMALLEST_G:
        return None
    return part.scaled(line.used.grams / part.main.grams)


def share_out_of_batch(house: House, vessel: Vessel, outlet: Outlet) -> SharedOut:
    """How the leftover of a share of a batch is used: as the whole batch's is."""
    whole = sum(
        (one.matter.grams for one in house.vessel(vessel.build.id).outlets if one.item_id == outlet.item_id),
        0.0,
    )
    if whole <= SMALLEST_G:
        return SharedOut((), None, outlet.matter.grams)
    shared = house.shared_out(outlet.item_id or 0, whole)
    factor = outlet.matter.grams / whole
    taken = tuple(replace(one, grams=one.grams * factor, scale=one.scale * factor) for one in shared.taken)
    served = (
        replace(shared.served, each_g=shared.served.each_g * factor) if shared.served is not None else None
    )
    return SharedOut(taken, served, shared.rest_g * factor, shared.unknown_ids)


def in_rows(vessel: Vessel, behind: str) -> Iterator[Account]:
    """What went into a vessel, line by line."""
    for index, line in enumerate(vessel.inflows):
        key = f"in {vessel.build.id} {line.step_id} {index}"
        words = ", as bought" if line.trimmed_g > 0.0 else ""
        name = line.name + words + behind
        yield Account(key, name, line.origin, line.grams, line.used, line.item_id, vessel.build.id)


def main_rows(house: House, vessel: Vessel) -> Iterator[Account]:
    """What a vessel holds in the end: in the glass, or by who takes it of the bottle."""
    build = vessel.build

    def row(key: str, name: str, grams: float, opens: int) -> Account:
        part = vessel.main.scaled(grams / vessel.main.grams)
        return Account(f"main {build.id} {key}", name, Fate.MAIN, grams, part, opens, build.id)

    if vessel.main.grams <= SMALLEST_G:
        return
    if build.is_drink:
        yield row("glass", f"{build.name}, in the glass", vessel.main.grams, build.id)
        return
    shared = house.shared_out(build.id, vessel.main.grams)
    for one in shared.taken:
        name = f"{build.name}, in {item_name(house.book, one.build_id)}"
        yield row(f"in {one.build_id}", name, one.grams, one.build_id)
    if shared.served is not None:
        words = house.served_words(shared.served)
        yield row("served", f"{build.name}, in {words}", shared.served.grams, shared.served.drink_ids[0])
    if shared.rest_g > 0.0:
        words = house.container(build.id) if shared.used_g else "in the bottle"
        yield row("rest", f"{build.name}, {words}", shared.rest_g, build.id)


def leftover_rows(
    house: House, vessel: Vessel, outlet: Outlet, shared: SharedOut, followed: set[int]
) -> Iterator[Account]:
    """A leftover by who takes it; what was followed into a part stands among that part's rows."""
    name = item_name(house.book, outlet.item_id or 0)

    def row(key: str, words: str, fate: Fate, grams: float) -> Account:
        part = outlet.matter.scaled(grams / outlet.matter.grams)
        return Account(f"left {vessel.build.id} {outlet.step_id} {key}", f"{name}, {words}", fate, grams, part,
                       outlet.item_id, vessel.build.id)  # fmt: skip

    for one in shared.taken:
        if one.build_id not in followed:
            yield row(
                f"in {one.build_id}", f"into {item_name(house.book, one.build_id)}", Fate.REUSED, one.grams
            )
    if shared.served is not None:
        yield row("served", f"in {house.served_words(shared.served)}", Fate.REUSED, shared.served.grams)
    if shared.rest_g > 0.0:
        takers = [item_name(house.book, build_id) for build_id in shared.unknown_ids]
        words = f"taken by {' and '.join(takers)}, how much is not known" if takers else "nobody takes it"
        if shared.used_g and not takers:
            words = "what is left of it"
        yield row("rest", words, Fate.KEPT, shared.rest_g)


def plain_rows(vessel: Vessel, behind: str) -> Iterator[Account]:
    """What left a vessel and is nobody's leftover, each kind once; what is on the glass; what was trimmed away."""
    build_id = vessel.build.id
    if vessel.on_glass.grams > 0.0:
        yield Account(f"glass {build_id}", Fate.ON_GLASS.value + behind, Fate.ON_GLASS, vessel.on_glass.grams,
                      vessel.on_glass, build_id, build_id)  # fmt: skip
    for fate in Fate:
        matters = [one.matter for one in vessel.outlets if one.fate is fate and fate is not Fate.KEPT]
        if matters:
            whole = _sum(matters)
            is_strained = fate is Fate.THROWN and not vessel.thrown_from_glass_g
            words = "poured away" if is_strained else _plain_words(fate, whole)
            key = f"{fate.name} {build_id}"
            yield Account(key, words + behind, fate, whole.grams, whole, build_id, build_id)
    if vessel.trimmed_g > 0.0:
        words = f"trimmed away{behind}"
        yield Account(f"trimmed {build_id}", words, Fate.THROWN, vessel.trimmed_g, None, build_id, build_id)


def _plain_words(fate: Fate, matter: Matter) -> str:
    if fate is Fate.EVAPORATED:
        return (
            "water, evaporated" if matter.water_g >= 0.995 * matter.grams else "water and alcohol, evaporated"
        )
    return "carbon dioxide, gone" if fate is Fate.GAS else fate.value


def used_of_bought(house: House, vessel: Vessel) -> Used | None:
    """How much of what was bought ends in the glass or the bottle, or in leftovers that somebody takes; a drink's is
    told through its parts."""
    bought, main, leftover = _bought(house, vessel, is_through=vessel.build.is_drink)
    if bought <= 0.0:
        return None
    # A measurement can find more than was weighed in: that is its difference, and no more than all can be used.
    main = min(main, bought)
    return Used(bought, main, min(leftover, bought - main))


def _bought(house: House, vessel: Vessel, *, is_through: bool) -> tuple[float, float, float]:
    """Bought grams, of these in the main output, of these in leftovers that are taken."""
    bought = main = leftover = 0.0
    for line in vessel.inflows:
        part = share_of_batch(house, line) if is_through else None
        if line.origin is Origin.BOUGHT:
            bought += line.grams
            main += line.kept_g
            leftover += _reused_g(house, vessel, line)
        elif part is not None:
            below = _bought(house, part, is_through=True)
            stays = line.kept_g / line.used.grams
            bought, main, leftover = bought + below[0], main + below[1] * stays, leftover + below[2]
    return bought, main, leftover


def _reused_g(house: House, vessel: Vessel, line: Inflow) -> float:
    """Grams of a line that are in leftovers which somebody takes."""
    total = 0.0
    for outlet in vessel.outlets:
        if outlet.fate is not Fate.KEPT or outlet.item_id is None or outlet.matter.grams <= SMALLEST_G:
            continue
        rows = vessel.trace.output_shares.get(outlet.item_id, {}).get(line.step_id)
        lines = house.vessel(vessel.build.id).inflows
        step_g = sum((one.used.grams for one in lines if one.step_id == line.step_id), 0.0)
        if rows is None or step_g <= 0.0:
            continue
        shared = share_out_of_batch(house, vessel, outlet)
        in_leftover = Matter(rows[: len(NOTHING.masses)]).grams * line.used.grams / step_g
        total += in_leftover * shared.used_g / outlet.matter.grams
    return total


def _order(row: Account) -> int:
    return list(Fate).index(Fate(row.group))


def _sum(matters: Iterable[Matter]) -> Matter:
    total = NOTHING
    for matter in matters:
        total = total.plus(matter)
    return total


def _matter(rows: Iterable[Account]) -> Matter:
    return _sum(row.matter for row in rows if row.matter is not None)


def _total(rows: Iterable[Account]) -> float:
    return sum((row.grams for row in rows), 0.0)
