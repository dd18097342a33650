"""The chill table: what melted by which way, what stood beside it, and what counts."""

from dataclasses import dataclass, replace
from typing import Any, cast

import pytest
from msgspec import structs

from tests.presentation.glass_house import DRINK, SHAKE, bar, step, with_drink
from washline.engine.traced_ice import ChillTrace
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.house import Calibration, Weighing
from washline.model.step import BarStrain, Chill, ChillBy
from washline.presentation.glass_chill import HEADS, ChillRow, chill_row, chill_rows


@dataclass
class Facts:
    """What a trace says of a chill, in round figures."""

    melted_g: float = 31.8
    by: str = "published"
    is_calibrated: bool = False
    balance_g: float | None = 33.0
    published_g: float | None = 31.8
    from_c: float | None = 18.0
    end_c: float | None = -5.2
    equilibrium_c: float | None = -6.1
    ice_g: float = 180.0
    ice_c: float = 0.0
    surface_water_g: float = 0.0
    ice_left_g: float = 148.2
    approach: float = 0.9
    seconds: float | None = 30.0
    cold_left_j: float = 0.0
    frozen_pct: float | None = 0.0


def row_of(book: HouseBook, **facts: Any) -> ChillRow:
    stirred = book.builds[DRINK].steps[1]
    return chill_row(book, stirred, cast(ChillTrace, Facts(**facts)))


def weighed(book: HouseBook, melted_g: float, date: str, weighing_id: int = 300) -> HouseBook:
    weighing = Weighing(
        id=weighing_id, method="stir", ice="cubes", date=date, build_id=DRINK, step_id=SHAKE, composition=(60.0,),
        liquid_c=18.0, ice_g=180.0, melted_g=melted_g,
    )  # fmt: skip
    return book.with_weighing(weighing)


def test_balance_published_weighed_and_used_stand_side_by_side() -> None:
    row = row_of(weighed(bar(), 30.5, "2026-11-21"))
    assert dict(zip(HEADS, row.cells, strict=True)) == {
        "balance, g": "33.0",
        "published, g": "31.8",
        "weighed, g": "30.5",
        "used, g": "31.8",
        "from, °C": "18.0",
        "end, °C": "\u22125.2",
        "equilibrium, °C": "\u22126.1",
        "ice left, g": "148",
    }


def test_what_was_not_weighed_and_what_was_not_published_are_blank() -> None:
    row = row_of(bar(), by="balance", published_g=None)
    assert (row.cells[1], row.cells[2]) == ("", "")
    assert row.sentences[0] == "Balance of heat: no published dilution was made for this way."


@pytest.mark.parametrize(
    ("by", "sentence"),
    [
        ("weighed", "Weighed: it wins over what is computed."),
        ("published", "Published dilution: it was made for this strength, temperature and ice."),
        ("between", "Between the two: at the edge of what the published dilution was made for."),
        ("none", "Nothing melts."),
        (
            "balance",
            "Balance of heat: the published dilution was not made for this strength, temperature or ice.",
        ),
    ],
)
def test_every_way_says_why_it_counts(by: str, sentence: str) -> None:
    assert row_of(bar(), by=by).sentences[0] == sentence


def test_the_conditions_are_said() -> None:
    words = row_of(bar()).sentences[1].replace("\u202f", " ")
    assert (
        words
        == "180 g of ice (cubes) at 0 °C with 0.0 g of water on it; 90 % of the way to equilibrium in 30 s."
    )


def test_the_newest_weighing_counts_and_how_far_off_is_said() -> None:
    book = weighed(weighed(bar(), 30.0, "2026-11-20"), 28.8, "2026-11-21", 301)
    row = row_of(book)
    assert row.cells[2] == "28.8"
    words = row.sentences[-1].replace("\u202f", " ")
    assert words == "Weighed 2 times: what is used is 3.0 g more than the newest, of 2026-11-21."


def test_a_calibration_is_told_with_what_it_rests_on() -> None:
    calibration = Calibration(
        slug="stir/cubes", method="stir", ice="cubes", date="2026-11-21", tau_s=11.0, weighings=2,
        left_ml_per_100_ml=1.2,
    )  # fmt: skip
    words = (
        row_of(bar().with_calibration(calibration), is_calibrated=True).sentences[1].replace("\u202f", " ")
    )
    assert words == "Corrected by 2 weighings of this house (2026-11-21), to ± 1.2 ml per 100 ml."


def test_what_is_partly_frozen_and_what_cold_is_left_are_said() -> None:
    words = " ".join(row_of(bar(), frozen_pct=12.0, cold_left_j=2600.0).sentences).replace("\u202f", " ")
    assert "Colder than its freezing point: 12 % of it is frozen." in words
    assert "2.6 kJ of the cold of ice and vessel is not given off" in words


def test_a_temperature_that_is_not_known_is_a_question_mark() -> None:
    assert row_of(bar(), end_c=None).cells[5] == "?"


def test_a_chill_without_ice_cannot_be_weighed() -> None:
    dry = step(Chill, SHAKE, method="dry-shake")
    facts = cast(ChillTrace, Facts(melted_g=0.0, by="none", balance_g=None, published_g=None, ice_g=0.0))
    row = chill_row(bar(), dry, facts)
    assert (row.can_weigh, row.cells[3], row.cells[7]) == (False, "0.0", "")


def test_fresh_ice_under_a_strain_is_a_row_of_its_own() -> None:
    fresh = step(BarStrain, 210, fresh_ice="one 50 mm cube", fresh_ice_g=115.0)
    row = chill_row(bar(), fresh, cast(ChillTrace, Facts(by="balance", published_g=None)))
    assert (row.name, row.can_weigh) == ("strain over one 50 mm cube", False)


def test_a_strain_without_ice_is_the_glass_warming_the_drink_and_no_chill() -> None:
    book = bar()
    steps = (*book.builds[DRINK].steps, step(BarStrain, 210, vessel_c=4.0))
    stirred, strained = chill_rows(Workings(with_drink(book, steps=steps)).trace(DRINK))
    assert (stirred.is_of_glass, strained.is_of_glass) == (False, True)
    assert strained.name == "strain into the glass"
    assert (strained.cells[:4], strained.cells[6:]) == (("", "", "", ""), ("", ""))
    assert strained.cells[4] == stirred.cells[5] != strained.cells[5]
    words, glass = (one.replace("\u202f", " ") for one in strained.sentences)
    assert words == f"No ice: the glass warms it from {strained.cells[4]} to {strained.cells[5]} °C."
    assert glass == "The glass is at 4.0 °C."
    assert not strained.can_weigh


def test_a_glass_of_which_nothing_is_said_is_as_warm_as_the_room() -> None:
    book = bar()
    steps = (*book.builds[DRINK].steps, step(BarStrain, 210))
    row = chill_rows(Workings(with_drink(book, steps=steps)).trace(DRINK))[-1]
    assert row.sentences[1].replace("\u202f", " ") == "The glass is as warm as the room, at 20.0 °C."


def test_over_fresh_ice_the_glass_shares_its_heat_first_and_that_is_said() -> None:
    book = bar()
    fresh = step(BarStrain, 210, fresh_ice="spear", fresh_ice_g=100.0, vessel_c=-18.0)
    rows = chill_rows(Workings(with_drink(book, steps=(*book.builds[DRINK].steps, fresh))).trace(DRINK))
    told = [one.replace("\u202f", " ") for one in rows[-1].sentences]
    assert "The glass, at \u221218.0 °C, shares its heat before the ice melts." in told
    assert not rows[-1].is_of_glass
    without = replace(book, settings=structs.replace(book.settings, glass_j_per_k=0.0))
    rows = chill_rows(Workings(with_drink(without, steps=(*book.builds[DRINK].steps, fresh))).trace(DRINK))
    assert not any("shares its heat" in one for one in rows[-1].sentences)


def test_a_glass_that_takes_no_heat_is_no_row() -> None:
    book = bar()
    book = replace(book, settings=structs.replace(book.settings, glass_j_per_k=0.0))
    steps = (*book.builds[DRINK].steps, step(BarStrain, 210))
    assert len(chill_rows(Workings(with_drink(book, steps=steps)).trace(DRINK))) == 1


def test_a_build_has_a_row_for_each_chill_that_is_not_left_out() -> None:
    book = bar()
    rows = chill_rows(Workings(book).trace(DRINK))
    assert [(row.name, row.is_weighed, row.cells[3]) for row in rows] == [("Stir", True, "20.0")]
    out = with_drink(
        book, steps=(book.builds[DRINK].steps[0], step(Chill, SHAKE, method="stir", left_out=True))
    )
    assert chill_rows(Workings(out).trace(DRINK)) == ()


def test_the_balance_asked_for_is_the_one_that_counts() -> None:
    book = bar()
    asked = step(Chill, SHAKE, method="stir", by=ChillBy.BALANCE)
    (row,) = chill_rows(Workings(with_drink(book, steps=(book.builds[DRINK].steps[0], asked))).trace(DRINK))
    assert row.cells[3] == row.cells[0]
    assert row.sentences[0] == "Balance of heat, as asked for."


def test_a_row_is_read_aloud_with_heads_and_reasons() -> None:
    spoken = row_of(bar()).spoken
    assert spoken.startswith("Stir. balance, g 33.0, published, g 31.8, used, g 31.8")
    assert "Published dilution" in spoken
