"""A house file is read row by row; what is wrong in it is listed with its path."""

import json
from typing import Any

import pytest

from washline.assets import database_file
from washline.engine.workings import Workings
from washline.exchange.build_file import write_build
from washline.exchange.house_file import house_book, read_house
from washline.exchange.pantry import Pantry
from washline.model.book import HouseBook
from washline.model.house import JointCost, Shared, Swap, Weighing
from washline.model.item import Today
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
    assert len(draft.builds) == len(seed["builds"]) - 1
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


BENCH_STEPS: list[dict[str, Any]] = [
    {
        "step": "add",
        "item": "lemon",
        "amount": {"number": 900, "unit": "g"},
        "weight": "bought",
        "bought_g": 912.5,
    },
    {"step": "muddle", "duration_s": 20},
    {
        "step": "infuse",
        "item": "tea-black-leaf",
        "amount": {"number": 2, "unit": "%", "basis": "percent_of_lines", "of": [1]},
        "water_given_pct": 0,
        "acids_given_pct": 80,
        "given_spread_pct": 20,
    },
    {"step": "wash", "kind": "milk", "protein_held_pct": 82},
    {
        "step": "strain",
        "way": "milk",
        "expected_pct": 70,
        "measured_brix": 8.5,
        "leftover": {"key": "hulls", "name": "lemon hulls", "acts_as": "lemon", "may_contain": ["nuts"]},
    },
    {
        "step": "ferment",
        "kind": "lactic",
        "final_acidity_pct": 0.9,
        "discard_above_ph": 4.2,
        "discard_on_day": 3,
    },
    {
        "step": "adjust",
        "goal": "acidity",
        "value": 6,
        "portions": [{"item": "citric-acid", "parts": 2}, {"item": "malic-acid"}],
    },
    {"step": "adjust", "goal": "acidity", "like": "lime-juice", "portions": [{"item": "water-still"}]},
    {
        "step": "measure",
        "quantity": "ph",
        "value": 3.1,
        "instrument": "strip",
        "uncertainty": 0.3,
        "gain": 0.2,
    },
    {"step": "reduce", "final_brix": 30, "ethanol_way": "simmered"},
]
BENCH: dict[str, Any] = {
    "key": "bench",
    "kind": "part",
    "name": "bench work",
    "acts_as": "lime-juice",
    "price": 3.5,
    "makings": [{"date": "2026-11-02", "yields": [{"step": 5, "before_g": 930, "weighed_g": 640}]}],
    "steps": BENCH_STEPS,
}


def slug_of(pantry: Pantry, *words: str) -> str:
    """The first slug of the pantry that has all these words in it."""
    return next(raw.slug for raw in pantry.raws if all(word in raw.slug for word in words))


@pytest.fixture
def with_bench(seed: dict[str, Any], pantry: Pantry) -> dict[str, Any]:
    text = json.dumps(BENCH)
    for wish, words in {
        "tea-black-leaf": ("tea", "black"),
        "citric-acid": ("citric",),
        "malic-acid": ("malic",),
        "lime-juice": ("lime", "juice"),
        "water-still": ("water", "still"),
        "lemon": ("lemon",),
    }.items():
        text = text.replace(f'"{wish}"', f'"{slug_of(pantry, *words)}"')
    seed["builds"].append(json.loads(text))
    return seed


def test_a_part_with_all_bench_steps_is_read(with_bench: dict[str, Any], pantry: Pantry) -> None:
    draft = read_house(json.dumps(with_bench).encode(), pantry)
    assert [str(problem) for problem in draft.problems] == []
    book = house_book(draft, pantry)
    build = next(build for build in book.builds.values() if build.name == "bench work")
    assert [type(step).__name__ for step in build.steps] == [
        "Add", "Muddle", "Infuse", "Wash", "Strain", "Ferment", "Adjust", "Adjust", "Measurement", "Reduce",
    ]  # fmt: skip
    (making,) = (making for making in book.makings.values() if making.build_id == build.id)
    assert (making.date, making.yields[0].step_id) == ("2026-11-02", build.steps[4].id)
    assert book.top_id == max(making.id, *book.weighings)


def spoiled(build: dict[str, Any], path: str, value: object) -> None:
    *way, last = [int(part) if part.isdigit() else part for part in path.split(".")]
    found: Any = build
    for part in way:
        found = found[part]
    found[last] = value


@pytest.mark.parametrize(
    ("path", "value", "place", "words"),
    [
        ("steps.6.portions", [], "steps[6].portions", "Expected `array` of length >= 1."),
        ("steps.6.portions.0.parts", -1, "steps[6].portions[0].parts", "Expected `float` >= 0.0."),
        (
            "steps.6.portions.0.item",
            "soap",
            "steps[6].portions[0].item",
            "The item “soap” is not in this file.",
        ),
        ("steps.6.like", "water-still", "steps[6]", "Exactly one of value and like is given."),
        ("steps.6.value", None, "steps[6]", "Exactly one of value and like is given."),
        ("steps.7.like", "soap", "steps[7].like", "The item “soap” is not in this file."),
        ("steps.9.final_g", 5, "steps[9]", "Only one of final_g, final_pct and final_brix can be given."),
        ("steps.8.gain", 1.5, "steps[8].gain", "Expected `float` <= 1.0."),
        ("steps.3.kind", "soap", "steps[3].kind", "Invalid enum value 'soap'."),
        ("steps.2.water_given_pct", 101, "steps[2].water_given_pct", "Expected `float` <= 100.0."),
        ("acts_as", "bench", "acts_as", "The raw ingredient “bench” is not in this file."),
        ("makings.0.date", "in May", "makings[0].date", "Expected a date like 2026-11-21, found “in May”."),
        ("makings.0.yields.0.step", 4, "makings[0].yields[0].step", "Step 4 is no strain."),
        ("makings.0.yields.0.step", 99, "makings[0].yields[0].step", "Step 99 is no strain."),
        (
            "steps.4.leftover.may_contain",
            ["gold"],
            "steps[4].leftover.may_contain",
            "“gold” is none of the fourteen allergens, nor “unknown”.",
        ),
    ],
)
def test_what_is_wrong_in_a_bench_step_is_listed_with_its_path(
    with_bench: dict[str, Any], pantry: Pantry, path: str, value: object, place: str, words: str
) -> None:
    spoiled(with_bench["builds"][-1], path, value)
    assert f"$.builds[{len(with_bench['builds']) - 1}].{place}: {words}" in problems_of(with_bench, pantry)


def test_what_a_house_shares_asks_and_tastes_is_read(seed: dict[str, Any], pantry: Pantry) -> None:
    seed["house"] |= {
        "tax_pct": 19.0,
        "labour_per_hour": 22.5,
        "shared": [{"place": "tins", "allergens": ["milk", "eggs"]}],
        "service_ends": "03:30",
    }
    seed["house"].setdefault("counting", {})["joint_cost"] = "value"
    slug = slug_of(pantry, "lemon")
    today = {"sugars_pct": -10.0, "acids_pct": 12.0, "until": "2026-11-22T03:30", "how": "tasted"}
    seed["weighed"] = [{"slug": slug, "today": today, "may_contain": ["celery"]}]
    book = house_book(read_house(json.dumps(seed).encode(), pantry), pantry)
    assert (book.settings.tax_pct, book.settings.labour_per_hour, book.settings.service_ends) == (
        19.0,
        22.5,
        "03:30",
    )
    assert book.settings.joint_cost is JointCost.VALUE
    assert book.settings.shared == (Shared("tins", ("milk", "eggs")),)
    raw = next(raw for raw in book.raws.values() if raw.slug == slug)
    assert raw.today == Today(-10.0, 12.0, "2026-11-22T03:30", "tasted")
    assert raw.may_contain == ("celery",)


def test_a_house_file_of_version_1_is_still_read(seed: dict[str, Any], pantry: Pantry) -> None:
    seed["version"] = 1
    assert problems_of(seed, pantry) == []


def test_todays_fruit_needs_a_time_at_which_it_is_over(seed: dict[str, Any], pantry: Pantry) -> None:
    seed["weighed"] = [{"slug": slug_of(pantry, "lemon"), "today": {"sugars_pct": 5.0, "until": "tonight"}}]
    assert problems_of(seed, pantry) == [
        "$.weighed[0].today.until: Expected a time like 2026-11-22T02:00, found “tonight”."
    ]


def at_the_bar(seed: dict[str, Any]) -> dict[str, Any]:
    """The seed with ices, vessels, swaps, a batch, and a throw that the house weighed."""
    seed["version"] = 3
    seed["house"] |= {
        "wording_law": "eu",
        "salt_batch_pct": 70.0,
        "swaps": [{"item": "dry-vermouth-17", "to": "tonic-water", "factor": 0.5}, {"item": "pear-leather"}],
    }
    seed["house"]["swaps"][0]["item"] = seed["builds"][0]["steps"][0]["item"]
    seed["house"]["counting"] = {**seed["house"].get("counting", {}), "scant_ml": 2.0}
    seed["ices"] = [{"slug": "clear", "name": "Clear block", "pace": 0.5}]
    seed["vessels"] = [{"slug": "ebb-bottle", "name": "Ebb bottle", "volume_ml": 212.0, "rated_kpa": 600.0}]
    drink = next(build for build in seed["builds"] if build["key"] == "pear-signal")
    drink["batch"] = {"serves": 20, "vessel": "ebb-bottle", "service": "carbonated"}
    return seed


def throw_of(seed: dict[str, Any]) -> tuple[int, int, dict[str, Any]]:
    """Where the first chill of Pear Signal stands, and the step."""
    at = next(index for index, build in enumerate(seed["builds"]) if build["key"] == "pear-signal")
    steps = seed["builds"][at]["steps"]
    index = next(index for index, step in enumerate(steps) if step["step"] == "chill")
    return at, index, steps[index]


def test_what_a_house_has_at_the_bar_is_read(seed: dict[str, Any], pantry: Pantry) -> None:
    draft = read_house(json.dumps(at_the_bar(seed)).encode(), pantry)
    assert draft.problems == ()
    book = house_book(draft, pantry)
    assert (book.ices["clear"].pace, book.ices["cubes"].pace) == (0.5, 1.0)
    assert (book.vessels["ebb-bottle"].rated_kpa, book.vessels["keg-19"].rated_kpa) == (600.0, 900.0)
    assert (book.settings.wording_law, book.settings.salt_batch_pct, book.settings.scant_ml) == (
        "eu",
        70.0,
        2.0,
    )
    ids = {raw.slug: raw.id for raw in book.raws.values()}
    leather = next(
        row for row in (*book.builds.values(), *book.leftovers.values()) if row.name == "pear leather"
    )
    first = seed["house"]["swaps"][0]["item"]
    assert book.settings.swaps == (Swap(ids[first], ids["tonic-water"], 0.5), Swap(leather.id))
    drink = next(build for build in book.builds.values() if build.name == "Pear Signal")
    assert drink.batch is not None
    assert (drink.batch.serves, drink.batch.vessel) == (20.0, "ebb-bottle")


def weighed_at(book: HouseBook, step_id: int) -> list[Weighing]:
    return [weighing for weighing in book.weighings.values() if weighing.step_id == step_id]


@pytest.mark.parametrize("as_list", [False, True])
def test_a_weighing_at_a_step_takes_its_conditions_from_the_build(
    seed: dict[str, Any], pantry: Pantry, as_list: bool
) -> None:
    seed = at_the_bar(seed)
    _, index, chill = throw_of(seed)
    melt = {"date": "2026-11-18", "melted_g": 24.8, "note": "six passes"}
    chill["weighed"] = [melt, {**melt, "melted_g": 26.0}] if as_list else melt
    chill["ice"] = "cubes 30 mm"
    draft = read_house(json.dumps(seed).encode(), pantry)
    assert draft.problems == ()
    book = house_book(draft, pantry)
    drink = next(build for build in book.builds.values() if build.name == "Pear Signal")
    weighed = weighed_at(book, drink.steps[index].id)
    assert [one.melted_g for one in weighed] == ([24.8, 26.0] if as_list else [24.8])
    found = weighed[0]
    step = drink.steps[index]
    assert (found.build_id, found.step_id, found.ice, found.date) == (
        drink.id,
        step.id,
        "cubes",
        "2026-11-18",
    )
    start = Workings(book).chill_start(drink.id, step.id)
    assert start is not None
    assert (found.composition, found.liquid_c, found.ice_g) == (
        start.composition,
        start.liquid_c,
        start.ice_g,
    )
    assert max(book.weighings) == book.top_id


def test_an_ice_of_the_weighing_goes_before_the_words_of_the_step(
    seed: dict[str, Any], pantry: Pantry
) -> None:
    seed = at_the_bar(seed)
    _, index, chill = throw_of(seed)
    chill["weighed"] = {"date": "2026-11-18", "melted_g": 24.8, "ice": "clear"}
    book = house_book(read_house(json.dumps(seed).encode(), pantry), pantry)
    drink = next(build for build in book.builds.values() if build.name == "Pear Signal")
    assert [one.ice for one in weighed_at(book, drink.steps[index].id)] == ["clear"]


def test_what_is_wrong_at_the_bar_is_listed_with_its_path(seed: dict[str, Any], pantry: Pantry) -> None:
    seed = at_the_bar(seed)
    at, index, chill = throw_of(seed)
    chill["weighed"] = [{"date": "soon", "melted_g": 1.0}, {"date": "2026-11-18", "melted_g": -1.0}]
    seed["house"]["swaps"] = [{"item": "moon-dust"}, {"item": "pear-leather", "to": "pear-leather"}]
    seed["vessels"][0]["fill_ml"] = 300.0
    seed["ices"].append(seed["ices"][0])
    seed["builds"][at]["batch"]["vessel"] = "barrel"
    place = f"$.builds[{at}].steps[{index}].weighed"
    assert set(problems_of(seed, pantry)) == {
        f"{place}[0].date: Expected a date like 2026-11-21, found “soon”.",
        f"{place}[1].melted_g: Expected `float` >= 0.0.",
        "$.house.swaps[0].item: The item “moon-dust” is not in this file.",
        "$.house.swaps[1]: An item gives way once, and to another.",
        "$.vessels[0].fill_ml: It is filled beyond its brim.",
        "$.ices[1].slug: “clear” stands twice in this file.",
        f"$.builds[{at}].batch.vessel: The vessel “barrel” is not in this file.",
    }


def test_a_weighing_of_no_chill_on_ice_is_refused(seed: dict[str, Any], pantry: Pantry) -> None:
    seed = at_the_bar(seed)
    _, _, chill = throw_of(seed)
    chill["method"] = "dry-shake"
    chill["weighed"] = {"date": "2026-11-18", "melted_g": 24.8, "ice": "clear"}
    draft = read_house(json.dumps(seed).encode(), pantry)
    assert draft.problems == ()
    with pytest.raises(UserError, match="That chill cannot be computed"):
        house_book(draft, pantry)


def test_a_house_file_of_version_2_is_still_read(seed: dict[str, Any], pantry: Pantry) -> None:
    seed["version"] = 2
    assert problems_of(seed, pantry) == []


def test_a_build_file_holds_no_weighings(seed: dict[str, Any], pantry: Pantry) -> None:
    """What a house weighed under its own conditions stays with it."""
    seed = at_the_bar(seed)
    _, _, chill = throw_of(seed)
    chill["weighed"] = {"date": "2026-11-18", "melted_g": 24.8, "ice": "clear"}
    book = house_book(read_house(json.dumps(seed).encode(), pantry), pantry)
    drink = next(build for build in book.builds.values() if build.name == "Pear Signal")
    assert b"weighed" not in write_build(book, drink.id).replace(b"weighed_g", b"")
