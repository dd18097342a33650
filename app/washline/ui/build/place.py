"""Where a written step goes, what it becomes, and which item a name in it means."""

from dataclasses import dataclass

from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.graph import cycle_if_used
from washline.model.step import AnyStep
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.names import fold
from washline.quantity.typed_step import TypedStep
from washline.ui.build.meaning import NotUnderstood
from washline.ui.build.names import meant_item

NEW_IDS = {"id": 0, "build_id": 0, "place": 0.0}
"""Of a step that is not in a build yet."""

WHICH_ITEM = "Nothing is called just \u201c{}\u201d. Choose it from the list."


@dataclass(frozen=True, slots=True)
class Made:
    """A step as it is put in: the name of what it leaves over, and what it was understood as."""

    step: AnyStep
    word: str
    meaning: str
    aside: str = ""
    leftover: str = ""
    leftover_g: float | None = None


@dataclass(frozen=True, slots=True)
class Place:
    """Where a written step goes: a build, and behind which step (``None``: at the end).

    ``chosen_id`` is an item that was chosen from the list, ``new_name`` the name of one that is made with the step: until
    then its id is 0. Without ``workings`` a measured value is not compared.
    """

    book: HouseBook
    build_id: int
    after: int | None
    style: NumberStyle = ENGLISH_STYLE
    chosen_id: int | None = None
    workings: Workings | None = None
    new_name: str = ""


def found_item(place: Place, name: str) -> int | NotUnderstood:
    """The id of the item that a name means here."""
    book = place.book
    if place.new_name and fold(place.new_name) == fold(name):
        return 0
    chosen = book.item(place.chosen_id) if place.chosen_id is not None else None
    item = chosen if chosen is not None and fold(chosen.name) == fold(name) else None
    item = item or meant_item(book, place.build_id, name)
    if item is None:
        return NotUnderstood(WHICH_ITEM.format(name[:40]))
    cycle = cycle_if_used(book, place.build_id, item.id)
    if cycle:
        names = " \u2192 ".join(book.builds[member].name for member in cycle)
        return NotUnderstood(f"This would make it of itself: {names}.")
    return item.id


def manner(typed: TypedStep) -> dict[str, object]:
    """The fields of a new step that every written one has: words, time and temperatures."""
    return {
        **NEW_IDS,
        "words": typed.words,
        "duration_s": typed.duration_s,
        "temperature_low_c": typed.low_c,
        "temperature_high_c": typed.high_c,
    }
