"""Carbonating through a whole drink: levels by pressure, what a vessel may hold, and what leaves on opening and pouring."""

import pytest

from tests.engine.bar import mixed, poured, traced
from tests.engine.kitchen import SODA, WATER, Vessel
from washline.engine.carbonating import NO_PRESSURE, TOO_MUCH_PRESSURE
from washline.engine.trace import Trace
from washline.engine.traced_ice import GasTrace

close = pytest.approx


def gas_of(trace: Trace) -> GasTrace:
    gas = trace.steps[-1].gas
    assert gas is not None
    return gas


def water(celsius: float = 4.0) -> Vessel:
    return Vessel(1001).add(WATER, 740.0, temperature_c=celsius)


def test_water_takes_up_what_the_published_solubility_says() -> None:
    """Physical reference, section h: at 4 °C and 3 bar absolute 8.5 g/L in water."""
    trace = traced(water().carbonate(over_kpa=300.0 - 101.325))
    assert gas_of(trace).co2_g_per_l == close(8.5, abs=0.1)
    assert gas_of(trace).equilibrium_g_per_l == gas_of(trace).co2_g_per_l
    assert trace.steps[-1].found_g == close(8.5 * 0.7413, abs=0.1)


def test_alcohol_and_sugar_take_up_less() -> None:
    """The same source: 7.5 g/L at 12 % vol and 20 g/L of sugar."""
    trace = traced(mixed(12.0, 20.0, 4.0, ml=740.0).carbonate(over_kpa=300.0 - 101.325))
    assert gas_of(trace).co2_g_per_l == close(7.5, abs=0.1)


def test_a_wanted_level_says_the_pressure_it_needs() -> None:
    """The same source: 7 g/L at 4 °C needs 2.47 bar absolute."""
    gas = gas_of(traced(water().carbonate(co2_g_per_l=7.0)))
    assert gas.needed_over_kpa == close(247.0 - 101.325, abs=3.0)
    assert gas.over_kpa is None
    assert gas.equilibrium_g_per_l is None


def test_a_warm_bottle_presses_harder() -> None:
    """7 g/L at 25 °C: 4.67 bar and a little by the table of the same source (1.50 g/L for each atm), less what goes
    into the head space."""
    gas = gas_of(traced(water().carbonate(co2_g_per_l=7.0)))
    assert gas.warmest_c == 25.0
    assert gas.warm_over_kpa == close(485.0 - 101.325, abs=15.0)
    assert gas.rated_kpa == 600.0
    assert gas.vessel == "bottle"


def test_a_vessel_that_is_not_rated_for_it_gets_nothing() -> None:
    trace = traced(water().carbonate("weak", co2_g_per_l=7.0))
    assert trace.steps[-1].missed == (TOO_MUCH_PRESSURE,)
    assert trace.value("fizz") == 0.0
    assert gas_of(trace).warm_over_kpa == close(390.0, abs=20.0)


def test_no_pressure_of_the_regulator_above_the_rating() -> None:
    assert traced(water().carbonate("weak", over_kpa=160.0, reached_pct=5.0)).steps[-1].missed == (
        TOO_MUCH_PRESSURE,
    )


def test_a_level_that_no_pressure_gives_is_said() -> None:
    assert traced(water().carbonate(co2_g_per_l=500.0)).steps[-1].missed == (NO_PRESSURE,)


@pytest.mark.parametrize(
    "vessel, words",
    [
        ("jug", "choose a bottle rated for pressure: nobody knows what jug is rated for"),
        ("a hat", "choose a bottle rated for pressure: a hat is no vessel of the house"),
        ("", "choose a bottle rated for pressure: none is named"),
    ],
)
def test_a_vessel_without_a_rating_is_refused(vessel: str, words: str) -> None:
    trace = traced(water().carbonate(vessel, co2_g_per_l=7.0))
    assert [problem.words for problem in trace.problems] == [words]
    assert trace.result.value("fizz") is None


def test_without_level_and_pressure_it_asks() -> None:
    trace = traced(water().carbonate())
    assert [problem.words for problem in trace.problems] == [
        "say how much gas it is to hold, or the pressure"
    ]


def test_half_of_equilibrium_is_half_the_gas() -> None:
    whole, half = (
        gas_of(traced(water().carbonate(over_kpa=200.0, reached_pct=part))) for part in (100.0, 50.0)
    )
    assert (half.co2_g_per_l or 0.0) * 2.0 == close(whole.co2_g_per_l or 0.0)


def test_what_was_fizzier_gives_gas_off() -> None:
    """Soda of 7.5 g/L comes down to 3; 700 g of it are 696 ml."""
    trace = traced(Vessel(1001).add(SODA, 700.0).carbonate(co2_g_per_l=3.0))
    assert gas_of(trace).co2_g_per_l == close(3.0)
    assert trace.steps[-1].found_g == 0.0
    assert trace.outflows[0].kind == "gas"
    assert trace.outflows[0].grams == close(4.5 * 0.696, abs=0.002)


def test_gas_leaves_on_opening_and_on_pouring() -> None:
    """20 % on opening, then 25 % on pouring: 8 g/L to 4.8."""
    vessel = water().carbonate(co2_g_per_l=8.0, opening_loss_pct=20.0)
    trace = traced(vessel.build(fizz_loss_pct=25.0))
    assert trace.value("fizz") == close(4.8)
    assert trace.steps[-1].reading_after("fizz") == close(8.0)
    assert [flow.kind for flow in trace.outflows] == ["gas", "gas"]
    assert trace.outflows[0].step_id == trace.steps[-1].step_id


def test_what_leaves_a_step_twice_as_gas_is_one_outflow() -> None:
    """7.5 g/L come down to 3, of which half leaves on opening; nothing is lost on pouring."""
    vessel = Vessel(1001).add(SODA, 700.0).carbonate(co2_g_per_l=3.0, opening_loss_pct=50.0)
    trace = traced(vessel.build(fizz_loss_pct=0.0))
    assert trace.value("fizz") == close(1.5)
    assert [flow.grams for flow in trace.outflows if flow.grams] == [close(6.0 * 0.696, abs=0.003)]
    assert trace.steps[-1].loss_g == trace.outflows[0].grams


def test_a_typed_temperature_is_that_of_the_liquid() -> None:
    assert traced(water(20.0).carbonate(co2_g_per_l=7.0, at_c=2.0)).value("chill") == close(2.0)


def test_what_is_outside_the_table_is_said_of_the_fizz_alone() -> None:
    strong = traced(poured(30.0).carbonate(co2_g_per_l=2.0, at_c=4.0)).result
    assert "Above 20 % vol the solubility of CO2 passes a minimum" in " ".join(strong.reasons("fizz"))
    assert "solubility" not in " ".join(strong.reasons("strength"))
    cold = traced(poured(30.0).carbonate(co2_g_per_l=2.0, at_c=-5.0)).result
    assert cold.is_outside("fizz")
    assert not cold.is_outside("length")
