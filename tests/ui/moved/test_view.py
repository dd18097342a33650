"""After a corrected fact: the drinks that moved, those that left their band first, and the pour that puts one back."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.ui.balance.bench import Bench
from tests.ui.ingredient.bar import LANTERN, SOUR
from tests.ui.moved.conftest import by_slug
from washline.document.commands.command import Command
from washline.document.commands.raws import set_raw
from washline.document.commands.today import expire_today, set_today
from washline.model.book import HouseBook
from washline.model.item import Price, Today
from washline.presentation.moved import Standing
from washline.presentation.raw_facts import at_component
from washline.ui.moved.view import MovedView


@pytest.fixture
def view(bench: Bench, qtbot: QtBot) -> Iterator[MovedView]:
    widget = MovedView(bench.session, bench.look)
    qtbot.addWidget(widget)
    widget.resize(1000, 600)
    with qtbot.waitExposed(widget):
        widget.show()
    yield widget
    widget.corrections.close()


def acids(bench: Bench, grams: float) -> Command:
    raw_id = by_slug(bench, "lemon-juice").id

    def command(book: HouseBook) -> HouseBook:
        return book.with_raw(at_component(book.raws[raw_id], "citric", grams))

    return command


def correct(bench: Bench, view: MovedView, qtbot: QtBot, command: Command) -> str:
    with qtbot.waitSignal(view.found, timeout=5000) as found:
        bench.document.do(command, "correction")
        compute(bench, qtbot)
    return str(found.args[0])


def compute(bench: Bench, qtbot: QtBot) -> None:
    """As the background does: after the edit is painted."""
    qtbot.wait(20)
    while bench.document.work_on():
        pass


def settled(view: MovedView, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not view.corrections.pours_left, timeout=5000)
    qtbot.wait(20)


def test_nothing_corrected_yet_says_what_to_do(view: MovedView) -> None:
    assert view.stack.currentIndex() == 1
    assert "Change the sugars" in view._nothing.text()


def test_sharper_lemons_say_which_drinks_moved_and_which_left_their_band(
    view: MovedView, bench: Bench, qtbot: QtBot
) -> None:
    # 22.5 ml (23 g) with 1 g more acid in 100 g bring 0.23 g more into 130 ml: 0.86 and 0.18 are 1.04.
    words = correct(bench, view, qtbot, acids(bench, 6.0))
    assert words == "2 drinks moved: 1 left its band."
    assert view.title.text() == "lemon juice: acids 5.0 → 6.0 g per 100 g"
    row = view.current
    assert row is not None
    assert (row.name, row.standing) == ("Marsh Sour", Standing.LEFT)
    assert row.moves == "Acidity 0.86 → 1.04 g/100 ml"
    assert row.state == "left its band: acidity over by 0.09"


def test_juice_of_the_houses_own_that_acts_as_the_row_moves_its_drink_too(
    view: MovedView, bench: Bench, qtbot: QtBot
) -> None:
    correct(bench, view, qtbot, acids(bench, 6.0))
    other = view.model.moved_row(1)
    assert other is not None
    assert (other.name, other.standing) == ("Low Lantern", Standing.MOVED)
    assert other.moves == "Acidity 0.72 → 0.87 g/100 ml"


def test_one_that_left_its_band_has_the_pour_that_puts_it_back(
    view: MovedView, bench: Bench, qtbot: QtBot
) -> None:
    correct(bench, view, qtbot, acids(bench, 6.0))
    settled(view, qtbot)
    row = view.current
    assert row is not None
    assert row.pour == "lemon juice 22.5 → 20\u202fml"
    assert row.effect == "all others stay where they are in their bands"
    assert "left its band" in row.spoken
    assert "22.5 → 20" in row.spoken


def test_taking_the_pour_is_one_step_and_the_row_says_so(view: MovedView, bench: Bench, qtbot: QtBot) -> None:
    correct(bench, view, qtbot, acids(bench, 6.0))
    settled(view, qtbot)
    before = bench.build("Marsh Sour")
    QTest.mouseClick(view.take_button, Qt.MouseButton.LeftButton)
    compute(bench, qtbot)
    settled(view, qtbot)
    numbers = [step.amount.number for step in bench.build("Marsh Sour").steps if hasattr(step, "amount")]
    assert numbers == [45.0, 20.0, 22.5, 40.0]
    row = view.current
    assert row is not None
    assert row.taken.startswith("taken: lemon juice")
    assert row.standing is Standing.MOVED
    assert not view.take_button.isEnabled()
    assert bench.document.undo_label == "change of lemon juice in Marsh Sour"
    bench.document.undo()
    assert bench.build("Marsh Sour") == before


def test_the_list_is_worked_by_keys_alone(view: MovedView, bench: Bench, qtbot: QtBot) -> None:
    correct(bench, view, qtbot, acids(bench, 6.0))
    settled(view, qtbot)
    view.focus_first()
    with qtbot.waitSignal(view.open_asked) as asked:
        QTest.keyClick(view.list, Qt.Key.Key_Return)
    assert asked.args == [SOUR]
    with qtbot.waitSignal(view.said):
        QTest.keyClick(view.list, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    with qtbot.waitSignal(view.closed):
        QTest.keyClick(view.list, Qt.Key.Key_Escape)


def test_undoing_the_correction_brings_the_drink_back(view: MovedView, bench: Bench, qtbot: QtBot) -> None:
    correct(bench, view, qtbot, acids(bench, 6.0))
    with qtbot.waitSignal(view.found, timeout=5000) as found:
        bench.document.undo()
        compute(bench, qtbot)
    assert found.args == ["2 drinks moved: 1 came back."]


def test_what_is_on_the_screen_is_compared_with_what_it_read_before(
    view: MovedView, bench: Bench, qtbot: QtBot
) -> None:
    bench.show("Marsh Sour")
    correct(bench, view, qtbot, acids(bench, 6.0))
    row = view.current
    assert row is not None
    assert row.moves.startswith("Acidity 0.86 → 1.04")


def test_a_second_correction_before_the_first_is_compared_joins_it(
    view: MovedView, bench: Bench, qtbot: QtBot
) -> None:
    bench.document.do(acids(bench, 6.5), "first")
    correct(bench, view, qtbot, acids(bench, 6.0))
    assert view.title.text().endswith("acids 5.0 → 6.0 g per 100 g")
    row = view.current
    assert row is not None
    assert row.moves.startswith("Acidity 0.86 → 1.04")


def test_a_price_moves_the_cost_and_leaves_every_band(view: MovedView, bench: Bench, qtbot: QtBot) -> None:
    raw = by_slug(bench, "lemon-juice")
    dearer = (*raw.prices, Price(20.0, "l", "2026-11-22"))
    words = correct(bench, view, qtbot, set_raw(raw.id, prices=dearer))
    assert words == "1 drink moved, all inside their band."
    row = view.current
    assert row is not None
    assert row.moves.startswith("Cost")


def test_today_and_its_end_are_corrections_too(view: MovedView, bench: Bench, qtbot: QtBot) -> None:
    raw = by_slug(bench, "lemon-juice")
    sharp = Today(0.0, 20.0, "2026-11-22T02:00+00:00", "the slider")
    assert correct(bench, view, qtbot, set_today(raw.id, sharp)) == "2 drinks moved: 1 left its band."
    later = bench.document._clock().replace(day=23)
    assert correct(bench, view, qtbot, expire_today(later)) == "2 drinks moved: 1 came back."


def test_a_note_on_an_ingredient_starts_no_comparison(view: MovedView, bench: Bench, qtbot: QtBot) -> None:
    bench.document.do(set_raw(by_slug(bench, "lemon-juice").id, note="from the corner"), "note")
    compute(bench, qtbot)
    assert view.corrections.words == ""


def test_where_no_single_pour_does_it_that_is_said(view: MovedView, bench: Bench, qtbot: QtBot) -> None:
    # Juice without its citric acid: nothing else in the drink is sour enough to make up for it.
    correct(bench, view, qtbot, acids(bench, 0.0))
    settled(view, qtbot)
    row = view.current
    assert row is not None
    assert (row.standing, row.pour, row.is_pour) == (Standing.LEFT, "no single pour does it", False)
    assert not view.take_button.isEnabled()
    assert view.open_button.isEnabled()


def test_the_search_for_pours_can_be_stopped_and_goes_on(view: MovedView, bench: Bench, qtbot: QtBot) -> None:
    view.found.connect(view.corrections.toggle_stop)
    correct(bench, view, qtbot, acids(bench, 6.0))
    qtbot.wait(50)
    assert (view.corrections.pours, view.corrections.pours_left) == ({}, 1)
    assert view.stop_button.text() == "Go on"
    QTest.mouseClick(view.stop_button, Qt.MouseButton.LeftButton)
    settled(view, qtbot)
    assert list(view.corrections.pours) == [SOUR]
    assert not view.stop_button.isVisible()


def test_hidden_it_keeps_up_and_shows_all_when_it_comes_back(
    view: MovedView, bench: Bench, qtbot: QtBot
) -> None:
    view.hide()
    correct(bench, view, qtbot, acids(bench, 6.0))
    assert not view.model.keys
    view.show()
    assert view.model.keys == [SOUR, LANTERN]


def test_another_look_is_taken_over(view: MovedView, bench: Bench) -> None:
    view.set_appearance(bench.look)
    assert view.detail.minimumHeight() > 0
