"""What a build file says is read into a draft; a row with a problem is listed with its path and left out."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.exchange.houses import as_bytes, as_json
from washline.exchange.build_file import read_build, resolve
from washline.exchange.checks import MOST_LEVELS
from washline.model.book import HouseBook
from washline.problem import UserError


@pytest.fixture
def signal(demo: HouseBook) -> dict[str, Any]:
    return as_json(demo, "Pear Signal")


def problems_of(value: dict[str, Any]) -> list[str]:
    return [str(problem) for problem in read_build(as_bytes(value)).problems]


def minimal(builds: list[dict[str, Any]], main: str) -> dict[str, Any]:
    water: dict[str, Any] = {"slug": "water", "name": "Water", "allergens": [], "composition": {"water": 100}}
    return {"format": "washline-build", "version": 1, "main": main, "builds": builds, "raws": [water]}


def part(key: str, item: str) -> dict[str, Any]:
    line = {"step": "add", "item": item, "amount": {"number": 10, "unit": "g"}}
    return {"key": key, "kind": "part", "name": key, "steps": [line]}


def chain(length: int) -> dict[str, Any]:
    builds = [part(f"part {number}", f"part {number - 1}" if number else "water") for number in range(length)]
    return minimal(builds, f"part {length - 1}")


def test_a_written_file_is_read_without_a_problem(signal: dict[str, Any]) -> None:
    assert problems_of(signal) == []


def test_an_unknown_field_of_the_file_is_listed(signal: dict[str, Any]) -> None:
    signal["author"] = "somebody"
    assert problems_of(signal) == ["$.author: This field is not known."]


def test_an_unknown_field_of_a_row_is_refused_with_its_path(signal: dict[str, Any]) -> None:
    signal["raws"][3]["abv"] = 40
    assert problems_of(signal) == ["$.raws[3]: Object contains unknown field `abv`."]


def test_an_unknown_component_is_refused_with_its_path(signal: dict[str, Any]) -> None:
    signal["raws"][3]["composition"]["sugar"] = 40
    assert problems_of(signal) == ["$.raws[3].composition: Object contains unknown field `sugar`."]


def test_a_number_out_of_range_is_refused_with_its_path(signal: dict[str, Any]) -> None:
    signal["raws"][0]["composition"]["water"] = 120
    assert problems_of(signal) == ["$.raws[0].composition.water: Expected `float` <= 100.0."]


def test_a_composition_of_more_than_100_g_is_listed(signal: dict[str, Any]) -> None:
    signal["raws"][0]["composition"]["sucrose"] = 60
    assert problems_of(signal)[0].startswith("$.raws[0].composition: The parts add up to 159.")


def test_a_raw_ingredient_that_does_not_say_its_allergens_is_refused(signal: dict[str, Any]) -> None:
    del signal["raws"][0]["allergens"]
    assert problems_of(signal) == ["$.raws[0]: Object missing required field `allergens`."]


def test_an_allergen_that_is_none_of_the_fourteen_is_listed(signal: dict[str, Any]) -> None:
    signal["raws"][0]["allergens"] = ["none"]
    assert problems_of(signal) == [
        "$.raws[0].allergens: “none” is none of the fourteen allergens, nor “unknown”."
    ]


def test_a_text_in_place_of_a_number_is_refused(signal: dict[str, Any]) -> None:
    signal["builds"][-1]["steps"][0]["amount"]["number"] = "60"
    assert problems_of(signal) == ["$.builds[2].steps[0].amount.number: Expected `float`, got `str`."]


def test_a_step_of_no_known_kind_is_refused(signal: dict[str, Any]) -> None:
    signal["builds"][-1]["steps"][0]["step"] = "conjure"
    assert problems_of(signal) == ["$.builds[2].steps[0].step: Invalid value 'conjure'."]


def test_one_bad_row_is_one_problem_and_not_one_for_each_line_that_uses_it(signal: dict[str, Any]) -> None:
    signal["raws"][0]["form"] = "foam"
    assert len(problems_of(signal)) == 1


def test_a_share_of_a_later_step_is_listed(signal: dict[str, Any]) -> None:
    signal["builds"][0]["steps"][9]["amount"]["of"] = [11]
    assert problems_of(signal) == [
        "$.builds[0].steps[9].amount.of: Step 10 can be a share of earlier steps only, not of 11."
    ]


def test_a_share_of_lines_that_names_none_is_listed(signal: dict[str, Any]) -> None:
    del signal["builds"][0]["steps"][9]["amount"]["of"]
    assert problems_of(signal) == [
        "$.builds[0].steps[9].amount.of: Only a share of lines names lines, and it names at least one."
    ]


def test_a_share_in_grams_is_listed(signal: dict[str, Any]) -> None:
    signal["builds"][0]["steps"][9]["amount"]["unit"] = "g"
    assert problems_of(signal) == ["$.builds[0].steps[9].amount.unit: A share is in %, found “g”."]


def test_two_measured_ends_of_one_chill_are_listed(signal: dict[str, Any]) -> None:
    signal["builds"][-1]["steps"][4] |= {"melted_g": 9.8, "final_g": 100}
    assert problems_of(signal) == [
        "$.builds[2].steps[4]: Only one of melted_g, final_g and final_ml can have been measured."
    ]


def test_an_estimate_out_of_order_is_listed(signal: dict[str, Any]) -> None:
    signal["builds"][0]["steps"][8]["low_pct"] = 72
    assert problems_of(signal) == ["$.builds[0].steps[8]: Expected low_pct ≤ expected_pct ≤ high_pct."]


def test_a_target_with_an_aim_out_of_order_is_listed(signal: dict[str, Any]) -> None:
    signal["targets"][0]["aims"][0]["ideal"] = 50
    assert problems_of(signal) == ["$.targets[0].aims[0]: Expected low ≤ ideal ≤ high, found 5, 50, 11."]


def test_a_target_with_an_unknown_reading_is_listed(signal: dict[str, Any]) -> None:
    signal["targets"][0]["aims"][0]["reading"] = "charm"
    assert problems_of(signal) == ["$.targets[0].aims[0].reading: There is no reading “charm”."]


def test_a_target_with_eleven_axes_is_listed(signal: dict[str, Any]) -> None:
    signal["targets"][0]["aims"] *= 2
    assert problems_of(signal) == ["$.targets[0].aims: A target has at most 10 axes."]


def test_a_measure_out_of_its_own_range_is_listed(signal: dict[str, Any]) -> None:
    signal["measures"][0]["value"] = 3
    assert problems_of(signal) == ["$.measures[0]: Expected low ≤ value ≤ high, found 0.4, 3, 1.1."]


def test_a_method_with_its_ends_exchanged_is_listed(signal: dict[str, Any]) -> None:
    signal["methods"][0]["end_low_c"] = 9
    assert problems_of(signal)[0] == "$.methods[0]: The low end of a range is above its high end."


def test_a_slug_that_stands_twice_is_listed(signal: dict[str, Any]) -> None:
    signal["raws"].append(signal["raws"][0])
    assert problems_of(signal) == ["$.raws[13].slug: “pear” stands twice in this file."]


def test_a_list_that_is_no_list_is_listed(signal: dict[str, Any]) -> None:
    signal["measures"] = {}
    assert problems_of(signal)[0] == "$.measures: Expected a list."


def test_a_main_build_that_is_not_there_is_listed(signal: dict[str, Any]) -> None:
    signal["main"] = "quince-ferry"
    assert problems_of(signal) == ["$.main: Expected the key of a build in this file."]


def test_a_build_made_of_itself_is_listed_and_left_out() -> None:
    draft = read_build(as_bytes(minimal([part("a", "b"), part("b", "a")], "a")))
    assert [str(problem) for problem in draft.problems] == [
        "$.builds[0]: “a” is made of itself, by itself or through its parts.",
        "$.builds[1]: “b” is made of itself, by itself or through its parts.",
    ]
    assert draft.builds == {}


def test_a_line_left_out_does_not_make_a_round() -> None:
    first = part("a", "b")
    first["steps"][0]["left_out"] = True
    assert problems_of(minimal([first, part("b", "a")], "b")) == []


def test_parts_may_stand_on_parts_as_deep_as_any_house_goes(starter: HouseBook) -> None:
    draft = read_build(as_bytes(chain(MOST_LEVELS)))
    assert draft.problems == ()
    assert len(resolve(draft, starter).new) == MOST_LEVELS + 1


def test_2000_parts_one_on_another_are_a_clear_problem(starter: HouseBook) -> None:
    draft = read_build(as_bytes(chain(2000)))
    assert str(draft.problems[-1]) == "$.builds[1999]: “part 1999” stands on parts 2000 deep; at most 200."
    with pytest.raises(UserError, match="cannot be taken in"):
        resolve(draft, starter)


def test_2000_parts_one_inside_another_are_a_clear_error() -> None:
    inside = b'{"step":"add","item":' * 2000 + b"1" + b"}" * 2000
    data = b'{"format":"washline-build","version":1,"main":"a","builds":[' + inside + b"]}"
    with pytest.raises(UserError, match="nested far deeper than any build is"):
        read_build(data)


def test_deep_nesting_in_one_row_is_a_problem_of_that_row(signal: dict[str, Any]) -> None:
    value: Any = 1
    for _ in range(200):
        value = [value]
    signal["raws"][0]["composition"] = value
    assert problems_of(signal) == ["$.raws[0].composition: Expected `object`, got `array`."]


def test_a_newer_version_is_refused_politely(signal: dict[str, Any]) -> None:
    signal["version"] = 4
    with pytest.raises(UserError) as caught:
        read_build(as_bytes(signal))
    assert caught.value.what == "This build file comes from a newer Washline."
    assert caught.value.cause == "It is of version 4; this Washline reads up to version 3."
    assert caught.value.remedy.startswith("Open it with a newer Washline")


@pytest.mark.parametrize("version", [0, -1, "1", 1.5, True, None])
def test_a_version_that_is_no_whole_number_is_refused(signal: dict[str, Any], version: object) -> None:
    signal["version"] = version
    with pytest.raises(UserError, match="no whole number from 1"):
        read_build(as_bytes(signal))


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"not json",
        b"[]",
        b"null",
        b"{",
        b'{"format": "another", "version": 1}',
        b"SQLite format 3\x00" + b"\x00" * 80,
        b'{"format": "washline-build", "version": NaN}',
        b'{"format": "washline-build", "version": 1e999}',
        b"\xff\xfe{}",
        '{"format": "washline-build"}'.encode("utf-16"),
    ],
)
def test_what_is_no_build_file_is_a_clear_error(data: bytes) -> None:
    with pytest.raises(UserError, match="not a build file"):
        read_build(data)


def test_a_field_that_stands_twice_is_an_error_and_not_lost() -> None:
    data = b'{"format":"washline-build","version":1,"main":"a","main":"b","builds":[]}'
    with pytest.raises(UserError, match="“main” stands twice"):
        read_build(data)


@given(st.binary(max_size=200))
def test_any_bytes_that_are_no_build_file_are_a_clear_error(data: bytes) -> None:
    with pytest.raises(UserError, match="build file"):
        read_build(data)


JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-5, 5)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)
FIELDS = ("main", "builds", "raws", "targets", "glasses", "methods", "measures", "counting", "credits")


@given(st.sampled_from(FIELDS), JSON)
def test_any_value_in_any_field_is_a_draft_with_its_problems(field: str, value: object) -> None:
    draft = read_build(as_bytes({**minimal([part("a", "water")], "a"), field: value}))
    assert all(problem.path.startswith("$") and problem.words for problem in draft.problems)
