"""The makings of a part in the window: kept, told in words, removed, and the next one started."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from tests.presentation.small_house import CORDIAL, LEATHER, SIGNAL, SPIN, house
from tests.ui.costs.bench import Bench, noon, settle
from washline.document.commands.steps import set_step
from washline.model.item import Making, StepYield
from washline.model.step import Strain
from washline.ui.appearance import Appearance
from washline.ui.book.makings_view import FIRST_SHOWN, NO_MAKINGS, MakingsView
from washline.ui.fonts import application_fonts
from washline.ui.measures import Measures
from washline.ui.theme import dark_theme


def made(book, *percents: float):  # type: ignore[no-untyped-def]
    """The small house with makings of the cordial on days in a row."""
    for day, percent in enumerate(percents, start=1):
        own = (StepYield(SPIN, 1000.0, 10.0 * percent),)
        book = book.with_making(
            Making(id=book.top_id + 1, build_id=CORDIAL, date=f"2026-10-{day:02d}", yields=own)
        )
    return book


def open_view(bench: Bench, build_id: int = CORDIAL) -> MakingsView:
    view = MakingsView(bench.document, bench.look, noon)
    bench.qtbot.addWidget(view)
    view.resize(700, 500)
    view.show_build(build_id)
    with bench.qtbot.waitExposed(view):
        view.show()
    settle()
    return view


def click(widget: QWidget) -> None:
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton)
    settle()


def spin(bench: Bench) -> Strain:
    step = bench.book.step(CORDIAL, SPIN)
    assert isinstance(step, Strain)
    return step


def test_part_that_was_never_kept_says_what_makings_are_for(make_bench: Callable[..., Bench]) -> None:
    view = open_view(make_bench(house()))
    assert view.text == NO_MAKINGS
    assert view.remove_buttons == []


def test_yields_are_told_in_words(make_bench: Callable[..., Bench]) -> None:
    view = open_view(make_bench(made(house(), 68.0, 71.0, 71.0, 74.0)))
    assert view.text.replace("\u202f", " ") == "Strain: 71 % ± 2 from 4 makings"
    assert len(view.remove_buttons) == 4


def test_next_making_keeps_the_yield_and_clears_it_in_one_step(make_bench: Callable[..., Bench]) -> None:
    bench = make_bench(house())
    view = open_view(bench)
    QTest.keyClicks(view.note, "ripe fruit")
    with bench.qtbot.waitSignal(view.said):
        click(view.start_button)
    (making,) = bench.book.makings.values()
    assert (making.date, making.note) == ("2026-11-25", "ripe fruit")
    assert making.yields[0].weighed_g == 905.0
    assert making.yields[0].before_g == pytest.approx(1224.0)
    assert spin(bench).weighed_g is None
    assert bench.labels == ["starting the next making of pear cordial"]
    assert view.text.replace("\u202f", " ") == "Strain: 73.9 % from one making"
    assert not view.start_button.isEnabled()
    bench.document.undo()
    assert (spin(bench).weighed_g, bench.book.makings) == (905.0, {})


def test_keeping_a_making_leaves_the_weights(make_bench: Callable[..., Bench]) -> None:
    bench = make_bench(house())
    view = open_view(bench)
    click(view.keep_button)
    assert spin(bench).weighed_g == 905.0
    assert bench.labels == ["keeping a making of pear cordial"]


def test_day_that_is_none_is_refused_beside_its_field(make_bench: Callable[..., Bench]) -> None:
    bench = make_bench(house())
    view = open_view(bench)
    view.date.setText("yesterday")
    click(view.start_button)
    assert "“yesterday” is not a day." in view.problem
    assert bench.labels == []
    assert view.date.text() == "yesterday"


def test_making_is_removed_and_undo_brings_it_back(make_bench: Callable[..., Bench]) -> None:
    bench = make_bench(made(house(), 68.0, 74.0))
    view = open_view(bench)
    click(view.remove_buttons[0])
    assert [making.date for making in bench.book.makings.values()] == ["2026-10-01"]
    assert bench.labels == ["removing the making of pear cordial of 2026-10-02"]
    assert len(view.remove_buttons) == 1
    bench.document.undo()
    view.refresh()
    assert len(view.remove_buttons) == 2


def test_without_a_weight_there_is_nothing_to_keep(make_bench: Callable[..., Bench]) -> None:
    bench = make_bench(house())
    bench.document.do(set_step(CORDIAL, SPIN, weighed_g=None), "weight")
    view = open_view(bench)
    assert not view.start_button.isEnabled()
    assert not view.keep_button.isEnabled()


def test_drink_and_part_without_a_strain_have_nothing_to_keep(make_bench: Callable[..., Bench]) -> None:
    view = open_view(make_bench(house()), LEATHER)
    assert not view.start_button.isEnabled()
    view.show_build(SIGNAL)
    assert not view.start_button.isEnabled()


def test_many_makings_fold_until_they_are_asked_for(make_bench: Callable[..., Bench]) -> None:
    view = open_view(make_bench(made(house(), *[70.0] * 20)))
    assert len(view.remove_buttons) == FIRST_SHOWN
    click(view.all_button)
    assert len(view.remove_buttons) == 20
    assert not view.all_button.isVisible()


def test_house_book_for_reading_only_keeps_nothing(make_bench: Callable[..., Bench]) -> None:
    view = open_view(make_bench(made(house(), 70.0), is_read_only=True))
    assert not view.start_button.isEnabled()
    assert not view.remove_buttons[0].isEnabled()


def test_each_remove_button_says_what_it_removes(make_bench: Callable[..., Bench]) -> None:
    view = open_view(make_bench(made(house(), 70.0)))
    name = view.remove_buttons[0].accessibleName().replace("\u202f", " ")
    assert name == "Remove: Making of 2026-10-01, 700 of 1,000 g, 70.0 %"


def test_dark_colours_and_larger_text_reach_every_row(make_bench: Callable[..., Bench]) -> None:
    view = open_view(make_bench(made(house(), 70.0)))
    before = view.remove_buttons[0].height()
    view.set_appearance(Appearance(dark_theme(), application_fonts(2.0), Measures(2.0), is_calm=True))
    settle()
    assert view.remove_buttons[0].sizeHint().height() > before
