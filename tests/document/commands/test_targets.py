import pytest

from tests.document.doing import done
from tests.document.house import APERITIF, SIGNAL, TOP_ID, house
from washline.document.commands.command import Command, Refusal, in_turn
from washline.document.commands.targets import (
    add_aim,
    move_aim,
    new_target,
    remove_aim,
    remove_target,
    rename_target,
    set_aim,
    set_gate,
)
from washline.model.book import HouseBook
from washline.model.reading import READING_KEYS
from washline.model.target import Aim

HOUSE = house()
THREE = [Aim("strength", 13.0, 16.0, 20.0), Aim("sweetness", 4.0, 7.0, 9.0), Aim("acidity", 0.5, 0.7, 0.9)]


def readings(book: HouseBook) -> list[str]:
    return [aim.reading for aim in book.targets[APERITIF].aims]


def test_a_target_is_made_of_aims_in_their_order() -> None:
    target = done(HOUSE, new_target("shaken sour", THREE)).targets[TOP_ID + 1]
    assert (target.name, list(target.aims)) == ("shaken sour", THREE)


def test_a_target_is_renamed() -> None:
    assert done(HOUSE, rename_target(APERITIF, " low  strength ")).targets[APERITIF].name == "low strength"


def test_an_aim_is_changed_added_moved_and_removed() -> None:
    wider = Aim("acidity", 0.3, 0.5, 0.8)
    book = done(HOUSE, in_turn(set_aim(APERITIF, wider), add_aim(APERITIF, Aim("fizz", 1.5, 3.0, 4.5), at=1)))
    assert wider in book.targets[APERITIF].aims
    assert readings(book) == ["strength", "fizz", "sweetness", "acidity", "ethanol"]
    assert readings(done(book, move_aim(APERITIF, "fizz", 3))) == [
        "strength", "sweetness", "acidity", "fizz", "ethanol",
    ]  # fmt: skip
    assert readings(done(book, remove_aim(APERITIF, "fizz"))) == readings(HOUSE)


def test_a_gate_is_no_axis_and_can_become_one() -> None:
    assert [aim.reading for aim in HOUSE.targets[APERITIF].axes] == ["strength", "sweetness", "acidity"]
    book = done(HOUSE, set_gate(APERITIF, "ethanol", is_gate=False))
    assert [aim.reading for aim in book.targets[APERITIF].axes] == [
        "strength",
        "sweetness",
        "acidity",
        "ethanol",
    ]
    assert [aim.reading for aim in HOUSE.targets[APERITIF].gates] == ["ethanol"]


@pytest.mark.parametrize(
    ("command", "words"),
    [
        (
            set_aim(APERITIF, Aim("acidity", 0.8, 0.5, 0.9)),
            "The aim for acidity must rise: 0.8 to 0.9 with 0.5",
        ),
        (set_aim(APERITIF, Aim("acidity", 0.1, 0.5, 0.4)), "The aim for acidity must rise"),
        (
            set_aim(APERITIF, Aim("acidity", 0.1, 0.5, float("inf"))),
            "The aim for acidity must be made of numbers",
        ),
        (set_aim(APERITIF, Aim("fizz", 1.0, 2.0, 3.0)), "This target has no aim for fizz"),
        (add_aim(APERITIF, Aim("acidity", 0.1, 0.5, 0.9)), "aperitif has two aims for acidity"),
        (add_aim(APERITIF, Aim("colour", 0.1, 0.5, 0.9)), "There is no reading colour"),
        (remove_aim(APERITIF, "acidity"), "A target has 3 to 10 axes; aperitif would have 2"),
        (set_gate(APERITIF, "acidity", is_gate=True), "A target has 3 to 10 axes; aperitif would have 2"),
        (new_target("all", [Aim(key, 0.0, 1.0, 2.0) for key in READING_KEYS[:11]]), "all would have 11"),
        (rename_target(999, "none"), "This target is no longer in the house book"),
        (new_target(" ", THREE), "A name is missing"),
    ],
)
def test_a_target_that_cannot_be_is_refused(command: Command, words: str) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, command)


def test_a_target_that_drinks_are_judged_by_is_removed_only_if_they_are_to_have_none() -> None:
    with pytest.raises(Refusal, match="The target aperitif cannot be removed. Pear Signal is judged by it"):
        done(HOUSE, remove_target(APERITIF))
    book = done(HOUSE, remove_target(APERITIF, and_clear=True))
    assert APERITIF not in book.targets
    assert book.builds[SIGNAL].target_id is None
