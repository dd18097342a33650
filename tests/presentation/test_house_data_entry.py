"""What is typed into a cell of the house's data: units of every kind, ranges, choices, and what is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.presentation.glass_house import method
from washline.model.house import Glass, Measure, MethodKind, Vessel
from washline.presentation.house_data_columns import TABLES, Column, HouseRow, table_of
from washline.presentation.house_data_entry import Entry, read_entry
from washline.quantity.formatting import NUMBER_STYLES

COUPE = Glass(slug="coupe", name="Coupe", brim_ml=180.0)
STIR = method("stir", MethodKind.ON_ICE)
BOTTLE = Vessel(slug="bottle", name="Bottle", volume_ml=750.0)
DASH = Measure(slug="dash", name="Dash", value=0.8, unit="ml", low=0.4, high=1.1)
PINCH = Measure(slug="pinch", name="Pinch", value=0.3, unit="g", low=0.15, high=0.5)


def column(table: str, key: str) -> Column:
    return next(one for one in table_of(table).columns if one.key == key)


def read(table: str, key: str, text: str, row: HouseRow, oz_ml: float = 30.0) -> Entry:
    found = column(table, key)
    return read_entry(found, row, text, found.choices, oz_ml=oz_ml)


@pytest.mark.parametrize(
    ("text", "brim_ml"),
    [("300", 300.0), ("300 ml", 300.0), ("30 cl", 300.0), ("10 oz", 300.0), ("0.3 l", 300.0)],
)
def test_volume_is_typed_in_any_unit_of_volume(text: str, brim_ml: float) -> None:
    assert read("glass", "brim", text, COUPE).fields == {"brim_ml": pytest.approx(brim_ml)}


def test_ounce_is_that_of_the_house() -> None:
    # One US fluid ounce: 29.5735 ml (NIST Handbook 44, appendix C).
    assert read("glass", "brim", "10 oz", COUPE, oz_ml=29.5735).fields == {"brim_ml": pytest.approx(295.735)}


@pytest.mark.parametrize("text", ["115 g", "12 dashes of", "x", "scant 300 ml", "50 %"])
def test_what_is_no_volume_is_refused_with_what_was_expected(text: str) -> None:
    entry = read("glass", "brim", text, COUPE)
    assert not entry.fields
    assert "Expected a volume, such as 300 ml" in entry.problem


def test_weight_in_kilograms_is_taken_in_grams() -> None:
    assert read("glass", "ice_g", "0.115 kg", COUPE).fields == {"ice_g": pytest.approx(115.0)}


def test_volume_is_no_weight() -> None:
    assert "Expected a weight" in read("glass", "ice_g", "4 oz", COUPE).problem


def test_fahrenheit_is_taken_in_celsius() -> None:
    # 23 °F = -5 °C (NIST Special Publication 811, appendix B.8).
    ice = table_of("ice").columns
    cold = next(one for one in ice if one.key == "cold")
    assert read_entry(cold, COUPE, "23 F").fields == {"temperature_c": pytest.approx(-5.0)}


def test_range_of_temperatures_sets_both_ends() -> None:
    assert read("method", "end", "-5 to 0 °C", STIR).fields == {"end_low_c": -5.0, "end_high_c": 0.0}


def test_one_temperature_is_both_ends() -> None:
    assert read("method", "end", "-2", STIR).fields == {"end_low_c": -2.0, "end_high_c": -2.0}


@pytest.mark.parametrize(
    ("text", "seconds"), [("13", 13.0), ("13 s", 13.0), ("1 min", 60.0), ("1 min 30", 90.0)]
)
def test_time_is_typed_bare_or_with_its_unit(text: str, seconds: float) -> None:
    assert read("method", "tau", text, STIR).fields == {"tau_s": seconds}


@pytest.mark.parametrize("text", ["20-40", "20–40 s", "40 to 20 s"])
def test_range_of_times_rises(text: str) -> None:
    assert read("method", "time", text, STIR).fields == {"time_low_s": 20.0, "time_high_s": 40.0}


def test_two_times_are_refused_where_one_counts() -> None:
    assert "Expected a time" in read("method", "tau", "20-40 s", STIR).problem


@pytest.mark.parametrize(
    ("text", "kpa"), [("6", 600.0), ("6 bar", 600.0), ("600 kPa", 600.0), ("87 psi", 599.844)]
)
def test_pressure_is_typed_in_bar_kilopascal_or_psi(text: str, kpa: float) -> None:
    # 1 psi = 6.894757 kPa (NIST Special Publication 811, appendix B.8).
    assert read("vessel", "rating", text, BOTTLE).fields == {"rated_kpa": pytest.approx(kpa, abs=0.001)}


@pytest.mark.parametrize("text", ["", "?", "not known", "–"])
def test_rating_that_is_taken_away_is_not_known(text: str) -> None:
    assert read("vessel", "rating", text, BOTTLE).fields == {"rated_kpa": None}


def test_taking_a_range_away_takes_both_ends() -> None:
    assert read("method", "time", "", STIR).fields == {"time_low_s": None, "time_high_s": None}


def test_what_must_be_there_cannot_be_emptied() -> None:
    entry = read("glass", "brim", "", COUPE)
    assert not entry.fields
    assert entry.problem == "Expected a volume, such as 300 ml, 30 cl or 10 oz."


def test_name_cannot_be_emptied() -> None:
    assert read("glass", "name", "  ", COUPE).problem == "It needs a name."


@pytest.mark.parametrize("text", ["in the glass", "in the g", "IN_GLASS"])
def test_choice_is_typed_by_its_beginning(text: str) -> None:
    assert read("method", "kind", text, STIR).fields == {"kind": MethodKind.IN_GLASS}


def test_beginning_of_two_choices_is_refused_with_all_of_them() -> None:
    entry = read("method", "kind", "in", STIR)
    assert not entry.fields
    assert entry.problem.startswith("Expected one of: on ice, strained, in the glass")


@pytest.mark.parametrize("text", ["35-50", "35 – 50 %", "35% to 50%"])
def test_range_of_percentages_is_read(text: str) -> None:
    assert read("method", "dilution", text, STIR).fields == {
        "dilution_low_pct": 35.0,
        "dilution_high_pct": 50.0,
    }


def test_figure_with_the_unit_of_another_column_is_refused() -> None:
    entry = read("method", "vessel", "100 g", STIR)
    assert entry.problem == "“100 g” was not understood. Expected a number in J/K."


def test_length_in_centimetres_is_taken_in_millimetres() -> None:
    edge = next(one for one in table_of("ice").columns if one.key == "edge")
    assert read_entry(edge, COUPE, "3 cm").fields == {"edge_mm": pytest.approx(30.0)}


def test_measure_of_volume_takes_volumes_and_one_of_weight_takes_weights() -> None:
    assert read("measure", "value", "0.1 cl", DASH).fields == {"value": pytest.approx(1.0)}
    assert read("measure", "value", "0.4 g", PINCH).fields == {"value": pytest.approx(0.4)}
    assert "Expected a weight" in read("measure", "value", "1 ml", PINCH).problem


def test_range_of_a_measure_is_in_its_unit() -> None:
    assert read("measure", "range", "0.5-1 ml", DASH).fields == {"low": 0.5, "high": 1.0}


def test_comma_is_read_as_the_house_writes_it() -> None:
    found = column("glass", "brim")
    entry = read_entry(found, COUPE, "180,5 ml", style=NUMBER_STYLES["de_DE"])
    assert entry.fields == {"brim_ml": pytest.approx(180.5)}


@given(st.text(max_size=40))
def test_any_text_is_either_understood_or_refused_in_words(text: str) -> None:
    rows: dict[str, HouseRow] = {"glass": COUPE, "method": STIR, "vessel": BOTTLE, "measure": DASH}
    for table in TABLES:
        row = rows.get(table.key, COUPE)
        for one in table.columns:
            if one.field:
                entry = read_entry(one, row, text, one.choices)
                assert bool(entry.fields) != bool(entry.problem)
