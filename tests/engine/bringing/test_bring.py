"""*Bring to target* on the demo house: what was made worse comes back in whole steps; what cannot says what gives way."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from tests.engine.bringing.kit import (
    DRINKS,
    brought_to,
    columns,
    cost_of,
    demo,
    drink,
    every_point,
    item_id,
    line,
    only,
    poured,
    ready,
    request,
    taken,
    target,
    within,
)
from washline.engine.bringing.bring import bring
from washline.engine.bringing.extras import with_changes
from washline.engine.bringing.request import Answer, Change, Extra, Limit, Merit, Outcome, Request
from washline.engine.bringing.terms import widths
from washline.model.amount import Amount, Basis
from washline.model.item import Build
from washline.model.reading import READING_INDEX
from washline.model.step import Add, Top
from washline.model.target import Aim

SHARP = {
    "Pear Signal": {"Verjus": 20.0},
    "Pear Signal, bay twist": {"Verjus": 12.5},
    "Sloe Tide": {"lemon juice": 27.5},
    "Quince Ferry": {"quince shrub": 30.0},
    "Drift": {"Vermouth": 27.5},
    "Orchard Bell": {"sharp apple": 20.0},
    "Fennel Rye": {"Sherry": 27.5},
    "Saltings": {"samphire": 20.0},
    "Beet Lantern": {"lemon juice": 27.5},
    "Ebb": {"sharp apple": 10.25},
}
"""5 ml too much of what is sour in each."""

SWEET = {
    "Pear Signal": {"pear-sorrel": 45.0},
    "Pear Signal, bay twist": {"pear-sorrel": 45.0},
    "Sloe Tide": {"peel sugar": 30.0},
    "Quince Ferry": {"quince shrub": 50.0},
    "Drift": {"Vermouth": 45.0},
    "Orchard Bell": {"peel sugar": 20.0},
    "Fennel Rye": {"fennel cider": 20.0},
    "Saltings": {"samphire": 30.0},
    "Beet Lantern": {"rosehip": 45.0},
    "Ebb": {"rosehip": 15.0},
}
"""The cordial, syrup or vermouth doubled."""

SALTLESS = {
    "Drift": {"saline": 0.0},
    "Orchard Bell": {"saline": 0.0},
    "Saltings": {"saline": 0.0},
    "Ebb": {"saline": 0.0},
}
WORSE = [(name, amounts) for table in (SHARP, SWEET, SALTLESS) for name, amounts in table.items()]


def _as_poured(number: float, amount: Amount) -> bool:
    """Whether a number stands on the steps that its unit is poured in."""
    step = {"ml": 2.5, "dash": 1.0, "drop": 1.0, "g": 0.1 if number < 5.0 else 1.0}[amount.unit]
    return abs(number / step - round(number / step)) < 1e-6


@pytest.mark.parametrize("name, amounts", WORSE)
def test_a_drink_made_worse_is_brought_back_into_its_bands_in_jigger_steps(
    name: str, amounts: dict[str, float]
) -> None:
    build = poured(drink(name), amounts)
    answer = brought_to(build)
    assert answer.outcome is Outcome.FOUND
    best = answer.proposals[0]
    for aim in target(build).aims:
        assert within(aim, best.value(aim.reading)), aim.reading
    for change in best.changes:
        assert change.before is not None
        assert _as_poured(change.after.number, change.after)


@pytest.mark.parametrize("name, amounts", WORSE[::4])
def test_what_it_promises_is_what_the_drink_then_reads_to_the_bit(
    name: str, amounts: dict[str, float]
) -> None:
    build = poured(drink(name), amounts)
    for proposal in brought_to(build).proposals:
        result = ready(taken(build, proposal))[1].result_now(build.id)
        assert proposal.values.tobytes() == result.values.tobytes()
        assert proposal.more.tobytes() == result.more.tobytes()
        now = ready(build)[1].result_now(build.id).value("ethanol")
        assert now is not None
        assert proposal.ethanol_change_g == (result.value("ethanol") or 0.0) - now


def test_beet_lantern_too_sweet_as_the_house_makes_it_comes_into_its_band() -> None:
    build = drink("Beet Lantern")
    now = ready(build)[1].result_now(build.id).value("sweetness")
    assert now == pytest.approx(9.94, abs=0.01)
    best = brought_to(build).proposals[0]
    assert within(target(build).aims[1], best.value("sweetness"))
    assert line(build, "rosehip").id in {change.step_id for change in best.changes}


def test_beet_lantern_with_its_colour_and_volume_kept_says_that_sweetness_gives_way() -> None:
    build = drink("Beet Lantern")
    held = frozenset({line(build, "rosehip").id, line(build, "beet brine").id})
    answer = brought_to(build, held=held, hold={"length": (135.0, 142.0)})
    assert answer.outcome is Outcome.GIVES_WAY
    best = answer.proposals[0]
    assert [given.reading for given in best.gives_way] == ["sweetness"]
    assert best.gives_way[0].edge == 9.5
    assert best.gives_way[0].value > 9.5
    assert best.gives_way[0].by == pytest.approx((best.gives_way[0].value - 9.5) / 2.0)
    assert "Sweetness gives way: it stays" in answer.words


@pytest.mark.parametrize(
    "name, free",
    [
        ("Sloe Tide", ("lemon juice", "peel sugar")),
        ("Beet Lantern", ("Aquavit", "rosehip")),
        ("Beet Lantern", ("rosehip", "lemon juice", "Celery")),
        ("Quince Ferry", ("Aged cider", "quince shrub")),
        ("Drift", ("Vermouth", "Aromatic", "saline")),
        ("Fennel Rye", ("Rye whiskey", "fennel cider")),
        ("Ebb", ("rosehip", "sharp apple")),
    ],
)
@pytest.mark.parametrize("worse", [SHARP, SWEET, {}])
def test_the_best_is_the_best_of_all_points_on_the_full_model(
    name: str, free: tuple[str, ...], worse: dict[str, dict[str, float]]
) -> None:
    build = poured(drink(name), worse.get(name, {}))
    asked = request(build, held=only(build, *free))
    on = columns(build, asked)
    numbers = np.array(list(every_point(on))).T
    values, costs = on.figures(numbers).values, cost_of(asked, on, numbers)
    is_back = np.ones(len(costs), dtype=np.bool_)
    for aim in asked.aims:
        row = values[READING_INDEX[aim.reading]]
        rounding = 1e-9 * min(widths(aim))
        is_back &= (row >= aim.low - rounding) & (row <= aim.high + rounding)
    best = float(np.min(costs[is_back] if bool(np.any(is_back)) else costs))
    now = np.array([pour.before.number for pour in on.pours])
    answer = bring(demo().with_build(build), asked, ready(build)[1])
    if bool(np.all(numbers[:, int(np.flatnonzero(costs == best)[0])] == now)):
        assert answer.proposals == ()
    else:
        assert answer.proposals[0].objective == pytest.approx(best, rel=1e-9)


def _way(change: Change) -> tuple[int, bool | None]:
    """A line and whether more of it is poured."""
    more = None if change.before is None else change.after.number > change.before.number
    return change.step_id or change.item_id, more


def test_the_proposals_differ_in_which_lines_move_which_way_or_what_gives_way() -> None:
    for name, amounts in WORSE[::3]:
        proposals = brought_to(poured(drink(name), amounts)).proposals
        kinds = {
            (
                frozenset(_way(change) for change in proposal.changes),
                frozenset(given.reading for given in proposal.gives_way),
            )
            for proposal in proposals
        }
        assert len(kinds) == len(proposals) <= 3
        assert proposals[0].merit is Merit.NEAREST


def test_fewer_lines_bring_it_back_where_that_can_be() -> None:
    build = poured(drink("Sloe Tide"), {"lemon juice": 30.0})
    proposals = {proposal.merit: proposal for proposal in brought_to(build).proposals}
    fewest = proposals[Merit.FEWEST_CHANGES]
    assert len(fewest.changes) < len(proposals[Merit.NEAREST].changes)
    assert fewest.gives_way == ()


def test_a_way_with_less_alcohol_is_among_them_where_there_is_one() -> None:
    build = poured(drink("Beet Lantern"), {"rosehip": 45.0, "lemon juice": 30.0})
    proposals = {proposal.merit: proposal for proposal in brought_to(build).proposals}
    least = proposals[Merit.LEAST_ALCOHOL]
    assert least.ethanol_change_g < proposals[Merit.NEAREST].ethanol_change_g - 0.2
    assert least.gives_way == ()


def _bytes(answer: Answer) -> list[object]:
    return [
        (proposal.changes, proposal.values.tobytes(), proposal.objective, proposal.merit, proposal.gives_way)
        for proposal in answer.proposals
    ]


def test_the_same_request_twice_gives_the_same_bytes() -> None:
    build = poured(drink("Sloe Tide"), SHARP["Sloe Tide"])
    first, second = brought_to(build), brought_to(build)
    assert _bytes(first) == _bytes(second)
    assert first.words == second.words


@settings(max_examples=5)
@given(st.randoms(use_true_random=False))
def test_the_order_of_the_lines_changes_nothing(random: object) -> None:
    build = poured(drink("Beet Lantern"), SHARP["Beet Lantern"])
    lines = [step for step in build.steps if isinstance(step, Add)]
    shuffled = list(lines)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    other = structs.replace(build, steps=(*shuffled, *build.steps[len(lines) :]))

    def said(answer: Answer) -> list[object]:
        return [
            ({change.step_id: change.after for change in one.changes}, one.values.tobytes(), one.objective)
            for one in answer.proposals
        ]

    assert said(brought_to(build)) == said(brought_to(other))


@settings(max_examples=12)
@given(st.data())
def test_held_lines_never_move_and_limits_are_kept(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(DRINKS))
    build = poured(drink(name), data.draw(st.sampled_from([SHARP, SWEET])).get(name, {}))
    lines = [
        step for step in build.steps if isinstance(step, Add | Top) and step.amount.basis is Basis.ABSOLUTE
    ]
    held = frozenset(step.id for step in lines if data.draw(st.booleans()))
    limits = {}
    for step in lines:
        if step.amount.unit == "ml" and data.draw(st.booleans()):
            low = data.draw(st.floats(0.0, step.amount.number))
            high = data.draw(st.floats(step.amount.number, step.amount.number + 40.0))
            limits[step.id] = Limit(low, high, data.draw(st.sampled_from([2.5, 5.0, 7.5])))
    length = ready(build)[1].result_now(build.id).value("length")
    assert length is not None
    hold = {"length": (length - 8.0, length + 8.0)} if data.draw(st.booleans()) else {}
    answer = brought_to(build, held=held, limits=limits, hold=hold)
    for proposal in answer.proposals:
        for change in proposal.changes:
            assert change.step_id is not None
            assert change.step_id not in held
            limit = limits.get(change.step_id)
            if (
                limit is not None
                and limit.low is not None
                and limit.high is not None
                and limit.step is not None
            ):
                assert limit.low - 1e-6 <= change.after.number <= limit.high + 1e-6
                assert change.after.number % limit.step == pytest.approx(0.0, abs=1e-6)
        for key, (low, high) in hold.items():
            assert low - 1e-6 <= (proposal.value(key) or np.nan) <= high + 1e-6


def _salty(build: Build) -> Build:
    """Without its line of saline."""
    gone = line(build, "saline").id
    return structs.replace(build, steps=tuple(step for step in build.steps if step.id != gone))


SALINE = Extra(item_id("saline"), "drop", 1.0, 10.0)


def test_an_extra_that_is_ticked_gives_what_is_missing() -> None:
    build = _salty(drink("Orchard Bell"))
    without = brought_to(build)
    assert {given.reading for given in without.proposals[0].gives_way} == {"salt"}
    answer = brought_to(build, extras=(SALINE,))
    best = answer.proposals[0]
    assert best.gives_way == ()
    new = [change for change in best.changes if change.step_id is None]
    assert [(change.item_id, change.before) for change in new] == [(SALINE.item_id, None)]
    assert new[0].after.unit == "drop"
    assert new[0].after.number in range(1, 11)
    result = ready(taken(build, best))[1].result_now(build.id)
    assert result.values.tobytes() == best.values.tobytes()


def test_an_extra_that_is_not_needed_is_not_poured() -> None:
    build = drink("Quince Ferry")
    for proposal in brought_to(build, extras=(SALINE,)).proposals:
        assert all(change.step_id is not None for change in proposal.changes)


def test_an_extra_that_the_drink_pours_already_moves_as_its_own_line() -> None:
    answer = brought_to(drink("Orchard Bell"), extras=(SALINE,))
    assert [refused.item_id for refused in answer.refused] == [SALINE.item_id]
    assert "a line of the drink" in answer.refused[0].words


def test_an_extra_with_an_allergen_is_refused_unless_it_was_ticked() -> None:
    build = poured(drink("Beet Lantern"), {"rosehip": 45.0})
    egg = Extra(item_id("Egg white"), "ml", 2.5, 40.0)
    length = Aim("length", 175.0, 190.0, 200.0)
    held = frozenset(step.id for step in build.steps)
    wishes = {"extras": (egg,), "aims": (length,), "held": held}
    refused = brought_to(build, **wishes)
    assert refused.proposals == ()
    assert "would bring an allergen" in refused.refused[0].words
    allowed = brought_to(build, allow_allergens=True, **wishes)
    assert allowed.refused == ()
    assert "eggs" in allowed.proposals[0].new_allergens
    assert allowed.proposals[0].new_cautions != ()


def test_no_proposal_brings_alcohol_into_an_alcohol_free_drink() -> None:
    build = drink("Orchard Bell")
    gin = Extra(item_id("Dry gin"), "ml", 2.5, 60.0)
    aims = (Aim("energy_kcal", 140.0, 160.0, 180.0), Aim("acidity", 0.3, 0.4, 0.5))
    held = only(build, "sharp apple", "cold tea")
    answer = brought_to(build, aims=aims, extras=(gin,), held=held)
    assert answer.proposals != ()
    for proposal in answer.proposals:
        assert (proposal.value("strength") or 0.0) <= 0.5
        assert proposal.ethanol_change_g <= 0.8
    free = brought_to(build, aims=aims, extras=(gin,), held=held, gates=())
    assert (free.proposals[0].value("strength") or 0.0) > 0.5


def test_a_gate_among_the_aims_is_a_gate() -> None:
    build = drink("Orchard Bell")
    gin = Extra(item_id("Dry gin"), "ml", 2.5, 60.0)
    gate = Aim("strength", 0.0, 0.0, 0.5, is_gate=True)
    aims = (Aim("energy_kcal", 140.0, 160.0, 180.0), gate)
    held = only(build, "cold tea")
    for proposal in brought_to(build, aims=aims, extras=(gin,), held=held, gates=()).proposals:
        assert (proposal.value("strength") or 0.0) <= 0.5


def test_no_proposal_has_more_alcohol_than_the_house_allows() -> None:
    build = drink("Beet Lantern")
    free, bound = brought_to(build), brought_to(build, most_alcohol_g=14.0)
    assert max(proposal.value("ethanol") or 0.0 for proposal in free.proposals) > 14.0
    assert bound.proposals != ()
    assert all((proposal.value("ethanol") or 99.0) <= 14.0 for proposal in bound.proposals)


def test_a_limit_that_cannot_be_kept_is_named() -> None:
    build = drink("Beet Lantern")
    answer = brought_to(build, most_alcohol_g=10.0, held=frozenset({line(build, "Aquavit").id}))
    assert (answer.outcome, answer.proposals) == (Outcome.OUT_OF_REACH, ())
    assert "Ethanol cannot come down to 10.0 g." in answer.words


def test_all_lines_held_says_so() -> None:
    build = drink("Sloe Tide")
    answer = brought_to(build, held=frozenset(step.id for step in build.steps))
    assert (answer.outcome, answer.words) == (
        Outcome.ALL_HELD,
        "Every line is held: let one of them change.",
    )


def test_a_drink_with_no_line_says_so() -> None:
    build = structs.replace(drink("Sloe Tide"), steps=())
    answer = brought_to(build)
    assert (answer.outcome, answer.words) == (
        Outcome.NOTHING_POURED,
        "Nothing is poured yet: add a line first.",
    )


def test_a_drink_of_no_volume_says_so() -> None:
    build = drink("Sloe Tide")
    names = ("Dry gin", "Sloe gin", "lemon juice", "peel sugar", "Egg white")
    assert brought_to(poured(build, dict.fromkeys(names, 0.0))).outcome is Outcome.NO_LIQUID


def test_strength_wanted_of_a_drink_without_alcohol_says_that_no_line_brings_it() -> None:
    build = drink("Orchard Bell")
    aims = (Aim("strength", 5.0, 8.0, 11.0), *target(build).axes)
    answer = brought_to(build, aims=aims, gates=())
    assert answer.out_of_reach == ("strength",)
    assert "No line brings alcohol: strength stays at 0 % vol." in answer.words


def test_a_drink_that_cannot_be_computed_says_why() -> None:
    build = drink("Sloe Tide")
    lemon = line(build, "lemon juice")
    steps = tuple(
        structs.replace(step, amount=Amount(1.0, "piece")) if step.id == lemon.id else step
        for step in build.steps
    )
    answer = brought_to(structs.replace(build, steps=steps))
    assert answer.outcome is Outcome.NOT_COMPUTED
    assert "piece" in answer.words


def test_an_axis_whose_reading_nobody_knows_is_named_and_left_out() -> None:
    build = drink("Drift")
    water = structs.replace(
        build,
        steps=tuple(
            structs.replace(step, item_id=item_id("Water, still"))
            if isinstance(step, Add) and step.amount.unit == "ml"
            else structs.replace(step, left_out=True)
            if isinstance(step, Add)
            else step
            for step in build.steps
        ),
    )
    no_acid = Aim("sugar_acid_ratio", 1.0, 2.0, 3.0)
    answer = brought_to(water, aims=(no_acid, Aim("length", 40.0, 50.0, 60.0)))
    assert answer.unknown == ("sugar_acid_ratio",)
    assert answer.outcome is Outcome.FOUND
    assert brought_to(water, aims=(no_acid,)).outcome is Outcome.NOT_COMPUTED


def test_at_its_target_there_is_nothing_to_do() -> None:
    build = drink("Quince Ferry")
    answer = brought_to(build)
    while answer.proposals:
        build = taken(build, answer.proposals[0])
        answer = brought_to(build)
    assert answer.outcome is Outcome.ALREADY
    assert answer.words == "Every reading lies in its band, and no pour in these steps brings it nearer."


def test_limits_that_leave_no_step_name_their_line() -> None:
    build = drink("Sloe Tide")
    lemon = line(build, "lemon juice")
    answer = brought_to(build, limits={lemon.id: Limit(23.0, 24.0, 5.0)})
    assert answer.outcome is Outcome.OUT_OF_REACH
    assert "lemon juice" in answer.words


def test_an_axis_of_no_weight_does_not_count() -> None:
    build = poured(drink("Sloe Tide"), {"lemon juice": 30.0})
    acidity = next(aim for aim in target(build).aims if aim.reading == "acidity")
    with_it, without = brought_to(build), brought_to(build, weights={"acidity": 0.0})
    assert within(acidity, with_it.proposals[0].value("acidity"))
    assert not within(acidity, without.proposals[0].value("acidity"))
    assert without.proposals[0].gives_way == ()
    nothing = brought_to(build, weights=dict.fromkeys((aim.reading for aim in target(build).aims), 0.0))
    assert nothing.outcome is Outcome.NO_AIMS


def test_a_share_of_another_line_follows_and_does_not_move_by_itself() -> None:
    build = poured(drink("Sloe Tide"), {"lemon juice": 30.0})
    lemon, sugar = line(build, "lemon juice"), line(build, "peel sugar")
    share = Amount(60.0, "%", Basis.PERCENT_OF_LINES, of=(lemon.id,))
    steps = tuple(
        structs.replace(step, amount=share) if step.id == sugar.id else step for step in build.steps
    )
    for proposal in brought_to(structs.replace(build, steps=steps)).proposals:
        assert sugar.id not in {change.step_id for change in proposal.changes}


def test_amounts_by_the_quarter_ounce_stay_by_the_quarter_ounce() -> None:
    build = poured(drink("Sloe Tide"), {})
    steps = tuple(
        structs.replace(step, amount=Amount(step.amount.number / 30.0, "oz"))
        if isinstance(step, Add) and step.amount.unit == "ml"
        else step
        for step in build.steps
    )
    changes = [
        change for one in brought_to(structs.replace(build, steps=steps)).proposals for change in one.changes
    ]
    assert changes
    assert all(change.after.number % 0.25 == 0.0 and change.after.unit == "oz" for change in changes)


def test_a_request_is_not_changed() -> None:
    build = drink("Sloe Tide")
    asked = request(build, extras=(SALINE, replace(SALINE, item_id=10**9)))
    book, workings = ready(build)
    answer = bring(book, asked, workings)
    assert len(asked.extras) == 2
    assert [refused.words for refused in answer.refused] == ["It is no longer in the house book."]


def test_an_unknown_build_is_an_error() -> None:
    book, workings = ready(drink("Sloe Tide"))
    with pytest.raises(KeyError):
        bring(book, Request(10**9, ()), workings)


def test_a_new_ingredient_is_poured_with_the_first_lines() -> None:
    build = drink("Sloe Tide")
    changes = (Change(None, SALINE.item_id, None, Amount(3.0, "drop")),)
    changed = with_changes(build, changes, [777])
    places = [step.place for step in changed.steps]
    assert places == sorted(set(places))
    at = [step.id for step in changed.steps].index(777)
    assert isinstance(changed.steps[at - 1], Add)
    assert not isinstance(changed.steps[at + 1], Add)
    empty = with_changes(structs.replace(build, steps=()), changes, [777])
    assert [step.id for step in empty.steps] == [777]


def test_changes_of_lines_that_are_gone_are_passed_over() -> None:
    build = drink("Sloe Tide")
    change = Change(10**9, SALINE.item_id, Amount(3.0, "drop"), Amount(4.0, "drop"))
    assert with_changes(build, (change,)) == build
