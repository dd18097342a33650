"""What an item is to a batch: salt, bitters, citrus or fizz, and why, in words.

None of these limits has a source: they are common practice of the trade, chosen so that what a bar weighs out by the drop,
dash or pinch is scaled with care.
"""

from washline.chemistry.components import CO2, ETHANOL, NACL
from washline.engine.state import Numbers, mass_g
from washline.engine.traced import Trace
from washline.model.amount import Amount
from washline.model.graph import maker_of
from washline.model.item import Build, Leftover, RawIngredient
from washline.presentation.batch_plan import Role
from washline.quantity.formatting import UNIT_SPACE
from washline.quantity.names import fold

SALTY_SHARE = 0.10
"""What has this share of its weight as sodium chloride is there for its salt: a saline is 0.2, olive brine 0.06."""
BITTERS_ETHANOL_SHARE = 0.15
"""What is poured by the dash or drop and has this share of its weight as ethanol is a tincture or bitters."""
CITRUS_SHARE = 0.5
"""A house-made part that is more than this by weight of citrus is citrus."""
FIZZY_G_PER_G = 0.001
"""1 g of CO2 in a kilogram: less cannot be felt."""

BITTERS_CATEGORY = "bitters-tincture"
JUICE_CATEGORY, FRUIT_CATEGORY = "juice-fresh", "fruit"
CITRUS_FRUITS = (
    "lemon", "lime", "orange", "mandarin", "tangerine", "clementine", "grapefruit", "pomelo", "yuzu", "bergamot",
    "kumquat", "citron", "calamondin", "sudachi",
)  # fmt: skip
_BY_DROP = ("dash", "drop")
_MOST_DEPTH = 12


class ItemRoles:
    """Roles of the items of one house book, each found once; ``trace`` is of the drink that pours them."""

    def __init__(self, trace: Trace) -> None:
        self._trace, self._book = trace, trace.book
        self._citrus: dict[int, float] = {}

    def role(self, item_id: int, amount: Amount) -> tuple[Role, str]:
        """How a line of an item is scaled, and why in words; a plain line needs no words."""
        item, column = self._book.item(item_id), self._column(item_id)
        salt = share_of(column, NACL)
        if salt >= SALTY_SHARE:
            return Role.SALT, f"salt: {100.0 * salt:.0f}{UNIT_SPACE}% of its weight is sodium chloride"
        if isinstance(item, RawIngredient) and item.category == BITTERS_CATEGORY:
            return Role.BITTERS, "bitters: it is listed among bitters and tinctures"
        by_drop = amount.unit.startswith(_BY_DROP)
        if by_drop and share_of(column, ETHANOL) >= BITTERS_ETHANOL_SHARE:
            return Role.BITTERS, f"bitters: alcoholic, and poured by the {amount.unit.split('-')[0]}"
        return Role.LINE, ""

    def is_fizzy(self, item_id: int) -> bool:
        """Whether an item brings gas."""
        item = self._book.item(item_id)
        if isinstance(item, RawIngredient):
            return (item.co2_g_per_l or 0.0) >= 1000.0 * FIZZY_G_PER_G
        return share_of(self._column(item_id), CO2) >= FIZZY_G_PER_G

    def is_citrus(self, item_id: int) -> bool:
        """Whether an item is fresh citrus juice, or a house-made part that is mostly that."""
        return self.citrus_share(item_id) > CITRUS_SHARE

    def citrus_share(self, item_id: int, depth: int = 0) -> float:
        """How much of an item's weight is citrus juice or fruit, 0 to 1, by what it is made of."""
        if item_id not in self._citrus:
            self._citrus[item_id] = self._found_citrus(item_id, depth)
        return self._citrus[item_id]

    def _found_citrus(self, item_id: int, depth: int) -> float:
        item = self._book.item(item_id)
        if isinstance(item, RawIngredient):
            return 1.0 if _is_raw_citrus(item) else 0.0
        maker = maker_of(self._book, item_id)
        if maker is None or depth > _MOST_DEPTH:
            return 0.0
        if isinstance(item, Build | Leftover) and item.acts_as_id is not None:
            return self.citrus_share(item.acts_as_id, depth + 1)
        return self._made_of_citrus(maker, item_id, depth)

    def _made_of_citrus(self, maker: Build, item_id: int, depth: int) -> float:
        """By weight of what of each line is still in the output."""
        shares = self._trace.opened(maker.id).output_shares.get(item_id, {})
        poured = {step.id: step.item_id for step in maker.steps if hasattr(step, "item_id")}
        whole = citrus = 0.0
        for step_id, rows in shares.items():
            grams = float(mass_g(rows[:, None])[0])
            whole += grams
            if step_id in poured:
                citrus += grams * self.citrus_share(poured[step_id], depth + 1)
        return citrus / whole if whole > 0.0 else 0.0

    def _column(self, item_id: int) -> Numbers | None:
        """What a gram of an item brings; ``None`` for one that is gone."""
        if self._book.item(item_id) is None:
            return None
        found = self._trace.source.columns_of(item_id)
        return None if found is None else found[0]


def share_of(column: Numbers | None, component: int) -> float:
    """The share of an item's weight that is one component; 0 where nobody knows."""
    share = 0.0 if column is None else float(column[component])
    return share if share == share else 0.0


def _is_raw_citrus(raw: RawIngredient) -> bool:
    if raw.category not in (JUICE_CATEGORY, FRUIT_CATEGORY):
        return False
    words = fold(f"{raw.slug.replace('-', ' ')} {raw.name.replace(',', ' ')}").split()
    return any(fruit in words or f"{fruit}s" in words for fruit in CITRUS_FRUITS)
