"""Columns and tables of all bench steps, breaking down, makings, costs and what is shared."""

from collections.abc import Sequence

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

TO_A_BILLION = (0.0, 1000000000.0)
ID = (1, 9007199254740991)
TO_A_MILLION = (0, 1000000)
NUMBER_OR_NONE = (0, 9007199254740991)
PERCENT = (0.0, 10000.0)
PERCENT_MORE_OR_LESS = (-100.0, 10000.0)
ACIDITY = (-2.0, 16.0)
BRIX = (-100.0, 200.0)
CELSIUS = (-273.15, 1000.0)
GAIN = (0.0, 1.0)
HOUSE_SCALE = (0.0, 100.0)
ANY_READING = (-1000000000000000.0, 1000000000000000.0)
FLAGS = (0, 9223372036854775807)
PLACE = (-1000000000000.0, 1000000000000.0)
AMOUNT_NUMBER = (0.0, 1000000000000.0)
KEPT_AT = ("freezer", "fridge", "room", "ice_well")
PRODUCE = ("add", "infuse")
LINES = (*PRODUCE, "top", "garnish")
MEASURED = (*LINES, "take")
EVAPORATING = ("heat", "reduce", "dry")
WORKING = (
    "blend",
    "muddle",
    "rest",
    "note",
    "infuse",
    "wash",
    "strain",
    *EVAPORATING,
    "ferment",
    "adjust",
    "measure",
    "chill",
)
KINDS = tuple(dict.fromkeys((*MEASURED, *WORKING)))
BASES = ("absolute", "percent_of_vessel", "percent_of_lines", "parts", "to_volume", "to_mass", "to_wash_line")
TABLES = ("settings", "raw", "build", "step", "leftover", "target", "glass", "method", "measure", "making")
ALWAYS = {
    "item_id": LINES,
    "amount_number": MEASURED,
    "amount_unit": MEASURED,
    "amount_basis": MEASURED,
    "amount_typed": MEASURED,
    "weight": PRODUCE,
    "in_liquid": ("garnish",),
    "wash_kind": ("wash",),
    "way": ("strain",),
    "ethanol_way": EVAPORATING,
    "ferment_kind": ("ferment",),
    "goal": ("adjust",),
    "per": ("adjust",),
    "quantity": ("measure",),
    "measured_value": ("measure",),
    "instrument": ("measure",),
    "gain": ("measure",),
    "method": ("chill",),
    "ice": ("chill",),
    "count_unit": ("chill",),
}
MAYBE = {
    "temperature_c": (*PRODUCE, "top"),
    "bought_g": PRODUCE,
    "duration_s": WORKING,
    "temperature_low_c": WORKING,
    "temperature_high_c": WORKING,
    "water_given_pct": ("infuse",),
    "sugars_given_pct": ("infuse",),
    "acids_given_pct": ("infuse",),
    "salt_given_pct": ("infuse",),
    "solids_given_pct": ("infuse",),
    "given_spread_pct": ("infuse",),
    "fat_held_pct": ("wash",),
    "protein_held_pct": ("wash",),
    "acids_held_pct": ("wash",),
    "weighed_g": ("strain",),
    "expected_pct": ("strain",),
    "low_pct": ("strain",),
    "high_pct": ("strain",),
    "leftover_weighed_g": ("strain",),
    "measured_brix": ("strain",),
    "measured_acidity_pct": ("strain",),
    "leftover_id": ("strain", "take"),
    "final_g": (*EVAPORATING, "chill"),
    "final_pct": EVAPORATING,
    "final_brix": (*EVAPORATING, "ferment"),
    "ethanol_kept_pct": EVAPORATING,
    "gas_lost_g": ("ferment",),
    "final_acidity_pct": ("ferment",),
    "final_ph": ("ferment",),
    "discard_above_ph": ("ferment",),
    "discard_on_day": ("ferment",),
    "goal_value": ("adjust",),
    "like_item_id": ("adjust",),
    "uncertainty": ("measure",),
    "ice_g": ("chill",),
    "count": ("chill",),
    "melted_g": ("chill",),
    "final_ml": ("chill",),
}
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
    "ph",
    "water_activity",
    "freezing",
)
OLD_COLUMNS = {
    "settings": (
        "id", "house_name", "is_demo", "currency", "oz_ml", "alcohol_units", "freezer_c", "fridge_c", "room_c",
        "ice_well_c", "fizz_loss_pct", "wash_line_pct", "paper_size",
    ),
    "build": (
        "id", "kind", "name", "note", "glass", "ice", "ice_g", "wash_line_ml", "target_id", "parent_id", "is_tried",
        "kept_at", "house_days", "bitterness", "drop_ml", "dash_ml", "piece_g", "pour_ml", "tastes_like",
    ),
    "leftover": ("id", "build_id", "name", "kept_at", "house_days", "piece_g"),
    "step": (
        "id", "kind", "build_id", "place", "words", "left_out", "item_id", "amount_number", "amount_unit",
        "amount_basis", "amount_typed", "temperature_c", "in_liquid", "duration_s", "temperature_low_c",
        "temperature_high_c", "weighed_g", "expected_pct", "low_pct", "high_pct", "leftover_id", "leftover_weighed_g",
        "final_g", "final_pct", "ethanol_kept_pct", "method", "ice", "ice_g", "count", "count_unit", "melted_g",
        "final_ml",
    ),
    "journal_change": ("number", "position", "table_name", "row_key", "build_id", "row_before", "row_after"),
}  # fmt: skip
FILLED = {
    "settings": {
        "joint_cost": "'main'",
        "tax_pct": "20.0",
        "wanted_pour_cost_pct": "20.0",
        "service_ends": "'02:00'",
    },
    "build": {"keeps_by": "''"},
    "leftover": {},
    "step": {
        "weight": "CASE WHEN kind = 'add' THEN 'used' END",
        "way": "CASE WHEN kind = 'strain' THEN '' END",
        "ethanol_way": "CASE WHEN kind IN ('heat', 'reduce', 'dry') THEN '' END",
    },
    "journal_change": {},
}
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
        kept, filled = OLD_COLUMNS[self.name], FILLED[self.name]
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


def _listed(words: Sequence[str]) -> str:
    return ", ".join(f"'{word}'" for word in words)


def _indexes_of(table: str) -> Sequence[sa.Row[tuple[str]]]:
    query = sa.text(
        "SELECT name FROM sqlite_master WHERE type = 'index' AND tbl_name = :of AND sql IS NOT NULL"
    )
    return op.get_bind().execute(query, {"of": table}).all()


def upgrade() -> None:
    op.execute("PRAGMA legacy_alter_table=ON")
    _rebuild_settings()
    _rebuild_build()
    _rebuild_leftover()
    _rebuild_step()
    _rebuild_journal_change()
    op.execute("PRAGMA legacy_alter_table=OFF")
    _remake_result()
    _make_settings_shared()
    _make_raw_today()
    for parent in ("raw", "build", "leftover"):
        _make_may_contain(parent)
    _make_step_portion()
    _make_making()
    _make_making_yield()


def _rebuild_settings() -> None:
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
    table.text("joint_cost", words=("main", "mass", "value"))
    table.real("tax_pct", PERCENT)
    table.real("wanted_pour_cost_pct", PERCENT)
    table.real("labour_per_hour", TO_A_BILLION, null=True)
    table.text("service_ends")
    table.check("is_one_row", "id = 0")
    table.make_of_old()


def _rebuild_build() -> None:
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
    table.whole("acts_as_id", ID, null=True, to="raw.id")
    table.real("value_per_kg", TO_A_BILLION, null=True)
    table.text("keeps_by")
    table.real("price", TO_A_BILLION, null=True)
    table.real("labour_min", TO_A_BILLION, null=True)
    table.real("waste_pct", PERCENT, null=True)
    table.text("tastes_like")
    table.index("ix_build_acts_as_id", "acts_as_id")
    table.index("ix_build_parent_id", "parent_id")
    table.index("ix_build_target_id", "target_id")
    table.make_of_old()


def _rebuild_leftover() -> None:
    table = _NewTable("leftover", "id")
    table.whole("id", ID, to="item.id")
    table.whole("build_id", ID, to="build.id")
    table.text("name")
    table.text("kept_at", words=KEPT_AT)
    table.whole("house_days", TO_A_MILLION, null=True)
    table.real("piece_g", TO_A_BILLION, null=True)
    table.real("bitterness", HOUSE_SCALE, null=True)
    table.whole("acts_as_id", ID, null=True, to="raw.id")
    table.real("value_per_kg", TO_A_BILLION, null=True)
    table.index("ix_leftover_acts_as_id", "acts_as_id")
    table.index("ix_leftover_build_id", "build_id")
    table.make_of_old()


def _rebuild_step() -> None:
    table = _NewTable("step", "id")
    table.whole("id", ID)
    table.text("kind", words=KINDS)
    table.whole("build_id", ID, to="build.id")
    table.real("place", PLACE)
    table.text("words")
    table.truth("left_out")
    _add_columns_of_lines(table)
    _add_columns_of_work(table)
    _add_columns_of_measured_work(table)
    for column, kinds in ALWAYS.items():
        table.check(f"{column}_of_kind", f"({column} IS NOT NULL) = (kind IN ({_listed(kinds)}))")
    for column, kinds in MAYBE.items():
        table.check(f"{column}_of_kind", f"{column} IS NULL OR kind IN ({_listed(kinds)})")
    table.check("has_one_goal", "kind <> 'adjust' OR (goal_value IS NULL) <> (like_item_id IS NULL)")
    table.index("ix_step_build_id", "build_id")
    table.index("ix_step_item_id", "item_id")
    table.index("ix_step_leftover_id", "leftover_id")
    table.index("ix_step_like_item_id", "like_item_id")
    table.make_of_old()


def _add_columns_of_lines(table: _NewTable) -> None:
    table.whole("item_id", ID, null=True, to="item.id")
    table.real("amount_number", AMOUNT_NUMBER, null=True)
    table.text("amount_unit", null=True)
    table.text("amount_basis", null=True, words=BASES)
    table.text("amount_typed", null=True)
    table.real("temperature_c", CELSIUS, null=True)
    table.text("weight", null=True, words=("used", "trimmed", "bought"))
    table.real("bought_g", TO_A_BILLION, null=True)
    table.truth("in_liquid", null=True)


def _add_columns_of_work(table: _NewTable) -> None:
    table.real("duration_s", TO_A_BILLION, null=True)
    table.real("temperature_low_c", CELSIUS, null=True)
    table.real("temperature_high_c", CELSIUS, null=True)
    for column in ("water_given_pct", "sugars_given_pct", "acids_given_pct", "salt_given_pct"):
        table.real(column, PERCENT, null=True)
    table.real("solids_given_pct", PERCENT, null=True)
    table.real("given_spread_pct", PERCENT, null=True)
    table.text("wash_kind", null=True, words=("fat", "milk"))
    for column in ("fat_held_pct", "protein_held_pct", "acids_held_pct"):
        table.real(column, PERCENT, null=True)
    table.text("way", null=True)
    table.real("weighed_g", TO_A_BILLION, null=True)
    table.real("expected_pct", PERCENT, null=True)
    table.real("low_pct", PERCENT, null=True)
    table.real("high_pct", PERCENT, null=True)
    table.whole("leftover_id", ID, null=True, to="leftover.id")
    table.real("leftover_weighed_g", TO_A_BILLION, null=True)
    table.real("measured_brix", BRIX, null=True)
    table.real("measured_acidity_pct", PERCENT, null=True)
    table.real("final_g", TO_A_BILLION, null=True)
    table.real("final_pct", PERCENT, null=True)
    table.real("final_brix", BRIX, null=True)
    table.real("ethanol_kept_pct", PERCENT, null=True)
    table.text("ethanol_way", null=True)


def _add_columns_of_measured_work(table: _NewTable) -> None:
    table.text("ferment_kind", null=True, words=("lactic", "yeast"))
    table.real("gas_lost_g", TO_A_BILLION, null=True)
    table.real("final_acidity_pct", PERCENT, null=True)
    table.real("final_ph", ACIDITY, null=True)
    table.real("discard_above_ph", ACIDITY, null=True)
    table.real("discard_on_day", TO_A_BILLION, null=True)
    table.text("goal", null=True, words=("brix", "acidity", "strength", "salt"))
    table.real("goal_value", AMOUNT_NUMBER, null=True)
    table.text("per", null=True, words=("mass", "volume"))
    table.whole("like_item_id", ID, null=True, to="item.id")
    quantities = ("mass", "volume", "density", "brix", "ph", "acidity", "strength")
    table.text("quantity", null=True, words=quantities)
    table.real("measured_value", ANY_READING, null=True)
    table.text("instrument", null=True)
    table.real("uncertainty", TO_A_BILLION, null=True)
    table.real("gain", GAIN, null=True)
    table.text("method", null=True, to="method.slug")
    table.text("ice", null=True)
    table.real("ice_g", TO_A_BILLION, null=True)
    table.real("count", TO_A_BILLION, null=True)
    table.text("count_unit", null=True)
    table.real("melted_g", TO_A_BILLION, null=True)
    table.real("final_ml", TO_A_BILLION, null=True)


def _rebuild_journal_change() -> None:
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
    table.make_of_old(has_rowid=False)


def _remake_result() -> None:
    """Stored readings are only kept to open faster: those of an older engine are of no use."""
    op.drop_table("result")
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


def _make_settings_shared() -> None:
    table = _NewTable("settings_shared", "settings_id", "position")
    table.whole("settings_id", TO_A_MILLION, to="settings.id")
    table.whole("position", TO_A_MILLION)
    table.whole("entry", TO_A_MILLION)
    table.text("place")
    table.text("allergen", null=True)
    table.make()


def _make_raw_today() -> None:
    table = _NewTable("raw_today", "raw_id")
    table.whole("raw_id", ID, to="raw.id")
    table.real("sugars_pct", PERCENT_MORE_OR_LESS)
    table.real("acids_pct", PERCENT_MORE_OR_LESS)
    table.text("until")
    table.text("how")
    table.make()


def _make_may_contain(parent: str) -> None:
    table = _NewTable(f"{parent}_may_contain", f"{parent}_id", "position")
    table.whole(f"{parent}_id", ID, to=f"{parent}.id")
    table.whole("position", TO_A_MILLION)
    table.text("allergen")
    table.make()


def _make_step_portion() -> None:
    table = _NewTable("step_portion", "step_id", "position")
    table.whole("step_id", ID, to="step.id")
    table.whole("position", TO_A_MILLION)
    table.whole("item_id", ID, to="item.id")
    table.real("parts", TO_A_BILLION)
    table.index("ix_step_portion_item_id", "item_id")
    table.make()


def _make_making() -> None:
    table = _NewTable("making", "id")
    table.whole("id", ID)
    table.whole("build_id", ID, to="build.id")
    table.text("date")
    table.text("note")
    table.index("ix_making_build_id", "build_id")
    table.make()


def _make_making_yield() -> None:
    table = _NewTable("making_yield", "making_id", "position")
    table.whole("making_id", ID, to="making.id")
    table.whole("position", TO_A_MILLION)
    table.whole("step_id", ID, to="step.id")
    table.real("before_g", TO_A_BILLION)
    table.real("weighed_g", TO_A_BILLION)
    table.index("ix_making_yield_step_id", "step_id")
    table.make()
