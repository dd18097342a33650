"""Only what differs is written: columns of a row, rows of a child table, and nothing where nothing differs."""

import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import sqlalchemy as sa
from msgspec import Struct, structs

from tests.store.books import (
    BREW,
    CORDIAL,
    DRINK,
    FIRST_LINE,
    LIME,
    MAKING,
    SECOND_LINE,
    TARGET,
    large_book,
    small_book,
)
from washline.model.book import HouseBook
from washline.model.change import SETTINGS_KEY, Change, Row, Table, difference, without_steps
from washline.model.house import JointCost
from washline.model.item import Price, Today
from washline.model.step import Add, Adjust, Measurement, Strain
from washline.store import HistoryRefused
from washline.store import connection as connections
from washline.store.reading import read_book, read_rows
from washline.store.writing import RowWriter


class Traced:
    """Writes changes and notes the statements that change something."""

    def __init__(self, connection: sa.Connection) -> None:
        self.connection = connection
        self.statements: list[str] = []
        connections.driver_of(connection).set_trace_callback(self._note)
        self._writer = RowWriter(connection)

    def write(self, *changes: Change) -> list[str]:
        self.statements.clear()
        with connections.writing(self.connection):
            self._writer.write(changes)
        return self.statements

    def _note(self, text: str) -> None:
        if text.split(" ")[0] in ("INSERT", "UPDATE", "DELETE"):
            self.statements.append(" ".join(text.split(" ")[: 2 if text.startswith("UPDATE") else 3]))


@pytest.fixture
def traced(path: Path) -> Iterator[Traced]:
    engine = connections.writer(path)
    with engine.connect() as connection:
        yield Traced(connection)
    engine.dispose()


def of_raw(**fields: object) -> Change:
    before = small_book().raws[LIME]
    return Change(Table.RAW, LIME, before, structs.replace(before, **fields))


def of_build(build_id: int, **fields: object) -> Change:
    before = without_steps(small_book().builds[build_id])
    return Change(Table.BUILD, build_id, before, structs.replace(before, **fields))


def of_step(build_id: int, step_id: int, **fields: object) -> Change:
    before = small_book().step(build_id, step_id)
    assert before is not None
    return Change(Table.STEP, step_id, before, structs.replace(before, **fields))


def of_making(**fields: object) -> Change:
    before = small_book().makings[MAKING]
    return Change(Table.MAKING, MAKING, before, structs.replace(before, **fields))


def of_settings(**fields: object) -> Change:
    before = small_book().settings
    return Change(Table.SETTINGS, SETTINGS_KEY, before, structs.replace(before, **fields))


def of_target(**fields: object) -> Change:
    before = small_book().targets[TARGET]
    return Change(Table.TARGET, TARGET, before, structs.replace(before, **fields))


@pytest.mark.parametrize(
    "change, statements",
    [
        (of_raw(), []),
        (of_raw(name="lime"), ["UPDATE raw"]),
        (of_raw(composition=(90.0, *([None] * 23))), ["UPDATE raw"]),
        (of_raw(prices=(Price(5.0, "l", "2026-03-01"),)), ["DELETE FROM raw_price", "INSERT INTO raw_price"]),
        (of_raw(allergens=()), ["DELETE FROM raw_allergen"]),
        (of_raw(may_contain=("celery",)), ["DELETE FROM raw_may_contain", "INSERT INTO raw_may_contain"]),
        (of_raw(today=None), ["DELETE FROM raw_today"]),
        (of_raw(today=Today(5.0)), ["DELETE FROM raw_today", "INSERT INTO raw_today"]),
        (of_raw(cautions=("acid",)), ["INSERT INTO raw_caution"]),
        (of_build(CORDIAL, if_off=()), ["DELETE FROM build_sign"]),
        (of_build(BREW, may_contain=()), ["DELETE FROM build_may_contain"]),
        (of_build(BREW, acts_as_id=None, price=5.0), ["UPDATE build"]),
        (of_step(BREW, 407, portions=()), ["DELETE FROM step_portion"]),
        (of_step(BREW, 407, value=5.0), ["UPDATE step"]),
        (of_making(yields=()), ["DELETE FROM making_yield"]),
        (of_making(date="2026-02-28"), ["UPDATE making"]),
        (of_settings(shared=()), ["DELETE FROM settings_shared"]),
        (of_settings(joint_cost=JointCost.VALUE), ["UPDATE settings"]),
        (of_build(DRINK, note="new", ice_g=None), ["UPDATE build"]),
        (of_build(DRINK, is_tried=True), ["UPDATE build"]),
        (of_target(name="tall"), ["UPDATE target"]),
        (of_target(aims=()), ["DELETE FROM target_aim"]),
    ],
)
def test_only_what_differs_is_written(traced: Traced, change: Change, statements: list[str]) -> None:
    assert traced.write(change) == statements
    with connections.reading(traced.connection):
        assert read_rows(traced.connection, change.table, [change.key]) == {change.key: change.after}


def test_share_that_refers_to_another_line_is_written_as_such(traced: Traced) -> None:
    before = small_book().step(CORDIAL, SECOND_LINE)
    assert isinstance(before, Add)
    after = structs.replace(before, amount=structs.replace(before.amount, of=()))
    assert traced.write(Change(Table.STEP, SECOND_LINE, before, after)) == ["DELETE FROM step_base"]
    assert traced.write(Change(Table.STEP, SECOND_LINE, after, before)) == ["INSERT INTO step_base"]


def test_rows_of_one_kind_are_written_together(traced: Traced) -> None:
    changes = difference(small_book(), large_book(50)).changes
    traced.write(*changes)
    with connections.reading(traced.connection):
        assert read_book(traced.connection).builds == large_book(50).builds
    assert set(traced.statements) == {"INSERT INTO item", "INSERT INTO build", "INSERT INTO step"}


@pytest.mark.parametrize(
    "make",
    [
        lambda row: Change(Table.RAW, 999, row, structs.replace(row, name="ghost")),
        lambda row: Change(Table.RAW, 999, row, None),
    ],
    ids=["change", "removal"],
)
def test_row_that_is_not_there_can_neither_be_changed_nor_removed(
    traced: Traced, make: Callable[[Row], Change]
) -> None:
    ghost = structs.replace(small_book().raws[LIME], id=999)
    with pytest.raises(HistoryRefused, match="removed by another program"):
        traced.write(make(ghost))
    with connections.reading(traced.connection):
        assert read_book(traced.connection).raws == small_book().raws


def test_row_that_is_there_already_is_not_written_twice(traced: Traced) -> None:
    line = small_book().step(CORDIAL, FIRST_LINE)
    with pytest.raises(sqlite3.IntegrityError, match="UNIQUE"):
        traced.write(Change(Table.STEP, FIRST_LINE, None, line))


def test_whole_book_can_go_and_come_back(traced: Traced) -> None:
    book = small_book()
    empty = HouseBook(settings=structs.replace(book.settings, swaps=()))
    traced.write(*difference(book, empty).changes)
    with connections.reading(traced.connection):
        assert read_book(traced.connection).builds == {}
    traced.write(*difference(empty, book).changes)
    with connections.reading(traced.connection):
        assert read_book(traced.connection) == book


def test_rows_are_found_by_their_keys_however_many(traced: Traced) -> None:
    book = large_book(200)
    traced.write(*difference(small_book(), book).changes)
    keys = [step.id for build in book.builds.values() for step in build.steps]
    with connections.reading(traced.connection):
        found = read_rows(traced.connection, Table.STEP, [*keys, 5])
        assert len(found) == len(keys) > 1400
        assert read_rows(traced.connection, Table.GLASS, ["coupe", "boot"]).keys() == {"coupe"}
        assert read_rows(traced.connection, Table.SETTINGS, [0]) == {0: book.settings}
        assert read_rows(traced.connection, Table.RAW, []) == {}


@pytest.mark.parametrize("kind", [Add, Adjust, Strain, Measurement])
def test_rows_of_one_kind_are_as_whole_as_among_all(traced: Traced, kind: type[Struct]) -> None:
    book = small_book()
    keys = [step.id for build in book.builds.values() for step in build.steps]
    with connections.reading(traced.connection):
        every = read_rows(traced.connection, Table.STEP, keys)
        wanted = [key for key, step in every.items() if isinstance(step, kind)]
        assert wanted
        assert read_rows(traced.connection, Table.STEP, wanted, {kind}) == {key: every[key] for key in wanted}
