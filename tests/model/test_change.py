"""The difference between two house books: found, applied, taken back, and written down."""

from dataclasses import replace

import msgspec
import pytest
from msgspec import structs

from tests.document.bytes import bytes_of
from tests.document.house import (
    CORDIAL,
    GIN,
    LEAF,
    LIME,
    PRESS,
    SIGNAL,
    SIGNAL_LIME,
    SPENT,
    TIDE,
    TIDE_GIN,
    bar_house,
    house,
)
from washline.model.amount import grams, millilitres
from washline.model.book import HouseBook
from washline.model.change import Change, ChangeSet, Table, apply, difference, without_steps
from washline.model.house import Calibration, Ice, Settings, Shared, Swap, Vessel, Weighing
from washline.model.item import Batch, Build, BuildKind, Making, StepYield, Today
from washline.model.step import Add, Adjust, Goal, Infuse, Portion, Top

HOUSE = house()


def changed_line(number: float) -> HouseBook:
    """The house with another amount of lime juice in Pear Signal."""
    build = HOUSE.builds[SIGNAL]
    steps = tuple(
        structs.replace(step, amount=millilitres(number)) if step.id == SIGNAL_LIME else step
        for step in build.steps
    )
    return HOUSE.with_build(structs.replace(build, steps=steps))


def renamed(name: str) -> HouseBook:
    return HOUSE.with_build(structs.replace(HOUSE.builds[SIGNAL], name=name))


def without(build_id: int) -> HouseBook:
    return replace(HOUSE, builds={key: row for key, row in HOUSE.builds.items() if key != build_id})


def with_new_drink() -> HouseBook:
    line = Add(id=101, build_id=100, place=1.0, item_id=GIN, amount=millilitres(60.0))
    return HOUSE.with_build(Build(id=100, kind=BuildKind.DRINK, name="Ebb", steps=(line,)))


def as_top() -> HouseBook:
    """The house with a line of the same id that became a top."""
    build = HOUSE.builds[TIDE]
    line = build.steps[0]
    assert isinstance(line, Add)
    top = Top(id=line.id, build_id=TIDE, place=line.place, item_id=line.item_id, amount=line.amount)
    return HOUSE.with_build(structs.replace(build, steps=(top, *build.steps[1:])))


MAKING = Making(id=300, build_id=CORDIAL, date="2026-11-02", yields=(StepYield(PRESS, 1200.0, 905.0),))


WEIGHED = Weighing(
    id=301, method="throw", ice="cubes", date="2026-11-02", composition=(1.0, None, *[0.0] * 22), liquid_c=18.0,
    ice_g=150.0, melted_g=24.8,
)  # fmt: skip
FITTED = Calibration(slug="throw/cubes", method="throw", ice="cubes", date="2026-11-02", tau_s=12.0)


def with_new_steps() -> HouseBook:
    """The house with an infusion and an adjustment in the cordial."""
    infuse = Infuse(
        id=81, build_id=CORDIAL, place=8.0, item_id=LEAF, amount=grams(12.0), acids_given_pct=60.0
    )
    adjust = Adjust(
        id=88,
        build_id=CORDIAL,
        place=9.0,
        goal=Goal.ACIDITY,
        value=6.0,
        portions=(Portion(LIME, 2.0), Portion(GIN)),
    )
    build = HOUSE.builds[CORDIAL]
    return HOUSE.with_build(structs.replace(build, steps=(*build.steps, infuse, adjust)))


CASES = [
    pytest.param(changed_line(20.0), [(Table.STEP, SIGNAL_LIME)], id="one line"),
    pytest.param(renamed("Quince Ferry"), [(Table.BUILD, SIGNAL)], id="the row of a build"),
    pytest.param(with_new_drink(), [(Table.BUILD, 100), (Table.STEP, 101)], id="a new drink"),
    pytest.param(
        without(TIDE),
        [(Table.BUILD, TIDE), (Table.STEP, TIDE_GIN), (Table.STEP, 61), (Table.STEP, 62)],
        id="a drink removed",
    ),
    pytest.param(as_top(), [(Table.STEP, TIDE_GIN)], id="a line of another kind"),
    pytest.param(HOUSE.with_settings(Settings(oz_ml=29.5735)), [(Table.SETTINGS, 0)], id="a setting"),
    pytest.param(
        HOUSE.with_raw(structs.replace(HOUSE.raws[GIN], name="gin")),
        [(Table.RAW, GIN)],
        id="a raw ingredient",
    ),
    pytest.param(
        HOUSE.with_leftover(structs.replace(HOUSE.leftovers[SPENT], piece_g=2.0)),
        [(Table.LEFTOVER, SPENT)],
        id="a leftover",
    ),
    pytest.param(
        replace(
            HOUSE, glasses={**HOUSE.glasses, "rocks": structs.replace(HOUSE.glasses["rocks"], brim_ml=300.0)}
        ),
        [(Table.GLASS, "rocks")],
        id="a glass, by its slug",
    ),
    pytest.param(HOUSE.with_making(MAKING), [(Table.MAKING, 300)], id="a making"),
    pytest.param(
        HOUSE.with_settings(Settings(shared=(Shared("tins", ("milk",)),))),
        [(Table.SETTINGS, 0)],
        id="a shared place",
    ),
    pytest.param(
        HOUSE.with_raw(structs.replace(HOUSE.raws[GIN], today=Today(5.0), may_contain=("nuts",))),
        [(Table.RAW, GIN)],
        id="today's fruit",
    ),
    pytest.param(with_new_steps(), [(Table.STEP, 81), (Table.STEP, 88)], id="an infusion and an adjustment"),
    pytest.param(replace(HOUSE, measures={}), [(Table.MEASURE, "dash")], id="a measure removed"),
    pytest.param(
        replace(HOUSE, ices={"cubes": Ice(slug="cubes", name="Cubes")}), [(Table.ICE, "cubes")], id="an ice"
    ),
    pytest.param(
        replace(HOUSE, vessels={"jar": Vessel(slug="jar", name="Jar", volume_ml=530.0)}),
        [(Table.VESSEL, "jar")],
        id="a vessel",
    ),
    pytest.param(HOUSE.with_weighing(WEIGHED), [(Table.WEIGHING, 301)], id="a weighing"),
    pytest.param(HOUSE.with_calibration(FITTED), [(Table.CALIBRATION, "throw/cubes")], id="a calibration"),
    pytest.param(
        HOUSE.with_settings(Settings(swaps=(Swap(GIN, LIME, 0.5), Swap(LEAF)))),
        [(Table.SETTINGS, 0)],
        id="swaps",
    ),
    pytest.param(
        HOUSE.with_build(structs.replace(HOUSE.builds[SIGNAL], batch=Batch(serves=20.0))),
        [(Table.BUILD, SIGNAL)],
        id="a batch",
    ),
    pytest.param(
        bar_house(),
        [
            (Table.SETTINGS, 0),
            *((Table.ICE, slug) for slug in ("cubes", "cube-50", "pebble")),
            *((Table.VESSEL, slug) for slug in ("bottle", "keg", "jar")),
            (Table.WEIGHING, 88),
            (Table.CALIBRATION, "throw/cubes"),
            (Table.BUILD, 80),
            *((Table.STEP, step_id) for step_id in range(81, 88)),
        ],
        id="all steps at the bar",
    ),
]


@pytest.mark.parametrize(("new", "rows"), CASES)
def test_just_the_rows_that_differ_are_named(new: HouseBook, rows: list[tuple[Table, int | str]]) -> None:
    assert [(change.table, change.key) for change in difference(HOUSE, new).changes] == rows


@pytest.mark.parametrize(("new", "rows"), CASES)
def test_applying_a_difference_gives_the_new_book_and_taking_it_back_the_old(
    new: HouseBook, rows: list[tuple[Table, int | str]]
) -> None:
    change_set = difference(HOUSE, new)
    assert bytes_of(apply(HOUSE, change_set)) == bytes_of(new)
    assert bytes_of(apply(new, change_set.reversed())) == bytes_of(HOUSE)


@pytest.mark.parametrize(("new", "rows"), CASES)
def test_a_change_set_survives_being_written_down(
    new: HouseBook, rows: list[tuple[Table, int | str]]
) -> None:
    change_set = difference(HOUSE, new)
    for row in [change.after for change in change_set.changes if change.after is not None]:
        assert msgspec.json.decode(msgspec.json.encode(row), type=type(row)) == row


def test_a_book_does_not_differ_from_an_equal_one() -> None:
    assert not difference(HOUSE, house())


def test_builds_named_are_those_of_rows_and_of_steps() -> None:
    assert difference(HOUSE, changed_line(20.0)).build_ids() == {SIGNAL}
    assert difference(HOUSE, without(TIDE)).build_ids() == {TIDE}
    assert difference(HOUSE, replace(HOUSE, measures={})).build_ids() == set()


def test_the_row_of_a_build_carries_no_steps() -> None:
    change = difference(HOUSE, renamed("Ebb")).changes[0]
    assert isinstance(change.after, Build)
    assert change.after.steps == ()
    assert without_steps(HOUSE.builds[CORDIAL]).steps == ()


def test_steps_stand_in_the_order_of_their_places_whatever_the_order_of_changes() -> None:
    line = Add(id=200, build_id=TIDE, place=1.5, item_id=GIN, amount=millilitres(5.0))
    book = apply(HOUSE, ChangeSet((Change(Table.STEP, 200, None, line),)))
    assert [step.id for step in book.builds[TIDE].steps] == [TIDE_GIN, 200, 61, 62]


def test_untouched_builds_are_shared_not_copied() -> None:
    new = apply(HOUSE, difference(HOUSE, changed_line(20.0)))
    assert new.builds[TIDE] is HOUSE.builds[TIDE]
    assert new.raws is HOUSE.raws


def test_a_making_removed_is_a_row_of_its_own_and_comes_back() -> None:
    made = HOUSE.with_making(MAKING)
    removed = difference(made, replace(made, makings={}))
    assert [(change.table, change.key, change.after) for change in removed.changes] == [
        (Table.MAKING, 300, None)
    ]
    assert apply(replace(made, makings={}), removed.reversed()).makings == {300: MAKING}
    assert removed.build_ids() == set()


def test_other_portions_of_an_adjustment_change_its_row() -> None:
    new = with_new_steps()
    step = new.step(CORDIAL, 88)
    assert isinstance(step, Adjust)
    build = new.builds[CORDIAL]
    other = structs.replace(step, portions=(Portion(LIME, 3.0), Portion(GIN)))
    steps = tuple(other if one.id == 88 else one for one in build.steps)
    (change,) = difference(new, new.with_build(structs.replace(build, steps=steps))).changes
    assert (change.before, change.after) == (step, other)


def test_the_highest_id_ever_given_stays_after_its_row_is_gone() -> None:
    added = difference(HOUSE, with_new_drink())
    back = apply(apply(HOUSE, added), added.reversed())
    assert back.top_id == 101
