"""Reads the pantry: raw ingredients with prices, target families, and what ``pantry_kit`` reads."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from washline.chemistry.components import COMPONENT_COUNT, ETHANOL, TABLE
from washline.exchange.composition import CompositionError, composition
from washline.exchange.pantry_kit import glasses_and_methods, ices, measures, vessels
from washline.exchange.table import CellProblem, TableRow, read_table
from washline.model.house import Glass, Ice, Measure, Method, Vessel
from washline.model.item import UNKNOWN, KeptAt, Price, RawIngredient
from washline.model.reading import READING_KEYS
from washline.model.target import Aim, Target

FORMS = ("liquid", "solid", "powder", "gas")
PRICE_DATE = "2026-11-21"
PRICE_NOTE = "invented demo data"
POTASSIUM_MG_PER_MMOL = 39.0983
"""Molar mass of potassium (IUPAC, standard atomic weights 2021)."""

_INGREDIENT_COLUMNS = (
    "slug",
    "name",
    "category",
    "form",
    "density_kg_per_l",
    "abv_pct_vol",
    *(component.pantry_column for component in TABLE),
    "other_acid_name",
    "composition_complete",
    "potassium_mg_per_100g",
    "ph_model",
    "buffer_cation_meq_per_100g",
    "titratable_acidity_citric_g_per_100g",
    "soluble_solids_degbx",
    "typical_pH_low",
    "typical_pH_high",
    "bitterness_0_10",
    "sugar_rel_uncertainty_pct",
    "acid_rel_uncertainty_pct",
    "allergens",
    "vegan",
    "vegetarian",
    "foams",
    "contains_alcohol",
    "caution_key",
    "drop_ml",
    "dash_ml",
    "edible_yield_g_per_g",
    "edible_yield_basis",
    "piece_weight_g",
    "shelf_life_days",
    "season_months",
    "source",
    "source_kind",
    "from_memory_fields",
    "note",
)


@dataclass(frozen=True, slots=True)
class Pantry:
    """What the pantry holds, without ids (they are 0), in the order of its files, and what was wrong in them."""

    raws: tuple[RawIngredient, ...] = ()
    targets: tuple[Target, ...] = ()
    glasses: tuple[Glass, ...] = ()
    methods: tuple[Method, ...] = ()
    measures: tuple[Measure, ...] = ()
    ices: tuple[Ice, ...] = ()
    vessels: tuple[Vessel, ...] = ()
    problems: tuple[CellProblem, ...] = field(default=())


def read_pantry(folder: Path) -> Pantry:
    """The pantry in a folder of CSV files. A line with a problem is left out and listed with its file, line and column;
    raises ``UserError`` only where a file cannot be read at all."""
    problems: list[CellProblem] = []
    prices = _prices(folder / "demo_prices.csv", problems)
    glasses, methods = glasses_and_methods(folder / "glassware_methods.csv", problems)
    return Pantry(
        raws=_raws(folder / "ingredients.csv", prices, problems),
        targets=_targets(folder / "target_families.csv", problems),
        glasses=glasses,
        methods=methods,
        measures=measures(folder / "measures.csv", problems),
        ices=ices(folder / "ice.csv", problems),
        vessels=vessels(folder / "vessels.csv", problems),
        problems=tuple(problems),
    )


def _prices(path: Path, problems: list[CellProblem]) -> Mapping[str, Price]:
    prices: dict[str, Price] = {}
    columns = ("slug", "typical_price_per_unit", "price_unit", "currency", "status")
    for row in read_table(path, columns, problems, own_key="slug"):
        per_unit = row.needed_number("typical_price_per_unit")
        unit = row.one_of("price_unit", ("l", "kg"))
        row.one_of("currency", ("EUR",))
        if row.is_good:
            prices[row.text("slug")] = Price(per_unit, unit, PRICE_DATE, PRICE_NOTE)
    return prices


def _raws(path: Path, prices: Mapping[str, Price], problems: list[CellProblem]) -> tuple[RawIngredient, ...]:
    raws: list[RawIngredient] = []
    for row in read_table(path, _INGREDIENT_COLUMNS, problems, own_key="slug"):
        raw = _raw(row, prices.get(row.text("slug")))
        if raw is not None and row.is_good:
            raws.append(raw)
    return tuple(raws)


def _raw(row: TableRow, price: Price | None) -> RawIngredient | None:
    parts = _composition(row)
    if parts is None:
        return None
    category, form = row.name("category"), row.one_of("form", FORMS)
    house_days = row.whole("shelf_life_days")
    return RawIngredient(
        id=0,
        slug=row.text("slug"),
        name=row.name("name"),
        category=category,
        form=form,
        composition=parts,
        density_g_per_ml=row.number("density_kg_per_l", high=25.0),
        strength_pct_vol=row.number("abv_pct_vol", high=100.0),
        co2_g_per_l=row.number("co2_g_per_l", high=50.0),
        bitterness=row.number("bitterness_0_10", high=10.0),
        strong_cation_mmol_per_100g=_strong_cation(row),
        other_acid_name=row.text("other_acid_name"),
        ph_model=row.text("ph_model"),
        typical_ph_low=row.number("typical_pH_low", high=16.0),
        typical_ph_high=row.number("typical_pH_high", high=16.0),
        titratable_acidity_pct=row.number("titratable_acidity_citric_g_per_100g", high=200.0),
        soluble_solids_pct=row.number("soluble_solids_degbx", high=100.0),
        sugar_uncertainty_pct=row.number("sugar_rel_uncertainty_pct", high=100.0),
        acid_uncertainty_pct=row.number("acid_rel_uncertainty_pct", high=100.0),
        allergens=_allergens(row),
        cautions=row.keys("caution_key"),
        kept_at=kept_at(row.text("slug"), category, form, house_days),
        drop_ml=row.number("drop_ml", high=10.0),
        dash_ml=row.number("dash_ml", high=10.0),
        piece_g=row.number("piece_weight_g"),
        edible_yield=row.number("edible_yield_g_per_g", high=1.0),
        edible_yield_basis=row.text("edible_yield_basis"),
        season_months=row.text("season_months"),
        house_days=house_days,
        prices=() if price is None else (price,),
        vegan=row.text("vegan"),
        vegetarian=row.text("vegetarian"),
        foams=row.is_yes("foams"),
        source=row.text("source"),
        source_kind=row.text("source_kind"),
        from_memory_fields=row.text("from_memory_fields"),
        note=row.text("note"),
    )


def _composition(row: TableRow) -> tuple[float | None, ...] | None:
    parts = [row.number(component.pantry_column, high=100.0) for component in TABLE]
    insoluble_g = row.number("insoluble_solids_g_per_100g", high=100.0)
    is_complete = row.one_of("composition_complete", ("yes", "no")) == "yes"
    # A dried leaf whose row is blank for want of an analysis still says here that it holds no alcohol.
    if row.one_of("contains_alcohol", ("yes", "no", "trace")) == "no" and parts[ETHANOL] is None:
        parts[ETHANOL] = 0.0
    if not row.is_good:
        return None
    try:
        return composition(parts[:COMPONENT_COUNT], insoluble_g, is_complete)
    except CompositionError as problem:
        row.refuse("composition_complete", str(problem))
        return None


def _strong_cation(row: TableRow) -> float | None:
    """Strong cations in mmol per 100 g: potassium where the acids and it alone give the pH, else the fitted cation."""
    model = row.one_of("ph_model", ("potassium", "fitted", "none"))
    if model == "fitted":
        return row.number("buffer_cation_meq_per_100g")
    potassium_mg = row.number("potassium_mg_per_100g", high=1e5) if model == "potassium" else None
    return None if potassium_mg is None else potassium_mg / POTASSIUM_MG_PER_MMOL


def _allergens(row: TableRow) -> tuple[str, ...]:
    """The allergen keys; a blank is unknown, and only the word *none* means none."""
    keys = row.keys("allergens") or (UNKNOWN,)
    return () if keys == ("none",) else keys


_COLD_CATEGORIES = frozenset({"wine-based", "beer-cider", "juice-fresh", "fruit", "vegetable", "water-mixer"})
_COLD_WHEN_SHORT_LIVED = frozenset(
    {"dairy-egg", "herb-spice-tea-coffee", "sugar-syrup", "nut-seed-cereal", "fat-oil", "garnish-other"}
)
_SHORT_LIFE_DAYS = 60
_KEPT_AT = {
    "ice": KeptAt.FREEZER,
    "water-still": KeptAt.ROOM,
    "tamarind-pulp": KeptAt.ROOM,
    "coffee-ground": KeptAt.ROOM,
    "cream-liqueur-17": KeptAt.FRIDGE,
    "advocaat-15": KeptAt.FRIDGE,
    "pectinase-liquid": KeptAt.FRIDGE,
    "chitosan-solution": KeptAt.FRIDGE,
}


def kept_at(slug: str, category: str, form: str, house_days: int | None) -> KeptAt:
    """Where a bar keeps such an ingredient (common practice, no source): wine, juice, produce and mixers in the fridge,
    and what is alive for at most 60 days once open; spirits, liqueurs and dry goods in the room."""
    if slug in _KEPT_AT:
        return _KEPT_AT[slug]
    is_short_lived = house_days is not None and house_days <= _SHORT_LIFE_DAYS and form != "powder"
    is_cold = category in _COLD_CATEGORIES or (category in _COLD_WHEN_SHORT_LIVED and is_short_lived)
    return KeptAt.FRIDGE if is_cold else KeptAt.ROOM


def _targets(path: Path, problems: list[CellProblem]) -> tuple[Target, ...]:
    families: dict[str, list[Aim]] = {}
    columns = ("family", "axis", "low", "ideal", "high", "unit", "kind", "source", "note")
    for row in read_table(path, columns, problems):
        aim = _aim(row)
        family = row.name("family")
        if row.is_good:
            families.setdefault(family, []).append(aim)
    return tuple(Target(id=0, name=name, aims=tuple(aims)) for name, aims in families.items())


def _aim(row: TableRow) -> Aim:
    low, ideal, high = (row.needed_number(column, low=-1e4) for column in ("low", "ideal", "high"))
    if not low <= ideal <= high:
        row.refuse("ideal", f"expected low ≤ ideal ≤ high, found {low:g}, {ideal:g}, {high:g}")
    return Aim(
        row.one_of("axis", READING_KEYS),
        low,
        ideal,
        high,
        is_gate=row.one_of("kind", ("axis", "gate")) == "gate",
        source=row.text("source"),
        note=row.text("note"),
    )
