"""Through the build in the window: what is drawn, where, and how it folds."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.document.fakes import MemoryFile
from tests.presentation.small_house import CORDIAL, SIGNAL, SODA_LINE, house
from washline.document.commands.lines import set_amount
from washline.document.document import Document
from washline.document.stored_results import StoredResults
from washline.engine.workings import Workings
from washline.model.amount import millilitres
from washline.model.target import Aim, Target
from washline.ui.bridge import Bridge
from washline.ui.build.look import Look
from washline.ui.curves.panel import ThroughBuildPanel, places_of
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.measures import Measures
from washline.ui.session import Session
from washline.ui.theme import dark_theme, light_theme


def look(unit: float = 1.0) -> Look:
    return Look(light_theme(), application_fonts(unit), Measures(unit))


@pytest.fixture
def panel(qtbot: QtBot) -> Iterator[ThroughBuildPanel]:
    load_fonts()
    from_house = house()
    signal = from_house.builds[SIGNAL]
    target = Target(id=150, name="aperitif", aims=(Aim("strength", 5.0, 7.0, 11.0),))
    book = from_house.with_target(target).with_build(type(signal)(**{**_fields(signal), "target_id": 150}))
    file = MemoryFile(book)
    workings = Workings(book)
    results = StoredResults(file, workings, "test")
    document = Document(file, book, workings, results, lambda: datetime(2026, 11, 21, tzinfo=UTC))
    bridge = Bridge(document)
    session = Session(document, bridge)
    session.show(SIGNAL)
    panel = ThroughBuildPanel(session, look())
    qtbot.addWidget(panel)
    panel.resize(780, 230)
    with qtbot.waitExposed(panel):
        panel.show()
    yield panel
    bridge.close()
    QApplication.processEvents()


def _fields(build: object) -> dict[str, object]:
    return {name: getattr(build, name) for name in build.__struct_fields__}  # type: ignore[attr-defined]


def curve(panel: ThroughBuildPanel, key: str) -> list[tuple[float, float]]:
    x, y = panel._curves[key].item.getData()
    return [] if x is None else list(zip(map(float, x), map(float, y), strict=True))


def test_each_column_of_the_build_is_a_point_of_each_curve(panel: ThroughBuildPanel) -> None:
    assert [len(curve(panel, key)) for key in ("strength", "sweetness", "acidity")] == [5, 5, 5]


def test_a_weaker_drink_lies_lower_in_the_lane_of_strength(panel: ThroughBuildPanel) -> None:
    points = curve(panel, "strength")
    assert points[-1][1] > points[0][1]


def test_every_point_lies_within_its_lane(panel: ThroughBuildPanel) -> None:
    for lane, key in enumerate(("strength", "sweetness", "acidity")):
        box = panel._places.lanes[lane]
        assert all(box.top() - 0.5 <= y <= box.bottom() + 0.5 for _, y in curve(panel, key))


def test_lanes_do_not_overlap(panel: ThroughBuildPanel) -> None:
    lanes = panel._places.lanes
    assert panel._places.level.bottom() < lanes[0].top()
    assert lanes[0].bottom() < lanes[1].top()
    assert lanes[1].bottom() < lanes[2].top()
    assert lanes[2].bottom() <= panel.height()


def test_a_preview_shows_what_was_before_beside_it_a_frame_later(
    panel: ThroughBuildPanel, qtbot: QtBot
) -> None:
    assert panel.before is None
    panel._session.set_preview(set_amount(SIGNAL, SODA_LINE, millilitres(120.0)))
    qtbot.waitUntil(lambda: panel.before is not None)
    x, y = panel._old["strength"].item.getData()
    assert len(x) == 5
    assert float(y[-1]) < curve(panel, "strength")[-1][1]
    panel._session.set_preview(None)
    assert panel.before is None


def test_items_of_the_plot_live_as_long_as_the_panel(panel: ThroughBuildPanel) -> None:
    items = [panel._curves[key].item for key in panel._curves]
    panel._session.set_preview(set_amount(SIGNAL, SODA_LINE, millilitres(120.0)))
    assert [panel._curves[key].item for key in panel._curves] == items


def test_where_it_is_low_only_the_levels_are_left(panel: ThroughBuildPanel) -> None:
    panel.resize(780, 120)
    QApplication.processEvents()
    assert panel.is_folded
    assert curve(panel, "strength") == []
    panel.resize(780, 230)
    QApplication.processEvents()
    assert not panel.is_folded


def test_where_it_is_narrow_pours_are_told_together(panel: ThroughBuildPanel) -> None:
    assert panel.shown is not None
    assert len(panel.shown.points) == 5
    panel.resize(420, 230)
    QApplication.processEvents()
    assert len(panel.shown.points) < 5


def test_the_tooltip_of_a_lane_gives_definition_and_unit(panel: ThroughBuildPanel) -> None:
    box = panel._places.lanes[1]
    tip = panel.tip_at(QPointF(30.0, box.center().y()))
    assert tip.startswith("Sweetness, g/100 ml: Grams of sucrose")


def test_the_tooltip_of_a_column_gives_its_figures(panel: ThroughBuildPanel) -> None:
    tip = panel.tip_at(QPointF(panel._places.xs[0], panel._places.level.center().y()))
    assert tip.splitlines()[:2] == ["dry white vermouth", "Level 60 ml"]


def test_a_part_and_no_build_are_drawn_too(panel: ThroughBuildPanel) -> None:
    panel._session.show(CORDIAL)
    assert panel.shown is not None
    assert panel.shown.wash_line_ml is None
    assert not panel.grab().isNull()
    panel._session.show(None)
    assert panel.shown is None
    assert not panel.grab().isNull()


def test_the_panel_is_told_in_one_sentence(panel: ThroughBuildPanel) -> None:
    assert "Strength ends at" in panel.accessibleDescription()


def test_a_dark_theme_repaints_ground_and_curves(panel: ThroughBuildPanel) -> None:
    panel.set_look(replace(look(), theme=dark_theme()))
    image = panel.grab().toImage()
    assert image.pixelColor(3, 3) == dark_theme().sheet


def test_places_grow_with_the_text() -> None:
    small, large = places_of(780, 230, 5, look()), places_of(1560, 460, 5, look(2.0))
    assert large.level.height() == pytest.approx(2 * small.level.height())
    assert large.xs[0] == pytest.approx(2 * small.xs[0])
