"""What a build file means in a house book: what is there already, what is new, and the doubts that a person settles."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import TypeVar

from msgspec import structs

from washline.exchange import model_to_rows, rows_to_model
from washline.exchange.checks import in_order, items_of, leftovers_of
from washline.exchange.doubts import Choice, Doubt, differences
from washline.exchange.draft import BuildDraft
from washline.exchange.kit_rows import GlassRow, MethodRow, VesselRow
from washline.exchange.model_to_rows import Keys
from washline.exchange.row_types import FileRow
from washline.exchange.rows import BuildRow, CarbonateRow, ChillRow, RawRow
from washline.exchange.rows_to_model import Names
from washline.model.book import HouseBook
from washline.model.item import Build, RawIngredient
from washline.model.step import Strain, Take
from washline.problem import UserError

R = TypeVar("R", bound=FileRow)
S = TypeVar("S", GlassRow, MethodRow, VesselRow)

_HEAT = (
    "kind", "published", "approach", "tau_s", "core", "ice_g_per_ml", "surface_water_pct", "vessel_j_per_k",
    "vessel_is_cold", "kept_at",
)  # fmt: skip
_COUNTING_OF_THE_GLASS = (
    "foam_allowance_ml", "egg_foam_pct", "glass_w_per_k", "glass_j_per_k", "rinse_film_ml", "scant_ml",
    "heavy_ml", "warmest_c",
)  # fmt: skip
_GLASS_VERSION = 3
"""The version of the format in which these fields came: an older file says nothing of them, and ours stand."""

_OWN_FIGURES: Mapping[str, str] = {
    "prices": "prices",
    "piece_g": "weights of a piece",
    "drop_ml": "volumes of a drop",
    "dash_ml": "volumes of a dash",
}
"""What a house weighs and pays itself: taken from a file where the house has none; its own prices always stand."""


@dataclass(frozen=True, slots=True)
class Resolution:
    """What a draft means in a house book, as far as ``choices`` settle it.

    ``reused`` and ``new`` name what is found and what is added; ``notes`` are sentences about what else a person should
    know: house settings that differ, prices taken over, rows of the file that were left out.
    """

    draft: BuildDraft
    choices: Mapping[str, Choice]
    doubts: tuple[Doubt, ...]
    reused: tuple[str, ...]
    new: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def open_doubts(self) -> tuple[Doubt, ...]:
        """The doubts that nobody has settled yet."""
        return tuple(doubt for doubt in self.doubts if doubt.choice is None)


@dataclass(frozen=True, slots=True)
class Adoption:
    """A house book with a build file put in, and the id of the file's main build there."""

    book: HouseBook
    build_id: int


def resolve(draft: BuildDraft, book: HouseBook, choices: Mapping[str, Choice] | None = None) -> Resolution:
    """What the draft means in the house book.

    A raw ingredient is matched by slug, else by name; a part by name and content; the same content is used as it
    stands. A price that differs raises no doubt, the house keeps its own; a price or a weight that the house has not
    got is taken from the file.
    Raises ``UserError`` where a row that the main build rests on is among the draft's problems.
    """
    return _Matching(draft, book, choices or {}).resolution()


def settled(resolution: Resolution, book: HouseBook, key: str, choice: Choice) -> Resolution:
    """The resolution after one more doubt is settled; what rests on it may raise or lose doubts."""
    return resolve(resolution.draft, book, {**resolution.choices, key: choice})


def adopt(resolution: Resolution, book: HouseBook) -> HouseBook:
    """The house book with the build file put in. Raises ``UserError`` while a doubt is open."""
    return adoption(resolution, book).book


def adoption(resolution: Resolution, book: HouseBook) -> Adoption:
    """As ``adopt``, with the id of the main build in it."""
    matching = _Matching(resolution.draft, book, resolution.choices)
    open_doubts = matching.resolution().open_doubts
    if open_doubts:
        more = f" There are {len(open_doubts)} such doubts." if len(open_doubts) > 1 else ""
        raise UserError(
            "The build file is not taken in yet.",
            open_doubts[0].words + more,
            "Say for each whether to keep ours or to take theirs as new.",
        )
    return matching.adoption()


@dataclass
class _Matching:
    """One pass over a draft against one house book, from what stands alone to what rests on it."""

    draft: BuildDraft
    book: HouseBook
    choices: Mapping[str, Choice]
    doubts: list[Doubt] = field(default_factory=list)
    reused: list[str] = field(default_factory=list)
    new: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    items: dict[str, int] = field(default_factory=dict)
    targets: dict[str, int] = field(default_factory=dict)
    glasses: dict[str, str] = field(default_factory=dict)
    methods: dict[str, str] = field(default_factory=dict)
    vessels: dict[str, str] = field(default_factory=dict)
    new_builds: list[BuildRow] = field(default_factory=list)
    called: dict[str, str] = field(default_factory=dict)
    taken: dict[str, list[str]] = field(default_factory=dict)
    grown: HouseBook = field(default_factory=HouseBook)

    def __post_init__(self) -> None:
        self.grown = self.book
        self.order = _complete_order(self.draft)
        self.builds = [self.draft.builds[key] for key in self.order]
        self._note_left_out()
        self._note_counting()
        self._match_raws()
        self._match_targets()
        self._match_glasses()
        self._match_methods()
        self._match_vessels()
        self._match_ices()
        self._match_measures()
        self._match_builds()

    def resolution(self) -> Resolution:
        """What was found."""
        return Resolution(
            draft=self.draft,
            choices=self.choices,
            doubts=tuple(self.doubts),
            reused=tuple(self.reused),
            new=tuple(self.new),
            notes=tuple(self.notes),
        )

    def adoption(self) -> Adoption:
        """The book with all that is new in it."""
        names = Names(self.items, self.targets, self.glasses, self.methods, self.vessels)
        book, made = rows_to_model.placed(self.grown, self.new_builds, names, self.called)
        return Adoption(book, {**self.items, **made}[self.draft.main])

    def _note_left_out(self) -> None:
        self.notes.extend(f"Left out of the file: {problem}" for problem in self.draft.problems)

    def _note_counting(self) -> None:
        ours = model_to_rows.counting_row(self.book.settings)
        theirs = self._with_ours(self.draft.counting, ours, _COUNTING_OF_THE_GLASS)
        for difference in differences(ours, theirs):
            self.notes.append(
                f"The file counts with {difference.what} {difference.theirs}, this house with {difference.ours}: "
                "readings may differ."
            )

    def _match_raws(self) -> None:
        by_slug = {raw.slug: raw for raw in self.book.raws.values()}
        by_name = {raw.name.casefold(): raw for raw in self.book.raws.values()}
        used = dict.fromkeys(item for row in self.builds for item in items_of(row) if item in self.draft.raws)
        for slug in used:
            row = self.draft.raws[slug]
            ours = by_slug.get(slug) or by_name.get(row.name.casefold())
            if ours is None:
                self._add_raw(row, slug, row.name)
            else:
                self._compare_raw(row, ours, by_slug)
        for what, whose in self.taken.items():
            self.notes.append(f"This house has no {what} of these; the file's are taken: {'; '.join(whose)}.")

    def _compare_raw(self, row: RawRow, ours: RawIngredient, by_slug: Mapping[str, RawIngredient]) -> None:
        own_row = model_to_rows.raw_row(ours, row.slug)
        row = self._with_ours(row, own_row, ("foams",))
        blank = [name for name in _OWN_FIGURES if not getattr(own_row, name) and getattr(row, name)]
        taken = {name: getattr(row, name) for name in blank}
        own_row = structs.replace(own_row, **{**taken, "prices": row.prices})
        if self._choice("Raw ingredient", row.slug, row.name, own_row, row) is Choice.THEIRS:
            names = {raw.name for raw in self.book.raws.values()}
            self._add_raw(row, _free(row.slug, by_slug, "{}-{}"), _free(row.name, names))
            return
        self.items[row.slug] = ours.id
        if blank and own_row == row:
            self._take_figures(row, ours, blank)

    def _take_figures(self, row: RawRow, ours: RawIngredient, names: list[str]) -> None:
        theirs = rows_to_model.raw_ingredient(row, ours.id, ours.slug, ours.name)
        taken = {name: getattr(theirs, name) for name in names}
        self.grown = self.grown.with_raw(structs.replace(ours, **taken))
        for name in names:
            self.taken.setdefault(_OWN_FIGURES[name], []).append(ours.name)

    def _add_raw(self, row: RawRow, slug: str, name: str) -> None:
        raw = rows_to_model.raw_ingredient(row, self.grown.top_id + 1, slug, name)
        self.grown = self.grown.with_raw(raw)
        self.items[row.slug] = raw.id
        self.new.append(name)

    def _match_targets(self) -> None:
        ours = {target.name: target for target in self.book.targets.values()}
        for name in _used(self.draft.targets, (row.target for row in self.builds)):
            row = self.draft.targets[name]
            found = ours.get(name)
            if found is not None:
                own_row = model_to_rows.target_row(found, name)
                if self._choice("Target", name, name, own_row, row) is not Choice.THEIRS:
                    self.targets[name] = found.id
                    continue
            new_name = _free(name, ours)
            target = rows_to_model.target(row, self.grown.top_id + 1, new_name)
            self.grown = self.grown.with_target(target)
            self.targets[name] = target.id
            self.new.append(new_name)

    def _match_glasses(self) -> None:
        used = _used(self.draft.glasses, (row.glass for row in self.builds))
        theirs = {slug: self.draft.glasses[slug] for slug in used}
        ours = {slug: model_to_rows.glass_row(glass) for slug, glass in self.book.glasses.items()}
        added = self._match_by_slug("Glass", theirs, ours, self.glasses)
        new = {slug: rows_to_model.glass(theirs[key], slug, name) for key, (slug, name) in added.items()}
        self.grown = replace(self.grown, glasses={**self.grown.glasses, **new})

    def _match_methods(self) -> None:
        theirs = {slug: self.draft.methods[slug] for slug in _used(self.draft.methods, _chills(self.builds))}
        ours = {slug: model_to_rows.method_row(method) for slug, method in self.book.methods.items()}
        theirs |= {
            slug: self._with_ours(theirs[slug], ours[slug], _HEAT) for slug in theirs.keys() & ours.keys()
        }
        added = self._match_by_slug("Method", theirs, ours, self.methods)
        new = {slug: rows_to_model.method(theirs[key], slug, name) for key, (slug, name) in added.items()}
        self.grown = replace(self.grown, methods={**self.grown.methods, **new})

    def _match_vessels(self) -> None:
        theirs = {
            slug: self.draft.vessels[slug] for slug in _used(self.draft.vessels, _vessels_of(self.builds))
        }
        ours = {slug: model_to_rows.vessel_row(vessel) for slug, vessel in self.book.vessels.items()}
        added = self._match_by_slug("Vessel", theirs, ours, self.vessels)
        new = {slug: rows_to_model.vessel(theirs[key], slug, name) for key, (slug, name) in added.items()}
        self.grown = replace(self.grown, vessels={**self.grown.vessels, **new})

    def _match_ices(self) -> None:
        """Steps name their ice in words, so a house keeps its own of that name; that it differs is said."""
        ours = {ice.name.casefold(): ice for ice in self.book.ices.values()}
        added = dict(self.grown.ices)
        for slug, row in self.draft.ices.items():
            own = self.book.ices.get(slug) or ours.get(row.name.casefold())
            if own is None:
                added[slug] = rows_to_model.ice(row)
                self.new.append(row.name)
            elif (own.pace, own.temperature_c) != (row.pace, row.temperature_c):
                self.notes.append(
                    f"{row.name} has a pace of {row.pace:g} at {row.temperature_c:g} °C in the file and of {own.pace:g} at "
                    f"{own.temperature_c:g} °C in this house, which is kept."
                )
        self.grown = replace(self.grown, ices=added)

    def _with_ours(self, theirs: R, ours: R, names: Iterable[str]) -> R:
        """What the file says, with our own figures where its version could not say them."""
        if self.draft.version >= _GLASS_VERSION:
            return theirs
        return structs.replace(theirs, **{name: getattr(ours, name) for name in names})

    def _match_by_slug(
        self, kind: str, theirs: Mapping[str, S], ours: Mapping[str, S], result: dict[str, str]
    ) -> dict[str, tuple[str, str]]:
        """Fills in which slug stands for each key; returns the slug and name of those that are to be added."""
        added: dict[str, tuple[str, str]] = {}
        for key, row in theirs.items():
            result[key] = key
            if key in ours and self._choice(kind, key, row.name, ours[key], row) is not Choice.THEIRS:
                continue
            result[key] = _free(key, ours, "{}-{}")
            added[key] = (result[key], _free(row.name, {one.name for one in ours.values()}))
            self.new.append(added[key][1])
        return added

    def _match_measures(self) -> None:
        """Units go by the slug of their measure, so a house keeps its own; that it differs is said."""
        added = dict(self.grown.measures)
        for slug, row in self.draft.measures.items():
            ours = self.book.measures.get(slug)
            if ours is None:
                added[slug] = rows_to_model.measure(row)
                self.new.append(row.name)
            elif (ours.value, ours.unit) != (row.value, row.unit):
                self.notes.append(
                    f"{row.name} holds {row.value:g} {row.unit} in the file and {ours.value:g} {ours.unit} in this "
                    "house, which is kept."
                )
        self.grown = replace(self.grown, measures=added)

    def _match_builds(self) -> None:
        by_name: dict[tuple[str, bool], list[Build]] = {}
        for build in self.book.builds.values():
            by_name.setdefault((build.name.casefold(), build.is_drink), []).append(build)
        names = {build.name for build in self.book.builds.values()}
        for row in self.builds:
            found = by_name.get((row.name.casefold(), row.kind == "drink"), [])
            same = next((build for build in found if self._own_row(build, row) == _comparable(row)), None)
            if same is not None:
                self._use(row, same)
            elif not found or self._doubt_build(row, found[0]) is Choice.THEIRS:
                self.called[row.key] = _free(row.name, names)
                self.new_builds.append(row)
                self.new.append(self.called[row.key])
            else:
                self._use(row, found[0])

    def _doubt_build(self, row: BuildRow, ours: Build) -> Choice | None:
        """Asks about a build of the same name but other content; ours can only stand in for it if it leaves over all
        that the file's other builds use."""
        kind = "Drink" if ours.is_drink else "House-made part"
        used = {item for other in self.builds for item in items_of(other)}
        needed = {leftover.key for leftover in leftovers_of(row)} & used
        is_enough = needed <= self._leftovers(row, ours).keys()
        choices = tuple(Choice) if is_enough else (Choice.THEIRS,)
        return self._choice(kind, row.key, row.name, self._own_row(ours, row), _comparable(row), choices)

    def _use(self, row: BuildRow, ours: Build) -> None:
        self.items[row.key] = ours.id
        self.items.update(self._leftovers(row, ours))
        self.reused.append(ours.name)

    def _leftovers(self, row: BuildRow, ours: Build) -> dict[str, int]:
        """The house's leftovers of a build by the keys of the file's, matched by name."""
        steps = (step for step in ours.steps if isinstance(step, Strain | Take))
        found = (self.book.leftovers.get(step.leftover_id or 0) for step in steps)
        by_name = {one.name.casefold(): one.id for one in found if one is not None}
        return {
            one.key: by_name[one.name.casefold()]
            for one in leftovers_of(row)
            if one.name.casefold() in by_name
        }

    def _own_row(self, ours: Build, row: BuildRow) -> BuildRow:
        """The house's build as a row in the file's own keys, so that the two can be compared field by field."""
        rows = (self.book.raws, self.book.builds, self.book.leftovers)
        items = {item.id: f"our {item.name}" for some in rows for item in some.values()}
        items |= {item_id: key for key, item_id in self.items.items()}
        items |= {item_id: key for key, item_id in self._leftovers(row, ours).items()}
        items[ours.id] = row.key
        keys = Keys(
            items=items,
            leftovers=self.book.leftovers,
            targets={target.id: f"our {target.name}" for target in self.book.targets.values()}
            | {target_id: name for name, target_id in self.targets.items()},
            glasses=_inverse(self.book.glasses, self.glasses),
            methods=_inverse(self.book.methods, self.methods),
            vessels=_inverse(self.book.vessels, self.vessels),
        )
        own_row = structs.replace(model_to_rows.build_row(ours, keys), name=row.name)
        return _comparable(own_row)

    def _choice(
        self,
        kind: str,
        key: str,
        name: str,
        ours: FileRow,
        theirs: FileRow,
        choices: tuple[Choice, ...] = tuple(Choice),
    ) -> Choice | None:
        """Ours where both say the same; else what was chosen, ``None`` while nobody has."""
        found = differences(ours, theirs)
        if not found:
            self.reused.append(name)
            return Choice.OURS
        doubt_key = f"{kind}: {key}"
        chosen = self.choices.get(doubt_key)
        choice = chosen if chosen in choices else None
        self.doubts.append(Doubt(doubt_key, kind, name, found, choices, choice))
        return choice


def _inverse(ours: Iterable[str], slugs: Mapping[str, str]) -> dict[str, str]:
    """The file's key for each of the house's slugs; what the file does not know gets a name that is no key of it."""
    return {slug: f"our {slug}" for slug in ours} | {slug: key for key, slug in slugs.items()}


def _complete_order(draft: BuildDraft) -> tuple[str, ...]:
    """The builds that the main one rests on, itself last. Raises ``UserError`` where a row among them is bad."""
    order = in_order(draft.builds, [draft.main])
    outputs = set(order) | {one.key for key in order for one in leftovers_of(draft.builds[key])}
    rows = [draft.builds[key] for key in order]
    missing = [
        item for row in rows for item in items_of(row) if item not in outputs and item not in draft.raws
    ]
    missing += [row.glass for row in rows if row.glass is not None and row.glass not in draft.glasses]
    missing += [row.target for row in rows if row.target is not None and row.target not in draft.targets]
    missing += [method for method in _chills(rows) if method not in draft.methods]
    missing += [vessel for vessel in _vessels_of(rows) if vessel not in draft.vessels]
    if not order or missing:
        problems = draft.problems
        more = f" There are {len(problems)} problems in the file." if len(problems) > 1 else ""
        cause = f"{problems[0]}{more}" if problems else f"“{missing[0]}” is not in the file."
        raise UserError("The build file cannot be taken in.", cause, "Ask for a new copy of the file.")
    return order


def _chills(rows: Iterable[BuildRow]) -> Iterator[str]:
    return (step.method for row in rows for step in row.steps if isinstance(step, ChillRow))


def _vessels_of(rows: Iterable[BuildRow]) -> Iterator[str]:
    for row in rows:
        yield from (step.vessel for step in row.steps if isinstance(step, CarbonateRow) and step.vessel)
        if row.batch is not None and row.batch.vessel:
            yield row.batch.vessel


def _used(theirs: Mapping[str, object], keys: Iterable[str | None]) -> list[str]:
    return [key for key in dict.fromkeys(keys) if key is not None and key in theirs]


def _comparable(row: BuildRow) -> BuildRow:
    """A build without what is the house's own business: which drink it was twisted from, when and how much of it was made,
    what it costs to make and what is asked for it."""
    return structs.replace(
        row, twist_of=None, makings=(), price=None, labour_min=None, waste_pct=None, batch=None
    )


def _free(wish: str, taken: Iterable[str], form: str = "{} ({})") -> str:
    names, number, name = set(taken), 1, wish
    while name in names:
        number += 1
        name = form.format(wish, number)
    return name
