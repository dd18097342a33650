"""The pressure of a drink that is carbonated: its level of gas, what holds it, and what it comes to where it is warmest."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from washline.chemistry.carbonation import volumes_from_g_per_l
from washline.engine.step_cautions import step_cautions
from washline.engine.trace import Trace
from washline.engine.traced_ice import GasTrace
from washline.model.book import HouseBook
from washline.model.step import Carbonate
from washline.presentation.cautions import DEFERRAL, caution
from washline.presentation.glass_level import Fact
from washline.presentation.keeping import NOT_TESTED, days_words, house_date_of
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNIT_SPACE,
    UNKNOWN,
    NumberStyle,
    format_number,
    format_quantity,
)

KEYS = ("pressure", "refermentation", "gas-asphyxiation")
"""The cautions that stand with a pressure."""

NEAR_RATING = 0.8
"""From this share of the rated pressure on it is said to be near: common practice, no source."""

_KPA_PER_BAR = 100.0


@dataclass(frozen=True, slots=True)
class Pressure:
    """One carbonation. ``share`` is the pressure at the warmest place as a share of the rated one, ``None`` where it is not
    known; ``words`` say where it stands, ``is_refused`` that nothing is dissolved."""

    step_id: int
    name: str
    facts: tuple[Fact, ...]
    share: float | None
    bar_words: str
    words: str
    is_refused: bool
    cautions: tuple[str, ...]

    @property
    def spoken(self) -> str:
        """All of it in sentences, for a screen reader."""
        facts = (fact.spoken for fact in self.facts)
        return ". ".join(words.rstrip(".") for words in (self.name, self.words, *facts, *self.cautions))


def pressures(trace: Trace, style: NumberStyle = ENGLISH_STYLE) -> tuple[Pressure, ...]:
    """Every carbonation of a build, in order; steps left out do not count."""
    steps = [step for step in trace.build.steps if isinstance(step, Carbonate) and not step.left_out]
    if not steps:
        return ()
    due = {one.key for one in step_cautions(trace)}
    problems = {problem.step_id: problem.words for problem in trace.problems}
    return tuple(
        pressure(
            trace.book,
            step,
            trace.step(step.id).gas,
            [*trace.step(step.id).missed, *_said(problems, step.id)],
            due,
            style,
        )
        for step in steps
    )


def _said(problems: dict[int, str], step_id: int) -> list[str]:
    return [problems[step_id]] if step_id in problems else []


def pressure(
    book: HouseBook,
    step: Carbonate,
    gas: GasTrace | None,
    refusals: Sequence[str],
    due: Iterable[str] = (),
    style: NumberStyle = ENGLISH_STYLE,
) -> Pressure:
    """One carbonation in words; ``refusals`` say why nothing is dissolved, ``due`` holds the keys of cautions."""
    vessel = book.vessels.get(step.vessel)
    name = vessel.name if vessel is not None else step.vessel or "no vessel chosen"
    keys = [key for key in KEYS if key == "pressure" or key in set(due)]
    told = (*(caution(key).bench for key in keys), DEFERRAL)
    if gas is None:
        words = refusals[0] if refusals else "Its pressure is not known."
        return Pressure(step.id, f"Carbonate in {name}", (), None, "", words, True, told)
    share = _share(gas)
    is_over = bool(refusals) or (share is not None and share > 1.0)
    return Pressure(
        step_id=step.id,
        name=f"Carbonate in {name}",
        facts=tuple(_facts(gas, style)),
        share=share,
        bar_words=_bar_words(gas, share, style),
        words=refusals[0] if refusals else _verdict(gas, share, style),
        is_refused=is_over,
        cautions=(_keep_cold(book, step, gas, style), *told),
    )


def _share(gas: GasTrace) -> float | None:
    if gas.warm_over_kpa is None or not gas.rated_kpa > 0.0:
        return None
    return gas.warm_over_kpa / gas.rated_kpa


def kpa_words(kpa: float | None, style: NumberStyle = ENGLISH_STYLE) -> str:
    """A pressure over the atmosphere: *190 kPa (1.9 bar)*."""
    if kpa is None:
        return UNKNOWN
    bar = format_quantity(kpa / _KPA_PER_BAR, 1, "bar", style)
    return f"{format_quantity(kpa, 0, 'kPa', style)} ({bar})"


def level_words(co2_g_per_l: float | None, style: NumberStyle = ENGLISH_STYLE) -> str:
    """A level of gas: *7.0 g/l (3.5 volumes)*."""
    if co2_g_per_l is None:
        return UNKNOWN
    volumes = format_number(float(volumes_from_g_per_l(co2_g_per_l)), 1, style)
    return f"{format_quantity(co2_g_per_l, 1, 'g/l', style)} ({volumes} volumes)"


def _facts(gas: GasTrace, style: NumberStyle) -> list[Fact]:
    at = format_quantity(gas.at_c, 0, "°C", style)
    warmest = format_quantity(gas.warmest_c, 0, "°C", style)
    facts = [
        Fact("level", "Level", level_words(gas.co2_g_per_l, style), "carbon dioxide in the drink"),
        Fact("needed", "Needed pressure", kpa_words(gas.needed_over_kpa, style), f"for that level at {at}"),
    ]
    if gas.over_kpa is not None:
        holds = level_words(gas.equilibrium_g_per_l, style)
        facts.append(Fact("set", "Set pressure", kpa_words(gas.over_kpa, style), f"holds {holds} at {at}"))
    facts.append(Fact("warm", f"At {warmest}", kpa_words(gas.warm_over_kpa, style), "the warmest place"))
    facts.append(Fact("rated", "Rated for", kpa_words(gas.rated_kpa, style), "all over the atmosphere"))
    return facts


def _bar_words(gas: GasTrace, share: float | None, style: NumberStyle) -> str:
    if share is None:
        return ""
    return f"{format_number(100.0 * share, 0, style)}{UNIT_SPACE}% of the rated pressure"


def _verdict(gas: GasTrace, share: float | None, style: NumberStyle) -> str:
    at = format_quantity(gas.warmest_c, 0, "°C", style)
    if share is None:
        return f"Not known whether the vessel holds it at {at}."
    if share > 1.0:
        over = kpa_words((share - 1.0) * gas.rated_kpa, style)
        return (
            f"Over the rating by {over} at {at}: lower the level, choose another vessel, or keep it colder."
        )
    if share >= NEAR_RATING:
        return f"Near the rating at {at}: keep it well below that."
    return f"Within the rating at {at}."


def _keep_cold(book: HouseBook, step: Carbonate, gas: GasTrace, style: NumberStyle) -> str:
    """Up to how warm it may stand, and until when."""
    at = format_quantity(gas.warmest_c, 0, "°C", style)
    days = house_date_of(book, step.build_id).days
    until = "no house date is set for it"
    if days is not None:
        until = f"for {days_words(days)} at most, a house date, {NOT_TESTED}"
    return f"Keep it cold, {until}, and never warmer than {at}: open slowly, away from the face, with eye protection."
