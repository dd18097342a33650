"""What a build file means in a house book: reuse of what is the same, doubts about what differs, and what is put in."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from msgspec import structs

from tests.exchange.houses import as_bytes, as_json, build_named, raw_of
from washline.engine.workings import Workings
from washline.exchange.build_file import (
    Choice,
    adopt,
    adoption,
    read_build,
    resolve,
    settled,
    write_build,
)
from washline.model.book import HouseBook
from washline.model.change import Table, difference
from washline.model.step import Add
from washline.problem import UserError

NAMES = [
    "Pear Signal",
    "Pear Signal, bay twist",
    "Sloe Tide",
    "Quince Ferry",
    "Drift",
    "Orchard Bell",
    "Saltings",
    "Beet Lantern",
    "pear leather",
    "barley cream punch base",
    "beet brine",
    "malted oat lace",
    "saline 20 %, ours",
]


@pytest.mark.parametrize("name", NAMES)
def test_a_build_goes_into_an_empty_house_and_comes_out_as_the_same_bytes(
    demo: HouseBook, starter: HouseBook, name: str
) -> None:
    data = write_build(demo, build_named(demo, name).id)
    resolution = resolve(read_build(data), starter)
    assert resolution.doubts == ()
    adopted = adoption(resolution, starter)
    assert write_build(adopted.book, adopted.build_id) == data


@pytest.mark.parametrize("name", NAMES)
def test_a_build_reads_the_same_in_another_house(demo: HouseBook, starter: HouseBook, name: str) -> None:
    build = build_named(demo, name)
    adopted = adoption(resolve(read_build(write_build(demo, build.id)), starter), starter)
    ours = Workings(demo).result_now(build.id)
    theirs = Workings(adopted.book).result_now(adopted.build_id)
    # Lines that are poured together are added in the order of their ids, which another house gives anew.
    np.testing.assert_allclose(theirs.values, ours.values, rtol=1e-13)
    np.testing.assert_allclose(theirs.more, ours.more, rtol=1e-13)


@pytest.mark.parametrize("name", NAMES)
def test_what_a_house_has_already_changes_nothing_in_it(demo: HouseBook, name: str) -> None:
    resolution = resolve(read_build(write_build(demo, build_named(demo, name).id)), demo)
    assert (resolution.doubts, resolution.new) == ((), ())
    assert not difference(demo, adopt(resolution, demo))


def test_the_main_build_is_found_where_the_house_has_it_already(demo: HouseBook) -> None:
    drink = build_named(demo, "Quince Ferry")
    assert adoption(resolve(read_build(write_build(demo, drink.id)), demo), demo).build_id == drink.id


def test_only_builds_and_leftovers_are_new_in_a_house_with_the_same_pantry(
    demo: HouseBook, starter: HouseBook
) -> None:
    priced = replace(starter, raws=demo.raws)
    resolution = resolve(read_build(write_build(demo, build_named(demo, "Quince Ferry").id)), priced)
    changed = {change.table for change in difference(priced, adopt(resolution, priced)).changes}
    assert changed == {Table.BUILD, Table.STEP, Table.LEFTOVER}
    assert resolution.new == ("quince shrub", "pear-sorrel cordial", "pear leather", "Quince Ferry")


def test_a_price_that_the_house_has_not_got_is_taken_and_said(demo: HouseBook, starter: HouseBook) -> None:
    resolution = resolve(read_build(write_build(demo, build_named(demo, "saline 20 %, ours").id)), starter)
    assert resolution.notes == (
        "This house has no prices of these; the file's are taken: Salt, fine; Water, still (tap or spring).",
    )
    assert raw_of(adopt(resolution, starter), "salt-table").prices == raw_of(demo, "salt-table").prices


def test_a_house_keeps_its_own_price(demo: HouseBook) -> None:
    salt = raw_of(demo, "salt-table")
    own = structs.replace(salt.prices[0], per_unit=9.0, note="our wholesaler")
    book = demo.with_raw(structs.replace(salt, prices=(own,)))
    data = write_build(demo, build_named(demo, "saline 20 %, ours").id)
    resolution = resolve(read_build(data), book)
    assert resolution.doubts == ()
    assert raw_of(adopt(resolution, book), "salt-table").prices == (own,)


@pytest.fixture
def sharper(demo: HouseBook) -> HouseBook:
    """The demo house on a day when its lemons are sharper."""
    lemon = raw_of(demo, "lemon-juice")
    parts = (*lemon.composition[:9], 6.0, *lemon.composition[10:])
    return demo.with_raw(structs.replace(lemon, composition=parts))


def test_a_raw_ingredient_that_differs_is_a_doubt_with_both_sides(
    demo: HouseBook, sharper: HouseBook
) -> None:
    (doubt,) = resolve(read_build(write_build(demo, build_named(demo, "Sloe Tide").id)), sharper).doubts
    assert doubt.words == "Raw ingredient “Lemon juice, fresh, strained” is not the same here as in the file."
    assert [one.what for one in doubt.differences] == ["composition"]
    assert "citric 6" in doubt.differences[0].ours
    assert "citric 4.8349" in doubt.differences[0].theirs
    assert doubt.choices == (Choice.OURS, Choice.THEIRS)


def test_nothing_is_put_in_while_a_doubt_is_open(demo: HouseBook, sharper: HouseBook) -> None:
    resolution = resolve(read_build(write_build(demo, build_named(demo, "Sloe Tide").id)), sharper)
    with pytest.raises(UserError, match="not the same here"):
        adopt(resolution, sharper)


def test_to_keep_ours_uses_the_houses_lemon(demo: HouseBook, sharper: HouseBook) -> None:
    resolution = resolve(read_build(write_build(demo, build_named(demo, "Sloe Tide").id)), sharper)
    kept = settled(resolution, sharper, resolution.doubts[0].key, Choice.OURS)
    assert kept.new == ()
    assert not difference(sharper, adopt(kept, sharper))


def test_to_take_theirs_adds_their_lemon_and_all_that_rests_on_it_under_free_names(
    demo: HouseBook, sharper: HouseBook
) -> None:
    resolution = resolve(read_build(write_build(demo, build_named(demo, "Sloe Tide").id)), sharper)
    taken = settled(resolution, sharper, resolution.doubts[0].key, Choice.THEIRS)
    while taken.open_doubts:
        taken = settled(taken, sharper, taken.open_doubts[0].key, Choice.THEIRS)
    adopted = adoption(taken, sharper)
    assert taken.new == (
        "Lemon juice, fresh, strained (2)",
        "lemon juice, ours (breakdown) (2)",
        "peel sugar syrup (2)",
        "quince paste (2)",
        "Sloe Tide (2)",
    )
    assert raw_of(adopted.book, "lemon-juice-2").composition == raw_of(demo, "lemon-juice").composition
    assert raw_of(adopted.book, "lemon-juice").composition[9] == 6.0
    assert adopted.book.builds[adopted.build_id].name == "Sloe Tide (2)"


def test_a_drink_with_another_pour_is_a_doubt(demo: HouseBook) -> None:
    file = as_json(demo, "Pear Signal")
    file["builds"][-1]["steps"][0]["amount"]["number"] = 52.5
    (doubt,) = resolve(read_build(as_bytes(file)), demo).doubts
    assert (doubt.kind, doubt.name) == ("Drink", "Pear Signal")
    assert [one.what for one in doubt.differences] == ["steps"]


def test_their_drink_is_added_beside_ours_with_our_parts(demo: HouseBook) -> None:
    file = as_json(demo, "Pear Signal")
    file["builds"][-1]["steps"][0]["amount"]["number"] = 52.5
    resolution = resolve(read_build(as_bytes(file)), demo)
    adopted = adoption(settled(resolution, demo, resolution.doubts[0].key, Choice.THEIRS), demo)
    drink = adopted.book.builds[adopted.build_id]
    cordial = drink.steps[1]
    assert drink.name == "Pear Signal (2)"
    assert isinstance(cordial, Add)
    assert cordial.item_id == build_named(demo, "pear-sorrel cordial").id
    assert len(adopted.book.builds) == len(demo.builds) + 1


def test_a_part_of_the_same_name_and_other_content_is_a_doubt(demo: HouseBook) -> None:
    file = as_json(demo, "Pear Signal")
    file["builds"][0]["steps"][8]["weighed_g"] = 880
    kinds = [(doubt.kind, doubt.name) for doubt in resolve(read_build(as_bytes(file)), demo).doubts]
    assert kinds[0] == ("House-made part", "pear-sorrel cordial")


def test_ours_cannot_stand_in_for_a_part_whose_leftover_it_does_not_leave(demo: HouseBook) -> None:
    file = as_json(demo, "pear leather")
    file["builds"][0]["steps"][8]["leftover"]["name"] = "pomace"
    doubt = resolve(read_build(as_bytes(file)), demo).doubts[0]
    assert doubt.choices == (Choice.THEIRS,)


def test_a_choice_that_is_not_possible_settles_nothing(demo: HouseBook) -> None:
    file = as_json(demo, "pear leather")
    file["builds"][0]["steps"][8]["leftover"]["name"] = "pomace"
    resolution = resolve(read_build(as_bytes(file)), demo)
    again = settled(resolution, demo, resolution.doubts[0].key, Choice.OURS)
    assert again.doubts[0].choice is None


@pytest.mark.parametrize(
    "field, change, kind",
    [
        ("glasses", {"brim_ml": 400.0}, "Glass"),
        ("methods", {"end_high_c": 5.0}, "Method"),
        ("targets", {"aims": [{"reading": "length", "low": 1, "ideal": 2, "high": 3}]}, "Target"),
    ],
)
def test_a_glass_a_method_and_a_target_that_differ_are_doubts(
    demo: HouseBook, field: str, change: dict[str, Any], kind: str
) -> None:
    file = as_json(demo, "Pear Signal")
    file[field][0].update(change)
    resolution = resolve(read_build(as_bytes(file)), demo)
    assert resolution.doubts[0].kind == kind
    kept = settled(resolution, demo, resolution.doubts[0].key, Choice.OURS)
    assert not difference(demo, adopt(kept, demo))


def test_their_glass_is_added_under_a_slug_of_its_own_and_used(demo: HouseBook) -> None:
    file = as_json(demo, "Pear Signal")
    file["glasses"][0]["brim_ml"] = 400.0
    resolution = resolve(read_build(as_bytes(file)), demo)
    while resolution.open_doubts:
        resolution = settled(resolution, demo, resolution.open_doubts[0].key, Choice.THEIRS)
    adopted = adoption(resolution, demo)
    glass = adopted.book.glass_of(adopted.book.builds[adopted.build_id])
    assert glass is not None
    assert (glass.slug, glass.name, glass.brim_ml) == ("rocks-double-2", "Rocks glass, double (2)", 400.0)
    assert adopted.book.glasses["rocks-double"].brim_ml == 350.0


def test_a_measure_that_differs_is_said_and_the_houses_own_is_kept(demo: HouseBook) -> None:
    file = as_json(demo, "Pear Signal")
    file["measures"][0]["value"] = 0.9
    resolution = resolve(read_build(as_bytes(file)), demo)
    assert resolution.notes == (
        "Dash from a bitters bottle with insert holds 0.9 ml in the file and 0.8 ml in this house, which is kept.",
    )
    assert adopt(resolution, demo).measures["dash"].value == 0.8


def test_a_house_that_counts_otherwise_is_told(demo: HouseBook) -> None:
    book = demo.with_settings(structs.replace(demo.settings, oz_ml=29.5735))
    resolution = resolve(read_build(write_build(demo, build_named(demo, "cold tea").id)), book)
    assert resolution.notes == (
        "The file counts with oz ml 30, this house with 29.5735: readings may differ.",
    )


def test_a_raw_ingredient_of_another_slug_is_matched_by_its_name(demo: HouseBook) -> None:
    file = as_json(demo, "saline 20 %, ours")
    file["raws"][0]["slug"] = "their-salt"
    file["builds"][0]["steps"][0]["item"] = "their-salt"
    resolution = resolve(read_build(as_bytes(file)), demo)
    assert (resolution.doubts, resolution.new) == ((), ())


def test_a_raw_ingredient_that_nobody_has_is_new(demo: HouseBook) -> None:
    file = as_json(demo, "saline 20 %, ours")
    file["raws"][0] |= {"slug": "estuary-salt", "name": "Salt from our estuary"}
    file["builds"][0]["steps"][0]["item"] = "estuary-salt"
    file["builds"][0]["name"] = "estuary saline"
    adopted = adoption(resolve(read_build(as_bytes(file)), demo), demo)
    assert raw_of(adopted.book, "estuary-salt").name == "Salt from our estuary"
    assert adopted.book.builds[adopted.build_id].name == "estuary saline"


def test_a_spare_row_with_a_problem_is_left_out_and_said(demo: HouseBook) -> None:
    file = as_json(demo, "saline 20 %, ours")
    file["raws"].append({"slug": "spare", "name": "Spare"})
    resolution = resolve(read_build(as_bytes(file)), demo)
    assert resolution.notes == (
        "Left out of the file: $.raws[2]: Object missing required field `composition`.",
    )


def test_a_bad_row_that_the_drink_rests_on_stops_the_import(demo: HouseBook) -> None:
    file = as_json(demo, "saline 20 %, ours")
    file["raws"][0]["form"] = "foam"
    with pytest.raises(UserError, match=r"cannot be taken in\. \$\.raws\[0\]\.form"):
        resolve(read_build(as_bytes(file)), demo)


def test_the_twist_remembers_its_parent_only_where_both_are_in_the_file(
    demo: HouseBook, starter: HouseBook
) -> None:
    twist = build_named(demo, "Pear Signal, bay twist")
    adopted = adoption(resolve(read_build(write_build(demo, twist.id)), starter), starter)
    assert adopted.book.builds[adopted.build_id].parent_id is None


def test_a_difference_says_what_is_not_known_and_what_is_none(demo: HouseBook) -> None:
    file = as_json(demo, "saline 20 %, ours")
    file["raws"][1] |= {"density_g_per_ml": None, "allergens": ["unknown"]}
    (doubt,) = resolve(read_build(as_bytes(file)), demo).doubts[:1]
    assert [(one.what, one.ours, one.theirs) for one in doubt.differences] == [
        ("density g per ml", "0.9983", "not known"),
        ("allergens", "none", "unknown"),
    ]


def test_a_house_without_a_glass_a_method_a_target_or_a_measure_gets_the_files(demo: HouseBook) -> None:
    bare = replace(demo, glasses={}, methods={}, targets={}, measures={}, builds={}, leftovers={})
    adopted = adoption(
        resolve(read_build(write_build(demo, build_named(demo, "Pear Signal").id)), bare), bare
    )
    assert list(adopted.book.glasses) == ["rocks-double"]
    assert list(adopted.book.methods) == ["build"]
    assert [target.name for target in adopted.book.targets.values()] == ["low-strength aperitif"]
    assert list(adopted.book.measures) == ["dash"]


def test_a_part_that_differs_can_be_kept_as_ours_and_their_drink_is_then_the_same(demo: HouseBook) -> None:
    file = as_json(demo, "Pear Signal")
    file["builds"][0]["steps"][8]["weighed_g"] = 880
    resolution = resolve(read_build(as_bytes(file)), demo)
    kept = settled(resolution, demo, "House-made part: pear-sorrel-cordial", Choice.OURS)
    assert kept.open_doubts == ()
    assert not difference(demo, adopt(kept, demo))


def test_a_name_in_other_letters_is_the_same_name(demo: HouseBook) -> None:
    file = as_json(demo, "cold tea")
    file["builds"][0]["name"] = "Cold Tea"
    resolution = resolve(read_build(as_bytes(file)), demo)
    assert (resolution.doubts, resolution.new) == ((), ())


def test_adopting_into_a_book_that_changed_meanwhile_looks_again(demo: HouseBook, sharper: HouseBook) -> None:
    """The doubt was not there when the file was resolved; it is not passed over."""
    resolution = resolve(read_build(write_build(demo, build_named(demo, "Sloe Tide").id)), demo)
    assert resolution.doubts == ()
    with pytest.raises(UserError, match="not the same here"):
        adopt(resolution, sharper)
