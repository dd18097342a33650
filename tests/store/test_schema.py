"""The tables are what the migrations make, and they have a place for all that the model has."""

import re
import sqlite3
from contextlib import closing
from enum import Enum
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from msgspec import Struct, structs

from washline.chemistry.components import COMPONENTS
from washline.model.amount import Basis, Heft
from washline.model.change import Table
from washline.model.house import JointCost, MethodKind
from washline.model.item import BatchService, KeptAt
from washline.model.reading import READING_KEYS
from washline.model.step import (
    BarStrainWay,
    ChillBy,
    FermentKind,
    GarnishWay,
    Goal,
    IceState,
    Measurable,
    Per,
    WashKind,
    Weight,
)
from washline.store import connection as connections
from washline.store.migration import head_of, migrate
from washline.store.peek import APPLICATION_ID, HEAD, SCHEMA_VERSION
from washline.store.rows import AMOUNT_COLUMNS, KINDS
from washline.store.schema import METADATA, history, house, items, steps


@pytest.fixture
def empty(tmp_path: Path) -> Path:
    path = tmp_path / "empty.housebook"
    migrate(path)
    return path


def test_migrations_leave_nothing_to_change(empty: Path) -> None:
    engine = connections.writer(empty)
    with engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
    engine.dispose()


def test_migrations_make_the_same_columns_and_rules_as_the_mapped_tables(empty: Path) -> None:
    mapped = sa.create_engine("sqlite://")
    METADATA.create_all(mapped)
    with mapped.connect() as connection:
        expected = definitions(connection.exec_driver_sql("SELECT name, sql FROM sqlite_master").all())
    mapped.dispose()
    with closing(sqlite3.connect(empty)) as plain:
        found = definitions(plain.execute("SELECT name, sql FROM sqlite_master").fetchall())
    del found["alembic_version"]
    assert found == expected


def definitions(records: Any) -> dict[str, list[str]]:
    """The parts of each definition, sorted: their order says nothing."""
    return {
        name: sorted(line.strip().rstrip(",").strip() for line in sql.splitlines())
        for name, sql in records
        if sql and name != "sqlite_sequence"
    }


def test_newest_migration_is_the_one_that_opening_looks_for() -> None:
    assert head_of() == HEAD


def test_new_file_says_whose_it_is_and_of_which_version(empty: Path) -> None:
    with closing(sqlite3.connect(empty)) as connection:
        assert connection.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
        assert connection.execute("PRAGMA user_version").fetchone() == (SCHEMA_VERSION,)
    assert empty.read_bytes()[68:72] == b"WLHB"


@pytest.mark.parametrize("table", METADATA.sorted_tables, ids=lambda table: table.name)
def test_every_number_has_a_lowest_and_a_highest_value(table: sa.Table) -> None:
    rules = [str(rule.sqltext) for rule in table.constraints if isinstance(rule, sa.CheckConstraint)]
    for column in table.columns:
        if isinstance(column.type, sa.Double | sa.Integer) and not isinstance(column.type, sa.Boolean):
            own = [
                rule for rule in rules if re.match(rf"{column.name} BETWEEN -?[\d.e+]+ AND [\d.e+]+$", rule)
            ]
            assert len(own) == 1, column.name


@pytest.mark.parametrize("struct", KINDS, ids=lambda struct: struct.__name__)
def test_every_field_of_the_model_has_its_columns(struct: type[Struct]) -> None:
    kind = KINDS[struct]
    apart = {child.field for child in kind.children} | {"steps"}
    for field in structs.fields(struct):
        if field.name == "amount":
            assert set(AMOUNT_COLUMNS) <= set(kind.sql.columns.keys())
        elif field.name != "composition" and field.name not in apart:
            assert kind.column(field.name) in kind.sql.columns


@pytest.mark.parametrize("struct", KINDS, ids=lambda struct: struct.__name__)
def test_column_may_be_empty_exactly_where_the_field_may(struct: type[Struct]) -> None:
    kind = KINDS[struct]
    for field in structs.fields(struct):
        if kind.table is not Table.STEP and field.name in kind.sql.columns:
            assert kind.sql.c[field.name].nullable == ("None" in str(field.type)), field.name


def test_composition_has_a_column_per_component() -> None:
    columns = items.RawRow.__table__.columns.keys()
    first = columns.index("water")
    assert tuple(columns[first : first + len(COMPONENTS)]) == COMPONENTS


def test_results_have_a_column_per_reading() -> None:
    columns = history.ResultRow.__table__.columns.keys()
    assert tuple(name for name in columns if name in READING_KEYS) == READING_KEYS
    assert tuple(name for name in columns if name.endswith("_more")) == tuple(
        f"{key}_more" for key in READING_KEYS
    )


def test_steps_have_a_place_for_every_kind() -> None:
    kinds = {dict(kind.fixed)["kind"] for kind in KINDS.values() if kind.table is Table.STEP}
    assert kinds == set(steps.KINDS)


@pytest.mark.parametrize(
    "words, members",
    [
        (items.KEPT_AT, KeptAt),
        (steps.BASES, Basis),
        (history.TABLES, Table),
        (house.JOINT_COSTS, JointCost),
        (steps.WEIGHTS, Weight),
        (steps.WASHES, WashKind),
        (steps.FERMENTS, FermentKind),
        (steps.GOALS, Goal),
        (steps.PER, Per),
        (steps.MEASURABLES, Measurable),
        (steps.HEFTS, Heft),
        (steps.ICE_STATES, IceState),
        (steps.CHILL_BY, ChillBy),
        (steps.BAR_STRAIN_WAYS, BarStrainWay),
        (steps.GARNISH_WAYS, GarnishWay),
        (house.KEPT_AT, KeptAt),
        (house.METHOD_KINDS, MethodKind),
        (items.BATCH_SERVICES, BatchService),
    ],
    ids=lambda value: getattr(value, "__name__", ""),
)
def test_lists_of_words_are_those_of_the_model(words: tuple[str, ...], members: type[Enum]) -> None:
    assert set(words) == {member.value for member in members}


@pytest.mark.parametrize("column", [*steps.ALWAYS, *steps.MAYBE])
def test_step_columns_belong_to_the_kinds_whose_struct_has_the_field(column: str) -> None:
    kinds = steps.ALWAYS.get(column) or steps.MAYBE.get(column) or ()
    field = "amount" if column in AMOUNT_COLUMNS else column
    having = {
        dict(kind.fixed)["kind"]
        for kind in KINDS.values()
        if kind.table is Table.STEP
        and field
        in {name if name == "amount" else kind.column(name) for name in kind.struct.__struct_fields__}
    }
    assert set(kinds) == having
