"""Build files: one drink or house-made part with all it depends on, as JSON with a published schema.

Reading goes ``read_build`` → ``resolve`` → ``adopt``: a draft of what the file says, what it means in a house book with
the doubts to settle, the house book with it put in.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import msgspec

from washline.engine.units import measure_slug
from washline.exchange.doubts import Choice, Doubt
from washline.exchange.draft import BuildDraft, read_build
from washline.exchange.model_to_rows import (
    Keys,
    build_row,
    counting_row,
    glass_row,
    ice_row,
    measure_row,
    method_row,
    raw_row,
    target_row,
    vessel_row,
)
from washline.exchange.owed import credits_for
from washline.exchange.resolution import (
    Adoption,
    Resolution,
    adopt,
    adoption,
    resolve,
    settled,
)
from washline.exchange.rows import FORMAT, VERSION, BuildFile
from washline.exchange.written import written
from washline.model.book import HouseBook
from washline.model.graph import maker_of
from washline.model.item import Build, Leftover, Making
from washline.model.step import Adjust, BarStrain, Carbonate, Chill, Line, Strain, Take, items_of
from washline.problem import UserError

__all__ = [
    "Adoption",
    "BuildDraft",
    "Choice",
    "Doubt",
    "Resolution",
    "adopt",
    "adoption",
    "read_build",
    "resolve",
    "schema",
    "schema_bytes",
    "settled",
    "write_build",
]


def write_build(book: HouseBook, build_id: int) -> bytes:
    """The build file of a drink or part: the same bytes for the same content, whatever the ids.

    Raises ``UserError`` where the build is gone, one of its lines leads nowhere, or a number in it is not finite.
    """
    if build_id not in book.builds:
        raise UserError("This build cannot be written.", "It is not in the house book any more.")
    return written(_document(book, build_id), book.builds[build_id].name)


def schema() -> dict[str, Any]:
    """The JSON Schema of a build file, from the types that read and write it."""
    rows = msgspec.json.schema(BuildFile)
    head = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:washline:build:{VERSION}",
        "title": f"Washline build file, version {VERSION}",
    }
    tidied: dict[str, Any] = _tidied({**head, **rows})
    return tidied


def schema_bytes() -> bytes:
    """The schema as the file that is published."""
    return msgspec.json.format(msgspec.json.encode(schema()), indent=2) + b"\n"


def _document(book: HouseBook, build_id: int) -> BuildFile:
    builds = [book.builds[member] for member in _closure(book, build_id)]
    items = _items(book, builds)
    raws = [book.raws[item_id] for item_id in items if item_id in book.raws]
    targets = _used(book.targets, (build.target_id for build in builds))
    keys = Keys(
        items=_item_keys(book, builds, raws_first=[raw.id for raw in raws]),
        leftovers=book.leftovers,
        targets=_unique((row.id, row.name) for row in targets),
        glasses={},
        methods={},
        makings=_makings(book),
    )
    return BuildFile(
        format=FORMAT,
        version=VERSION,
        main=keys.items[build_id],
        counting=counting_row(book.settings),
        builds=tuple(build_row(build, keys) for build in builds),
        raws=tuple(raw_row(raw, keys.items[raw.id]) for raw in raws),
        targets=tuple(target_row(row, keys.targets[row.id]) for row in targets),
        glasses=tuple(glass_row(row) for row in _used(book.glasses, (build.glass for build in builds))),
        methods=tuple(method_row(row) for row in _used(book.methods, _methods(builds))),
        measures=tuple(measure_row(row) for row in _used(book.measures, _measures(book, builds))),
        ices=tuple(ice_row(row) for row in _used(book.ices, _ices(book, builds))),
        vessels=tuple(vessel_row(row) for row in _used(book.vessels, _vessels(builds))),
        credits=credits_for(raw.source for raw in raws),
    )


def _closure(book: HouseBook, build_id: int) -> list[int]:
    """The builds that a build rests on, itself last; lines left out count here, for they are written too."""
    done: dict[int, None] = {}
    seen: set[int] = set()
    stack = [(build_id, False)]
    while stack:
        current, is_ready = stack.pop()
        if is_ready:
            done[current] = None
        elif current not in seen:
            seen.add(current)
            stack.append((current, True))
            makers = (maker_of(book, item_id) for item_id in _items(book, [book.builds[current]]))
            stack.extend((maker.id, False) for maker in reversed([one for one in makers if one is not None]))
    return list(done)


def _items(book: HouseBook, builds: Iterable[Build]) -> tuple[int, ...]:
    """The items that the builds name: what they take in, what they are adjusted to be like, and what they act as."""
    return tuple(dict.fromkeys(item_id for build in builds for item_id in _named(book, build)))


def _named(book: HouseBook, build: Build) -> Iterator[int]:
    for step in build.steps:
        yield from items_of(step)
        if isinstance(step, Adjust) and step.like_item_id is not None:
            yield step.like_item_id
    acted = (build.acts_as_id, *(leftover.acts_as_id for leftover in _leftovers(book, build)))
    yield from (item_id for item_id in acted if item_id is not None)


def _makings(book: HouseBook) -> Mapping[int, list[Making]]:
    """The makings of each build in the order of their dates."""
    result: dict[int, list[Making]] = {}
    for making in sorted(book.makings.values(), key=lambda one: (one.date, one.id)):
        result.setdefault(making.build_id, []).append(making)
    return result


def _item_keys(book: HouseBook, builds: list[Build], raws_first: list[int]) -> Mapping[int, str]:
    """A key for each raw ingredient (its slug), build and leftover (from their names)."""
    wishes = [(item_id, book.raws[item_id].slug or _slug(book.raws[item_id].name)) for item_id in raws_first]
    for build in builds:
        wishes.append((build.id, _slug(build.name)))
        wishes.extend((leftover.id, _slug(leftover.name)) for leftover in _leftovers(book, build))
    return _unique(wishes)


def _leftovers(book: HouseBook, build: Build) -> Iterator[Leftover]:
    seen: set[int] = set()
    steps = (step for step in build.steps if isinstance(step, Strain | Take))
    for leftover_id in (step.leftover_id for step in steps if step.leftover_id is not None):
        if leftover_id in seen:
            cause = "Two of its steps leave over the same item."
            raise UserError(f"{build.name} cannot be written.", cause, "Choose another item for one of them.")
        seen.add(leftover_id)
        if leftover_id in book.leftovers:
            yield book.leftovers[leftover_id]


def _unique(wishes: Iterable[tuple[int, str]]) -> Mapping[int, str]:
    result: dict[int, str] = {}
    taken: set[str] = set()
    for item_id, wish in wishes:
        key, number = wish, 1
        while key in taken:
            number += 1
            key = f"{wish}-{number}"
        taken.add(key)
        result[item_id] = key
    return result


def _slug(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii").lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "item"


def _used(rows: Mapping[Any, Any], keys: Iterable[Any]) -> list[Any]:
    return [rows[key] for key in dict.fromkeys(keys) if key in rows]


def _methods(builds: Iterable[Build]) -> Iterator[str]:
    return (step.method for build in builds for step in build.steps if isinstance(step, Chill))


def _ices(book: HouseBook, builds: Iterable[Build]) -> Iterator[str]:
    """The kinds of ice that the builds, their glasses and their methods mean with their words."""
    for words in _ice_words(book, builds):
        ice = book.ice_named(words)
        if ice is not None:
            yield ice.slug


def _ice_words(book: HouseBook, builds: Iterable[Build]) -> Iterator[str]:
    for build in builds:
        yield build.ice or ""
        glass = book.glass_of(build)
        yield glass.ice if glass is not None else ""
        for step in build.steps:
            if isinstance(step, Chill):
                yield step.ice
                yield book.methods[step.method].ice if step.method in book.methods else ""
            elif isinstance(step, BarStrain):
                yield step.fresh_ice


def _vessels(builds: Iterable[Build]) -> Iterator[str]:
    for build in builds:
        yield from (step.vessel for step in build.steps if isinstance(step, Carbonate))
        if build.batch is not None:
            yield build.batch.vessel


def _measures(book: HouseBook, builds: Iterable[Build]) -> Iterator[str]:
    """The measures that say how much the units of the lines hold; which kind of drop falls is the liquid's matter."""
    for build in builds:
        for step in build.steps:
            if isinstance(step, Line | Take):
                unit = step.amount.unit
                yield from (slug for slug in book.measures if unit == "drop" and slug.startswith("drop-"))
                yield measure_slug(book, unit) or ""


def _tidied(value: Any) -> Any:
    """A schema with the names of the domain and its descriptions on one line."""
    if isinstance(value, dict):
        return {re.sub(r"Row$", "", key): _tidied(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_tidied(inner) for inner in value]
    if isinstance(value, str):
        return re.sub(r"Row$", "", " ".join(value.split()))
    return value
