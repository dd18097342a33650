"""Figures in words: at least, unknown, ±, in band or out, gates, units of alcohol."""

from dataclasses import replace

import numpy as np
import pytest
from msgspec import structs

from tests.presentation.demo import build, demo, readings, target_of
from washline.engine.result import Result
from washline.engine.spread import Spread
from washline.model.reading import READING_INDEX, READING_KEYS
from washline.model.target import Aim, Target
from washline.presentation.keeping import HouseDate
from washline.presentation.readings import (
    NOTHING_POURED,
    Readings,
    balance,
    band_state,
    currency_sign,
    gate_row,
    house_date,
    is_at_least,
    reading_row,
    units_words,
)
from washline.quantity.formatting import ENGLISH_STYLE

SWEET = Aim("sweetness", 4.5, 7.0, 9.5)
COUNT = len(READING_KEYS)


def result(more: dict[str, float] | None = None, **values: float) -> Result:
    """A result with these readings and no others; ``more`` is how much higher they may be."""
    row, higher = np.full(COUNT, np.nan), np.zeros(COUNT)
    for key, value in values.items():
        row[READING_INDEX[key]] = value
    for key, value in (more or {}).items():
        higher[READING_INDEX[key]] = value
    return Result(1, row, higher)


def words(found: Result, spread: Spread | None = None, **fields: object) -> Readings:
    return replace(Readings(build("Pear Signal"), demo().settings, found, spread), **fields)  # type: ignore[arg-type]


def spread(**sides: float) -> Spread:
    up = np.zeros(COUNT)
    for key, value in sides.items():
        up[READING_INDEX[key]] = value
    return Spread(up, up.copy(), ())


def test_a_figure_has_the_decimals_of_its_reading() -> None:
    found = words(result(strength=6.7034, acidity=0.62003, length=168.22))
    assert [found.figure(key).number for key in ("strength", "acidity", "length")] == ["6.7", "0.62", "168"]


def test_a_spread_stands_behind_the_figure_and_is_rounded_to_the_same_place() -> None:
    shown = words(result(sweetness=7.217), spread(sweetness=0.2575)).figure("sweetness")
    assert (shown.number, shown.spread) == ("7.2", "± 0.3")


def test_a_spread_below_the_last_digit_says_so_and_is_not_zero() -> None:
    assert words(result(length=168.2), spread(length=0.26)).figure("length").spread == "± < 1"


def test_what_rounding_leaves_is_no_spread() -> None:
    assert words(result(strength=9.278), spread(strength=3.6e-15)).figure("strength").spread == ""


def test_without_a_cause_there_is_no_spread() -> None:
    assert words(result(strength=9.278), spread()).figure("strength").spread == ""


def test_an_unknown_that_moves_the_last_digit_makes_it_at_least() -> None:
    shown = words(result({"sweetness": 0.08}, sweetness=9.78)).figure("sweetness")
    assert shown.text == "at least 9.8"


def test_an_unknown_that_moves_no_digit_is_not_mentioned() -> None:
    assert words(result({"sweetness": 0.002}, sweetness=7.217)).figure("sweetness").text == "7.2"


def test_a_price_that_nobody_knows_makes_the_cost_at_least() -> None:
    assert is_at_least(result({"cost": float("inf")}, cost=1.0), "cost")


def test_a_missing_figure_is_a_question_mark_with_its_reason_and_never_zero() -> None:
    shown = words(result()).figure("sweetness")
    assert (shown.number, shown.reasons) == ("?", (NOTHING_POURED,))
    assert NOTHING_POURED in shown.explanation


def test_the_tooltip_tells_definition_and_unit() -> None:
    text = words(result(acidity=0.62)).figure("acidity").explanation
    assert "Titratable acid to pH 8.1" in text
    assert "Unit: g/100 ml" in text


@pytest.mark.parametrize(
    ("value", "expected", "is_out"),
    [
        (7.2, "in band", False),
        (9.5, "in band", False),
        (10.2, "over 0.7", True),
        (11.44, "over 1.9", True),
        (4.0, "under 0.5", True),
        (9.52, "just over", True),
    ],
)
def test_the_state_says_by_how_much_a_reading_is_out(value: float, expected: str, is_out: bool) -> None:
    state = band_state(SWEET, result(sweetness=value), ENGLISH_STYLE)
    assert (state.words, state.is_out) == (expected, is_out)


def test_a_reading_that_may_be_higher_is_not_called_in_band_near_the_edge() -> None:
    assert band_state(SWEET, result({"sweetness": 2.0}, sweetness=9.0), ENGLISH_STYLE).words == "may be over"
    assert band_state(SWEET, result({"sweetness": 2.0}, sweetness=3.0), ENGLISH_STYLE).words == "may be under"


def test_the_row_is_read_with_figure_spread_state_band_and_ideal() -> None:
    row = reading_row(words(result(sweetness=10.2), spread(sweetness=0.4)), SWEET)
    assert row.spoken == (
        "Sweetness 10.2 g/100 ml, plus or minus 0.4, over by 0.7, band 4.5 to 9.5 g/100 ml, ideal 7"
    )


def test_only_what_typing_moved_is_marked() -> None:
    found = words(result(sweetness=7.2, acidity=0.62), before=result(sweetness=6.8, acidity=0.6201))
    assert found.has_moved("sweetness")
    assert not found.has_moved("acidity")


@pytest.mark.parametrize(
    ("more", "value", "expected"),
    [(0.0, 0.0, "kept"), (0.0, 0.6, "broken"), (1.0, 0.2, "not sure")],
)
def test_a_gate_says_whether_it_is_kept(more: float, value: float, expected: str) -> None:
    gate = gate_row(words(result({"strength": more}, strength=value)), Aim("strength", 0.0, 0.0, 0.5, True))
    assert gate.verdict.startswith(expected)
    assert gate.limit == "strength at most 0.5 % vol"


def test_a_gate_whose_reading_is_missing_is_not_kept() -> None:
    assert gate_row(words(result()), Aim("strength", 0.0, 0.0, 0.5, True)).verdict == "?"


def test_ethanol_never_stands_without_the_grams_of_one_unit() -> None:
    # 8.9 g in Australian standard drinks of 10 g: 0.89, shown 0.9.
    assert units_words(readings("Pear Signal")) == "0.9 units of 10 g"


def test_orchard_bell_keeps_its_gate_and_shows_its_five_axes() -> None:
    found = balance(readings("Orchard Bell"), target_of("Orchard Bell"))
    assert [gate.verdict for gate in found.gates] == ["kept"]
    assert [row.key for row in found.rows] == ["sweetness", "acidity", "length", "salt", "bitterness"]


def test_a_reading_stands_once_as_an_axis_or_as_a_plain_figure() -> None:
    found = balance(readings("Pear Signal"), target_of("Pear Signal"))
    keys = [row.key for row in found.rows] + [row.key for row in found.plain]
    assert len(keys) == len(set(keys))
    assert {"ethanol", "energy_kcal", "cost", "salt", "density", "brix_true", "brix_shown"} <= set(keys)


def test_without_a_target_the_figures_stand_without_strips() -> None:
    found = balance(readings("Pear Signal"), None)
    assert [row.strip for row in found.rows] == [None] * 6
    assert found.rows[0].spoken.startswith("Strength 6.7 % vol")


def test_a_house_date_says_that_it_is_not_tested() -> None:
    row = house_date(HouseDate(7), ENGLISH_STYLE)
    assert (row.number, row.tail) == ("7", "days, not tested")
    assert house_date(HouseDate(None), ENGLISH_STYLE).number == "?"


def test_a_house_date_that_is_cut_says_why_in_its_tooltip() -> None:
    row = house_date(HouseDate(1, 14, 1, "lemon juice"), ENGLISH_STYLE)
    assert (row.number, row.tail) == ("1", "day, not tested")
    assert "Cut from 14 days to its shortest input: lemon juice, 1 day." in row.explanation


def test_ph_water_activity_and_freezing_point_are_plain_figures_beside_their_kin() -> None:
    keys = [row.key for row in balance(readings("Pear Signal"), target_of("Pear Signal")).plain]
    assert {"ph", "water_activity", "freezing"} <= set(keys)
    assert keys.index("freezing") == keys.index("chill") + 1


def test_a_ph_of_an_unknown_buffer_is_greyed_and_says_to_measure() -> None:
    # Egg white buffers by its protein, of which no model counts the charge.
    shown = next(row for row in balance(readings("Sloe Tide"), None).plain if row.key == "ph")
    assert shown.is_greyed
    assert shown.reasons[0] == "It holds something whose buffer is not known: measure it."
    assert "measure it" in shown.explanation


def test_an_empty_drink_gives_its_reason_once() -> None:
    target = Target(id=1, name="t", aims=(SWEET, Aim("strength", 1, 2, 3), Aim("acidity", 0.1, 0.2, 0.3)))
    assert balance(words(result(cost=0.0)), target).reasons == (NOTHING_POURED,)


def test_a_currency_without_a_sign_keeps_its_code() -> None:
    assert (currency_sign("EUR"), currency_sign("SEK")) == ("€", "SEK")


def test_a_strength_is_never_written_as_none() -> None:
    shown = words(result(strength=0.003, ethanol=0.01), spread(strength=0.4)).figure("strength")
    assert (shown.number, shown.spread, shown.is_at_least) == ("below 0.05", "", False)
    assert shown.spoken == "below 0.05 % vol"
    assert words(result(strength=0.0)).figure("strength").number == "below 0.05"


def test_a_trace_that_may_be_more_is_below_what_it_may_be() -> None:
    assert words(result({"strength": 0.2}, strength=0.0)).figure("strength").number == "below 0.3"


def test_a_trace_of_which_nobody_knows_the_most_is_not_known_and_says_why() -> None:
    shown = words(result({"strength": float("inf")}, strength=0.0)).figure("strength")
    assert shown.is_unknown
    assert shown.reasons == ("Something in it is not known, so that it may be higher.",)


def test_fizz_says_its_volumes() -> None:
    # 1 volume is 1.977 g/l: a litre of the gas at 0 °C and 1 atm.
    found = words(result(fizz=2.7))
    assert "1.4 volumes of gas" in found.figure("fizz").explanation
    rows = {row.key: row for row in balance(found, Target(id=1, name="bare", aims=())).plain}
    assert rows["fizz"].tail == "g/l · 1.4 volumes"
    assert words(result(fizz=0.0)).figure("fizz").also == ()


def test_the_volume_as_served_stands_beside_the_length() -> None:
    found = words(result(length=168.2, length_served=166.8, chill=-1.0))
    rows = {row.key: row for row in balance(found, Target(id=1, name="bare", aims=())).plain}
    assert rows["length"].tail.replace("\u202f", " ") == "ml · 167 ml as served"
    assert "167 ml as served, at \u22121 °C" in found.figure("length").explanation.replace("\u202f", " ")
    assert "length_served" not in rows


def test_a_house_that_counts_as_in_the_us_reads_proof() -> None:
    # Proof is twice the percentage by volume at 60 °F: 27 CFR 30.11.
    us = replace(words(result(strength=40.0)), settings=structs.replace(demo().settings, alcohol_units="us"))
    assert "proof" in us.figure("strength").explanation
    assert "proof" not in words(result(strength=40.0)).figure("strength").explanation
