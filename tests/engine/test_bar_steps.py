"""Rinsing, straining at the bar, floats, garnishes and amounts meant short or over: what goes where, and who pays."""

import pytest

from tests.engine.bar import poured, traced
from tests.engine.kitchen import EGG, LEMON, PEAR, SALT, SODA, SPIRIT, SUGAR, WATER, Vessel, pantry
from washline.chemistry.components import INSOLUBLE
from washline.engine.contents import contents
from washline.engine.items import foam_allowance_ml
from washline.model.amount import Amount, Basis, Heft
from washline.model.item import BuildKind
from washline.model.step import Add, BarStrainWay, GarnishWay

close = pytest.approx


def test_a_rinse_leaves_a_film_and_is_paid_whole() -> None:
    """10 ml at 0.948 g/ml and 2.00 a kg, of which 1.5 ml stay."""
    trace = traced(Vessel(1001).rinse(SPIRIT, 10.0).add(WATER, 60.0))
    assert trace.value("mass") == close(60.0 + 1.5 * 0.94805, rel=1e-4)
    assert [(flow.kind, round(flow.grams, 2)) for flow in trace.outflows if flow.grams] == [
        ("poured away", 8.06)
    ]
    assert trace.value("cost") == close(0.002 * (60.0 + 9.4805), rel=1e-6)
    rinse = trace.steps[0]
    assert rinse.found_g == close(9.4805)
    assert rinse.loss_g == close(8.06, abs=0.01)
    assert rinse.share.cost == close(0.002 * 9.4805, rel=1e-6)


def test_of_a_rinse_no_more_stays_than_was_poured() -> None:
    trace = traced(Vessel(1001).add(WATER, 60.0).rinse(SPIRIT, 1.0, film_ml=5.0))
    assert trace.value("mass") == close(60.94805)
    assert trace.steps[-1].missed == ("more than there is: all of it stays",)


def test_the_allergens_of_a_rinse_and_of_a_rim_count_however_little_stays() -> None:
    rinsed = pantry().with_build(Vessel(1001).rinse(EGG, 10.0, film_ml=0.1).build())
    rimmed = pantry().with_build(Vessel(1001).garnish(EGG, 10.0, stays_g=0.0).build())
    assert contents(rinsed, 1001).allergens == contents(rimmed, 1001).allergens == (("eggs", (EGG,)),)


def test_what_is_held_back_leaves_by_name_and_stays_paid() -> None:
    bare = traced(Vessel(1001).add(SPIRIT, 60.0, "ml").add(LEMON, 30.0, "ml"))
    trace = traced(Vessel(1001).add(SPIRIT, 60.0, "ml").add(LEMON, 30.0, "ml").bar_strain(held_back_ml=3.0))
    assert trace.value("length") == close((bare.value("length") or 0.0) - 3.0)
    assert trace.value("strength") == close(bare.value("strength") or 0.0)
    assert trace.value("cost") == close(bare.value("cost") or 0.0)
    assert trace.outflows[0].kind == "held back"
    assert trace.steps[-1].loss_g == trace.outflows[0].grams
    total = sum(step.share.cost for step in trace.steps)
    assert total == close(trace.value("cost") or 0.0)


def test_a_fine_strain_keeps_all_pulp_back_and_the_liquid_as_warm_as_it_was() -> None:
    trace = traced(Vessel(1001).add(LEMON, 100.0).bar_strain(BarStrainWay.FINE, vessel_c=4.0))
    assert float(trace.final_state[INSOLUBLE]) == 0.0
    assert trace.outflows[0].grams == close(1.0)
    assert trace.value("chill") == close(4.0, abs=1e-9)


def test_what_is_held_in_the_tin_stays_there_unless_it_is_not_strained() -> None:
    strained = traced(Vessel(1001).add(SPIRIT, 60.0).infuse(PEAR, 20.0, water_given_pct=50.0).bar_strain())
    whole = traced(
        Vessel(1001)
        .add(SPIRIT, 60.0)
        .infuse(PEAR, 20.0, water_given_pct=50.0)
        .bar_strain(BarStrainWay.UNSTRAINED)
    )
    # Half the pear's water (84 % of 20 g) goes over; the rest of it is held back.
    assert strained.value("mass") == close(68.4)
    assert whole.value("mass") == close(80.0)
    assert strained.value("cost") == close(whole.value("cost") or 0.0)
    assert sum(step.share.grams for step in strained.steps) == close(68.4)


def test_over_fresh_ice_a_drink_gets_colder_and_a_little_weaker() -> None:
    """A glass as cold as the drink takes no part."""
    stirred = traced(poured(30.0, ml=90.0).chill("stir"))
    cold = stirred.value("chill") or 0.0
    straining = {"fresh_ice": "one fresh 50 mm cube", "vessel_c": cold}
    over = traced(poured(30.0, ml=90.0).chill("stir").bar_strain(**straining))
    chill = over.steps[-1].chill
    assert chill is not None
    assert chill.ice_g == 115.0
    assert chill.by == "balance"
    assert 0.0 < chill.melted_g < 10.0
    assert over.ice_left_g == close(115.0 - chill.melted_g)
    assert (over.value("chill") or 0.0) < (stirred.value("chill") or 0.0)
    assert over.melted_g == close(stirred.melted_g + chill.melted_g)


def test_a_glass_from_the_room_warms_what_is_strained_into_it() -> None:
    """80 J/K of glass at 20 °C and 100 g of water at 0 °C (4.2 J/gK) come to 20 * 80 / (80 + 420) = 3.2 °C."""
    water = Vessel(1001).add(WATER, 100.0, temperature_c=0.0)
    assert traced(water.bar_strain()).value("chill") == close(3.2, abs=0.05)
    cold = Vessel(1001).add(WATER, 100.0, temperature_c=0.0)
    assert traced(cold.bar_strain(vessel_c=0.0)).value("chill") == close(0.0, abs=1e-6)


def test_fresh_ice_that_nobody_weighed_is_that_of_the_glass_or_asked_for() -> None:
    trace = traced(poured(30.0).bar_strain(fresh_ice="cubes"))
    assert trace.steps[-1].chill is not None
    assert trace.steps[-1].chill.ice_g == 130.0
    asked = traced(poured(30.0).bar_strain(fresh_ice="cubes").build(glass=None))
    assert [problem.words for problem in asked.problems] == [
        "say how much fresh ice it is strained over, in g"
    ]


def test_a_float_is_counted_and_named_as_a_layer() -> None:
    plain = traced(Vessel(1001).add(LEMON, 60.0, "ml").top(SPIRIT, 15.0))
    floated = traced(Vessel(1001).add(LEMON, 60.0, "ml").top(SPIRIT, 15.0, is_layer=True))
    assert floated.value("strength") == plain.value("strength")
    assert plain.layers == ()
    assert [(layer.step_id, layer.ml) for layer in floated.layers] == [(1001002, close(15.0))]
    assert floated.layers[0].density_g_per_ml == close(0.94805)


def test_of_a_rim_a_part_is_eaten_and_all_of_it_paid() -> None:
    trace = traced(Vessel(1001).add(WATER, 100.0).garnish(SUGAR, 4.0, way=GarnishWay.RIM, stays_g=1.0))
    assert trace.garnish.grams == close(1.0)
    assert trace.value("energy_kcal") == close(4.0, rel=0.01)
    assert trace.value("cost") == close(0.002 * 104.0)
    assert [(flow.kind, flow.grams) for flow in trace.outflows if flow.grams] == [("thrown away", close(3.0))]
    assert trace.steps[-1].is_on_glass
    assert trace.steps[-1].share.grams == close(1.0)
    assert trace.steps[-1].found_g == close(4.0)


def test_the_spray_of_a_peel_goes_into_the_drink() -> None:
    trace = traced(
        Vessel(1001).add(WATER, 100.0).garnish(PEAR, 8.0, way=GarnishWay.EXPRESS, stays_g=0.1, in_liquid=True)
    )
    assert trace.value("mass") == close(100.1)
    assert trace.value("cost") == close(0.002 * 100.0 + 0.002 * 8.0 / 0.9)
    assert not trace.steps[-1].is_on_glass


def test_smoke_weighs_nothing() -> None:
    plain, smoked = traced(Vessel(1001).add(WATER, 100.0)), traced(Vessel(1001).add(WATER, 100.0).smoke())
    assert smoked.result.values.tobytes() == plain.result.values.tobytes()


@pytest.mark.parametrize("heft, ml", [(Heft.SCANT, 27.5), (Heft.EVEN, 30.0), (Heft.HEAVY, 32.5)])
def test_scant_and_heavy_are_as_much_as_the_house_says(heft: Heft, ml: float) -> None:
    """2.5 ml either way, as set."""
    vessel = Vessel(1001)
    vessel.put(Add(item_id=WATER, amount=Amount(30.0, "ml", heft=heft), **vessel.base))  # type: ignore[arg-type]
    assert traced(vessel).value("length") == close(ml, rel=1e-4)


def test_a_scant_pour_is_never_below_nothing_and_a_weight_is_neither() -> None:
    vessel = Vessel(1001).add(WATER, 100.0)
    vessel.put(Add(item_id=SPIRIT, amount=Amount(2.0, "ml", heft=Heft.SCANT), **vessel.base))  # type: ignore[arg-type]
    vessel.put(Add(item_id=SALT, amount=Amount(2.0, "g", heft=Heft.HEAVY), **vessel.base))  # type: ignore[arg-type]
    assert traced(vessel).value("mass") == close(102.0)


def test_foam_is_left_for_what_holds_gas() -> None:
    book = pantry()
    still, fizzy = Vessel(1001).add(WATER, 50.0), Vessel(1001).add(WATER, 50.0).top(SODA, 50.0)
    assert foam_allowance_ml(book, still.build()) == 0.0
    assert foam_allowance_ml(book, fizzy.build()) == 5.0
    assert foam_allowance_ml(book, still.build(foam_ml=17.0)) == 17.0
    part = Vessel(1002).add(WATER, 500.0).carbonate(co2_g_per_l=7.0).build(BuildKind.PART)
    assert foam_allowance_ml(book.with_build(part), Vessel(1001).add(1002, 60.0).build()) == 5.0


def test_the_trace_and_the_top_agree_on_the_wash_line_with_foam() -> None:
    trace = traced(
        Vessel(1001).add(SPIRIT, 45.0, "ml").top(SODA, 0.0, "", Basis.TO_WASH_LINE).build(foam_ml=12.0)
    )
    assert trace.value("length") == close(trace.wash_line_ml or 0.0)
    assert trace.wash_line_ml == close(0.825 * (350.0 - 130.0 / 0.917) - 12.0)


def test_what_was_boiled_leaves_no_room_for_foam() -> None:
    """Heating drives the gas out first: a syrup of cider makes no head."""
    boiled = Vessel(1001).add(SODA, 100.0).reduce(final_g=50.0)
    assert foam_allowance_ml(pantry(), boiled.build()) == 0.0
    assert foam_allowance_ml(pantry(), boiled.add(SODA, 10.0).build()) == 5.0
