"""Text that is pasted or dropped on the build: which of its lines are understood, and the one command that puts all in."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from washline.document.commands import lines, steps
from washline.document.commands.command import Command
from washline.model.amount import Amount
from washline.model.book import HouseBook
from washline.model.graph import cycle_if_used
from washline.model.step import Add, Note, Top
from washline.quantity.amount_text import ParseProblem
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.line_text import TypedLine, parse_line
from washline.ui.build.edits import NotUnderstood, line_amount
from washline.ui.build.names import matching_items, named_item

MOST_LINES = 500


@dataclass(frozen=True, slots=True)
class PastedLine:
    """One line of a pasted text: the item and amount it was understood as, or why it stays as text."""

    text: str
    item_id: int | None = None
    amount: Amount | None = None
    tops: bool = False
    why: str = ""

    @property
    def is_understood(self) -> bool:
        """Whether it becomes a line; else it is kept as a note."""
        return self.amount is not None


def read_pasted(
    book: HouseBook, build_id: int, texts: Sequence[str], style: NumberStyle = ENGLISH_STYLE
) -> list[PastedLine]:
    """Each line that is not blank, understood or not; at most ``MOST_LINES``."""
    kept = [text for text in texts if text.strip()][:MOST_LINES]
    return [_read(book, build_id, text, style) for text in kept]


def _read(book: HouseBook, build_id: int, text: str, style: NumberStyle) -> PastedLine:
    line = parse_line(text, style)
    plain = " ".join(text.split())
    if isinstance(line, ParseProblem):
        return PastedLine(plain, why=line.expected)
    item_id = _item_id(book, build_id, line)
    if item_id is None:
        return PastedLine(plain, why=f"nothing has just the name \u201c{line.name}\u201d")
    if cycle_if_used(book, build_id, item_id):
        return PastedLine(plain, why="this would make it of itself")
    typed = replace(line.amount, number=line.amount.number * line.multiplied_by)
    if line.multiplied_by != 1.0:
        typed = replace(typed, typed="")
    amount = line_amount(book, build_id, item_id, typed)
    if isinstance(amount, NotUnderstood):
        return PastedLine(plain, why=amount.expected)
    return PastedLine(plain, item_id, amount, line.amount.tops)


def _item_id(book: HouseBook, build_id: int, line: TypedLine) -> int | None:
    item = named_item(book, build_id, line.name)
    if item is None:
        found = matching_items(book, build_id, line.name)
        item = found[0] if len(found) == 1 else None
    return item.id if item is not None else None


def putting_in(build_id: int, pasted: Sequence[PastedLine], after: int | None) -> Command:
    """One command for all lines in their order, after a step (``None``: at the end); what was not understood becomes a
    note that holds its text."""

    def command(book: HouseBook) -> HouseBook:
        place = after
        for line in pasted:
            if line.amount is not None and line.item_id is not None:
                kind = Top if line.tops else Add
                put = lines.add_line(build_id, line.item_id, line.amount, place, kind)
            else:
                note = Note(id=0, build_id=build_id, place=0.0, words=line.text)
                put = steps.add_step(build_id, note, place)
            book = put(book)
            place = book.top_id
        return book

    return command
