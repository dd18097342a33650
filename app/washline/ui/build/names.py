"""Names typed into the build: which items and steps they can mean."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.graph import cycle_if_used
from washline.model.item import Build, Item, Leftover, RawIngredient
from washline.model.step import (
    AnyStep,
    BarStrain,
    BarStrainWay,
    Blend,
    Carbonate,
    Chill,
    Dry,
    Ferment,
    Heat,
    Muddle,
    Note,
    Reduce,
    Rest,
    Smoke,
    Strain,
    Take,
    Wash,
    WashKind,
)
from washline.quantity.amount_text import ParseProblem
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.line_text import TypedLine, parse_line
from washline.quantity.names import fold

MOST_PROPOSALS = 40

STEP_WORDS = (
    "infuse",
    "muddle",
    "blend",
    "rest",
    "fat wash",
    "milk wash",
    "strain",
    "heat",
    "reduce",
    "dry",
    "ferment",
    "adjust",
    "measure",
    "take",
    "chill",
    "rinse",
    "fine strain",
    "float",
    "rim",
    "express",
    "smoke",
    "carbonate",
    "note",
)
"""The words of the step menu and of the list under a name; each adds a step or opens the line in which it is written."""

AT_THE_GLASS = ("rinse", "float", "rim", "express")
"""Steps of a drink that take in an item."""

WRITTEN_STEPS = ("infuse", "adjust", "measure", *AT_THE_GLASS)
"""Steps that mean nothing before something is written with them."""

NEW_LINE_WORDS = {
    "top": "Add what it is topped with",
    "garnish": "Add a garnish",
    "infuse": "What is infused: 20 g bay leaf 48 h at 20 °C",
    "adjust": "What to which reading: sugar to 50 °Bx",
    "measure": "What was measured: 6.6 °Bx, pH 3.5 strip",
    "rinse": "What rinses the glass: 5 ml absinthe, 1.5 ml stays",
    "float": "What floats on it: 10 ml cream",
    "rim": "What goes on the rim: 2 g salt, 0.5 g stays",
    "express": "Which peel: 1 strip lemon peel, thrown away",
}
"""What the line for adding says while nothing is typed in it, by what it adds."""

_USUAL: Mapping[str, str] = MappingProxyType(
    {
        "sugar": "sugar-white",
        "water": "water-still",
        "salt": "salt-table",
        "citric": "citric-acid-anhydrous",
        "citric acid": "citric-acid-anhydrous",
        "malic": "malic-acid",
        "lactic": "lactic-acid-80",
        "tartaric": "tartaric-acid",
    }
)
"""What a bare word means where something is added to meet a reading: rows of the pantry, by slug."""


@dataclass(frozen=True, slots=True)
class ItemChoice:
    """An item that was chosen from the list."""

    item_id: int


@dataclass(frozen=True, slots=True)
class NewIngredient:
    """A name that is to become a raw ingredient."""

    name: str


@dataclass(frozen=True, slots=True)
class StepChoice:
    """A step that is no line, by its word."""

    word: str


@dataclass(frozen=True, slots=True)
class MethodChoice:
    """A way to chill."""

    slug: str


Choice = ItemChoice | NewIngredient | StepChoice | MethodChoice


@dataclass(frozen=True, slots=True)
class TypedName:
    """A text of the name cell: the name in it, and the amount if one was typed with it."""

    name: str
    line: TypedLine | None


def typed_name(text: str, style: NumberStyle = ENGLISH_STYLE) -> TypedName:
    """Takes the amount off a text such as ``45 ml dry gin``; a text without one is a name."""
    line = parse_line(text, style)
    if isinstance(line, ParseProblem):
        return TypedName(" ".join(text.split()), None)
    return TypedName(line.name, line)


def kind_word(item: Item) -> str:
    """What an item is, in two words at most."""
    if isinstance(item, Build):
        return "drink" if item.is_drink else "house-made"
    return "left over" if isinstance(item, Leftover) else ""


def matching_items(book: HouseBook, build_id: int, words: str) -> list[Item]:
    """The items whose name holds all the words anywhere, without regard to case and accents; best first. What would
    close a cycle is left out."""
    wanted = fold(words).split()
    if not wanted:
        return []
    found = [
        (_rank(name, wanted), name, item)
        for name, item in _folded(book)
        if all(word in name for word in wanted) and item.id != build_id
    ]
    found.sort(key=lambda entry: (entry[0], entry[1]))
    best = [item for _, _, item in found[: 2 * MOST_PROPOSALS]]
    return [item for item in best if not _is_refused(book, build_id, item)][:MOST_PROPOSALS]


def usual_item(book: HouseBook, words: str) -> Item | None:
    """The raw ingredient that a bare word such as *sugar* or *water* usually means in a kitchen."""
    slug = _USUAL.get(fold(words))
    return next((raw for raw in book.raws.values() if raw.slug == slug), None) if slug else None


def meant_item(book: HouseBook, build_id: int, words: str) -> Item | None:
    """The item that a name means beyond doubt: of just this name, the usual one, or the only one that holds the words."""
    found = named_item(book, build_id, words) or usual_item(book, words)
    if found is None:
        matching = matching_items(book, build_id, words)
        found = matching[0] if len(matching) == 1 else None
    return found


def named_item(book: HouseBook, build_id: int, words: str) -> Item | None:
    """The one item of just this name; a house's own part goes before what is bought under the same name."""
    wanted = fold(words)
    same = [item for name, item in _folded(book) if name == wanted and item.id != build_id]
    own = [item for item in same if not isinstance(item, RawIngredient)]
    chosen = own or same
    return chosen[0] if len(chosen) == 1 else None


@lru_cache(maxsize=4)
def _folded_names(raws: "_Same", builds: "_Same", leftovers: "_Same") -> tuple[tuple[str, Item], ...]:
    items: Iterable[Item] = (*builds.rows.values(), *leftovers.rows.values(), *raws.rows.values())
    return tuple((fold(item.name), item) for item in items)


class _Same:
    """A mapping of the house book as a key of a memory: the same object is the same key."""

    def __init__(self, rows: dict[int, Item]) -> None:
        self.rows = rows

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.rows is self.rows

    def __hash__(self) -> int:
        return id(self.rows)


def _folded(book: HouseBook) -> tuple[tuple[str, Item], ...]:
    return _folded_names(_Same(book.raws), _Same(book.builds), _Same(book.leftovers))  # type: ignore[arg-type]


def _rank(name: str, wanted: list[str]) -> tuple[int, int]:
    at_start = (
        0 if name.startswith(wanted[0]) else 1 if f" {wanted[0]}" in name or f"-{wanted[0]}" in name else 2
    )
    return at_start, len(name)


def _is_refused(book: HouseBook, build_id: int, item: Item) -> bool:
    is_drink = isinstance(item, Build) and item.is_drink
    return is_drink or (not isinstance(item, RawIngredient) and bool(cycle_if_used(book, build_id, item.id)))


def new_step(word: str, book: HouseBook, seconds: float | None = None, *, is_drink: bool = False) -> AnyStep:
    """A step of a kind as it is put in: empty, to be filled in its row. In a drink to strain is to pour it into its glass.
    Raises ``KeyError`` for a word that is none."""
    ids = {"id": 0, "build_id": 0, "place": 0.0}
    if word in ("strain", "fine strain"):
        way = BarStrainWay.FINE if word == "fine strain" else BarStrainWay.STRAIN
        kitchen_way = "fine" if word == "fine strain" else ""
        return BarStrain(**ids, way=way) if is_drink else Strain(**ids, way=kitchen_way, duration_s=seconds)  # type: ignore[arg-type]
    if word == "chill":
        method = "stir" if "stir" in book.methods else next(iter(sorted(book.methods)), "stir")
        return Chill(**ids, method=method)  # type: ignore[arg-type]
    if word == "take":
        return Take(**ids, amount=Amount(10.0, "%", Basis.PERCENT_OF_VESSEL))  # type: ignore[arg-type]
    if word in ("fat wash", "milk wash"):
        kind = WashKind.MILK if word == "milk wash" else WashKind.FAT
        return Wash(**ids, kind=kind, duration_s=seconds)  # type: ignore[arg-type]
    kinds = {
        "muddle": Muddle,
        "ferment": Ferment,
        "blend": Blend,
        "rest": Rest,
        "note": Note,
        "smoke": Smoke,
        "carbonate": Carbonate,
        "heat": Heat,
        "reduce": Reduce,
        "dry": Dry,
    }
    step: AnyStep = kinds[word](**ids, duration_s=seconds)
    return step
