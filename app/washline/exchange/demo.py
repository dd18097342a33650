"""The demo house: the pantry, and the drinks and house-made parts of an invented room on a tidal estuary."""

from washline.assets import database_file
from washline.exchange.house_file import house_book, read_house, whole_pantry
from washline.model.book import HouseBook
from washline.problem import UserError


def demo_house() -> HouseBook:
    """The house book of the Saltmarsh Rooms, with the same ids every time. Raises ``UserError`` where a file of the
    starting content cannot be read, or something in it is wrong."""
    pantry = whole_pantry(database_file("seed", "pantry"))
    path = database_file("seed", "saltmarsh.json")
    try:
        data = path.read_bytes()
    except OSError as error:
        raise UserError(f"{path.name} cannot be read.", f"The system says: {error.strerror}.") from error
    draft = read_house(data, pantry)
    if draft.problems:
        raise UserError(f"{path.name} cannot be read.", str(draft.problems[0]))
    return house_book(draft, pantry)
