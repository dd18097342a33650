"""J5: the spec card of a drink is exported, and somebody else makes the drink from it and from its build file."""

import os
import subprocess
import sys
from pathlib import Path

from PySide6.QtGui import QImage

from tests.journeys.driver import Person
from tests.ui.papers.pdf_text import pdf_words

DRINK = "Sloe Tide"

POURS = (
    "Dry gin, 47 % 45 1½",
    "Sloe gin, 26 % 15 ½",
    "lemon juice, ours (breakdown)",
    "22.5 ¾",
    "peel sugar syrup",
    "Egg white, fresh",
    "20 ⅔",
)
"""Every pour in order, ml and oz of 30 ml: 45 are 1½, 22.5 are ¾, 20 are two thirds."""

WARNINGS = (
    "Contains egg",
    "Unknown: Cider vinegar, 5 % (in quince paste); Sloe gin, 26 %; Aromatic bitters, 44.7 %.",
    "Read the labels.",
    "Contains raw egg: tell the guest.",
    "not legal or safety advice.",
    "follow your local food code and ask a qualified person.",
)


def words_of(path: Path) -> str:
    """The words of a PDF with single blanks."""
    return " ".join(pdf_words(path.read_bytes()).split())


def show_papers(person: Person) -> None:
    person.find("sloe")
    person.press_button("Papers")
    person.see(lambda: person.workspace.papers.isVisible() and person.workspace.papers.card)


def export(person: Person, button: str, path: Path) -> None:
    with person.answering_file_dialog(path):
        person.press_button(button)
    person.see(lambda: f"written to {path}" in person.texts())
    assert path.is_file()


def test_card_holds_every_pour_and_every_warning_in_window_files_and_console(
    person: Person, tmp_path: Path
) -> None:
    show_papers(person)
    card = person.workspace.papers.card
    assert card is not None
    assert [pour.name for pour in card.pours] == [row.name for row in person.sheet.model.rows()][:5]
    assert person.workspace.papers.preview.images
    export(person, "Export PDF…", tmp_path / "card.pdf")
    words = words_of(tmp_path / "card.pdf")
    places = [words.find(pour) for pour in POURS]
    assert -1 not in places
    assert places == sorted(places)
    assert [warning for warning in WARNINGS if warning not in words] == []

    export(person, "Export PNG…", tmp_path / "card.png")
    picture = QImage(str(tmp_path / "card.png"))
    # A5 of 420 x 595 points at 300 dots per inch.
    assert (picture.width(), picture.height()) == (1750, 2479)

    without_display = {
        name: value
        for name, value in os.environ.items()
        if name not in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    }
    subprocess.run(
        [sys.executable, "-m", "washline", "card", DRINK, "--book", str(person.document.path)]
        + ["--out", str(tmp_path / "console.pdf"), "--quiet"],
        env=without_display,
        check=True,
        timeout=50,
    )
    assert words_of(tmp_path / "console.pdf") == words


def test_build_file_reads_the_same_figures_in_another_house(person: Person, tmp_path: Path) -> None:
    show_papers(person)
    file = tmp_path / "sloe-tide.build.json"
    export(person, "Export build file…", file)
    person.hands.press("Esc")
    person.see(person.sheet.tree.isVisible)
    figures, rows = person.readings(), [row.figures for row in person.sheet.model.rows()]
    assert figures["strength"] == "14.9"

    with person.answering_file_dialog(tmp_path / "Reed House.housebook"):
        person.choose("House book", "New house book")
    person.see(lambda: len(person.programs[-1].windows) == 2)
    person.take_window()
    assert "No drinks yet." in person.texts()
    with person.answering_file_dialog(file):
        person.choose("House book", "Import build file")
    person.see(lambda: person.sheet.title.isVisible() and person.sheet.title.text() == DRINK)
    assert person.readings() == figures
    assert [row.figures for row in person.sheet.model.rows()] == rows
    assert person.labels == ["import of Sloe Tide"]
    person.hands.press("Ctrl+Z")
    person.see(lambda: "No drinks yet." in person.texts())
