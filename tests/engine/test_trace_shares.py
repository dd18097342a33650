"""What of each step is in one place, as one matrix."""

import numpy as np
import pytest

from washline.chemistry.components import ETHANOL, SUCROSE, WATER
from washline.engine.state import COST, ROWS, Numbers
from washline.engine.trace_shares import Shares


def rows(**grams: float) -> Numbers:
    made = np.zeros(ROWS)
    for name, number in grams.items():
        made[{"water": WATER, "ethanol": ETHANOL, "sucrose": SUCROSE, "cost": COST}[name]] = number
    return made


def two() -> Shares:
    shares = Shares(4)
    shares[7] = rows(water=60.0, ethanol=40.0, cost=3.0)
    shares[3] = rows(sucrose=300.0, cost=1.0)
    return shares


def test_shares_come_in_the_order_of_their_steps() -> None:
    assert [step_id for step_id, _rows in two().items()] == [7, 3]
    assert 7 in two()
    assert 4 not in two()
    with pytest.raises(KeyError):
        two()[4]


def test_a_part_is_taken_of_every_share_and_what_was_handed_out_stays() -> None:
    shares = two()
    before = shares[7]
    half = shares.scaled(np.full(ROWS, 0.5))
    assert half[7][WATER] == 30.0
    assert half[3][SUCROSE] == 150.0
    assert before[WATER] == 60.0


def test_what_is_gained_adds_to_the_same_step_or_comes_new() -> None:
    shares, more = two(), Shares(4)
    more[3] = rows(sucrose=10.0)
    more[9] = rows(water=5.0)
    shares.gain(more)
    assert (shares[3][SUCROSE], shares[9][WATER], shares[7][WATER]) == (310.0, 5.0, 60.0)


def test_what_acts_as_another_is_shared_by_weight_and_keeps_what_was_paid() -> None:
    """100 g and 300 g: a quarter and three quarters of what the whole acts as."""
    acting = two().acting(rows(water=400.0))
    assert (acting[7][WATER], acting[3][WATER]) == (100.0, 300.0)
    assert (acting[7][ETHANOL], acting[3][SUCROSE]) == (0.0, 0.0)
    assert (acting[7][COST], acting[3][COST]) == (3.0, 1.0)


def test_what_comes_new_is_of_the_lines_that_gave_for_it() -> None:
    """All 300 g of sugar become 300 g of alcohol: it is the sugar's, beside the 40 g that were there."""
    before, after = rows(water=60.0, ethanol=40.0, sucrose=300.0), rows(water=60.0, ethanol=340.0)
    became = two().becoming(before, after, is_scaled=False)
    assert became[3][SUCROSE] == 0.0
    assert became[3][ETHANOL] == pytest.approx(300.0)
    assert became[7][ETHANOL] == pytest.approx(40.0)
