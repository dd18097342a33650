"""A weighing as it is typed in, and what a calibration makes of all of them."""

import pytest
from msgspec import structs

from tests.presentation.glass_house import DRINK, SHAKE, bar
from washline.engine.calibrating import ChillStart, Fit, fitted
from washline.engine.workings import Workings
from washline.model.house import Weighing
from washline.presentation.glass_weighing import (
    NO_ICE_NAMED,
    NOT_COMPUTED,
    Weighed,
    calibration_of,
    fit_words,
    weighing_of,
    weighing_rows,
)
from washline.problem import UserError

START = ChillStart((60.0, 20.0), 18.0, 180.0, -1.0, 4.0, 30.0, 0.0, 20.0)
AT = Weighed(DRINK, SHAKE, "stir", "cubes", "2026-11-21")
FIT = Fit(11.84, 2.1, 1.0, -0.02, 0.9, (33.0, 35.0), (31.9, 33.8))


def weighing(melted_g: float, weighing_id: int = 300) -> Weighing:
    return Weighing(
        id=weighing_id, method="stir", ice="cubes", date="2026-11-21", build_id=DRINK, step_id=SHAKE,
        composition=(60.0,), liquid_c=18.0, ice_g=180.0, melted_g=melted_g,
    )  # fmt: skip


def test_a_melted_mass_is_kept_with_what_stood_there() -> None:
    kept = weighing_of(START, AT, number=31.8, is_final=False)
    assert (kept.melted_g, kept.composition, kept.liquid_c, kept.ice_g) == (31.8, (60.0, 20.0), 18.0, 180.0)
    assert (kept.ice_c, kept.surface_water_g, kept.seconds) == (-1.0, 4.0, 30.0)
    assert (kept.method, kept.ice, kept.date, kept.build_id, kept.step_id) == (
        "stir",
        "cubes",
        "2026-11-21",
        40,
        203,
    )


def test_a_final_mass_less_what_stood_before_is_what_melted() -> None:
    assert weighing_of(START, AT, number=111.8, is_final=True).melted_g == pytest.approx(31.8)


@pytest.mark.parametrize(
    ("number", "is_final", "words"),
    [
        (70.0, True, "Expected more than the 80.0 g that stood there before ice."),
        (-1.0, False, "Expected 0 g or more."),
        (185.0, False, "More cannot have melted than the 184 g of ice and the water on it."),
    ],
)
def test_what_cannot_be_is_refused_with_what_was_expected(number: float, is_final: bool, words: str) -> None:
    with pytest.raises(UserError) as refused:
        weighing_of(START, AT, number=number, is_final=is_final)
    assert str(refused.value).replace("\u202f", " ").endswith(words)


def test_without_an_ice_of_the_house_nothing_is_kept() -> None:
    with pytest.raises(UserError, match="Name an ice of this house") as refused:
        weighing_of(START, Weighed(DRINK, SHAKE, "stir", "", "2026-11-21"), number=31.8, is_final=False)
    assert str(refused.value) == NO_ICE_NAMED


@pytest.mark.parametrize("start", [None, ChillStart((float("nan"),), 18.0, 180.0, 0.0, 0.0, None, 0.0, 20.0)])
def test_what_cannot_be_computed_cannot_be_weighed_against(start: ChillStart | None) -> None:
    with pytest.raises(UserError) as refused:
        weighing_of(start, AT, number=31.8, is_final=False)
    assert str(refused.value) == NOT_COMPUTED


def test_each_weighing_shows_before_and_after() -> None:
    rows = weighing_rows(bar(), (weighing(31.8), weighing(34.0, 301)), FIT)
    assert rows[0].name == "2026-11-21, Test drink"
    assert rows[0].cells == ("31.8", "33.0", "+1.2", "31.9", "+0.1")
    assert rows[1].cells == ("34.0", "35.0", "+1.0", "33.8", "\u22120.2")


def test_until_a_fit_is_found_only_the_weighed_stands_there() -> None:
    (row,) = weighing_rows(bar(), (weighing(31.8),), None)
    assert row.cells == ("31.8", "", "", "", "")
    assert row.spoken == "2026-11-21, Test drink. weighed, g 31.8"


def test_what_a_fit_finds_is_said() -> None:
    words = fit_words(FIT).replace("\u202f", " ")
    assert words == (
        "Time constant 11.8 s, 2.1 % of water on the ice, published dilution \u22122.0 ml per 100 ml; "
        "it leaves ± 0.9 ml per 100 ml."
    )
    assert fit_words(Fit(None, None, 1.0, 0.0, None, (), ())) == "Nothing to correct."


def test_a_calibration_holds_the_fit_under_its_own_key() -> None:
    made = calibration_of("stir", "cubes", "2026-11-21", FIT, 2)
    assert (made.slug, made.tau_s, made.offset, made.weighings) == ("stir/cubes", 11.84, -0.02, 2)
    assert made.left_ml_per_100_ml == 0.9


def test_a_fit_counts_the_pace_of_an_ice_beside_the_ice_that_the_method_is_usually_done_on() -> None:
    book = bar()
    start = Workings(book).chill_start(DRINK, SHAKE)
    kept = weighing_of(start, AT, number=22.0, is_final=False)
    quick = structs.replace(book.ices["cubes"], pace=1.5)
    alike = fitted(book.methods["stir"], quick, (kept,), quick)
    assert alike == fitted(book.methods["stir"], book.ices["cubes"], (kept,))


def test_a_weighing_of_a_real_chill_is_met_better_by_its_calibration() -> None:
    book = bar()
    start = Workings(book).chill_start(DRINK, SHAKE)
    kept = weighing_of(start, AT, number=22.0, is_final=False)
    fit = fitted(book.methods["stir"], book.ices["cubes"], (kept,))
    assert abs(fit.fitted_g[0] - 22.0) < 0.05 < abs(fit.computed_g[0] - 22.0)
