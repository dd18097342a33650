"""All tables of the first version."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

TO_A_BILLION = (0.0, 1000000000.0)
ID = (1, 9007199254740991)
TO_A_MILLION = (0, 1000000)
NUMBER_OR_NONE = (0, 9007199254740991)
PERCENT = (0.0, 10000.0)
ACIDITY = (-2.0, 16.0)
CELSIUS = (-273.15, 1000.0)
HOUSE_SCALE = (0.0, 100.0)
GRAMS_PER_100_GRAMS = (0.0, 101.0)
GRAMS_PER_MILLILITRE = (0.0, 25.0)
GRAMS_PER_LITRE = (0.0, 1000.0)
MILLIMOLE_PER_100_GRAMS = (-100000.0, 100000.0)
SHARE = (0.0, 10.0)
ANY_READING = (-1000000000000000.0, 1000000000000000.0)
FLAGS = (0, 4611686018427387904)
PLACE = (-1000000000000.0, 1000000000000.0)
AMOUNT_NUMBER = (0.0, 1000000000000.0)
KEPT_AT = ("freezer", "fridge", "room", "ice_well")
LINES = ("add", "top", "garnish")
MEASURED = (*LINES, "take")
EVAPORATING = ("heat", "reduce", "dry")
WORKING = ("blend", "rest", "note", "strain", *EVAPORATING, "chill")
BASES = ("absolute", "percent_of_vessel", "percent_of_lines", "parts", "to_volume", "to_mass", "to_wash_line")
TABLES = ("settings", "raw", "build", "step", "leftover", "target", "glass", "method", "measure")
ALWAYS = {
    "item_id": LINES,
    "amount_number": MEASURED,
    "amount_unit": MEASURED,
    "amount_basis": MEASURED,
    "amount_typed": MEASURED,
    "in_liquid": ("garnish",),
    "method": ("chill",),
    "ice": ("chill",),
    "count_unit": ("chill",),
}
MAYBE = {
    "temperature_c": ("add", "top"),
    "duration_s": WORKING,
    "temperature_low_c": WORKING,
    "temperature_high_c": WORKING,
    "weighed_g": ("strain",),
    "expected_pct": ("strain",),
    "low_pct": ("strain",),
    "high_pct": ("strain",),
    "leftover_weighed_g": ("strain",),
    "leftover_id": ("strain", "take"),
    "final_g": ("heat", "reduce", "dry", "chill"),
    "final_pct": EVAPORATING,
    "ethanol_kept_pct": EVAPORATING,
    "ice_g": ("chill",),
    "count": ("chill",),
    "melted_g": ("chill",),
    "final_ml": ("chill",),
}
COMPONENTS = (
    "water",
    "ethanol",
    "sucrose",
    "glucose",
    "fructose",
    "lactose",
    "maltose",
    "other_carbohydrate",
    "polyol",
    "citric",
    "malic",
    "tartaric",
    "lactic",
    "acetic",
    "ascorbic",
    "phosphoric",
    "other_acid",
    "nacl",
    "other_solids",
    "protein",
    "fat",
    "fibre",
    "insoluble",
    "co2",
)
READINGS = (
    "strength",
    "sweetness",
    "acidity",
    "bitterness",
    "fizz",
    "length",
    "chill",
    "salt",
    "dilution",
    "density",
    "brix_true",
    "brix_shown",
    "sugar_acid_ratio",
    "ethanol",
    "energy_kcal",
    "energy_kj",
    "cost",
    "mass",
)


class _NewTable:
    """Gathers the columns and rules of a table. Every constraint has a name: without one no later step can drop it."""

    def __init__(self, name: str, *key: str) -> None:
        self.name = name
        self.parts: list[sa.schema.SchemaItem] = [sa.PrimaryKeyConstraint(*key, name=op.f(f"pk_{name}"))]
        self.indexes: list[tuple[str, tuple[str, ...]]] = []

    def text(self, name: str, *, null: bool = False, to: str = "", words: tuple[str, ...] = ()) -> None:
        self._column(name, sa.String(), null, to)
        if words:
            self.check(f"{name}_is_known", f"{name} IN ({_listed(words)})")

    def real(self, name: str, limits: tuple[float, float], *, null: bool = False) -> None:
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

    def truth(self, name: str, *, null: bool = False) -> None:
        self._column(name, sa.Boolean(), null)
        self.check(f"{name}_in_range", f"{name} IN (FALSE, TRUE)")

    def moment(self, name: str, *, null: bool = False) -> None:
        self._column(name, sa.DateTime(timezone=True), null)

    def octets(self, name: str) -> None:
        self._column(name, sa.LargeBinary(), False)

    def check(self, name: str, rule: str) -> None:
        self.parts.append(sa.CheckConstraint(rule, name=op.f(f"ck_{self.name}_{name}")))

    def index(self, name: str, *columns: str) -> None:
        self.indexes.append((name, columns))

    def make(self, *, has_rowid: bool = True) -> None:
        op.create_table(self.name, *self.parts, sqlite_with_rowid=has_rowid)
        for name, columns in self.indexes:
            op.create_index(op.f(name), self.name, list(columns))

    def _column(
        self, name: str, kind: sa.types.TypeEngine, null: bool, to: str = "", on_delete: str | None = None
    ) -> None:
        self.parts.append(sa.Column(name, kind, nullable=null, autoincrement=False))
        if to:
            target = to.partition(".")[0]
            self.parts.append(
                sa.ForeignKeyConstraint(
                    [name],
                    [to],
                    name=op.f(f"fk_{self.name}_{name}_{target}"),
                    ondelete=on_delete,
                    deferrable=True,
                    initially="DEFERRED",
                )
            )


def _listed(words: tuple[str, ...]) -> str:
    return ", ".join(f"'{word}'" for word in words)


def upgrade() -> None:
    _make_glass()
    _make_item()
    _make_journal()
    _make_measure()
    _make_meta()
    _make_method()
    _make_settings()
    _make_target()
    _make_build()
    _make_journal_change()
    _make_raw()
    _make_target_aim()
    _make_build_allergen()
    _make_build_sign()
    _make_leftover()
    _make_raw_allergen()
    _make_raw_caution()
    _make_raw_price()
    _make_result()
    _make_step()
    _make_step_base()


def _make_glass() -> None:
    table = _NewTable("glass", "slug")
    table.text("slug")
    table.text("name")
    table.real("brim_ml", TO_A_BILLION)
    table.real("usual_fill_ml", TO_A_BILLION, null=True)
    table.text("ice")
    table.real("ice_g", TO_A_BILLION)
    table.real("wash_line_ml", TO_A_BILLION, null=True)
    table.text("source")
    table.text("note")
    table.make()


def _make_item() -> None:
    table = _NewTable("item", "id")
    table.whole("id", ID)
    table.text("kind", words=("raw", "build", "leftover"))
    table.make()


def _make_journal() -> None:
    table = _NewTable("journal", "number")
    table.whole("number", ID)
    table.text("label")
    table.moment("made_at")
    table.truth("is_undone")
    table.moment("moved_at", null=True)
    table.make()


def _make_measure() -> None:
    table = _NewTable("measure", "slug")
    table.text("slug")
    table.text("name")
    table.real("value", TO_A_BILLION)
    table.text("unit")
    table.real("low", TO_A_BILLION)
    table.real("high", TO_A_BILLION)
    table.text("source")
    table.text("source_kind")
    table.text("note")
    table.check("in_order", "low <= high")
    table.make()


def _make_meta() -> None:
    table = _NewTable("meta", "id")
    table.whole("id", TO_A_MILLION)
    table.whole("top_id", NUMBER_OR_NONE)
    table.whole("top_number", NUMBER_OR_NONE)
    table.check("is_one_row", "id = 0")
    table.make()


def _make_method() -> None:
    table = _NewTable("method", "slug")
    table.text("slug")
    table.text("name")
    table.text("ice")
    table.real("ice_g", TO_A_BILLION, null=True)
    table.real("time_low_s", TO_A_BILLION, null=True)
    table.real("time_high_s", TO_A_BILLION, null=True)
    table.real("dilution_low_pct", PERCENT)
    table.real("dilution_high_pct", PERCENT)
    table.real("end_low_c", CELSIUS)
    table.real("end_high_c", CELSIUS)
    table.text("source")
    table.text("source_kind")
    table.text("note")
    table.check("dilution_in_order", "dilution_low_pct <= dilution_high_pct")
    table.check("end_in_order", "end_low_c <= end_high_c")
    table.make()


def _make_settings() -> None:
    table = _NewTable("settings", "id")
    table.whole("id", TO_A_MILLION)
    table.text("house_name")
    table.truth("is_demo")
    table.text("currency")
    table.real("oz_ml", TO_A_BILLION)
    table.text("alcohol_units")
    table.real("freezer_c", CELSIUS)
    table.real("fridge_c", CELSIUS)
    table.real("room_c", CELSIUS)
    table.real("ice_well_c", CELSIUS)
    table.real("fizz_loss_pct", PERCENT)
    table.real("wash_line_pct", PERCENT)
    table.text("paper_size")
    table.check("is_one_row", "id = 0")
    table.make()


def _make_target() -> None:
    table = _NewTable("target", "id")
    table.whole("id", ID)
    table.text("name")
    table.make()


def _make_build() -> None:
    table = _NewTable("build", "id")
    table.whole("id", ID, to="item.id")
    table.text("kind", words=("drink", "part"))
    table.text("name")
    table.text("note")
    table.text("glass", null=True, to="glass.slug")
    table.text("ice", null=True)
    table.real("ice_g", TO_A_BILLION, null=True)
    table.real("wash_line_ml", TO_A_BILLION, null=True)
    table.whole("target_id", ID, null=True, to="target.id")
    table.whole("parent_id", ID, null=True, to="build.id")
    table.truth("is_tried")
    table.text("kept_at", words=KEPT_AT)
    table.whole("house_days", TO_A_MILLION, null=True)
    table.real("bitterness", HOUSE_SCALE, null=True)
    table.real("drop_ml", TO_A_BILLION, null=True)
    table.real("dash_ml", TO_A_BILLION, null=True)
    table.real("piece_g", TO_A_BILLION, null=True)
    table.real("pour_ml", TO_A_BILLION, null=True)
    table.text("tastes_like")
    table.index("ix_build_parent_id", "parent_id")
    table.index("ix_build_target_id", "target_id")
    table.make()


def _make_journal_change() -> None:
    table = _NewTable("journal_change", "number", "position")
    table.whole("number", ID, to="journal.number", on_delete="CASCADE")
    table.whole("position", NUMBER_OR_NONE)
    table.text("table_name", words=TABLES)
    table.text("row_key")
    table.whole("build_id", ID, null=True)
    table.text("row_before", null=True)
    table.text("row_after", null=True)
    table.check("says_something", "row_before IS NOT NULL OR row_after IS NOT NULL")
    table.index("ix_journal_change_build_id", "build_id")
    table.make(has_rowid=False)


def _make_raw() -> None:
    table = _NewTable("raw", "id")
    table.whole("id", ID, to="item.id")
    table.text("slug")
    table.text("name")
    table.text("category")
    table.text("form")
    for component in COMPONENTS:
        table.real(component, GRAMS_PER_100_GRAMS, null=True)
    table.real("density_g_per_ml", GRAMS_PER_MILLILITRE, null=True)
    table.real("strength_pct_vol", PERCENT, null=True)
    table.real("co2_g_per_l", GRAMS_PER_LITRE, null=True)
    table.real("bitterness", HOUSE_SCALE, null=True)
    table.real("strong_cation_mmol_per_100g", MILLIMOLE_PER_100_GRAMS, null=True)
    table.text("other_acid_name")
    table.text("ph_model")
    table.real("typical_ph_low", ACIDITY, null=True)
    table.real("typical_ph_high", ACIDITY, null=True)
    table.real("titratable_acidity_pct", PERCENT, null=True)
    table.real("soluble_solids_pct", PERCENT, null=True)
    table.real("sugar_uncertainty_pct", PERCENT, null=True)
    table.real("acid_uncertainty_pct", PERCENT, null=True)
    table.text("kept_at", words=KEPT_AT)
    table.real("drop_ml", TO_A_BILLION, null=True)
    table.real("dash_ml", TO_A_BILLION, null=True)
    table.real("piece_g", TO_A_BILLION, null=True)
    table.real("edible_yield", SHARE, null=True)
    table.text("edible_yield_basis")
    table.text("season_months")
    table.whole("house_days", TO_A_MILLION, null=True)
    table.text("vegan")
    table.text("vegetarian")
    table.text("source")
    table.text("source_kind")
    table.text("from_memory_fields")
    table.text("note")
    table.make()


def _make_target_aim() -> None:
    table = _NewTable("target_aim", "target_id", "position")
    table.whole("target_id", ID, to="target.id")
    table.whole("position", TO_A_MILLION)
    table.text("reading")
    table.real("low", ANY_READING)
    table.real("ideal", ANY_READING)
    table.real("high", ANY_READING)
    table.truth("is_gate")
    table.text("source")
    table.text("note")
    table.check("in_order", "low <= ideal AND ideal <= high")
    table.make()


def _make_build_allergen() -> None:
    table = _NewTable("build_allergen", "build_id", "position")
    table.whole("build_id", ID, to="build.id")
    table.whole("position", TO_A_MILLION)
    table.text("allergen")
    table.make()


def _make_build_sign() -> None:
    table = _NewTable("build_sign", "build_id", "position")
    table.whole("build_id", ID, to="build.id")
    table.whole("position", TO_A_MILLION)
    table.text("taste")
    table.text("remedy")
    table.make()


def _make_leftover() -> None:
    table = _NewTable("leftover", "id")
    table.whole("id", ID, to="item.id")
    table.whole("build_id", ID, to="build.id")
    table.text("name")
    table.text("kept_at", words=KEPT_AT)
    table.whole("house_days", TO_A_MILLION, null=True)
    table.real("piece_g", TO_A_BILLION, null=True)
    table.index("ix_leftover_build_id", "build_id")
    table.make()


def _make_raw_allergen() -> None:
    table = _NewTable("raw_allergen", "raw_id", "position")
    table.whole("raw_id", ID, to="raw.id")
    table.whole("position", TO_A_MILLION)
    table.text("allergen")
    table.make()


def _make_raw_caution() -> None:
    table = _NewTable("raw_caution", "raw_id", "position")
    table.whole("raw_id", ID, to="raw.id")
    table.whole("position", TO_A_MILLION)
    table.text("caution")
    table.make()


def _make_raw_price() -> None:
    table = _NewTable("raw_price", "raw_id", "position")
    table.whole("raw_id", ID, to="raw.id")
    table.whole("position", TO_A_MILLION)
    table.real("per_unit", TO_A_BILLION)
    table.text("unit")
    table.text("date")
    table.text("note")
    table.make()


def _make_result() -> None:
    table = _NewTable("result", "item_id")
    table.whole("item_id", ID, to="build.id", on_delete="CASCADE")
    table.whole("journal_number", NUMBER_OR_NONE)
    table.text("stamp")
    table.whole("flags", FLAGS)
    for end in ("", "_more"):
        for reading in READINGS:
            table.real(f"{reading}{end}", ANY_READING, null=True)
    table.octets("exact")
    table.make()


def _make_step() -> None:
    table = _NewTable("step", "id")
    table.whole("id", ID)
    table.text("kind", words=(*MEASURED, *WORKING))
    table.whole("build_id", ID, to="build.id")
    table.real("place", PLACE)
    table.text("words")
    table.truth("left_out")
    table.whole("item_id", ID, null=True, to="item.id")
    table.real("amount_number", AMOUNT_NUMBER, null=True)
    table.text("amount_unit", null=True)
    table.text("amount_basis", null=True, words=BASES)
    table.text("amount_typed", null=True)
    table.real("temperature_c", CELSIUS, null=True)
    table.truth("in_liquid", null=True)
    table.real("duration_s", TO_A_BILLION, null=True)
    table.real("temperature_low_c", CELSIUS, null=True)
    table.real("temperature_high_c", CELSIUS, null=True)
    table.real("weighed_g", TO_A_BILLION, null=True)
    table.real("expected_pct", PERCENT, null=True)
    table.real("low_pct", PERCENT, null=True)
    table.real("high_pct", PERCENT, null=True)
    table.whole("leftover_id", ID, null=True, to="leftover.id")
    table.real("leftover_weighed_g", TO_A_BILLION, null=True)
    table.real("final_g", TO_A_BILLION, null=True)
    table.real("final_pct", PERCENT, null=True)
    table.real("ethanol_kept_pct", PERCENT, null=True)
    table.text("method", null=True, to="method.slug")
    table.text("ice", null=True)
    table.real("ice_g", TO_A_BILLION, null=True)
    table.real("count", TO_A_BILLION, null=True)
    table.text("count_unit", null=True)
    table.real("melted_g", TO_A_BILLION, null=True)
    table.real("final_ml", TO_A_BILLION, null=True)
    for column, kinds in ALWAYS.items():
        table.check(f"{column}_of_kind", f"({column} IS NOT NULL) = (kind IN ({_listed(kinds)}))")
    for column, kinds in MAYBE.items():
        table.check(f"{column}_of_kind", f"{column} IS NULL OR kind IN ({_listed(kinds)})")
    table.index("ix_step_build_id", "build_id")
    table.index("ix_step_item_id", "item_id")
    table.index("ix_step_leftover_id", "leftover_id")
    table.make()


def _make_step_base() -> None:
    table = _NewTable("step_base", "step_id", "position")
    table.whole("step_id", ID, to="step.id")
    table.whole("position", TO_A_MILLION)
    table.whole("base_id", ID, to="step.id")
    table.index("ix_step_base_base_id", "base_id")
    table.make()
