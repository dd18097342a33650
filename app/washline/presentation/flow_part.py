"""The flow picture of a house-made part: stage by stage, its leftovers followed into the parts that take them."""

from collections.abc import Iterable
from dataclasses import replace

from washline.engine.straining import WAYS
from washline.model.step import AnyStep, Note, Strain, Work
from washline.presentation.flow_graph import Node, Tint
from washline.presentation.flow_sketch import (
    AWAY,
    MOST_LATE_SOURCES,
    Sketch,
    holds_words,
    lifted,
    tint_of,
    told_leftovers,
)
from washline.presentation.ledger import Account, Following, leftover_rows, main_rows, plain_rows
from washline.presentation.ledger_shares import House
from washline.presentation.ledger_vessel import Fate, Inflow, Outlet, Vessel
from washline.presentation.row_words import item_name
from washline.quantity.formatting import format_number, with_unit

MOST_SOURCES = 8
"""So many lines are drawn one by one where the vessel is first filled; the smallest beyond it are told together."""
SMALL_SHARE = 0.01
"""What leaves of a vessel and is less than this share of it needs no column of its own."""


class PartSketch(Sketch):
    """A part, stage by stage, and one level on."""

    def __init__(self, house: House, *, follows: bool) -> None:
        super().__init__(house)
        self._follows = follows
        self._pending: list[Inflow] = []
        self._words: list[str] = []
        self._current: Node | None = None
        self._splits: list[tuple[Node, list[Outlet]]] = []
        self._small: tuple[AnyStep, list[Outlet]] | None = None

    def draw(self, vessel: Vessel) -> None:
        """Draws the part, then what leaves it, the last first, so that no band crosses another."""
        following = Following(self.house, vessel, follows=self._follows)
        self.total_g = sum((row.grams for row in following.ins()), 0.0)
        vessel = lifted(vessel)
        self.subtitle = self._subtitle(vessel, following)
        self._walk(vessel)
        self._end(vessel)
        for node, outlets in reversed(self._splits):
            lanes = [one for one in outlets if one.fate is Fate.KEPT and one.item_id is not None]
            nodes = [(self._lane_node(vessel, node, outlet, following), outlet) for outlet in lanes]
            for outlet in outlets:
                if outlet.fate is not Fate.KEPT:
                    self._away(vessel, node, outlet)
            for lane, outlet in nodes:
                self._lane(vessel, lane, outlet, following)

    def _subtitle(self, vessel: Vessel, following: Following) -> str:
        parts = ["one batch"]
        rows = [row for row in main_rows(self.house, vessel) if row.key.endswith("served")]
        parts += [row.name.removeprefix(f"{vessel.build.name}, ") for row in rows]
        if following.followed:
            names = " and ".join(item_name(self.house.book, one) for one in following.followed)
            parts.append(f"leftovers followed into {names}")
        return " · ".join([*parts, "widths to scale"])

    def _walk(self, vessel: Vessel) -> None:
        """The steps in order: lines wait until something leaves the vessel."""
        for step in vessel.build.steps:
            if step.left_out:
                continue
            self._pending += [line for line in vessel.inflows if line.step_id == step.id]
            outlets = [one for one in vessel.outlets if one.step_id == step.id]
            if outlets:
                self._join(vessel)
                self._leave(vessel, step, outlets)
            elif isinstance(step, Work) and not isinstance(step, Note):
                self._words.append(_word(step))
        self._join(vessel)
        self._finish_small(vessel)

    def _leave(self, vessel: Vessel, step: AnyStep, outlets: list[Outlet]) -> None:
        """Something leaves the vessel; so little that it needs no column of its own leaves with what comes next."""
        held = self._small[1] if self._small is not None else []
        self._small = None
        gone = sum((one.matter.grams for one in (*held, *outlets)), 0.0)
        is_small = self._current is not None and gone < SMALL_SHARE * self._current.grams
        if is_small and all(one.fate in AWAY for one in outlets):
            self._small = (step, [*held, *outlets])
            self._words.append(_word(step))
        else:
            self._split_off(vessel, step, [*held, *outlets])

    def _finish_small(self, vessel: Vessel) -> None:
        if self._small is not None:
            step, outlets = self._small
            self._small = None
            self._words = [word for word in self._words if word != _word(step)]
            self._split_off(vessel, step, outlets)

    def _join(self, vessel: Vessel) -> None:
        """All that waits goes into the vessel."""
        if not self._pending:
            return
        self._finish_small(vessel)
        before, column = self._current, (self._current.column if self._current is not None else 0)
        lines, self._pending = self._pending, []
        sources = self.sources(vessel, lines, column, MOST_LATE_SOURCES if column else MOST_SOURCES)
        sources.sort(key=lambda pair: pair[1].trimmed_g <= 0.0)
        used = sum((line.used.grams for _node, line in sources), 0.0)
        grams = used + (before.grams if before is not None else 0.0)
        target = self.node(f"vessel {vessel.build.id} {column + 1}", column + 1, grams, "", vessel.build.id)
        self._put_sources(sources, column)
        self._trim(vessel, sources, column + 1)
        self.put(target)
        for node, line in sources:
            self.tie(node, target, line.used.grams, tint_of(line))
        if before is not None:
            self.tie(before, target, before.grams, Tint.MAIN)
        self.heads[column] = self.heads.get(column) or ("weighed in" if column == 0 else "")
        self.heads[column + 1] = self._head(lines, is_first=before is None)
        self._current = target

    def _put_sources(self, sources: list[tuple[Node, Inflow]], column: int) -> None:
        """Sources stand above the vessel that they join."""
        group = self.groups.setdefault(column, [])
        place = next((index for index, node in enumerate(group) if node is self._current), len(group))
        group[place:place] = [node for node, _line in sources]

    def _trim(self, vessel: Vessel, sources: list[tuple[Node, Inflow]], column: int) -> None:
        trimmed = [(node, line) for node, line in sources if line.trimmed_g > 0.0]
        if not trimmed:
            return
        total = sum((line.trimmed_g for _node, line in trimmed), 0.0)
        end = self.put(
            self.node(f"trimmed {vessel.build.id} {column}", column, total, "trimmed away", vessel.build.id)
        )
        for node, line in trimmed:
            self.tie(node, end, line.trimmed_g, Tint.AWAY, is_away=True)

    def _head(self, lines: list[Inflow], *, is_first: bool) -> str:
        words, self._words = self._words, []
        if not is_first:
            words.insert(0, "sweeten" if all(tint_of(line) is Tint.SUGAR for line in lines) else "add")
        return ", ".join(dict.fromkeys(words[:3]))

    def _split_off(self, vessel: Vessel, step: AnyStep, outlets: list[Outlet]) -> None:
        """Something leaves: the rest goes on as a node of its own."""
        before = self._current
        if before is None:
            return
        grams = before.grams - sum((one.matter.grams for one in outlets), 0.0)
        self._splits.append((before, outlets))
        after = self.node(
            f"vessel {vessel.build.id} {before.column + 1}", before.column + 1, grams, _after_words(step), vessel.build.id
        )  # fmt: skip
        words, self._words = [*self._words, _word(step)], []
        self.heads[before.column + 1] = ", ".join(dict.fromkeys(words[-3:]))
        self.put(after)
        self.tie(before, after, grams, Tint.MAIN)
        self._current = after

    def _end(self, vessel: Vessel) -> None:
        """The bottle, and who takes what of it."""
        last = self._current
        if last is None:
            return
        rows = list(main_rows(self.house, vessel))
        named = replace(last, name=last.name or "in the bottle", notes=_bottle_notes(self.house, vessel))
        group = self.groups[last.column]
        group[group.index(last)] = named
        self._current = named
        self._splits = [(named if node is last else node, outlets) for node, outlets in self._splits]
        if len(rows) == 1 and rows[0].key.endswith("rest"):
            return
        self.heads[last.column + 1] = "to the bar"
        for row in rows:
            is_rest = row.key.endswith("rest")
            node = self.put(
                self.row_node(_short(row, vessel), last.column + 1, _each(self.house, row, vessel))
            )
            self.tie(named, node, row.grams, Tint.MAIN, is_away=is_rest)

    def _lane_node(self, vessel: Vessel, parent: Node, outlet: Outlet, following: Following) -> Node:
        """A leftover as it leaves."""
        shared, vessels = next((one[1], one[2]) for one in following.lanes if one[0] is outlet)
        name = item_name(self.house.book, outlet.item_id or 0)
        notes = holds_words(outlet.matter, self.house.style)
        if not vessels and not shared.used_g and not shared.unknown_ids:
            notes = ("nobody takes it", *notes)
        key = f"left {vessel.build.id} {outlet.step_id}"
        node = self.put(self.node(key, parent.column + 1, outlet.matter.grams, name, outlet.item_id, *notes))
        self.tie(parent, node, outlet.matter.grams, Tint.LEFTOVER)
        return node

    def _lane(self, vessel: Vessel, node: Node, outlet: Outlet, following: Following) -> None:
        """What becomes of a leftover, one level on."""
        shared, vessels = next((one[1], one[2]) for one in following.lanes if one[0] is outlet)
        rows = list(leftover_rows(self.house, vessel, outlet, shared, {one.build.id for one in vessels}))
        if not vessels and not shared.used_g:
            return
        for one in vessels:
            self._followed(node, outlet, one)
        for row in rows:
            end = self.put(self.row_node(_short_left(row, node.name), node.column + 1))
            self.tie(node, end, row.grams, Tint.LEFTOVER, is_away=row.group is Fate.KEPT)

    def _followed(self, leftover: Node, outlet: Outlet, other: Vessel) -> None:
        """The part that takes a leftover, as one node with all that it needs and all that becomes of it."""
        other = lifted(other)
        own = [line for line in other.inflows if line.item_id != outlet.item_id]
        sources = self.sources(other, own, leftover.column, MOST_LATE_SOURCES)
        for node, _line in sources:
            self.put(node)
        grams = sum((line.grams for line in other.inflows), 0.0)
        target = self.put(
            self.node(
                f"part {other.build.id}", leftover.column + 1, grams, f"in {other.build.name}", other.build.id
            )
        )
        taken = grams - sum((line.grams for line in own), 0.0)
        self.tie(leftover, target, taken, Tint.LEFTOVER)
        for node, line in sources:
            self.tie(node, target, line.grams, tint_of(line))
        for row in self._ends(other):
            is_away = row.group in AWAY or row.key.endswith("rest")
            tint = Tint.AWAY if row.group in AWAY else Tint.LEFTOVER
            notes = _each(self.house, row, other) if row.group is Fate.MAIN else ""
            end = self.put(self.row_node(_short_away(row, other), target.column + 1, notes))
            self.tie(target, end, row.grams, tint, is_away=is_away)

    def _ends(self, other: Vessel) -> Iterable[Account]:
        yield from main_rows(self.house, other)
        yield from told_leftovers(self.house, other)
        yield from plain_rows(other, f", {other.build.name}")

    def _away(self, vessel: Vessel, parent: Node, outlet: Outlet) -> None:
        """What is lost, evaporated or thrown away."""
        rows = plain_rows(replace(vessel, outlets=(outlet,), inflows=()), "")
        row = next(one for one in rows if one.group is outlet.fate)
        key = f"{outlet.fate.name} {vessel.build.id} {outlet.step_id}"
        end = self.put(self.node(key, parent.column + 1, row.grams, row.name, vessel.build.id))
        tint = Tint.MAIN if outlet.fate is Fate.LOST else Tint.AWAY
        self.tie(parent, end, row.grams, tint, is_away=True)


def _word(step: AnyStep) -> str:
    if isinstance(step, Strain) and step.way in WAYS:
        name = WAYS[step.way].name
        return name[:1].lower() + name[1:]
    words = {"Measurement": "measure", "Take": "set aside"}
    return words.get(type(step).__name__, type(step).__name__.lower())


def _after_words(step: AnyStep) -> str:
    if isinstance(step, Strain):
        return "liquid, weighed" if step.weighed_g is not None else "liquid, expected"
    return ""


def _bottle_notes(house: House, vessel: Vessel) -> tuple[str, ...]:
    """Volume and sugars of a batch."""
    volume = vessel.trace.result.value("length")
    notes = [with_unit(format_number(volume, 0, house.style), "ml")] if volume is not None else []
    notes += holds_words(vessel.main, house.style)[:1]
    return tuple(notes)


def _each(house: House, row: Account, vessel: Vessel) -> str:
    """How much one pour or piece of a served row is."""
    if not row.key.endswith("served"):
        return ""
    served = house.shared_out(vessel.build.id, vessel.main.grams).served
    return (
        f"{with_unit(format_number(served.each_g, 1, house.style), 'g')} each" if served is not None else ""
    )


def _short(row: Account, vessel: Vessel) -> Account:
    return replace(row, name=row.name.removeprefix(f"{vessel.build.name}, "))


def _short_left(row: Account, name: str) -> Account:
    return replace(row, name=row.name.removeprefix(f"{name}, "))


def _short_away(row: Account, vessel: Vessel) -> Account:
    return replace(row, name=row.name.removesuffix(f", {vessel.build.name}"))
