"""How two states of a row differ to the eye, and how a row is told to the ear."""

from collections.abc import Sequence

from washline.presentation.build_rows import BuildRow, Figure
from washline.presentation.row_words import RowKind
from washline.ui.build.columns import AMOUNT, COLUMN_COUNT, FIGURE_WORDS, FIRST_FIGURE, NAME, UNIT

_SPOKEN = {
    RowKind.INFUSE: "infuse",
    RowKind.ADJUST: "adjust with",
    RowKind.TOP: "top with",
    RowKind.GARNISH: "garnish with",
}
"""What only the mark says to the eye."""


def changed_columns(old: BuildRow, new: BuildRow) -> set[int]:
    """The columns in which two states of a row look different."""
    columns: set[int] = set()
    if (old.name, old.note, old.goes_to, old.kind, old.can_open, old.has_details) != (
        new.name, new.note, new.goes_to, new.kind, new.can_open, new.has_details,
    ):  # fmt: skip
        columns.add(NAME)
    if (old.amount, old.amount_state) != (new.amount, new.amount_state):
        columns |= {AMOUNT, UNIT}
    if old.unit != new.unit:
        columns.add(UNIT)
    if (old.is_left_out, old.problem) != (new.is_left_out, new.problem):
        columns |= set(range(COLUMN_COUNT))
    if (old.remark, old.scale, len(old.figures)) != (new.remark, new.scale, len(new.figures)):
        columns |= set(range(FIRST_FIGURE, COLUMN_COUNT))
    pairs = zip(old.figures, new.figures, strict=False)
    columns |= {FIRST_FIGURE + place for place, (before, after) in enumerate(pairs) if before != after}
    return columns


def accessible_text(row: BuildRow, column: int) -> str:
    """What a screen reader says for a cell: never a number without what it is of."""
    if column == NAME:
        name = f"{_SPOKEN[row.kind]} {row.name}" if row.kind in _SPOKEN else row.name
        return ", ".join(part for part in (name, row.note, "left out" if row.is_left_out else "") if part)
    if column in (AMOUNT, UNIT):
        amount = f"{row.amount} {row.unit}".strip()
        if row.detail is not None:
            return f"{row.name}: {amount or 'not given'}"
        return f"{amount} of {row.name}" if amount else f"no amount, {row.name}"
    if not row.figures:
        return row.remark
    figure = row.figures[column - FIRST_FIGURE]
    what = FIGURE_WORDS[column - FIRST_FIGURE]
    spoken = {"": "none", "?": "not known", "\u00b7": "less than the last digit"}.get(
        figure.text, figure.text
    )
    return f"{row.name}: {spoken}, {what}"


def figure_tip(figure: Figure, place: int) -> str:
    """What a contribution means, with its share of the column."""
    meaning = {"?": "not known", "\u00b7": "less than the last digit shown"}.get(figure.text, figure.text)
    share = f", {100.0 * figure.share:.0f} % of the column" if figure.share > 0.0 else ""
    return f"{FIGURE_WORDS[place]}: {meaning}{share}"


def moved_columns(kept: BuildRow, row: BuildRow) -> frozenset[int]:
    """The columns whose figures a preview has moved away from what is written."""
    columns = {AMOUNT} if (kept.amount, kept.unit) != (row.amount, row.unit) else set()
    for place, figure in enumerate(row.figures):
        before = kept.figures[place].text if place < len(kept.figures) else ""
        if before != figure.text:
            columns.add(FIRST_FIGURE + place)
    if kept.note != row.note:
        columns.add(NAME)
    return frozenset(columns)


def runs(numbers: Sequence[int]) -> list[tuple[int, int]]:
    """Ascending numbers as runs without a gap: first and last of each."""
    runs: list[tuple[int, int]] = []
    for number in numbers:
        if runs and runs[-1][1] == number - 1:
            runs[-1] = (runs[-1][0], number)
        else:
            runs.append((number, number))
    return runs
