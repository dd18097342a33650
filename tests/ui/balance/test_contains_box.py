"""The box of what is contained: never cut off, and every caution can be read to its end."""

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QTextDocument
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from tests.presentation.demo import build, demo
from washline.presentation.cautions import DEFERRAL, cautions
from washline.presentation.contains import (
    ContainedAllergen,
    ContainsBox,
    MayContain,
    contained_caution,
    contains_box,
)
from washline.ui.appearance import Appearance
from washline.ui.balance.contains_box import ContainsView
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.measures import Measures
from washline.ui.theme import dark_theme, light_theme

WIDTHS = (160, 240, 320, 376, 640)


@pytest.fixture
def view(qtbot: QtBot) -> ContainsView:
    load_fonts()
    widget = ContainsView(Appearance(light_theme(), application_fonts(), Measures()))
    qtbot.addWidget(widget)
    widget.resize(376, 200)
    with qtbot.waitExposed(widget):
        widget.show()
    return widget


def fit(view: ContainsView, width: int) -> None:
    view.resize(width, view.heightForWidth(width))


def is_whole(view: ContainsView) -> bool:
    """Whether every text that is shown lies in the widget and is as high as it needs."""
    for label in view.labels:
        document = QTextDocument()
        document.setDocumentMargin(0)
        document.setDefaultFont(label.font())
        document.setHtml(label.text())
        document.setTextWidth(label.width())
        if label.height() + 1 < document.size().height() or not view.rect().contains(label.geometry()):
            return False
    return all(view.rect().contains(button.geometry()) for button in view.buttons)


@pytest.mark.parametrize("key", sorted(cautions()))
def test_a_caution_opens_to_its_text_with_the_deferral_whole_at_every_width(
    view: ContainsView, key: str
) -> None:
    view.set_box(ContainsBox(cautions=(contained_caution(key, ["some ingredient"]),)))
    QTest.mouseClick(view.buttons[0], Qt.MouseButton.LeftButton)
    text = view.labels[-1].text()
    assert text.endswith(DEFERRAL)
    for width in WIDTHS:
        fit(view, width)
        assert is_whole(view), width


def test_an_unknown_allergen_is_as_large_as_contains_and_stands_beneath_it(view: ContainsView) -> None:
    view.set_box(contains_box(demo(), build("Pear Signal").id))
    contains, unknown = view.labels
    assert "Unknown:" in unknown.text()
    assert "verjus" in unknown.text()
    assert unknown.font() == contains.font()
    assert unknown.y() >= contains.geometry().bottom()
    for width in WIDTHS:
        fit(view, width)
        assert is_whole(view), width


def test_nothing_recorded_says_check_labels(view: ContainsView) -> None:
    view.set_box(ContainsBox())
    assert "none recorded; check labels" in view.labels[0].text()


def test_names_of_80_letters_wrap_and_are_never_mark_up(view: ContainsView) -> None:
    name = "<b>Gin & Tonic</b> " + "x" * 61
    milk, caution = ContainedAllergen("milk", f"from the {name}"), contained_caution("raw-egg", [name])
    view.set_box(ContainsBox((milk,), (name, name), (name, name), (caution,)))
    view.open("raw-egg")
    assert "&lt;b&gt;" in view.labels[0].text()
    for width in WIDTHS:
        fit(view, width)
        assert is_whole(view), width


def test_a_caution_is_opened_and_closed_by_the_keyboard(view: ContainsView) -> None:
    view.set_box(contains_box(demo(), build("Pear Signal").id))
    view.buttons[0].setFocus()
    QTest.keyClick(view.buttons[0], Qt.Key.Key_Space)
    assert len(view.labels) == 3
    QTest.keyClick(view.buttons[0], Qt.Key.Key_Space)
    assert len(view.labels) == 2


def test_what_was_open_stays_open_with_another_drink(view: ContainsView) -> None:
    view.set_box(contains_box(demo(), build("Pear Signal").id))
    view.open("concentrated-acid")
    view.set_box(contains_box(demo(), build("Quince Ferry").id))
    assert [button.caution.key for button in view.buttons if button.isChecked()] == ["concentrated-acid"]


def test_a_screen_reader_hears_cautions_whole(view: ContainsView) -> None:
    view.set_box(contains_box(demo(), build("Sloe Tide").id))
    assert view.buttons[0].accessibleName() == "Caution, raw egg: egg white"
    assert view.buttons[0].accessibleDescription().endswith(DEFERRAL)
    assert "Allergens unknown: cider vinegar" in view.accessibleDescription()


def test_twice_the_size_and_dark_cut_nothing_off(view: ContainsView) -> None:
    view.set_box(contains_box(demo(), build("Pear Signal").id))
    view.open("foraged-lookalike")
    view.set_appearance(Appearance(dark_theme(), application_fonts(2.0), Measures(2.0)))
    fit(view, 376)
    assert is_whole(view)
    assert QRectF(view.rect()).height() > 200


MAY = (
    MayContain(("eggs", "milk"), ("egg", "milk"), "by the tins"),
    MayContain(("nuts",), ("nuts",), "with the oats of a mill whose name goes on and on and on"),
)


def test_what_may_get_in_stands_beneath_what_is_contained_and_is_whole(view: ContainsView) -> None:
    view.set_box(ContainsBox((ContainedAllergen("gluten", "from the oats"),), may_contain=MAY))
    contains, may = view.labels
    assert "gluten" in contains.text()
    assert "egg" not in contains.text()
    assert may.text().index("egg, milk") < may.text().index("by the tins") < may.text().index("nuts")
    assert may.y() >= contains.geometry().bottom()
    assert may.accessibleName().startswith("May contain egg, milk by the tins; nuts with the oats")
    for width in WIDTHS:
        fit(view, width)
        assert is_whole(view), width


def test_what_speaks_against_a_diet_is_told_and_nothing_for_one(view: ContainsView) -> None:
    view.set_box(ContainsBox(diet=("Not vegan: egg white",)))
    assert "Not vegan: egg white" in view.labels[1].text()
    view.set_box(ContainsBox())
    assert len(view.labels) == 1
