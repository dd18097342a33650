"""What the quick finder finds."""

from tests.presentation.small_house import CORDIAL, SIGNAL, house
from washline.presentation.finder import FoundKind, candidate, candidates_of, find, score

DARK = candidate(FoundKind.COMMAND, "dark", "Colours: dark", "")


def heads(text: str) -> list[str]:
    return [group.head for group in find([*candidates_of(house()), DARK], text)]


def found(text: str) -> list[str]:
    return [one.name for group in find([*candidates_of(house()), DARK], text) for one in group.found]


def test_drinks_come_before_parts_leftovers_and_raw_ingredients() -> None:
    assert heads("pear") == ["Drinks", "House-made", "Leftovers", "Raw ingredients"]


def test_name_that_begins_with_the_word_comes_first() -> None:
    known = [
        candidate(FoundKind.RAW, number, name)
        for number, name in enumerate(["ripe pear", "pear juice", "spear"])
    ]
    assert [one.name for one in find(known, "pear")[0].found] == ["pear juice", "ripe pear", "spear"]


def test_every_word_must_be_found() -> None:
    assert found("pear signal") == ["Pear Signal"]
    assert found("pear zebra") == []


def test_case_and_accents_do_not_matter() -> None:
    known = [candidate(FoundKind.DRINK, 1, "Crème Marsh")]
    assert [one.name for one in find(known, "CREME")[0].found] == ["Crème Marsh"]


def test_letters_in_order_find_a_name_only_where_nothing_else_does() -> None:
    assert found("prsgn") == ["Pear Signal"]
    assert score("pear signal", ["prs"]) is None
    assert score("pear signal", ["prs"], is_loose=True) is not None


def test_command_is_found_by_its_words() -> None:
    assert found("colours dark") == ["Colours: dark"]


def test_without_words_the_recent_come_first_then_the_commands() -> None:
    recent = [(FoundKind.DRINK, SIGNAL), (FoundKind.PART, CORDIAL), (FoundKind.DRINK, 9999)]
    groups = find([*candidates_of(house()), DARK], "", recent)
    assert [(group.head, [one.name for one in group.found]) for group in groups] == [
        ("Recent", ["Pear Signal", "pear cordial"]),
        ("Commands", ["Colours: dark"]),
    ]


def test_recent_one_stands_above_an_equal() -> None:
    known = [candidate(FoundKind.DRINK, 1, "Marsh A"), candidate(FoundKind.DRINK, 2, "Marsh B")]
    assert [one.key for one in find(known, "marsh", [(FoundKind.DRINK, 2)])[0].found] == [2, 1]


def test_a_group_is_not_endless() -> None:
    known = [candidate(FoundKind.RAW, number, f"salt {number}") for number in range(50)]
    assert len(find(known, "salt")[0].found) == 8
