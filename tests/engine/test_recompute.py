"""Which builds are evaluated after a change, and that the result never differs from a fresh recompute by one bit."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from tests.engine.kitchen import (
    CORDIAL,
    EGG,
    LEMON,
    LONG,
    PEAR,
    SALT,
    SODA,
    SOUR,
    SPENT,
    SPIRIT,
    SUGAR,
    WATER,
    Vessel,
    cordial,
    house,
    pantry,
    with_raw,
)
from washline.engine.workings import Workings
from washline.model.amount import Amount, Basis
from washline.model.book import HouseBook
from washline.model.change import apply, difference
from washline.model.house import JointCost
from washline.model.item import Build, BuildKind, Today
from washline.model.step import Goal, Weight


class Logged(Workings):
    """Workings that write down which builds they evaluate."""

    def __init__(self, book: HouseBook) -> None:
        super().__init__(book)
        self.log: list[int] = []

    def _evaluate_level(self, build_ids: Sequence[int]) -> frozenset[int]:
        self.log.extend(build_ids)
        return super()._evaluate_level(build_ids)


def up_to_date(book: HouseBook) -> Logged:
    workings = Logged(book)
    workings.evaluate_all()
    workings.log.clear()
    return workings


def change(workings: Workings, book: HouseBook, *first: int) -> frozenset[int]:
    return workings.update(book, difference(workings.book, book), first)


def poured(build: Build, place: int, number: float) -> Build:
    step = build.steps[place]
    return structs.replace(
        build,
        steps=(
            *build.steps[:place],
            structs.replace(step, amount=Amount(number, "ml")),
            *build.steps[place + 1 :],
        ),
    )


def test_everything_is_evaluated_once_parts_first() -> None:
    workings = Logged(house())
    workings.evaluate_all()
    assert workings.log == [CORDIAL, SOUR, LONG]


def test_a_changed_pour_evaluates_that_drink_alone() -> None:
    workings = up_to_date(house())
    changed = change(workings, house().with_build(poured(house().builds[SOUR], 0, 50.0)), SOUR)
    assert workings.log == [SOUR]
    assert changed == {SOUR}
    assert workings.pending == 0


def test_a_changed_part_wakes_its_users_after_itself() -> None:
    workings = up_to_date(house())
    part = Vessel(CORDIAL).add(PEAR, 1000.0).add(LEMON, 60.0)
    book = house().with_build(part.strain(weighed_g=700.0).build(BuildKind.PART))
    change(workings, book, SOUR)
    assert workings.log == [CORDIAL, SOUR]
    assert workings.is_stale(LONG)
    workings.evaluate_all()
    assert workings.log == [CORDIAL, SOUR, LONG]


def test_an_equal_row_stops_the_wave() -> None:
    workings = up_to_date(house())
    again = cordial()
    steps = tuple(structs.replace(step, words="by hand") for step in again.steps)
    assert change(workings, house().with_build(structs.replace(again, steps=steps))) == frozenset()
    workings.evaluate_all()
    assert workings.log == [CORDIAL]


def test_a_renamed_raw_ingredient_evaluates_nothing() -> None:
    workings = up_to_date(house())
    change(
        workings,
        house().with_raw(structs.replace(house().raws[LEMON], name="sharp lemon", allergens=("celery",))),
    )
    workings.evaluate_all()
    assert workings.log == []


def test_a_corrected_raw_ingredient_reaches_every_user() -> None:
    workings = up_to_date(house())
    before = workings.result_now(LONG).value("acidity")
    change(workings, with_raw(house(), LEMON, citric=6.0, water=90.0))
    workings.evaluate_all()
    assert workings.log == [CORDIAL, SOUR, LONG]
    assert (workings.result_now(LONG).value("acidity") or 0.0) > (before or 0.0)


def test_what_is_on_the_screen_comes_first() -> None:
    workings = up_to_date(house())
    change(workings, with_raw(house(), SPIRIT, ethanol=35.0, water=65.0), LONG)
    assert workings.log == [LONG]
    assert workings.is_stale(SOUR)


def test_a_removed_build_has_no_row() -> None:
    workings = up_to_date(house())
    builds = {key: build for key, build in house().builds.items() if key != SOUR}
    change(workings, replace(house(), builds=builds))
    assert workings.result(SOUR) is None
    assert workings.pending == 0


def test_a_preview_keeps_nothing() -> None:
    workings = up_to_date(house())
    stronger = house().with_build(poured(house().builds[SOUR], 0, 60.0))
    preview = workings.trace(SOUR, stronger).result
    assert workings.log == []
    assert preview.values.tobytes() == Workings(stronger).result_now(SOUR).values.tobytes()
    assert workings.result_now(SOUR).values.tobytes() != preview.values.tobytes()


def same_row(workings: Workings, build_id: int) -> bool:
    """Whether a row is, to the byte, that of the book evaluated afresh."""
    mine, fresh = workings.result_now(build_id), Workings(workings.book).result_now(build_id)
    return (mine.values.tobytes(), mine.more.tobytes(), mine.flags, mine.problems) == (
        fresh.values.tobytes(),
        fresh.more.tobytes(),
        fresh.flags,
        fresh.problems,
    )


def test_a_preview_that_is_written_is_not_evaluated_again() -> None:
    workings = up_to_date(house())
    book = house().with_build(poured(house().builds[SOUR], 0, 50.0))
    workings.trace(SOUR, book)
    assert change(workings, book, SOUR) == {SOUR}
    assert workings.log == []
    assert workings.pending == 0
    assert same_row(workings, SOUR)


def test_a_preview_of_another_book_is_not_taken_for_what_is_written() -> None:
    workings = up_to_date(house())
    workings.trace(SOUR, house().with_build(poured(house().builds[SOUR], 0, 50.0)))
    change(workings, house().with_build(poured(house().builds[SOUR], 0, 60.0)), SOUR)
    assert workings.log == [SOUR]
    assert same_row(workings, SOUR)


def test_a_part_previewed_in_a_drink_and_written_wakes_its_other_users() -> None:
    workings = up_to_date(house())
    part = Vessel(CORDIAL).add(PEAR, 1000.0).add(LEMON, 60.0).strain(weighed_g=700.0).build(BuildKind.PART)
    book = house().with_build(part)
    workings.trace(SOUR, book)
    change(workings, book, SOUR)
    assert workings.is_stale(LONG)
    workings.evaluate_all()
    assert workings.log == [LONG]
    assert all(same_row(workings, build_id) for build_id in (CORDIAL, SOUR, LONG))


def test_what_a_drink_was_before_is_not_read_again_when_undo_leads_back_to_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    workings = up_to_date(house())
    workings.trace(SOUR)
    change(workings, house().with_build(poured(house().builds[SOUR], 0, 50.0)), SOUR)
    monkeypatch.delattr("washline.engine.workings.read_blocks")
    assert change(workings, house(), SOUR) == {SOUR}
    monkeypatch.undo()
    assert same_row(workings, SOUR)


def test_an_ingredient_corrected_meanwhile_is_in_what_undo_leads_back_to() -> None:
    workings = up_to_date(house())
    workings.trace(SOUR)
    change(workings, house().with_build(poured(house().builds[SOUR], 0, 50.0)), SOUR)
    change(workings, with_raw(workings.book, LEMON, citric=6.0, water=90.0), SOUR)
    change(workings, workings.book.with_build(house().builds[SOUR]), SOUR)
    assert same_row(workings, SOUR)


def test_a_preview_of_a_part_reaches_the_drink_that_is_shown() -> None:
    workings = up_to_date(house())
    part = Vessel(CORDIAL).add(PEAR, 1000.0).strain(weighed_g=700.0)
    book = house().with_build(part.share(SUGAR, 90.0, Basis.PERCENT_OF_LINES, 2).build(BuildKind.PART))
    preview = workings.trace(SOUR, book).result
    assert preview.values.tobytes() == Workings(book).result_now(SOUR).values.tobytes()


def test_reordering_independent_lines_changes_no_bit() -> None:
    one = Vessel(1001).add(SPIRIT, 45.0, "ml").add(LEMON, 20.0, "ml").add(SUGAR, 9.1).chill("shake").build()
    other = Vessel(1001).add(SUGAR, 9.1).add(SPIRIT, 45.0, "ml").add(LEMON, 20.0, "ml").chill("shake").build()
    rows = [Workings(pantry().with_build(build)).result_now(1001).values.tobytes() for build in (one, other)]
    assert rows[0] == rows[1]


LIQUIDS = (WATER, SPIRIT, LEMON, SODA, EGG, CORDIAL)


@st.composite
def drinks(draw: st.DrawFn, build_id: int) -> Build:
    """A drink of one to six pours, perhaps chilled, topped and garnished."""
    vessel = Vessel(build_id)
    for _ in range(draw(st.integers(1, 6))):
        vessel.add(
            draw(st.sampled_from(LIQUIDS)),
            draw(st.floats(0.5, 120.0)),
            draw(st.sampled_from(["ml", "g", "oz"])),
        )
    if draw(st.booleans()):
        vessel.share(
            draw(st.sampled_from([SUGAR, SALT])), draw(st.floats(0.0, 40.0)), Basis.PERCENT_OF_VESSEL
        )
    method = draw(st.sampled_from(["", "stir", "shake", "throw"]))
    if method:
        vessel.chill(method, melted_g=draw(st.none() | st.floats(0.0, 60.0)))
    if draw(st.booleans()):
        vessel.top(
            SODA, draw(st.floats(1.0, 300.0)), "ml", draw(st.sampled_from([Basis.ABSOLUTE, Basis.TO_VOLUME]))
        )
    if draw(st.booleans()):
        vessel.garnish(PEAR, draw(st.floats(0.0, 10.0)))
    return vessel.build()


@given(
    st.lists(
        st.integers(1000, 1030).flatmap(drinks), min_size=1, max_size=25, unique_by=lambda build: build.id
    )
)
@settings(max_examples=40)
def test_a_build_alone_equals_itself_in_any_batch(builds: list[Build]) -> None:
    book = house()
    for build in builds:
        book = book.with_build(build)
    together = Workings(book)
    together.evaluate_all()
    for build in builds:
        alone = Workings(house().with_build(build)).result_now(build.id)
        row = together.result_now(build.id)
        assert row.values.tobytes() == alone.values.tobytes()
        assert row.more.tobytes() == alone.more.tobytes()
        assert row.flags == alone.flags


PRICES = st.none() | st.floats(0.0, 9.0)


@st.composite
def edits(draw: st.DrawFn, book: HouseBook) -> HouseBook:
    """One change of a book: a drink written anew, a pour, a part's yield, a raw ingredient, a setting, a removal."""
    kind = draw(
        st.sampled_from(
            [
                "drink",
                "part",
                "raw",
                "price",
                "settings",
                "remove",
                "measure",
                "role",
                "joint",
                "today",
                "like",
            ]
        )
    )
    if kind == "role":
        acts_as_id = draw(st.sampled_from([None, LEMON, PEAR]))
        spent = structs.replace(book.leftovers[SPENT], acts_as_id=acts_as_id, value_per_kg=draw(PRICES))
        return book.with_leftover(spent)
    if kind == "joint":
        joint_cost = draw(st.sampled_from(list(JointCost)))
        return book.with_settings(structs.replace(book.settings, joint_cost=joint_cost))
    if kind == "today":
        today = draw(st.none() | st.builds(Today, acids_pct=st.floats(-30.0, 30.0)))
        return book.with_raw(structs.replace(book.raws[LEMON], today=today))
    if kind == "like":
        vessel = Vessel(1010).add(WATER, 100.0).add(SPENT, draw(st.floats(1.0, 50.0)))
        vessel.adjust(Goal.ACIDITY, None, LEMON, like_item_id=draw(st.sampled_from([SPENT, CORDIAL, PEAR])))
        return book.with_build(vessel.build(draw(st.sampled_from(list(BuildKind)))))
    if kind == "drink":
        return book.with_build(draw(drinks(draw(st.integers(1000, 1006)))))
    if kind == "part":
        vessel = (
            Vessel(CORDIAL).add(PEAR, draw(st.floats(500.0, 1500.0))).add(LEMON, draw(st.floats(0.0, 90.0)))
        )
        vessel.strain(weighed_g=draw(st.none() | st.floats(100.0, 600.0)), expected_pct=70.0, leftover_id=102)
        return book.with_build(
            vessel.share(SUGAR, draw(st.floats(0, 80)), Basis.PERCENT_OF_LINES, 3).build(BuildKind.PART)
        )
    if kind == "raw":
        citric = draw(st.floats(3.0, 8.0))
        return with_raw(book, LEMON, citric=citric, water=96.0 - citric)
    if kind == "price":
        return book.with_raw(structs.replace(book.raws[SPIRIT], prices=()))
    if kind == "settings":
        return book.with_settings(
            structs.replace(book.settings, oz_ml=draw(st.sampled_from([30.0, 29.5735])))
        )
    if kind == "measure":
        dash = structs.replace(book.measures["dash"], value=draw(st.floats(0.5, 1.0)))
        return replace(book, measures={**book.measures, "dash": dash})
    gone = draw(st.integers(1000, 1006))
    return replace(book, builds={key: build for key, build in book.builds.items() if key != gone})


@given(st.data())
@settings(max_examples=40)
def test_results_after_any_changes_equal_a_fresh_recompute_to_the_byte(data: st.DataObject) -> None:
    workings = Workings(house())
    for _ in range(data.draw(st.integers(1, 8))):
        old = workings.book
        new = data.draw(edits(old))
        first = data.draw(st.sampled_from([(), (SOUR,), (LONG,)]))
        if data.draw(st.booleans()) and SOUR in new.builds:
            workings.trace(SOUR, new)
        workings.update(new, difference(old, new), [build_id for build_id in first if build_id in new.builds])
        if data.draw(st.booleans()):
            workings.update(
                old, difference(new, old), [build_id for build_id in first if build_id in old.builds]
            )
        if data.draw(st.booleans()):
            workings.evaluate_some(data.draw(st.integers(1, 5)))
    workings.evaluate_all()
    fresh = Workings(workings.book)
    fresh.evaluate_all()
    for build_id in workings.book.builds:
        mine, theirs = workings.result(build_id), fresh.result(build_id)
        assert mine is not None
        assert theirs is not None
        assert mine.values.tobytes() == theirs.values.tobytes()
        assert mine.more.tobytes() == theirs.more.tobytes()
        assert (mine.flags, mine.problems) == (theirs.flags, theirs.problems)


@given(st.data())
@settings(max_examples=30)
def test_a_change_set_applied_gives_the_changed_book(data: st.DataObject) -> None:
    old = house()
    new = data.draw(edits(old))
    assert apply(old, difference(old, new)) == replace(new, top_id=apply(old, difference(old, new)).top_id)
    back = apply(new, difference(old, new).reversed())
    assert replace(back, top_id=0) == replace(old, top_id=0)


@pytest.mark.parametrize("columns", [1, 7, 9, 3000])
def test_blocks_of_any_size_give_the_same_bytes(columns: int) -> None:
    book = house()
    for number in range(columns):
        book = book.with_build(
            Vessel(5000 + number).add(SPIRIT, 30.0 + number % 7, "ml").add(LEMON, 9.0, "ml").build()
        )
    workings = Workings(book)
    workings.evaluate_all()
    first = Workings(pantry().with_build(book.builds[5000])).result_now(5000)
    assert workings.result_now(5000).values.tobytes() == first.values.tobytes()


def test_a_leftover_whose_strain_is_left_out_is_not_there_any_more() -> None:
    book = house().with_build(Vessel(1001).add(102, 50.0).build(BuildKind.PART))
    workings = up_to_date(book)
    part = book.builds[CORDIAL]
    steps = tuple(structs.replace(step, left_out=step.id == CORDIAL * 1000 + 3) for step in part.steps)
    change(workings, book.with_build(structs.replace(part, steps=steps)))
    workings.evaluate_all()
    assert workings.result_now(1001).value("mass") is None


def test_parts_without_steps_run_together() -> None:
    book = (
        pantry().with_build(Vessel(1001).build(BuildKind.PART)).with_build(Vessel(1002).build(BuildKind.PART))
    )
    workings = Workings(book)
    workings.evaluate_all()
    assert workings.result_now(1002).value("mass") == 0.0


def test_an_item_that_is_only_looked_at_reaches_who_looks_at_it() -> None:
    vessel = Vessel(1001).add(WATER, 100.0).adjust(Goal.ACIDITY, None, LEMON, like_item_id=CORDIAL)
    book = house().with_build(vessel.build())
    workings = up_to_date(book)
    assert workings.users_of(CORDIAL) == {SOUR, LONG}
    sharper = Vessel(CORDIAL).add(PEAR, 1000.0).add(LEMON, 90.0).build(BuildKind.PART)
    change(workings, book.with_build(sharper))
    workings.evaluate_all()
    assert 1001 in workings.log
    fresh = Workings(workings.book).result_now(1001)
    assert workings.result_now(1001).values.tobytes() == fresh.values.tobytes()


def test_a_leftover_given_a_role_is_made_again_and_wakes_its_users() -> None:
    book = house().with_build(Vessel(1001).add(SPENT, 50.0).build())
    workings = up_to_date(book)
    change(workings, book.with_leftover(structs.replace(book.leftovers[SPENT], acts_as_id=LEMON)))
    workings.evaluate_all()
    assert workings.log == [CORDIAL, 1001]
    acting = workings.result_now(1001).value("acidity")
    lemons = Workings(pantry().with_build(Vessel(1001).add(LEMON, 50.0).build())).result_now(1001)
    assert acting == pytest.approx(lemons.value("acidity"), rel=1e-12)
    workings.log.clear()
    change(workings, with_raw(workings.book, LEMON, citric=6.0, water=90.0))
    workings.evaluate_all()
    assert 1001 in workings.log
    assert (workings.result_now(1001).value("acidity") or 0.0) > 1.1 * (acting or 0.0)


def test_a_preview_of_a_role_reaches_the_drink_that_is_shown() -> None:
    book = house().with_build(Vessel(1001).add(SPENT, 50.0).build())
    workings = up_to_date(book)
    role = book.with_leftover(structs.replace(book.leftovers[SPENT], acts_as_id=LEMON))
    preview = workings.trace(1001, role).result
    assert preview.values.tobytes() == Workings(role).result_now(1001).values.tobytes()
    assert workings.result_now(1001).values.tobytes() != preview.values.tobytes()


def test_an_edible_yield_corrected_reaches_what_was_weighed_as_bought() -> None:
    book = house().with_build(Vessel(1001).add(PEAR, 100.0, weight=Weight.BOUGHT).build())
    workings = up_to_date(book)
    change(workings, book.with_raw(structs.replace(book.raws[PEAR], edible_yield=0.5)))
    assert workings.result_now(1001).value("mass") == pytest.approx(50.0)
