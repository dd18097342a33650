"""House files: the builds of a house that stands on the pantry, as JSON that a person can read and write."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from msgspec import structs

from washline.exchange import rows_to_model
from washline.exchange.checks import Known, check_house, check_own, check_vessel
from washline.exchange.draft import declared_outputs, keyed, no_check, read_builds
from washline.exchange.house_rows import HouseFile, HouseRow, OwnMeasureRow
from washline.exchange.json_rows import PathProblem, check_format, convert, read_object, rows, unknown_fields
from washline.exchange.kit_rows import IceRow, VesselRow
from washline.exchange.melts import Melt, parted, with_weighings
from washline.exchange.pantry import Pantry, read_pantry
from washline.exchange.rows import BuildRow
from washline.exchange.rows_to_model import Names
from washline.model.book import HouseBook
from washline.model.house import Settings, Shared, Swap
from washline.model.item import RawIngredient, Today
from washline.problem import UserError

FORMAT = "washline-house"
VERSION = 3
WHAT = "house file"


@dataclass(frozen=True, slots=True)
class HouseDraft:
    """What a house file says, on top of a pantry: good rows in the order of the file, and the problems."""

    house: HouseRow
    weighed: tuple[OwnMeasureRow, ...]
    ices: Mapping[str, IceRow]
    vessels: Mapping[str, VesselRow]
    builds: Mapping[str, BuildRow]
    melts: tuple[Melt, ...]
    problems: tuple[PathProblem, ...]


def whole_pantry(folder: Path) -> Pantry:
    """The pantry in a folder; raises ``UserError`` where a line of it has a problem."""
    pantry = read_pantry(folder)
    if pantry.problems:
        raise UserError(
            "The pantry cannot be read.",
            f"{pantry.problems[0]}.",
            f"Problems in all: {len(pantry.problems)}.",
        )
    return pantry


def stocked(pantry: Pantry, settings: Settings) -> HouseBook:
    """A house book with the pantry in it and no builds: ids 1, 2, 3 … in the order of the pantry's files, raw
    ingredients before targets."""
    raws = {number: structs.replace(raw, id=number) for number, raw in enumerate(pantry.raws, start=1)}
    targets = {
        number: structs.replace(target, id=number)
        for number, target in enumerate(pantry.targets, start=len(raws) + 1)
    }
    return HouseBook(
        settings=settings,
        raws=raws,
        targets=targets,
        glasses={glass.slug: glass for glass in pantry.glasses},
        methods={method.slug: method for method in pantry.methods},
        measures={measure.slug: measure for measure in pantry.measures},
        ices={ice.slug: ice for ice in pantry.ices},
        vessels={vessel.slug: vessel for vessel in pantry.vessels},
        top_id=len(raws) + len(targets),
    )


def read_house(data: bytes, pantry: Pantry) -> HouseDraft:
    """The draft of a house file. A row with a problem is left out and the problem listed with its path; raises
    ``UserError`` where it is no house file at all, or one of a newer version."""
    whole = read_object(data, WHAT)
    check_format(whole, FORMAT, VERSION, WHAT)
    problems: list[PathProblem] = []
    found, melts = parted(whole, problems)
    unknown_fields(found, HouseFile.__struct_fields__, problems)
    house = convert(found.get("house", {}), HouseRow, "$.house", problems)
    slugs = {raw.slug for raw in pantry.raws}
    items = frozenset({*slugs, *declared_outputs(found)})
    problems.extend(check_house("$.house", house, items) if house is not None else ())
    ices = keyed(found, "ices", IceRow, "slug", no_check, problems)
    vessels = keyed(found, "vessels", VesselRow, "slug", check_vessel, problems)
    weighed = [row for _, row in _weighed(found, slugs, problems)]
    builds = read_builds(found, _known(found, pantry, slugs, vessels), slugs, problems)
    return HouseDraft(
        house=house or HouseRow(house_name="House without a name"),
        weighed=tuple(weighed),
        ices=ices,
        vessels=vessels,
        builds=builds,
        melts=tuple(melt for melt in melts if melt.build in builds),
        problems=tuple(problems),
    )


def house_book(draft: HouseDraft, pantry: Pantry) -> HouseBook:
    """The house book of a draft: the pantry with the house's own weights, ice and vessels, then its builds, then what it
    weighed of its melting ice. Raises ``UserError`` where a weighing is of no chill on ice."""
    book = stocked(pantry, _settings(draft.house))
    book = replace(
        book,
        raws={key: _weighed_raw(raw, draft) for key, raw in book.raws.items()},
        ices={**book.ices, **{slug: rows_to_model.ice(row) for slug, row in draft.ices.items()}},
        vessels={
            **book.vessels,
            **{slug: rows_to_model.vessel(row, slug, row.name) for slug, row in draft.vessels.items()},
        },
    )
    names = Names(
        items={raw.slug: raw.id for raw in book.raws.values()},
        targets={target.name: target.id for target in book.targets.values()},
        glasses={slug: slug for slug in book.glasses},
        methods={slug: slug for slug in book.methods},
        vessels={slug: slug for slug in book.vessels},
    )
    book, made = rows_to_model.placed(book, list(draft.builds.values()), names, {})
    swaps = _swaps(draft.house, {**names.items, **made})
    book = book.with_settings(structs.replace(book.settings, swaps=swaps))
    return with_weighings(book, made, draft.melts)


def _settings(row: HouseRow) -> Settings:
    counting = {name: getattr(row.counting, name) for name in row.counting.__struct_fields__}
    own = {
        name: getattr(row, name)
        for name in row.__struct_fields__
        if name not in ("counting", "shared", "swaps")
    }
    shared = tuple(Shared(one.place, one.allergens) for one in row.shared)
    return Settings(shared=shared, **own, **counting)


def _swaps(row: HouseRow, items: Mapping[str, int]) -> tuple[Swap, ...]:
    return tuple(
        Swap(items[one.item], None if one.to is None else items[one.to], one.factor)
        for one in row.swaps
        if one.item in items and (one.to is None or one.to in items)
    )


def _weighed(
    found: Mapping[str, Any], slugs: set[str], problems: list[PathProblem]
) -> list[tuple[str, OwnMeasureRow]]:
    good = []
    for path, row in rows(found, "weighed", OwnMeasureRow, problems):
        noted = list(check_own(path, row))
        if row.slug not in slugs:
            noted.append(PathProblem(f"{path}.slug", f"The pantry has no “{row.slug}”."))
        problems.extend(noted)
        if not noted:
            good.append((path, row))
    return good


def _weighed_raw(raw: RawIngredient, draft: HouseDraft) -> RawIngredient:
    for row in draft.weighed:
        if row.slug == raw.slug:
            own = {name: getattr(row, name) for name in ("piece_g", "drop_ml", "dash_ml", "may_contain")}
            if row.today is not None:
                own["today"] = Today(**structs.asdict(row.today))
            return structs.replace(raw, **{name: value for name, value in own.items() if value is not None})
    return raw


def _known(
    found: Mapping[str, Any], pantry: Pantry, slugs: set[str], vessels: Mapping[str, VesselRow]
) -> Known:
    return Known(
        items=frozenset({*slugs, *declared_outputs(found)}),
        raws=slugs,
        glasses=frozenset(glass.slug for glass in pantry.glasses),
        methods=frozenset(method.slug for method in pantry.methods),
        vessels=frozenset({*(vessel.slug for vessel in pantry.vessels), *vessels}),
        targets=frozenset(target.name for target in pantry.targets),
        units=HouseBook(measures={measure.slug: measure for measure in pantry.measures}),
    )
