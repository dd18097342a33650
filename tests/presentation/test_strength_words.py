"""Strength in words. Limits: PHYSICS.md of the project's reference, section j; each row of the table names its law."""

import csv
import math

import pytest

from washline.assets import resource
from washline.presentation.strength_words import (
    CHECK_LOCAL_RULE,
    STRICTEST,
    highest_strength,
    is_trace,
    laws,
    legal_rows,
    legal_words,
    proof_words,
    reading_number,
    strength_number,
)
from washline.quantity.formatting import NUMBER_STYLES


@pytest.mark.parametrize(
    ("value", "more", "text"),
    [
        (0.0, 0.0, "below 0.05"),
        (1e-12, 0.0, "below 0.05"),
        (0.049999, 0.0, "below 0.05"),
        (0.05, 0.0, "0.1"),
        (0.43, 0.0, "0.4"),
        (36.3, 0.0, "36.3"),
        (0.0, 0.04, "below 0.05"),
        (0.0, 0.05, "below 0.1"),
        (0.02, 0.29, "below 0.4"),
        (0.0, 1.0, "?"),
        (0.0, math.inf, "?"),
        (None, 0.0, "?"),
        (math.nan, 0.0, "?"),
        (-1.0, 0.0, "−1.0"),
    ],
)
def test_strength_is_never_written_as_none_and_the_unknown_not_as_a_trace(
    value: float | None, more: float, text: str
) -> None:
    assert strength_number(value, more=more) == text


def test_below_is_written_with_the_marks_of_the_person() -> None:
    assert strength_number(0.0, NUMBER_STYLES["de_DE"]) == "below 0,05"


@pytest.mark.parametrize("key", ["strength", "ethanol"])
def test_strength_and_grams_of_ethanol_are_the_readings_that_are_never_none(key: str) -> None:
    assert reading_number(key, 0.0, 1) == "below 0.05"


def test_any_other_reading_may_be_none() -> None:
    assert reading_number("sweetness", 0.0, 1) == "0.0"
    assert not is_trace(0.05)
    assert not is_trace(None)


# 27 CFR 5: proof is twice the percent by volume; Sloe gin at 26 % vol is 52 proof.
@pytest.mark.parametrize(
    ("value", "text"), [(40.0, "80.0 proof"), (26.0, "52.0 proof"), (0.01, ""), (None, "")]
)
def test_proof_stands_where_the_house_counts_as_in_the_us(value: float | None, text: str) -> None:
    assert proof_words(value, "us") == text
    assert proof_words(value, "uk") == ""


# UK guidance on low-alcohol descriptors; 27 CFR 7; Regulation (EU) 2021/2117: all from memory.
@pytest.mark.parametrize(
    ("law", "highest", "word"),
    [
        ("uk", 0.05, "alcohol-free"),
        ("uk", 0.06, "low-alcohol"),
        ("uk", 1.2, "low-alcohol"),
        ("uk", 1.21, ""),
        ("us", 0.05, ""),
        ("eu", 0.05, ""),
        (STRICTEST, 0.05, "low-alcohol"),
        (STRICTEST, 1.2, "low-alcohol"),
        (STRICTEST, 1.3, ""),
        ("fr", 0.05, ""),
    ],
)
def test_a_word_stands_where_its_law_lets_any_drink_bear_it(law: str, highest: float, word: str) -> None:
    assert legal_words(law, highest).word == word


def test_two_dashes_of_bitters_are_over_the_uk_line_of_alcohol_free() -> None:
    # PHYSICS.md j: 1.9 ml of 45 % vol in 200 ml make 0.43 % vol.
    assert legal_words("uk", 100.0 * 1.9 * 0.45 / 200.0).word == "low-alcohol"


@pytest.mark.parametrize(
    ("law", "highest", "words"),
    [
        ("us", 0.05, {"non-alcoholic", "low-alcohol", "reduced-alcohol"}),
        ("us", 0.5, {"low-alcohol", "reduced-alcohol"}),
        ("us", 2.5, set()),
        ("uk", 0.5, {"de-alcoholised", "low-alcohol"}),
        ("eu", 0.5, {"de-alcoholised"}),
        ("eu", 0.51, {"partially de-alcoholised"}),
        ("eu", 8.5, set()),
    ],
)
def test_words_for_some_drinks_are_listed_with_their_conditions(
    law: str, highest: float, words: set[str]
) -> None:
    allowed = legal_words(law, highest).allowed
    assert {row.word for row in allowed} == words
    assert all(row.condition and row.source for row in allowed)


def test_no_law_lets_a_computed_drink_be_called_free_of_all_alcohol() -> None:
    # Below 0.05 is what is known; 27 CFR 7 asks for none at all.
    for law in ("us", "eu", STRICTEST):
        assert "alcohol-free" not in {row.word for row in legal_words(law, highest_strength(0.0)).allowed}


def test_the_strictest_takes_the_lowest_limit_of_each_word() -> None:
    limits = {row.word: row.highest_pct_vol for row in legal_words(STRICTEST, 0.0).allowed}
    limits |= {row.word: row.highest_pct_vol for row in legal_words(STRICTEST, 0.05).allowed}
    assert limits == {
        "alcohol-free": 0.0, "non-alcoholic": 0.5, "de-alcoholised": 0.5, "low-alcohol": 1.2, "reduced-alcohol": 2.5,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("law", "highest", "lines"),
    [("us", 0.49, 0), ("us", 0.5, 1), ("eu", 1.19, 0), ("eu", 1.2, 1), (STRICTEST, 1.2, 2), ("uk", 40.0, 0)],
)
def test_the_lines_that_are_crossed_are_told(law: str, highest: float, lines: int) -> None:
    assert len(legal_words(law, highest).lines) == lines


@pytest.mark.parametrize(
    ("value", "more", "sigma", "highest"),
    [
        (0.0, 0.0, None, 0.05),
        (0.03, 0.0, 0.005, 0.05),
        (0.4, 0.0, 0.06, 0.52),
        (0.4, 0.3, None, 0.7),
        (None, 0.0, None, None),
        (0.0, math.inf, None, None),
    ],
)
def test_a_limit_is_held_against_the_highest_that_a_strength_may_be(
    value: float | None, more: float, sigma: float | None, highest: float | None
) -> None:
    found = highest_strength(value, more, sigma)
    assert found == (highest if highest is None else pytest.approx(highest))


def test_text_says_word_law_limit_and_whom_to_ask() -> None:
    assert legal_words("uk", 0.05).text == (
        "may be called alcohol-free (United Kingdom: at most 0.05\u202f% vol). Check your local rule."
    )
    assert legal_words(STRICTEST, 0.05).text == (
        "may be called low-alcohol, not alcohol-free (the strictest known: at most 1.2\u202f% vol). "
        "Check your local rule."
    )


@pytest.mark.parametrize("law", ["us", "eu", "xx", STRICTEST, "uk"])
def test_every_law_known_or_not_says_to_check_the_local_rule(law: str) -> None:
    assert legal_words(law, 0.05).text.endswith(CHECK_LOCAL_RULE)
    assert legal_words(law, 0.05).explanation.endswith(CHECK_LOCAL_RULE)


def test_a_strong_drink_has_no_word_for_a_low_strength() -> None:
    assert legal_words(STRICTEST, 6.7).text == ""
    assert legal_words(STRICTEST, None).text == ""


def test_every_row_names_its_source_its_condition_and_whether_it_is_from_memory() -> None:
    with resource("tables", "strength_words.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == len(legal_rows()) == 13
    for row in rows:
        assert row["source"]
        assert row["condition"]
        assert row["from_memory"] in ("yes", "no")
        assert row["kind"] in ("word", "line")


def test_the_strictest_known_is_the_first_to_choose() -> None:
    assert list(laws()) == [STRICTEST, "uk", "us", "eu"]


def test_no_text_promises_that_there_is_none() -> None:
    told = " ".join(legal_words(law, 0.05).explanation for law in laws())
    assert "0.0 %" not in told
    assert "free from" not in told
