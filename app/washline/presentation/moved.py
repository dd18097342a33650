"""What a corrected fact did: which drinks moved, by how much per reading in their target, which left their band."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import IntEnum

from washline.chemistry.components import ACIDS, COMPONENTS, ETHANOL, SUGARS
from washline.engine.mending import Mend
from washline.engine.result import Result
from washline.model.book import HouseBook
from washline.model.graph import outputs_of, rests_on
from washline.model.item import Build, RawIngredient
from washline.model.reading import BY_KEY
from washline.model.step import Adjust, items_of
from washline.model.target import Aim
from washline.presentation.raw_facts import newest_price
from washline.presentation.shape import Band
from washline.presentation.strength_words import reading_number
from washline.presentation.strip import BandStrip
from washline.presentation.today import shift_words
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    NumberStyle,
    format_amount,
    format_number,
    format_trimmed,
)

ROUNDING = 1e-9
"""A relative change below this is the last digits of a sum, and no move."""

SHOWN_SHARE = 0.02
"""A move of less than this share of its tolerance is passed over in the list."""

WITHOUT_TARGET = ("strength", "sweetness", "acidity")
"""What is compared where a drink has no target."""


class Standing(IntEnum):
    """Where a drink stands after the change, in the order of the list."""

    LEFT = 0
    """It was in its band and is not any more."""
    STILL_OUT = 1
    """A reading that moved was out of its band before."""
    CAME_BACK = 2
    """All that was out and moved is in its band now."""
    MOVED = 3
    """In its band before and after, or it has none."""


STANDING_WORDS = {
    Standing.LEFT: "left its band",
    Standing.STILL_OUT: "still out of its band",
    Standing.CAME_BACK: "came back into its band",
    Standing.MOVED: "in its band as before",
}


@dataclass(frozen=True, slots=True)
class Move:
    """One reading before and after; ``aim`` is its band, ``None`` for one that the target does not name."""

    reading: str
    before: float | None
    after: float | None
    aim: Aim | None

    @property
    def was_out(self) -> bool:
        """Whether it was out of its band."""
        return self.aim is not None and _is_out(self.aim, self.before)

    @property
    def is_out(self) -> bool:
        """Whether it is out of its band now."""
        return self.aim is not None and _is_out(self.aim, self.after)

    @property
    def strip(self) -> BandStrip | None:
        """The reading on its band strip, with what it was as a ring; ``None`` without a band."""
        if self.aim is None:
            return None
        band = Band(self.aim.low, self.aim.ideal, self.aim.high, BY_KEY[self.reading].step)
        return BandStrip(band, self.after, before=self.before)

    @property
    def share(self) -> float:
        """How far it moved: in tolerances where it has a band, else relative to what it was."""
        if self.before is None or self.after is None:
            return float("inf")
        if self.aim is None:
            return abs(self.after - self.before) / max(abs(self.before), abs(self.after))
        band = Band(self.aim.low, self.aim.ideal, self.aim.high, BY_KEY[self.reading].step)
        return abs(band.share(self.after) - band.share(self.before))


@dataclass(frozen=True, slots=True)
class MovedDrink:
    """A drink that moved, with its moves: those out of their band first, then the longest; ``longest`` is its share."""

    build_id: int
    name: str
    standing: Standing
    moves: tuple[Move, ...]
    longest: float

    @property
    def is_out(self) -> bool:
        """Whether something that moved is out of its band now."""
        return any(move.is_out for move in self.moves)

    @property
    def order(self) -> tuple[int, float, str]:
        """Where it stands in the list: by standing, then by how far it moved, then by name."""
        return int(self.standing), -self.longest, self.name


def moved_drink(
    build: Build, aims: Iterable[Aim], before: Result | None, after: Result | None
) -> MovedDrink | None:
    """What one drink did, ``None`` where no reading of its target, and no cost, moved.

    ``before`` is its row before the change and ``after`` the one that holds now.
    """
    if before is None or after is None:
        return None
    by_reading = {aim.reading: aim for aim in aims}
    keys = [*(by_reading or WITHOUT_TARGET), *(() if "cost" in by_reading else ("cost",))]
    moves = [
        Move(key, before.value(key), after.value(key), by_reading.get(key))
        for key in keys
        if has_moved(before.value(key), after.value(key))
    ]
    if not moves:
        return None
    moves.sort(key=lambda move: (*_rank(move), move.aim is None, -move.share))
    longest = max(move.share for move in moves)
    return MovedDrink(build.id, build.name, standing_of(moves), tuple(moves), longest)


def _rank(move: Move) -> tuple[bool, bool, bool]:
    """What left its band first, then what is out, then what was."""
    return not (move.is_out and not move.was_out), not move.is_out, not move.was_out


def has_moved(before: float | None, after: float | None) -> bool:
    """Whether a reading differs by more than rounding; one that came or went has."""
    if before is None or after is None:
        return before is not after
    return abs(after - before) > ROUNDING * max(abs(before), abs(after), ROUNDING)


def standing_of(moves: Iterable[Move]) -> Standing:
    """Where a drink stands by its moves."""
    moves = tuple(moves)
    if any(move.is_out and not move.was_out for move in moves):
        return Standing.LEFT
    if any(move.is_out for move in moves):
        return Standing.STILL_OUT
    return Standing.CAME_BACK if any(move.was_out for move in moves) else Standing.MOVED


def move_words(move: Move, style: NumberStyle = ENGLISH_STYLE) -> str:
    """*Acidity 0.70 → 0.83*; with more digits where the last one does not show that it moved."""
    reading = BY_KEY[move.reading]
    decimals = reading.decimals
    texts = [reading_number(reading.key, value, decimals, style) for value in (move.before, move.after)]
    while texts[0] == texts[1] and decimals < reading.decimals + 3:
        decimals += 1
        texts = [reading_number(reading.key, value, decimals, style) for value in (move.before, move.after)]
    unit = f" {reading.unit}" if reading.unit else ""
    return f"{reading.name} {texts[0]} → {texts[1]}{unit}"


def out_words(move: Move, style: NumberStyle = ENGLISH_STYLE) -> str:
    """*acidity over by 0.03*; empty in its band."""
    if move.aim is None or move.after is None or not move.is_out:
        return f"{BY_KEY[move.reading].name.lower()} not known" if move.is_out else ""
    is_over = move.after > move.aim.high
    by = move.after - move.aim.high if is_over else move.aim.low - move.after
    decimals = BY_KEY[move.reading].decimals
    number = format_number(by, decimals, style)
    if not number.strip("0.,"):
        number = f"less than {format_number(10.0**-decimals, decimals, style)}"
    return f"{BY_KEY[move.reading].name.lower()} {'over' if is_over else 'under'} by {number}"


def standing_words(drink: MovedDrink, style: NumberStyle = ENGLISH_STYLE) -> str:
    """*left its band: acidity over by 0.03*."""
    outs = [words for move in drink.moves if (words := out_words(move, style))]
    words = STANDING_WORDS[drink.standing]
    if drink.standing is Standing.MOVED and not any(move.aim is not None for move in drink.moves):
        words = "outside what its target names"
    return f"{words}: {', '.join(outs)}" if outs else words


def count_words(drinks: Iterable[MovedDrink]) -> str:
    """*7 drinks moved: 2 left their band, 1 came back*."""
    counts = dict.fromkeys(Standing, 0)
    for drink in drinks:
        counts[drink.standing] += 1
    whole = sum(counts.values())
    if not whole:
        return "No drink moved."
    said = [
        f"{counts[standing]} {words}"
        for standing, words in (
            (Standing.LEFT, "left their band" if counts[Standing.LEFT] != 1 else "left its band"),
            (Standing.STILL_OUT, "still out"),
            (Standing.CAME_BACK, "came back"),
        )
        if counts[standing]
    ]
    head = f"{whole:,} {'drink' if whole == 1 else 'drinks'} moved"
    return f"{head}: {', '.join(said)}." if said else f"{head}, all inside their band."


def drinks_resting_on(book: HouseBook, item_ids: Iterable[int]) -> list[int]:
    """The drinks whose readings some items can move: what takes them in, acts as them, or is adjusted to be like them,
    through all parts."""
    touched = _touched_items(book, item_ids)
    return sorted(build.id for build in book.builds.values() if build.is_drink and _takes_in(build, touched))


def _touched_items(book: HouseBook, item_ids: Iterable[int]) -> set[int]:
    """The items whose composition some items can change, themselves included."""
    makers: dict[int, list[int]] = {}
    for part in book.parts():
        for item_id in rests_on(book, part):
            makers.setdefault(item_id, []).append(part.id)
    touched, stack = set[int](), list(item_ids)
    while stack:
        item_id = stack.pop()
        if item_id not in touched:
            touched.add(item_id)
            for part_id in makers.get(item_id, ()):
                stack.extend(outputs_of(book.builds[part_id]))
    return touched


def _takes_in(build: Build, items: set[int]) -> bool:
    """Whether one of the steps that count takes one of some items in, or looks at it."""
    for step in build.steps:
        if step.left_out:
            continue
        if getattr(step, "item_id", 0) in items:
            return True
        looks_at = (*items_of(step), step.like_item_id) if isinstance(step, Adjust) else ()
        if not items.isdisjoint(looks_at):
            return True
    return False


# What would put it back


def wanted_back(drink: MovedDrink) -> tuple[str, ...]:
    """The readings that a pour should bring back: those that left their band, else all that are out of it."""
    left = tuple(move.reading for move in drink.moves if move.is_out and not move.was_out)
    return left or tuple(move.reading for move in drink.moves if move.is_out)


def shown_moves(drink: MovedDrink) -> tuple[Move, ...]:
    """The moves that show: those in or out of a band that moved by a fiftieth of a tolerance, and all that are out."""
    shown = tuple(move for move in drink.moves if move.is_out or move.was_out or move.share >= SHOWN_SHARE)
    return shown or drink.moves[:1]


def pour_words(name: str, mend: Mend, style: NumberStyle = ENGLISH_STYLE) -> str:
    """*lemon juice 22.5 → 20 ml*."""
    before = format_trimmed(mend.before.number, 2, style)
    return f"{name} {before} → {format_amount(mend.amount.number, mend.amount.unit, style)}"


def pour_effect(mend: Mend) -> str:
    """What else a pour does: nothing leaves its band, or what does."""
    if not mend.strains:
        return "all others stay where they are in their bands"
    names = " and ".join(BY_KEY[key].name.lower() for key in mend.strains)
    return f"but {names} would leave {'its band' if len(mend.strains) == 1 else 'their bands'}, or go farther out"


NO_SINGLE_POUR = "no single pour does it"


# What was corrected


def is_correction(before: object, after: object) -> bool:
    """Whether a changed row is a raw ingredient that is still there and whose figures differ."""
    if not isinstance(before, RawIngredient) or not isinstance(after, RawIngredient):
        return False
    return any(getattr(before, name) != getattr(after, name) for name in _FIGURES)


_FIGURES = (
    "composition", "density_g_per_ml", "strength_pct_vol", "co2_g_per_l", "bitterness", "strong_cation_mmol_per_100g",
    "prices", "today", "edible_yield", "edible_yield_basis", "kept_at", "drop_ml", "dash_ml", "piece_g",
    "other_acid_name", "form",
)  # fmt: skip


def correction_words(before: RawIngredient, after: RawIngredient, style: NumberStyle = ENGLISH_STYLE) -> str:
    """*Lemon juice: acids 5.0 → 6.0 g per 100 g*."""
    said = list(_corrections(before, after, style))
    return f"{after.name}: {', '.join(said) if said else 'changed'}"


def _corrections(before: RawIngredient, after: RawIngredient, style: NumberStyle) -> Iterator[str]:
    if before.today != after.today:
        was, now = (
            shift_words(raw.today, style) if raw.today else "as in the table" for raw in (before, after)
        )
        yield f"today {was} → {now}"
    for name, group in (("sugars", SUGARS), ("acids", ACIDS)):
        yield from _figure(name, _total(before, group), _total(after, group), 1, " g per 100 g", style)
    yield from _figure("strength", before.strength_pct_vol, after.strength_pct_vol, 1, " % vol", style)
    if before.strength_pct_vol == after.strength_pct_vol:
        yield from _figure(
            "ethanol", before.composition[ETHANOL], after.composition[ETHANOL], 1, " g per 100 g", style
        )
    named = {*SUGARS, *ACIDS, ETHANOL}
    if before.composition != after.composition:
        others = [
            COMPONENTS[index].replace("_", " ")
            for index, pair in enumerate(zip(before.composition, after.composition, strict=True))
            if index not in named and pair[0] != pair[1] and COMPONENTS[index] != "water"
        ]
        yield from others[:2]
    old, new = newest_price(before), newest_price(after)
    if (old and old[1]) != (new and new[1]):
        yield from _figure(
            "price", old[1].per_unit if old else None, new[1].per_unit if new else None, 2,
            f" per {new[1].unit}" if new else "", style,
        )  # fmt: skip
    for name, words, decimals, unit in (
        ("density_g_per_ml", "density", 3, " g/ml"),
        ("co2_g_per_l", "dissolved gas", 1, " g/l"),
        ("bitterness", "bitterness", 1, ""),
        ("edible_yield", "edible yield", 2, ""),
    ):
        yield from _figure(words, getattr(before, name), getattr(after, name), decimals, unit, style)


def _total(raw: RawIngredient, group: Iterable[int]) -> float | None:
    parts = [raw.composition[part] for part in group]
    known = [part for part in parts if part is not None]
    return sum(known) if known else None


def _figure(
    words: str, before: float | None, after: float | None, decimals: int, unit: str, style: NumberStyle
) -> Iterator[str]:
    if not has_moved(before, after):
        return
    texts = [reading_number(words, value, decimals, style) for value in (before, after)]
    while texts[0] == texts[1] and decimals < 6:
        decimals += 1
        texts = [reading_number(words, value, decimals, style) for value in (before, after)]
    yield f"{words} {texts[0]} → {texts[1]}{unit if after is not None else ''}"


def aims_of(book: HouseBook, build: Build) -> tuple[Aim, ...]:
    """The aims of the target of a drink; none where it has none."""
    target = book.targets.get(build.target_id) if build.target_id is not None else None
    return target.aims if target is not None else ()


def _is_out(aim: Aim, value: float | None) -> bool:
    return value is None or not aim.low <= value <= aim.high
