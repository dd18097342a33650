"""What brings alcohol to a drink, line by line, and what is left of it in a version without: figures and words."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import inf, isfinite

from washline.chemistry.components import ETHANOL
from washline.chemistry.ethanol_water import ethanol_density_kg_per_m3
from washline.engine.contents import brought_raws
from washline.engine.spread import Spread
from washline.engine.state import UNKNOWN_ETHANOL
from washline.engine.trace import Trace
from washline.model.book import HouseBook
from washline.model.house import Swap
from washline.model.item import Build, Item, Leftover, RawIngredient
from washline.model.step import Add, Ferment, Garnish, GarnishWay, Infuse, Line, Rinse, Top
from washline.presentation.contains import listed, short_name
from washline.presentation.row_words import item_name
from washline.presentation.strength_words import (
    ALCOHOL_FREE,
    LegalWords,
    highest_strength,
    legal_words,
    strength_number,
)
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNIT_SPACE,
    UNKNOWN,
    NumberStyle,
    format_trimmed,
    with_unit,
)
from washline.quantity.unit_names import UNITS, unit_word

NOT_COUNTED = "Juices, ferments and extracts carry traces of alcohol that no table counts."
_SMALLEST_G = 1e-9
_FERMENTED = "what ferments in it"


@dataclass(frozen=True, slots=True)
class AlcoholLine:
    """One item that brings alcohol, in one line of a drink or several.

    ``ethanol_g`` is in the drink or on the glass at the end; ``is_at_least`` where nobody knows all of it. ``within`` names
    what inside a house-made part brings it. ``role`` is what it is there: poured, rinse, float, garnish, rim …
    """

    item_id: int
    step_ids: tuple[int, ...]
    name: str
    role: str
    amount: str
    ethanol_g: float
    is_at_least: bool
    within: tuple[str, ...]
    is_on_glass: bool = False

    def ethanol_text(self, style: NumberStyle = ENGLISH_STYLE) -> str:
        """*7.6 g*, *below 0.05 g*, or ``?`` where it is not known."""
        more = inf if self.is_at_least else 0.0
        told = strength_number(self.ethanol_g, style, more=more)
        told = f"at least {told}" if self.is_at_least and told != UNKNOWN else told
        return with_unit(told, "g")


@dataclass(frozen=True, slots=True)
class LeftFrom:
    """What still brings alcohol: its name with what is within it, grams, and the % vol of the drink that it makes."""

    name: str
    ethanol_g: float
    pct_vol: float | None
    is_on_glass: bool
    is_at_least: bool = False


@dataclass(frozen=True, slots=True)
class Remainder:
    """What is left of the alcohol: strength and grams in words, where it comes from, what the chosen law calls it, and
    whether all of it is known."""

    strength: str
    ethanol: str
    sources: tuple[LeftFrom, ...]
    legal: LegalWords
    is_known: bool

    def source_lines(self, style: NumberStyle = ENGLISH_STYLE) -> tuple[str, ...]:
        """One line a source: *1.9 % vol from the bitters*, *0.4 g on the glass from the cherry*."""
        return tuple(_source_line(one, style) for one in self.sources)

    def text(self, style: NumberStyle = ENGLISH_STYLE) -> str:
        """All of it in sentences."""
        lines = "; ".join(self.source_lines(style))
        told = f"{self.strength} left: {lines}." if lines else f"{self.strength} left."
        return " ".join(_begun(part) for part in (told, NOT_COUNTED, self.legal.text) if part)


def alcohol_lines(trace: Trace, style: NumberStyle = ENGLISH_STYLE) -> tuple[AlcoholLine, ...]:
    """What brings alcohol to a drink, in the order of pouring, garnish and rinse too; what is left out brings none."""
    grouped: dict[int, list[Line]] = {}
    for step in trace.build.steps:
        if isinstance(step, Line) and not step.left_out and _brings_alcohol(trace, step):
            grouped.setdefault(step.item_id, []).append(step)
    return tuple(_line(trace, item_id, lines, style) for item_id, lines in grouped.items())


def _brings_alcohol(trace: Trace, step: Line) -> bool:
    rows = trace.step(step.id).share.rows
    if float(rows[ETHANOL]) > _SMALLEST_G or float(rows[UNKNOWN_ETHANOL]) > _SMALLEST_G:
        return True
    return any(True for _ in _within(trace.book, step.item_id))


def _within(book: HouseBook, item_id: int) -> Iterator[RawIngredient]:
    """The raw ingredients in an item that hold alcohol, or of which nobody knows."""
    for raw_id in brought_raws(book, item_id):
        raw = book.raws[raw_id]
        if raw.composition[ETHANOL] is None or (raw.composition[ETHANOL] or 0.0) > 0.0:
            yield raw


def _line(trace: Trace, item_id: int, lines: list[Line], style: NumberStyle) -> AlcoholLine:
    shares = [trace.step(step.id).share.rows for step in lines]
    grams = 0.0
    for share in shares:
        grams += float(share[ETHANOL])
    return AlcoholLine(
        item_id=item_id,
        step_ids=tuple(step.id for step in lines),
        name=item_name(trace.book, item_id),
        role=", ".join(dict.fromkeys(_role(step) for step in lines)),
        amount=" + ".join(_amount(trace, step, style) for step in lines),
        ethanol_g=grams,
        is_at_least=any(float(share[UNKNOWN_ETHANOL]) > _SMALLEST_G for share in shares),
        within=_names_within(trace.book, item_id),
        is_on_glass=all(trace.step(step.id).is_on_glass for step in lines),
    )


def _names_within(book: HouseBook, item_id: int) -> tuple[str, ...]:
    """What brings the alcohol of a house-made part; a raw ingredient has nothing within it."""
    item = book.item(item_id)
    if not isinstance(item, Build | Leftover):
        return ()
    names = dict.fromkeys(short_name(raw.name) for raw in _within(book, item_id))
    if isinstance(item, Build) and any(isinstance(step, Ferment) for step in item.steps):
        names["its ferment"] = None
    return tuple(names)


def _role(step: Line) -> str:
    if isinstance(step, Garnish):
        return {GarnishWay.RIM: "rim", GarnishWay.EXPRESS: "expressed"}.get(step.way, "garnish")
    if isinstance(step, Rinse):
        return "rinse"
    if isinstance(step, Top):
        return "float" if step.is_layer else "top"
    return "infused" if isinstance(step, Infuse) else "poured" if isinstance(step, Add) else ""


def _amount(trace: Trace, step: Line, style: NumberStyle) -> str:
    """The volume that was found, else the grams, else the amount as it was typed."""
    found = trace.step(step.id)
    unit = step.amount.unit
    if unit in UNITS and UNITS[unit].dimension == "volume" and unit not in ("ml", "cl", "dl", "l", "oz"):
        return (
            f"{format_trimmed(step.amount.number, 2, style)}{UNIT_SPACE}{unit_word(unit, step.amount.number)}"
        )
    if found.found_ml is not None:
        return f"{format_trimmed(found.found_ml, 1, style)}{UNIT_SPACE}ml"
    if found.found_g is not None:
        return f"{format_trimmed(found.found_g, 1, style)}{UNIT_SPACE}g"
    return UNKNOWN


def remainder(trace: Trace, spread: Spread | None = None, style: NumberStyle = ENGLISH_STYLE) -> Remainder:
    """What is left of the alcohol in a drink, and from what, the most first."""
    result, settings = trace.result, trace.book.settings
    value, more = result.value("strength"), result.more_than("strength")
    length_ml = result.value("length")
    sigma = spread.plus_minus("strength") if spread is not None else None
    grams = result.value("ethanol")
    lines = alcohol_lines(trace, style)
    sources = [
        _left_from(line, length_ml) for line in lines if line.ethanol_g > _SMALLEST_G or line.is_at_least
    ]
    sources += _fermented(trace, lines, length_ml)
    return Remainder(
        strength=with_unit(strength_number(value, style, more=more), "% vol"),
        ethanol=with_unit(strength_number(grams, style, more=result.more_than("ethanol")), "g"),
        sources=tuple(sorted(sources, key=lambda one: -one.ethanol_g)),
        legal=legal_words(settings.wording_law, highest_strength(value, more, sigma)),
        is_known=value is not None and isfinite(more),
    )


def _left_from(line: AlcoholLine, length_ml: float | None) -> LeftFrom:
    name = short_name(line.name)
    told = f"{name} ({listed(line.within)})" if line.within else name
    pct = None if line.is_on_glass else _pct_vol(line.ethanol_g, length_ml)
    return LeftFrom(told, line.ethanol_g, pct, line.is_on_glass, line.is_at_least)


def _fermented(trace: Trace, lines: Iterable[AlcoholLine], length_ml: float | None) -> Iterator[LeftFrom]:
    """What no line brought: it came of a ferment in the drink's own vessel."""
    if not any(isinstance(step, Ferment) and not step.left_out for step in trace.build.steps):
        return
    rest = trace.result.value("ethanol") or 0.0
    for line in lines:
        rest -= 0.0 if line.is_on_glass else line.ethanol_g
    if rest > 1e-6:
        yield LeftFrom(_FERMENTED, rest, _pct_vol(rest, length_ml), False)


def _pct_vol(ethanol_g: float, length_ml: float | None) -> float | None:
    if length_ml is None or not length_ml > 0.0:
        return None
    return 100.0 * ethanol_g / (ethanol_density_kg_per_m3() * 0.001) / length_ml


def _begun(words: str) -> str:
    """Words as a sentence begins."""
    return f"{words[:1].upper()}{words[1:]}"


def _source_line(one: LeftFrom, style: NumberStyle) -> str:
    if one.is_at_least and one.ethanol_g < _SMALLEST_G:
        return f"not known from the {one.name}"
    least = "at least " if one.is_at_least else ""
    if one.pct_vol is None:
        where = "on the glass " if one.is_on_glass else ""
        return f"{least}{strength_number(one.ethanol_g, style, 2)}{UNIT_SPACE}g {where}from the {one.name}"
    return f"{least}{strength_number(one.pct_vol, style, 2)}{UNIT_SPACE}% vol from the {one.name}"


def remembered(settings_swaps: Iterable[Swap], lines: Iterable[AlcoholLine]) -> Mapping[int, Swap]:
    """The house's rules for what brings alcohol to this drink, by item."""
    wanted = {line.item_id for line in lines}
    return {swap.from_id: swap for swap in settings_swaps if swap.from_id in wanted}


def may_replace(book: HouseBook, build_id: int) -> tuple[Item, ...]:
    """What can take the place of a line: everything in the house book but drinks; what holds no alcohol first, then by
    name."""
    items: list[Item] = [*book.raws.values(), *book.parts(), *book.leftovers.values()]
    others = (item for item in items if item.id != build_id)
    return tuple(sorted(others, key=lambda item: (_holds_alcohol(book, item.id), item.name.casefold())))


def _holds_alcohol(book: HouseBook, item_id: int) -> bool:
    return any(True for _ in _within(book, item_id))


def version_name(name: str, legal: LegalWords) -> str:
    """What the version is called until somebody says otherwise: only what the chosen law lets it be called."""
    return f"{name}, {legal.word or 'less alcohol'}"


def is_called_alcohol_free(name: str, legal: LegalWords) -> bool:
    """Whether a name says *alcohol-free* where the chosen law does not allow the word."""
    said = name.casefold().replace(" ", "-")
    return ALCOHOL_FREE in said and all(row.word != ALCOHOL_FREE for row in legal.allowed)
