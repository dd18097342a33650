"""A twist beside its parent: lines paired, differences in words and in figures."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from tests.document.doing import done
from tests.document.house import (
    BREW,
    BREW_ACID,
    BREW_LEAF,
    BREW_PH,
    BREW_SWEET,
    BREW_TOP_ID,
    CORDIAL,
    GIN,
    LEAF,
    LIME,
    PEAR,
    SIGNAL,
    SIGNAL_LIME,
    TONIC,
    TOP_ID,
    bench_house,
    house,
    rest,
)
from washline.document.commands.command import Command, in_turn
from washline.document.commands.lines import add_line, set_amount, set_item, set_kind
from washline.document.commands.placing import AT_START
from washline.document.commands.steps import (
    add_step,
    leave_out,
    move_steps,
    remove_steps,
    set_portions,
    set_step,
)
from washline.document.commands.twisting import make_twist
from washline.document.twists import (
    LinePair,
    Pairing,
    ReadingDifference,
    Verdict,
    in_words,
    line_pairs,
    reading_differences,
)
from washline.engine.result import Result
from washline.engine.spread import Cause, Spread
from washline.exchange.demo import demo_house
from washline.model.amount import Amount, millilitres
from washline.model.reading import READING_INDEX, READINGS
from washline.model.step import Add, Portion

HOUSE = house()
TWIST = TOP_ID + 1
T_GIN, T_CORDIAL, T_LIME, T_CHILL, T_TOP, T_LEAF = range(TWIST + 1, TWIST + 7)
BAY_TWIST = (
    set_item(TWIST, T_GIN, TONIC),
    set_amount(TWIST, T_LIME, millilitres(7.5)),
    set_step(TWIST, T_CHILL, method="throw", count=6.0, count_unit="passes"),
    set_item(TWIST, T_TOP, TONIC, millilitres(45.0)),
    set_item(TWIST, T_LEAF, PEAR),
    set_amount(TWIST, T_CORDIAL, millilitres(20.0)),
)


def pairs_after(*commands: Command) -> tuple[LinePair, ...]:
    """The pairs of Pear Signal and a twist of it after some changes to the twist."""
    book = done(done(HOUSE, make_twist(SIGNAL, "bay twist")), in_turn(*commands))
    return line_pairs(book.builds[SIGNAL], book.builds[TWIST])


def shown(pairs: tuple[LinePair, ...]) -> list[tuple[int | None, int | None, str, bool]]:
    return [
        (
            pair.parent.id if pair.parent else None,
            pair.twist.id if pair.twist else None,
            pair.pairing.value,
            pair.is_amount_moved,
        )
        for pair in pairs
    ]


def test_a_fresh_twist_answers_line_by_line_and_nothing_differs() -> None:
    pairs = pairs_after()
    assert [pair.pairing for pair in pairs] == [Pairing.SAME] * 6
    assert in_words(pairs) == "nothing differs"


@pytest.mark.parametrize(
    ("command", "changed", "words"),
    [
        (
            set_amount(TWIST, T_LIME, millilitres(7.5)),
            (52, T_LIME, "amount", True),
            "one amount moved, four lines the same",
        ),
        (
            set_item(TWIST, T_TOP, TONIC),
            (54, T_TOP, "swapped", False),
            "one part swapped, four lines the same",
        ),
        (
            set_item(TWIST, T_TOP, TONIC, millilitres(45.0)),
            (54, T_TOP, "swapped", True),
            "one part swapped, one amount moved, four lines the same",
        ),
        (
            set_step(TWIST, T_CHILL, method="throw"),
            (53, T_CHILL, "swapped", False),
            "the method swapped, five lines the same",
        ),
        (
            set_step(TWIST, T_CHILL, melted_g=25.0),
            (53, T_CHILL, "changed", False),
            "one step done otherwise, five lines the same",
        ),
        (
            set_step(TWIST, T_LIME, words="through a sieve"),
            (52, T_LIME, "changed", False),
            "one step done otherwise, four lines the same",
        ),
        (
            leave_out(TWIST, [T_LEAF]),
            (55, T_LEAF, "changed", False),
            "one step done otherwise, four lines the same",
        ),
        (
            remove_steps(TWIST, [T_LEAF]),
            (55, None, "removed", False),
            "one step taken out, four lines the same",
        ),
        (
            add_step(TWIST, rest(1.0)),
            (None, TWIST + 7, "added", False),
            "one step added, five lines the same",
        ),
    ],
)
def test_one_change_is_told_apart(
    command: Command, changed: tuple[int | None, int | None, str, bool], words: str
) -> None:
    pairs = pairs_after(command)
    differing = [one for one in shown(pairs) if one[2] != "same"]
    assert differing == [changed]
    assert in_words(pairs) == words


def test_many_changes_are_summed_up_in_one_sentence() -> None:
    assert in_words(pairs_after(*BAY_TWIST)) == "three parts and the method swapped, three amounts moved"


def test_how_an_amount_was_typed_makes_no_difference() -> None:
    command = set_amount(TWIST, T_LIME, Amount(15.0, "ml", typed="15"))
    assert in_words(pairs_after(command)) == "nothing differs"


def test_an_added_line_stands_where_it_stands_in_the_twist() -> None:
    first = shown(pairs_after(add_line(TWIST, TONIC, millilitres(5.0), after=AT_START)))
    assert first[0][:2] == (None, TWIST + 7)
    later = shown(pairs_after(add_line(TWIST, TONIC, millilitres(5.0), after=T_LIME)))
    assert [one[:2] for one in later][2:5] == [(52, T_LIME), (None, TWIST + 7), (53, T_CHILL)]


def test_a_line_that_only_moved_is_the_same_line() -> None:
    pairs = pairs_after(move_steps(TWIST, [T_LIME], T_GIN))
    assert {pair.pairing for pair in pairs} == {Pairing.SAME}
    assert (SIGNAL_LIME, T_LIME) in [one[:2] for one in shown(pairs)]


def test_a_swap_is_seen_after_all_places_were_numbered_anew() -> None:
    book = done(HOUSE, make_twist(SIGNAL, "bay twist"))
    for _ in range(25):
        book = done(book, add_line(TWIST, PEAR, millilitres(1.0), after=T_GIN))
    book = done(book, set_item(TWIST, T_LIME, TONIC))
    pairs = line_pairs(book.builds[SIGNAL], book.builds[TWIST])
    assert (SIGNAL_LIME, T_LIME, "swapped", False) in shown(pairs)


def test_every_step_of_both_is_in_just_one_pair() -> None:
    pairs = pairs_after(
        remove_steps(TWIST, [T_GIN, T_CHILL]),
        add_line(TWIST, LIME, millilitres(3.0)),
        add_line(TWIST, GIN, millilitres(3.0), after=AT_START),
        add_step(TWIST, rest(2.0), after=T_CORDIAL),
    )
    assert sorted(pair.parent.id for pair in pairs if pair.parent) == [50, 51, 52, 53, 54, 55]
    twist_ids = [pair.twist.id for pair in pairs if pair.twist]
    assert len(twist_ids) == len(set(twist_ids)) == 7


def test_garnishes_and_tops_are_not_taken_for_lines() -> None:
    book = done(HOUSE, make_twist(SIGNAL, "bay twist"))
    book = done(book, in_turn(remove_steps(TWIST, [T_LEAF]), add_line(TWIST, LEAF, Amount(1.0, "leaf"))))
    kinds = [pair.pairing for pair in line_pairs(book.builds[SIGNAL], book.builds[TWIST])]
    assert kinds.count(Pairing.REMOVED) == 1
    assert kinds.count(Pairing.ADDED) == 1


def test_two_drinks_that_are_no_family_can_be_compared_too() -> None:
    pairs = line_pairs(HOUSE.builds[SIGNAL], HOUSE.builds[23])
    assert {pair.twist.id for pair in pairs if pair.twist} == {60, 61, 62}
    assert (51, 61, "amount", True) in shown(pairs)


def result(more: dict[str, float] | None = None, **readings: float) -> Result:
    values, extra = np.zeros(len(READINGS)), np.zeros(len(READINGS))
    for key, value in readings.items():
        values[READING_INDEX[key]] = value
    for key, value in (more or {}).items():
        extra[READING_INDEX[key]] = value
    return Result(1, values, extra)


def spread(*causes: tuple[str, int, float]) -> Spread:
    """A spread of the acidity alone: kind, key, and what one standard uncertainty does, the same both ways."""

    def row(amount: float) -> np.ndarray:
        numbers = np.zeros(len(READINGS))
        numbers[READING_INDEX["acidity"]] = amount
        return numbers

    made = tuple(Cause(kind, key, kind, row(size), row(-size)) for kind, key, size in causes)
    total = float(np.hypot.reduce([size for _, _, size in causes])) if causes else 0.0
    return Spread(row(total), row(total), made)


def acidity(
    parent: Result, twist: Result, parent_spread: Spread | None = None, twist_spread: Spread | None = None
) -> ReadingDifference:
    differences = reading_differences(parent, twist, parent_spread, twist_spread)
    return differences[READING_INDEX["acidity"]]


def test_a_difference_beyond_its_spread_is_clear() -> None:
    found = acidity(
        result(acidity=0.61), result(acidity=0.71), spread(("acids", 1, 0.03)), spread(("acids", 2, 0.04))
    )
    assert found.change == pytest.approx(0.10)
    assert found.spread == pytest.approx(0.05)
    assert found.verdict is Verdict.CLEAR


def test_a_difference_within_its_spread_says_so() -> None:
    found = acidity(
        result(acidity=0.61), result(acidity=0.64), spread(("acids", 1, 0.03)), spread(("acids", 2, 0.04))
    )
    assert found.verdict is Verdict.WITHIN


def test_a_lemon_that_both_share_does_not_blur_their_difference() -> None:
    lemon = ("acids", 1, 0.05)
    found = acidity(result(acidity=0.61), result(acidity=0.64), spread(lemon), spread(lemon))
    assert found.spread == 0.0
    assert found.verdict is Verdict.CLEAR


def test_without_any_spread_a_visible_difference_is_clear() -> None:
    assert acidity(result(acidity=0.61), result(acidity=0.62)).verdict is Verdict.CLEAR


def test_what_does_not_reach_the_last_digit_is_the_same() -> None:
    assert acidity(result(acidity=0.610), result(acidity=0.614)).verdict is Verdict.SAME


def test_a_fall_is_judged_by_the_sides_that_face_each_other() -> None:
    one_sided = spread(("acids", 1, 0.2))
    index = READING_INDEX["acidity"]
    cause = one_sided.causes[0]
    still = np.zeros(len(READINGS))
    upward = replace(one_sided, causes=(replace(cause, lower=still),))
    assert acidity(result(acidity=0.6), result(acidity=0.5), twist_spread=upward).verdict is Verdict.WITHIN
    assert acidity(result(acidity=0.6), result(acidity=0.7), twist_spread=upward).verdict is Verdict.CLEAR
    assert cause.lower[index] == -0.2


def test_a_reading_that_is_not_known_is_not_compared() -> None:
    found = acidity(result(acidity=float("nan")), result(acidity=0.64))
    assert (found.parent, found.change, found.verdict) == (None, None, Verdict.UNKNOWN)
    at_least = result({"acidity": 0.2}, acidity=0.61)
    assert acidity(at_least, result(acidity=0.9)).verdict is Verdict.UNKNOWN
    hardly = result({"acidity": 0.001}, acidity=0.61)
    assert acidity(hardly, result(acidity=0.9)).verdict is Verdict.CLEAR


def test_differences_come_in_the_order_of_the_readings() -> None:
    found = reading_differences(result(), result())
    assert [difference.key for difference in found] == [reading.key for reading in READINGS]


def test_parts_are_compared_like_drinks() -> None:
    book = done(HOUSE, make_twist(CORDIAL, "pear and bay cordial"))
    assert in_words(line_pairs(book.builds[CORDIAL], book.builds[TWIST])) == "nothing differs"


def test_the_bay_twist_of_the_demo_house_is_told_as_in_its_picture() -> None:
    book = demo_house()
    twist = next(build for build in book.builds.values() if build.parent_id is not None)
    assert twist.parent_id is not None
    pairs = line_pairs(book.builds[twist.parent_id], twist)
    assert in_words(pairs) == (
        "three parts and the method swapped, three amounts moved, one step added, one line the same"
    )


BENCH = bench_house()
BREW_TWIST = BREW_TOP_ID + 1


def brew_pairs_after(make: Callable[[dict[int, int]], Command]) -> tuple[LinePair, ...]:
    """The pairs of the brew and a twist of it after a change; ``make`` is given the twist's steps by the brew's."""
    book = done(BENCH, make_twist(BREW, "leaf brew, sharper"))
    steps = zip(BENCH.builds[BREW].steps, book.builds[BREW_TWIST].steps, strict=True)
    book = done(book, make({old.id: new.id for old, new in steps}))
    return line_pairs(book.builds[BREW], book.builds[BREW_TWIST])


def test_a_twist_of_bench_steps_differs_in_nothing_at_first() -> None:
    pairs = brew_pairs_after(lambda steps: leave_out(BREW_TWIST, [], False))
    assert in_words(pairs) == "nothing differs"


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (
            lambda steps: set_step(BREW_TWIST, steps[BREW_ACID], value=5.0),
            "one step done otherwise, two lines the same",
        ),
        (
            lambda steps: set_portions(BREW_TWIST, steps[BREW_ACID], (Portion(LIME),)),
            "one step done otherwise, two lines the same",
        ),
        (
            lambda steps: set_step(BREW_TWIST, steps[BREW_SWEET], like_item_id=LIME),
            "one step done otherwise, two lines the same",
        ),
        (
            lambda steps: set_step(BREW_TWIST, steps[BREW_PH], value=9.5),
            "one step done otherwise, two lines the same",
        ),
        (
            lambda steps: set_step(BREW_TWIST, steps[BREW_LEAF], acids_given_pct=50.0),
            "one step done otherwise, one line the same",
        ),
        (
            lambda steps: set_amount(BREW_TWIST, steps[BREW_LEAF], Amount(9.0, "g")),
            "one amount moved, one line the same",
        ),
        (lambda steps: set_item(BREW_TWIST, steps[BREW_LEAF], PEAR), "one part swapped, one line the same"),
        (lambda steps: remove_steps(BREW_TWIST, [steps[BREW_PH]]), "one step taken out, two lines the same"),
        (
            lambda steps: set_kind(BREW_TWIST, steps[BREW_LEAF], Add),
            "one step added, one step taken out, one line the same",
        ),
    ],
)
def test_what_a_twist_of_bench_steps_does_otherwise_is_said(
    make: Callable[[dict[int, int]], Command], words: str
) -> None:
    assert in_words(brew_pairs_after(make)) == words
