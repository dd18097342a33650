"""The flow picture of a drink: through its parts, of each batch the share that is poured."""

from collections.abc import Iterable
from dataclasses import replace

from washline.presentation.flow_graph import Node, Tint
from washline.presentation.flow_sketch import MOST_LATE_SOURCES, Sketch, lifted, tint_of, told_leftovers
from washline.presentation.ledger import (
    Account,
    leftover_rows,
    main_rows,
    plain_rows,
    share_of_batch,
    share_out_of_batch,
)
from washline.presentation.ledger_shares import House
from washline.presentation.ledger_vessel import SMALLEST_G, Fate, Inflow, Origin, Vessel
from washline.quantity.formatting import format_number, with_unit

MOST_SOURCES = 8
"""So many lines are drawn one by one in a drink, the smallest beyond it together."""
MOST_SOURCES_OF_A_PART = 4


class DrinkSketch(Sketch):
    """A drink through its parts: each part one node, what became of the rest of its batch beside it."""

    def __init__(self, house: House) -> None:
        super().__init__(house)
        self._beside: dict[tuple[int, Fate], list[tuple[Node, Account]]] = {}

    def draw(self, vessel: Vessel) -> None:
        """Draws the drink."""
        vessel = lifted(vessel)
        column = self._depth(vessel) + 1
        on_glass = {step.step_id for step in vessel.trace.steps if step.is_on_glass}
        own = replace(vessel, inflows=tuple(line for line in vessel.inflows if line.step_id not in on_glass))
        garnishes = [line for line in vessel.inflows if line.step_id in on_glass]
        self.total_g = self._all_in(vessel)
        parts = sum(line.origin is Origin.MADE for line in vessel.inflows)
        shares = " · through its parts, of each batch the share that is poured" if parts else ""
        self.subtitle = f"one serve{shares} · widths to scale"
        name = "taken in" if vessel.trimmed_g > 0.0 else "in the vessel"
        glass = self._vessel(own, column, name, MOST_SOURCES)
        self._put_beside()
        self._serve(vessel, glass, garnishes)
        self._put_beside()
        self.heads |= {0: "bought", column: "poured", column + 1: "served"}
        for between in range(1, column):
            self.heads[between] = "house-made"

    def _depth(self, vessel: Vessel) -> int:
        parts = (share_of_batch(self.house, line) for line in vessel.inflows)
        return max((self._depth(part) + 1 for part in parts if part is not None), default=0)

    def _all_in(self, vessel: Vessel) -> float:
        total = 0.0
        for line in vessel.inflows:
            part = share_of_batch(self.house, line)
            total += line.grams if part is None else self._all_in(part)
        return total

    def _vessel(self, vessel: Vessel, column: int, name: str, most: int) -> Node:
        """A vessel with all that goes into it, its parts first opened in their turn."""
        ties: list[tuple[Node, float, Tint]] = []
        bought = [line for line in vessel.inflows if share_of_batch(self.house, line) is None]
        # What is bought stands above: what leaves the parts below then crosses none of it.
        for node, line in self.sources(vessel, bought, column - 1, most):
            ties.append((self.put(node), line.grams, tint_of(line)))
        for line in vessel.inflows:
            part = share_of_batch(self.house, line)
            if part is not None:
                part = lifted(part)
                ties.append((self._part(part, column - 1, line), line.used.grams, Tint.MAIN))
        grams = sum((tie[1] for tie in ties), 0.0)
        key = self.fresh(f"vessel {vessel.build.id}")
        target = self.put(self.node(key, column, grams, name, vessel.build.id))
        for node, grams, tint in ties:
            self.tie(node, target, grams, tint)
        return target

    def _part(self, part: Vessel, column: int, line: Inflow) -> Node:
        node = self._vessel(part, column, line.name, MOST_SOURCES_OF_A_PART)
        whole = self.house.vessel(part.build.id)
        pct = 100.0 * part.main.grams / whole.main.grams
        number = format_number(pct, 1 if pct >= 0.95 else 2, self.house.style)
        named = replace(node, item_id=part.build.id, notes=(f"{with_unit(number, '%')} of a batch",))
        group = self.groups[column]
        group[group.index(node)] = named
        for row in self._rows_beside(part):
            self._beside.setdefault((column + 1, Fate(row.group)), []).append((named, row))
        return named

    def _rows_beside(self, part: Vessel) -> Iterable[Account]:
        yield from plain_rows(part, "")
        for outlet in part.outlets:
            if outlet.fate is Fate.KEPT and outlet.item_id is not None:
                shared = share_out_of_batch(self.house, part, outlet)
                yield from leftover_rows(self.house, part, outlet, shared, set())

    def _serve(self, vessel: Vessel, glass: Node, garnishes: list[Inflow]) -> None:
        column = glass.column + 1
        for row in main_rows(self.house, vessel):
            end = self.put(
                replace(self.row_node(row, column, *_glass_notes(self.house, vessel)), name="in the glass")
            )
            self.tie(glass, end, row.grams, Tint.MAIN)
        on_glass = self._garnishes(vessel, garnishes, glass.column)
        thrown = vessel.thrown_from_glass_g
        self._throw_away(on_glass, thrown, column)
        kept = tuple(
            one for one in vessel.outlets if one.fate is not Fate.THROWN or one.step_id not in thrown
        )
        rows = plain_rows(replace(vessel, outlets=kept), "")
        for row in sorted(rows, key=lambda one: one.group is Fate.ON_GLASS):
            end = self.put(self.row_node(row, column))
            if row.group is Fate.ON_GLASS:
                for node, line, tint in on_glass:
                    stays = line.used.grams - _thrown_of(line, on_glass, thrown)
                    if stays > SMALLEST_G:
                        self.tie(node, end, stays, tint)
            else:
                self.tie(glass, end, row.grams, Tint.AWAY, is_away=True)
        for row in told_leftovers(self.house, vessel):
            end = self.put(self.row_node(row, column))
            self.tie(glass, end, row.grams, Tint.LEFTOVER)

    def _throw_away(
        self, on_glass: list[tuple[Node, Inflow, Tint]], thrown: dict[int, float], column: int
    ) -> None:
        """What of the garnishes does not stay on the glass."""
        total = sum(thrown.values(), 0.0)
        if total <= SMALLEST_G:
            return
        end = self.put(self.node(self.fresh("thrown from the glass"), column, total, Fate.THROWN.value, None))
        for node, line, _tint in on_glass:
            grams = _thrown_of(line, on_glass, thrown)
            if grams > SMALLEST_G:
                self.tie(node, end, grams, Tint.AWAY, is_away=True)

    def _garnishes(self, vessel: Vessel, lines: list[Inflow], column: int) -> list[tuple[Node, Inflow, Tint]]:
        """What goes on the glass: house-made parts opened as those in the glass are."""
        found = []
        for line in lines:
            part = share_of_batch(self.house, line)
            if part is not None:
                found.append((self._part(lifted(part), column, line), line, Tint.MAIN))
        bought = [line for line in lines if share_of_batch(self.house, line) is None]
        for node, line in self.sources(vessel, bought, column, MOST_LATE_SOURCES):
            found.append((self.put(node), line, tint_of(line)))
        return found

    def _put_beside(self) -> None:
        """What the shares of the batches left beside the drink, each kind once in its column."""
        beside, self._beside = self._beside, {}
        for (column, fate), rows in sorted(beside.items(), key=lambda entry: list(Fate).index(entry[0][1])):
            total = sum((row.grams for _node, row in rows), 0.0)
            single = rows[0][1] if len(rows) == 1 else None
            end = self.node(self.fresh(f"beside {column} {fate.name}"), column, total, _BESIDE[fate], None)
            if single is not None:
                end = replace(end, name=single.name, item_id=single.item_id)
            else:
                names = tuple(f"{node.name}: {row.name} {self.grams(row.grams)}" for node, row in rows)
                end = replace(end, names=names)
            self.put(end)
            tint = Tint.LEFTOVER if fate in (Fate.REUSED, Fate.KEPT) else Tint.AWAY
            for node, row in rows:
                self.tie(node, end, row.grams, tint, is_away=fate is not Fate.REUSED)


def _thrown_of(line: Inflow, on_glass: list[tuple[Node, Inflow, Tint]], thrown: dict[int, float]) -> float:
    """Grams of a garnish that are thrown away; of several lines told as one, what is nobody else's."""
    if line.item_id is not None:
        return thrown.get(line.step_id or 0, 0.0)
    told = {one.step_id for _node, one, _tint in on_glass if one.item_id is not None}
    return sum((grams for step_id, grams in thrown.items() if step_id not in told), 0.0)


def _glass_notes(house: House, vessel: Vessel) -> tuple[str, ...]:
    volume = vessel.trace.result.value("length")
    return (with_unit(format_number(volume, 0, house.style), "ml"),) if volume is not None else ()


_BESIDE = {
    Fate.MAIN: "in the glass",
    Fate.ON_GLASS: "on the glass",
    Fate.REUSED: "leftovers, reused",
    Fate.KEPT: "leftovers, nobody takes them",
    Fate.EVAPORATED: "evaporated",
    Fate.GAS: "gas",
    Fate.LOST: "lost on filter and jug",
    Fate.HELD_BACK: "held back in tin and strainer",
    Fate.POURED_AWAY: "poured away",
    Fate.THROWN: "thrown away",
    Fate.DIFFERENCE: "differences of measurements",
}
