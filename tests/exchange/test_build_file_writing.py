"""A build file holds one drink or part with all it depends on, and the same bytes for the same content."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
from msgspec import structs

from tests.exchange.houses import as_json, build_named, raw_of
from washline.assets import resource
from washline.exchange.build_file import adoption, read_build, resolve, schema_bytes, write_build
from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.step import Add
from washline.problem import UserError


def test_a_drink_is_written_with_all_its_parts_and_theirs(demo: HouseBook) -> None:
    found = as_json(demo, "Orchard Bell")
    assert [build["name"] for build in found["builds"]] == [
        "cold tea",
        "sharp apple",
        "lemon juice, ours (breakdown)",
        "peel sugar syrup",
        "saline 20 %, ours",
        "malted oat lace",
        "Orchard Bell",
    ]


def test_all_that_a_drink_depends_on_is_in_the_file(demo: HouseBook) -> None:
    found = as_json(demo, "Orchard Bell")
    assert [target["name"] for target in found["targets"]] == ["alcohol-free"]
    assert [glass["slug"] for glass in found["glasses"]] == ["highball"]
    assert [method["slug"] for method in found["methods"]] == ["shake"]
    assert [measure["slug"] for measure in found["measures"]] == ["drop-water", "drop-spirit", "drop-syrup"]
    assert {"tea-black-leaf", "oats", "butter-unsalted", "soda-water"} <= {
        raw["slug"] for raw in found["raws"]
    }


def test_a_part_is_written_with_the_part_whose_leftover_it_uses(demo: HouseBook) -> None:
    found = as_json(demo, "pear leather")
    assert (found["main"], found["builds"][0]["key"]) == ("pear-leather", "pear-sorrel-cordial")
    assert found["builds"][1]["steps"][0]["item"] == "spent-pear"


def test_a_share_refers_to_the_number_of_a_step(demo: HouseBook) -> None:
    sugar = as_json(demo, "pear-sorrel cordial")["builds"][0]["steps"][9]
    assert sugar["amount"] == {
        "number": 42.0,
        "unit": "%",
        "basis": "percent_of_lines",
        "of": [9],
        "typed": "42 %",
    }


def test_an_unknown_is_left_out_and_a_none_is_written(demo: HouseBook) -> None:
    raws = {raw["slug"]: raw for raw in as_json(demo, "Orchard Bell")["raws"]}
    assert raws["tea-black-leaf"]["composition"] == {
        "water": 7.0,
        "ethanol": 0.0,
        "insoluble": 60.0,
        "co2": 0.0,
    }
    assert raws["soda-water"]["composition"]["ethanol"] == 0.0


def test_allergens_are_always_written_also_when_unknown_or_none(demo: HouseBook) -> None:
    raws = {raw["slug"]: raw["allergens"] for raw in as_json(demo, "Pear Signal")["raws"]}
    assert (raws["verjus"], raws["pear"], raws["vermouth-dry-18"]) == (["unknown"], [], ["sulphites"])


def test_the_sources_of_the_raw_ingredients_are_credited_as_they_ask(demo: HouseBook) -> None:
    assert "Anses. 2020. Ciqual French food composition table." in as_json(demo, "Pear Signal")["credits"]


def test_a_file_without_such_data_carries_no_such_credit(demo: HouseBook) -> None:
    bought = structs.replace(raw_of(demo, "salt-table"), source="label")
    water = structs.replace(raw_of(demo, "water-still"), source="tap")
    book = demo.with_raw(bought).with_raw(water)
    assert "credits" not in as_json(book, "saline 20 %, ours")


def test_the_bytes_do_not_depend_on_ids(demo: HouseBook, starter: HouseBook) -> None:
    data = write_build(demo, build_named(demo, "Sloe Tide").id)
    adopted = adoption(
        resolve(read_build(data), replace(starter, top_id=9000)), replace(starter, top_id=9000)
    )
    assert adopted.build_id > 9000
    assert write_build(adopted.book, adopted.build_id) == data


def test_no_name_of_a_python_class_is_in_the_file(demo: HouseBook) -> None:
    text = write_build(demo, build_named(demo, "Orchard Bell").id).decode()
    assert not any(word in text for word in ("Row", "washline.", "RawIngredient", "StrainRow", "__"))


def test_a_line_that_is_left_out_is_written_with_its_item(demo: HouseBook) -> None:
    drink = build_named(demo, "Pear Signal")
    steps = (*drink.steps[:3], structs.replace(drink.steps[3], left_out=True), *drink.steps[4:])
    found = as_json(demo.with_build(structs.replace(drink, steps=steps)), "Pear Signal")
    assert found["builds"][-1]["steps"][3] == {
        "step": "add",
        "left_out": True,
        "item": "bay-tincture",
        "amount": {"number": 1.0, "unit": "dash", "typed": "1 dash"},
    }
    assert "bay-tincture" in [build["key"] for build in found["builds"]]


def test_two_items_of_one_name_get_keys_of_their_own(demo: HouseBook) -> None:
    cordial = build_named(demo, "pear-sorrel cordial")
    book = demo.with_build(structs.replace(cordial, name="Verjus"))
    found = as_json(book, "Pear Signal")
    assert found["builds"][0]["key"] == "verjus-2"
    assert [step.get("item") for step in found["builds"][-1]["steps"]][1:3] == ["verjus-2", "verjus"]


def test_a_number_that_is_not_finite_is_refused_with_its_place(demo: HouseBook) -> None:
    part = build_named(demo, "saline 20 %, ours")
    salt = structs.replace(part.steps[0], amount=Amount(float("nan"), "g"))
    book = demo.with_build(structs.replace(part, steps=(salt, part.steps[1])))
    with pytest.raises(UserError, match=r"\$\.builds\[0\]\.steps\[0\]\.amount\.number is not finite"):
        write_build(book, part.id)


def test_a_number_that_no_reader_would_take_is_refused_with_its_place(demo: HouseBook) -> None:
    part = build_named(demo, "saline 20 %, ours")
    salt = structs.replace(part.steps[0], amount=Amount(-40.0, "g"))
    book = demo.with_build(structs.replace(part, steps=(salt, part.steps[1])))
    with pytest.raises(
        UserError, match=r"Expected `float` >= 0\.0 - at `\$\.builds\[0\]\.steps\[0\]\.amount\.number`"
    ):
        write_build(book, part.id)


def test_a_whole_number_is_written_like_any_other(demo: HouseBook) -> None:
    part = build_named(demo, "saline 20 %, ours")
    salt = structs.replace(part.steps[0], amount=Amount(40, "g", typed="40 g"))
    book = demo.with_build(structs.replace(part, steps=(salt, part.steps[1])))
    assert write_build(book, part.id) == write_build(demo, part.id)


def test_a_line_whose_item_is_gone_is_refused(demo: HouseBook) -> None:
    drink = build_named(demo, "Pear Signal")
    step = structs.replace(drink.steps[0], item_id=demo.top_id + 1)
    book = demo.with_build(structs.replace(drink, steps=(step, *drink.steps[1:])))
    with pytest.raises(UserError, match="line 1 names an item that is gone"):
        write_build(book, drink.id)


def test_a_share_of_a_line_that_is_gone_is_refused(demo: HouseBook) -> None:
    part = build_named(demo, "saline 20 %, ours")
    water = part.steps[1]
    assert isinstance(water, Add)
    share = structs.replace(water, amount=Amount(4.0, "parts", Basis.PARTS, (demo.top_id + 1,)))
    book = demo.with_build(structs.replace(part, steps=(part.steps[0], share)))
    with pytest.raises(UserError, match="refers to a line that is gone"):
        write_build(book, part.id)


def test_a_build_that_is_gone_is_refused(demo: HouseBook) -> None:
    with pytest.raises(UserError, match="not in the house book any more"):
        write_build(demo, demo.top_id + 1)


def test_the_published_schema_is_the_one_of_the_types() -> None:
    assert resource("schema", "build-3.schema.json").read_bytes() == schema_bytes()


def test_the_schema_knows_every_field_that_a_file_holds(demo: HouseBook) -> None:
    """Walks a file beside the schema; no JSON Schema library is among the requirements."""
    schema = json.loads(schema_bytes())
    unknown: list[str] = []

    def walk(value: object, rule: dict[str, object], path: str) -> None:
        rule = resolved(rule, value)
        if isinstance(value, dict):
            properties = rule.get("properties")
            assert isinstance(properties, dict), path
            unknown.extend(f"{path}.{name}" for name in value if name not in properties)
            for name in value.keys() & properties.keys():
                walk(value[name], properties[name], f"{path}.{name}")
        if isinstance(value, list):
            items = rule.get("items")
            assert isinstance(items, dict), path
            for index, one in enumerate(value):
                walk(one, items, f"{path}[{index}]")

    def resolved(rule: dict[str, object], value: object) -> dict[str, object]:
        while True:
            choices = rule.get("anyOf")
            if isinstance(choices, list):
                tag = value.get("step") if isinstance(value, dict) else None
                rule = next(one for one in choices if tag is None or fits(one, tag))
            reference = rule.get("$ref")
            if not isinstance(reference, str):
                return rule
            rule = schema["$defs"][reference.removeprefix("#/$defs/")]

    def fits(choice: dict[str, str], tag: object) -> bool:
        properties = schema["$defs"][choice["$ref"].removeprefix("#/$defs/")]["properties"]
        return bool(properties["step"] == {"enum": [tag]})

    for name in ("Orchard Bell", "Quince Ferry", "pear leather"):
        walk(as_json(demo, name), schema, "$")
    assert unknown == []


@pytest.mark.parametrize("version", [1, 2])
def test_the_schema_of_an_older_version_stays_published(version: int) -> None:
    schema = json.loads(resource("schema", f"build-{version}.schema.json").read_bytes())
    assert schema["$id"] == f"urn:washline:build:{version}"
    assert schema["$defs"]["BuildFile"]["properties"]["version"] == {"enum": [version]}


def test_the_schema_speaks_of_the_domain_and_has_one_version(tmp_path: Path) -> None:
    schema = json.loads(schema_bytes())
    assert schema["$id"] == "urn:washline:build:3"
    assert {"Build", "Raw", "Strain", "Leftover", "Amount"} <= schema["$defs"].keys()
    assert not any(name.endswith("Row") for name in schema["$defs"])
