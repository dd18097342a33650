"""The sheet of a batch: rows that add up, figures beside the served drink, and sentences. Weights and volumes are those of
the demo house (DEMO 2.8, 2.10), worked out there by hand."""

import csv
import io
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from tests.presentation.batch_house import (
    BOTTLE,
    GROWLER,
    Pen,
    base,
    batch_of,
    ebb,
    item,
    renamed,
    saltings,
    sour,
    stirred,
)
from washline.model.amount import grams, millilitres
from washline.model.item import BatchService
from washline.presentation.batch import (
    AT_SERVICE,
    INTO_THE_VESSEL,
    READINGS_HEAD,
    BatchRow,
    BatchSheet,
    BatchTable,
    batch_sheet,
    scale_decimals,
)
from washline.presentation.batch_plan import Batched
from washline.presentation.batch_table import comma_separated, tab_separated
from washline.quantity.formatting import FILE_STYLE, NumberStyle


def table(sheet: BatchSheet, name: str) -> BatchTable:
    return next(one for one in sheet.tables if one.name == name)


def row(sheet: BatchSheet, name: str) -> BatchRow:
    return next(one for tables in sheet.tables for one in tables.rows if one.name == name)


def told(sheet: BatchSheet, title: str) -> str:
    return " ".join(sentence for one in sheet.told if one.title == title for sentence in one.sentences)


def is_alert(sheet: BatchSheet, title: str) -> bool:
    return any(one.is_alert for one in sheet.told if one.title == title)


def number(text: str) -> float:
    return float(text.replace(",", ""))


# Weighing out


def test_saltings_for_ten_is_weighed_out_on_one_scale() -> None:
    sheet = batch_sheet(batch_of(saltings(), serves=10.0, salt_pct=100.0, round_g=0.1))
    weighed = [(one.figures[3], one.figures[4]) for one in table(sheet, INTO_THE_VESSEL).rows]
    assert weighed == [
        ("561.5", "561.5"), ("149.1", "710.6"), ("99.8", "810.4"), ("1.1", "811.5"), ("811.5", "811.5"),
    ]  # fmt: skip


def test_each_serve_of_saltings_is_written_in_ml_and_oz() -> None:
    sheet = batch_sheet(batch_of(saltings(), serves=10.0))
    poured = [one.figures[:2] for one in table(sheet, INTO_THE_VESSEL).rows]
    assert poured[:3] == [("60", "2"), ("15", "½"), ("10", "⅓")]


def test_what_is_too_little_for_a_jigger_has_no_ounces() -> None:
    assert row(batch_sheet(batch_of(stirred(), serves=10.0)), "saline 20 %, ours").figures[1] == ""


@settings(max_examples=15)
@given(st.floats(1.0, 80.0), st.sampled_from([0.1, 1.0, 5.0]))
def test_the_weigh_out_adds_up(serves: float, step_g: float) -> None:
    made = batch_of(sour(), serves=serves, round_g=step_g, service=BatchService.FRIDGE)
    rows = table(batch_sheet(made), INTO_THE_VESSEL).rows
    shown = [number(one.figures[4]) for one in rows[:-1]]
    added = [number(one.figures[3]) for one in rows[:-1]]
    assert shown[0] == added[0]
    # What is too little for the scale is written finer than the total.
    for (before, after), weight in zip(pairwise(shown), added[1:], strict=True):
        assert after - before == pytest.approx(weight, abs=step_g)
    assert number(rows[-1].figures[4]) == shown[-1]


def test_the_row_says_at_what_share_salt_and_bitters_go_in_and_why() -> None:
    sheet = batch_sheet(batch_of(stirred(), serves=10.0))
    assert row(sheet, "saline 20 %, ours").note == "salt at 75\u202f%"
    assert row(sheet, "Aromatic bitters, 44.7 %").note == "bitters at 60\u202f%"
    assert "sodium chloride" in row(sheet, "saline 20 %, ours").tip


def test_what_was_held_back_is_said_in_grams() -> None:
    made = batch_of(stirred(), serves=10.0, round_g=0.0)
    whole = batch_of(stirred(), serves=10.0, bitters_pct=100.0, round_g=0.0)
    held = whole.plan.lines[2].batch_g - made.plan.lines[2].batch_g
    assert f"{held:.1f}\u202fg is held back" in told(batch_sheet(made), "Salt and bitters")


def test_nothing_is_said_of_salt_where_all_of_it_goes_in() -> None:
    sheet = batch_sheet(batch_of(stirred(), serves=10.0, salt_pct=100.0, bitters_pct=100.0))
    assert told(sheet, "Salt and bitters") == ""


def test_bitters_that_are_left_out_are_added_at_service() -> None:
    sheet = batch_sheet(batch_of(stirred(), serves=10.0, bitters_pct=0.0))
    assert "add it at service, to taste" in told(sheet, "Salt and bitters")


def test_more_than_linear_salt_is_said_as_more() -> None:
    sheet = batch_sheet(batch_of(stirred(), serves=10.0, salt_pct=120.0))
    assert "more than they have" in told(sheet, "Salt and bitters")


def test_a_scale_too_coarse_for_the_saline_is_said() -> None:
    assert "too coarse for saline" in told(batch_sheet(batch_of(stirred(), serves=10.0, round_g=1.0)), "Mind")
    fine = batch_sheet(batch_of(stirred(), serves=10.0, round_g=0.01))
    assert "coarse" not in told(fine, "Mind")


@pytest.mark.parametrize(
    ("step_g", "decimals"), [(5.0, 0), (1.0, 0), (0.5, 1), (0.1, 1), (0.05, 2), (0.01, 2), (0.0, 2)]
)
def test_weights_are_written_as_the_scale_shows_them(step_g: float, decimals: int) -> None:
    assert scale_decimals(step_g) == decimals


# At service


def test_what_waits_says_how_much_a_serve_gets_and_how_much_is_wanted_for_all() -> None:
    sheet = batch_sheet(batch_of(sour(), serves=20.0, citrus_at_service=True))
    lemon = row(sheet, "lemon juice, ours (breakdown)")
    assert lemon.note == "citrus"
    assert lemon.figures[0] == "22.5"
    assert number(lemon.figures[3]) == pytest.approx(20.0 * number(lemon.figures[2]), abs=1.0)


def test_an_undiluted_batch_keeps_the_chill_for_service() -> None:
    sheet = batch_sheet(batch_of(stirred(), serves=10.0, service=BatchService.ON_ICE))
    assert [one.note for one in table(sheet, AT_SERVICE).rows] == ["ice"]
    assert told(sheet, "Cold") == ""


def test_a_batch_that_leaves_nothing_has_no_such_table() -> None:
    assert AT_SERVICE not in [one.name for one in batch_sheet(batch_of(stirred(), serves=10.0)).tables]


# Figures


def test_readings_stand_beside_those_of_the_served_drink() -> None:
    sheet = batch_sheet(batch_of(saltings(), serves=10.0, salt_pct=100.0, round_g=0.0))
    assert row(sheet, "Strength").figures == ("36.3", "36.3", "36.3")
    assert row(sheet, "Length").figures[:2] == ("85", "85")


def test_a_reading_that_may_be_higher_says_at_least() -> None:
    # The enzyme in the cordial (DEMO 1.1) is a row of the pantry whose composition is not complete.
    drink = Pen().add("pear-sorrel cordial", millilitres(22.5)).add("gin-dry-47", millilitres(45)).build()
    sheet = batch_sheet(batch_of(drink, serves=10.0))
    assert row(sheet, "Sweetness").figures[0].startswith("at least ")


def test_what_is_partly_ice_has_no_single_temperature() -> None:
    sheet = batch_sheet(batch_of(sour(), serves=10.0, service=BatchService.FREEZER))
    assert row(sheet, "Chill").figures[2] == "partly ice"


def test_numbers_follow_the_style_of_the_person() -> None:
    style = NumberStyle(decimal=",", grouping=".")
    sheet = batch_sheet(batch_of(sour(), serves=20.0, service=BatchService.FRIDGE), style)
    assert table(sheet, INTO_THE_VESSEL).rows[-1].figures[4].count(".") == 1
    assert "," in row(sheet, "Strength").figures[0]


# Vessel, cold, keeping, allergens, cautions


def test_ebb_fills_twenty_bottles_and_six_ml_stay() -> None:
    sheet = batch_sheet(
        batch_of(
            ebb(), serves=20.0, vessel=BOTTLE, service=BatchService.CARBONATED, salt_pct=100.0, round_g=0.0
        )
    )
    words = told(sheet, "Vessel")
    assert words.startswith("20 × bottle 200 ml, filled to 180\u202fml, 20\u202fml neck space each.")
    over = number(words.partition("each. ")[2].partition("\u202f")[0])
    # DEMO 2.10: 3,606 ml less 20 x 180 ml.
    assert over == pytest.approx(6.0, abs=4.0)


def test_less_than_one_vessel_is_said() -> None:
    words = told(batch_sheet(batch_of(stirred(), serves=1.0, vessel=GROWLER)), "Vessel")
    assert "less than one bottle 700 ml" in words


def test_a_vessel_that_is_gone_is_said() -> None:
    assert "no longer in the house book" in told(
        batch_sheet(batch_of(stirred(), serves=2.0, vessel="gone")), "Vessel"
    )


def test_rounding_up_can_leave_a_vessel_short_or_over() -> None:
    sheet = batch_sheet(batch_of(stirred(), vessel=GROWLER, vessel_count=1.0, round_g=10.0))
    assert any(
        words in told(sheet, "Vessel") for words in ("short of full", "stays over", "Nothing stays over")
    )


def test_saltings_pours_from_this_houses_freezer() -> None:
    sheet = batch_sheet(batch_of(saltings(), serves=10.0))
    assert "stays liquid and pours" in told(sheet, "Cold")
    assert not is_alert(sheet, "Cold")


def test_saltings_freezes_in_a_colder_freezer() -> None:
    book = base().with_settings(structs.replace(base().settings, freezer_c=-28.0))
    sheet = batch_sheet(batch_of(saltings(), book=book, serves=10.0))
    assert "of its weight is ice" in told(sheet, "Cold")
    assert is_alert(sheet, "Cold")


def test_ice_that_has_no_room_in_the_neck_is_said() -> None:
    sheet = batch_sheet(batch_of(sour(), serves=10.0, vessel=GROWLER))
    assert "can burst" in told(sheet, "Cold")


def test_a_batch_keeps_no_longer_than_its_shortest_input() -> None:
    assert "1 day" in told(batch_sheet(batch_of(sour(), serves=4.0)), "Keeping")
    apart = told(batch_sheet(batch_of(sour(), serves=4.0, citrus_at_service=True)), "Keeping")
    assert "lemon" not in apart


def test_what_is_in_the_vessel_and_what_is_added_at_service_are_told_apart() -> None:
    drink = Pen().add("gin-dry-47", millilitres(45)).garnish("butter crumb", grams(5)).build()
    words = told(batch_sheet(batch_of(drink, serves=4.0)), "Contains")
    assert "butter crumb" in words.partition("at service")[2]
    assert "Milk" not in words


def test_milk_of_the_butter_wash_is_on_the_label_of_the_batch() -> None:
    assert "Milk" in told(batch_sheet(batch_of(stirred(), serves=4.0)), "Contains")


def test_fizz_in_an_open_batch_is_said_to_leave() -> None:
    assert "its gas leaves" in told(batch_sheet(batch_of(sour(), serves=4.0, fizz_at_service=False)), "Mind")
    assert "its gas leaves" not in told(batch_sheet(batch_of(sour(), serves=4.0)), "Mind")


def test_a_foaming_line_is_shaken_at_service() -> None:
    drink = Pen().add("gin-dry-47", millilitres(45)).add("egg-white", millilitres(20)).build()
    book = renamed(base(), item("egg-white"), foams=True)
    sheet = batch_sheet(batch_of(drink, book=book, serves=4.0))
    assert "egg white is made at service" in told(sheet, "Mind")
    assert any("egg" in one.title for one in sheet.told if one.title.startswith("Caution"))


def test_a_diluted_batch_on_ice_says_that_the_ice_goes_on_melting() -> None:
    drink = structs.replace(stirred(), ice_g=115.0)
    assert "goes on melting" in told(batch_sheet(batch_of(drink, serves=4.0)), "Mind")
    assert "goes on melting" not in told(batch_sheet(batch_of(stirred(), serves=4.0)), "Mind")


def test_a_carbonated_batch_tells_level_pressure_and_care() -> None:
    words = told(
        batch_sheet(batch_of(ebb(), serves=20.0, vessel=BOTTLE, service=BatchService.CARBONATED)), "Gas"
    )
    assert "7.0\u202fg/l" in words
    assert "open slowly" in words
    assert "eye protection" in words


def test_an_unrated_vessel_is_an_alert() -> None:
    sheet = batch_sheet(batch_of(stirred(), serves=4.0, service=BatchService.CARBONATED, vessel=GROWLER))
    assert is_alert(sheet, "Cannot be made so")
    assert row(sheet, "Strength").figures[2] == "?"


# As text


def test_cells_that_are_copied_stand_in_columns() -> None:
    lines = tab_separated(batch_sheet(batch_of(saltings(), serves=10.0))).splitlines()
    assert lines[0].split("\t") == [
        INTO_THE_VESSEL,
        "",
        "ml a serve",
        "oz",
        "g a serve",
        "weigh, g",
        "scale shows, g",
    ]
    assert lines[1].split("\t")[5:] == ["562", "562"]


def test_a_file_has_plain_numbers_and_comes_back_whole() -> None:
    sheet = batch_sheet(batch_of(saltings(), serves=40.0, round_g=0.1), FILE_STYLE)
    rows = list(csv.reader(io.StringIO(comma_separated(sheet))))
    gin = next(one for one in rows if one and one[0].startswith("Dry gin"))
    assert float(gin[5]) == pytest.approx(4 * 561.5, abs=0.4)
    assert any(one and one[0] == READINGS_HEAD for one in rows)


def test_a_name_that_looks_like_a_formula_is_no_formula_in_a_file() -> None:
    book = renamed(base(), item("gin-dry-47"), name="=1+1")
    sheet = batch_sheet(batch_of(saltings(), book=book, serves=10.0), FILE_STYLE)
    assert "'=1+1" in comma_separated(sheet)


def test_every_row_is_a_sentence_for_a_screen_reader() -> None:
    sheet = batch_sheet(batch_of(sour(), serves=10.0, citrus_at_service=True))
    spoken = [one.spoken for tables in sheet.tables for one in tables.rows]
    assert all(spoken)
    assert "weigh" in spoken[0]
    assert "grams" in spoken[0]


def test_the_title_and_what_stands_under_it() -> None:
    sheet = batch_sheet(batch_of(saltings(), serves=10.0, salt_pct=100.0, round_g=0.1))
    assert sheet.title == "Test Drink, batch"
    assert sheet.subtitle.startswith("10 serves of 85\u202fml · 848\u202fml, 812\u202fg in all")


def test_one_serve_is_one_serve() -> None:
    made: Batched = batch_of(saltings(), serves=1.0)
    assert batch_sheet(made).subtitle.startswith("1 serve of")


def test_a_house_without_vessels_still_makes_a_batch() -> None:
    sheet = batch_sheet(batch_of(stirred(), book=replace(base(), vessels={}), serves=10.0))
    assert "No vessel is chosen" in told(sheet, "Vessel")
