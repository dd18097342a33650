"""The demo house: every build is summed by hand here and compared with the masses that the house wrote down.

The expected figures are the house's own (the vessel column of its written builds); they are invented demo data.
"""

import re
import shutil
from pathlib import Path

import pytest

from tests.exchange.houses import build_named, raw_of
from washline.assets import database_file
from washline.exchange import demo as demo_module
from washline.exchange.demo import demo_house
from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.graph import in_order
from washline.model.item import Build, KeptAt
from washline.model.step import Add, Chill, Dry, Garnish, Heat, Reduce, Strain, Top
from washline.problem import UserError

VESSELS = {
    "pear-sorrel cordial": [1200, 1290, 1314, 1322, 1324.4, 1324.9, 1324.9, 1324.9, 905, 1285.1, 1285.1],
    "pear leather": [405.9, 495.2, 495.2, 208.0, 208.0],
    "quince shrub": [800, 1280, 1280, 1680, 1680, 1270],
    "quince paste": [390, 565.5, 581.1, 395.1, 395.1],
    "bay tincture": [160, 250, 270, 270, 232, 256.3],
    "saline 20 %, ours": [40, 200],
    "rosehip syrup": [300, 1200, 1000, 1000, 1000, 760, 760, 1419.4],
    "sharp apple": [1050, 1052.1, 1049.1, 1049.1, 860, 860, 880, 910.1],
    "malted oat lace": [30, 70, 70, 115, 135, 135.5, 135.5, 108.4, 108.4],
    "peel sugar syrup": [160, 300, 600, 600, 780, 780, 470],
    "candied peel": [300, 360, 237.6, 237.6],
    "cold tea": [10, 1010, 1010, 960],
}
LOSSES = {
    "pear-sorrel cordial": 14.0,
    "quince shrub": 20.0,
    "bay tincture": 8.0,
    "rosehip syrup": 10.0,
    "sharp apple": 10.0,
    "peel sugar syrup": 10.0,
    "cold tea": 8.0,
}
PARTS_G_PER_ML = {  # mass over volume in the heads of the house's written builds
    "pear-sorrel cordial": 1285.1 / 1091,
    "quince shrub": 1270 / 1097,
    "bay tincture": 256.3 / 282,
    "saline 20 %, ours": 200 / 174,
    "rosehip syrup": 1419.4 / 1153,
    "sharp apple": 910.1 / 853,
    "peel sugar syrup": 470 / 391,
    "cold tea": 45.0 / 45,
}
GLASSES = {
    "Pear Signal": [59.6, 26.5, 15.4, 0.7, 9.8, 59.9],
    "Pear Signal, bay twist": [59.0, 26.5, 7.7, 1.5, 24.8, 54.3],
    "Sloe Tide": [42.1, 15.6, 23.2, 18.0, 20.8, 0.0, 55.0],
    "Quince Ferry": [42.7, 28.9, 13.5],
    "Orchard Bell": [62.9, 45.0, 16.0, 12.0, 0.2, 21.0, 45.0],
}
GARNISHES = {
    "Pear Signal": [0.6],
    "Pear Signal, bay twist": [0.3],
    "Sloe Tide": [0.09, 6.6],
    "Quince Ferry": [4.3],
    "Orchard Bell": [4.5],
}
FAMILIES = {
    "Pear Signal": "low-strength aperitif",
    "Pear Signal, bay twist": "low-strength aperitif",
    "Sloe Tide": "shaken sour",
    "Quince Ferry": "highball",
    "Orchard Bell": "alcohol-free",
}

UNTIL = re.compile(
    "until (the book can|infusing has|clarifying has|measured figures have|our own lemons are)"
)


def unit_g(book: HouseBook, item_id: int, unit: str) -> float:
    """Grams in one unit of an item, from the pantry's density or the house's own."""
    item = book.item(item_id)
    assert item is not None
    if unit in ("leaf", "piece", "die"):
        piece_g = item.piece_g
        assert piece_g is not None
        return piece_g
    density = book.raws[item_id].density_g_per_ml if item_id in book.raws else PARTS_G_PER_ML[item.name]
    assert density is not None
    measure = {"ml": 1.0, "dash": getattr(item, "dash_ml", None), "drop": getattr(item, "drop_ml", None)}[
        unit
    ]
    assert measure is not None
    return measure * density


def poured_g(
    book: HouseBook, item_id: int, amount: Amount, vessel_g: float, left_g: dict[int, float]
) -> float:
    """Grams that an amount stands for."""
    base_g = sum(left_g[step_id] for step_id in amount.of)
    if amount.basis is Basis.PERCENT_OF_VESSEL:
        return amount.number / 100.0 * vessel_g
    if amount.basis is Basis.PERCENT_OF_LINES:
        return amount.number / 100.0 * base_g
    if amount.basis is Basis.PARTS:
        return amount.number * base_g
    return amount.number * (1.0 if amount.unit == "g" else unit_g(book, item_id, amount.unit))


def masses_g(book: HouseBook, build: Build) -> list[float]:
    """What is in the vessel after each step."""
    vessel_g, left_g, result = 0.0, dict[int, float](), list[float]()
    for step in build.steps:
        if isinstance(step, Add):
            left_g[step.id] = poured_g(book, step.item_id, step.amount, vessel_g, left_g)
            vessel_g += left_g[step.id]
        elif isinstance(step, Heat | Reduce | Dry):
            vessel_g = step.final_g or vessel_g * (step.final_pct or 100.0) / 100.0
        elif isinstance(step, Strain):
            vessel_g = left_g[step.id] = step.weighed_g or 0.0
        result.append(vessel_g)
    return result


def test_the_house_has_five_drinks_and_twelve_parts_in_order(demo: HouseBook) -> None:
    assert [build.name for build in demo.drinks()] == list(GLASSES)
    assert [build.name for build in demo.parts()] == list(VESSELS)


def test_the_house_is_named_and_marked_as_a_demo(demo: HouseBook) -> None:
    settings = demo.settings
    assert (settings.house_name, settings.is_demo) == ("The Saltmarsh Rooms", True)
    assert (settings.alcohol_units, settings.oz_ml) == ("au", 30.0)


def test_the_same_ids_come_out_every_time(demo: HouseBook) -> None:
    assert demo_house() == demo


def test_no_id_is_given_twice_and_the_top_one_is_known(demo: HouseBook) -> None:
    ids = [*demo.raws, *demo.targets, *demo.builds, *demo.leftovers]
    ids += [step.id for build in demo.builds.values() for step in build.steps]
    assert len(ids) == len(set(ids))
    assert max(ids) == demo.top_id


@pytest.mark.parametrize("name", VESSELS)
def test_what_is_in_the_vessel_after_each_step_is_what_the_house_wrote_down(
    demo: HouseBook, name: str
) -> None:
    assert masses_g(demo, build_named(demo, name)) == pytest.approx(VESSELS[name], abs=0.055)


@pytest.mark.parametrize("name", LOSSES)
def test_every_strain_closes_to_the_loss_that_the_house_wrote_down(demo: HouseBook, name: str) -> None:
    build = build_named(demo, name)
    masses = masses_g(demo, build)
    (index,) = (number for number, step in enumerate(build.steps) if isinstance(step, Strain))
    step = build.steps[index]
    assert isinstance(step, Strain)
    loss_g = masses[index - 1] - (step.weighed_g or 0.0) - (step.leftover_weighed_g or 0.0)
    assert loss_g == pytest.approx(LOSSES[name], abs=0.055)


@pytest.mark.parametrize("name", LOSSES)
def test_every_weighed_yield_lies_within_the_estimate_beside_it(demo: HouseBook, name: str) -> None:
    build = build_named(demo, name)
    masses = masses_g(demo, build)
    for index, step in enumerate(build.steps):
        if isinstance(step, Strain):
            share_pct = 100.0 * (step.weighed_g or 0.0) / masses[index - 1]
            assert (step.low_pct or 0.0) <= share_pct <= (step.high_pct or 0.0)
            assert (step.low_pct or 0.0) < (step.expected_pct or 0.0) < (step.high_pct or 0.0)


def test_the_estimate_of_the_cordial_is_what_the_house_expected(demo: HouseBook) -> None:
    strain = next(s for s in build_named(demo, "pear-sorrel cordial").steps if isinstance(s, Strain))
    assert (strain.expected_pct, strain.low_pct, strain.high_pct) == (70.0, 62.0, 76.0)


@pytest.mark.parametrize("name", GLASSES)
def test_every_line_of_a_drink_weighs_what_the_house_wrote_down(demo: HouseBook, name: str) -> None:
    found = [
        step.melted_g or 0.0
        if isinstance(step, Chill)
        else poured_g(demo, step.item_id, step.amount, 0.0, {})
        for step in build_named(demo, name).steps
        if isinstance(step, Add | Chill) or (isinstance(step, Top) and step.amount.basis is Basis.ABSOLUTE)
    ]
    assert found == pytest.approx(GLASSES[name], abs=0.075)


@pytest.mark.parametrize("name", GARNISHES)
def test_every_garnish_weighs_what_the_house_wrote_down(demo: HouseBook, name: str) -> None:
    steps = [step for step in build_named(demo, name).steps if isinstance(step, Garnish)]
    found = [poured_g(demo, step.item_id, step.amount, 0.0, {}) for step in steps]
    assert found == pytest.approx(GARNISHES[name], abs=0.01)
    assert not any(step.in_liquid for step in steps)


@pytest.mark.parametrize("name", FAMILIES)
def test_every_drink_has_its_target(demo: HouseBook, name: str) -> None:
    target = demo.targets[build_named(demo, name).target_id or 0]
    assert target.name == FAMILIES[name]


@pytest.mark.parametrize("name", FAMILIES)
def test_every_drink_says_how_it_tastes_and_what_to_do_if_it_is_off(demo: HouseBook, name: str) -> None:
    drink = build_named(demo, name)
    assert drink.tastes_like
    assert len(drink.if_off) == 3


def test_the_twist_remembers_its_parent(demo: HouseBook) -> None:
    twist = build_named(demo, "Pear Signal, bay twist")
    assert demo.builds[twist.parent_id or 0].name == "Pear Signal"


def test_the_highball_is_topped_to_the_mark_that_the_house_set(demo: HouseBook) -> None:
    drink = build_named(demo, "Quince Ferry")
    (top,) = (step for step in drink.steps if isinstance(step, Top))
    assert (drink.wash_line_ml, top.amount.basis) == (194.0, Basis.TO_WASH_LINE)


@pytest.mark.parametrize(
    "name, glass, ice_g",
    [
        ("Pear Signal", "rocks-double", 115.0),
        ("Pear Signal, bay twist", "wine-white", 0.0),
        ("Sloe Tide", "coupe-large", 0.0),
        ("Quince Ferry", "highball", 130.0),
        ("Orchard Bell", "highball", 130.0),
    ],
)
def test_every_drink_has_its_glass_and_ice(demo: HouseBook, name: str, glass: str, ice_g: float) -> None:
    drink = build_named(demo, name)
    assert (drink.glass, drink.ice_g) == (glass, ice_g)
    assert demo.glass_of(drink) is not None


@pytest.mark.parametrize(
    "name, days",
    [
        ("pear-sorrel cordial", 7),
        ("pear leather", 14),
        ("quince shrub", 30),
        ("quince paste", 30),
        ("bay tincture", 365),
        ("saline 20 %, ours", 30),
        ("rosehip syrup", 30),
        ("sharp apple", 7),
        ("malted oat lace", 7),
        ("peel sugar syrup", 14),
        ("candied peel", 60),
        ("cold tea", 2),
    ],
)
def test_every_part_has_its_house_days(demo: HouseBook, name: str, days: int) -> None:
    assert build_named(demo, name).house_days == days


def test_tins_and_the_dark_stand_in_the_room_and_bottles_in_the_fridge(demo: HouseBook) -> None:
    in_room = [part.name for part in demo.parts() if part.kept_at is KeptAt.ROOM]
    assert in_room == [
        "pear leather",
        "quince paste",
        "bay tincture",
        "saline 20 %, ours",
        "malted oat lace",
        "candied peel",
    ]
    assert {part.kept_at for part in demo.parts()} == {KeptAt.ROOM, KeptAt.FRIDGE}


def test_every_leftover_belongs_to_the_part_that_leaves_it(demo: HouseBook) -> None:
    made = {leftover.name: demo.builds[leftover.build_id].name for leftover in demo.leftovers.values()}
    assert made == {
        "spent pear": "pear-sorrel cordial",
        "spent quince": "quince shrub",
        "spent bay": "bay tincture",
        "spent hips": "rosehip syrup",
        "apple curd": "sharp apple",
        "spent peel": "peel sugar syrup",
        "spent leaves": "cold tea",
    }


def test_four_leftovers_become_a_part_of_their_own(demo: HouseBook) -> None:
    used = {
        demo.leftovers[step.item_id].name: build.name
        for build in demo.builds.values()
        for step in build.steps
        if isinstance(step, Add) and step.item_id in demo.leftovers
    }
    assert used == {
        "spent pear": "pear leather",
        "spent quince": "quince paste",
        "apple curd": "malted oat lace",
        "spent peel": "candied peel",
    }


@pytest.mark.parametrize(
    "name, steps",
    [
        ("bay tincture", [3, 6]),
        ("cold tea", [1]),
        ("rosehip syrup", [7, 8]),
        ("sharp apple", [5, 6, 7, 8]),
        ("pear-sorrel cordial", [11]),
        ("quince paste", [3]),
        ("peel sugar syrup", [1]),
        ("Sloe Tide", [3]),
    ],
)
def test_what_is_written_by_hand_until_its_step_comes_says_so(
    demo: HouseBook, name: str, steps: list[int]
) -> None:
    words = [step.words for step in build_named(demo, name).steps]
    assert [number for number, text in enumerate(words, start=1) if UNTIL.search(text)] == steps


def test_cold_tea_has_the_bitterness_that_the_house_set(demo: HouseBook) -> None:
    assert build_named(demo, "cold tea").bitterness == 3.0


def test_the_graph_has_no_cycle_and_nothing_that_is_missing(demo: HouseBook) -> None:
    assert len(in_order(demo, demo.builds)) == 17
    lines = [s for b in demo.builds.values() for s in b.steps if isinstance(s, Add | Top | Garnish)]
    assert all(demo.item(line.item_id) is not None for line in lines)
    chills = [s for b in demo.builds.values() for s in b.steps if isinstance(s, Chill)]
    assert all(chill.method in demo.methods for chill in chills)


def test_every_share_is_of_an_earlier_step_of_the_same_build(demo: HouseBook) -> None:
    for build in demo.builds.values():
        for index, step in enumerate(build.steps):
            if isinstance(step, Add | Top):
                assert set(step.amount.of) <= {earlier.id for earlier in build.steps[:index]}


def test_every_amount_carries_the_text_as_a_person_types_it(demo: HouseBook) -> None:
    lines = [s for b in demo.builds.values() for s in b.steps if isinstance(s, Add | Top | Garnish)]
    assert all(line.amount.typed for line in lines)
    assert {"42 %", "22.5 ml", "1 dash", "2 dashes", "4 parts", "to the wash line"} <= {
        line.amount.typed for line in lines
    }


def test_a_sorrel_leaf_weighs_what_the_house_weighed(demo: HouseBook) -> None:
    assert raw_of(demo, "sorrel-leaf").piece_g == 0.6


@pytest.fixture
def seed_elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the starting content, to spoil, in the place of the real one."""
    shutil.copytree(database_file("seed"), tmp_path / "seed")
    monkeypatch.setattr(demo_module, "database_file", lambda *parts: tmp_path.joinpath(*parts))
    return tmp_path / "seed"


def test_a_missing_house_file_is_a_clear_error(seed_elsewhere: Path) -> None:
    (seed_elsewhere / "saltmarsh.json").unlink()
    with pytest.raises(UserError, match=r"saltmarsh\.json cannot be read"):
        demo_house()


def test_a_house_file_with_a_problem_is_a_clear_error_with_its_place(seed_elsewhere: Path) -> None:
    path = seed_elsewhere / "saltmarsh.json"
    path.write_text(
        path.read_text(encoding="utf-8").replace('"glass": "rocks-double"', '"glass": "boot"'), "utf-8"
    )
    with pytest.raises(UserError, match=r"\$\.builds\[12\]\.glass: The glass “boot”"):
        demo_house()


def test_a_pantry_with_a_problem_is_a_clear_error_with_its_place(seed_elsewhere: Path) -> None:
    path = seed_elsewhere / "pantry" / "measures.csv"
    path.write_bytes(
        path.read_bytes().replace(b"dash,Dash from a bitters bottle with insert,0.8", b"dash,Dash,much", 1)
    )
    with pytest.raises(
        UserError, match=r"measures\.csv, line \d+, column value: expected a number, found “much”"
    ):
        demo_house()
