"""A house file is read row by row; what is wrong in it is listed with its path."""

import json
from typing import Any

import pytest

from washline.assets import database_file
from washline.exchange.house_file import house_book, read_house
from washline.exchange.pantry import Pantry
from washline.problem import UserError


@pytest.fixture
def seed() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(database_file("seed", "saltmarsh.json").read_bytes())
    return found


def problems_of(seed: dict[str, Any], pantry: Pantry) -> list[str]:
    return [str(problem) for problem in read_house(json.dumps(seed).encode(), pantry).problems]


def test_the_seed_is_read_without_a_problem(seed: dict[str, Any], pantry: Pantry) -> None:
    assert problems_of(seed, pantry) == []


def test_an_item_that_the_pantry_has_not_got_is_listed(seed: dict[str, Any], pantry: Pantry) -> None:
    seed["builds"][0]["steps"][1]["item"] = "sorel-leaf"
    assert (
        problems_of(seed, pantry)[0]
        == "$.builds[0].steps[1].item: The item “sorel-leaf” is not in this file."
    )


def test_a_build_with_a_problem_is_left_out_and_the_others_stay(seed: dict[str, Any], pantry: Pantry) -> None:
    seed["builds"][5]["steps"][0]["amount"]["unit"] = "handful"
    draft = read_house(json.dumps(seed).encode(), pantry)
    assert len(draft.builds) == 16
    assert str(draft.problems[0]) == "$.builds[5].steps[0].amount.unit: The unit “handful” is not known."


def test_all_that_is_wrong_in_one_build_is_listed(seed: dict[str, Any], pantry: Pantry) -> None:
    seed["builds"][0]["steps"][0]["amount"]["number"] = -1
    seed["builds"][0]["steps"][2]["colour"] = "green"
    seed["builds"][0]["house_days"] = "a week"
    assert problems_of(seed, pantry) == [
        "$.builds[0].house_days: Expected `int | null`, got `str`.",
        "$.builds[0].steps[0].amount.number: Expected `float` >= 0.0.",
        "$.builds[0].steps[2]: Object contains unknown field `colour`.",
    ]


def test_a_glass_a_target_and_a_method_must_be_the_pantrys(seed: dict[str, Any], pantry: Pantry) -> None:
    drink = next(build for build in seed["builds"] if build["key"] == "pear-signal")
    place = f"$.builds[{seed['builds'].index(drink)}]"
    drink["glass"], drink["target"] = "boot", "long and strange"
    drink["steps"][4]["method"] = "wish"
    assert problems_of(seed, pantry)[:3] == [
        f"{place}.glass: The glass “boot” is not in this file.",
        f"{place}.target: The target “long and strange” is not in this file.",
        f"{place}.steps[4].method: The method “wish” is not in this file.",
    ]


def test_a_parent_that_is_no_drink_of_the_file_is_listed(seed: dict[str, Any], pantry: Pantry) -> None:
    twist = next(build for build in seed["builds"] if "twist_of" in build)
    twist["twist_of"] = "nobody"
    assert problems_of(seed, pantry)[0].endswith(".twist_of: The drink “nobody” is not in this file.")


def test_a_key_that_stands_twice_is_listed(seed: dict[str, Any], pantry: Pantry) -> None:
    seed["builds"][1]["key"] = "pear"
    assert "$.builds[1]: The key “pear” stands twice in this file." in problems_of(seed, pantry)


def test_an_own_weight_of_something_unknown_is_listed(seed: dict[str, Any], pantry: Pantry) -> None:
    seed["weighed"][0]["slug"] = "seaweed"
    assert problems_of(seed, pantry) == ["$.weighed[0].slug: The pantry has no “seaweed”."]


def test_own_weights_replace_the_pantrys(seed: dict[str, Any], pantry: Pantry) -> None:
    seed["weighed"] = [{"slug": "lemon-peel", "piece_g": 1.5}]
    book = house_book(read_house(json.dumps(seed).encode(), pantry), pantry)
    assert next(raw.piece_g for raw in book.raws.values() if raw.slug == "lemon-peel") == 1.5


def test_how_a_house_counts_is_taken_over(seed: dict[str, Any], pantry: Pantry) -> None:
    seed["house"]["counting"] = {"oz_ml": 29.5735, "fridge_c": 3.0}
    settings = house_book(read_house(json.dumps(seed).encode(), pantry), pantry).settings
    assert (settings.oz_ml, settings.fridge_c, settings.room_c) == (29.5735, 3.0, 20.0)


def test_a_build_file_is_no_house_file(pantry: Pantry) -> None:
    with pytest.raises(UserError, match="not a house file"):
        read_house(b'{"format": "washline-build", "version": 1}', pantry)
