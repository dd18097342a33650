"""What one gram of an item brings, and what one millilitre, dash, drop or piece of it weighs."""

from collections.abc import Callable, Sequence

import numpy as np

from washline.chemistry import acidity, heat, mixture
from washline.chemistry.coefficients import keys
from washline.chemistry.components import (
    ACIDS,
    CO2,
    ETHANOL,
    INSOLUBLE,
    NACL,
    OTHER_ACID,
    OTHER_SOLIDS,
    PROTEIN,
    SUGARS,
    WATER,
)
from washline.engine.state import (
    ACID_EXCESS,
    BITTER,
    CATIONS,
    COST,
    DASH,
    DROP,
    ENTHALPY,
    MASS,
    MASSES,
    PIECE,
    ROWS,
    UNIT_KINDS,
    UNKNOWN_ACID,
    UNKNOWN_BUFFER,
    UNKNOWN_COST,
    UNKNOWN_ETHANOL,
    UNKNOWN_SALT,
    UNKNOWN_SUGAR,
    VOLUME,
    Numbers,
    mass_g,
)
from washline.model.book import HouseBook
from washline.model.item import Build, Leftover, RawIngredient
from washline.model.step import Carbonate, Evaporate, Garnish, items_of

_EDIBLE = ("edible", "leaf", "leaf from bunch", "peeled flesh", "pulp with seeds")
"""Bases of an edible yield that mean: the line weighs what is used, the price is for what was bought."""

BUFFERING_PROTEIN_PCT = 0.3
"""From so much protein on, a raw ingredient binds acid that moves its pH (milk 3 %, egg white 11 %; vermouth 0.07 %)."""

PURE_ACID_PCT = 20.0
"""From so much acid on it is an acid powder or a concentrate, without cations of its own."""

SPIRIT_DROP_FROM_PCT_VOL = 20.0
SYRUP_DROP_FROM_SUGAR = 0.3
SMALLEST_MASS_G = 1e-9
"""Less than this is nothing: no scale shows it, and a share of it has no meaning."""


def raw_per_gram(book: HouseBook, raw: RawIngredient) -> Numbers:
    """What one gram of a raw ingredient brings, (ROWS,): masses that add to 1 and its passengers.

    A row that is complete is scaled to its own sum. In one that is not, the rest is matter of unknown kind: it counts
    as insoluble in a solid and as other solids elsewhere, and each group with a blank is unknown by that much. Today's
    fruit, where the house has said so, has more or less of its sugars and acids than the table.
    """
    column = np.zeros(ROWS)
    column[MASSES] = [part or 0.0 for part in raw.composition]
    total = float(np.add.accumulate(column[MASSES])[-1])
    rest = max(0.0, 100.0 - total) if any(part is None for part in raw.composition) else 0.0
    column[INSOLUBLE if raw.form == "solid" else OTHER_SOLIDS] += rest
    if total + rest > 0.0:
        column[MASSES] /= total + rest
    for row, group in _UNKNOWN_GROUPS:
        if any(raw.composition[part] is None for part in group):
            column[row] = rest / 100.0
    if raw.today is not None:
        shift_group(column, SUGARS, raw.today.sugars_pct / 100.0)
        shift_group(column, ACIDS, raw.today.acids_pct / 100.0)
    column[CATIONS] = (raw.strong_cation_mmol_per_100g or 0.0) / 100.0
    column[ACID_EXCESS] = _acid_beyond_the_usual(raw, float(column[OTHER_ACID]))
    column[UNKNOWN_BUFFER] = 0.0 if is_buffer_known(raw) else 1.0
    column[BITTER] = raw.bitterness or 0.0
    _dissolve_gas(column, raw)
    column[ENTHALPY] = heat.enthalpy_j(column[MASSES, None], book.settings.temperature_c(raw.kept_at))[0]
    cost = _cost_per_gram(raw, raw_density(raw, column))
    column[COST] = cost or 0.0
    column[UNKNOWN_COST] = 1.0 if cost is None else 0.0
    return column


def shift_group(column: Numbers, group: Sequence[int], relative: float) -> None:
    """Raises the components of a group in one item's column (ROWS,) by a share of themselves, against its water: as much as
    it has water for."""
    extra = sum(float(column[part]) for part in group) * relative
    if extra > column[WATER]:
        relative *= float(column[WATER]) / extra
    for part in group:
        more = column[part] * relative
        column[part] += more
        column[WATER] -= more


def is_buffer_known(raw: RawIngredient) -> bool:
    """Whether the pH of a raw ingredient follows from its acids and cations: its cations are measured or fitted, or it
    holds next to nothing that binds acid, or is an acid by itself."""
    if raw.ph_model in ("potassium", "fitted"):
        return True
    if not raw.ph_model and raw.strong_cation_mmol_per_100g is not None:
        return True
    if any(raw.composition[part] is None for part in ACIDS):
        return False
    acids = sum(raw.composition[part] or 0.0 for part in ACIDS)
    has_protein = (raw.composition[PROTEIN] or 0.0) >= BUFFERING_PROTEIN_PCT
    return not has_protein and not 0.0 < acids < PURE_ACID_PCT


def _acid_beyond_the_usual(raw: RawIngredient, other_acid_g: float) -> float:
    """Equivalents in mmol that a named acid has more than the component it is counted under: it binds less of it."""
    is_named = raw.other_acid_name in keys("other_acid_equivalent")
    return acidity.other_acid_excess_mmol(raw.other_acid_name, other_acid_g) if is_named else 0.0


_UNKNOWN_GROUPS: tuple[tuple[int, Sequence[int]], ...] = (
    (UNKNOWN_SUGAR, SUGARS),
    (UNKNOWN_ACID, ACIDS),
    (UNKNOWN_ETHANOL, (ETHANOL,)),
    (UNKNOWN_SALT, (NACL,)),
)


def raw_density(raw: RawIngredient, column: Numbers) -> float:
    """Grams of a poured raw ingredient in one millilitre as sold, its dissolved gas included; nan for a solid."""
    if not raw.is_poured:
        return float("nan")
    gas = (raw.co2_g_per_l or 0.0) / 1000.0
    if raw.density_g_per_ml is not None:
        return raw.density_g_per_ml + gas
    return float(mixture.density_g_per_ml(column[MASSES, None])[0])


def raw_per_unit(book: HouseBook, raw: RawIngredient, column: Numbers) -> Numbers:
    """Grams in one gram, millilitre, dash, drop and piece of a raw ingredient, (UNIT_KINDS,); nan where none is known."""
    density = raw_density(raw, column)
    grams = np.full(UNIT_KINDS, np.nan)
    grams[MASS] = 1.0
    grams[VOLUME] = density
    grams[DASH] = _measure_ml(book, "dash", raw.dash_ml) * density
    grams[DROP] = _measure_ml(book, drop_measure(raw), raw.drop_ml) * density
    if raw.piece_g is not None:
        grams[PIECE] = raw.piece_g
    return grams


def drop_measure(raw: RawIngredient) -> str:
    """Which kind of drop an item falls in: its surface tension and thickness decide (``measures.csv``)."""
    if (raw.strength_pct_vol or 0.0) > SPIRIT_DROP_FROM_PCT_VOL:
        return "drop-spirit"
    sugars = sum(raw.composition[part] or 0.0 for part in SUGARS) / 100.0
    return "drop-syrup" if sugars > SYRUP_DROP_FROM_SUGAR else "drop-water"


def _measure_ml(book: HouseBook, slug: str, own_ml: float | None) -> float:
    if own_ml is not None:
        return own_ml
    measure = book.measures.get(slug)
    return measure.value if measure is not None else float("nan")


def _dissolve_gas(column: Numbers, raw: RawIngredient) -> None:
    """Composition and density are of the degassed liquid; the gas comes on top of it, gram for gram."""
    if not raw.co2_g_per_l or raw.density_g_per_ml is None:
        return
    gas = raw.co2_g_per_l / 1000.0
    column *= raw.density_g_per_ml / (raw.density_g_per_ml + gas)
    column[CO2] += gas / (raw.density_g_per_ml + gas)


def _cost_per_gram(raw: RawIngredient, density: float) -> float | None:
    if not raw.prices:
        return None
    price = max(raw.prices, key=lambda entry: entry.date)
    if price.unit == "kg":
        return price.per_unit / 1000.0 / (edible_yield(raw) or 1.0)
    return price.per_unit / 1000.0 / density if density > 0.0 else None


def edible_yield(item: object) -> float | None:
    """Grams used of a gram bought, for produce that is trimmed; ``None`` for what is used as it comes, or not known."""
    if isinstance(item, RawIngredient) and item.edible_yield and item.edible_yield_basis in _EDIBLE:
        return item.edible_yield
    return None


def foam_allowance_ml(book: HouseBook, build: Build) -> float:
    """What the wash line leaves for foam, in ml: as set for the drink, else the house's for one that holds gas, else 0."""
    if build.foam_ml is not None:
        return build.foam_ml
    return book.settings.foam_allowance_ml if _is_fizzy(book, build, frozenset()) else 0.0


def _is_fizzy(book: HouseBook, build: Build, above: frozenset[int]) -> bool:
    """Whether something is carbonated in a build, or goes into it with gas, after it was last heated: that drives gas out.
    ``above`` are the builds that it is looked at for, so that a loop in a damaged file ends."""
    above |= {build.id}
    is_fizzy = False
    for step in build.steps:
        if step.left_out or isinstance(step, Garnish):
            continue
        if isinstance(step, Evaporate):
            is_fizzy = False
        elif isinstance(step, Carbonate) or any(_brings_gas(book, one, above) for one in items_of(step)):
            is_fizzy = True
    return is_fizzy


def _brings_gas(book: HouseBook, item_id: int, above: frozenset[int]) -> bool:
    item = book.item(item_id)
    if isinstance(item, RawIngredient):
        return bool(item.co2_g_per_l)
    return isinstance(item, Build) and item.id not in above and _is_fizzy(book, item, above)


ColumnsOf = Callable[[int], tuple[Numbers, Numbers] | None]
"""What a gram (ROWS, n or 1) and a unit (UNIT_KINDS, n or 1) of an item bring; ``None`` for an id that is no item."""


def output_columns(
    book: HouseBook, item: Build | Leftover, state: Numbers, columns_of: ColumnsOf
) -> tuple[Numbers, Numbers]:
    """What a gram (ROWS, n) and a unit (UNIT_KINDS, n) of an output bring, from the whole of it, (ROWS, n).

    One that acts as another item takes its composition, cations and density; what it costs, and how cold it is kept, stays
    its own. Where the other item is not there it brings nan.
    """
    column = output_per_gram(book, item, state)
    acted = None if item.acts_as_id is None else columns_of(item.acts_as_id)
    if item.acts_as_id is None:
        return column, output_per_unit(book, item, column)
    if acted is None:
        return np.full_like(column, np.nan), np.full((UNIT_KINDS, column.shape[1]), np.nan)
    acting = np.where(np.isnan(column[:1]), np.nan, acted[0])
    acting[[COST, UNKNOWN_COST]] = column[[COST, UNKNOWN_COST]]
    if item.bitterness is not None:
        acting[BITTER] = item.bitterness
    acting[ENTHALPY] = heat.enthalpy_j(acting[MASSES], book.settings.temperature_c(item.kept_at))
    units = output_per_unit(book, item, acting)
    density = np.where(np.isnan(acted[1][VOLUME]), units[VOLUME], acted[1][VOLUME])
    own = density / units[VOLUME]
    units[[VOLUME, DASH, DROP]] = units[[VOLUME, DASH, DROP]] * own
    return acting, units


def output_per_gram(book: HouseBook, item: Build | Leftover, state: Numbers) -> Numbers:
    """What one gram of an output brings, (ROWS, n), from the whole of it, (ROWS, n); nan where there is none of it."""
    mass = mass_g(state)
    column = state / np.where(mass > SMALLEST_MASS_G, mass, np.nan)
    if item.bitterness is not None:
        column[BITTER] = item.bitterness
    column[ENTHALPY] = heat.enthalpy_j(column[MASSES], book.settings.temperature_c(item.kept_at))
    return column


def output_per_unit(book: HouseBook, item: Build | Leftover, column: Numbers) -> Numbers:
    """Grams in one unit of each kind of an output, (UNIT_KINDS, n), from what one gram of it brings."""
    density = mixture.density_g_per_ml(column[MASSES])
    grams = np.full((UNIT_KINDS, column.shape[1]), np.nan)
    grams[MASS] = 1.0
    grams[VOLUME] = density
    dash = item.dash_ml if isinstance(item, Build) else None
    grams[DASH] = _measure_ml(book, "dash", dash) * density
    grams[DROP] = _drop_ml(book, item, column) * density
    if item.piece_g is not None:
        grams[PIECE] = item.piece_g
    return grams


def _drop_ml(book: HouseBook, item: Build | Leftover, column: Numbers) -> Numbers:
    if isinstance(item, Build) and item.drop_ml is not None:
        return np.full(column.shape[1], item.drop_ml)
    water, spirit, syrup = (
        _measure_ml(book, slug, None) for slug in ("drop-water", "drop-spirit", "drop-syrup")
    )
    sugars = np.add.accumulate(column[list(SUGARS)], axis=0)[-1]
    strength = mixture.strength_pct_vol(column[MASSES])
    thick = np.where(sugars > SYRUP_DROP_FROM_SUGAR, syrup, water)
    result: Numbers = np.where(strength > SPIRIT_DROP_FROM_PCT_VOL, spirit, thick)
    return result


class ItemTable:
    """What a gram and a unit of every known item bring, in two arrays that grow; one column an item.

    ``per_gram`` is (ROWS, capacity) and ``per_unit`` (UNIT_KINDS, capacity); ``slot`` gives an item's column. An item
    that has not been evaluated is all nan.
    """

    def __init__(self) -> None:
        self.per_gram = np.full((ROWS, 64), np.nan)
        self.per_unit = np.full((UNIT_KINDS, 64), np.nan)
        self._slots: dict[int, int] = {}

    def slot(self, item_id: int) -> int:
        """The column of an item, made if it is new."""
        slot = self._slots.setdefault(item_id, len(self._slots))
        if slot >= self.per_gram.shape[1]:
            self.per_gram = _doubled(self.per_gram)
            self.per_unit = _doubled(self.per_unit)
        return slot

    def has(self, item_id: int) -> bool:
        """Whether the item has a column."""
        return item_id in self._slots

    def put(self, item_id: int, per_gram: Numbers, per_unit: Numbers) -> bool:
        """Stores an item's column, (ROWS,) and (UNIT_KINDS,); whether it differs by one bit from what stood there."""
        slot = self.slot(item_id)
        is_same = (
            self.per_gram[:, slot].tobytes() == per_gram.tobytes()
            and self.per_unit[:, slot].tobytes() == per_unit.tobytes()
        )
        self.per_gram[:, slot] = per_gram
        self.per_unit[:, slot] = per_unit
        return not is_same


def _doubled(array: Numbers) -> Numbers:
    grown = np.full((array.shape[0], array.shape[1] * 2), np.nan)
    grown[:, : array.shape[1]] = array
    return grown
