"""Why *Bring to target* found nothing, or what stays out of reach, in words."""

from collections.abc import Sequence

from washline.engine.bringing.pours import is_plain
from washline.engine.bringing.request import GivesWay, Outcome, Request
from washline.engine.bringing.terms import Boundary
from washline.engine.program import Program
from washline.engine.state import Numbers
from washline.model.item import Build
from washline.model.reading import BY_KEY, READING_INDEX
from washline.model.step import Line

SMALLEST_ALCOHOL_G = 1e-9


def before_running(build: Build, program: Program) -> tuple[Outcome, str] | None:
    """Why a drink cannot be computed at all."""
    if not any(isinstance(step, Line) and not step.left_out for step in build.steps):
        return Outcome.NOTHING_POURED, "Nothing is poured yet: add a line first."
    if not program.is_whole:
        words = next(problem.words for problem in program.problems if not problem.is_on_glass)
        return Outcome.NOT_COMPUTED, f"The drink cannot be computed: {words}."
    return None


def without_pours(build: Build, request: Request) -> tuple[Outcome, str]:
    """Why no line may change."""
    plain = [step for step in build.steps if is_plain(step)]
    if plain and all(step.id in request.held for step in plain):
        return Outcome.ALL_HELD, "Every line is held: let one of them change."
    return (
        Outcome.ALL_HELD,
        "No line is a plain amount: shares and marks follow the others, and have none to follow.",
    )


def without_values(values: Numbers, request: Request) -> tuple[Outcome, str] | None:
    """Why the readings of the drink as it is, (READING_COUNT,), leave nothing to aim at."""
    length = float(values[READING_INDEX["length"]])
    if length != length:
        return Outcome.NO_LIQUID, "There is no liquid: pour something first."
    wanted = [aim.reading for aim in request.aims if not aim.is_gate]
    if not wanted:
        return Outcome.NO_AIMS, "The target wants no reading: give it an axis."
    counted = [key for key in wanted if request.weights.get(key, 1.0) > 0.0]
    if not counted:
        return Outcome.NO_AIMS, "Every axis has the weight 0: give one of them more."
    unknown = [key for key in counted if values[READING_INDEX[key]] != values[READING_INDEX[key]]]
    if len(unknown) == len(counted):
        return Outcome.NOT_COMPUTED, f"{_names(unknown)} cannot be computed for this drink."
    return None


def out_of_limits(boundaries: Sequence[Boundary], values: Numbers, more: Numbers) -> tuple[Outcome, str]:
    """Which limits even the best amounts break, by their readings (READING_COUNT, 1)."""
    broken = [one for one in boundaries if not bool(one.is_kept(values, more)[0])]
    if not broken:
        return (
            Outcome.OUT_OF_REACH,
            "No amounts in whole steps keep every limit: choose smaller steps or wider limits.",
        )
    said = " ".join(_broken(one, values, more) for one in broken)
    return Outcome.OUT_OF_REACH, f"Whatever is poured within these lines breaks a limit. {said}"


def _broken(boundary: Boundary, values: Numbers, more: Numbers) -> str:
    reading, index = BY_KEY[boundary.reading], READING_INDEX[boundary.reading]
    value, unknown = float(values[index, 0]), float(more[index, 0])
    if value != value:
        return f"{reading.name} cannot be computed."
    if boundary.counts_unknown and unknown > 0.0 and value <= boundary.high:
        return f"{reading.name} is at least {_figure(boundary.reading, value)}: what is unknown may bring it above."
    if value > boundary.high:
        return f"{reading.name} cannot come down to {_figure(boundary.reading, boundary.high)}."
    return f"{reading.name} cannot come up to {_figure(boundary.reading, boundary.low)}."


def gives_way(given: Sequence[GivesWay], unmoved: Sequence[str], now: Numbers) -> str:
    """Which readings stay outside their bands at best."""
    return " ".join(_stays(one, one.reading in unmoved, now) for one in given)


def _stays(given: GivesWay, is_unmoved: bool, now: Numbers) -> str:
    name = BY_KEY[given.reading].name
    ethanol = float(now[READING_INDEX["ethanol"]])
    if is_unmoved and given.reading == "strength" and not ethanol > SMALLEST_ALCOHOL_G:
        return "No line brings alcohol: strength stays at 0 % vol."
    if is_unmoved:
        return f"No line that may change moves {name.lower() if name != 'pH' else name}."
    side = "above" if given.value > given.edge else "below"
    value, edge = _figure(given.reading, given.value), _figure(given.reading, given.edge)
    if value == edge:
        return f"{name} gives way: it stays just {side} {edge}."
    return f"{name} gives way: it stays at {value}, {side} {edge}."


def _figure(key: str, value: float) -> str:
    reading = BY_KEY[key]
    figure = f"{value:.{reading.decimals}f}"
    return f"{figure} {reading.unit}".strip().replace("-", "−")


def _names(keys: Sequence[str]) -> str:
    return ", ".join(dict.fromkeys(BY_KEY[key].name for key in keys))
