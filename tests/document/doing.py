"""Carrying out a command as the document does: checked before it counts."""

from washline.document.commands.command import Command
from washline.document.validation import validate
from washline.model.book import HouseBook
from washline.model.change import difference


def done(book: HouseBook, command: Command) -> HouseBook:
    """The book after a command; raises ``Refusal`` where the document would."""
    new = command(book)
    validate(new, difference(book, new))
    return new
