"""What a house weighed at its chills: written at the step in a house file, a weighing with all its conditions in a book."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from msgspec import structs

from washline.engine.workings import Workings
from washline.exchange.checks import is_date
from washline.exchange.house_rows import MeltRow
from washline.exchange.json_rows import PathProblem, convert
from washline.model.book import HouseBook
from washline.model.house import Weighing
from washline.model.step import Chill
from washline.problem import UserError

FIELD = "weighed"


@dataclass(frozen=True, slots=True)
class Melt:
    """A weighing as a file says it: of which build, by key, and of which of its steps, the first being 1."""

    path: str
    build: str
    step: int
    row: MeltRow


def parted(
    found: Mapping[str, Any], problems: list[PathProblem]
) -> tuple[Mapping[str, Any], tuple[Melt, ...]]:
    """The object of a file without what its chills weighed, and that; what is wrong in it is noted and left out."""
    values = found.get("builds", [])
    if not isinstance(values, list):
        return found, ()
    melts: list[Melt] = []
    builds = [_without(build, f"$.builds[{index}]", melts, problems) for index, build in enumerate(values)]
    return {**found, "builds": builds}, tuple(melts)


def with_weighings(book: HouseBook, builds: Mapping[str, int], melts: Sequence[Melt]) -> HouseBook:
    """The book with the weighings; ``builds`` leads from keys to ids. What stood against one another before each chill is
    computed from the book.

    Raises ``UserError`` where a step is no chill on ice, or what it is chilled on is no ice of the house.
    """
    if not melts:
        return book
    workings = Workings(book)
    weighings = [_weighing(book, workings, builds, melt) for melt in melts]
    for weighing in weighings:
        book = book.with_weighing(structs.replace(weighing, id=book.top_id + 1))
    return book


def _without(build: Any, path: str, melts: list[Melt], problems: list[PathProblem]) -> Any:
    steps = build.get("steps") if isinstance(build, dict) else None
    if not isinstance(steps, list):
        return build
    for index, step in enumerate(steps):
        if _is_weighed(step):
            melts.extend(
                _melts(step[FIELD], f"{path}.steps[{index}].{FIELD}", build.get("key"), index + 1, problems)
            )
    plain = [
        {name: value for name, value in step.items() if name != FIELD} if _is_weighed(step) else step
        for step in steps
    ]
    return {**build, "steps": plain}


def _is_weighed(step: Any) -> bool:
    return isinstance(step, dict) and step.get("step") == "chill" and FIELD in step


def _melts(value: Any, path: str, build: Any, step: int, problems: list[PathProblem]) -> Iterator[Melt]:
    """One weighing, or a list of them."""
    several = isinstance(value, list)
    for index, one in enumerate(value if several else [value]):
        place = f"{path}[{index}]" if several else path
        row = convert(one, MeltRow, place, problems)
        if row is None:
            continue
        if not is_date(row.date):
            problems.append(
                PathProblem(f"{place}.date", f"Expected a date like 2026-11-21, found “{row.date}”.")
            )
        elif isinstance(build, str):
            yield Melt(place, build, step, row)


def _weighing(book: HouseBook, workings: Workings, builds: Mapping[str, int], melt: Melt) -> Weighing:
    build_id = builds[melt.build]
    step = book.builds[build_id].steps[melt.step - 1]
    assert isinstance(step, Chill)
    method = book.methods[step.method]
    ice = book.ices.get(melt.row.ice) if melt.row.ice else book.ice_named(step.ice or method.ice)
    start = workings.chill_start(build_id, step.id)
    if ice is None or start is None:
        cause = (
            "It is not chilled on an ice of the house." if ice is None else "That chill cannot be computed."
        )
        raise UserError(f"The weighing at {melt.path} cannot be read.", cause)
    return Weighing(
        id=0,
        method=method.slug,
        ice=ice.slug,
        date=melt.row.date,
        build_id=build_id,
        step_id=step.id,
        composition=start.composition,
        liquid_c=start.liquid_c,
        ice_g=start.ice_g,
        ice_c=start.ice_c,
        surface_water_g=start.surface_water_g,
        seconds=start.seconds,
        vessel_j_per_k=start.vessel_j_per_k,
        vessel_c=start.vessel_c,
        melted_g=melt.row.melted_g,
        note=melt.row.note,
    )
