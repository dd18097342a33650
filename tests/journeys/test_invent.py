"""J2: from an empty house book, produce becomes two house-made parts, their leftovers a third and a garnish, and all of it
two drinks; nothing goes missing or is left unseen, and what nobody knows or has to heed reaches every paper."""

import json
import os
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest

from tests.document.bytes import bytes_of
from tests.journeys.driver import Person, kept_rows
from tests.ui.papers.pdf_text import pdf_words
from washline.presentation.ledger_table import LedgerTexts
from washline.presentation.row_words import RowKind
from washline.quantity.formatting import UNIT_SPACE
from washline.ui.balance.contains_box import CautionButton

SHRUB = (
    "800 g Quince, peeled and cored from 1,311 g",
    "60 % of line 1 sugar",
    "rest 24 h at 4 C",
    "50 % of line 1 Cider vinegar, 5 %",
    "rest 24 h at 4 C",
    "press 1,270 g leaving spent quince 390 g",
)
PASTE = (
    "390 g spent quince",
    "45 % of line 1 sugar",
    "4 % of line 1 Lemon juice, fresh, strained",
    "reduce to 68 %",
)
BRINE = (
    "600 g Beetroot, peeled from 896 g",
    "1000 g water",
    "2 % Salt, fine",
    "ferment lactic 6 days 18-20 C 4 g gas to pH 3.5 0.73 % acidity discard above 4.2 on day 4",
    "titration 0.73 % acidity",
    "strain fine 1,010 g leaving pickled beet 610 g",
)
HIGHBALL = ("45 ml Aged cider spirit (calvados type), 40 %", "25 ml quince shrub", "chill build long")
SOUR = (
    "45 ml Aquavit (caraway/dill), 40 %",
    "22.5 ml Lemon juice, fresh, strained",
    "20 ml Simple syrup 1:1 by weight (50 degBx)",
    "10 ml beet brine",
    "1 dash Celery bitters, 44 %",
    "chill swizzle",
)
FERMENT = {"ferment-alcohol", "ferment-gas", "ferment-ph", "ferment-salt"}
VINEGAR, AQUAVIT = "Cider vinegar, 5 % (in quince shrub and quince paste)", "Aquavit (caraway/dill), 40 %"


@pytest.fixture
def in_new_book(person: Person, tmp_path: Path) -> Person:
    """The person has made a house book of their own, with nothing in it but the pantry."""
    with person.answering_file_dialog(tmp_path / "Reed House.housebook"):
        person.choose("House book", "New house book")
    person.see(lambda: len(person.programs[-1].windows) == 2)
    person.take_window()
    assert "No drinks yet." in person.texts()
    assert person.document.book.raws
    return person


def make(person: Person, kind: str, name: str, lines: Iterable[str]) -> None:
    """Makes a drink or a part by the menu, names it, and types its lines one after the other."""
    person.choose("House book", f"New {kind}")
    person.hands.press("Ctrl+A")
    person.hands.type(name)
    person.hands.press("Return")
    person.see(lambda: person.sheet.tree.hasFocus() and person.build.name == name)
    for line in lines:
        add(person, line)


def add(person: Person, line: str) -> None:
    """Types one line at the end of what is open."""
    count = len(person.build.steps)
    if not person.sheet.tree.is_editing:
        person.hands.press("Ctrl+Return")
        person.see(lambda: person.sheet.tree.is_editing)
    person.hands.type(line)
    person.see(lambda: person.editor.text() == line)
    if person.proposals:
        person.hands.press("Esc")
        person.see(lambda: not person.proposals)
    person.hands.press("Return")
    person.see(lambda: len(person.build.steps) == count + 1)


def add_by_menu(person: Person, kind: str, line: str) -> None:
    """Adds what is poured on top or stands on the glass."""
    leave_line(person)
    person.choose("Build", "Add step", kind)
    add(person, line)


def leave_line(person: Person) -> None:
    """Closes the line for adding, which has stayed open for the next."""
    if person.sheet.tree.is_editing:
        person.hands.press("Esc")
        person.see(lambda: not person.sheet.tree.is_editing)


def invent(person: Person) -> None:
    """Makes the three parts and the two drinks."""
    make(person, "house-made part", "quince shrub", SHRUB)
    make(person, "house-made part", "quince paste", PASTE)
    make(person, "house-made part", "beet brine", BRINE)
    make(person, "drink", "Quince Ferry", HIGHBALL)
    add_by_menu(person, "Top", "110 ml Soda water, strongly carbonated")
    add_by_menu(person, "Garnish", "6.6 g quince paste")
    make(person, "drink", "Beet Lantern", SOUR)
    add_by_menu(person, "Garnish", "8 g pickled beet")
    leave_line(person)


def note(person: Person, name: str) -> str:
    """The quiet words behind the name of a row."""
    return person.row(name).note.replace(UNIT_SPACE, " ")


def bottle(person: Person) -> str:
    """The grams of the part that is open."""
    row = next(row for row in person.sheet.model.rows() if row.kind is RowKind.BOTTLE)
    return f"{row.amount} {row.unit}"


def check_bench(person: Person) -> None:
    """The parts read as their written builds say (grams in the bottle, pH; the rest is in the tests of the demo house)."""
    person.find("quince shrub")
    assert note(person, "Quince") == "trimmed, 1,311 g bought, edible yield 0.61"
    assert note(person, "Sugar") == "= 480.0 g"
    assert (
        note(person, "left over: spent quince") == "" or person.amount("left over: spent quince") == "390.0 g"
    )
    assert bottle(person) == "1,270 g"
    assert person.readings()["ph"] == "3.39"
    assert person.readings()["acidity"] == "1.82"
    person.find("quince paste")
    assert note(person, "Lemon").startswith("= 15.6 g")
    assert bottle(person) == "395 g"
    person.find("beet brine")
    assert note(person, "Salt") == "= 32.0 g"
    assert "pH 3.5 measured" in note(person, "ferment")
    assert bottle(person) == "1,010 g"
    assert (person.readings()["ph"], person.readings()["salt"]) == ("3.50", "2.09")


def show_flow(person: Person, name: str) -> LedgerTexts:
    """Opens *Where the mass went* of a drink or part, and reads its table."""
    person.find(name)
    person.hands.press("Ctrl+Shift+M")
    person.see(lambda: person.workspace.house.flow is not None and person.workspace.house.flow.isVisible())
    flow = person.workspace.house.flow
    assert flow is not None
    person.see(lambda: name in flow.about.text())
    texts = flow.table.texts
    assert texts is not None
    person.hands.press("Esc")
    person.see(person.sheet.tree.isVisible)
    return texts


def outs(texts: LedgerTexts) -> dict[str, str]:
    """What came out, in grams."""
    return {row.name: row.figures[0] for row in texts.outs}


def check_ledgers(person: Person) -> None:
    """Every gram that was bought is told, for each part and each drink."""
    for name in ("quince shrub", "quince paste", "beet brine", "Quince Ferry", "Beet Lantern"):
        texts = show_flow(person, name)
        assert (name, texts.in_less_out.replace(UNIT_SPACE, " "), texts.closes) == (
            name,
            "in less out: 0.0 g",
            True,
        )
        assert texts.all_in == texts.all_out[0]
    # 1,311 g of quince as bought, 480 of sugar, 400 of vinegar; with the paste into which what is left is followed, its
    # sugar of 175.5 and lemon of 15.6 g: 2,382.1 g. 511 g were trimmed away and 186.0 g left the paste as steam.
    shrub = show_flow(person, "quince shrub")
    assert shrub.all_in == "2,382.1"
    assert outs(shrub)["trimmed away"] == "511.0"
    assert outs(shrub)["lost on filter and jug"] == "20.0"
    glass = outs(show_flow(person, "Beet Lantern"))
    assert glass["on the glass"] == "8.0"


def check_unused(person: Person) -> None:
    """All the spent quince went into the paste; the beet of which a drink takes a slice waits for the next one."""
    person.choose("House book", "Unused leftovers")
    person.see(
        lambda: person.workspace.house.unused is not None and person.workspace.house.unused.isVisible()
    )
    unused = person.workspace.house.unused
    assert unused is not None
    shown = [unused.model.item(row).text() for row in range(unused.model.rowCount())]
    assert shown == [row.name for row in unused.rows] == ["pickled beet"]
    assert unused.rows[0].batch_g == pytest.approx(610.0)
    person.hands.press("Esc")
    person.see(person.sheet.tree.isVisible)


def as_json(person: Person, name: str) -> Any:
    """What the console says of a drink while the window is open."""
    command = [
        sys.executable,
        "-m",
        "washline",
        "compute",
        name,
        "--json",
        "--book",
        str(person.document.path),
    ]
    without_display = {
        key: value for key, value in os.environ.items() if key not in ("DISPLAY", "QT_QPA_PLATFORM")
    }
    done = subprocess.run(
        command, env=without_display, check=True, capture_output=True, text=True, timeout=50
    )
    return json.loads(done.stdout)


def check_papers(
    person: Person, name: str, unknown: str, cautions: set[str], allergens: list[str], path: Path
) -> None:
    """What nobody knows and what is to be heeded stands in the window, on the card, in its PDF and in the JSON."""
    person.find(name)
    box = person.workspace.balance.contains.box
    assert unknown.removesuffix(" (in quince shrub and quince paste)") in box.unknown_in_full
    assert cautions <= {one.key for one in box.cautions}
    assert [one.word for one in box.allergens] == allergens
    assert {one.text() for one in person.all_of(CautionButton)} == {one.short for one in box.cautions}
    person.press_button("Papers")
    person.see(lambda: person.workspace.papers.isVisible() and person.workspace.papers.card)
    card = person.workspace.papers.card
    assert card is not None
    assert unknown in card.box.unknown
    assert cautions <= {one.key for one in card.box.cautions}
    with person.answering_file_dialog(path):
        person.press_button("Export PDF…")
    person.see(path.is_file)
    words = " ".join(pdf_words(path.read_bytes()).split())
    told = [
        f"Unknown: {unknown}",
        "Read the labels.",
        "follow your local food code",
        *(one.text for one in card.box.cautions),
    ]
    assert [one for one in told if one not in words] == []
    person.hands.press("Esc")
    person.see(person.sheet.tree.isVisible)
    found = as_json(person, name)
    assert unknown in found["unknown"]
    assert cautions <= {one["key"] for one in found["cautions"]}
    assert [one["word"] for one in found["allergens"]] == allergens
    assert all(one["text"].endswith(found["deferral"]) for one in found["cautions"])


def standing(person: Person) -> int:
    """How many entries of the history are not undone, but for the one that made the book."""
    return sum(not entry.is_undone for entry in person.document.history(500)) - 1


def press_until(person: Person, keys: str, count: int) -> None:
    """Presses undo or redo until so many entries stand."""
    way = 1 if count > standing(person) else -1
    while standing(person) != count:
        now = standing(person) + way
        person.hands.press(keys)
        person.see(lambda now=now: standing(person) == now)


@pytest.mark.timeout(240)
def test_produce_becomes_two_drinks_and_every_gram_of_it_is_told(in_new_book: Person, tmp_path: Path) -> None:
    person = in_new_book
    first = bytes_of(person.document.book)
    invent(person)
    check_bench(person)
    check_ledgers(person)
    check_unused(person)
    check_papers(person, "Quince Ferry", VINEGAR, {"raw-juice"}, [], tmp_path / "ferry.pdf")
    check_papers(person, "Beet Lantern", AQUAVIT, FERMENT, ["celery"], tmp_path / "lantern.pdf")
    salt = next(one for one in as_json(person, "Beet Lantern")["cautions"] if one["key"] == "ferment-salt")
    assert salt["steps"][0]["words"] == "2 % salt of all that ferments."

    made, count = bytes_of(person.document.book), standing(person)
    readings = person.readings()
    press_until(person, "Ctrl+Z", 0)
    assert bytes_of(person.document.book) == first == kept_rows(person.document.path)
    assert "No drinks yet." in person.texts()
    press_until(person, "Ctrl+Shift+Z", count)
    assert bytes_of(person.document.book) == made == kept_rows(person.document.path)
    person.find("Beet Lantern")
    assert person.readings() == readings


def test_line_that_is_being_typed_when_another_part_is_made_is_kept(in_new_book: Person) -> None:
    person = in_new_book
    make(person, "house-made part", "quince shrub", SHRUB[:1])
    if not person.sheet.tree.is_editing:
        person.hands.press("Ctrl+Return")
    person.hands.type("rest 24 h")
    person.hands.press("Ctrl+Shift+N")
    person.see(lambda: len(list(person.document.book.parts())) == 2)
    assert not person.sheet.tree.is_editing
    shrub = next(part for part in person.document.book.parts() if part.name == "quince shrub")
    assert [type(step).__name__ for step in shrub.steps] == ["Add", "Rest"]
    person.hands.press("Esc")
    person.find("quince shrub")
    add(person, "50 % of line 1 Cider vinegar, 5 %")
