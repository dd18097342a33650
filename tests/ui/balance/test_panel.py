"""The balance pane: what it shows of a drink, while somebody types, without a target, and what can be done in it."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from tests.engine.hazards import PART, SCENES
from tests.ui.balance.bench import Bench
from washline.document.commands.items import new_drink, set_build
from washline.document.commands.lines import set_amount
from washline.document.opening import create_document
from washline.model.amount import grams
from washline.model.book import HouseBook
from washline.presentation.cautions import DEFERRAL, cautions
from washline.ui.appearance import Appearance
from washline.ui.balance.panel import BalancePanel
from washline.ui.bridge import Bridge
from washline.ui.fonts import application_fonts
from washline.ui.measures import Measures
from washline.ui.session import Session
from washline.ui.theme import dark_theme, light_theme


@pytest.fixture
def panel(bench: Bench, qtbot: QtBot) -> BalancePanel:
    widget = BalancePanel(bench.document, bench.bridge, bench.session, bench.look)
    qtbot.addWidget(widget)
    widget.resize(412, 846)
    with qtbot.waitExposed(widget):
        widget.show()
    bench.settle()
    return widget


def test_it_shows_the_six_axes_of_the_target_and_the_radar(panel: BalancePanel) -> None:
    assert [row.figure.name for row in panel.table.balance.rows] == [
        "Strength",
        "Sweetness",
        "Acidity",
        "Length",
        "Fizz",
        "Bitterness",
    ]
    assert panel.radar.isVisible()
    assert panel.radar.has_room
    assert panel.chooser.text() == "against low-strength aperitif"


def test_while_typing_everything_moves_and_is_marked_as_a_preview(panel: BalancePanel, bench: Bench) -> None:
    bench.type_cordial(37.5)
    sweet = panel.table.balance.rows[1]
    assert (sweet.state.words, sweet.has_moved) == ("over 0.7", True)
    assert panel.tag.isVisible()
    assert panel.radar.shape_shown.is_preview
    assert panel.radar.shape_shown.before is not None
    bench.session.set_preview(None)
    assert panel.table.balance.rows[1].state.words == "in band"
    assert not panel.tag.isVisible()


def test_a_key_press_repaints_no_row_whose_figure_stayed(panel: BalancePanel, bench: Bench) -> None:
    before = {cell.key: cell for cell in panel.table.cells}
    bench.type_cordial(22.5)
    after = {cell.key: cell for cell in panel.table.cells}
    assert before["salt"] == after["salt"]


def test_a_twist_has_its_parent_under_it(panel: BalancePanel, bench: Bench) -> None:
    bench.show("Pear Signal, bay twist")
    shape = panel.radar.shape_shown
    parent = bench.document.workings.result_now(bench.build("Pear Signal").id)
    assert shape.parent is not None
    assert shape.parent[0] == parent.value("strength")


def test_no_drink_says_so(panel: BalancePanel, bench: Bench) -> None:
    bench.session.show(None)
    assert not panel.table.isVisible()
    assert "No drink is open." in [label.text() for label in panel.findChildren(QLabel) if label.isVisible()]


def test_without_a_target_the_figures_stand_alone_beside_one_button(
    panel: BalancePanel, bench: Bench
) -> None:
    drink = bench.build("Pear Signal")
    bench.document.do(set_build(drink.id, target_id=None), "choice of no target")
    bench.settle()
    assert not panel.radar.isVisible()
    assert panel.choose_button.isVisible()
    assert panel.table.balance.rows[0].strip is None


def test_an_empty_drink_shows_ring_and_circle_and_the_reason(panel: BalancePanel, bench: Bench) -> None:
    target_id = bench.build("Pear Signal").target_id
    bench.document.do(new_drink("Nothing yet", target_id=target_id), "new drink")
    bench.show("Nothing yet")
    assert panel.radar.shape_shown.is_empty
    assert [row.figure.number for row in panel.table.balance.rows] == ["?"] * 6
    assert "Nothing is poured yet." in panel.table.axis_sentences()


def test_another_target_is_chosen_from_the_menu_as_one_step(panel: BalancePanel, bench: Bench) -> None:
    menu = panel.chooser.menu_now()
    next(action for action in menu.actions() if action.text() == "highball").trigger()
    bench.settle()
    assert panel.chooser.text() == "against highball"
    assert bench.document.undo_label == "choice of highball"
    bench.document.undo()
    bench.settle()
    assert panel.chooser.text() == "against low-strength aperitif"


def test_the_menu_asks_to_edit_the_target_and_for_a_new_one(panel: BalancePanel, qtbot: QtBot) -> None:
    actions = {action.text(): action for action in panel.chooser.menu_now().actions()}
    with qtbot.waitSignal(panel.target_edit_asked) as edit:
        actions["Edit this target…"].trigger()
    assert edit.args == [panel._session.view.build.target_id]  # type: ignore[union-attr]
    with qtbot.waitSignal(panel.new_target_asked):
        actions["New target…"].trigger()


def test_return_on_an_axis_of_the_radar_unfolds_its_reading(panel: BalancePanel) -> None:
    panel.radar.setFocus()
    QTest.keyClick(panel.radar, Qt.Key.Key_Return)
    assert panel.table.unfolded is not None
    assert panel.table.unfolded.key == "strength"


def test_where_the_radar_finds_no_room_the_table_stands_alone(panel: BalancePanel, bench: Bench) -> None:
    panel.resize(270, 700)
    bench.settle()
    assert not panel.radar.isVisible()
    assert panel.table.isVisible()
    panel.resize(412, 846)
    bench.settle()
    assert panel.radar.isVisible()


def test_every_control_that_takes_the_focus_has_a_name(panel: BalancePanel) -> None:
    nameless = [
        type(widget).__name__
        for widget in panel.findChildren(QWidget)
        if widget.isVisible()
        and widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        and not (widget.accessibleName() or getattr(widget, "text", str)())
    ]
    assert nameless == []


def test_the_table_is_a_list_of_sentences_for_a_screen_reader(panel: BalancePanel) -> None:
    found = QAccessible.queryAccessibleInterface(panel.table)
    assert found.role() == QAccessible.Role.List
    assert found.child(1).text(QAccessible.Text.Name).startswith("Sweetness 7.2 g/100 ml")


def test_another_theme_and_size_reach_everything(panel: BalancePanel, bench: Bench) -> None:
    height = panel.table.sizeHint().height()
    panel.set_appearance(Appearance(dark_theme(), application_fonts(2.0), Measures(2.0), is_calm=True))
    bench.settle()
    assert panel.table.sizeHint().height() > height
    ground = panel.grab().toImage().pixelColor(2, panel.height() // 2)
    assert ground.lightness() < 60


def test_where_it_is_low_the_readings_stand_above_the_radar(panel: BalancePanel) -> None:
    panel.put_strips_first(True)
    body = panel._body.layout()
    assert body is not None
    assert body.indexOf(panel.table) < body.indexOf(panel._radar_place)
    panel.put_strips_first(False)
    assert body.indexOf(panel._radar_place) == 0


# House-made parts


def test_a_part_shows_its_keeping_and_composition_and_no_choice_of_a_target(
    panel: BalancePanel, bench: Bench
) -> None:
    assert not panel.keeping.isVisible()
    bench.show("quince shrub")
    assert panel.keeping.isVisible()
    assert not panel.choose_button.isVisible()
    assert any(words.startswith("House date 30 days, not tested") for words in panel.keeping.words)
    assert panel.keeping.bar.accessibleName().startswith("Composition by mass: water")
    bench.show("Pear Signal")
    assert not panel.keeping.isVisible()


def test_the_figures_of_a_part_hold_its_date_ph_and_freezing_point(panel: BalancePanel, bench: Bench) -> None:
    bench.show("quince shrub")
    plain = {row.key: row for row in panel.table.balance.plain}
    assert (plain["house_date"].number, plain["house_date"].tail) == ("30", "days, not tested")
    assert plain["ph"].number == "3.39"
    assert plain["freezing"].tail.startswith("°C")
    assert "pH meter" in plain["ph"].explanation


def test_proposed_days_become_the_house_date_in_one_step_that_can_be_undone(
    panel: BalancePanel, bench: Bench
) -> None:
    part = bench.build("quince shrub")
    bench.document.do(set_build(part.id, house_days=None), "no date")
    bench.show("quince shrub")
    assert panel.keeping.take_over.isVisible()
    days = panel.keeping.keeping.proposal.days
    QTest.mouseClick(panel.keeping.take_over, Qt.MouseButton.LeftButton)
    bench.settle()
    assert bench.document.book.builds[part.id].house_days == days
    assert not panel.keeping.take_over.isVisible()
    bench.document.undo()
    bench.settle()
    assert bench.document.book.builds[part.id].house_days is None
    assert panel.keeping.take_over.isVisible()


def test_a_ph_that_is_not_known_names_what_makes_it_so(panel: BalancePanel, bench: Bench) -> None:
    bench.show("Sloe Tide")
    row = next(row for row in panel.table.balance.plain if row.key == "ph")
    assert row.is_greyed
    assert "egg white" in row.explanation


# Cautions by what is done


@pytest.mark.parametrize("key", SCENES)
def test_every_caution_of_a_step_reaches_the_window(
    key: str, qtbot: QtBot, tmp_path: Path, qapp: QApplication
) -> None:
    with opened(SCENES[key](), tmp_path) as scene:
        panel = BalancePanel(scene.document, scene.bridge, scene.session, scene.look)
        qtbot.addWidget(panel)
        for name in ("Lantern", "house part"):
            if name == "house part" and key in ("sub-zero-pour", "hot-scald"):
                continue
            scene.show(name)
            found = next(one for one in panel.contains.box.cautions if one.key == key)
            assert cautions()[key].bar in found.text
            assert found.text.endswith(DEFERRAL)
            assert found.short in [button.text() for button in panel.contains.buttons]


def test_a_caution_by_amounts_follows_what_is_typed_after_the_paint(
    qtbot: QtBot, tmp_path: Path, qapp: QApplication
) -> None:
    with opened(SCENES["ferment-salt"](), tmp_path) as scene:
        panel = BalancePanel(scene.document, scene.bridge, scene.session, scene.look)
        qtbot.addWidget(panel)
        panel.show()
        scene.show("house part")
        salt_line = scene.build("house part").steps[2]
        assert "2 % salt" in panel.contains.box.full_text
        scene.session.set_preview(set_amount(PART, salt_line.id, grams(40.0)))
        qtbot.waitUntil(lambda: "3.9 % salt" in panel.contains.box.full_text)


@contextmanager
def opened(book: HouseBook, folder: Path) -> Iterator[Bench]:
    """A document with that book, and the session on it."""
    document = create_document(folder / "scene.housebook", book, "start", clock=lambda: datetime.now(UTC))
    bridge = Bridge(document)
    session = Session(document, bridge)
    yield Bench(document, bridge, session, Appearance(light_theme(), application_fonts(), Measures()))
    session.show(None)
    bridge.close()
    document.close()
