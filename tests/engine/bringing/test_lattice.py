"""Whole steps: the best of all points, against looking at every one of them."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from washline.engine.bringing.cholesky import solved
from washline.engine.bringing.lattice import best_points
from washline.engine.bringing.local import Local, least
from washline.engine.bringing.terms import Terms
from washline.engine.state import Numbers


@st.composite
def tasks(draw: st.DrawFn, most_pours: int = 3) -> Local:
    """Straight lines of any slopes with any bands and limits."""
    pours, rows = draw(st.integers(1, most_pours)), draw(st.integers(1, 5))
    random = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    ideal = random.normal(size=rows)
    above, below = random.uniform(0.05, 1.0, rows), random.uniform(0.05, 1.0, rows)
    is_limit = random.uniform(size=rows) < 0.2
    terms = Terms(
        tuple(range(rows)),
        ideal,
        ideal - below,
        ideal + above,
        above,
        below,
        np.where(is_limit, 0.0, 0.1),
        np.where(is_limit, 1000.0, 1.0),
    )
    point = random.uniform(0.0, 2.0, pours)
    return Local(
        terms,
        point,
        random.normal(size=rows),
        random.normal(size=(rows, pours)),
        0.05,
        random.uniform(0, 2, pours),
    )


def _shares(task: Local, steps: int = 9) -> list[Numbers]:
    return [np.linspace(0.0, 2.0, steps + pour) for pour in range(len(task.point))]


def _all_costs(task: Local, shares: list[Numbers]) -> dict[tuple[int, ...], float]:
    points = list(product(*(range(len(values)) for values in shares)))
    places = np.array(
        [[values[index] for values, index in zip(shares, point, strict=True)] for point in points]
    ).T
    return dict(zip(points, task.cost(places).tolist(), strict=True))


@given(tasks())
def test_the_points_kept_are_the_best_there_are(task: Local) -> None:
    shares = _shares(task)
    costs = _all_costs(task, shares)
    found = best_points(task, shares, 12)
    assert [costs[point] for point in found] == pytest.approx(
        sorted(costs.values())[:12], rel=1e-9, abs=1e-12
    )


@given(tasks())
def test_in_given_boxes_it_finds_the_best_of_those(task: Local) -> None:
    shares = _shares(task)
    last = tuple(len(values) - 1 for values in shares)
    boxes = [((0, *last[1:]), last), ((2, *(0 for _ in last[1:])), (2, *last[1:]))]
    inside = {
        point: cost
        for point, cost in _all_costs(task, shares).items()
        if point[0] == 2 or point[1:] == last[1:]
    }
    found = best_points(task, shares, 5, boxes)
    assert [inside[point] for point in found] == pytest.approx(
        sorted(inside.values())[:5], rel=1e-9, abs=1e-12
    )


@given(tasks(4))
def test_nothing_in_a_box_costs_less_than_its_bound(task: Local) -> None:
    low, high = np.full((len(task.point), 1), 0.25), np.full((len(task.point), 1), 1.5)
    places, bounds = least(task, low, high, task.point[:, None])
    random = np.random.default_rng(3)
    anywhere = random.uniform(0.25, 1.5, (len(task.point), 400))
    cost = task.cost(places)[0]
    assert np.all(task.cost(anywhere) >= bounds[0] - 1e-9 * (1.0 + cost))
    assert np.all((places >= low) & (places <= high))
    assert bounds[0] == pytest.approx(cost, rel=1e-5, abs=1e-6)


@given(tasks(4))
def test_many_boxes_at_once_are_each_as_alone(task: Local) -> None:
    random = np.random.default_rng(5)
    low = random.uniform(0.0, 1.0, (len(task.point), 7))
    high = low + random.uniform(0.0, 1.0, low.shape)
    start = np.repeat(task.point[:, None], 7, axis=1)
    together = task.cost(least(task, low, high, start)[0])
    for one in range(7):
        box = slice(one, one + 1)
        alone = task.cost(least(task, low[:, box], high[:, box], start[:, box])[0])
        assert alone[0] == pytest.approx(together[one], rel=1e-9, abs=1e-12)


@given(st.integers(1, 8), st.integers(0, 2**32 - 1))
def test_small_systems_are_solved(size: int, seed: int) -> None:
    random = np.random.default_rng(seed)
    half = random.normal(size=(size, size, 3))
    matrix = np.array([half[:, :, one] @ half[:, :, one].T + np.eye(size) for one in range(3)])
    right = random.normal(size=(size, 3))
    found = solved(np.moveaxis(matrix, 0, 2).copy(), right)
    for one in range(3):
        assert found[:, one] == pytest.approx(
            np.linalg.solve(matrix[one], right[:, one]), rel=1e-8, abs=1e-10
        )
