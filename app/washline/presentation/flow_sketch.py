"""What the flow pictures of parts and of drinks have in common: nodes and bands as they are found, and their words."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from washline.presentation.flow_graph import Band, Flow, Node, Tint
from washline.presentation.ledger import Account, leftover_rows
from washline.presentation.ledger_shares import House
from washline.presentation.ledger_vessel import SMALLEST_G, Fate, Inflow, Matter, Origin, Outlet, Vessel
from washline.quantity.formatting import NumberStyle, format_number, format_trimmed, with_unit

MOST_LATE_SOURCES = 4
"""So many lines that come later are drawn one by one; the smallest beyond it are told together."""
SUGARY = 0.5
AWAY = (
    Fate.EVAPORATED,
    Fate.GAS,
    Fate.LOST,
    Fate.HELD_BACK,
    Fate.POURED_AWAY,
    Fate.THROWN,
    Fate.DIFFERENCE,
)


@dataclass(slots=True)
class Sketch:
    """Nodes and bands as they are found; ``groups`` by column."""

    house: House
    groups: dict[int, list[Node]] = field(default_factory=dict)
    bands: list[Band] = field(default_factory=list)
    heads: dict[int, str] = field(default_factory=dict)
    subtitle: str = ""
    total_g: float = 0.0
    count: int = 0

    def fresh(self, words: str) -> str:
        """A key of its own, for what can be drawn more than once."""
        self.count += 1
        return f"{words} {self.count}"

    def put(self, node: Node) -> Node:
        """Puts a node at the foot of its column."""
        self.groups.setdefault(node.column, []).append(node)
        return node

    def tie(self, source: Node, target: Node, grams: float, tint: Tint, *, is_away: bool = False) -> None:
        """A band between two nodes."""
        if grams > SMALLEST_G:
            self.bands.append(Band(source.key, target.key, grams, tint, is_away))

    def node(self, key: str, column: int, grams: float, name: str, item_id: int | None, *notes: str) -> Node:
        """A node that is no source."""
        return Node(key, column, grams, "", name, tuple(note for note in notes if note), item_id=item_id)

    def row_node(self, row: Account, column: int, *notes: str) -> Node:
        """A row of the ledger as the end of a band."""
        node = self.node(row.key, column, row.grams, row.name, row.item_id, *notes)
        return replace(node, is_strong=row.group is Fate.MAIN)

    def sources(
        self, vessel: Vessel, lines: Sequence[Inflow], column: int, most: int
    ) -> list[tuple[Node, Inflow]]:
        """Lines as sources, the smallest beyond ``most`` together; they stand late but for the first column."""
        shown, together = _split([line for line in lines if line.grams > SMALLEST_G], most)
        found = []
        for index, line in enumerate([*shown, *([_together(together)] if together else [])]):
            is_merged = bool(together) and index == len(shown)
            words = ", as bought" if line.trimmed_g > 0.0 and not is_merged else ""
            node = Node(
                self.fresh(f"in {vessel.build.id} {line.step_id}"), column, line.grams, "", line.name + words,
                is_source=True, is_late=column > 0, item_id=None if is_merged else line.item_id,
                names=tuple(f"{one.name} {self.grams(one.grams)}" for one in together) if is_merged else (),
            )  # fmt: skip
            found.append((node, line))
        return found

    def grams(self, grams: float) -> str:
        """Grams as they stand at a line."""
        return with_unit(self.figure(grams, is_percent=False, is_typed=True), "g")

    def figure(self, grams: float, *, is_percent: bool, is_typed: bool) -> str:
        """The figure of a node: a line's as short as it was typed, any other to the tenth of a gram."""
        style = self.house.style
        if is_percent:
            share = 100.0 * grams / self.total_g if self.total_g else 0.0
            return with_unit(format_number(share, 1 if share >= 0.95 else 2, style), "%")
        decimals = 1 if abs(grams) >= 0.95 else 2
        return (format_trimmed if is_typed else format_number)(grams, decimals, style)

    def flow(self, *, is_percent: bool) -> Flow:
        """The finished picture, with figures; a node that nothing reaches (all of it dried away) is left out."""
        tied = {key for band in self.bands for key in (band.source, band.target)}
        columns = range(
            max(node.column for group in self.groups.values() for node in group if node.key in tied) + 1
        )
        groups = tuple(
            tuple(
                replace(node, figure=self.figure(node.grams, is_percent=is_percent, is_typed=node.is_source))
                for node in self.groups.get(column, ())
                if node.key in tied
            )
            for column in columns
        )
        heads = tuple(self.heads.get(column, "") for column in columns)
        return Flow(self.house.trace.build.name, self.subtitle, groups, tuple(self.bands), heads)


def _split(lines: Sequence[Inflow], most: int) -> tuple[list[Inflow], list[Inflow]]:
    """The lines that are drawn one by one, in order, and the smallest beyond them."""
    if len(lines) <= most:
        return list(lines), []
    ranked = sorted(range(len(lines)), key=lambda index: -lines[index].grams)
    kept = set(ranked[: most - 1])
    shown = [line for index, line in enumerate(lines) if index in kept]
    return shown, [line for index, line in enumerate(lines) if index not in kept]


def _together(lines: Sequence[Inflow]) -> Inflow:
    used = lines[0].used
    for line in lines[1:]:
        used = used.plus(line.used)
    trimmed = sum((line.trimmed_g for line in lines), 0.0)
    return Inflow(lines[0].step_id, None, f"{len(lines)} more lines", Origin.BOUGHT, used, trimmed)


def _gained(step_id: int, outlet: Outlet) -> Inflow:
    return Inflow(step_id, None, Fate.DIFFERENCE.value, Origin.BOUGHT, outlet.matter.scaled(-1.0))


def tint_of(line: Inflow) -> Tint:
    """What the band of a line is a band of."""
    if line.origin is Origin.MADE:
        return Tint.MAIN
    if line.origin is Origin.LEFTOVER:
        return Tint.LEFTOVER
    return Tint.SUGAR if line.used.sugars_g > SUGARY * line.used.grams else Tint.RAW


def holds_words(matter: Matter, style: NumberStyle) -> tuple[str, ...]:
    """What something holds of sugars and acids, in percent; *at least* where some of it is unknown."""
    if matter.grams <= SMALLEST_G:
        return ()
    parts = (
        ("sugars", matter.sugars_g, 1, matter.may_be_sugar_g),
        ("acids", matter.acids_g, 2, matter.may_be_acid_g),
    )
    return tuple(
        f"{'at least ' if unknown > 0.0 else ''}"
        f"{with_unit(format_number(100.0 * grams / matter.grams, decimals, style), '%')} {name}"
        for name, grams, decimals, unknown in parts
        if unknown > 0.0 or grams >= 0.0005 * matter.grams
    )


def lifted(vessel: Vessel) -> Vessel:
    """A vessel for drawing: what a measurement found more than was computed goes in, instead of coming out below zero."""
    gained = [one for one in vessel.outlets if one.matter.grams < 0.0]
    lines = tuple(_gained(one.step_id or 0, one) for one in gained)
    outlets = tuple(one for one in vessel.outlets if one not in gained)
    return replace(vessel, inflows=(*vessel.inflows, *lines), outlets=outlets)


def told_leftovers(house: House, vessel: Vessel) -> Iterable[Account]:
    """The leftovers of a vessel by who takes them, followed no further."""
    for outlet in vessel.outlets:
        if outlet.fate is Fate.KEPT and outlet.item_id is not None:
            shared = house.shared_out(outlet.item_id, outlet.matter.grams)
            yield from leftover_rows(house, vessel, outlet, shared, set())
