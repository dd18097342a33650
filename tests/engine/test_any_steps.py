"""What holds for builds of every kind of step: the same bytes alone and in a batch, in any order, at any size."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec import structs

from tests.engine.any_build import any_build
from tests.engine.kitchen import house
from washline.engine.batch import Batches, slots_of
from washline.engine.compiling_steps import compile_build
from washline.engine.workings import Workings
from washline.model.amount import Amount, Basis
from washline.model.item import Build
from washline.model.step import (
    Add,
    AnyStep,
    BarStrain,
    Chill,
    Dry,
    Ferment,
    Garnish,
    Heat,
    Infuse,
    Measurable,
    Measurement,
    Reduce,
    Rinse,
    Strain,
    Take,
    Top,
)

INTENSIVE = (
    "strength",
    "sweetness",
    "acidity",
    "density",
    "brix_true",
    "brix_shown",
    "salt",
    "ph",
    "water_activity",
    "freezing",
)


def scaled_amount(amount: Amount, factor: float) -> Amount:
    is_size = amount.basis in (Basis.ABSOLUTE, Basis.TO_VOLUME, Basis.TO_MASS)
    return structs.replace(amount, number=amount.number * factor) if is_size else amount


def times(number: float | None, factor: float) -> float | None:
    return None if number is None else number * factor


def scaled_step(step: AnyStep, factor: float) -> AnyStep:
    """A step of a vessel so many times as large."""
    if isinstance(step, Garnish):
        return structs.replace(
            step, amount=scaled_amount(step.amount, factor), stays_g=times(step.stays_g, factor)
        )
    if isinstance(step, Add | Infuse | Top | Take):
        return structs.replace(step, amount=scaled_amount(step.amount, factor))
    if isinstance(step, Strain):
        return structs.replace(
            step,
            weighed_g=times(step.weighed_g, factor),
            leftover_weighed_g=times(step.leftover_weighed_g, factor),
        )
    if isinstance(step, Heat | Reduce | Dry):
        return structs.replace(step, final_g=times(step.final_g, factor))
    if isinstance(step, Rinse):
        return structs.replace(
            step, amount=scaled_amount(step.amount, factor), film_ml=times(step.film_ml, factor)
        )
    if isinstance(step, Chill):
        sizes = {name: times(getattr(step, name), factor) for name in _CHILL_SIZES}
        return structs.replace(step, **sizes)
    if isinstance(step, BarStrain):
        return structs.replace(
            step,
            held_back_ml=times(step.held_back_ml, factor),
            fresh_ice_g=times(step.fresh_ice_g, factor),
        )
    if isinstance(step, Ferment):
        return structs.replace(step, gas_lost_g=times(step.gas_lost_g, factor))
    if isinstance(step, Measurement) and step.quantity in (Measurable.MASS, Measurable.VOLUME):
        return structs.replace(step, value=step.value * factor)
    return step


_CHILL_SIZES = ("melted_g", "final_g", "final_ml", "ice_g")


def has_a_size_of_its_own(step: AnyStep) -> bool:
    """Whether something in a step is as large for every drink: a vessel, a cube, the film that the house says."""
    if isinstance(step, Chill):
        return step.vessel_c is not None or step.method in ("build", "hot-build")
    if isinstance(step, BarStrain):
        return bool(step.fresh_ice) and step.fresh_ice_g is None
    return isinstance(step, Rinse) and step.film_ml is None


def scaled(build: Build, factor: float) -> Build:
    return structs.replace(build, steps=tuple(scaled_step(step, factor) for step in build.steps))


@given(any_build(), st.sampled_from([0.25, 0.5, 2.0, 8.0]))
@settings(max_examples=200)
def test_a_build_of_another_size_has_scaled_masses_and_equal_intensives(build: Build, factor: float) -> None:
    assume(not any(has_a_size_of_its_own(step) for step in build.steps))
    """A glass is as heavy for a small drink as for a large one, and so takes part in none of them here."""
    book = house().with_settings(structs.replace(house().settings, glass_j_per_k=0.0))
    first = Workings(book.with_build(build)).result_now(build.id)
    second = Workings(book.with_build(scaled(build, factor))).result_now(build.id)
    if not (first.value("mass") or 0.0) > 0.1:
        return
    assert second.value("mass") == pytest.approx((first.value("mass") or 0.0) * factor, rel=1e-9)
    for key in INTENSIVE:
        one, other = first.value(key), second.value(key)
        assert (one is None) == (other is None), key
        assert one is None or other == pytest.approx(one, rel=1e-6, abs=1e-6), key


@given(any_build(), st.randoms(use_true_random=False))
@settings(max_examples=100)
def test_the_order_of_the_lines_that_begin_a_build_changes_no_bit(build: Build, source: object) -> None:
    count = next(
        (index for index, step in enumerate(build.steps) if not isinstance(step, Add)), len(build.steps)
    )
    plain = [
        step for step in build.steps[:count] if step.amount.basis is Basis.ABSOLUTE and step.weight == "used"
    ]
    shuffled = list(plain)
    source.shuffle(shuffled)  # type: ignore[attr-defined]
    other = structs.replace(build, steps=(*shuffled, *build.steps[len(plain) :]))
    rows = [Workings(house().with_build(one)).result_now(build.id) for one in (build, other)]
    assert rows[0].values.tobytes() == rows[1].values.tobytes()
    assert rows[0].flags == rows[1].flags


@given(any_build(), st.lists(st.floats(0.1, 9.0), min_size=1, max_size=12))
@settings(max_examples=100)
def test_a_build_alone_equals_itself_among_others_of_its_skeleton(build: Build, factors: list[float]) -> None:
    """Each with its own numbers, in one block of columns, against a run of one column."""
    builds = [build] + [
        structs.replace(scaled(build, factor), id=5000 + index) for index, factor in enumerate(factors)
    ]
    book = house()
    for one in builds:
        book = book.with_build(one)
    together = Workings(book)
    together.evaluate_all()
    for one in builds:
        alone = Workings(house().with_build(one)).result_now(one.id)
        row = together.result_now(one.id)
        assert row.values.tobytes() == alone.values.tobytes()
        assert row.more.tobytes() == alone.more.tobytes()
        assert row.flags == alone.flags


@given(any_build())
@settings(max_examples=50)
def test_builds_of_equal_steps_run_in_one_block(build: Build) -> None:
    book = house().with_build(build)
    programs = [
        compile_build(book, one) for one in (build, structs.replace(scaled(build, 3.0), id=build.id + 1))
    ]
    workings = Workings(book)
    workings.evaluate_all()
    batches = Batches()
    numbers = {
        batches.put(program, slots_of(program, workings.table), row) for row, program in enumerate(programs)
    }
    assert len(numbers) == 1
