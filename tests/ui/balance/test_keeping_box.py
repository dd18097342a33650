"""The keeping of a part in the window: whole at every width, and a proposal becomes the house's own by one press."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.presentation.demo import build, demo, workings
from washline.presentation.keeping import HURDLES_ARE_ESTIMATES, HouseDate, Keeping, Proposal, keeping_of
from washline.presentation.part_composition import composition
from washline.ui.appearance import Appearance
from washline.ui.balance.keeping_box import KeepingView
from washline.ui.controls import Words
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.measures import Measures
from washline.ui.theme import dark_theme, light_theme

PART = "quince shrub"


def shown(view: KeepingView, keeping: Keeping | None = None, *, is_read_only: bool = False) -> None:
    part = build(PART)
    trace = workings().trace(part.id)
    found = keeping if keeping is not None else keeping_of(demo(), part, trace.result)
    view.show_part(found, composition(trace.final_state), is_read_only=is_read_only)


def offering(days: int) -> Keeping:
    part = build(PART)
    hurdles = keeping_of(demo(), part, workings().result_now(part.id)).hurdles
    return Keeping(
        HouseDate(None), "fridge, 4 °C", hurdles, Proposal(days, "acid, cold", "common practice, no source")
    )


@pytest.fixture
def view(qtbot: QtBot) -> KeepingView:
    load_fonts()
    widget = KeepingView(Appearance(light_theme(), application_fonts(), Measures()))
    qtbot.addWidget(widget)
    widget.resize(376, 400)
    with qtbot.waitExposed(widget):
        widget.show()
    return widget


def test_it_says_date_place_hurdles_and_what_they_do_not_show(view: KeepingView) -> None:
    shown(view)
    told = " ".join(view.words)
    assert "House date 30 days, not tested · fridge, 4\u202f°C" in told
    for words in ("pH", "below 4.6", "Water activity", "above 0.85", "Alcohol", "Cold", "at or below 5 °C"):
        assert words in told
    assert view.words[-1] == HURDLES_ARE_ESTIMATES


@pytest.mark.parametrize("width", [240, 320, 376, 640])
@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_no_text_is_cut_off(view: KeepingView, width: int, scale: float) -> None:
    view.set_appearance(Appearance(dark_theme(), application_fonts(scale), Measures(scale)))
    shown(view, offering(7))
    view.resize(round(width * scale), view.heightForWidth(round(width * scale)))
    QTest.qWait(1)
    for label in view.findChildren(Words):
        if label.isVisible():
            assert label.height() >= label.heightForWidth(label.width()), label.text()
            assert view.rect().contains(label.geometry()), label.text()


def test_a_proposal_is_taken_over_by_the_keyboard(view: KeepingView, qtbot: QtBot) -> None:
    shown(view, offering(7))
    assert "Proposed: 7 days (acid, cold; common practice, no source), not tested." in view.words
    view.take_over.setFocus()
    with qtbot.waitSignal(view.days_chosen) as told:
        QTest.keyClick(view.take_over, Qt.Key.Key_Space)
    assert told.args == [7]
    assert view.take_over.text() == "Set 7 days"


def test_nothing_can_be_taken_over_in_a_book_that_is_only_read(view: KeepingView) -> None:
    shown(view, offering(7), is_read_only=True)
    assert not view.take_over.isEnabled()


def test_without_a_proposal_there_is_nothing_to_press(view: KeepingView) -> None:
    shown(view)
    assert not view.take_over.isVisible()


def test_a_screen_reader_hears_all_of_it(view: KeepingView) -> None:
    shown(view)
    assert view.accessibleDescription().endswith(HURDLES_ARE_ESTIMATES)
    assert view.bar.accessibleName().startswith("Composition by mass: water ")
