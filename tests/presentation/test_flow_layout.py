"""Where bars, bands and labels stand: to scale, and no label on another, for any build and any room."""

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.engine.any_build import any_build
from tests.engine.kitchen import SUGAR, WATER, Vessel, house, raw
from tests.presentation import demo
from washline.engine.workings import Workings
from washline.model.item import Build, BuildKind
from washline.presentation.flow import flow_of
from washline.presentation.flow_graph import Flow
from washline.presentation.flow_layout import Box, FlowPlaces, layout, shortened, stacked

PART = 301
NAMES = sorted(one.name for one in demo.demo().builds.values())
ROOMS = ((1190.0, 560.0, 1.0), (800.0, 300.0, 1.0), (1680.0, 800.0, 2.0), (300.0, 100.0, 1.0))


def measure(text: str, is_strong: bool) -> float:
    """A stand-in for a font: every letter equally wide."""
    return len(text) * (7.3 if is_strong else 6.6)


def drawn(name: str) -> Flow:
    one = demo.build(name)
    return flow_of(demo.workings().trace(one.id), demo.workings())


def drawn_build(build: Build) -> Flow:
    workings = Workings(house().with_build(build))
    return flow_of(workings.trace(build.id), workings)


def check(places: FlowPlaces) -> None:
    """No label on another or on a foreign bar, all within the picture, every width to one scale."""
    for one, other in combinations(places.nodes, 2):
        assert not one.label.meets(other.label), (one.node.name, other.node.name)
        assert not one.label.meets(other.bar), (one.node.name, other.node.name)
        assert not other.label.meets(one.bar), (one.node.name, other.node.name)
    whole = Box(0.0, 0.0, places.width, places.height)
    for placed in places.nodes:
        assert placed.bar.height == pytest.approx(placed.node.grams * places.scale)
        for box in (placed.bar, placed.label):
            assert box.x >= -1e-6
            assert box.y >= -1e-6
            assert box.right <= whole.right + 1e-6
            assert box.bottom <= whole.bottom + 1e-6
    for band in places.bands:
        assert band.width == pytest.approx(band.band.grams * places.scale)
        assert band.x0 < band.x1


@pytest.mark.parametrize("room", ROOMS, ids=lambda room: f"{room[0]:.0f}x{room[1]:.0f} at {room[2]:.0f}")
@pytest.mark.parametrize("name", NAMES)
def test_no_label_stands_on_another(name: str, room: tuple[float, float, float]) -> None:
    width, height, unit = room
    check(layout(drawn(name), width, height, lambda text, strong: unit * measure(text, strong), unit))


@given(any_build(), st.floats(200.0, 2000.0), st.floats(50.0, 1200.0))
@settings(max_examples=80)
def test_any_build_finds_its_place_in_any_room(build: Build, width: float, height: float) -> None:
    flow = drawn_build(build)
    if flow.nodes:
        check(layout(flow, width, height, measure))


@pytest.mark.parametrize("count", [1, 2, 9, 30, 60])
def test_one_to_sixty_lines(count: int) -> None:
    vessel = Vessel(PART)
    for number in range(count):
        vessel.add(SUGAR if number % 2 else WATER, 0.01 * 3.0**number if number < 12 else 5.0)
    check(layout(drawn_build(vessel.build(BuildKind.PART)), 1190.0, 560.0, measure))


def test_names_of_eighty_letters_are_cut_or_wrapped() -> None:
    long = "a very long name of something that was bought from somebody in the next valley, " * 2
    book = house().with_raw(raw(900, long[:80], {"water": 100.0}))
    vessel = Vessel(PART).add(900, 100.0).strain(weighed_g=60.0).add(900, 50.0)
    workings = Workings(book.with_build(vessel.build(BuildKind.PART, name=long[:80])))
    places = layout(flow_of(workings.trace(PART), workings), 1190.0, 560.0, measure)
    check(places)
    texts = [piece.text for placed in places.nodes for piece in placed.pieces]
    assert any(text.endswith("…") for text in texts)


def test_bands_leave_and_arrive_without_a_gap_and_without_overlap() -> None:
    places = layout(drawn("pear-sorrel cordial"), 1190.0, 560.0, measure)
    bars = {placed.node.key: placed.bar for placed in places.nodes}
    for key, bar in bars.items():
        ends = sorted((band.y1, band.y1 + band.width) for band in places.bands if band.band.target == key)
        starts = sorted((band.y0, band.y0 + band.width) for band in places.bands if band.band.source == key)
        for side in (ends, starts):
            if side:
                assert side[0][0] == pytest.approx(bar.y)
                assert side[-1][1] == pytest.approx(bar.bottom)
                for (_, before), (after, _) in pairwise(side):
                    assert before == pytest.approx(after)


def test_the_scale_bar_is_a_round_number_of_grams_to_scale() -> None:
    places = layout(drawn("pear-sorrel cordial"), 1190.0, 560.0, measure)
    assert places.scale_bar.height == pytest.approx(places.scale_g * places.scale)
    assert places.scale_g == 100.0


def test_more_room_makes_a_larger_scale_and_too_little_is_not_kept() -> None:
    flow = drawn("pear-sorrel cordial")
    small, large = layout(flow, 1190.0, 400.0, measure), layout(flow, 1190.0, 600.0, measure)
    assert large.scale > small.scale
    tiny = layout(flow, 300.0, 60.0, measure)
    assert tiny.height > 60.0
    assert tiny.width > 300.0


def test_a_simple_vessel_does_not_grow_without_end() -> None:
    flow = drawn_build(Vessel(PART).add(WATER, 100.0).build(BuildKind.PART))
    places = layout(flow, 1190.0, 2000.0, measure)
    assert max(placed.bar.height for placed in places.nodes) <= 380.0 + 1e-6


def test_heads_stand_over_their_columns() -> None:
    places = layout(drawn("pear-sorrel cordial"), 1190.0, 560.0, measure)
    assert [head.text for head in places.heads] == [
        "weighed in",
        "blend, rest",
        "spin",
        "sweeten, measure",
        "to the bar",
    ]
    assert [head.x for head in places.heads] == sorted(head.x for head in places.heads)


def test_slots_that_fit_stay_where_they_wish_to_be() -> None:
    assert stacked([0.0, 50.0, 100.0], [20.0, 20.0, 20.0], [1.0, 1.0, 1.0], 5.0) == [0.0, 50.0, 100.0]


def test_slots_that_do_not_fit_part_evenly() -> None:
    # Both wish to stand at 10, need 25 from top to top, and weigh the same: 12.5 up and down.
    assert stacked([10.0, 10.0], [20.0, 20.0], [1.0, 1.0], 5.0) == pytest.approx([-2.5, 22.5])


def test_the_heavier_slot_moves_less() -> None:
    first, second = stacked([10.0, 10.0], [20.0, 20.0], [9.0, 1.0], 5.0)
    assert (first, second) == pytest.approx((7.5, 32.5))


@given(
    st.lists(st.tuples(st.floats(-500, 500), st.floats(1, 90), st.floats(0.01, 100)), min_size=1, max_size=20)
)
def test_stacked_slots_keep_their_order_and_never_overlap(slots: list[tuple[float, float, float]]) -> None:
    wished, heights, weights = zip(*slots, strict=True)
    tops = stacked(wished, heights, weights, 4.0)
    for (top, height), after in zip(zip(tops, heights, strict=True), tops[1:], strict=False):
        assert after >= top + height + 4.0 - 1e-6


def test_a_text_is_cut_with_a_mark_and_stays_whole_where_it_fits() -> None:
    assert shortened("pear leather", 200.0, measure) == "pear leather"
    assert shortened("pear leather", 40.0, measure) == "pear…"
