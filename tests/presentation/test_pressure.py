"""The pressure of a carbonation in words: level, what holds it, and the warmest place against the rating."""

from typing import Any

import pytest

from tests.presentation.glass_house import BASE_LINE, DRINK, bar, step, with_drink
from washline.engine.traced_ice import GasTrace
from washline.engine.workings import Workings
from washline.model.amount import millilitres
from washline.model.step import Add, Carbonate
from washline.presentation.cautions import DEFERRAL, caution
from washline.presentation.pressure import Pressure, kpa_words, level_words, pressure, pressures

CARBONATE = 206


def carbonated(**fields: Any) -> Carbonate:
    made = step(Carbonate, CARBONATE, **{"vessel": "bottle", **fields})
    assert isinstance(made, Carbonate)
    return made


def gas(**fields: Any) -> GasTrace:
    usual: dict[str, Any] = {
        "co2_g_per_l": 7.0, "needed_over_kpa": 146.0, "over_kpa": None, "equilibrium_g_per_l": None, "at_c": 4.0,
        "warmest_c": 25.0, "warm_over_kpa": 300.0, "rated_kpa": 400.0, "vessel": "bottle",
    }  # fmt: skip
    return GasTrace(**{**usual, **fields})


def shown(**fields: Any) -> Pressure:
    return pressure(bar(), carbonated(), gas(**fields), ())


def plain(text: str) -> str:
    return text.replace("\u202f", " ")


def test_a_level_is_said_in_grams_and_volumes() -> None:
    # 1 volume is 1.977 g/l: a litre of the gas at 0 °C and 1 atm.
    assert plain(level_words(7.0)) == "7.0 g/l (3.5 volumes)"
    assert level_words(None) == "?"


def test_a_pressure_is_said_in_kilopascals_and_bar() -> None:
    assert plain(kpa_words(146.0)) == "146 kPa (1.5 bar)"
    assert kpa_words(None) == "?"


def test_the_warmest_place_stands_against_the_rating() -> None:
    at = shown()
    assert at.share == pytest.approx(0.75)
    assert (plain(at.bar_words), at.is_refused) == ("75 % of the rated pressure", False)
    assert plain(at.words) == "Within the rating at 25 °C."
    assert [(fact.name, plain(fact.figure)) for fact in at.facts] == [
        ("Level", "7.0 g/l (3.5 volumes)"),
        ("Needed pressure", "146 kPa (1.5 bar)"),
        ("At 25\u202f°C", "300 kPa (3.0 bar)"),
        ("Rated for", "400 kPa (4.0 bar)"),
    ]


def test_near_the_rating_is_said_before_it_is_reached() -> None:
    assert plain(shown(warm_over_kpa=340.0).words) == "Near the rating at 25 °C: keep it well below that."


def test_over_the_rating_says_by_how_much_and_what_to_do() -> None:
    at = shown(warm_over_kpa=450.0)
    assert at.is_refused
    assert plain(at.words) == (
        "Over the rating by 50 kPa (0.5 bar) at 25 °C: lower the level, choose another vessel, or keep it colder."
    )


def test_a_set_pressure_says_what_it_holds() -> None:
    facts = {fact.key: fact for fact in shown(over_kpa=200.0, equilibrium_g_per_l=8.4).facts}
    assert plain(facts["set"].figure) == "200 kPa (2.0 bar)"
    assert plain(facts["set"].note) == "holds 8.4 g/l (4.2 volumes) at 4 °C"


def test_a_pressure_that_is_not_known_is_never_within() -> None:
    at = shown(warm_over_kpa=None)
    assert (at.share, at.bar_words) == (None, "")
    assert plain(at.words) == "Not known whether the vessel holds it at 25 °C."


def test_the_cautions_stand_with_every_pressure() -> None:
    told = shown().cautions
    assert plain(told[0]) == (
        "Keep it cold, no house date is set for it, and never warmer than 25 °C: "
        "open slowly, away from the face, with eye protection."
    )
    assert caution("pressure").bench in told
    assert told[-1] == DEFERRAL


def test_until_when_it_may_be_kept_is_the_house_date() -> None:
    told = pressure(with_drink(bar(), house_days=14), carbonated(), gas(), ()).cautions
    assert "for 14 days at most, a house date, not tested" in plain(told[0])


def test_fermenting_again_is_told_where_it_is_due() -> None:
    words = caution("refermentation").bench
    assert words not in shown().cautions
    assert words in pressure(bar(), carbonated(), gas(), (), {"refermentation"}).cautions


def in_drink(**fields: Any) -> Pressure:
    gin = step(Add, BASE_LINE, item_id=8, amount=millilitres(600.0))
    book = with_drink(bar(), steps=(gin, carbonated(**fields)))
    (found,) = pressures(Workings(book).trace(DRINK))
    return found


def test_a_vessel_without_a_rating_is_refused_with_words() -> None:
    found = in_drink(vessel="", co2_g_per_l=6.0)
    assert found.is_refused
    assert "rated for" in found.words
    assert found.name == "Carbonate in no vessel chosen"


def test_a_carbonation_in_a_rated_bottle_tells_its_pressure() -> None:
    found = in_drink(co2_g_per_l=3.0, at_c=4.0, warmest_c=20.0)
    assert found.share is not None
    assert 0.0 < found.share < 1.0
    assert not found.is_refused


def test_too_much_gas_for_the_bottle_is_refused() -> None:
    found = in_drink(co2_g_per_l=14.0, at_c=0.0, warmest_c=35.0)
    assert found.is_refused
    assert found.words
