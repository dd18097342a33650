"""The rows of the tree after any sequence of changes are those of a fresh tree, and only what changed is repainted."""

import random
from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QApplication

from tests.presentation.small_house import CORDIAL, CORDIAL_LINE, GIN, SIGNAL, VERJUS_LINE, VERMOUTH_LINE
from tests.ui.build.conftest import Bench
from washline.document.commands.lines import add_line, set_amount
from washline.document.commands.steps import leave_out, move_steps, remove_steps
from washline.model.amount import millilitres
from washline.presentation.build_rows import FOOT_ROW, BuildRow, Listed, RowMaker
from washline.problem import UserError
from washline.ui.build.columns import AMOUNT, COLUMN_COUNT, MASS, NAME
from washline.ui.build.model import BuildTreeModel


def fresh_rows(bench: Bench, opened: list[tuple[int, ...]]) -> list[BuildRow]:
    trace = bench.document.workings.trace(SIGNAL)
    maker = RowMaker(bench.book, bench.document.workings.users_of)
    rows: list[BuildRow] = []
    for row in maker.rows(trace):
        rows.append(row)
        if row.key in opened:
            rows += maker.inside(trace, row.key)
    return rows


def fresh_preview(bench: Bench) -> tuple[BuildRow, ...]:
    view = bench.session.view
    assert view is not None
    return RowMaker(view.book, bench.document.workings.users_of).rows(view.trace)


def change(bench: Bench, choice: random.Random) -> None:
    build_id = choice.choice([SIGNAL, CORDIAL])
    ids = [step.id for step in bench.book.builds[build_id].steps]
    kind = choice.randrange(6)
    try:
        if kind == 0:
            bench.document.do(
                add_line(build_id, GIN, millilitres(choice.uniform(1, 60)), choice.choice([0, *ids])), "add"
            )
        elif kind == 1 and ids:
            bench.document.do(remove_steps(build_id, [choice.choice(ids)]), "remove")
        elif kind == 2 and ids:
            some = choice.sample(ids, k=min(2, len(ids)))
            bench.document.do(move_steps(build_id, some, choice.choice([None, *ids])), "move")
        elif kind == 3 and ids:
            bench.document.do(leave_out(build_id, [choice.choice(ids)], choice.random() < 0.5), "leave out")
        elif kind == 4:
            bench.document.undo()
        else:
            bench.document.redo()
    except UserError:
        return


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(seed=st.integers(0, 2**32))
def test_after_any_changes_the_rows_are_those_of_a_fresh_tree(
    make_bench: Callable[..., Bench], seed: int
) -> None:
    bench = make_bench()
    index = bench.sheet.model.index_of((CORDIAL_LINE,))
    bench.sheet.tree.expand(index)
    choice = random.Random(seed)
    for _ in range(8):
        change(bench, choice)
    opened = sorted(bench.sheet.model.opened)
    shown = [row for row in bench.sheet.model.rows() if row.key != (-3,)]
    assert shown == fresh_rows(bench, opened)


def test_a_persistent_index_follows_its_row_through_a_move(bench: Bench) -> None:
    index = QPersistentModelIndex(bench.sheet.model.index_of((VERMOUTH_LINE,)))
    bench.document.do(move_steps(SIGNAL, [VERMOUTH_LINE], None), "moving")
    assert index.isValid()
    assert index.data() == "dry white vermouth"


def test_only_columns_that_look_different_are_repainted(bench: Bench) -> None:
    seen: list[tuple[int, int]] = []

    def note(first: QModelIndex, last: QModelIndex) -> None:
        row = bench.sheet.model.row_at(first)
        if row is not None and row.key == (VERJUS_LINE,):
            seen.append((first.column(), last.column()))

    bench.sheet.model.dataChanged.connect(note)
    bench.document.do(set_amount(SIGNAL, VERJUS_LINE, millilitres(15.5)), "change of verjus")
    assert seen
    assert all(first >= AMOUNT for first, _ in seen)


def test_another_cell_of_a_row_is_the_one_at_its_place(bench: Bench) -> None:
    model = bench.sheet.model
    bench.sheet.tree.expand(model.index_of((CORDIAL_LINE,)))
    for row in model.rows():
        index = model.index_of(row.key)
        parent = model.parent(index)
        assert model.sibling(index.row(), MASS, index) == model.index(index.row(), MASS, parent)
        assert model.sibling(0, AMOUNT, index) == model.index(0, AMOUNT, parent)
    last = model.index_of((VERMOUTH_LINE,))
    assert not model.sibling(last.row(), COLUMN_COUNT, last).isValid()


def test_an_edit_of_a_preview_and_back_leaves_the_rows_as_they_were(bench: Bench) -> None:
    before = list(bench.sheet.model.rows())
    bench.session.set_preview(set_amount(SIGNAL, VERMOUTH_LINE, millilitres(90.0)))
    assert list(bench.sheet.model.rows()) != before
    bench.session.set_preview(None)
    assert list(bench.sheet.model.rows()) == before


def test_rows_off_the_screen_are_made_when_they_come_there(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[tuple[int, ...]] = []
    row_of = Listed.row.fget
    assert row_of is not None

    def noted(listed: Listed) -> BuildRow:
        made.append(listed.key)
        return row_of(listed)  # type: ignore[no-any-return]

    tree, model = bench.sheet.tree, bench.sheet.model
    tree.setCurrentIndex(model.index(0, AMOUNT))
    bench.sheet.resize(780, bench.sheet.height() - tree.viewport().height() + 3 * tree.row_height)
    QApplication.processEvents()
    monkeypatch.setattr(Listed, "row", property(noted))
    bench.session.set_preview(set_amount(SIGNAL, VERMOUTH_LINE, millilitres(90.0)))
    QApplication.processEvents()
    served = model.index(model.rowCount() - 1, NAME)
    foot = (FOOT_ROW,)
    assert (VERMOUTH_LINE,) in made
    assert foot not in made
    tree.scrollTo(served)
    QApplication.processEvents()
    assert foot in made
    monkeypatch.undo()
    assert list(model.rows())[-1].figures == fresh_preview(bench)[-1].figures


def test_ids_are_not_given_twice(bench: Bench) -> None:
    model = bench.sheet.model
    first = model.index_of((VERMOUTH_LINE,)).internalId()
    bench.document.do(remove_steps(SIGNAL, [VERMOUTH_LINE]), "removing")
    ids = {model.index_of(row.key).internalId() for row in model.rows()}
    assert first not in ids


def test_an_index_of_a_row_that_is_gone_gives_nothing(bench: Bench) -> None:
    model = bench.sheet.model
    index = model.index_of((VERMOUTH_LINE,))
    stale = QModelIndex(index)
    bench.document.do(remove_steps(SIGNAL, [VERMOUTH_LINE]), "removing")
    assert model.data(stale) is None
    assert model.flags(stale) == Qt.ItemFlag.ItemIsDropEnabled


def test_a_tree_without_a_build_has_no_rows() -> None:
    model = BuildTreeModel(lambda _: ())
    assert model.rowCount() == 0
    assert not model.hasChildren()
    model.show(None)
    assert not model.index(0, NAME).isValid()
    assert model.headerData(MASS, Qt.Orientation.Horizontal) == "g in glass"
