"""What a value typed into a detail can be: a number with its range, a temperature, or one of a few words."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from washline.quantity.names import fold


@dataclass(frozen=True, slots=True)
class NumberField:
    """A field that is a number: its units as they are typed, its range, what was expected, what empty means, and the unit
    in which it is shown."""

    units: tuple[str, ...]
    low: float
    high: float
    expected: str
    empty: str
    shown: str


@dataclass(frozen=True, slots=True)
class TemperatureField:
    """A field that is a temperature: its range in °C, what is measured, and what empty means."""

    low_c: float
    high_c: float
    what: str
    example: str
    empty: str

    @property
    def expected(self) -> str:
        """What was expected where something else was typed."""
        return f"Expected {self.what}, such as {self.example}; empty is {self.empty}."


def chosen(choices: Iterable[str], text: str) -> str | None:
    """The words that are typed whole, or the only ones that begin with or hold them."""
    wanted = fold(text)
    if not wanted:
        return None
    folded = {words: fold(words) for words in choices}
    for fits in (str.__eq__, str.startswith, str.__contains__):
        found = [words for words, plain in folded.items() if fits(plain, wanted)]
        if len(found) == 1:
            return found[0]
    return None


def one_of(choices: Mapping[str, object] | Iterable[str], most: int = 12) -> str:
    """A sentence with the words that are wanted, the first of them where there are many."""
    names = list(choices)
    if len(names) > most:
        return f"Expected one of {', '.join(names[:most])} … (the down arrow lists all)."
    return (
        f"Expected one of {', '.join(names[:-1])} or {names[-1]}."
        if len(names) > 1
        else f"Expected {names[0]}."
    )


def is_empty(text: str) -> bool:
    """Whether nothing is given."""
    return text.strip() in ("", "?", "not known", "none")
