"""A twist beside its parent: which line answers to which, what differs, and the same in words and figures."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from msgspec import structs

from washline.document.naming import counted
from washline.document.references import taken_item
from washline.engine.result import Result
from washline.engine.spread import Spread
from washline.model.item import Build
from washline.model.reading import READING_INDEX, READING_KEYS, READINGS
from washline.model.step import AnyStep, Chill, Line, Take


class Pairing(StrEnum):
    """How a line of a twist answers to one of its parent."""

    SAME = "same"
    AMOUNT = "amount"
    """The same item, another amount."""
    SWAPPED = "swapped"
    """Another item, or another method, in the same place."""
    CHANGED = "changed"
    """The same item or kind of step, done in another way: words, time, temperature, what was weighed."""
    ADDED = "added"
    REMOVED = "removed"


@dataclass(frozen=True, slots=True)
class LinePair:
    """A step of the parent and the one that answers to it in the twist; one of them is missing where it was added or
    removed. ``is_amount_moved`` can be true of a swapped line too."""

    pairing: Pairing
    parent: AnyStep | None
    twist: AnyStep | None
    is_amount_moved: bool = False

    @property
    def step(self) -> AnyStep:
        """The step of the twist, else the one of the parent."""
        step = self.twist or self.parent
        assert step is not None
        return step


def line_pairs(parent: Build, twist: Build) -> tuple[LinePair, ...]:
    """Pairs all steps of two builds, in the order of the parent with what was added after its neighbour in the twist.

    A step answers to the one of its kind with the same item in the same place; then to one with the same item; then, a
    swap, to one of its kind between the same neighbours; then to one of its kind beside the same neighbour.
    """
    answer = _answers(parent, twist)
    pairs = [_pair(step, answer.get(step.id)) for step in parent.steps]
    paired = {step.id for step in answer.values()}
    at = -1
    for step in twist.steps:
        if step.id in paired:
            at = next(index for index, pair in enumerate(pairs) if pair.twist is step)
        else:
            at += 1
            pairs.insert(at, LinePair(Pairing.ADDED, None, step))
    return tuple(pairs)


def _answers(parent: Build, twist: Build) -> dict[int, AnyStep]:
    """For the id of each paired step of the parent, the step of the twist that answers to it."""
    answer: dict[int, AnyStep] = {}
    rules: tuple[Callable[[AnyStep, AnyStep], bool], ...] = (
        lambda one, other: _what(one) == _what(other) and one.place == other.place,
        lambda one, other: _what(one) == _what(other),
        lambda one, other: (
            type(one) is type(other)
            and one.place == other.place
            and all(_shared_neighbours(parent, twist, answer, one, other))
        ),
        lambda one, other: (
            type(one) is type(other) and all(_shared_neighbours(parent, twist, answer, one, other))
        ),
        lambda one, other: (
            type(one) is type(other) and any(_shared_neighbours(parent, twist, answer, one, other))
        ),
    )
    for rule in rules:
        for step in parent.steps:
            if step.id in answer:
                continue
            taken = {other.id for other in answer.values()}
            match = next(
                (other for other in twist.steps if other.id not in taken and rule(step, other)), None
            )
            if match is not None:
                answer[step.id] = match
    return answer


def _what(step: AnyStep) -> tuple[type, object]:
    """What makes a step the same one: its kind, and its item or method."""
    return type(step), taken_item(step) or (step.method if isinstance(step, Chill) else None)


def _shared_neighbours(
    parent: Build, twist: Build, answer: Mapping[int, AnyStep], one: AnyStep, other: AnyStep
) -> tuple[bool, bool]:
    """Whether the nearest paired steps above, and below, ``one`` in the parent and ``other`` in the twist are a pair;
    the two ends of the builds count as one."""
    answers = {step_id: step.id for step_id, step in answer.items()}
    own = {step_id: step_id for step_id in answers.values()}
    at, at_other = _index(parent, one), _index(twist, other)
    return (
        _first_known(parent.steps[:at][::-1], answers) == _first_known(twist.steps[:at_other][::-1], own),
        _first_known(parent.steps[at + 1 :], answers) == _first_known(twist.steps[at_other + 1 :], own),
    )


def _index(build: Build, step: AnyStep) -> int:
    return next(index for index, one in enumerate(build.steps) if one is step)


def _first_known(steps: Sequence[AnyStep], ids: Mapping[int, int]) -> int:
    return next((ids[step.id] for step in steps if step.id in ids), 0)


def _pair(step: AnyStep, other: AnyStep | None) -> LinePair:
    if other is None:
        return LinePair(Pairing.REMOVED, step, None)
    is_moved = _amount(step) != _amount(other)
    if _what(step) != _what(other):
        return LinePair(Pairing.SWAPPED, step, other, is_moved)
    if is_moved:
        return LinePair(Pairing.AMOUNT, step, other, is_moved)
    return LinePair(Pairing.SAME if _alike(step, other) else Pairing.CHANGED, step, other)


def _amount(step: AnyStep) -> object:
    """What a difference of amounts is judged by: how it was typed, and which line a share refers to, do not matter."""
    if isinstance(step, Line | Take):
        return step.amount.number, step.amount.unit, step.amount.basis, step.amount.heft
    return (step.count, step.count_unit) if isinstance(step, Chill) else None


def _alike(step: AnyStep, other: AnyStep) -> bool:
    """Whether two steps differ in nothing but their ids and places."""
    return _content(step) == _content(other)


def _content(step: AnyStep) -> tuple[object, ...]:
    own = {"id", "build_id", "place", "amount", "leftover_id"}
    return tuple(value for name, value in structs.asdict(step).items() if name not in own)


def in_words(pairs: Sequence[LinePair]) -> str:
    """The differences in one sentence: *three parts and the method swapped, three amounts moved, one line the same*."""
    swapped = [pair.step for pair in pairs if pair.pairing is Pairing.SWAPPED]
    lines = [pair for pair in pairs if taken_item(pair.step) is not None]
    phrases = [
        _swapped_words(len([step for step in swapped if taken_item(step) is not None]), _methods(swapped)),
        _phrase(sum(pair.is_amount_moved for pair in lines), "amount", "moved"),
        _phrase(sum(pair.pairing is Pairing.CHANGED for pair in pairs), "step", "done otherwise"),
        _phrase(sum(pair.pairing is Pairing.ADDED for pair in pairs), "step", "added"),
        _phrase(sum(pair.pairing is Pairing.REMOVED for pair in pairs), "step", "taken out"),
    ]
    same = sum(pair.pairing is Pairing.SAME for pair in lines)
    if not any(phrases):
        return "nothing differs"
    return ", ".join(phrase for phrase in [*phrases, _phrase(same, "line", "the same")] if phrase)


def _methods(steps: Sequence[AnyStep]) -> int:
    return sum(isinstance(step, Chill) for step in steps)


def _swapped_words(parts: int, methods: int) -> str:
    method = "the method" if methods == 1 else counted(methods, "method") if methods else ""
    what = " and ".join(words for words in (counted(parts, "part") if parts else "", method) if words)
    return f"{what} swapped" if what else ""


def _phrase(count: int, what: str, how: str) -> str:
    return f"{counted(count, what)} {how}" if count else ""


class Verdict(StrEnum):
    """Whether two readings differ by more than their spread."""

    SAME = "same"
    """The shown digits are equal."""
    CLEAR = "clear"
    WITHIN = "within ±"
    UNKNOWN = "unknown"
    """One of them has no value, or may be higher than it says."""


@dataclass(frozen=True, slots=True)
class ReadingDifference:
    """One reading of the parent and of the twist: values and their difference in the reading's unit, ``None`` where
    there is none. ``spread`` is one standard uncertainty of the difference, on the side of no difference."""

    key: str
    parent: float | None
    twist: float | None
    change: float | None
    spread: float
    verdict: Verdict


def reading_differences(
    parent: Result,
    twist: Result,
    parent_spread: Spread | None = None,
    twist_spread: Spread | None = None,
) -> tuple[ReadingDifference, ...]:
    """All readings of a twist beside its parent's, in the order of ``model.reading.READINGS``."""
    return tuple(
        _reading_difference(key, parent, twist, _facing(key, parent, twist, parent_spread, twist_spread))
        for key in READING_KEYS
    )


def _facing(
    key: str, parent: Result, twist: Result, parent_spread: Spread | None, twist_spread: Spread | None
) -> float:
    """How far the difference may come back to nothing: one standard uncertainty on the side that faces it.

    A cause that both share (the same lemon, the same dash) counts once, by what it does to the difference.
    """
    before, after = parent.value(key), twist.value(key)
    sign = -1.0 if before is not None and after is not None and after < before else 1.0
    moves: dict[tuple[str, int | str], tuple[float, float]] = {}
    for spread, direction in ((twist_spread, 1.0), (parent_spread, -1.0)):
        for cause in spread.causes if spread is not None else ():
            higher, lower = moves.get((cause.kind, cause.key), (0.0, 0.0))
            index = READING_INDEX[key]
            moves[cause.kind, cause.key] = (
                higher + direction * float(cause.higher[index]),
                lower + direction * float(cause.lower[index]),
            )
    return math.hypot(*(max(0.0, -sign * higher, -sign * lower) for higher, lower in moves.values()))


def _reading_difference(key: str, parent: Result, twist: Result, spread: float) -> ReadingDifference:
    before, after = parent.value(key), twist.value(key)
    if before is None or after is None:
        return ReadingDifference(key, before, after, None, spread, Verdict.UNKNOWN)
    return ReadingDifference(
        key, before, after, after - before, spread, _verdict(key, parent, twist, after - before, spread)
    )


def _verdict(key: str, parent: Result, twist: Result, change: float, spread: float) -> Verdict:
    last_digit = 10.0 ** -READINGS[READING_INDEX[key]].decimals
    if max(parent.more_than(key), twist.more_than(key)) >= last_digit:
        return Verdict.UNKNOWN
    if abs(change) < last_digit / 2.0:
        return Verdict.SAME
    return Verdict.CLEAR if abs(change) > spread else Verdict.WITHIN
