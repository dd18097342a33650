"""A drink on ice over twenty minutes."""

import numpy as np
import pytest

from tests.engine.bar import poured
from tests.engine.kitchen import LEMON, SUGAR, Vessel, pantry
from washline.engine.serving import Serving
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.item import Build


def served(build: Build, minutes: float = 20.0, book: HouseBook | None = None) -> Serving:
    found = Workings((book or pantry()).with_build(build)).serving(build.id, minutes)
    assert found is not None
    return found


def rocks() -> Vessel:
    return poured(35.0, 20.0, ml=70.0).chill("stir")


def test_it_starts_as_it_is_served() -> None:
    build = rocks().build(ice_g=150.0)
    found = served(build)
    result = Workings(pantry().with_build(build)).result_now(1001)
    assert (found.minutes[0], found.minutes[-1]) == (0.0, 20.0)
    assert found.strength[0] == pytest.approx(result.value("strength"))
    assert found.chill_c[0] == result.value("chill")
    assert found.length_ml[0] == result.value("length")
    assert found.sweetness[0] == pytest.approx(result.value("sweetness"))
    assert found.ice_left_g[0] == 150.0


def test_the_heat_of_the_room_melts_as_much_ice_as_it_can() -> None:
    """0.4 W/K over some 25 K for 20 min are 12 kJ: at 333.55 J/g about 36 g, and some more or less for the liquid."""
    found = served(rocks().build(ice_g=150.0))
    melted = found.ice_left_g[0] - found.ice_left_g[-1]
    assert 25.0 < melted < 50.0
    water_ml = found.length_ml[-1] - found.length_ml[0]
    assert water_ml == pytest.approx(melted, rel=0.03)


def test_it_gets_weaker_less_sweet_and_less_sour_and_never_the_other_way() -> None:
    vessel = poured(30.0, ml=60.0).add(LEMON, 25.0, "ml").add(SUGAR, 10.0).chill("shake")
    found = served(vessel.build(ice_g=120.0))
    for column in (found.strength, found.sweetness, found.acidity, found.ice_left_g):
        assert np.all(np.diff(column) <= 1e-9)
    assert np.all(np.diff(found.length_ml) >= -1e-9)


def test_without_ice_there_is_no_curve() -> None:
    workings = Workings(pantry().with_build(rocks().build(ice_g=0.0)))
    assert workings.serving(1001) is None


def test_when_the_ice_is_gone_it_warms() -> None:
    found = served(rocks().build(ice_g=10.0), 60.0)
    assert found.ice_left_g[-1] == pytest.approx(0.0, abs=1e-9)
    assert found.chill_c[-1] > 3.0
    assert found.chill_c[-1] < pantry().settings.room_c


def test_ice_of_the_build_is_what_it_stands_on() -> None:
    found = served(poured(35.0, ml=60.0).chill("build", ice_g=120.0).build())
    assert found.ice_left_g[0] < 120.0
    assert found.chill_c[10] < found.chill_c[0]


def test_a_preview_is_served_too_and_the_assumptions_are_words() -> None:
    build = rocks().build(ice_g=150.0)
    workings = Workings(pantry())
    found = workings.serving(1001, 5.0, pantry().with_build(build))
    assert found is not None
    assert len(found.minutes) == 11
    assert any("0.4 W" in words for words in found.assumptions)
