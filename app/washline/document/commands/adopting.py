"""Taking over a house book that an import has made."""

from washline.document.commands.command import Command, Refusal
from washline.model.book import HouseBook


def adopt(new_book: HouseBook, base: HouseBook) -> Command:
    """Takes over ``new_book``, which was made from ``base``; refused if the house book has changed since."""

    def command(book: HouseBook) -> HouseBook:
        if book is not base:
            raise Refusal(
                "This import was prepared for the house book as it was before.",
                "It has been changed since.",
                "Choose the file once more.",
            )
        return new_book

    return command
