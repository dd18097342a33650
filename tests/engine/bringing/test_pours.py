"""Which lines may move, how far and in which steps, and what their number is to the program."""

import numpy as np
import pytest

from tests.engine.bringing.kit import columns, drink, line, poured, ready, request
from tests.engine.kitchen import LEMON, PEAR, SODA, SOUR, SPIRIT, SUGAR, Vessel, pantry
from washline.engine.bringing.columns import columns_of
from washline.engine.bringing.pours import Pour, pours_of, starts
from washline.engine.bringing.request import Limit, Request
from washline.engine.workings import Workings
from washline.model.amount import Amount, Basis, Heft
from washline.model.item import Build
from washline.model.step import Add, Weight


def _pours(build: Build, asked: Request | None = None) -> tuple[Pour, ...]:
    book = pantry().with_build(build)
    return pours_of(book, build, Workings(book).program(build.id), asked or Request(build.id, ()))


def _add(number: float, unit: str = "ml", item: int = LEMON, **fields: object) -> Add:
    amount = Amount(number, unit, heft=fields.pop("heft", Heft.EVEN))  # type: ignore[arg-type]
    return Add(id=11, build_id=SOUR, place=1.0, item_id=item, amount=amount, **fields)  # type: ignore[arg-type]


def _one(step: Add, limit: Limit | None = None) -> Pour:
    build = Vessel(SOUR).build()
    build = type(build)(id=build.id, kind=build.kind, name="one", steps=(step,))
    limits = {} if limit is None else {step.id: limit}
    return _pours(build, Request(SOUR, (), limits=limits))[0]


def test_only_plain_amounts_that_are_not_held_may_move() -> None:
    vessel = Vessel(SOUR).add(SPIRIT, 45.0, "ml").add(LEMON, 30.0, "ml").add(SUGAR, 10.0, left_out=True)
    vessel = vessel.share(SUGAR, 10.0, Basis.PERCENT_OF_VESSEL).chill("shake")
    build = vessel.top(SODA, 200.0, basis=Basis.TO_VOLUME).build()
    assert {pour.item_id for pour in _pours(build)} == {SPIRIT, LEMON}
    spirit = build.steps[0].id
    assert {pour.item_id for pour in _pours(build, Request(SOUR, (), held=frozenset({spirit})))} == {LEMON}


def test_a_top_of_so_much_may_move() -> None:
    build = Vessel(SOUR).add(SPIRIT, 45.0, "ml").top(SODA, 60.0, "ml").build()
    assert {pour.item_id for pour in _pours(build)} == {SPIRIT, SODA}


def test_steps_are_of_the_jigger_and_what_is_poured_now_is_among_them() -> None:
    numbers = _one(_add(22.0)).numbers.tolist()
    assert numbers[0] == 2.5
    assert {20.0, 22.0, 22.5} <= set(numbers)
    assert numbers[-1] == 80.0
    assert numbers == sorted(numbers)


def test_limits_and_steps_of_the_house_are_taken() -> None:
    pour = _one(_add(22.5), Limit(10.0, 40.0, 7.5))
    assert pour.numbers.tolist() == [15.0, 22.5, 30.0, 37.5]


def test_outside_its_limits_a_line_does_not_stay_as_it_is() -> None:
    pour = _one(_add(22.0), Limit(25.0, 40.0, 5.0))
    assert pour.numbers.tolist() == [25.0, 30.0, 35.0, 40.0]
    assert starts((pour,)).tolist() == [25.0]


def test_a_dash_comes_whole_and_not_many_more() -> None:
    pour = _one(_add(2.0, "dash"))
    assert pour.numbers.tolist() == [1.0, 2.0, 3.0, 4.0, 5.0]
    assert pour.is_counted


def test_a_line_at_zero_may_start_and_stay_there() -> None:
    pour = _one(_add(0.0))
    assert pour.numbers[0] == 0.0
    assert pour.scale == 10.0


@pytest.mark.parametrize(
    "step",
    [
        _add(22.5),
        _add(22.5, heft=Heft.SCANT),
        _add(22.5, heft=Heft.HEAVY),
        _add(1.5, "oz"),
        _add(2.0, "dash"),
        _add(120.0, "g", PEAR, weight=Weight.BOUGHT),
        _add(1.0, "piece", PEAR),
    ],
)
def test_its_size_is_what_the_compiler_makes_of_its_number_to_the_bit(step: Add) -> None:
    build = Vessel(SOUR).build()
    for number in (step.amount.number, 0.7, 33.3):
        changed = type(step)(
            id=step.id,
            build_id=SOUR,
            place=1.0,
            item_id=step.item_id,
            amount=Amount(number, step.amount.unit, heft=step.amount.heft),
            weight=step.weight,
        )
        one = type(build)(id=build.id, kind=build.kind, name="one", steps=(changed,))
        book = pantry().with_build(one)
        program = Workings(book).program(SOUR)
        assert _one(step).sizes(np.array([number])).tobytes() == program.amounts.tobytes()


def test_lines_come_in_the_order_of_the_program() -> None:
    first = Vessel(SOUR).add(SPIRIT, 45.0, "ml").add(LEMON, 30.0, "ml").build()
    second = Vessel(SOUR).add(LEMON, 30.0, "ml").add(SPIRIT, 45.0, "ml").build()
    assert [pour.item_id for pour in _pours(first)] == [pour.item_id for pour in _pours(second)]


def test_columns_run_each_set_of_amounts_by_itself() -> None:
    build = drink("Sloe Tide")
    on = columns(build, request(build))
    numbers = np.array([[pour.before.number, pour.before.number] for pour in on.pours])
    lemon = next(
        index for index, pour in enumerate(on.pours) if pour.step_id == line(build, "lemon juice").id
    )
    numbers[lemon, 1] = 30.0
    values = on.figures(numbers).values
    sharper = poured(build, {"lemon juice": 30.0})
    assert values[:, 0].tobytes() == ready(build)[1].result_now(build.id).values.tobytes()
    assert values[:, 1].tobytes() == ready(sharper)[1].result_now(build.id).values.tobytes()


def test_what_brings_nothing_known_has_no_value() -> None:
    build = Vessel(SOUR).add(SPIRIT, 45.0, "ml").build()
    book = pantry().with_build(build)
    workings = Workings(book)
    program = workings.program(SOUR)

    class Empty:
        def program(self, build_id: int) -> object:
            return program

        def columns_of(self, item_id: int) -> None:
            return None

    on = columns_of(program, (), Empty())  # type: ignore[arg-type]
    assert np.isnan(on.figures(np.zeros((0, 1))).values[:, 0]).all()
