"""``compute``: the readings of what a name means, as a table and as JSON, with everything that is not known said."""

import json
import math
from dataclasses import replace as replaced
from pathlib import Path

import pytest
from msgspec.structs import replace

from tests.cli.running import Runner, house_book_file
from tests.engine.hazards import SCENES
from washline.document.places import Places
from washline.exchange.build_file import write_build
from washline.exchange.demo import demo_house
from washline.model.book import HouseBook
from washline.model.house import Shared
from washline.model.reading import READING_KEYS
from washline.presentation.card_pressure import OPENING
from washline.presentation.cautions import DEFERRAL, allergens, cautions


def verjus_in(book: HouseBook) -> int:
    """The id of the verjus, which Pear Signal pours."""
    return next(raw.id for raw in book.raws.values() if raw.slug == "verjus")


def book_with_verjus(**fields: object) -> HouseBook:
    """The demo house with something else known of its verjus."""
    book = demo_house()
    return book.with_raw(replace(book.raws[verjus_in(book)], **fields))


def test_json_holds_every_reading_with_unit_spread_and_method(washline: Runner) -> None:
    found = washline("compute", "Pear Signal", "--json").json
    assert (found["format"], found["version"]) == ("washline readings", 1)
    assert [one["key"] for one in found["readings"]] == list(READING_KEYS)
    strength = found["readings"][0]
    # The demo house's own figure for this drink is 6.7 % vol, computed with other software.
    assert math.isclose(strength["value"], 6.7, abs_tol=0.05)
    assert strength["unit"] == "% vol"
    assert strength["spread"]["up"] > 0.0
    assert strength["method"]


def test_json_has_full_precision(washline: Runner) -> None:
    found = washline("compute", "Pear Signal", "--json").json
    assert len(repr(found["readings"][0]["value"])) > 10


def test_contributions_add_up_to_the_glass(washline: Runner) -> None:
    found = washline("compute", "Pear Signal", "--json").json
    lines = [one for one in found["contributions"] if one["brings"] and not one["is_on_glass"]]
    melted = next(one["found_g"] for one in found["contributions"] if one["kind"] == "chill")
    mass = next(one["value"] for one in found["readings"] if one["key"] == "mass")
    gas_g = 0.2  # What leaves as gas on pouring, 25 % of about 0.5 g.
    assert math.isclose(sum(one["brings"]["grams"] for one in lines) + melted, mass, abs_tol=gas_g)


def test_json_names_units_of_alcohol_with_their_grams(washline: Runner) -> None:
    units = washline("compute", "Pear Signal", "--json").json["alcohol_units"]
    # An Australian standard drink is 10 g.
    assert (units["country"], units["grams_of_one_unit"]) == ("au", 10.0)
    assert math.isclose(units["value"], 0.89, abs_tol=0.01)


@pytest.mark.parametrize("key", cautions())
def test_each_caution_reaches_the_json_with_the_deferral_at_its_end(
    key: str, washline: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("washline.cli.books.demo_house", lambda: book_with_verjus(cautions=(key,)))
    said = washline("compute", "Pear Signal", "--json")
    found = next(one for one in said.json["cautions"] if one["key"] == key)
    assert found["text"] == f"{cautions()[key].bar} {DEFERRAL}"
    assert found["bench_text"].endswith(DEFERRAL)
    assert any("verjus" in source for source in found["sources"])


@pytest.mark.parametrize("key", SCENES)
def test_each_caution_of_a_step_reaches_the_json_with_its_step(
    key: str, washline: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("washline.cli.books.demo_house", SCENES[key])
    found = next(
        one for one in washline("compute", "Lantern", "--json").json["cautions"] if one["key"] == key
    )
    assert found["text"] == f"{cautions()[key].bar} {DEFERRAL}"
    assert found["steps"]
    step = found["steps"][0]
    assert step["build"] == ("Lantern" if key in ("sub-zero-pour", "hot-scald") else "house part")
    assert step["kind"]
    assert cautions()[key].bar in washline("compute", "Lantern").out


def test_the_figures_of_a_ferment_are_in_the_json(washline: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("washline.cli.books.demo_house", SCENES["ferment-salt"])
    document = washline("compute", "house part", "--json").json
    step = next(one for one in document["cautions"] if one["key"] == "ferment-salt")["steps"][0]
    # 20 g of a salt that is 99 % NaCl in 1,000 g.
    assert math.isclose(step["figures"]["salt_pct"], 1.98, abs_tol=1e-9)
    assert step["words"] == "2 % salt of all that ferments."


def test_what_may_get_in_is_in_the_json_with_its_ways_and_apart_from_what_is_contained(
    washline: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = book_with_verjus(may_contain=("nuts", "sulphites"))
    book = book.with_settings(replace(book.settings, shared=(Shared("fridge", ("milk",)),)))
    monkeypatch.setattr("washline.cli.books.demo_house", lambda: book)
    found = washline("compute", "Pear Signal", "--json").json
    assert [one["key"] for one in found["may_contain"]] == ["milk", "nuts"]
    verjus = book.raws[verjus_in(book)].name
    assert found["may_contain"][1]["ways"] == [{"item": verjus, "shared_place": None}]
    assert {way["shared_place"] for way in found["may_contain"][0]["ways"]} == {"fridge"}
    assert "May contain: " in washline("compute", "Pear Signal").out


def test_the_keeping_of_a_part_is_in_the_json_and_says_that_nothing_was_tested(washline: Runner) -> None:
    found = washline("compute", "quince shrub", "--json").json["keeping"]
    assert found["is_tested"] is False
    assert found["own"]["days_set"] == 30
    assert [one["key"] for one in found["own"]["hurdles"]] == ["ph", "water_activity", "strength", "cold"]
    assert "do not show that a product is safe" in found["own"]["caution"]
    assert "do not show that a product is safe" in washline("compute", "quince shrub").out


def test_the_keeping_of_a_drink_is_that_of_what_it_pours(washline: Runner) -> None:
    found = washline("compute", "Quince Ferry", "--json").json["keeping"]
    assert found["own"] is None
    assert {"quince shrub"} <= {one["item"] for one in found["inputs"]}


@pytest.mark.parametrize("key", allergens())
def test_each_allergen_reaches_the_json_and_the_table(
    key: str, washline: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("washline.cli.books.demo_house", lambda: book_with_verjus(allergens=(key,)))
    found = washline("compute", "Pear Signal", "--json").json["allergens"]
    assert "verjus" in next(one["source"] for one in found if one["key"] == key)
    table = washline("compute", "Pear Signal").out
    assert allergens()[key].word in table.partition("Contains:")[2].partition("\n")[0]


def test_unknown_allergen_reaches_the_json_and_the_table(washline: Runner) -> None:
    found = washline("compute", "Pear Signal", "--json").json
    assert "Verjus (unripe grape juice)" in found["unknown"]
    assert found["unknown_note"].endswith("Read the labels.")
    assert "Unknown: " in washline("compute", "Pear Signal").out


def test_table_ends_with_contains_cautions_deferral_and_credits(washline: Runner) -> None:
    out = washline("compute", "Pear Signal").out
    assert "Strength" in out
    places = [
        out.index(word) for word in ("Contains:", "Unknown:", "Alcohol:", "Caution:", DEFERRAL, "Data:")
    ]
    assert places == sorted(places)


def test_nothing_is_nan_where_a_line_cannot_be_computed(
    washline: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = demo_house()
    raws = {key: raw for key, raw in book.raws.items() if key != verjus_in(book)}
    monkeypatch.setattr("washline.cli.books.demo_house", lambda: replaced(book, raws=raws))
    said = washline("compute", "Pear Signal", "--json")
    assert said.code == 1
    strength = said.json["readings"][0]
    assert strength["value"] is None
    assert strength["reasons"]
    assert said.json["problems"]
    table = washline("compute", "Pear Signal")
    assert table.code == 1
    assert "?" in table.out


def test_part_is_computed_as_well(washline: Runner) -> None:
    found = washline("compute", "quince shrub", "--json").json
    assert found["build"]["kind"] == "part"
    mass = next(one["value"] for one in found["readings"] if one["key"] == "mass")
    assert math.isclose(mass, 1270.0)


@pytest.mark.parametrize(
    "name", ["Pear Signal", "pear signal", "PEAR  SIGNAL", "Sloe", "bay twist", "orchard"]
)
def test_name_is_found_as_written_then_folded_then_by_a_part(name: str, washline: Runner) -> None:
    assert washline("compute", name).code == 0


def test_exact_name_wins_over_names_that_contain_it(washline: Runner) -> None:
    assert washline("compute", "Pear Signal", "--json").json["build"]["name"] == "Pear Signal"


def test_ambiguous_name_lists_what_it_may_be(washline: Runner) -> None:
    said = washline("compute", "pear")
    assert said.code == 3
    assert "Pear Signal, bay twist" in said.err
    assert "pear leather" in said.err
    assert said.out == ""


def test_name_that_is_not_there_names_what_is_near(washline: Runner) -> None:
    said = washline("compute", "pear clouds")
    assert said.code == 3
    assert "There is no drink or part called “pear clouds”" in said.err
    assert "pear leather" in said.err


def test_build_file_is_computed_by_itself(washline: Runner, tmp_path: Path) -> None:
    book = demo_house()
    signal = next(build for build in book.drinks() if build.name == "Pear Signal")
    file = tmp_path / "pear.build.json"
    file.write_bytes(write_build(book, signal.id))
    from_file = washline("compute", str(file), "--json").json
    from_book = washline("compute", "Pear Signal", "--json").json
    assert [one["value"] for one in from_file["readings"]] == [one["value"] for one in from_book["readings"]]
    assert from_file["unknown"] == from_book["unknown"]


@pytest.mark.parametrize("content", [b"", b"not JSON", b"[]", b"{}", b'{"format": "other"}', b"\xff\xfe"])
def test_file_that_is_no_build_file_is_refused(content: bytes, washline: Runner, tmp_path: Path) -> None:
    file = tmp_path / "x.build.json"
    file.write_bytes(content)
    said = washline("compute", str(file), "--json")
    assert said.code == 1
    assert said.err.startswith("washline: ")
    assert said.out == ""


def test_file_that_is_not_there_is_told(washline: Runner) -> None:
    said = washline("compute", "nowhere.build.json")
    assert said.code == 1
    assert "cannot be read" in said.err


def test_book_option_reads_that_book(washline: Runner, tmp_path: Path) -> None:
    path = house_book_file(tmp_path / "winter.housebook")
    found = washline("compute", "Pear Signal", "--json", "--book", str(path)).json
    assert found["book"]["file"] == str(path)


def test_book_opened_last_is_read_where_none_is_named(
    washline: Runner, tmp_path: Path, own_places: Places
) -> None:
    path = house_book_file(tmp_path / "winter.housebook")
    own_places.recent.add(path)
    assert washline("compute", "Pear Signal", "--json").json["book"]["file"] == str(path)


def test_last_book_that_is_gone_is_told_and_the_demo_house_read(
    washline: Runner, tmp_path: Path, own_places: Places
) -> None:
    own_places.recent.add(tmp_path / "gone.housebook")
    said = washline("compute", "Pear Signal", "--json")
    assert said.code == 0
    assert "not there any more" in said.err
    assert said.json["book"]["file"] is None


def test_reading_leaves_the_house_book_as_it_was(washline: Runner, tmp_path: Path) -> None:
    path = house_book_file(tmp_path / "winter.housebook")
    before, when = path.read_bytes(), path.stat().st_mtime_ns
    for words in (("compute", "Pear Signal"), ("card", "--all", "--out", str(tmp_path / "c")), ("check",)):
        assert washline(*words, "--book", str(path)).code == 0
    assert path.read_bytes() == before
    assert path.stat().st_mtime_ns == when
    assert sorted(one.name for one in tmp_path.iterdir()) == ["c", "winter.housebook"]


def test_book_that_is_none_is_told(washline: Runner, tmp_path: Path) -> None:
    path = tmp_path / "text.housebook"
    path.write_text("not a house book")
    said = washline("compute", "Pear Signal", "--book", str(path))
    assert said.code == 1
    assert "is not a house book" in said.err


def test_book_of_a_newer_version_has_a_code_of_its_own(washline: Runner, tmp_path: Path) -> None:
    path = house_book_file(tmp_path / "later.housebook")
    data = bytearray(path.read_bytes())
    data[60:64] = (999).to_bytes(4)  # SQLite keeps user_version at byte 60 (Database File Format, 1.3).
    path.write_bytes(data)
    said = washline("compute", "Pear Signal", "--book", str(path))
    assert said.code == 4
    assert "newer version" in said.err


def test_quiet_says_nothing_but_results(washline: Runner, tmp_path: Path) -> None:
    said = washline("export", "Pear Signal", "--out", str(tmp_path / "p.build.json"), "--quiet")
    assert (said.code, said.out, said.err) == (0, "", "")
    assert json.loads((tmp_path / "p.build.json").read_bytes())["main"] == "pear-signal"


def test_every_reading_has_its_number_and_a_text(washline: Runner) -> None:
    readings = washline("compute", "Orchard Bell", "--json").json["readings"]
    strength = next(one for one in readings if one["key"] == "strength")
    assert isinstance(strength["value"], float)
    assert strength["value"] < 0.05
    assert strength["text"] == "below 0.05"
    assert {one["key"] for one in readings} == set(READING_KEYS)
    assert all(one["text"] for one in readings)


def test_the_table_never_writes_a_strength_of_none(washline: Runner) -> None:
    out = washline("compute", "Orchard Bell").out
    line = next(one for one in out.splitlines() if one.startswith("Strength"))
    assert "below 0.05" in line
    assert "Wording: may be called low-alcohol, not alcohol-free (the strictest known" in out


def test_the_words_of_the_law_are_in_the_json_with_condition_and_source(washline: Runner) -> None:
    wording = washline("compute", "Orchard Bell", "--json").json["strength_wording"]
    assert wording["law"] == "strictest"
    assert wording["word"] == "low-alcohol"
    assert wording["refused"]["word"] == "alcohol-free"
    assert wording["note"].endswith("Check your local rule.")
    for row in wording["allowed"]:
        assert row["condition"]
        assert row["source"]
        assert row["is_from_memory"] in (True, False)


def test_proof_is_twice_the_strength_in_the_json(washline: Runner) -> None:
    document = washline("compute", "Drift", "--json").json
    strength = next(one["value"] for one in document["readings"] if one["key"] == "strength")
    # 27 CFR 5, from memory.
    assert math.isclose(document["strength_wording"]["us_proof"], 2.0 * strength)


def test_a_bottle_under_pressure_is_told_in_table_and_json(
    washline: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("washline.cli.books.demo_house", SCENES["pressure"])
    document = washline("compute", "house part", "--json").json
    assert document["pressure"][-1] == OPENING
    assert OPENING in washline("compute", "house part").out
    assert washline("compute", "Lantern", "--json").json["pressure"] == []
