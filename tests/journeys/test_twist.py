"""J3: duplicate a drink as a twist, swap one part, see both shapes and every difference; keep both, or one of them."""

from collections.abc import Callable

from tests.document.bytes import bytes_of
from tests.journeys.driver import Person, kept_rows
from washline.presentation.book_rows import Section
from washline.ui.build.columns import NAME

PARENT, TWIST = "Pear Signal", "Quince Signal"


def make_twist(person: Person) -> None:
    """Twist, another name, another part; by the button, the title and the completion under the name."""
    person.find("pear signal")
    person.press_button("Twist")
    person.see(lambda: person.sheet.title.text() == "Pear Signal, twist")
    person.click(person.sheet.title)
    person.see(person.sheet.title.hasFocus)
    person.hands.press("Ctrl+A")
    person.hands.type(TWIST)
    person.hands.press("Return")
    person.see(lambda: person.build.name == TWIST)
    person.click_row("pear-sorrel", NAME)
    person.hands.type("quince shr")
    person.see(lambda: person.editor.text() == "quince shr" and person.proposals[0] == "quince shrub")
    person.hands.press("Down")
    person.hands.press("Return")
    person.see(lambda: not person.sheet.tree.is_editing)
    person.see(lambda: person.row("quince shrub").name == "quince shrub")


def compare(person: Person) -> None:
    person.press_button("Compare")
    person.see(person.workspace.twist.isVisible)


def listed_drinks(person: Person) -> list[str]:
    """The drinks in the list, with nothing typed into Find."""
    person.clear_find()
    rows = person.window.book.views[Section.DRINKS].rows
    return [str(rows.index(number).data()) for number in range(rows.rowCount())]


def names_of_lines(person: Person) -> list[str]:
    return [row.name for row in person.sheet.model.rows() if row.is_step]


def test_twist_lies_over_its_parent_with_every_difference_in_figures_and_words(person: Person) -> None:
    person.find("pear signal")
    parents_axes = person.workspace.balance.radar.shape_shown.values
    make_twist(person)
    assert person.labels == [
        "swap of pear-sorrel cordial for quince shrub",
        "renaming Pear Signal, twist to Quince Signal",
        "twist of Pear Signal",
    ]
    shape = person.workspace.balance.radar.shape_shown
    assert (shape.parent, shape.parent_name) == (parents_axes, PARENT)
    assert shape.values != parents_axes
    assert "Twist of Pear Signal, being tried" in person.texts()

    compare(person)
    view = person.workspace.twist
    assert view.heading.words == (PARENT, "and its", TWIST)
    assert "Twisted from Pear Signal · one part swapped, five lines the same · being tried" in person.texts()
    shown = view.table.texts
    assert shown is not None
    assert [line.spoken.split(", ")[1] for line in shown.lines if line.differs] == ["swapped"]
    swapped = next(line for line in shown.lines if line.differs)
    assert (swapped.parent_name, swapped.parent_amount) == ("pear-sorrel cordial", "22.5")
    assert (swapped.twist_name, swapped.twist_amount) == ("quince shrub", "22.5")
    # The cordial brings 9.50 g of sugars; the shrub has 36.9 g in 100 ml (DEMO 1.3), in 22.5 ml 8.30 g: 1.2 g less.
    assert swapped.brings[0] == "\u22121.2 g sugars"
    sweet = next(reading for reading in shown.readings if reading.key == "sweetness")
    assert (sweet.parent, sweet.change[0], sweet.verdict) == ("7.2", "\u2212", "clear")
    length = next(reading for reading in shown.readings if reading.key == "length")
    assert (length.parent, length.twist, length.verdict) == ("169", "169", "same")
    assert view.radar.shape_shown.parent == parents_axes
    person.press_button("Only differences")
    person.see(lambda: view.table.texts is not None and len(view.table.texts.lines) == 1)
    person.hands.press("Esc")
    person.see(person.sheet.tree.isVisible)


def kept_both(person: Person) -> None:
    assert listed_drinks(person).count(TWIST) == listed_drinks(person).count(PARENT) == 1
    assert "being tried" not in person.texts()
    assert person.labels[0] == "keeping Quince Signal"


def twist_in_its_place(person: Person) -> None:
    assert TWIST not in listed_drinks(person)
    assert person.sheet.title.text() == PARENT
    assert "quince shrub" in names_of_lines(person)
    assert person.labels[0] == "putting Quince Signal in the place of Pear Signal"


def twist_gone(person: Person) -> None:
    assert TWIST not in listed_drinks(person)
    assert person.sheet.title.text() == PARENT
    assert "pear-sorrel cordial" in names_of_lines(person)
    assert person.labels[0] == "letting Quince Signal go"


CHOICES: tuple[tuple[str, Callable[[Person], None]], ...] = (
    ("Keep both", kept_both),
    ("Twist takes its place", twist_in_its_place),
    ("Let the twist go", twist_gone),
)


def test_each_choice_about_a_twist_is_one_step_that_undo_takes_back_to_the_byte(person: Person) -> None:
    first = bytes_of(person.document.book)
    make_twist(person)
    tried = bytes_of(person.document.book)
    for button, check in CHOICES:
        person.find("quince signal")
        compare(person)
        person.press_button(button)
        person.see(person.sheet.tree.hasFocus)
        check(person)
        assert len(person.labels) == 4
        undo(person)
        assert bytes_of(person.document.book) == tried
        assert kept_rows(person.document.path) == tried
    while standing(person):
        undo(person)
    assert bytes_of(person.document.book) == first
    assert kept_rows(person.document.path) == first


def undo(person: Person) -> None:
    count = len(standing(person))
    person.hands.press("Ctrl+Z")
    person.see(lambda: len(standing(person)) == count - 1)


def standing(person: Person) -> list[str]:
    """The entries of the history that are not undone."""
    return [entry.label for entry in person.document.history() if not entry.is_undone][:-1]
