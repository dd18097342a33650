"""The flow picture as nodes and bands, before anybody has said where they stand."""

from dataclasses import dataclass
from enum import StrEnum


class Tint(StrEnum):
    """What a band is a band of; the window has a colour for each."""

    RAW = "raw"
    SUGAR = "sugar"
    MAIN = "main"
    LEFTOVER = "leftover"
    AWAY = "away"


@dataclass(frozen=True, slots=True)
class Node:
    """A bar. ``column`` counts from the left; a late one stands between its column and the next, into which it goes.

    ``figure`` is its grams or percent as written, ``name`` what it is, ``notes`` stand under it; ``names`` are those that
    are told together in it. ``item_id`` is what opens from it.
    """

    key: str
    column: int
    grams: float
    figure: str
    name: str
    notes: tuple[str, ...] = ()
    is_source: bool = False
    is_late: bool = False
    is_strong: bool = False
    item_id: int | None = None
    names: tuple[str, ...] = ()

    @property
    def sentence(self) -> str:
        """All of it, for a tooltip and for a screen reader."""
        figure = self.figure if self.figure.endswith("%") else f"{self.figure} g"
        return ", ".join((f"{self.name or 'in the vessel'} {figure}", *self.notes, *self.names))


@dataclass(frozen=True, slots=True)
class Band:
    """Grams on their way from one node to another; what is lost has dashed edges (``is_away``)."""

    source: str
    target: str
    grams: float
    tint: Tint
    is_away: bool = False


@dataclass(frozen=True, slots=True)
class Flow:
    """The picture. ``groups`` holds the nodes column by column, from top to bottom, each late one with its column;
    ``heads`` say what happens at each column."""

    title: str
    subtitle: str
    groups: tuple[tuple[Node, ...], ...]
    bands: tuple[Band, ...]
    heads: tuple[str, ...]
    problem: str = ""

    @property
    def nodes(self) -> tuple[Node, ...]:
        """All nodes in reading order."""
        return tuple(node for group in self.groups for node in group)

    @property
    def in_g(self) -> float:
        """Grams of all that goes in at the left."""
        targets = {band.target for band in self.bands}
        return sum((node.grams for node in self.nodes if node.key not in targets), 0.0)

    @property
    def out_g(self) -> float:
        """Grams of all that ends."""
        sources = {band.source for band in self.bands}
        return sum((node.grams for node in self.nodes if node.key not in sources), 0.0)
