"""What is written is read again, to the last bit, whatever it is."""

import struct
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from tests.store import strategies
from tests.store.books import (
    DRINK,
    LIME,
    NOW,
    SERVED,
    WEIGHING,
    large_book,
    new_amount,
    small_book,
    tables_of,
)
from washline.model.book import HouseBook
from washline.model.change import Change, ChangeSet, Table, apply, difference
from washline.model.item import UNKNOWN
from washline.store import HouseBookFile, RowRefused


def test_small_book_is_read_as_it_was_written(file: HouseBookFile) -> None:
    assert file.load() == small_book()


def test_order_of_the_book_is_kept(file: HouseBookFile) -> None:
    book = file.load()
    assert list(book.glasses) == ["highball", "coupe"]
    assert list(book.builds) == [10, 20, 21, 40, 50]


@settings(max_examples=20)
@given(strategies.books(), strategies.books())
def test_any_book_is_read_as_it_was_written_and_turns_into_any_other(
    tmp_path_factory: pytest.TempPathFactory, template: bytes, first: HouseBook, second: HouseBook
) -> None:
    path = tmp_path_factory.mktemp("any") / "House.housebook"
    path.write_bytes(template)
    with HouseBookFile.open(path) as file:
        file.write(difference(small_book(), first), "something else", NOW)
        assert file.load() == replace(first, top_id=small_book().top_id)
        change_set = difference(first, second)
        file.write(change_set, "everything", NOW)
        assert file.load() == replace(second, top_id=small_book().top_id)
        assert apply(first, change_set) == second
        before = tables_of(path)
        file.undo(NOW)
        assert file.load() == replace(first, top_id=small_book().top_id)
        file.redo(NOW)
        assert tables_of(path) == before
        assert file.check() == []


def bits(number: float) -> bytes:
    return struct.pack("<d", number)


@settings(max_examples=100)
@given(number=st.floats(0.0, 1e12, allow_subnormal=True).map(lambda number: number + 0.0))
def test_number_keeps_every_bit(file_for_numbers: HouseBookFile, number: float) -> None:
    file = file_for_numbers
    file.write(new_amount(file.load(), number), "change of spirit", NOW)
    read = next(step for step in file.load().builds[DRINK].steps if step.id == 201)
    assert bits(read.amount.number) == bits(number)  # type: ignore[union-attr]


@pytest.fixture(scope="module")
def file_for_numbers(tmp_path_factory: pytest.TempPathFactory) -> HouseBookFile:
    path = tmp_path_factory.mktemp("numbers") / "House.housebook"
    return HouseBookFile.create(path, small_book(), "Making", clock=lambda: NOW)


@pytest.mark.parametrize("allergens", [(), (UNKNOWN,), ("milk", UNKNOWN)])
def test_no_allergens_and_unknown_allergens_stay_different(
    file: HouseBookFile, allergens: tuple[str, ...]
) -> None:
    before = file.load().raws[LIME]
    after = structs.replace(before, allergens=allergens)
    file.write(ChangeSet((Change(Table.RAW, LIME, before, after),)), "label read", NOW)
    assert file.load().raws[LIME].allergens == allergens


def test_blank_and_zero_in_a_composition_stay_different(file: HouseBookFile) -> None:
    composition = file.load().raws[LIME].composition
    assert composition[1] == 0.0
    assert composition[5] is None


@pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf")])
def test_number_that_is_none_is_refused_and_not_kept_as_unknown(file: HouseBookFile, number: float) -> None:
    with pytest.raises(RowRefused, match="amount number"):
        file.write(new_amount(file.load(), number), "nonsense", NOW)
    assert file.load() == small_book()
    assert file.undo_entry is None


@pytest.mark.parametrize("number", [float("nan"), float("inf")])
def test_number_of_a_batch_or_a_weighing_that_is_none_is_refused_too(
    file: HouseBookFile, number: float
) -> None:
    book = file.load()
    served = book.builds[SERVED]
    assert served.batch is not None
    batch = structs.replace(served.batch, salt_pct=number)
    nonsense = book.with_build(structs.replace(served, batch=batch))
    with pytest.raises(RowRefused, match="salt pct"):
        file.write(difference(book, nonsense), "nonsense", NOW)
    weighing = structs.replace(book.weighings[WEIGHING], seconds=number)
    with pytest.raises(RowRefused, match="seconds"):
        file.write(difference(book, book.with_weighing(weighing)), "nonsense", NOW)
    assert file.load() == small_book()


@settings(max_examples=50)
@given(
    numbers=st.lists(
        st.floats(0.0, 1e9, allow_subnormal=True).map(lambda number: number + 0.0), min_size=24, max_size=24
    )
)
def test_weighed_composition_keeps_every_bit(file_for_numbers: HouseBookFile, numbers: list[float]) -> None:
    file = file_for_numbers
    book = file.load()
    weighing = structs.replace(
        book.weighings[WEIGHING], composition=tuple(numbers), melted_g=numbers[0], ice_g=numbers[1]
    )
    file.write(difference(book, book.with_weighing(weighing)), "weighing", NOW)
    read = file.load().weighings[WEIGHING]
    assert [bits(number) for number in read.composition if number is not None] == [
        bits(one) for one in numbers
    ]
    assert (bits(read.melted_g), bits(read.ice_g)) == (bits(numbers[0]), bits(numbers[1]))


def test_only_the_row_that_changed_is_written(file: HouseBookFile) -> None:
    statements: list[str] = []
    change_set = new_amount(file.load(), 47.5)
    driver = file._connection.connection.driver_connection
    assert driver is not None
    driver.set_trace_callback(statements.append)
    file.write(change_set, "change of spirit", NOW)
    written = [text for text in statements if text.split()[0] in ("UPDATE", "INSERT", "DELETE")]
    assert [text.split(" SET ")[0].split(" (")[0] for text in written] == [
        "UPDATE step",
        "INSERT INTO journal",
        "INSERT INTO journal_change",
    ]
    assert "amount_number" in written[0]
    assert "item_id" not in written[0]


def test_book_of_hundreds_of_drinks_is_read_as_it_was_written(tmp_path: Path) -> None:
    book = large_book(300)
    with HouseBookFile.create(tmp_path / "Large.housebook", book, "Making", clock=lambda: NOW) as file:
        assert file.load() == book


def test_equal_amounts_are_one_object(tmp_path: Path) -> None:
    with HouseBookFile.create(
        tmp_path / "Large.housebook", large_book(300), "Making", clock=lambda: NOW
    ) as file:
        steps = [step for build in file.load().builds.values() for step in build.steps]
    amounts = [step.amount for step in steps if getattr(step, "amount", None) and step.amount.number == 45.0]  # type: ignore[union-attr]
    assert len(amounts) > 100
    assert len({id(amount) for amount in amounts if not amount.typed}) == 1
