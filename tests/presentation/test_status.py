"""The words of the status line."""

from datetime import UTC, datetime, timedelta

import pytest

from tests.presentation.small_house import house
from washline.model.book import HouseBook
from washline.presentation.status import count_drinks, facts, last_words, when_words

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)


def test_counts_state_and_units() -> None:
    assert facts(house(), 2, 0) == "2 drinks, 2 house-made up to date · ml, g, °C · 1 oz = 30 ml"


def test_what_is_not_up_to_date_is_counted() -> None:
    assert facts(house(), 2, 3) == "2 drinks, 2 house-made, 3 of 4 not up to date · ml, g, °C · 1 oz = 30 ml"


def test_empty_book_claims_nothing() -> None:
    assert facts(HouseBook(), 0, 0) == "0 drinks, 0 house-made · ml, g, °C · 1 oz = 30 ml"


def test_last_change_names_the_keys_that_take_it_back() -> None:
    assert last_words("change of verjus", "Ctrl+Z") == "last: change of verjus, undo Ctrl+Z"
    assert last_words("", "Ctrl+Z") == ""


@pytest.mark.parametrize("days, start", [(0, ""), (1, "yesterday "), (4, "21 Nov 2026 ")])
def test_moment_is_said_as_people_do(days: int, start: str) -> None:
    when = NOON - timedelta(days=days)
    assert when_words(when, NOON) == f"{start}{when.astimezone():%H:%M}"


def test_only_what_ends_in_a_glass_counts_as_a_drink() -> None:
    assert count_drinks(house()) == 2
