"""The optimum before jigger steps, against a direct search that uses no slope and no linear algebra."""

import numpy as np
import pytest

from tests.engine.bringing.kit import (
    DRINKS,
    columns,
    compass,
    cost_of,
    drink,
    line,
    only,
    poured,
    ready,
    request,
)
from washline.engine.bringing.columns import sides, slopes
from washline.engine.bringing.continuous import Optimum, optimum
from washline.engine.bringing.request import Limit, Request
from washline.engine.bringing.terms import boundaries_of, terms_of, weighted_aims
from washline.model.item import Build


def _optimum(build: Build, asked: Request) -> Optimum:
    _book, workings = ready(build)
    now = workings.result_now(build.id).values
    return optimum(columns(build, asked), terms_of(weighted_aims(asked, now), boundaries_of(asked)))


def _independent(build: Build, asked: Request, seed: int = 1) -> float:
    on = columns(build, asked)
    low, high = (np.array([getattr(pour, end) for pour in on.pours]) for end in ("low", "high"))
    start = np.array([pour.before.number for pour in on.pours])
    return compass(lambda numbers: cost_of(asked, on, numbers), start, low, high, seed)[0]


@pytest.mark.parametrize(
    "name, amounts",
    [
        ("Pear Signal", {}),
        ("Pear Signal", {"pear-sorrel": 45.0}),
        ("Sloe Tide", {"lemon juice": 27.5}),
        ("Quince Ferry", {"quince shrub": 50.0}),
        ("Drift", {}),
        ("Fennel Rye", {"fennel cider": 20.0}),
        ("Saltings", {}),
        ("Beet Lantern", {}),
        ("Beet Lantern", {"rosehip": 45.0}),
        ("Ebb", {"sharp apple": 10.5}),
    ],
)
def test_it_is_the_optimum_of_a_direct_search_to_a_millionth(name: str, amounts: dict[str, float]) -> None:
    build = poured(drink(name), amounts)
    asked = request(build, gates=())
    assert _optimum(build, asked).cost == pytest.approx(_independent(build, asked), rel=1e-6)


def test_at_the_ends_of_limits_it_is_still_the_optimum() -> None:
    build = poured(drink("Beet Lantern"), {"rosehip": 45.0})
    limits = {line(build, "rosehip").id: Limit(30.0, 60.0), line(build, "Aquavit").id: Limit(45.0, 50.0)}
    asked = request(build, limits=limits)
    found = _optimum(build, asked)
    assert found.cost == pytest.approx(_independent(build, asked), rel=1e-6)
    on = columns(build, asked)
    numbers = dict(zip((pour.step_id for pour in on.pours), found.numbers.tolist(), strict=True))
    assert numbers[line(build, "rosehip").id] == pytest.approx(30.0, abs=1e-9)
    assert numbers[line(build, "Aquavit").id] == pytest.approx(50.0, abs=1e-9)


def test_out_of_reach_it_is_still_the_optimum() -> None:
    build = drink("Beet Lantern")
    asked = request(build, held=only(build, "lemon juice", "beet brine"))
    assert _optimum(build, asked).cost == pytest.approx(_independent(build, asked), rel=1e-6)


def test_weights_are_weighed() -> None:
    build = poured(drink("Sloe Tide"), {"lemon juice": 30.0})
    asked = request(
        build, weights={"acidity": 5.0, "length": 0.2}, held=only(build, "lemon juice", "peel sugar")
    )
    assert _optimum(build, asked).cost == pytest.approx(_independent(build, asked), rel=1e-6)


@pytest.mark.parametrize("name", DRINKS)
def test_what_runs_at_the_amounts_of_now_is_the_drink_to_the_bit(name: str) -> None:
    build = drink(name)
    on = columns(build, request(build))
    now = np.array([pour.before.number for pour in on.pours])
    values = on.figures(np.repeat(now[:, None], 3, axis=1)).values
    assert values[:, 2].tobytes() == ready(build)[1].result_now(build.id).values.tobytes()


def test_slopes_of_straight_lines_are_their_slopes() -> None:
    numbers, scales = np.array([2.0, 0.0]), np.array([4.0, 1.0])
    places = sides(numbers, scales)
    values = np.array([3.0 * places[0] - 2.0 * places[1], places[0] * np.nan])
    found = slopes(places, values, scales)
    assert found[0] == pytest.approx([12.0, -2.0])
    assert found[1].tolist() == [0.0, 0.0]
