"""The session: one view per change, previews that write nothing, and the spread that follows by one turn."""

from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.document.fakes import MemoryFile
from tests.presentation.small_house import (
    CORDIAL,
    GIN,
    LEATHER,
    OTHER,
    SIGNAL,
    SODA_LINE,
    VERMOUTH_LINE,
    house,
)
from washline.document.commands.items import remove_item
from washline.document.commands.lines import add_line, set_amount
from washline.document.document import Document
from washline.document.stored_results import StoredResults
from washline.engine.workings import Workings
from washline.model.amount import grams, millilitres
from washline.problem import UserError
from washline.ui.bridge import Bridge
from washline.ui.session import Session, View


@pytest.fixture
def session(qtbot: QtBot) -> Iterator[Session]:
    file = MemoryFile(house())
    workings = Workings(file.book)
    results = StoredResults(file, workings, "test")
    document = Document(file, file.book, workings, results, lambda: datetime(2026, 11, 21, tzinfo=UTC))
    bridge = Bridge(document)
    session = Session(document, bridge)
    session.show(SIGNAL)
    QApplication.processEvents()
    yield session
    bridge.close()
    QApplication.processEvents()


def heard(session: Session) -> list[View | None]:
    views: list[View | None] = []
    session.view_changed.connect(views.append)
    return views


def test_a_preview_is_computed_in_the_same_event_and_writes_nothing(session: Session) -> None:
    views = heard(session)
    session.set_preview(set_amount(SIGNAL, SODA_LINE, millilitres(90.0)))
    assert len(views) == 1
    view = views[0]
    assert view is not None
    assert view.is_preview
    assert view.before is not None
    strength, before = view.result.value("strength"), view.before.value("strength")
    assert strength is not None
    assert before is not None
    assert strength < before
    assert session.document.book == house()


def test_the_end_of_a_preview_shows_what_stands_in_the_book(session: Session) -> None:
    kept = session.view
    session.set_preview(set_amount(SIGNAL, SODA_LINE, millilitres(90.0)))
    session.set_preview(None)
    assert session.view is kept


def test_a_refused_preview_says_why_and_leaves_the_view(session: Session) -> None:
    kept = session.view
    refusal = session.set_preview(set_amount(SIGNAL, 9999, millilitres(1.0)))
    assert isinstance(refusal, UserError)
    assert session.view is kept


def test_a_commit_ends_the_preview_and_shows_the_written_figures(session: Session) -> None:
    command = set_amount(SIGNAL, SODA_LINE, millilitres(90.0))
    session.set_preview(command)
    session.commit(command, "change of soda water")
    assert session.view is not None
    assert not session.view.is_preview
    assert session.document.undo_label == "change of soda water"


def test_a_commit_that_cannot_be_written_ends_the_preview_too(session: Session) -> None:
    command = set_amount(SIGNAL, SODA_LINE, millilitres(90.0))
    session.set_preview(command)
    session.document._storage.fault = UserError("The disk is full.")  # type: ignore[attr-defined]
    with pytest.raises(UserError):
        session.commit(command, "change of soda water")
    assert session.view is not None
    assert not session.view.is_preview


def test_a_change_of_a_part_is_seen_in_the_drink_that_is_shown(session: Session) -> None:
    views = heard(session)
    session.document.do(set_amount(CORDIAL, 101, grams(48.0)), "change of malic acid")
    assert len(views) == 1
    assert views[0] is not None


def test_the_spread_follows_by_one_turn_of_the_event_loop(session: Session) -> None:
    session.document.do(set_amount(SIGNAL, VERMOUTH_LINE, millilitres(50.0)), "change of vermouth")
    assert session.view is not None
    assert not session.view.has_own_spread
    QApplication.processEvents()
    assert session.view.has_own_spread
    assert session.view.spread is not None


def test_until_it_is_there_the_last_spread_is_shown(session: Session) -> None:
    assert session.view is not None
    last = session.view.spread
    session.set_preview(set_amount(SIGNAL, SODA_LINE, millilitres(90.0)))
    assert session.view.spread is last


def test_another_build_is_shown_without_the_spread_of_the_one_before(session: Session) -> None:
    session.show(OTHER)
    assert session.view is not None
    assert session.view.build.id == OTHER
    assert session.view.spread is None


def test_a_build_that_is_removed_is_shown_no_more(session: Session) -> None:
    shown: list[int | None] = []
    session.shown_changed.connect(shown.append)
    session.show(LEATHER)
    session.document.do(remove_item(LEATHER), "removing pear leather")
    assert shown == [LEATHER, None]
    assert session.view is None


def test_an_unknown_build_shows_none(session: Session) -> None:
    session.show(424242)
    assert session.build_id is None


def test_a_preview_without_a_build_does_nothing(session: Session) -> None:
    session.show(None)
    assert session.set_preview(add_line(SIGNAL, GIN, millilitres(45.0))) is None
    assert session.view is None


def test_a_notice_is_passed_on_after_the_view(session: Session) -> None:
    order: list[str] = []
    session.view_changed.connect(lambda _: order.append("view"))
    session.told.connect(lambda _: order.append("told"))
    session.document.do(set_amount(SIGNAL, SODA_LINE, millilitres(61.0)), "change of soda water")
    assert order == ["view", "told"]
