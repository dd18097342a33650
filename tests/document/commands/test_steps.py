import pytest

from tests.document.doing import done
from tests.document.house import (
    BLEND,
    CORDIAL,
    LEATHER,
    LEATHER_DRY,
    LEATHER_PEAR,
    PEARS,
    PRESS,
    SIGNAL,
    SIGNAL_CHILL,
    SIGNAL_CORDIAL,
    SIGNAL_GIN,
    SIGNAL_LEAF,
    SIGNAL_LIME,
    SIGNAL_SODA,
    SPENT,
    SUGAR,
    SWEETEN,
    TIDE,
    TOP_ID,
    amount_of,
    house,
    rest,
)
from washline.document.commands.command import Refusal
from washline.document.commands.leftovers import drop_leftover, name_leftover, set_leftover
from washline.document.commands.lines import add_line
from washline.document.commands.steps import add_step, leave_out, move_steps, remove_steps, set_step
from washline.model.amount import Amount, Basis, grams
from washline.model.book import HouseBook
from washline.model.item import KeptAt
from washline.model.step import Chill, Reduce, Strain, Take

HOUSE = house()


def order(book: HouseBook, build_id: int) -> list[int]:
    return [step.id for step in book.builds[build_id].steps]


def strain(book: HouseBook, build_id: int, step_id: int) -> Strain:
    step = book.step(build_id, step_id)
    assert isinstance(step, Strain)
    return step


def chill(book: HouseBook) -> Chill:
    step = book.step(SIGNAL, SIGNAL_CHILL)
    assert isinstance(step, Chill)
    return step


def test_a_step_is_put_in_with_ids_of_its_own() -> None:
    book = done(HOUSE, add_step(CORDIAL, rest(45.0), after=BLEND))
    assert order(book, CORDIAL) == [PEARS, BLEND, TOP_ID + 1, PRESS, SWEETEN]
    step = book.step(CORDIAL, TOP_ID + 1)
    assert step is not None
    assert step.build_id == CORDIAL


def test_a_strain_comes_with_the_leftover_that_it_is_asked_to_name() -> None:
    new = Strain(id=0, build_id=0, place=0.0, weighed_g=100.0)
    book = done(HOUSE, add_step(TIDE, new, leftover_name="ice chips"))
    made = strain(book, TIDE, TOP_ID + 1)
    assert made.leftover_id == TOP_ID + 2
    assert book.leftovers[TOP_ID + 2].name == "ice chips"
    assert book.leftovers[TOP_ID + 2].build_id == TIDE


def test_words_time_and_temperature_of_a_step_are_set() -> None:
    book = done(HOUSE, set_step(CORDIAL, BLEND, words="high", duration_s=60.0, temperature_low_c=20.0))
    step = book.step(CORDIAL, BLEND)
    assert step is not None
    assert (step.words, step.duration_s, step.temperature_low_c) == ("high", 60.0, 20.0)  # type: ignore[union-attr]


def test_a_weighed_yield_replaces_what_stood_there_and_can_be_taken_back_to_unknown() -> None:
    book = done(HOUSE, set_step(CORDIAL, PRESS, weighed_g=412.0))
    assert strain(book, CORDIAL, PRESS).weighed_g == 412.0
    book = done(
        book, set_step(CORDIAL, PRESS, weighed_g=None, expected_pct=75.0, low_pct=70.0, high_pct=80.0)
    )
    assert strain(book, CORDIAL, PRESS).weighed_g is None


def test_of_what_was_weighed_after_a_chill_only_the_last_is_kept() -> None:
    book = done(HOUSE, set_step(SIGNAL, SIGNAL_CHILL, final_ml=110.0))
    assert (chill(book).melted_g, chill(book).final_g, chill(book).final_ml) == (None, None, 110.0)
    book = done(book, set_step(SIGNAL, SIGNAL_CHILL, melted_g=9.8))
    assert (chill(book).melted_g, chill(book).final_g, chill(book).final_ml) == (9.8, None, None)


def test_a_final_weight_and_a_final_percent_rule_each_other_out() -> None:
    book = done(HOUSE, set_step(LEATHER, LEATHER_DRY, final_g=150.0))
    step = book.step(LEATHER, LEATHER_DRY)
    assert isinstance(step, Reduce)
    assert (step.final_g, step.final_pct) == (150.0, None)
    with pytest.raises(Refusal, match="Only one of these"):
        done(HOUSE, set_step(LEATHER, LEATHER_DRY, final_g=150.0, final_pct=60.0))


def test_another_method_is_taken_if_the_house_has_it() -> None:
    assert chill(done(HOUSE, set_step(SIGNAL, SIGNAL_CHILL, method="throw"))).method == "throw"
    with pytest.raises(Refusal, match="not in the house book: swizzle"):
        done(HOUSE, set_step(SIGNAL, SIGNAL_CHILL, method="swizzle"))


@pytest.mark.parametrize(
    ("build_id", "step_id", "fields", "words"),
    [
        (CORDIAL, PRESS, {"weighed_g": -1.0}, "The weighed liquid in grams must be a number from 0"),
        (CORDIAL, PRESS, {"weighed_g": float("nan")}, "The weighed liquid in grams must be a number"),
        (
            CORDIAL,
            PRESS,
            {"expected_pct": 120.0},
            "The expected liquid in percent must be a number from 0 to 100",
        ),
        (CORDIAL, PRESS, {"low_pct": 80.0, "expected_pct": 75.0}, "is above the expected liquid in percent"),
        (CORDIAL, BLEND, {"duration_s": float("inf")}, "The time in seconds"),
        (
            CORDIAL,
            BLEND,
            {"temperature_low_c": 40.0, "temperature_high_c": 35.0},
            "is above the higher temperature",
        ),
        (SIGNAL, SIGNAL_GIN, {"temperature_c": 1000.0}, "The temperature in °C"),
        (SIGNAL, SIGNAL_CHILL, {"count": -2.0}, "The count must be a number"),
    ],
)
def test_what_cannot_be_is_refused_with_what_was_expected(
    build_id: int, step_id: int, fields: dict[str, float], words: str
) -> None:
    with pytest.raises(Refusal, match=words):
        done(HOUSE, set_step(build_id, step_id, **fields))


@pytest.mark.parametrize("field", ["id", "place", "build_id", "item_id", "amount", "leftover_id", "colour"])
def test_fields_that_have_a_command_of_their_own_or_do_not_exist_are_a_fault_of_the_caller(
    field: str,
) -> None:
    with pytest.raises(TypeError, match=field):
        done(HOUSE, set_step(SIGNAL, SIGNAL_GIN, **{field: 1}))


def test_steps_are_left_out_together_and_taken_in_again() -> None:
    book = done(HOUSE, leave_out(SIGNAL, [SIGNAL_LIME, SIGNAL_LEAF]))
    assert [step.left_out for step in book.builds[SIGNAL].steps] == [False, False, True, False, False, True]
    assert done(book, leave_out(SIGNAL, [SIGNAL_LIME, SIGNAL_LEAF], is_left_out=False)) == HOUSE


def test_removed_steps_are_gone_and_the_others_keep_their_places() -> None:
    book = done(HOUSE, remove_steps(SIGNAL, [SIGNAL_GIN, SIGNAL_CHILL]))
    assert order(book, SIGNAL) == [SIGNAL_CORDIAL, SIGNAL_LIME, SIGNAL_SODA, SIGNAL_LEAF]
    assert [step.place for step in book.builds[SIGNAL].steps] == [2.0, 3.0, 5.0, 6.0]


def book_with_share_of_pears() -> HouseBook:
    """The cordial with a second sugar that is 10 % of the pears."""
    share = Amount(10.0, "%", Basis.PERCENT_OF_LINES, (PEARS,))
    return done(HOUSE, add_line(CORDIAL, SUGAR, share))


def test_removing_a_line_that_others_are_a_share_of_is_refused_with_their_names() -> None:
    with pytest.raises(Refusal) as refused:
        done(book_with_share_of_pears(), remove_steps(CORDIAL, [PEARS]))
    assert refused.value.what == "ripe pear cannot be removed."
    assert refused.value.cause == "The amount of white sugar is a share of it."


def test_with_the_grams_found_the_share_stands_alone() -> None:
    book = done(book_with_share_of_pears(), remove_steps(CORDIAL, [PEARS], {TOP_ID + 1: 120.0}))
    assert amount_of(book, CORDIAL, TOP_ID + 1) == grams(120.0)
    assert amount_of(book, CORDIAL, SWEETEN).of == (PRESS,)


def test_a_line_and_its_share_go_together_without_grams() -> None:
    book = done(book_with_share_of_pears(), remove_steps(CORDIAL, [PEARS, TOP_ID + 1]))
    assert order(book, CORDIAL) == [BLEND, PRESS, SWEETEN]


def test_a_strain_whose_leftover_is_used_is_not_removed_and_the_users_are_named() -> None:
    with pytest.raises(Refusal) as refused:
        done(HOUSE, remove_steps(CORDIAL, [PRESS], {SWEETEN: 380.1}))
    assert refused.value.what == "spent pear cannot be removed."
    assert refused.value.cause == "It is used in pear leather."


def test_a_strain_takes_its_unused_leftover_with_it() -> None:
    book = done(HOUSE, remove_steps(LEATHER, [LEATHER_PEAR]))
    book = done(book, remove_steps(CORDIAL, [PRESS], {SWEETEN: 380.1}))
    assert SPENT not in book.leftovers
    assert amount_of(book, CORDIAL, SWEETEN) == grams(380.1)


def test_a_step_that_is_gone_already_is_refused() -> None:
    with pytest.raises(Refusal, match="no longer in the house book"):
        done(HOUSE, remove_steps(SIGNAL, [SIGNAL_GIN, 999]))


@pytest.mark.parametrize(
    ("moved", "before", "expected"),
    [
        ([SIGNAL_GIN], None, [51, 52, 53, 54, 55, 50]),
        ([SIGNAL_LEAF], SIGNAL_GIN, [55, 50, 51, 52, 53, 54]),
        ([SIGNAL_LEAF, SIGNAL_GIN], SIGNAL_CHILL, [51, 52, 50, 55, 53, 54]),
        ([SIGNAL_GIN, SIGNAL_CORDIAL], SIGNAL_CORDIAL, [50, 51, 52, 53, 54, 55]),
        ([SIGNAL_LIME], SIGNAL_CORDIAL, [50, 52, 51, 53, 54, 55]),
    ],
)
def test_steps_move_in_their_order_before_another(
    moved: list[int], before: int | None, expected: list[int]
) -> None:
    assert order(done(HOUSE, move_steps(SIGNAL, moved, before)), SIGNAL) == expected


def test_a_move_that_changes_nothing_is_no_change() -> None:
    assert move_steps(SIGNAL, [SIGNAL_GIN], SIGNAL_CORDIAL)(HOUSE) is HOUSE


def test_a_share_does_not_move_above_what_it_is_a_share_of() -> None:
    with pytest.raises(Refusal, match="white sugar must stand below the line that it is a share of"):
        done(HOUSE, move_steps(CORDIAL, [SWEETEN], PEARS))


def test_a_leftover_is_named_renamed_changed_and_dropped() -> None:
    new = Take(id=0, build_id=0, place=0.0, amount=grams(20.0))
    book = done(HOUSE, add_step(TIDE, new))
    book = done(book, name_leftover(TIDE, TOP_ID + 1, "first pour"))
    assert book.leftovers[TOP_ID + 2].name == "first pour"
    book = done(book, name_leftover(TIDE, TOP_ID + 1, " heads  of it "))
    assert book.leftovers[TOP_ID + 2].name == "heads of it"
    book = done(book, set_leftover(TOP_ID + 2, kept_at=KeptAt.FREEZER, house_days=3, piece_g=2.0))
    assert book.leftovers[TOP_ID + 2].kept_at is KeptAt.FREEZER
    book = done(book, drop_leftover(TIDE, TOP_ID + 1))
    assert TOP_ID + 2 not in book.leftovers
    assert drop_leftover(TIDE, TOP_ID + 1)(book) is book


def test_a_leftover_in_use_is_not_dropped() -> None:
    with pytest.raises(Refusal, match="It is used in pear leather"):
        done(HOUSE, drop_leftover(CORDIAL, PRESS))


def test_a_leftover_needs_a_name_and_a_step_that_divides() -> None:
    with pytest.raises(Refusal, match="A name is missing"):
        done(HOUSE, name_leftover(CORDIAL, PRESS, "  "))
    with pytest.raises(Refusal, match="leaves nothing over"):
        done(HOUSE, name_leftover(CORDIAL, BLEND, "foam"))
    with pytest.raises(Refusal, match="This leftover is no longer"):
        done(HOUSE, set_leftover(999, name="foam"))
