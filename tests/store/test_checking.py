"""The check finds what another program or a bad disk did to a house book."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.store.books import NOW, new_amount
from washline.store import HouseBookFile

UNCHECKED = ("PRAGMA ignore_check_constraints = ON", "PRAGMA foreign_keys = OFF")


@pytest.fixture
def edited(path: Path) -> Path:
    """Two changes, of which the second is taken back."""
    with HouseBookFile.open(path) as file:
        for number in (50.0, 55.0):
            file.write(new_amount(file.load(), number), "change", NOW)
        file.undo(NOW)
        assert file.check() == []
    return path


@pytest.mark.parametrize(
    "statement, said",
    [
        ("UPDATE step SET amount_number = 51 WHERE id = 201", "“step” 201 is not as the journal says."),
        ("DELETE FROM step WHERE id = 201", "“step” 201 is not as the journal says."),
        ("UPDATE journal SET is_undone = 1 WHERE number = 2", "“step” 201"),
        ("UPDATE journal SET is_undone = 0 WHERE number = 3", "is not as the journal says"),
        ("UPDATE journal SET is_undone = 1 - is_undone WHERE number > 1", "one before it is taken back"),
        (
            "UPDATE journal_change SET row_before = replace(row_before, '50.0', '49.0') WHERE number = 3",
            "Journal entry 3 does not start where the one before left “step” 201.",
        ),
        ("UPDATE journal_change SET row_after = '{' WHERE number = 2", "Journal entry 2 cannot be read"),
        (
            "UPDATE step SET amount_number = 9e999 WHERE id = 200",
            "1 rows of the table “step” break the rule “step amount number in range”.",
        ),
        ("UPDATE glass SET brim_ml = 'big' WHERE slug = 'coupe'", "break the rule “glass brim ml in range”"),
        ("DELETE FROM raw WHERE id = 3", "refers to a row of “raw” that is not there"),
        ("INSERT INTO item VALUES (900, 'raw')", "Item 900 is listed as “raw” and is “None”."),
        ("UPDATE item SET kind = 'raw' WHERE id = 20", "Item 20 is listed as “raw” and is “build”."),
        ("UPDATE build SET glass = 'boot' WHERE id = 20", "refers to a row of “glass” that is not there"),
        ("UPDATE meta SET top_id = 5", "and 5 is noted as the highest"),
    ],
)
def test_what_another_program_did_is_found(edited: Path, statement: str, said: str) -> None:
    with closing(sqlite3.connect(edited, isolation_level=None)) as connection:
        for text in (*UNCHECKED, statement):
            connection.execute(text)
    with HouseBookFile.open(edited, read_only=True) as file:
        assert any(said in words for words in file.check()), file.check()


@pytest.mark.parametrize(
    "line, statement, rule",
    [
        (
            "brim_ml BETWEEN",
            "UPDATE glass SET brim_ml = 9e999 WHERE slug = 'coupe'",
            "glass brim ml in range",
        ),
        ("", "UPDATE glass SET name = NULL WHERE slug = 'coupe'", "glass name is needed"),
    ],
)
def test_broken_rule_is_found_where_the_table_has_lost_it(
    edited: Path, line: str, statement: str, rule: str
) -> None:
    with closing(sqlite3.connect(edited, isolation_level=None)) as connection:
        (text,) = connection.execute("SELECT sql FROM sqlite_master WHERE name = 'glass'").fetchone()
        bare = "\n".join(one for one in text.splitlines() if not line or line not in one)
        connection.execute("PRAGMA writable_schema = ON")
        changed = bare if line else bare.replace("name VARCHAR NOT NULL", "name VARCHAR")
        connection.execute("UPDATE sqlite_master SET sql = ? WHERE name = 'glass'", (changed,))
        connection.execute("PRAGMA writable_schema = RESET")
    with closing(sqlite3.connect(edited, isolation_level=None)) as connection:
        connection.execute(statement)
    with HouseBookFile.open(edited, read_only=True) as file:
        assert file.check() == [f"1 rows of the table “glass” break the rule “{rule}”."]


def test_damaged_page_is_found(edited: Path) -> None:
    content = bytearray(edited.read_bytes())
    with closing(sqlite3.connect(edited)) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'step'").fetchone()
    content[(page - 1) * 4096 + 100 : page * 4096] = b"\x55" * 3996
    edited.write_bytes(content)
    with HouseBookFile.open(edited, read_only=True) as file:
        assert file.check()[0].startswith("The file is damaged:")
