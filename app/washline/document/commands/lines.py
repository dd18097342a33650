"""Lines: an amount of an item goes into the vessel, infuses, lengthens the drink, or sits on the glass."""

from msgspec import structs

from washline.document.commands.command import Command, Refusal, build_of, item_of, next_id, step_of
from washline.document.commands.placing import inserted, with_step
from washline.document.naming import step_name
from washline.model.amount import Amount
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.step import Add, Line, Take


def add_line(
    build_id: int, item_id: int, amount: Amount, after: int | None = None, kind: type[Line] = Add
) -> Command:
    """Puts in a line after a step (``AT_START``: before all, ``None``: at the end); its id is ``next_id(book)``."""

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        item_of(book, item_id)
        line = kind(id=next_id(book), build_id=build_id, place=0.0, item_id=item_id, amount=amount)
        return book.with_build(inserted(build, [line], after))

    return command


def set_amount(build_id: int, step_id: int, amount: Amount) -> Command:
    """Gives a line, or a take, another amount."""

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        step = step_of(build, step_id)
        if not isinstance(step, Line | Take):
            raise Refusal(f"A step {step_name(book, step)} has no amount.")
        return book.with_build(with_step(build, structs.replace(step, amount=amount)))

    return command


def set_item(build_id: int, step_id: int, item_id: int, amount: Amount | None = None) -> Command:
    """Puts another item into a line, with its amount as it is or another one."""

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        item_of(book, item_id)
        line = _line(book, build, step_id)
        changed = structs.replace(line, item_id=item_id, amount=line.amount if amount is None else amount)
        return book.with_build(with_step(build, changed))

    return command


def set_kind(build_id: int, step_id: int, kind: type[Line]) -> Command:
    """Makes a line a plain add, an infusion, a top or a garnish; it stays the same line, with the same id, and keeps what
    the other kind has too."""

    def command(book: HouseBook) -> HouseBook:
        build = build_of(book, build_id)
        line = _line(book, build, step_id)
        if type(line) is kind:
            return book
        kept = {name: getattr(line, name) for name in _fields(line) if name in _fields(kind)}
        return book.with_build(with_step(build, kind(**kept)))

    return command


def _fields(line: Line | type[Line]) -> frozenset[str]:
    return frozenset(line.__struct_fields__)


def _line(book: HouseBook, build: Build, step_id: int) -> Line:
    step = step_of(build, step_id)
    if not isinstance(step, Line):
        raise Refusal(f"A step {step_name(book, step)} takes in no item.")
    return step
