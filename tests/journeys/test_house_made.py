"""A house-made part changed inside a drink: the row asks where it counts, and each answer is one step to undo."""

from tests.document.bytes import bytes_of
from tests.journeys.driver import Person, kept_rows
from washline.ui.build.columns import AMOUNT

ACID = "Malic acid"
SOUR = "0.63"
"""What the drink reads, in g per 100 ml, as by hand."""
# The third drink has a leather made of the pear that the cordial leaves.
EVERYWHERE, HERE = "Change in all 3 drinks", "Make a twist of it for this drink"
DRINKS = ("Pear Signal", "Pear Signal, bay twist", "Quince Ferry")


def change_acid(person: Person) -> None:
    """Opens the cordial inside Pear Signal and doubles its malic acid."""
    person.find("pear signal")
    person.open_part("pear-sorrel")
    assert person.amount(ACID) == "24 g"
    person.type_amount(ACID, "48 g")
    person.hands.press("Return")
    person.see(person.sheet.strip.isVisible)


def acidity(person: Person, drink: str) -> float:
    """What the house book reads for a drink."""
    build = next(build for build in person.document.book.drinks() if build.name == drink)
    value = person.document.workings.result_now(build.id).value("acidity")
    assert value is not None
    return value


def parts(person: Person) -> set[str]:
    return {build.name for build in person.document.book.parts()}


def undo_all(person: Person, before: bytes) -> None:
    person.hands.press("Ctrl+Z")
    person.see(lambda: bytes_of(person.document.book) == before)
    assert kept_rows(person.document.path) == before


def test_row_asks_and_nothing_is_written_before_the_answer(person: Person) -> None:
    before = bytes_of(person.document.book)
    change_acid(person)
    assert person.sheet.strip.words == (
        "A change of pear-sorrel cordial reaches 3 drinks. Where does it count?"
    )
    assert [button.text() for button in person.sheet.strip.buttons] == [EVERYWHERE, HERE]
    # What it would do is shown while the question stands.
    assert person.view.is_preview
    assert person.readings()["acidity"] != SOUR
    assert person.labels == []
    person.hands.press("Esc")
    person.see(lambda: not person.sheet.strip.isVisible())
    assert person.readings()["acidity"] == SOUR
    assert bytes_of(person.document.book) == kept_rows(person.document.path) == before


def test_change_everywhere_reaches_every_drink(person: Person) -> None:
    before = bytes_of(person.document.book)
    sour, twist_sour = acidity(person, DRINKS[0]), acidity(person, DRINKS[1])
    change_acid(person)
    shown = person.readings()["acidity"]
    person.press_button(EVERYWHERE)
    person.see(lambda: person.labels == ["change of Malic acid, DL"])
    assert person.readings()["acidity"] == shown
    assert acidity(person, DRINKS[0]) > sour + 0.1
    assert acidity(person, DRINKS[1]) > twist_sour + 0.1
    undo_all(person, before)
    assert person.readings()["acidity"] == SOUR


def test_twist_for_this_drink_leaves_the_other_as_it_is(person: Person) -> None:
    before, parts_before = bytes_of(person.document.book), parts(person)
    sour, others = acidity(person, DRINKS[0]), [acidity(person, drink) for drink in DRINKS[1:]]
    change_acid(person)
    shown = person.readings()["acidity"]
    person.press_button(HERE)
    person.see(lambda: len(person.labels) == 1)
    assert person.labels == ["change of pear-sorrel cordial for Pear Signal alone"]
    assert parts(person) - parts_before == {"pear-sorrel cordial, for Pear Signal"}
    assert person.readings()["acidity"] == shown
    assert acidity(person, DRINKS[0]) > sour + 0.1
    assert [acidity(person, drink) for drink in DRINKS[1:]] == others
    undo_all(person, before)
    assert parts(person) == parts_before


def test_question_that_is_not_answered_leaves_what_was_typed_for_the_next_start(person: Person) -> None:
    before = kept_rows(person.document.path)
    change_acid(person)
    person.leave()
    assert kept_rows(person.places.demo_book) == before
    person.start()
    index = person.sheet.model.index_of(person.row(ACID).key, AMOUNT)
    draft = person.sheet.model.draft(index)
    assert draft is not None
    assert (draft.text, draft.expected) == ("48 g", "Not written: choose where it counts.")
