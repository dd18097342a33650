"""What a part is made of: shares of its mass, and what is not known is never none."""

import numpy as np
import pytest

from tests.presentation.demo import build, workings
from washline.chemistry.components import ETHANOL, MALIC, NACL, SUCROSE, WATER
from washline.engine.state import ROWS, UNKNOWN_SUGAR
from washline.presentation.part_composition import composition, composition_words


def vessel(**rows: float) -> np.ndarray:
    state = np.zeros(ROWS)
    places = {"water": WATER, "sucrose": SUCROSE, "malic": MALIC, "ethanol": ETHANOL, "nacl": NACL}
    for key, grams in rows.items():
        state[places[key]] = grams
    return state


def test_the_shares_are_of_the_mass() -> None:
    groups = composition(vessel(water=50.0, sucrose=48.0, malic=2.0))
    assert [(one.key, one.share) for one in groups] == [
        ("water", pytest.approx(0.5)),
        ("sugars", pytest.approx(0.48)),
        ("acids", pytest.approx(0.02)),
    ]
    assert composition_words(groups) == "water 50.0\u202f% · sugars 48.0\u202f% · acids 2.0\u202f%"


def test_nothing_in_the_vessel_has_no_shares() -> None:
    assert composition(vessel()) == ()
    assert composition_words(()) == ""


def test_matter_that_may_be_sugar_makes_the_sugars_at_least() -> None:
    state = vessel(water=90.0, sucrose=5.0)
    state[UNKNOWN_SUGAR] = 5.0
    assert "sugars at least 5.3\u202f%" in composition_words(composition(state))


def test_a_group_of_which_nothing_is_known_is_not_left_out() -> None:
    state = vessel(water=100.0)
    state[UNKNOWN_SUGAR] = 5.0
    assert composition_words(composition(state)).endswith(("sugars not known", "sugars at least 0\u202f%"))


def test_the_shares_of_a_part_of_the_house_make_it_whole() -> None:
    trace = workings().trace(build("quince shrub").id)
    assert sum(one.share for one in composition(trace.final_state)) == pytest.approx(1.0)
