"""What one detail of a step is, and how its pieces are made: numbers, choices, and picks from the house's own."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from washline.engine.trace import StepTrace
from washline.model.book import HouseBook
from washline.model.step import AnyStep
from washline.quantity.formatting import UNIT_SPACE, NumberStyle, format_trimmed


@dataclass(frozen=True, slots=True)
class Detail:
    """One detail of a step: what it is called, its value as shown and as edited, and what is to be known of it.

    ``place`` tells details of one step apart. ``choices`` are the words of which one is wanted, if any; where
    ``takes_item`` the value is the name of an item. ``is_wide`` values are words and need the room of words.
    """

    key: str
    name: str
    text: str = ""
    unit: str = ""
    edit_text: str = ""
    says: str = ""
    place: int = 0
    choices: tuple[str, ...] = ()
    is_wide: bool = False
    takes_item: bool = False
    can_edit: bool = True
    item_id: int | None = None


class DetailMaker:
    """The pieces of the details of one step."""

    def __init__(self, step: AnyStep, trace: StepTrace, book: HouseBook, style: NumberStyle) -> None:
        self.step, self.trace, self.book, self.style = step, trace, book, style
        self.typed_style = replace(style, grouping="")

    def number(
        self, field: str, name: str, unit: str, empty: str = "", decimals: int = 3, says: str = ""
    ) -> Detail:
        """A field of the step that is a number; ``empty`` is said where it has none."""
        value: float | None = getattr(self.step, field)
        if value is None:
            return Detail(field, name, says=empty)
        text = format_trimmed(value, decimals, self.style)
        return Detail(
            field, name, text, unit, f"{format_trimmed(value, 6, self.typed_style)} {unit}".strip(), says
        )

    def choice(
        self, key: str, name: str, value: object, choices: Mapping[str, object], says: str = ""
    ) -> Detail:
        """One of a few words."""
        text = next((words for words, one in choices.items() if one == value), str(value))
        return Detail(key, name, text, edit_text=text, says=says, choices=tuple(choices), is_wide=True)

    def how(self) -> Detail:
        """The house's own words."""
        words = self.step.words
        return Detail(
            "words", "how", words, edit_text=words, is_wide=True, says="" if words else "in your words"
        )

    def kept_words(self, item_id: int) -> str:
        """The temperature at which an item is kept."""
        item = self.book.item(item_id)
        if item is None:
            return ""
        degrees = format_trimmed(self.book.settings.temperature_c(item.kept_at), 1, self.style)
        return f"as it is kept, {degrees}{UNIT_SPACE}°C"

    def picked(
        self, key: str, name: str, text: str, none: str, names: Iterable[str], says: str = ""
    ) -> Detail:
        """One of the house's own, by name, or none of them."""
        shown = text or none
        return Detail(
            key, name, shown, edit_text=shown, says=says, choices=(none, *names) if none else tuple(names),
            is_wide=True,
        )  # fmt: skip

    def said(self, value: float | None, unit: str, decimals: int = 1) -> str:
        """A number with its unit, within a sentence."""
        return f"{format_trimmed(value, decimals, self.style)}{UNIT_SPACE}{unit}"
