"""Reads a build file into a draft: the good rows by key, and a list of what is wrong in the others."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar, cast

from washline.exchange.checks import (
    Known,
    check_build,
    check_measure,
    check_method,
    check_raw,
    check_rounds,
    check_target,
    check_vessel,
    leftovers_of,
    with_measures,
)
from washline.exchange.json_rows import (
    PathProblem,
    check_format,
    convert,
    read_object,
    rows,
    unknown_fields,
)
from washline.exchange.kit_rows import CountingRow, GlassRow, IceRow, MeasureRow, MethodRow, VesselRow
from washline.exchange.row_types import FileRow
from washline.exchange.rows import FORMAT, VERSION, AnyStepRow, BuildFile, BuildRow, RawRow, TargetRow

R = TypeVar("R", bound=FileRow)

WHAT = "build file"


@dataclass(frozen=True, slots=True)
class BuildDraft:
    """What a build file says, nothing looked up yet: good rows by key, in the order of the file, and the problems."""

    main: str
    version: int
    """The version of the format that it was written in: an older one is silent on what came later."""
    counting: CountingRow
    builds: Mapping[str, BuildRow]
    raws: Mapping[str, RawRow]
    targets: Mapping[str, TargetRow]
    glasses: Mapping[str, GlassRow]
    methods: Mapping[str, MethodRow]
    measures: Mapping[str, MeasureRow]
    ices: Mapping[str, IceRow]
    vessels: Mapping[str, VesselRow]
    problems: tuple[PathProblem, ...]


def read_build(data: bytes) -> BuildDraft:
    """The draft of a build file. A row with a problem is left out and the problem listed with its path.

    Raises ``UserError`` where it is no build file at all, or one of a newer version.
    """
    found = read_object(data, WHAT)
    check_format(found, FORMAT, VERSION, WHAT)
    problems: list[PathProblem] = []
    unknown_fields(found, BuildFile.__struct_fields__, problems)
    raws = keyed(found, "raws", RawRow, "slug", check_raw, problems)
    targets = keyed(found, "targets", TargetRow, "name", check_target, problems)
    glasses = keyed(found, "glasses", GlassRow, "slug", no_check, problems)
    methods = keyed(found, "methods", MethodRow, "slug", check_method, problems)
    measures = keyed(found, "measures", MeasureRow, "slug", check_measure, problems)
    ices = keyed(found, "ices", IceRow, "slug", no_check, problems)
    vessels = keyed(found, "vessels", VesselRow, "slug", check_vessel, problems)
    known = Known(
        items=frozenset({*_declared(found, "raws", "slug"), *declared_outputs(found)}),
        raws=frozenset(_declared(found, "raws", "slug")),
        glasses=frozenset(_declared(found, "glasses", "slug")),
        methods=frozenset(_declared(found, "methods", "slug")),
        vessels=frozenset(_declared(found, "vessels", "slug")),
        targets=frozenset(_declared(found, "targets", "name")),
        units=with_measures(measures.values()),
    )
    builds = read_builds(found, known, _declared(found, "raws", "slug"), problems)
    counting = convert(found.get("counting", {}), CountingRow, "$.counting", problems)
    return BuildDraft(
        main=_main(found, problems),
        version=found["version"],
        counting=counting or CountingRow(),
        builds=builds,
        raws=raws,
        targets=targets,
        glasses=glasses,
        methods=methods,
        measures=measures,
        ices=ices,
        vessels=vessels,
        problems=tuple(problems),
    )


def read_builds(
    found: Mapping[str, Any], known: Known, raws: Iterable[str], problems: list[PathProblem]
) -> Mapping[str, BuildRow]:
    """The good builds of a file by key, none of which is a key of ``raws``. Each step is read by itself, so that all that
    is wrong in a build is listed."""
    values = found.get("builds", [])
    if not isinstance(values, list):
        problems.append(PathProblem("$.builds", "Expected a list."))
        return {}
    builds: dict[str, BuildRow] = {}
    paths: dict[str, str] = {}
    taken = set(raws)
    for index, value in enumerate(values):
        path = f"$.builds[{index}]"
        row = _build(value, path, problems)
        if row is None:
            continue
        noted = [*_check_keys(path, row, taken), *check_build(path, row, known)]
        noted.extend(_check_parent(path, row, found))
        problems.extend(noted)
        if not noted:
            builds[row.key] = row
            paths[row.key] = path
    rounds = list(check_rounds(paths, builds))
    problems.extend(rounds)
    bad = {problem.path for problem in rounds}
    return {key: row for key, row in builds.items() if paths[key] not in bad}


def _build(value: Any, path: str, problems: list[PathProblem]) -> BuildRow | None:
    if not isinstance(value, dict) or not isinstance(value.get("steps", []), list):
        return convert(value, BuildRow, path, problems)
    head = convert({**value, "steps": []}, BuildRow, path, problems)
    kind = cast("type[AnyStepRow]", AnyStepRow)
    steps = [
        convert(step, kind, f"{path}.steps[{index}]", problems)
        for index, step in enumerate(value.get("steps", []))
    ]
    good: list[AnyStepRow] = [step for step in steps if step is not None]
    if head is None or len(good) < len(steps):
        return None
    return BuildRow(**{name: getattr(head, name) for name in head.__struct_fields__} | {"steps": tuple(good)})


def _check_keys(path: str, row: BuildRow, taken: set[str]) -> Iterator[PathProblem]:
    for key in (row.key, *(leftover.key for leftover in leftovers_of(row))):
        if key in taken:
            yield PathProblem(path, f"The key “{key}” stands twice in this file.")
        taken.add(key)


def _check_parent(path: str, row: BuildRow, found: Mapping[str, Any]) -> Iterator[PathProblem]:
    if row.twist_of is not None and row.twist_of not in _declared(found, "builds", "key"):
        yield PathProblem(f"{path}.twist_of", f"The drink “{row.twist_of}” is not in this file.")


def keyed(
    found: Mapping[str, Any],
    field: str,
    kind: type[R],
    key_field: str,
    check: Callable[[str, R], Iterator[PathProblem]],
    problems: list[PathProblem],
) -> Mapping[str, R]:
    """The good rows of a list by their key; a key that stands twice is a problem of the second row."""
    result: dict[str, R] = {}
    for path, row in rows(found, field, kind, problems):
        key = getattr(row, key_field)
        noted = list(check(path, row))
        if key in result:
            noted.append(PathProblem(f"{path}.{key_field}", f"“{key}” stands twice in this file."))
        problems.extend(noted)
        if not noted:
            result[key] = row
    return result


def no_check(path: str, row: FileRow) -> Iterator[PathProblem]:
    """Nothing more to look at than what its type says."""
    return iter(())


def _declared(found: Mapping[str, Any], field: str, key_field: str) -> Iterator[str]:
    """The keys of all rows of a list, good or not, so that one bad row is one problem and not one for each user."""
    values = found.get(field, [])
    for value in values if isinstance(values, list) else []:
        if isinstance(value, dict) and isinstance(value.get(key_field), str):
            yield value[key_field]


def declared_outputs(found: Mapping[str, Any]) -> Iterator[str]:
    """The keys of all builds and leftovers of a file, good or not."""
    yield from _declared(found, "builds", "key")
    values = found.get("builds", [])
    for value in values if isinstance(values, list) else []:
        steps = value.get("steps", []) if isinstance(value, dict) else []
        for step in steps if isinstance(steps, list) else []:
            leftover = step.get("leftover") if isinstance(step, dict) else None
            if isinstance(leftover, dict) and isinstance(leftover.get("key"), str):
                yield leftover["key"]


def _main(found: Mapping[str, Any], problems: list[PathProblem]) -> str:
    main = found.get("main")
    if not isinstance(main, str) or main not in _declared(found, "builds", "key"):
        problems.append(PathProblem("$.main", "Expected the key of a build in this file."))
        return ""
    return main
