"""What types cannot say about the rows of a file: that keys are known, shares refer to steps, and nothing goes round."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from washline.engine.units import kind_and_factor
from washline.exchange.house_rows import HouseRow, OwnMeasureRow
from washline.exchange.json_rows import PathProblem
from washline.exchange.kit_rows import MeasureRow, MethodRow, VesselRow
from washline.exchange.rows import (
    UNKNOWN_OR_ALLERGEN,
    AdjustRow,
    AimRow,
    AmountRow,
    AnyStepRow,
    BuildRow,
    CarbonateRow,
    ChillRow,
    EvaporateRow,
    LeftoverRow,
    LineRow,
    MakingRow,
    RawRow,
    StrainRow,
    TakeRow,
    TargetRow,
)
from washline.model.amount import Basis, Heft
from washline.model.book import HouseBook
from washline.model.house import Measure
from washline.model.reading import READING_KEYS
from washline.model.target import MOST_AXES

MOST_LEVELS = 200
"""How deep parts may stand on parts in one file."""

_SUM_LIMIT_G = 100.5
_SHARE_UNITS = {
    Basis.PERCENT_OF_VESSEL: ("%",),
    Basis.PERCENT_OF_LINES: ("%",),
    Basis.PARTS: ("parts",),
}
_LINE_SHARES = (Basis.PERCENT_OF_LINES, Basis.PARTS)


@dataclass(frozen=True, slots=True)
class Known:
    """The keys that the rows of a file may use."""

    items: Collection[str]
    raws: Collection[str]
    """Those items that are raw ingredients."""
    glasses: Collection[str]
    methods: Collection[str]
    vessels: Collection[str]
    targets: Collection[str]
    units: HouseBook
    """A house book with the measures at hand, which say what units there are."""


def with_measures(measures: Iterable[MeasureRow]) -> HouseBook:
    """A house book that holds nothing but measures, for the units that they give."""
    rows = (Measure(slug=row.slug, name=row.name, value=row.value, unit=row.unit, low=row.low, high=row.high)
            for row in measures)  # fmt: skip
    return HouseBook(measures={measure.slug: measure for measure in rows})


def items_of(row: BuildRow) -> tuple[str, ...]:
    """The keys of the items that a build names, each once: of its lines in order, those of lines left out too; of what it
    is adjusted to be like; and of what it and its leftovers act as."""
    steps = (key for step in row.steps for key in _keys_of(step))
    acted = (row.acts_as, *(leftover.acts_as for leftover in leftovers_of(row)))
    return tuple(dict.fromkeys((*steps, *(key for key in acted if key is not None))))


def _keys_of(step: AnyStepRow) -> tuple[str, ...]:
    if isinstance(step, LineRow):
        return (step.item,)
    if isinstance(step, AdjustRow):
        like = () if step.like is None else (step.like,)
        return (*(portion.item for portion in step.portions), *like)
    return ()


def leftovers_of(row: BuildRow) -> tuple[LeftoverRow, ...]:
    """What the steps of a build leave over, in order."""
    found = (step.leftover for step in row.steps if isinstance(step, StrainRow | TakeRow))
    return tuple(leftover for leftover in found if leftover is not None)


def makers(builds: Iterable[BuildRow]) -> dict[str, str]:
    """For the key of every build and leftover, the key of the build that makes it."""
    result: dict[str, str] = {}
    for row in builds:
        result[row.key] = row.key
        result.update((leftover.key, row.key) for leftover in leftovers_of(row))
    return result


def in_order(builds: Mapping[str, BuildRow], firsts: Iterable[str]) -> tuple[str, ...]:
    """The keys of the builds that some rest on, themselves included, each after those it uses."""
    maker = makers(builds.values())
    done: dict[str, None] = {}
    seen: set[str] = set()
    stack: list[tuple[str, bool]] = [(key, False) for key in reversed(list(firsts))]
    while stack:
        key, is_ready = stack.pop()
        if is_ready:
            done[key] = None
        elif key in builds and key not in seen:
            seen.add(key)
            stack.append((key, True))
            used = [maker[item] for item in items_of(builds[key]) if item in maker]
            stack.extend((one, False) for one in reversed(used))
    return tuple(done)


def check_raw(path: str, row: RawRow) -> Iterator[PathProblem]:
    """What cannot be in a raw ingredient."""
    parts = [getattr(row.composition, name) or 0.0 for name in row.composition.__struct_fields__]
    if sum(parts) > _SUM_LIMIT_G:
        yield PathProblem(f"{path}.composition", f"The parts add up to {sum(parts):.2f} g in 100 g.")
    yield from _check_allergens(f"{path}.allergens", row.allergens)
    yield from _check_allergens(f"{path}.may_contain", row.may_contain)


def check_house(path: str, row: HouseRow, items: Collection[str]) -> Iterator[PathProblem]:
    """What cannot be in the settings of a house; ``items`` are those that its swaps may name."""
    seen: set[str] = set()
    for index, swap in enumerate(row.swaps):
        for name, key in (("item", swap.item), ("to", swap.to)):
            if key is not None and key not in items:
                yield PathProblem(f"{path}.swaps[{index}].{name}", f"The item “{key}” is not in this file.")
        if swap.item in seen or swap.item == swap.to:
            yield PathProblem(f"{path}.swaps[{index}]", "An item gives way once, and to another.")
        seen.add(swap.item)
    for index, shared in enumerate(row.shared):
        yield from _check_allergens(f"{path}.shared[{index}].allergens", shared.allergens)


def check_own(path: str, row: OwnMeasureRow) -> Iterator[PathProblem]:
    """What a house cannot say of a raw ingredient."""
    yield from _check_allergens(f"{path}.may_contain", row.may_contain or ())
    if row.today is not None and not is_date(row.today.until):
        yield PathProblem(
            f"{path}.today.until", f"Expected a time like 2026-11-22T02:00, found “{row.today.until}”."
        )


def check_target(path: str, row: TargetRow) -> Iterator[PathProblem]:
    """What cannot be in a target."""
    for index, aim in enumerate(row.aims):
        yield from _check_aim(f"{path}.aims[{index}]", aim)
    if sum(not aim.is_gate for aim in row.aims) > MOST_AXES:
        yield PathProblem(f"{path}.aims", f"A target has at most {MOST_AXES} axes.")


def _check_aim(path: str, aim: AimRow) -> Iterator[PathProblem]:
    if aim.reading not in READING_KEYS:
        yield PathProblem(f"{path}.reading", f"There is no reading “{aim.reading}”.")
    if not aim.low <= aim.ideal <= aim.high:
        yield PathProblem(
            path, f"Expected low ≤ ideal ≤ high, found {aim.low:g}, {aim.ideal:g}, {aim.high:g}."
        )


def check_method(path: str, row: MethodRow) -> Iterator[PathProblem]:
    """What cannot be in a method of chilling."""
    if row.dilution_low_pct > row.dilution_high_pct or row.end_low_c > row.end_high_c:
        yield PathProblem(path, "The low end of a range is above its high end.")


def check_vessel(path: str, row: VesselRow) -> Iterator[PathProblem]:
    """What cannot be in a vessel."""
    if row.fill_ml is not None and row.fill_ml > row.volume_ml:
        yield PathProblem(f"{path}.fill_ml", "It is filled beyond its brim.")


def check_measure(path: str, row: MeasureRow) -> Iterator[PathProblem]:
    """What cannot be in a measure."""
    if not row.low <= row.value <= row.high:
        yield PathProblem(
            path, f"Expected low ≤ value ≤ high, found {row.low:g}, {row.value:g}, {row.high:g}."
        )


def check_build(path: str, row: BuildRow, known: Known) -> Iterator[PathProblem]:
    """What cannot be in a build: keys, units, shares."""
    if row.glass is not None and row.glass not in known.glasses:
        yield PathProblem(f"{path}.glass", f"The glass “{row.glass}” is not in this file.")
    if row.target is not None and row.target not in known.targets:
        yield PathProblem(f"{path}.target", f"The target “{row.target}” is not in this file.")
    yield from _check_allergens(f"{path}.added_allergens", row.added_allergens)
    yield from _check_allergens(f"{path}.may_contain", row.may_contain)
    yield from _check_acts_as(path, row.acts_as, known)
    if row.batch is not None:
        yield from _check_vessel(f"{path}.batch.vessel", row.batch.vessel, known)
    for index, step in enumerate(row.steps):
        yield from _check_step(f"{path}.steps[{index}]", step, index, len(row.steps), known)
    for index, making in enumerate(row.makings):
        yield from _check_making(f"{path}.makings[{index}]", making, row)


def _check_acts_as(path: str, key: str | None, known: Known) -> Iterator[PathProblem]:
    if key is not None and key not in known.raws:
        yield PathProblem(f"{path}.acts_as", f"The raw ingredient “{key}” is not in this file.")


def _check_vessel(path: str, key: str, known: Known) -> Iterator[PathProblem]:
    if key and key not in known.vessels:
        yield PathProblem(path, f"The vessel “{key}” is not in this file.")


def _check_making(path: str, making: MakingRow, row: BuildRow) -> Iterator[PathProblem]:
    if not is_date(making.date):
        yield PathProblem(f"{path}.date", f"Expected a date like 2026-11-21, found “{making.date}”.")
    for index, one in enumerate(making.yields):
        if one.step > len(row.steps) or not isinstance(row.steps[one.step - 1], StrainRow):
            yield PathProblem(f"{path}.yields[{index}].step", f"Step {one.step} is no strain.")


def is_date(text: str) -> bool:
    """Whether a text is a date, or a date and time, of ISO 8601."""
    try:
        datetime.fromisoformat(text)
    except ValueError:
        return False
    return True


def _check_step(path: str, step: AnyStepRow, index: int, count: int, known: Known) -> Iterator[PathProblem]:
    if isinstance(step, LineRow) and step.item not in known.items:
        yield PathProblem(f"{path}.item", f"The item “{step.item}” is not in this file.")
    if isinstance(step, LineRow | TakeRow):
        yield from _check_amount(f"{path}.amount", step.amount, index + 1, count, known)
    if isinstance(step, AdjustRow):
        yield from _check_adjustment(path, step, known)
    if isinstance(step, EvaporateRow) and step.final_brix is not None:
        others = (step.final_g, step.final_pct)
        if others != (None, None):
            yield PathProblem(path, "Only one of final_g, final_pct and final_brix can be given.")
    if isinstance(step, StrainRow | TakeRow) and step.leftover is not None:
        yield from _check_allergens(f"{path}.leftover.may_contain", step.leftover.may_contain)
        yield from _check_acts_as(f"{path}.leftover", step.leftover.acts_as, known)
    if isinstance(step, CarbonateRow):
        yield from _check_vessel(f"{path}.vessel", step.vessel, known)
    if isinstance(step, ChillRow):
        if step.method not in known.methods:
            yield PathProblem(f"{path}.method", f"The method “{step.method}” is not in this file.")
        if sum(one is not None for one in (step.melted_g, step.final_g, step.final_ml)) > 1:
            yield PathProblem(path, "Only one of melted_g, final_g and final_ml can have been measured.")
    if isinstance(step, StrainRow):
        ends = [end for end in (step.low_pct, step.expected_pct, step.high_pct) if end is not None]
        if ends != sorted(ends):
            yield PathProblem(path, "Expected low_pct ≤ expected_pct ≤ high_pct.")


def _check_adjustment(path: str, step: AdjustRow, known: Known) -> Iterator[PathProblem]:
    if (step.value is None) == (step.like is None):
        yield PathProblem(path, "Exactly one of value and like is given.")
    if step.like is not None and step.like not in known.items:
        yield PathProblem(f"{path}.like", f"The item “{step.like}” is not in this file.")
    for index, portion in enumerate(step.portions):
        if portion.item not in known.items:
            place = f"{path}.portions[{index}].item"
            yield PathProblem(place, f"The item “{portion.item}” is not in this file.")
    if not any(portion.parts > 0.0 for portion in step.portions):
        yield PathProblem(f"{path}.portions", "All portions are of no parts.")


def _check_amount(
    path: str, amount: AmountRow, number: int, count: int, known: Known
) -> Iterator[PathProblem]:
    expected = _SHARE_UNITS.get(amount.basis)
    if expected is not None:
        if amount.unit not in expected:
            yield PathProblem(f"{path}.unit", f"A share is in {expected[0]}, found “{amount.unit}”.")
    elif amount.basis is not Basis.TO_WASH_LINE and kind_and_factor(known.units, amount.unit) is None:
        yield PathProblem(f"{path}.unit", f"The unit “{amount.unit}” is not known.")
    if amount.heft is not Heft.EVEN and amount.basis is not Basis.ABSOLUTE:
        yield PathProblem(f"{path}.heft", f"A share cannot be {amount.heft.value}.")
    if (amount.basis in _LINE_SHARES) != bool(amount.of):
        yield PathProblem(f"{path}.of", "Only a share of lines names lines, and it names at least one.")
    wrong = [one for one in amount.of if one >= number or one > count]
    if wrong:
        yield PathProblem(
            f"{path}.of", f"Step {number} can be a share of earlier steps only, not of {wrong[0]}."
        )


def _check_allergens(path: str, keys: tuple[str, ...]) -> Iterator[PathProblem]:
    for key in keys:
        if key not in UNKNOWN_OR_ALLERGEN:
            yield PathProblem(path, f"“{key}” is none of the fourteen allergens, nor “unknown”.")


def check_rounds(paths: Mapping[str, str], builds: Mapping[str, BuildRow]) -> Iterator[PathProblem]:
    """Notes builds that go round, and parts that stand on parts too deep; lines left out do not count."""
    maker = makers(builds.values())
    uses = {key: {maker[item] for item in _active_items(row) if item in maker} for key, row in builds.items()}
    users: dict[str, list[str]] = {}
    for key, used in uses.items():
        for one in used:
            users.setdefault(one, []).append(key)
    level = {key: 1 for key, used in uses.items() if not used}
    open_uses = {key: len(used) for key, used in uses.items()}
    ready = list(level)
    while ready:
        key = ready.pop()
        for user in users.get(key, []):
            level[user] = max(level.get(user, 0), level[key] + 1)
            open_uses[user] -= 1
            if open_uses[user] == 0:
                ready.append(user)
    for key, row in builds.items():
        if open_uses[key] > 0:
            yield PathProblem(paths[key], f"“{row.name}” is made of itself, by itself or through its parts.")
        elif level[key] > MOST_LEVELS:
            yield PathProblem(
                paths[key], f"“{row.name}” stands on parts {level[key]} deep; at most {MOST_LEVELS}."
            )


def _active_items(row: BuildRow) -> Iterator[str]:
    return (key for step in row.steps if not step.left_out for key in _keys_of(step))
