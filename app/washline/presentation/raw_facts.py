"""What the sheet of a raw ingredient says beside its fields: composition, prices, users, yield, what it makes unsure."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from msgspec import structs

from washline.chemistry import mixture
from washline.chemistry.components import ACIDS, CO2, COMPONENT_COUNT, COMPONENTS, ETHANOL, SUGARS, WATER
from washline.engine.items import edible_yield
from washline.engine.spread import Spread
from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.item import Price, RawIngredient
from washline.model.reading import READING_INDEX
from washline.model.step import Adjust, Line, Step, items_of
from washline.problem import UserError
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    NumberStyle,
    format_amount,
    format_number,
    format_trimmed,
)


@dataclass(frozen=True, slots=True)
class ComponentGroup:
    """Components that stand together on the sheet, each with its words."""

    name: str
    components: tuple[tuple[str, str], ...]


GROUPS: tuple[ComponentGroup, ...] = (
    ComponentGroup(
        "Sugars",
        (
            ("sucrose", "sucrose"),
            ("glucose", "glucose"),
            ("fructose", "fructose"),
            ("lactose", "lactose"),
            ("maltose", "maltose"),
            ("other_carbohydrate", "other carbohydrate"),
            ("polyol", "sugar alcohols, glycerol"),
        ),
    ),
    ComponentGroup(
        "Acids",
        (
            ("citric", "citric"),
            ("malic", "malic"),
            ("tartaric", "tartaric"),
            ("lactic", "lactic"),
            ("acetic", "acetic"),
            ("ascorbic", "ascorbic"),
            ("phosphoric", "phosphoric"),
            ("other_acid", "other acid"),
        ),
    ),
    ComponentGroup(
        "Water, alcohol and the rest",
        (
            ("water", "water"),
            ("ethanol", "ethanol"),
            ("nacl", "salt"),
            ("protein", "protein"),
            ("fat", "fat"),
            ("fibre", "soluble fibre"),
            ("insoluble", "insoluble solids"),
            ("other_solids", "other solids"),
        ),
    ),
)
"""The composition as it is edited; dissolved gas has a field of its own."""


def component(raw: RawIngredient, key: str) -> float | None:
    """Grams of a component in 100 g; ``None`` is not known."""
    return raw.composition[COMPONENTS.index(key)]


def sum_words(raw: RawIngredient) -> str:
    """What the composition adds up to, and what that means."""
    known = [part for part in raw.composition if part is not None]
    total = 0.0
    for part in known:
        total += part
    blanks = COMPONENT_COUNT - len(known)
    if blanks == COMPONENT_COUNT:
        return "Nothing is known of its composition: readings that rest on it say so."
    rest = f"{blanks} of {COMPONENT_COUNT} are not known; " if blanks else ""
    if blanks and total < 100.0:
        return f"{rest}what is known adds up to {total:.1f} g, the other {100.0 - total:.1f} g are of unknown kind."
    return f"{rest}{'it' if rest else 'It'} adds up to {total:.1f} g and is scaled to 100 g."


def newest_price(raw: RawIngredient) -> tuple[int, Price] | None:
    """The price that counts, with its position: the newest by date, the last entered of one day."""
    if not raw.prices:
        return None
    index = max(range(len(raw.prices)), key=lambda number: (raw.prices[number].date, number))
    return index, raw.prices[index]


def users_of(book: HouseBook, item_id: int) -> list[str]:
    """The names of the drinks and parts that take an item in, in the order of the book."""
    return [use.name for use in uses_of(book, item_id)]


@dataclass(frozen=True, slots=True)
class Use:
    """A drink or part that takes an item in, with its amounts in the order of the build."""

    build_id: int
    name: str
    is_drink: bool
    amounts: tuple[str, ...]


def uses_of(book: HouseBook, item_id: int, style: NumberStyle = ENGLISH_STYLE) -> list[Use]:
    """Where an item is used: drinks first, each group in the order of the book. A line left out says so."""
    acting = {row.build_id: row.name for row in book.leftovers.values() if row.acts_as_id == item_id}
    found = []
    for build in book.builds.values():
        words = [_use_words(step, style) for step in build.steps if item_id in items_of(step)]
        words += [f"{build.name} has its composition"] if build.acts_as_id == item_id else []
        words += [f"{acting[build.id]} has its composition"] if build.id in acting else []
        if words:
            found.append(Use(build.id, build.name, build.is_drink, tuple(words)))
    return sorted(found, key=lambda use: not use.is_drink)


def _use_words(step: Step, style: NumberStyle) -> str:
    words = "as much as it takes" if isinstance(step, Adjust) else ""
    if isinstance(step, Line):
        words = amount_words(step.amount, style)
    return f"{words}, left out" if step.left_out else words


_BASIS_WORDS = {
    Basis.PERCENT_OF_VESSEL: "of the vessel",
    Basis.PERCENT_OF_LINES: "of other lines",
    Basis.PARTS: "by weight",
    Basis.TO_VOLUME: "",
    Basis.TO_MASS: "",
}


def amount_words(amount: Amount, style: NumberStyle = ENGLISH_STYLE) -> str:
    """An amount in a list: *22.5 ml*, *42 % of other lines*, *to 500 g*, *to the wash line*."""
    if amount.basis is Basis.TO_WASH_LINE:
        return "to the wash line"
    number = format_amount(amount.number, amount.unit, style)
    if amount.basis in (Basis.TO_VOLUME, Basis.TO_MASS):
        return f"to {number}"
    return f"{number} {_BASIS_WORDS.get(amount.basis, '')}".rstrip()


# The composition as a bar


@dataclass(frozen=True, slots=True)
class Segment:
    """A stretch of the composition bar: what it is, its grams in 100 g, and the token that it is painted with.

    ``fill`` says how, so that colour is not needed: solid, striped, dotted, open (water), or crossed (not known).
    """

    words: str
    grams: float
    token: str
    fill: str


def segments(raw: RawIngredient) -> tuple[Segment, ...]:
    """The composition in the order of the bar; what is nothing is left out. Grams are scaled to 100 as the engine does."""
    parts = [part or 0.0 for part in raw.composition]
    total = 0.0
    for part in parts:
        total += part
    unknown = max(0.0, 100.0 - total) if any(part is None for part in raw.composition) else 0.0
    scale = 100.0 / (total + unknown) if total + unknown > 0.0 else 0.0
    named = {*SUGARS, *ACIDS, ETHANOL, WATER, CO2}
    groups = (
        ("sugars", SUGARS, "sugar", "solid"),
        ("acids", ACIDS, "acid", "striped"),
        ("alcohol", (ETHANOL,), "ethanol", "dotted"),
        (
            "other solids",
            tuple(index for index in range(COMPONENT_COUNT) if index not in named),
            "edge",
            "solid",
        ),
    )
    found = [Segment(words, sum(parts[index] for index in group) * scale, token, fill)
             for words, group, token, fill in groups]  # fmt: skip
    found.append(Segment("not known", unknown * scale, "ink3", "crossed"))
    found.append(Segment("water", parts[WATER] * scale, "sheet", "open"))
    return tuple(segment for segment in found if segment.grams > 0.0)


def segment_words(segment: Segment, style: NumberStyle = ENGLISH_STYLE) -> str:
    """*sugars 8.2 g*."""
    number = format_number(segment.grams, 1, style)
    return f"{segment.words} {number if number.strip('0.,') else 'under 0.1'} g"


# Prices


def price_history(raw: RawIngredient) -> list[tuple[int, Price]]:
    """All prices with their positions, the newest first; of one day the last entered first."""
    return sorted(enumerate(raw.prices), key=lambda entry: (entry[1].date, entry[0]), reverse=True)


def price_change_words(raw: RawIngredient, style: NumberStyle = ENGLISH_STYLE) -> str:
    """*up 12 % since 2026-03-01*: the newest price against the one before it by the same unit; empty without one."""
    history = price_history(raw)
    if len(history) < 2:
        return ""
    newest = history[0][1]
    before = next((price for _, price in history[1:] if price.unit == newest.unit), None)
    if before is None or before.per_unit <= 0.0:
        return ""
    percent = 100.0 * (newest.per_unit / before.per_unit - 1.0)
    if abs(percent) < 0.05:
        return f"as on {before.date}"
    return f"{'up' if percent > 0 else 'down'} {format_trimmed(abs(percent), 1, style)} % since {before.date}"


# Yield


YIELD_BASES: tuple[tuple[str, str], ...] = (
    ("", "used as it comes"),
    ("edible", "edible: peel, core and stones off"),
    ("peeled flesh", "peeled flesh"),
    ("leaf", "leaf, off the stem"),
    ("leaf from bunch", "leaf, from the bunch"),
    ("pulp with seeds", "pulp with seeds"),
    ("juice", "juice"),
    ("juice per fruit", "juice per fruit"),
    ("juice per whole fruit", "juice per whole fruit"),
    ("juice per trimmed fruit", "juice per trimmed fruit"),
    ("juice per trimmed root", "juice per trimmed root"),
    ("juice per peeled root", "juice per peeled root"),
    ("juice per trimmed stalk", "juice per trimmed stalk"),
    ("puree per whole fruit", "purée per whole fruit"),
    ("clear water per tomato", "clear water per tomato"),
)
"""What the share that is used is a share of: the bases of the pantry, in words."""


def yield_words(raw: RawIngredient, style: NumberStyle = ENGLISH_STYLE) -> str:
    """What an edible yield means for weights and costs, in a sentence."""
    if raw.edible_yield is None:
        return "Not known how much of what is bought is used: an amount as bought cannot be turned into one as used."
    used = format_number(1000.0 * raw.edible_yield, 0, style)
    basis = dict(YIELD_BASES).get(raw.edible_yield_basis, raw.edible_yield_basis)
    whole = format_number(1000.0, 0, style)
    if edible_yield(raw) is not None:
        return (
            f"{whole} g as bought leave {used} g as used ({basis}). Lines weigh what is used unless they say as bought; "
            "the cost counts what was bought."
        )
    if raw.edible_yield_basis:
        return (
            f"{whole} g of fruit give {used} g ({basis}). It is bought as it stands: no trimming is counted."
        )
    return f"{whole} g as bought leave {used} g, but not said of what: choose the basis, so that the cost can count it."


# Where it comes from, and what it makes unsure


_KIND_WORDS = {
    "published": "published table",
    "standard": "a definition, formula or norm",
    "common-practice": "common practice, no source",
    "from-memory": "from memory",
    "label": "its label",
    "measured": "measured in this house",
}


def source_lines(raw: RawIngredient) -> tuple[str, ...]:
    """Where the figures come from, and which of them are from memory."""
    kind = _KIND_WORDS.get(raw.source_kind, raw.source_kind)
    lines = [f"Main composition: {kind}." if kind else "Source: none recorded."]
    if raw.source:
        lines.append(f"Source: {raw.source}.")
    if raw.from_memory_fields:
        fields = ", ".join(
            name.strip().replace("_", " ") for name in raw.from_memory_fields.split(";") if name.strip()
        )
        lines.append(f"From memory, so trust these least: {fields}.")
    return tuple(lines)


def doubt_words(raw: RawIngredient, style: NumberStyle = ENGLISH_STYLE) -> str:
    """Where the uncertainty of an ingredient itself comes from."""
    said = [
        f"{words} vary by {format_trimmed(percent, 1, style)} %"
        for words, percent in (("sugars", raw.sugar_uncertainty_pct), ("acids", raw.acid_uncertainty_pct))
        if percent
    ]
    if not said:
        return "No spread between deliveries is entered, so it adds nothing to any ±: that is not the same as sure."
    return f"From delivery to delivery its {' and its '.join(said)} (one standard deviation)."


@dataclass(frozen=True, slots=True)
class OwnDoubt:
    """What an ingredient does to the uncertainty of one reading of one drink: ± of it alone and of all causes, and its
    share of the variance (0 to 1)."""

    build_id: int
    name: str
    reading: str
    own: float
    whole: float
    share: float


DOUBTFUL_READINGS = ("acidity", "sweetness")


def own_doubt(
    build_id: int, name: str, raw_id: int, spread: Spread, readings: Sequence[str] = DOUBTFUL_READINGS
) -> OwnDoubt | None:
    """The reading of a drink that an ingredient makes most unsure, by its share of the variance; ``None``: none."""
    found: list[OwnDoubt] = []
    for reading in readings:
        index = READING_INDEX[reading]
        own = 0.0
        for cause in spread.causes:
            if cause.key == raw_id and cause.kind in ("sugars", "acids"):
                own += max(abs(float(cause.higher[index])), abs(float(cause.lower[index]))) ** 2
        whole = spread.plus_minus(reading)
        if own > 0.0 and whole:
            found.append(OwnDoubt(build_id, name, reading, own**0.5, whole, min(1.0, own / whole**2)))
    return max(found, key=lambda one: one.share, default=None)


def at_component(raw: RawIngredient, key: str, grams: float | None) -> RawIngredient:
    """The ingredient with another amount of one component in 100 g: what it has more takes the place of water.

    A composition that was whole stays whole. ``None``, and the water itself, change nothing else; where something is not
    known, water gives way only to what would not go into 100 g. More than the water leaves room for is left to be refused.
    """
    index = COMPONENTS.index(key)
    parts = list(raw.composition)
    before, water = parts[index], parts[WATER]
    parts[index] = grams
    if grams is not None and water is not None and index not in (WATER, CO2):
        total = 0.0
        for part in parts:
            total += part or 0.0
        is_whole = before is not None and all(part is not None for part in raw.composition)
        more = grams - (before or 0.0) if is_whole else max(0.0, total - 100.0)
        parts[WATER] = round(max(0.0, water - more), 6)
    return structs.replace(raw, composition=tuple(parts))


def at_strength(raw: RawIngredient, strength_pct_vol: float | None) -> RawIngredient:
    """The ingredient with another strength as sold: ethanol for water until the mixture has it at 20 °C.

    A recorded density no longer holds and is let go: it is computed from the composition. ``None``: the strength is not
    known, and neither are ethanol and water. Raises ``UserError`` where what else is in it leaves no room.
    """
    parts = list(raw.composition)
    if strength_pct_vol is None:
        parts[ETHANOL] = parts[WATER] = None
        return structs.replace(raw, composition=tuple(parts), strength_pct_vol=None, density_g_per_ml=None)
    others = 0.0
    for index, part in enumerate(parts):
        if index not in (ETHANOL, WATER):
            others += part or 0.0
    low, high = 0.0, max(0.0, 100.0 - others)
    if _strength(parts, high, 0.0) < strength_pct_vol - 1e-9:
        raise UserError(
            f"{raw.name} cannot have {strength_pct_vol:g} % vol.",
            f"{others:.1f} g of 100 g are something else.",
            "Enter a lower strength, or less of what else is in it.",
        )
    for _ in range(60):
        middle = (low + high) / 2
        is_below = _strength(parts, middle, 100.0 - others - middle) < strength_pct_vol
        low, high = (middle, high) if is_below else (low, middle)
    ethanol = 0.0 if strength_pct_vol <= 0 else round((low + high) / 2, 6)
    parts[ETHANOL], parts[WATER] = ethanol, round(100.0 - others - ethanol, 6)
    return structs.replace(
        raw, composition=tuple(parts), strength_pct_vol=strength_pct_vol, density_g_per_ml=None
    )


def _strength(parts: list[float | None], ethanol: float, water: float) -> float:
    masses = np.array([part or 0.0 for part in parts])[:, None]
    masses[ETHANOL], masses[WATER] = ethanol, water
    return float(mixture.strength_pct_vol(masses)[0])
