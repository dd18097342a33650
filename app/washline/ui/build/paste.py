"""Text that is pasted or dropped on the build: which of its lines are understood, and the one command that puts all in."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from washline.document.commands import lines, steps
from washline.document.commands.command import Command, next_id
from washline.model.amount import Amount
from washline.model.book import HouseBook
from washline.model.graph import cycle_if_used
from washline.model.step import Add, Note, Top, Weight
from washline.presentation.house_words import house_words
from washline.quantity.amount_text import ParseProblem
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.line_text import TypedLine, parse_line
from washline.quantity.step_line import parse_step
from washline.quantity.typed_step import TypedChill, TypedStep
from washline.ui.build.edits import line_amount
from washline.ui.build.meaning import NotUnderstood
from washline.ui.build.names import matching_items, named_item
from washline.ui.build.place import Made, Place
from washline.ui.build.step_edits import adding, made_step

MOST_LINES = 500


@dataclass(frozen=True, slots=True)
class PastedLine:
    """One line of a pasted text: the item and amount, or the step, it was understood as, or why it stays as text."""

    text: str
    item_id: int | None = None
    amount: Amount | None = None
    tops: bool = False
    why: str = ""
    made: Made | None = None
    manner: Mapping[str, object] = field(default_factory=dict)

    @property
    def is_understood(self) -> bool:
        """Whether it becomes a line or a step; else it is kept as a note."""
        return self.amount is not None or self.made is not None


def read_pasted(
    book: HouseBook, build_id: int, texts: Sequence[str], style: NumberStyle = ENGLISH_STYLE
) -> list[PastedLine]:
    """Each line that is not blank, understood or not; at most ``MOST_LINES``."""
    kept = [text for text in texts if text.strip()][:MOST_LINES]
    return [_read(book, build_id, text, style) for text in kept]


def _read(book: HouseBook, build_id: int, text: str, style: NumberStyle) -> PastedLine:
    plain = " ".join(text.split())
    if (step := _read_step(book, build_id, plain, style)) is not None:
        return step
    line = parse_line(text, style)
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
    manner = {} if line.amount.tops else _manner(line)
    return PastedLine(plain, item_id, amount, line.amount.tops, manner=manner)


def _read_step(book: HouseBook, build_id: int, plain: str, style: NumberStyle) -> PastedLine | None:
    """The step that a line writes out. A bare word such as *stir well* stays text, and so does what would say nothing."""
    if named_item(book, build_id, plain) is not None:
        return None
    house = house_words(book, is_drink=book.builds[build_id].is_drink)
    typed = parse_step(plain, style, house)
    if not isinstance(typed, TypedStep) or (
        typed.kind in ("note", "chill", "muddle") and not typed.duration_s and not _says_more(typed)
    ):
        return None
    made = made_step(Place(book, build_id, None, style), typed)
    if isinstance(made, NotUnderstood):
        return PastedLine(plain, why=made.expected)
    return PastedLine(plain, made=made)


def _says_more(typed: TypedStep) -> bool:
    """Whether a chill says more than its method, in words that were understood."""
    plain = (
        TypedChill(kind="chill", method=typed.method, said=typed.said)
        if isinstance(typed, TypedChill)
        else None
    )
    return plain is not None and replace(typed, words="") != plain


def _manner(line: TypedLine) -> dict[str, object]:
    given: dict[str, object] = {"weight": Weight(line.weight)} if line.weight else {}
    given |= {"bought_g": line.bought_g} if line.bought_g is not None else {}
    return given | ({"temperature_c": line.temperature_c} if line.temperature_c is not None else {})


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
            new_id = next_id(book)
            book = _putting(build_id, line, place)(book)
            if line.manner:
                book = steps.set_step(build_id, new_id, **line.manner)(book)
            place = new_id
        return book

    return command


def _putting(build_id: int, line: PastedLine, place: int | None) -> Command:
    if line.made is not None:
        return adding(build_id, place, line.made)
    if line.amount is not None and line.item_id is not None:
        return lines.add_line(build_id, line.item_id, line.amount, place, Top if line.tops else Add)
    return steps.add_step(build_id, Note(id=0, build_id=build_id, place=0.0, words=line.text), place)
