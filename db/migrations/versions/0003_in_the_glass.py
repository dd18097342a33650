"""Columns and tables of the glass: methods as heat, ice, vessels, weighings, swaps, batches, and the steps at the bar.

A house book that was there before gets the usual ices and vessels, and its methods and ingredients of the pantry, known
by slug, what the pantry says of them. The same goes for the rows in its journal, so that history leads to the tables.
"""

import json
from collections.abc import Mapping, Sequence

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

UP_TO_A_MILLION = (0.0, 1000000.0)
TO_A_BILLION = (0.0, 1000000000.0)
ID = (1, 9007199254740991)
TO_A_MILLION = (0, 1000000)
NUMBER_OR_NONE = (0, 9007199254740991)
PERCENT = (0.0, 10000.0)
ACIDITY = (-2.0, 16.0)
BRIX = (-100.0, 200.0)
CELSIUS = (-273.15, 1000.0)
GAIN = (0.0, 1.0)
HOUSE_SCALE = (0.0, 100.0)
ANY_READING = (-1000000000000000.0, 1000000000000000.0)
FLAGS = (0, 9223372036854775807)
PLACE = (-1000000000000.0, 1000000000000.0)
AMOUNT_NUMBER = (0.0, 1000000000000.0)
GRAMS_IN_100 = (0.0, 101.0)
GRAMS_PER_MILLILITRE = (0.0, 25.0)
GRAMS_PER_LITRE = (0.0, 1000.0)
MILLIMOLE_IN_100_GRAMS = (-100000.0, 100000.0)
SHARE = (0.0, 10.0)
OFFSET = (-1000000.0, 1000000.0)
KEPT_AT = ("freezer", "fridge", "room", "ice_well")
PRODUCE = ("add", "infuse")
LINES = (*PRODUCE, "rinse", "top", "garnish")
MEASURED = (*LINES, "take")
EVAPORATING = ("heat", "reduce", "dry")
WORKING = (
    "blend", "muddle", "rest", "note", "infuse", "wash", "strain", "heat", "reduce", "dry", "ferment", "adjust",
    "measure", "chill", "bar_strain", "smoke", "carbonate",
)  # fmt: skip
KINDS = tuple(dict.fromkeys((*MEASURED, *WORKING)))
BASES = (
    "absolute", "percent_of_vessel", "percent_of_lines", "parts", "to_volume", "to_mass", "to_wash_line",
)  # fmt: skip
TABLES = (
    "settings", "raw", "build", "step", "leftover", "target", "glass", "method", "measure", "making", "ice", "vessel",
    "weighing", "calibration",
)  # fmt: skip
COMPONENTS = (
    "water", "ethanol", "sucrose", "glucose", "fructose", "lactose", "maltose", "other_carbohydrate", "polyol",
    "citric", "malic", "tartaric", "lactic", "acetic", "ascorbic", "phosphoric", "other_acid", "nacl", "other_solids",
    "protein", "fat", "fibre", "insoluble", "co2",
)  # fmt: skip
READINGS = (
    "strength", "sweetness", "acidity", "bitterness", "fizz", "length", "chill", "salt", "dilution", "density",
    "brix_true", "brix_shown", "sugar_acid_ratio", "ethanol", "energy_kcal", "energy_kj", "cost", "mass", "ph",
    "water_activity", "freezing", "length_served",
)  # fmt: skip
ALWAYS = {
    "item_id": LINES, "amount_number": MEASURED, "amount_unit": MEASURED, "amount_basis": MEASURED,
    "amount_typed": MEASURED, "amount_heft": MEASURED, "weight": PRODUCE, "in_liquid": ("garnish",),
    "wash_kind": ("wash",), "way": ("strain",), "ethanol_way": EVAPORATING, "ferment_kind": ("ferment",),
    "goal": ("adjust",), "per": ("adjust",), "quantity": ("measure",), "measured_value": ("measure",),
    "instrument": ("measure",), "gain": ("measure",), "method": ("chill",), "ice": ("chill",),
    "count_unit": ("chill",), "ice_state": ("chill",), "chill_by": ("chill",), "bar_strain_way": ("bar_strain",),
    "fresh_ice": ("bar_strain",), "vessel": ("carbonate",), "is_layer": ("top",), "garnish_way": ("garnish",),
}  # fmt: skip
MAYBE = {
    "temperature_c": (*PRODUCE, "rinse", "top"), "bought_g": PRODUCE, "duration_s": WORKING,
    "temperature_low_c": WORKING, "temperature_high_c": WORKING, "water_given_pct": ("infuse",),
    "sugars_given_pct": ("infuse",), "acids_given_pct": ("infuse",), "salt_given_pct": ("infuse",),
    "solids_given_pct": ("infuse",), "given_spread_pct": ("infuse",), "fat_held_pct": ("wash",),
    "protein_held_pct": ("wash",), "acids_held_pct": ("wash",), "weighed_g": ("strain",), "expected_pct": ("strain",),
    "low_pct": ("strain",), "high_pct": ("strain",), "leftover_weighed_g": ("strain",), "measured_brix": ("strain",),
    "measured_acidity_pct": ("strain",), "leftover_id": ("strain", "take"), "final_g": (*EVAPORATING, "chill"),
    "final_pct": EVAPORATING, "final_brix": (*EVAPORATING, "ferment"), "ethanol_kept_pct": EVAPORATING,
    "gas_lost_g": ("ferment",), "final_acidity_pct": ("ferment",), "final_ph": ("ferment",),
    "discard_above_ph": ("ferment",), "discard_on_day": ("ferment",), "goal_value": ("adjust",),
    "like_item_id": ("adjust",), "uncertainty": ("measure",), "ice_g": ("chill",), "count": ("chill",),
    "melted_g": ("chill",), "final_ml": ("chill",), "ice_c": ("chill",), "end_c": ("chill",),
    "vessel_c": ("chill", "bar_strain"),
    "held_back_ml": ("bar_strain",), "fresh_ice_g": ("bar_strain",), "film_ml": ("rinse",),
    "over_kpa": ("carbonate",), "at_c": ("carbonate",), "co2_g_per_l": ("carbonate",), "reached_pct": ("carbonate",),
    "fills": ("carbonate",), "warmest_c": ("carbonate",), "opening_loss_pct": ("carbonate",), "stays_g": ("garnish",),
}  # fmt: skip
PRACTICE = "common practice, no source"
CAPACITIES = "capacities of catalogues and usual fill, from memory; common practice, no source"
MADE_FOR_GAS = "rating from memory: a bottle made for gas; use the rating that its maker states"
HEAT = (
    "kind", "published", "approach", "tau_s", "core", "ice_g_per_ml", "surface_water_pct", "vessel_j_per_k",
    "vessel_is_cold", "kept_at",
)  # fmt: skip
METHODS = {
    "build": ("in_glass", "", 0.4, 20.0, 0.5, 2.0, 0.0, 100.0, False, None),
    "build-long": ("in_glass", "", 0.6, 11.0, 0.5, 2.0, 0.0, 40.0, False, None),
    "stir": ("on_ice", "stirred", 0.9, 13.0, 0.5, 2.0, 0.0, 100.0, True, None),
    "shake": ("on_ice", "shaken", 1.0, 4.5, 1.0, 2.0, 3.0, 100.0, True, None),
    "shake-hard-short": ("on_ice", "", 1.0, 4.5, 1.0, 2.0, 5.0, 100.0, True, None),
    "dry-shake": ("no_ice", "", 0.0, 4.5, 1.0, 0.0, 0.0, 100.0, True, None),
    "shake-foam": ("on_ice", "", 1.0, 4.5, 1.0, 2.0, 3.0, 100.0, False, None),
    "whip-shake": ("all_in", "", 1.0, 4.5, 1.0, 2.0, 0.0, 100.0, True, None),
    "throw": ("on_ice", "", 0.92, 10.0, 1.0, 2.0, 0.0, 100.0, True, None),
    "roll": ("on_ice", "", 0.5, 10.0, 1.0, 2.0, 0.0, 100.0, True, None),
    "swizzle": ("in_glass", "", 0.95, 6.7, 1.0, 2.0, 0.0, 60.0, False, None),
    "blend": ("all_in", "", 1.0, 4.5, 1.0, 2.0, 0.0, 100.0, True, None),
    "freezer-batch": ("cold_store", "", 1.0, 13.0, 1.0, 0.0, 0.0, 0.0, True, "freezer"),
    "fridge-batch": ("cold_store", "", 1.0, 13.0, 1.0, 0.0, 0.0, 0.0, True, "fridge"),
    "carbonate": ("other", "", 0.0, 13.0, 1.0, 0.0, 0.0, 0.0, True, None),
    "soda-siphon": ("other", "", 0.0, 13.0, 1.0, 0.0, 0.0, 0.0, True, None),
    "top-up": ("other", "", 0.0, 13.0, 1.0, 0.0, 0.0, 0.0, True, None),
    "hot-build": ("hot", "", 1.0, 13.0, 1.0, 0.0, 0.0, 120.0, False, None),
    "rinse": ("other", "", 0.0, 13.0, 1.0, 0.0, 0.0, 0.0, True, None),
}  # fmt: skip
ICE_COLUMNS = (
    "slug", "name", "pace", "temperature_c", "surface_water_pct", "wet_pct", "edge_mm", "piece_g", "note",
)  # fmt: skip
ICES = (
    ("cubes", "Cubes", 1.0, 0.0, None, 5.0, 30.0, 25.0, "the ice that every pace is against"),
    ("cube-50", "50 mm cube", 0.7, 0.0, None, 5.0, 50.0, 115.0, ""),
    ("spear", "Spear", 0.7, 0.0, None, 5.0, 35.0, 110.0, "for a slim tall glass"),
    ("block", "Block", 0.4, 0.0, None, 5.0, 90.0, None, "large, for bowls and stirring glasses"),
    ("cracked", "Cracked", 1.5, 0.0, None, 6.0, 15.0, None, "cubes broken with a spoon"),
    ("crushed", "Crushed", 3.0, 0.0, None, 8.0, 5.0, None, "drain it before it meets the drink"),
    ("pebble", "Pebble", 2.5, 0.0, None, 8.0, 10.0, None, ""),
    ("machine-cubes", "Machine cubes", 1.5, 0.0, 5.0, 5.0, 20.0, 7.0, "small or hollow, wet as they come"),
)  # fmt: skip
VESSEL_COLUMNS = ("slug", "name", "volume_ml", "fill_ml", "rated_kpa", "note")
VESSELS = (
    ("crown-bottle-200", "Crown-cap bottle, 200 ml", 212.0, 180.0, 600.0, MADE_FOR_GAS),
    ("swing-top-200", "Swing-top bottle, 200 ml", 212.0, 180.0, 600.0, MADE_FOR_GAS),
    ("crown-bottle-330", "Crown-cap bottle, 330 ml", 345.0, 310.0, 600.0, MADE_FOR_GAS),
    ("crown-bottle-500", "Crown-cap bottle, 500 ml", 520.0, 475.0, 600.0, MADE_FOR_GAS),
    ("swing-top-500", "Swing-top bottle, 500 ml", 520.0, 475.0, 600.0, MADE_FOR_GAS),
    ("swing-top-750", "Swing-top bottle, 750 ml", 775.0, 715.0, 600.0, MADE_FOR_GAS),
    ("sparkling-wine-bottle-750", "Sparkling-wine bottle, 750 ml", 775.0, 735.0, 600.0, MADE_FOR_GAS),
    ("still-wine-bottle-750", "Still-wine bottle, 750 ml", 770.0, 750.0, None, "not for pressure"),
    ("spirit-bottle-700", "Spirit bottle, 700 ml", 730.0, 700.0, None, "not for pressure"),
    ("spirit-bottle-750", "Spirit bottle, 750 ml", 780.0, 750.0, None, "not for pressure"),
    ("jar-500", "Jar with lid, 500 ml", 530.0, 480.0, None, "not for pressure"),
    ("jar-1000", "Jar with lid, 1 l", 1050.0, 950.0, None, "not for pressure"),
    ("keg-19", "Keg, 19 l", 19500.0, 18000.0, 900.0, "rating from memory: its plate counts; relief valve only"),
    ("siphon-1000", "Siphon, 1 l", 1250.0, 1000.0, 1200.0, "rating from memory: fill to the mark; relief valve only"),
    ("jug-2000", "Jug, stainless steel, 2 l", 2000.0, 1800.0, None, "open: not for pressure"),
)  # fmt: skip
FOAMING = ("egg-white", "aquafaba", "pineapple-juice")
FILLED: Mapping[str, Mapping[str, str]] = {
    "settings": {
        "foam_allowance_ml": "5.0", "egg_foam_pct": "17.5", "glass_w_per_k": "0.4", "glass_j_per_k": "80.0",
        "rinse_film_ml": "1.5",
        "scant_ml": "2.5", "heavy_ml": "2.5", "wording_law": "'strictest'", "warmest_c": "25.0",
        "salt_batch_pct": "75.0", "bitters_batch_pct": "60.0",
    },
    "method": {
        "kind": "'on_ice'", "published": "''", "approach": "0.9", "tau_s": "13.0", "core": "1.0", "ice_g_per_ml": "2.0",
        "surface_water_pct": "0.0", "vessel_j_per_k": "0.0", "vessel_is_cold": "TRUE",
    },
    "raw": {"foams": "FALSE"},
    "build": {},
    "step": {
        "amount_heft": "CASE WHEN amount_number IS NOT NULL THEN '' END",
        "ice_state": "CASE WHEN kind = 'chill' THEN 'usual' END",
        "chill_by": "CASE WHEN kind = 'chill' THEN 'usual' END",
        "is_layer": "CASE WHEN kind = 'top' THEN FALSE END",
        "garnish_way": "CASE WHEN kind = 'garnish' THEN 'garnish' END",
    },
    "journal_change": {},
}  # fmt: skip
"""What new columns hold in rows that were there before; the others are NULL."""


class _NewTable:
    """Gathers the columns and rules of a table. Every constraint has a name: without one no later step can drop it."""

    def __init__(self, name: str, *key: str) -> None:
        self.name = name
        self.parts: list[sa.schema.SchemaItem] = [sa.PrimaryKeyConstraint(*key, name=op.f(f"pk_{name}"))]
        self.indexes: list[tuple[str, tuple[str, ...]]] = []

    def text(self, name: str, *, null: bool = False, to: str = "", words: Sequence[str] = ()) -> None:
        self._column(name, sa.String(), null, to)
        if words:
            self.check(f"{name}_is_known", f"{name} IN ({_listed(words)})")

    def texts(self, *names: str, null: bool = False) -> None:
        for name in names:
            self.text(name, null=null)

    def reals(self, limits: tuple[float, float], *names: str, null: bool = False) -> None:
        for name in names:
            self._column(name, sa.Double(), null)
            self.check(f"{name}_in_range", f"{name} BETWEEN {limits[0]!r} AND {limits[1]!r}")

    def whole(
        self,
        name: str,
        limits: tuple[int, int],
        *,
        null: bool = False,
        to: str = "",
        on_delete: str | None = None,
    ) -> None:
        self._column(name, sa.Integer(), null, to, on_delete)
        self.check(f"{name}_in_range", f"{name} BETWEEN {limits[0]!r} AND {limits[1]!r}")

    def truths(self, *names: str, null: bool = False) -> None:
        for name in names:
            self._column(name, sa.Boolean(), null)
            self.check(f"{name}_in_range", f"{name} IN (FALSE, TRUE)")

    def octets(self, name: str) -> None:
        self._column(name, sa.LargeBinary(), False)

    def check(self, name: str, rule: str) -> None:
        self.parts.append(sa.CheckConstraint(rule, name=op.f(f"ck_{self.name}_{name}")))

    def index(self, name: str, *columns: str) -> None:
        self.indexes.append((name, columns))

    def make(self) -> None:
        self._create(has_rowid=True)
        self._index()

    def make_of_old(self, *, has_rowid: bool = True) -> None:
        """Takes the place of the table of that name, with its rows in their order.

        The old table is renamed without a change of the references to it (they mean the new one), and foreign keys are
        off, so that dropping it touches no other table.
        """
        old = f"old_{self.name}"
        for (name,) in _indexes_of(self.name):
            op.drop_index(op.f(name), self.name)
        op.execute(f"ALTER TABLE {self.name} RENAME TO {old}")
        self._create(has_rowid=has_rowid)
        kept, filled = _columns_of(old), FILLED[self.name]
        into = ", ".join((*kept, *filled))
        values = ", ".join((*kept, *filled.values()))
        order = "rowid" if has_rowid else "number, position"
        op.execute(f"INSERT INTO {self.name} ({into}) SELECT {values} FROM {old} ORDER BY {order}")
        op.execute(f"DROP TABLE {old}")
        self._index()

    def _create(self, *, has_rowid: bool) -> None:
        op.create_table(self.name, *self.parts, sqlite_with_rowid=has_rowid)

    def _index(self) -> None:
        for name, columns in self.indexes:
            op.create_index(op.f(name), self.name, list(columns))

    def _column(
        self, name: str, kind: sa.types.TypeEngine, null: bool, to: str = "", on_delete: str | None = None
    ) -> None:
        self.parts.append(sa.Column(name, kind, nullable=null, autoincrement=False))
        if to:
            self.parts.append(
                sa.ForeignKeyConstraint(
                    [name],
                    [to],
                    name=op.f(f"fk_{self.name}_{name}_{to.partition('.')[0]}"),
                    ondelete=on_delete,
                    deferrable=True,
                    initially="DEFERRED",
                )
            )


def _listed(words: Sequence[str]) -> str:
    return ", ".join(f"'{word}'" for word in words)


def _indexes_of(table: str) -> Sequence[sa.Row[tuple[str]]]:
    query = sa.text(
        "SELECT name FROM sqlite_master WHERE type = 'index' AND tbl_name = :of AND sql IS NOT NULL"
    )
    return op.get_bind().execute(query, {"of": table}).all()


def _columns_of(table: str) -> tuple[str, ...]:
    """The columns of a table of version 2: all of them are still there."""
    records = op.get_bind().exec_driver_sql(f"PRAGMA table_info({table})").all()
    return tuple(f'"{record[1]}"' for record in records)


def upgrade() -> None:
    op.execute("PRAGMA legacy_alter_table=ON")
    _rebuild_settings()
    _rebuild_method()
    _rebuild_raw()
    _rebuild_build()
    _rebuild_step()
    _rebuild_journal_change()
    op.execute("PRAGMA legacy_alter_table=OFF")
    _remake_result()
    _make_ice()
    _make_vessel()
    _make_weighing()
    _make_calibration()
    _make_settings_swap()
    _make_build_batch()
    bring_in_what_is_usual()


def _rebuild_settings() -> None:
    table = _NewTable("settings", "id")
    table.whole("id", TO_A_MILLION)
    table.text("joint_cost", words=("main", "mass", "value"))
    table.texts("house_name", "currency", "alcohol_units", "paper_size", "service_ends", "wording_law")
    table.truths("is_demo")
    table.reals(
        TO_A_BILLION, "oz_ml", "foam_allowance_ml", "glass_w_per_k", "glass_j_per_k", "rinse_film_ml", "scant_ml",
        "heavy_ml",
    )  # fmt: skip
    table.reals(CELSIUS, "freezer_c", "fridge_c", "room_c", "ice_well_c", "warmest_c")
    table.reals(
        PERCENT, "fizz_loss_pct", "wash_line_pct", "tax_pct", "wanted_pour_cost_pct", "egg_foam_pct",
        "salt_batch_pct", "bitters_batch_pct",
    )  # fmt: skip
    table.reals(TO_A_BILLION, "labour_per_hour", null=True)
    table.check("is_one_row", "id = 0")
    table.make_of_old()


def _rebuild_method() -> None:
    table = _NewTable("method", "slug")
    table.text("kind", words=("on_ice", "in_glass", "all_in", "no_ice", "cold_store", "hot", "other"))
    table.text("kept_at", null=True, words=KEPT_AT)
    table.texts("slug", "name", "ice", "published", "source", "source_kind", "note")
    table.reals(TO_A_BILLION, "ice_g", "time_low_s", "time_high_s", null=True)
    table.reals(PERCENT, "dilution_low_pct", "dilution_high_pct", "surface_water_pct")
    table.reals(CELSIUS, "end_low_c", "end_high_c")
    table.reals(SHARE, "approach", "core")
    table.reals(TO_A_BILLION, "tau_s", "vessel_j_per_k")
    table.reals(UP_TO_A_MILLION, "ice_g_per_ml")
    table.truths("vessel_is_cold")
    table.check("end_in_order", "end_low_c <= end_high_c")
    table.check("dilution_in_order", "dilution_low_pct <= dilution_high_pct")
    table.make_of_old()


def _rebuild_raw() -> None:
    table = _NewTable("raw", "id")
    table.whole("id", ID, to="item.id")
    table.text("kept_at", words=KEPT_AT)
    table.whole("house_days", TO_A_MILLION, null=True)
    table.texts(
        "slug", "name", "category", "form", "other_acid_name", "ph_model", "edible_yield_basis", "season_months",
        "vegan", "vegetarian", "source", "source_kind", "from_memory_fields", "note",
    )  # fmt: skip
    table.reals(GRAMS_IN_100, *COMPONENTS, null=True)
    table.reals(GRAMS_PER_MILLILITRE, "density_g_per_ml", null=True)
    table.reals(
        PERCENT, "strength_pct_vol", "titratable_acidity_pct", "soluble_solids_pct", "sugar_uncertainty_pct",
        "acid_uncertainty_pct", null=True,
    )  # fmt: skip
    table.reals(GRAMS_PER_LITRE, "co2_g_per_l", null=True)
    table.reals(HOUSE_SCALE, "bitterness", null=True)
    table.reals(MILLIMOLE_IN_100_GRAMS, "strong_cation_mmol_per_100g", null=True)
    table.reals(ACIDITY, "typical_ph_low", "typical_ph_high", null=True)
    table.reals(TO_A_BILLION, "drop_ml", "dash_ml", "piece_g", null=True)
    table.reals(SHARE, "edible_yield", null=True)
    table.truths("foams")
    table.make_of_old()


def _rebuild_build() -> None:
    table = _NewTable("build", "id")
    table.whole("id", ID, to="item.id")
    table.text("kind", words=("drink", "part"))
    table.text("glass", null=True, to="glass.slug")
    table.whole("target_id", ID, null=True, to="target.id")
    table.whole("parent_id", ID, null=True, to="build.id")
    table.text("kept_at", words=KEPT_AT)
    table.whole("house_days", TO_A_MILLION, null=True)
    table.whole("acts_as_id", ID, null=True, to="raw.id")
    table.texts("name", "note", "keeps_by", "tastes_like")
    table.texts("ice", null=True)
    table.reals(
        TO_A_BILLION, "ice_g", "wash_line_ml", "drop_ml", "dash_ml", "piece_g", "pour_ml", "value_per_kg", "price",
        "labour_min", "foam_ml", null=True,
    )  # fmt: skip
    table.truths("is_tried")
    table.reals(HOUSE_SCALE, "bitterness", null=True)
    table.reals(PERCENT, "waste_pct", "fizz_loss_pct", null=True)
    table.index("ix_build_acts_as_id", "acts_as_id")
    table.index("ix_build_parent_id", "parent_id")
    table.index("ix_build_target_id", "target_id")
    table.make_of_old()


def _rebuild_step() -> None:
    table = _NewTable("step", "id")
    table.whole("id", ID)
    table.text("kind", words=KINDS)
    table.whole("build_id", ID, to="build.id")
    table.whole("item_id", ID, null=True, to="item.id")
    table.text("amount_basis", null=True, words=BASES)
    table.text("amount_heft", null=True, words=("", "scant", "heavy"))
    table.text("weight", null=True, words=("used", "trimmed", "bought"))
    table.text("garnish_way", null=True, words=("garnish", "rim", "express"))
    table.text("wash_kind", null=True, words=("fat", "milk"))
    table.whole("leftover_id", ID, null=True, to="leftover.id")
    table.text("ferment_kind", null=True, words=("lactic", "yeast"))
    table.text("goal", null=True, words=("brix", "acidity", "strength", "salt"))
    table.text("per", null=True, words=("mass", "volume"))
    table.whole("like_item_id", ID, null=True, to="item.id")
    table.text(
        "quantity", null=True, words=("mass", "volume", "density", "brix", "ph", "acidity", "strength"),
    )  # fmt: skip
    table.text("method", null=True, to="method.slug")
    table.text("ice_state", null=True, words=("usual", "dry", "wet"))
    table.text("chill_by", null=True, words=("usual", "balance", "published"))
    table.text("bar_strain_way", null=True, words=("strain", "fine", "unstrained"))
    table.reals(PLACE, "place")
    table.texts("words")
    table.truths("left_out")
    table.reals(AMOUNT_NUMBER, "amount_number", "goal_value", null=True)
    table.texts(
        "amount_unit", "amount_typed", "way", "ethanol_way", "instrument", "ice", "count_unit", "fresh_ice",
        "vessel", null=True,
    )  # fmt: skip
    table.reals(
        CELSIUS, "temperature_c", "temperature_low_c", "temperature_high_c", "ice_c", "vessel_c", "end_c", "at_c",
        "warmest_c", null=True,
    )  # fmt: skip
    table.reals(
        TO_A_BILLION, "bought_g", "film_ml", "stays_g", "duration_s", "weighed_g", "leftover_weighed_g", "final_g",
        "gas_lost_g", "discard_on_day", "uncertainty", "ice_g", "count", "melted_g", "final_ml", "held_back_ml",
        "fresh_ice_g", "fills", null=True,
    )  # fmt: skip
    table.truths("in_liquid", "is_layer", null=True)
    table.reals(
        PERCENT, "water_given_pct", "sugars_given_pct", "acids_given_pct", "salt_given_pct", "solids_given_pct",
        "given_spread_pct", "fat_held_pct", "protein_held_pct", "acids_held_pct", "expected_pct", "low_pct",
        "high_pct", "measured_acidity_pct", "final_pct", "ethanol_kept_pct", "final_acidity_pct", "reached_pct",
        "opening_loss_pct", null=True,
    )  # fmt: skip
    table.reals(BRIX, "measured_brix", "final_brix", null=True)
    table.reals(ACIDITY, "final_ph", "discard_above_ph", null=True)
    table.reals(ANY_READING, "measured_value", null=True)
    table.reals(GAIN, "gain", null=True)
    table.reals(UP_TO_A_MILLION, "over_kpa", null=True)
    table.reals(GRAMS_PER_LITRE, "co2_g_per_l", null=True)
    table.check("has_one_goal", "kind <> 'adjust' OR (goal_value IS NULL) <> (like_item_id IS NULL)")
    table.index("ix_step_build_id", "build_id")
    table.index("ix_step_item_id", "item_id")
    table.index("ix_step_leftover_id", "leftover_id")
    table.index("ix_step_like_item_id", "like_item_id")
    for column, kinds in ALWAYS.items():
        table.check(f"{column}_of_kind", f"({column} IS NOT NULL) = (kind IN ({_listed(kinds)}))")
    for column, kinds in MAYBE.items():
        table.check(f"{column}_of_kind", f"{column} IS NULL OR kind IN ({_listed(kinds)})")
    table.make_of_old()


def _rebuild_journal_change() -> None:
    table = _NewTable("journal_change", "number", "position")
    table.whole("number", ID, to="journal.number", on_delete="CASCADE")
    table.whole("position", NUMBER_OR_NONE)
    table.text("table_name", words=TABLES)
    table.whole("build_id", ID, null=True)
    table.texts("row_key")
    table.texts("row_before", "row_after", null=True)
    table.check("says_something", "row_before IS NOT NULL OR row_after IS NOT NULL")
    table.index("ix_journal_change_build_id", "build_id")
    table.make_of_old(has_rowid=False)


def _make_ice() -> None:
    table = _NewTable("ice", "slug")
    table.texts("slug", "name", "source", "source_kind", "note")
    table.reals(UP_TO_A_MILLION, "pace")
    table.reals(CELSIUS, "temperature_c")
    table.reals(PERCENT, "surface_water_pct", null=True)
    table.reals(PERCENT, "wet_pct")
    table.reals(TO_A_BILLION, "edge_mm")
    table.reals(TO_A_BILLION, "piece_g", null=True)
    table.make()


def _make_vessel() -> None:
    table = _NewTable("vessel", "slug")
    table.texts("slug", "name", "source", "source_kind", "note")
    table.reals(TO_A_BILLION, "volume_ml")
    table.reals(TO_A_BILLION, "fill_ml", null=True)
    table.reals(UP_TO_A_MILLION, "rated_kpa", null=True)
    table.make()


def _make_weighing() -> None:
    table = _NewTable("weighing", "id")
    table.whole("id", ID)
    table.text("method", to="method.slug")
    table.text("ice", to="ice.slug")
    table.whole("build_id", ID, null=True, to="build.id")
    table.whole("step_id", ID, null=True, to="step.id")
    table.texts("date", "note")
    table.reals(TO_A_BILLION, *COMPONENTS, null=True)
    table.reals(TO_A_BILLION, "seconds", null=True)
    table.reals(CELSIUS, "liquid_c", "ice_c", "vessel_c")
    table.reals(TO_A_BILLION, "ice_g", "surface_water_g", "vessel_j_per_k", "melted_g")
    table.index("ix_weighing_build_id", "build_id")
    table.index("ix_weighing_ice", "ice")
    table.index("ix_weighing_method", "method")
    table.index("ix_weighing_step_id", "step_id")
    table.make()


def _make_calibration() -> None:
    table = _NewTable("calibration", "slug")
    table.text("method", to="method.slug")
    table.text("ice", to="ice.slug")
    table.whole("weighings", TO_A_MILLION)
    table.texts("slug", "date")
    table.reals(TO_A_BILLION, "tau_s", "left_ml_per_100_ml", null=True)
    table.reals(PERCENT, "surface_water_pct", null=True)
    table.reals(UP_TO_A_MILLION, "factor")
    table.reals(OFFSET, "offset")
    table.index("ix_calibration_ice", "ice")
    table.index("ix_calibration_method", "method")
    table.make()


def _make_settings_swap() -> None:
    table = _NewTable("settings_swap", "settings_id", "position")
    table.whole("settings_id", TO_A_MILLION, to="settings.id")
    table.whole("position", TO_A_MILLION)
    table.whole("from_id", ID, to="item.id")
    table.whole("to_id", ID, null=True, to="item.id")
    table.reals(UP_TO_A_MILLION, "factor")
    table.index("ix_settings_swap_from_id", "from_id")
    table.index("ix_settings_swap_to_id", "to_id")
    table.make()


def _make_build_batch() -> None:
    table = _NewTable("build_batch", "build_id")
    table.whole("build_id", ID, to="build.id")
    table.text("service", words=("freezer", "fridge", "tap", "carbonated", "on_ice"))
    table.reals(TO_A_BILLION, "serves", "round_g")
    table.texts("vessel")
    table.reals(TO_A_BILLION, "vessel_count", null=True)
    table.truths("citrus_at_service", "fizz_at_service")
    table.reals(PERCENT, "salt_pct", "bitters_pct", null=True)
    table.make()


def _remake_result() -> None:
    """Stored readings are only kept to open faster: those of an older engine are of no use."""
    op.drop_table("result")
    table = _NewTable("result", "item_id")
    table.whole("item_id", ID, to="build.id", on_delete="CASCADE")
    table.whole("journal_number", NUMBER_OR_NONE)
    table.text("stamp")
    table.whole("flags", FLAGS)
    for end in ("", "_more"):
        table.reals(ANY_READING, *(f"{reading}{end}" for reading in READINGS), null=True)
    table.octets("exact")
    table.make()


def bring_in_what_is_usual() -> None:
    """Only where there is a house already: a new one brings its own."""
    bind = op.get_bind()
    if bind.execute(sa.text("SELECT count(*) FROM settings")).scalar_one() == 0:
        return
    for slug, heat in METHODS.items():
        bind.execute(_update_of_method(), {**dict(zip(HEAT, heat, strict=True)), "slug": slug})
        _put_in_journal("method", slug, dict(zip(HEAT, heat, strict=True)))
    bind.execute(sa.text(f"UPDATE raw SET foams = TRUE WHERE slug IN ({_listed(FOAMING)})"))
    for slug in FOAMING:
        _put_in_journal("raw", slug, {"foams": True})
    _insert("ice", ICE_COLUMNS, ICES, PRACTICE)
    _insert("vessel", VESSEL_COLUMNS, VESSELS, CAPACITIES)


def _update_of_method() -> sa.TextClause:
    return sa.text(f"UPDATE method SET {', '.join(f'{name} = :{name}' for name in HEAT)} WHERE slug = :slug")


def _put_in_journal(table: str, slug: str, values: Mapping[str, object]) -> None:
    """Says in the rows that the journal keeps of something what the migration says in its table."""
    places = ", ".join(f"'$.{name}', json(:{name})" for name in values)
    for column in ("row_before", "row_after"):
        statement = sa.text(
            f"UPDATE journal_change SET {column} = json_set({column}, {places}) "
            f"WHERE table_name = '{table}' AND json_extract({column}, '$.slug') = :slug"
        )
        said = {name: json.dumps(value) for name, value in values.items()}
        op.get_bind().execute(statement, {**said, "slug": slug})


def _insert(table: str, columns: Sequence[str], rows: Sequence[Sequence[object]], source: str) -> None:
    names = (*columns, "source", "source_kind")
    marks = ", ".join(f":{name}" for name in names)
    statement = sa.text(f"INSERT INTO {table} ({', '.join(names)}) VALUES ({marks})")
    values = [dict(zip(names, (*row, source, "common-practice"), strict=True)) for row in rows]
    op.get_bind().execute(statement, values)
