"""Which item is made of which: cases as a table, then what the graph says about a house."""

import pytest

from washline.model.amount import grams
from washline.model.book import HouseBook
from washline.model.graph import (
    closure_of,
    cycle_if_used,
    in_order,
    inputs_of,
    made_of,
    maker_of,
    outputs_of,
    path_between,
    raws_below,
    rests_on,
    users,
)
from washline.model.item import Build, BuildKind, Leftover, RawIngredient
from washline.model.step import Add, Adjust, Garnish, Goal, Infuse, Portion, Strain, Take, Top

WATER = 1


def book_of(uses: dict[int, tuple[int, ...]], leftovers: dict[int, int] | None = None) -> HouseBook:
    """A house of parts with these inputs; ``leftovers`` leads from a leftover to the part that yields it."""
    leftovers = leftovers or {}
    raw = RawIngredient(id=WATER, slug="water", name="water", composition=(None,) * 24)
    book = HouseBook().with_raw(raw)
    for build_id, inputs in uses.items():
        lines = tuple(
            Add(id=1000 * build_id + n, build_id=build_id, place=float(n), item_id=item, amount=grams(1.0))
            for n, item in enumerate(inputs, start=1)
        )
        own = [leftover for leftover, maker in leftovers.items() if maker == build_id]
        strains = tuple(
            Strain(id=1000 * build_id + 500 + n, build_id=build_id, place=100.0 + n, leftover_id=leftover)
            for n, leftover in enumerate(own)
        )
        book = book.with_build(
            Build(id=build_id, kind=BuildKind.PART, name=f"part {build_id}", steps=(*lines, *strains))
        )
    for leftover, maker in leftovers.items():
        book = book.with_leftover(Leftover(id=leftover, build_id=maker, name=f"leftover {leftover}"))
    return book


CHAIN = book_of({10: (WATER,), 11: (10,), 12: (11,)})
DIAMOND = book_of({10: (WATER,), 11: (10,), 12: (10,), 13: (12, 11)})
BY_LEFTOVER = book_of({10: (WATER,), 11: (20,), 12: (11, 10)}, {20: 10})
TWICE = book_of({10: (WATER, WATER), 11: (10, WATER, 10)})
LOOP = book_of({10: (11,), 11: (10,), 12: (10,)})
MISSING = book_of({10: (99,), 11: (10,)})


@pytest.mark.parametrize(
    ("book", "build_id", "expected"),
    [
        (CHAIN, 12, (10, 11, 12)),
        (CHAIN, 10, (10,)),
        (DIAMOND, 13, (10, 12, 11, 13)),
        (BY_LEFTOVER, 12, (10, 11, 12)),
        (BY_LEFTOVER, 11, (10, 11)),
        (TWICE, 11, (10, 11)),
        (MISSING, 11, (10, 11)),
        (CHAIN, 99, ()),
    ],
)
def test_what_a_build_rests_on_comes_before_it(
    book: HouseBook, build_id: int, expected: tuple[int, ...]
) -> None:
    assert closure_of(book, build_id) == expected


def test_a_loop_that_is_there_already_does_not_hang() -> None:
    assert set(closure_of(LOOP, 12)) == {10, 11, 12}


@pytest.mark.parametrize(
    ("book", "build_id", "item_id", "path"),
    [
        (CHAIN, 10, 12, (12, 11, 10, 12)),
        (CHAIN, 10, 11, (11, 10, 11)),
        (CHAIN, 12, 10, ()),
        (CHAIN, 10, 10, (10, 10)),
        (CHAIN, 10, WATER, ()),
        (BY_LEFTOVER, 10, 11, (11, 10, 11)),
        (BY_LEFTOVER, 10, 20, (10, 10)),
        (BY_LEFTOVER, 12, 20, ()),
        (DIAMOND, 11, 12, ()),
        (DIAMOND, 10, 13, (13, 11, 10, 13)),
        (CHAIN, 10, 99, ()),
    ],
)
def test_a_cycle_is_named_before_it_closes(
    book: HouseBook, build_id: int, item_id: int, path: tuple[int, ...]
) -> None:
    assert cycle_if_used(book, build_id, item_id) == path


@pytest.mark.parametrize(
    ("book", "start", "end", "path"),
    [
        (CHAIN, 12, 10, (12, 11, 10)),
        (CHAIN, 10, 12, ()),
        (CHAIN, 11, 11, (11,)),
        (BY_LEFTOVER, 11, 10, (11, 10)),
        (CHAIN, 99, 10, ()),
    ],
)
def test_a_way_leads_down_from_user_to_used(
    book: HouseBook, start: int, end: int, path: tuple[int, ...]
) -> None:
    assert path_between(book, start, end) == path


def test_a_leftover_is_made_by_its_build_and_a_raw_ingredient_by_nobody() -> None:
    makers = [maker_of(BY_LEFTOVER, item_id) for item_id in (20, 10, WATER, 99)]
    assert [maker.id if maker else None for maker in makers] == [10, 10, None, None]


def test_users_are_listed_per_item_each_once() -> None:
    assert users(TWICE) == {WATER: (10, 11), 10: (11,)}


def test_raw_ingredients_are_found_through_parts_and_leftovers() -> None:
    assert raws_below(BY_LEFTOVER, 11) == (WATER,)


def test_builds_are_ordered_each_after_what_it_rests_on() -> None:
    assert in_order(DIAMOND, [13, 11, 10]) == (10, 11, 13)


def test_lines_tops_and_garnishes_are_inputs_and_what_is_left_out_is_not() -> None:
    common = {"build_id": 10, "amount": grams(1.0)}
    build = Build(
        id=10,
        kind=BuildKind.DRINK,
        name="drink",
        steps=(
            Add(id=1, place=1.0, item_id=5, **common),
            Add(id=2, place=2.0, item_id=6, left_out=True, **common),
            Top(id=3, place=3.0, item_id=7, **common),
            Garnish(id=4, place=4.0, item_id=5, **common),
        ),
    )
    assert inputs_of(build) == (5, 7)


def test_outputs_are_the_build_and_the_leftovers_of_steps_that_count() -> None:
    build = Build(
        id=10,
        kind=BuildKind.PART,
        name="part",
        steps=(
            Take(id=1, build_id=10, place=1.0, amount=grams(5.0), leftover_id=21),
            Strain(id=2, build_id=10, place=2.0, leftover_id=22),
            Strain(id=3, build_id=10, place=3.0, leftover_id=23, left_out=True),
            Strain(id=4, build_id=10, place=4.0),
        ),
    )
    assert outputs_of(build) == (10, 21, 22)


PEEL, LEMON_ROW = 2, 3


def adjusted(build_id: int, step: dict[str, object] | None = None, **fields: object) -> Build:
    """A part of water that is adjusted with peel."""
    own: dict[str, object] = {
        "goal": Goal.ACIDITY,
        "value": 6.0,
        "portions": (Portion(PEEL),),
        **(step or {}),
    }
    steps = (
        Add(id=1000 * build_id + 1, build_id=build_id, place=1.0, item_id=WATER, amount=grams(1.0)),
        Adjust(id=1000 * build_id + 2, build_id=build_id, place=2.0, **own),  # type: ignore[arg-type]
    )
    return Build(id=build_id, kind=BuildKind.PART, name=f"part {build_id}", steps=steps, **fields)  # type: ignore[arg-type]


def with_raws(*builds: Build) -> HouseBook:
    """A house with three raw ingredients and these parts."""
    book = HouseBook()
    for raw_id in (WATER, PEEL, LEMON_ROW):
        book = book.with_raw(
            RawIngredient(id=raw_id, slug=f"raw {raw_id}", name="raw", composition=(None,) * 24)
        )
    for build in builds:
        book = book.with_build(build)
    return book


def test_what_infuses_and_what_adjusts_is_taken_in() -> None:
    infuse = Infuse(id=1, build_id=10, place=1.0, item_id=5, amount=grams(1.0))
    build = Build(id=10, kind=BuildKind.PART, name="part", steps=(infuse, *adjusted(10).steps))
    assert inputs_of(build) == (5, WATER, PEEL)


def test_an_adjustment_that_is_left_out_takes_in_nothing_and_is_like_nothing() -> None:
    build = adjusted(10, {"left_out": True, "value": None, "like_item_id": 11})
    assert inputs_of(build) == (WATER,)
    assert rests_on(with_raws(build), build) == (WATER,)


def test_a_part_rests_on_what_it_is_like_but_is_not_made_of_it() -> None:
    liked, like = adjusted(10), adjusted(11, {"value": None, "like_item_id": 10})
    book = with_raws(liked, like)
    assert rests_on(book, like) == (WATER, PEEL, 10)
    assert closure_of(book, 11) == (10, 11)
    assert made_of(book, 11) == (11,)
    assert users(book) == {WATER: (10, 11), PEEL: (10, 11)}


def test_what_is_only_acted_as_is_rested_on_and_is_no_raw_ingredient_below() -> None:
    strain = Strain(id=1, build_id=10, place=1.0, leftover_id=20)
    build = Build(id=10, kind=BuildKind.PART, name="part", steps=(strain,), acts_as_id=LEMON_ROW)
    book = with_raws(build).with_leftover(Leftover(id=20, build_id=10, name="peel", acts_as_id=PEEL))
    assert rests_on(book, build) == (LEMON_ROW, PEEL)
    assert raws_below(book, 10) == ()


@pytest.mark.parametrize("step", [{"portions": (Portion(11),)}, {"value": None, "like_item_id": 11}])
def test_a_cycle_through_an_adjustment_is_named_before_it_closes(step: dict[str, object]) -> None:
    book = with_raws(adjusted(10, step), adjusted(11))
    assert cycle_if_used(book, 11, 10) == (10, 11, 10)
    assert path_between(book, 10, 11) == (10, 11)
    assert cycle_if_used(book, 10, 11) == ()


def test_a_cycle_through_an_infusion_is_named_before_it_closes() -> None:
    infuse = Infuse(id=1, build_id=10, place=1.0, item_id=11, amount=grams(1.0))
    book = with_raws(Build(id=10, kind=BuildKind.PART, name="part", steps=(infuse,)), adjusted(11))
    assert cycle_if_used(book, 11, 10) == (10, 11, 10)


def test_what_a_part_is_like_comes_before_it_in_order() -> None:
    book = with_raws(adjusted(10, {"value": None, "like_item_id": 12}), adjusted(11), adjusted(12))
    assert in_order(book, [10, 11, 12]) == (12, 10, 11)
