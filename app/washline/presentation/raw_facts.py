"""What the sheet of a raw ingredient says beside its fields: composition by group, price, users; and strength as sold."""

from dataclasses import dataclass

import numpy as np
from msgspec import structs

from washline.chemistry import mixture
from washline.chemistry.components import COMPONENT_COUNT, COMPONENTS, ETHANOL, WATER
from washline.model.book import HouseBook
from washline.model.item import Price, RawIngredient
from washline.model.step import Add, Garnish, Top
from washline.problem import UserError


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
    return f"{rest}it adds up to {total:.1f} g and is scaled to 100 g."


def newest_price(raw: RawIngredient) -> tuple[int, Price] | None:
    """The price that counts, with its position: the newest by date, the last entered of one day."""
    if not raw.prices:
        return None
    index = max(range(len(raw.prices)), key=lambda number: (raw.prices[number].date, number))
    return index, raw.prices[index]


def users_of(book: HouseBook, item_id: int) -> list[str]:
    """The names of the drinks and parts that have a line of an item, in the order of the book."""
    return [
        build.name
        for build in book.builds.values()
        if any(isinstance(step, Add | Top | Garnish) and step.item_id == item_id for step in build.steps)
    ]


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
