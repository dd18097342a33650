"""The database itself refuses what cannot be, whoever writes it."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
import sqlalchemy as sa

from tests.store.books import DRINK, NOW, new_amount, small_book
from washline.model.reading import READING_KEYS
from washline.store import HouseBookFile
from washline.store.schema import METADATA

READING_COLUMNS = 2 * 22
DOUBLES = bytes(len(READING_KEYS) * 8)
NUMBERS = [
    (table.name, column.name)
    for table in METADATA.sorted_tables
    for column in table.columns
    if isinstance(column.type, sa.Double | sa.Integer) and not isinstance(column.type, sa.Boolean)
]
NEEDED = [
    (table.name, column.name)
    for table in METADATA.sorted_tables
    for column in table.columns
    if not column.nullable and not column.primary_key
]


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A house book with a row in every table."""
    path = tmp_path_factory.mktemp("filled") / "House.housebook"
    with HouseBookFile.create(path, small_book(), "Making", clock=lambda: NOW) as file:
        book = file.load()
        file.write(new_amount(book, 30.0), "change of spirit", NOW)
        file.write_results("stamp", 2, [(DRINK, 2, DOUBLES, DOUBLES, 0)])
    return path


@pytest.fixture
def connection(filled: Path) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(filled, isolation_level=None)) as connection:
        connection.execute("PRAGMA foreign_keys=ON")
        connection.execute("BEGIN")
        yield connection
        connection.execute("ROLLBACK")


@pytest.mark.parametrize("table", [table.name for table in METADATA.sorted_tables])
def test_test_has_a_row_in_every_table(table: str, connection: sqlite3.Connection) -> None:
    assert connection.execute(f"SELECT count(*) FROM {table}").fetchone()[0] > 0


@pytest.mark.parametrize("table, column", NUMBERS)
def test_number_out_of_range_is_refused(table: str, column: str, connection: sqlite3.Connection) -> None:
    for value in (-1e300, 1e300, float("inf"), float("-inf"), "much"):
        with pytest.raises(sqlite3.IntegrityError, match=r"CHECK|datatype"):
            connection.execute(f"UPDATE {table} SET {column} = ?", (value,))


@pytest.mark.parametrize("table, column", NEEDED)
def test_empty_value_is_refused_where_one_is_needed(
    table: str, column: str, connection: sqlite3.Connection
) -> None:
    for value in (None, float("nan")):
        with pytest.raises(sqlite3.IntegrityError, match="NOT NULL"):
            connection.execute(f"UPDATE {table} SET {column} = ?", (value,))


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE step SET amount_number = -1 WHERE id = 200",
        "UPDATE raw SET water = 101.5",
        "UPDATE raw SET density_g_per_ml = -0.9",
        "UPDATE step SET temperature_c = -273.2 WHERE id = 200",
        "UPDATE glass SET brim_ml = -1",
        "UPDATE raw_price SET per_unit = -0.01",
        "UPDATE target_aim SET low = 9, ideal = 5, high = 10",
        "UPDATE target_aim SET low = 1, ideal = 5, high = 4",
        "UPDATE measure SET low = 2, high = 1",
        "UPDATE method SET end_low_c = 1, end_high_c = 0",
        "UPDATE build SET kept_at = 'cellar'",
        "UPDATE build SET kind = 'garnish'",
        "UPDATE build SET is_tried = 2",
        "UPDATE step SET kind = 'wish' WHERE id = 200",
        "UPDATE step SET amount_basis = 'a bit' WHERE id = 200",
        "UPDATE settings SET id = 1",
        "INSERT INTO settings SELECT * FROM settings",
        "UPDATE settings SET joint_cost = 'luck'",
        "UPDATE step SET weight = 'peeled' WHERE id = 401",
        "UPDATE step SET wash_kind = 'soap' WHERE id = 404",
        "UPDATE step SET ferment_kind = 'wild' WHERE id = 406",
        "UPDATE step SET goal = 'taste' WHERE id = 407",
        "UPDATE step SET per = 'jar' WHERE id = 407",
        "UPDATE step SET quantity = 'colour' WHERE id = 409",
        "UPDATE step SET gain = 1.01 WHERE id = 409",
        "UPDATE step SET goal_value = NULL WHERE id = 407",
        "UPDATE step SET like_item_id = 1 WHERE id = 407",
        "UPDATE step SET goal_value = 5 WHERE id = 408",
        "UPDATE step_portion SET parts = -1",
        "UPDATE making_yield SET weighed_g = -0.1",
        "UPDATE raw_today SET sugars_pct = -101",
        "UPDATE journal_change SET row_before = NULL, row_after = NULL",
        "UPDATE method SET kind = 'luck'",
        "UPDATE method SET kept_at = 'cellar'",
        "UPDATE method SET vessel_is_cold = 2",
        "UPDATE method SET approach = -0.1",
        "UPDATE ice SET pace = -1",
        "UPDATE ice SET temperature_c = -300",
        "UPDATE vessel SET rated_kpa = -1",
        "UPDATE weighing SET melted_g = -0.1",
        "UPDATE weighing SET water = -1",
        "UPDATE calibration SET factor = -1",
        "UPDATE settings SET scant_ml = -1",
        "UPDATE settings_swap SET factor = -1",
        "UPDATE build_batch SET service = 'by mouth'",
        "UPDATE build_batch SET serves = -1",
        "UPDATE raw SET foams = 2",
        "UPDATE step SET amount_heft = 'a bit' WHERE id = 502",
        "UPDATE step SET ice_state = 'warm' WHERE id = 503",
        "UPDATE step SET chill_by = 'luck' WHERE id = 503",
        "UPDATE step SET bar_strain_way = 'sieve' WHERE id = 504",
        "UPDATE step SET over_kpa = -1 WHERE id = 506",
        "UPDATE step SET garnish_way = 'throw' WHERE id = 508",
    ],
)
def test_nonsense_is_refused(statement: str, connection: sqlite3.Connection) -> None:
    with pytest.raises(sqlite3.IntegrityError):
        connection.execute(statement)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE step SET item_id = NULL WHERE id = 200",
        "UPDATE step SET amount_number = NULL WHERE id = 200",
        "UPDATE step SET weighed_g = 5 WHERE id = 200",
        "UPDATE step SET method = 'stir' WHERE id = 200",
        "UPDATE step SET method = NULL WHERE id = 202",
        "UPDATE step SET item_id = 1 WHERE id = 107",
        "UPDATE step SET in_liquid = NULL WHERE id = 204",
        "UPDATE step SET final_pct = 50 WHERE id = 202",
        "UPDATE step SET leftover_id = 11 WHERE id = 103",
        "UPDATE step SET weight = NULL WHERE id = 200",
        "UPDATE step SET weight = 'used' WHERE id = 203",
        "UPDATE step SET bought_g = 5 WHERE id = 203",
        "UPDATE step SET water_given_pct = 5 WHERE id = 200",
        "UPDATE step SET wash_kind = NULL WHERE id = 404",
        "UPDATE step SET fat_held_pct = 5 WHERE id = 405",
        "UPDATE step SET way = NULL WHERE id = 405",
        "UPDATE step SET measured_brix = 5 WHERE id = 404",
        "UPDATE step SET ethanol_way = 'simmered' WHERE id = 405",
        "UPDATE step SET final_brix = 5 WHERE id = 405",
        "UPDATE step SET ferment_kind = NULL WHERE id = 406",
        "UPDATE step SET final_ph = 3 WHERE id = 405",
        "UPDATE step SET goal = NULL WHERE id = 407",
        "UPDATE step SET goal_value = 3 WHERE id = 409",
        "UPDATE step SET quantity = NULL WHERE id = 409",
        "UPDATE step SET measured_value = NULL WHERE id = 409",
        "UPDATE step SET gain = 0.5 WHERE id = 407",
        "UPDATE step SET amount_heft = NULL WHERE id = 502",
        "UPDATE step SET amount_heft = 'scant' WHERE id = 503",
        "UPDATE step SET ice_state = NULL WHERE id = 503",
        "UPDATE step SET chill_by = 'usual' WHERE id = 504",
        "UPDATE step SET end_c = 3 WHERE id = 504",
        "UPDATE step SET bar_strain_way = NULL WHERE id = 504",
        "UPDATE step SET fresh_ice_g = 3 WHERE id = 503",
        "UPDATE step SET vessel = NULL WHERE id = 506",
        "UPDATE step SET co2_g_per_l = 7 WHERE id = 505",
        "UPDATE step SET film_ml = 1 WHERE id = 502",
        "UPDATE step SET is_layer = NULL WHERE id = 507",
        "UPDATE step SET garnish_way = NULL WHERE id = 508",
        "UPDATE step SET stays_g = 1 WHERE id = 507",
    ],
)
def test_step_has_the_columns_of_its_kind_and_no_others(
    statement: str, connection: sqlite3.Connection
) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="of_kind"):
        connection.execute(statement)


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM item WHERE id = 1",
        "DELETE FROM raw WHERE id = 1",
        "DELETE FROM build WHERE id = 20",
        "DELETE FROM step WHERE id = 101",
        "DELETE FROM leftover WHERE id = 11",
        "DELETE FROM target WHERE id = 30",
        "DELETE FROM glass WHERE slug = 'highball'",
        "DELETE FROM method WHERE slug = 'stir'",
        "UPDATE step SET item_id = 999 WHERE id = 200",
        "UPDATE step SET build_id = 999 WHERE id = 200",
        "UPDATE build SET glass = 'boot' WHERE id = 20",
        "UPDATE build SET parent_id = 999 WHERE id = 20",
        "UPDATE step_base SET base_id = 999",
        "DELETE FROM making WHERE id = 42",
        "DELETE FROM step WHERE id = 407",
        "UPDATE step_portion SET item_id = 999",
        "UPDATE step SET like_item_id = 999 WHERE id = 408",
        "UPDATE making SET build_id = 999",
        "UPDATE making_yield SET step_id = 999",
        "UPDATE build SET acts_as_id = 999 WHERE id = 40",
        "UPDATE build SET acts_as_id = 20 WHERE id = 40",
        "UPDATE leftover SET acts_as_id = 999 WHERE id = 41",
        "DELETE FROM method WHERE slug = 'throw'",
        "DELETE FROM ice WHERE slug = 'cubes'",
        "DELETE FROM step WHERE id = 503",
        "UPDATE weighing SET build_id = 999",
        "UPDATE calibration SET ice = 'hail'",
        "UPDATE settings_swap SET from_id = 999",
        "UPDATE settings_swap SET to_id = 999 WHERE position = 0",
        "UPDATE build_batch SET build_id = 999",
    ],
)
def test_reference_to_nothing_is_refused_at_the_end_of_the_transaction(
    statement: str, connection: sqlite3.Connection
) -> None:
    connection.execute(statement)
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        connection.execute("COMMIT")


def test_results_of_a_build_go_with_it(connection: sqlite3.Connection) -> None:
    for statement in (
        "DELETE FROM build_allergen WHERE build_id = 21",
        "DELETE FROM step WHERE build_id = 21",
        "INSERT INTO result SELECT 21, journal_number, stamp, flags"
        + ", NULL" * READING_COLUMNS
        + ", exact FROM result WHERE item_id = 20",
        "DELETE FROM build WHERE id = 21",
    ):
        connection.execute(statement)
    assert connection.execute("SELECT item_id FROM result").fetchall() == [(20,)]
