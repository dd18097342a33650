"""The names of one house for the steps that are typed: of its methods, its ice and its vessels."""

from collections.abc import Iterator

from washline.model.book import HouseBook
from washline.model.house import MethodKind
from washline.quantity.house_words import HouseWords, entries


def house_words(book: HouseBook, *, is_drink: bool) -> HouseWords:
    """What names mean in a house, as far as one who types a step of a drink (or of a part) may use them."""
    return HouseWords(
        entries(_method_names(book)), entries(_ice_names(book)), entries(_vessel_names(book)), is_drink
    )


def ice_words(book: HouseBook, words: str) -> str:
    """The ice of a step as it is shown: the house's name for it where the words are just its key or name."""
    ice = book.ices.get(words.strip().casefold())
    return lower_first(ice.name) if ice is not None else words


def ice_name(book: HouseBook, slug: str) -> str:
    """What a step keeps for an ice of the house: its name, as it stands within a sentence."""
    return lower_first(book.ices[slug].name)


def vessel_name(book: HouseBook, slug: str) -> str:
    """A vessel as it stands within a sentence; the words themselves where the house has none of them."""
    vessel = book.vessels.get(slug)
    return lower_first(vessel.name) if vessel is not None else slug


def lower_first(words: str) -> str:
    """A name as it stands within a sentence."""
    return words[:1].lower() + words[1:] if words[1:2].islower() else words


def _method_names(book: HouseBook) -> Iterator[tuple[str, str]]:
    # Carbonating, topping and rinsing are steps of their own.
    methods = [method for method in book.methods.values() if method.kind is not MethodKind.OTHER]
    for method in methods:
        yield method.slug.replace("-", " "), method.slug
    for method in methods:
        yield method.slug, method.slug
        yield method.name, method.slug
        yield method.name.split(",")[0], method.slug


def _ice_names(book: HouseBook) -> Iterator[tuple[str, str]]:
    for ice in book.ices.values():
        yield ice.name, lower_first(ice.name)
    for ice in book.ices.values():
        name, kept = ice.name, lower_first(ice.name)
        yield ice.slug.replace("-", " "), kept
        yield name.removesuffix("s") if name.endswith("s") else f"{name}s", kept
        yield name.removesuffix(" ice"), kept


def _vessel_names(book: HouseBook) -> Iterator[tuple[str, str]]:
    for vessel in book.vessels.values():
        yield vessel.name, vessel.slug
    for vessel in book.vessels.values():
        words = vessel.slug.replace("-", " ")
        yield vessel.name.replace(",", ""), vessel.slug
        yield words, vessel.slug
        if words[-1:].isdigit():
            yield f"{words} ml", vessel.slug
