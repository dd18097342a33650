"""The house book as a list: which rows, in what order, and what each says. A row is made when it is asked for."""

import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from washline.chemistry.components import ACIDS, ETHANOL, SUGARS
from washline.engine.result import Result
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.item import Build, KeptAt, RawIngredient
from washline.model.reading import BY_KEY
from washline.model.target import Aim, Target
from washline.presentation.book_rows import BookRow, Section
from washline.presentation.keeping import house_date_of
from washline.presentation.shape import Band, small_shape
from washline.presentation.strength_words import NEVER_NONE, is_trace, reading_number, strength_number
from washline.presentation.today import list_words
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_number

SortKey = Callable[[str], Any]
"""What names are ordered by: the collation of the person's language."""

DAYS_PER_YEAR = 365
KEPT_AT_WORDS = {
    KeptAt.FREEZER: "freezer",
    KeptAt.FRIDGE: "fridge",
    KeptAt.ROOM: "room",
    KeptAt.ICE_WELL: "ice well",
}


@dataclass(frozen=True, slots=True)
class Place:
    """A row before it is filled: its id, and 1 for a twist that stands under its parent."""

    key: int
    depth: int = 0


def folded(text: str) -> str:
    """A text for finding: without case and accents."""
    plain = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in plain if not unicodedata.combining(letter))


def short_name(name: str, parent_name: str) -> str:
    """A twist's name beside its parent's: without the parent's name that it begins with."""
    if name.startswith(parent_name):
        rest = name[len(parent_name) :].lstrip(" ,:–-")
        if rest:
            return rest
    return name


def days_words(days: int | None) -> str:
    """A house date in the width of a column: *7 d*, *1 y*; ``?`` where the house has set none."""
    if days is None:
        return "?"
    return f"{days // DAYS_PER_YEAR} y" if days and days % DAYS_PER_YEAR == 0 else f"{days} d"


class BookList:
    """Orders and fills the rows of one house book. ``sort_key`` orders names."""

    def __init__(self, workings: Workings, sort_key: SortKey, style: NumberStyle = ENGLISH_STYLE) -> None:
        self._workings = workings
        self._sort_key = sort_key
        self._style = style
        self._folded: dict[str, str] = {}
        self._keys: dict[str, Any] = {}

    @property
    def book(self) -> HouseBook:
        """The house book as it is."""
        return self._workings.book

    def count(self, section: Section) -> int:
        """How many rows a group has without any search."""
        return len(_rows(self.book, section))

    def places(self, section: Section, words: str = "") -> list[Place]:
        """The rows of a group in order: by name, a twist under its parent; with ``words``, those that match all of them."""
        rows = _rows(self.book, section)
        wanted = folded(words).split()
        if wanted:
            rows = {key: row for key, row in rows.items() if self._is_match(row, wanted)}
        ordered = sorted(rows.values(), key=self._order)
        return _with_twists(ordered) if section is Section.DRINKS else [Place(row.id) for row in ordered]

    def name(self, section: Section, key: int) -> str:
        """The name of a row, without filling it; empty for one that is gone."""
        row = _rows_of(self.book, section).get(key)
        return str(row.name) if row is not None else ""

    def column(self, section: Section) -> str:
        """What stands in the column at the right of a group."""
        if section is Section.PARTS:
            return "house date"
        if section is Section.RAWS:
            return f"price, {self.book.settings.currency}"
        return "drinks" if section is Section.TARGETS else ""

    def row(self, section: Section, place: Place) -> BookRow | None:
        """What a row says; ``None`` for one that is gone."""
        row = _rows_of(self.book, section).get(place.key)
        if isinstance(row, Build):
            return self._drink(row, place.depth) if row.is_drink else self._part(row)
        if isinstance(row, RawIngredient):
            return self._raw(row)
        return self._target(row) if isinstance(row, Target) else None

    def _order(self, row: Any) -> tuple[Any, int]:
        if row.name not in self._keys:
            self._keys[row.name] = self._sort_key(row.name)
        return self._keys[row.name], row.id

    def _is_match(self, row: Any, wanted: Iterable[str]) -> bool:
        text = f"{row.name} {getattr(row, 'category', '')}"
        if text not in self._folded:
            self._folded[text] = folded(text)
        return all(word in self._folded[text] for word in wanted)

    def _drink(self, build: Build, depth: int) -> BookRow:
        result = self._workings.result(build.id)
        target = self.book.targets.get(build.target_id) if build.target_id is not None else None
        aims = target.aims if target is not None else ()
        out = [words for aim in aims if (words := self._out(aim, result))]
        radii = _radii(target, result)
        parent = self.book.builds.get(build.parent_id) if build.parent_id is not None else None
        detail = self._detail(result) if build.steps else "nothing poured yet"
        detail += " · being tried" if build.is_tried else ""
        aside = f"{len(out)} out" if out else ""
        is_stale = self._workings.is_stale(build.id)
        kind = f"twist of {parent.name}" if parent is not None else "drink"
        against = f"against {target.name}" if target is not None else "no target chosen"
        state = (
            "out of band: " + ", ".join(out) if out else "in band" if target is not None and result else ""
        )
        return BookRow(
            key=build.id,
            name=short_name(build.name, parent.name) if parent is not None and depth else build.name,
            full_name=build.name,
            detail=detail,
            aside=aside,
            depth=depth,
            radii=radii,
            is_stale=is_stale,
            is_out=bool(out),
            tip="\n".join(line for line in (build.name, against, state, _stale_words(is_stale)) if line),
            spoken=", ".join(
                word for word in (build.name, kind, detail, state, _stale_words(is_stale)) if word
            ),
        )

    def _detail(self, result: Result | None) -> str:
        if result is None:
            return "not computed yet"
        strength = self._figure(result, "strength")
        length = self._figure(result, "length")
        return f"{strength} % · {length} ml"

    def _figure(self, result: Result, key: str) -> str:
        if key in NEVER_NONE and is_trace(result.value(key)):
            return strength_number(result.value(key), self._style, more=result.more_than(key))
        number = format_number(result.value(key), BY_KEY[key].decimals, self._style)
        return f"at least {number}" if result.value(key) is not None and result.more_than(key) > 0 else number

    def _out(self, aim: Aim, result: Result | None) -> str:
        value = result.value(aim.reading) if result is not None else None
        if value is None or aim.low <= value <= aim.high:
            return ""
        reading = BY_KEY[aim.reading]
        edge, word = (aim.high, "over") if value > aim.high else (aim.low, "under")
        number = reading_number(reading.key, value, reading.decimals, self._style)
        limit = format_number(edge, reading.decimals, self._style)
        return f"{reading.name.lower()} {number}, {word} {limit} {reading.unit}".rstrip()

    def _part(self, build: Build) -> BookRow:
        is_stale = self._workings.is_stale(build.id)
        days = house_date_of(self._workings.book, build.id).days
        date = days_words(days)
        keeping = f"house date {date}, not tested" if days is not None else "no house date set"
        where = f"kept in the {KEPT_AT_WORDS[build.kept_at]}"
        words = ["house-made part", keeping, where, _stale_words(is_stale)]
        return BookRow(
            key=build.id,
            name=build.name,
            full_name=build.name,
            aside=date,
            shares=None if is_stale else self._shares(build.id),
            is_stale=is_stale,
            tip="\n".join(word for word in (build.name, *words[1:]) if word),
            spoken=", ".join(word for word in (build.name, *words) if word),
        )

    def _shares(self, build_id: int) -> tuple[float, float, float] | None:
        columns = self._workings.columns_of(build_id)
        if columns is None:
            return None
        per_gram = columns[0].tolist()
        shares = (
            sum(per_gram[index] for index in SUGARS),
            sum(per_gram[index] for index in ACIDS),
            per_gram[ETHANOL],
        )
        return None if any(share != share for share in shares) else shares

    def _raw(self, raw: RawIngredient) -> BookRow:
        price = max(raw.prices, key=lambda paid: paid.date) if raw.prices else None
        aside = f"{format_number(price.per_unit, 2, self._style)} /{price.unit}" if price is not None else "?"
        category = raw.category.replace("-", " ")
        paid = f"{aside} in {self.book.settings.currency}" if price is not None else "price not known"
        today = list_words(raw.today, self._style) if raw.today is not None else ""
        return BookRow(
            key=raw.id,
            name=raw.name,
            full_name=raw.name,
            detail=category,
            aside=f"today · {aside}" if today else aside,
            tip="\n".join(word for word in (raw.name, category, today, paid) if word),
            spoken=", ".join(word for word in (raw.name, "raw ingredient", category, today, paid) if word),
        )

    def _target(self, target: Target) -> BookRow:
        count = sum(build.target_id == target.id for build in self.book.builds.values())
        axes = ", ".join(BY_KEY[aim.reading].name.lower() for aim in target.axes)
        used = f"{count} drink" if count == 1 else f"{count} drinks"
        return BookRow(
            key=target.id,
            name=target.name,
            full_name=target.name,
            aside=str(count) if count else "",
            tip=f"{target.name}\n{axes}\nused by {used}",
            spoken=f"{target.name}, target, used by {used}",
        )


def _rows_of(book: HouseBook, section: Section) -> Mapping[int, Any]:
    """Where the rows of a group are found by id; drinks and parts are in one place."""
    if section is Section.RAWS:
        return book.raws
    return book.targets if section is Section.TARGETS else book.builds


def _rows(book: HouseBook, section: Section) -> Mapping[int, Any]:
    if section in (Section.RAWS, Section.TARGETS):
        return _rows_of(book, section)
    is_drink = section is Section.DRINKS
    return {key: build for key, build in book.builds.items() if build.is_drink is is_drink}


def _with_twists(ordered: list[Build]) -> list[Place]:
    """Drinks in order, each followed by its twists and theirs; a twist whose parent is not listed stands by itself."""
    listed = {build.id for build in ordered}
    below: dict[int, list[Build]] = {}
    heads: list[Build] = []
    for build in ordered:
        if build.parent_id in listed and build.parent_id != build.id:
            below.setdefault(build.parent_id or 0, []).append(build)
        else:
            heads.append(build)
    places: list[Place] = []
    seen: set[int] = set()
    for head in heads:
        stack = [(head, 0)]
        while stack:
            build, depth = stack.pop()
            if build.id in seen:
                continue
            seen.add(build.id)
            places.append(Place(build.id, depth))
            stack.extend((twist, 1) for twist in reversed(below.get(build.id, ())))
    places.extend(Place(build.id) for build in ordered if build.id not in seen)
    return places


def _radii(target: Target | None, result: Result | None) -> tuple[float | None, ...]:
    if target is None:
        return ()
    bands = [Band(aim.low, aim.ideal, aim.high, BY_KEY[aim.reading].step) for aim in target.axes]
    values = [result.value(aim.reading) if result is not None else None for aim in target.axes]
    return small_shape(bands, values).radii


def _stale_words(is_stale: bool) -> str:
    return "being computed again" if is_stale else ""
