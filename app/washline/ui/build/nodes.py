"""What the tree's model holds of each row: what it shows, where it hangs, and in which columns it differs from before."""

from dataclasses import dataclass, field

from washline.presentation.build_rows import BuildRow, Key, Listed
from washline.ui.build.columns import COLUMN_COUNT, FIRST_FIGURE
from washline.ui.build.row_differences import changed_columns, moved_columns, runs


@dataclass(frozen=True, slots=True)
class NewLine:
    """The line that is being added: where, as what, and what is known of it so far."""

    after: int | None = None
    kind: str = "line"
    item_id: int | None = None
    name: str = ""


class Shown:
    """What a row shows: as it is listed now and as it was listed when it was written (``None`` for one that only a preview
    has). Both are made when somebody asks."""

    __slots__ = ("_moved", "kept_listed", "listed")

    def __init__(self, listed: Listed, kept_listed: Listed | None) -> None:
        self.listed, self.kept_listed = listed, kept_listed
        self._moved: frozenset[int] | None = None

    @property
    def moved(self) -> frozenset[int]:
        """The columns in which the row differs from what is written."""
        if self._moved is None:
            self._moved = self._find_moved()
        return self._moved

    def _find_moved(self) -> frozenset[int]:
        if self.kept_listed is self.listed:
            return frozenset()
        if self.kept_listed is not None:
            return moved_columns(self.kept_listed.row, self.listed.row)
        figures = enumerate(self.listed.row.figures)
        return frozenset(FIRST_FIGURE + place for place, figure in figures if figure.text)


@dataclass(slots=True)
class Node:
    """A row in the tree."""

    id: int
    parent: int
    shown: Shown
    children: list[int] = field(default_factory=list)

    @property
    def key(self) -> Key:
        """Where the row stands."""
        return self.shown.listed.key

    @property
    def row(self) -> BuildRow:
        """The row itself."""
        return self.shown.listed.row

    @property
    def kept(self) -> BuildRow | None:
        """The row as it is written."""
        return self.shown.kept_listed.row if self.shown.kept_listed is not None else None

    @property
    def moved(self) -> frozenset[int]:
        """The columns in which it differs from what is written."""
        return self.shown.moved


def made(row: BuildRow) -> Listed:
    """A row that is made already, for a list."""
    return Listed(row.key, row.step_id, lambda: row)


def differences(node: Node, before: Shown) -> list[tuple[int, int, int]]:
    """The runs of columns in which a row looks different from before, each with the node's id."""
    old, row, moved = before.listed.row, node.row, node.moved
    if old == row and before.moved == moved:
        return []
    columns = changed_columns(old, row) | (before.moved ^ moved)
    return [(node.id, first, last) for first, last in runs(sorted(columns))]


def joined(spans: dict[tuple[int, int], list[int]]) -> dict[tuple[int, int], list[int]]:
    """The spans with all contributions as one block from the first row to the last; name and amount stay apart, since a
    field may be open there."""
    joined: dict[tuple[int, int], set[int]] = {}
    contributions: list[int] = []
    for (first, last), rows in spans.items():
        if first < FIRST_FIGURE:
            joined.setdefault((first, min(last, FIRST_FIGURE - 1)), set()).update(rows)
        if last >= FIRST_FIGURE:
            contributions += rows
    if contributions:
        joined[FIRST_FIGURE, COLUMN_COUNT - 1] = set(range(min(contributions), max(contributions) + 1))
    return {columns: sorted(rows) for columns, rows in joined.items()}
