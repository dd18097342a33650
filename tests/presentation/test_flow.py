"""The flow picture as nodes and bands: it holds the ledger's grams, and no node makes or loses any."""

import pytest
from hypothesis import given, settings

from tests.engine.any_build import any_build
from tests.engine.kitchen import PEAR, SUGAR, WATER, Vessel, house
from tests.presentation import demo
from washline.engine.workings import Workings
from washline.model.item import Build, BuildKind
from washline.model.step import Measurable
from washline.presentation.flow import flow_of
from washline.presentation.flow_graph import Flow, Node, Tint
from washline.presentation.ledger import ledger_of

PART = 301
NAMES = sorted(one.name for one in demo.demo().builds.values())


def drawn(name: str, *, follows: bool = True, is_percent: bool = False) -> Flow:
    one = demo.build(name)
    return flow_of(demo.workings().trace(one.id), demo.workings(), follows=follows, is_percent=is_percent)


def drawn_part(vessel: Vessel) -> Flow:
    workings = Workings(house().with_build(vessel.build(BuildKind.PART, name="part")))
    return flow_of(workings.trace(PART), workings)


def node(flow: Flow, words: str) -> Node:
    return next(one for one in flow.nodes if words in one.name)


def check_conserved(flow: Flow) -> None:
    for one in flow.nodes:
        comes = sum(band.grams for band in flow.bands if band.target == one.key)
        goes = sum(band.grams for band in flow.bands if band.source == one.key)
        assert comes or goes
        for grams in (comes, goes):
            if grams:
                assert grams == pytest.approx(one.grams, rel=1e-6, abs=1e-6)


@given(any_build())
@settings(max_examples=120)
def test_what_comes_to_a_node_goes_from_it(build: Build) -> None:
    workings = Workings(house().with_build(build))
    flow = flow_of(workings.trace(build.id), workings)
    check_conserved(flow)
    assert len({one.key for one in flow.nodes}) == len(flow.nodes)
    assert all(band.grams > 0.0 for band in flow.bands)


@pytest.mark.parametrize("name", NAMES)
def test_the_picture_holds_the_grams_of_the_ledger(name: str) -> None:
    one = demo.build(name)
    ledger = ledger_of(demo.workings().trace(one.id), demo.workings())
    flow = drawn(name)
    check_conserved(flow)
    assert flow.in_g == pytest.approx(ledger.in_g)
    assert flow.out_g == pytest.approx(ledger.out_g)


@pytest.mark.parametrize("name", NAMES)
def test_every_band_goes_from_left_to_right_into_the_next_column(name: str) -> None:
    flow = drawn(name)
    nodes = {one.key: one for one in flow.nodes}
    assert all(nodes[band.target].column == nodes[band.source].column + 1 for band in flow.bands)


def test_a_part_is_drawn_stage_by_stage_with_its_leftover_followed() -> None:
    flow = drawn("pear-sorrel cordial")
    assert flow.heads == ("weighed in", "blend, rest", "spin", "sweeten, measure", "to the bar")
    # DEMO 1.1 and 1.2: the vessel after step 8, the yield, the bottle, the leather's tray.
    figures = [one.figure for one in flow.nodes]
    assert {"1,324.9", "905.0", "1,285.1", "405.9", "495.2", "287.2"} <= set(figures)
    assert node(flow, "spent pear").notes[0].endswith("sugars")


def test_leftovers_that_are_not_followed_end_where_they_go() -> None:
    flow = drawn("pear-sorrel cordial", follows=False)
    assert node(flow, "into pear leather").figure == "405.9"
    assert not any("in pear leather" in one.name for one in flow.nodes)


def test_a_leftover_that_nobody_takes_says_so_at_its_node() -> None:
    assert node(drawn("rosehip syrup"), "spent hips").notes[0] == "nobody takes it"


def test_what_is_lost_has_dashed_edges_and_what_goes_on_has_not() -> None:
    flow = drawn("pear-sorrel cordial")
    nodes = {one.key: one.name for one in flow.nodes}
    away = {nodes[band.target] for band in flow.bands if band.is_away}
    assert {"lost on filter and jug", "water, evaporated", "trimmed away", "left in the bottle"} <= away
    assert "liquid, weighed" not in away


def test_sugar_and_fruit_have_bands_of_their_own_tint() -> None:
    flow = drawn("pear-sorrel cordial")
    nodes = {one.key: one.name for one in flow.nodes}
    tints = {nodes[band.source]: band.tint for band in flow.bands if not band.is_away}
    assert tints["Sugar, white, granulated"] is Tint.SUGAR
    assert tints["Pear, with skin, as bought"] is Tint.RAW
    assert tints["spent pear"] is Tint.LEFTOVER


def test_a_drink_is_drawn_through_its_parts() -> None:
    flow = drawn("Pear Signal")
    assert flow.heads == ("bought", "house-made", "poured", "served")
    cordial = node(flow, "pear-sorrel cordial")
    assert cordial.notes == ("2.1\u202f% of a batch",)
    assert cordial.item_id == demo.build("pear-sorrel cordial").id


def test_many_lines_are_told_together_and_named() -> None:
    vessel = Vessel(PART)
    for number in range(60):
        vessel.add(SUGAR, 1.0 + number)
    flow = drawn_part(vessel)
    together = node(flow, "more lines")
    assert together.name == "53 more lines"
    assert len(together.names) == 53
    assert flow.in_g == pytest.approx(sum(1.0 + number for number in range(60)))


def test_so_little_steam_needs_no_column_of_its_own() -> None:
    # DEMO 1.11: 3.0 g of steam of 1,052.1 g leave before the curd is strained off.
    flow = drawn("sharp apple")
    assert flow.heads[2] == "heat, rest, agar"
    assert node(flow, "water, evaporated").column == node(flow, "lost on filter").column


def test_more_than_was_computed_flows_in() -> None:
    vessel = Vessel(PART).add(SUGAR, 200.0).add(WATER, 300.0).measure(Measurable.MASS, 510.0)
    flow = drawn_part(vessel)
    check_conserved(flow)
    found = node(flow, "difference of a measurement")
    assert found.is_source
    assert found.grams == pytest.approx(10.0)


def test_percent_is_of_all_that_goes_in() -> None:
    flow = drawn("sharp apple", is_percent=True, follows=False)
    assert node(flow, "Apple juice").figure == "95.3\u202f%"


def test_an_empty_vessel_has_no_nodes() -> None:
    flow = drawn_part(Vessel(PART))
    assert flow.nodes == ()
    assert flow.bands == ()


def test_what_cannot_be_computed_has_a_reason_and_no_nodes() -> None:
    flow = drawn_part(Vessel(PART).add(999, 10.0))
    assert flow.problem
    assert flow.nodes == ()


def test_a_node_is_a_sentence() -> None:
    flow = drawn("pear-sorrel cordial")
    assert node(flow, "Malic acid").sentence == "Malic acid, DL 24 g"
    assert next(one for one in flow.nodes if one.figure == "1,324.9").sentence == "in the vessel 1,324.9 g"


def test_a_line_as_bought_sends_its_trimmings_beside_the_vessel() -> None:
    flow = drawn_part(Vessel(PART).add(PEAR, 90.0).add(WATER, 10.0))
    trimmed = node(flow, "trimmed away")
    assert trimmed.grams == pytest.approx(10.0)
    assert node(flow, "in the bottle").grams == pytest.approx(100.0)


def test_a_way_to_strain_heads_its_column_by_its_name() -> None:
    flow = drawn_part(Vessel(PART).add(PEAR, 90.0).strain(weighed_g=50.0, way="spin"))
    assert flow.heads[2] == "spin"
