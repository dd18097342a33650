"""What stands in the glass: liquid, ice, layers and foam, how far it is from wash line and brim, in words and to scale."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite

from washline.engine.trace import Trace
from washline.engine.traced_ice import Layer
from washline.model.book import HouseBook
from washline.model.house import Glass as HouseGlass
from washline.model.item import Build
from washline.presentation.glass import Glass, glass_form
from washline.presentation.glass_foam import Foam, foam_of
from washline.presentation.glass_ice import ice_in_glass, served_ice_words
from washline.presentation.glass_layers import Floated, floated
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    NumberStyle,
    format_quantity,
)

OVER_FROM, UNDER_FROM = 0.05, 0.15
"""From these shares on a drink is overfull against its wash line, and underfull against the lower of the wash line and what
its glass usually holds; only against the wash line where somebody set one. Common practice, no source."""

AT_LINE_ML = 0.5
NOTHING_OPEN = "No drink or part is open."
A_PART = "{name} is a house-made part: it has no glass. Open a drink to see how it stands in its glass."
NO_GLASS = "No glass is chosen for {name}. Choose one below: its level is then drawn to scale."
EMPTY_GLASS = "Nothing is poured yet. Add a first line in the build."
NOT_KNOWN = "The level is not known, because a line cannot be computed: {why}"


class Fill(StrEnum):
    """How full a glass is."""

    RIGHT = "right"
    UNDER = "underfull"
    OVER_LINE = "overfull"
    OVER_BRIM = "over the brim"
    NOT_KNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Served:
    """What a trace says of the drink as it is handed over; ``None`` is not known. ``why`` is the reason."""

    length_ml: float | None
    length_served_ml: float | None
    chill_c: float | None
    mass_g: float | None
    wash_line_ml: float | None
    ice_left_g: float
    layers: Sequence[Layer] = ()
    why: str = ""


@dataclass(frozen=True, slots=True)
class Fact:
    """One line beside the glass: its name, its figure with unit, and what is to be said of it."""

    key: str
    name: str
    figure: str
    note: str = ""

    @property
    def spoken(self) -> str:
        """The line as it is read aloud."""
        return ", ".join(part for part in (f"{self.name} {self.figure}".strip(), self.note) if part)


@dataclass(frozen=True, slots=True)
class GlassLevel:
    """A glass drawn to scale with the words beside it. ``words`` say over or under and by how much."""

    drawn: Glass
    fill: Fill
    words: str
    facts: tuple[Fact, ...]
    layer_names: tuple[str, ...] = ()
    sinks: tuple[str, ...] = ()
    wash_label: str = ""
    brim_label: str = ""
    level_label: str = ""
    foam_label: str = ""

    @property
    def spoken(self) -> str:
        """All of it in sentences, for a screen reader."""
        return ". ".join(
            (self.words.rstrip("."), *(fact.spoken.rstrip(".") for fact in self.facts), *self.sinks)
        )


def served_of(trace: Trace) -> Served:
    """What a trace says of the glass."""
    result = trace.result
    return Served(
        length_ml=result.value("length"),
        length_served_ml=result.value("length_served"),
        chill_c=result.value("chill"),
        mass_g=result.value("mass"),
        wash_line_ml=trace.wash_line_ml,
        ice_left_g=trace.ice_left_g,
        layers=trace.layers,
        why="; ".join(problem.words for problem in trace.problems),
    )


def why_no_glass(book: HouseBook, build: Build | None) -> str:
    """What to say, and what to do first, where there is no glass to draw; empty where there is one."""
    if build is None:
        return NOTHING_OPEN
    if not build.is_drink:
        return A_PART.format(name=build.name)
    glass = book.glass_of(build)
    if glass is None or not glass.brim_ml > 0.0:
        return NO_GLASS.format(name=build.name)
    return ""


def glass_level(
    book: HouseBook, build: Build, served: Served, style: NumberStyle = ENGLISH_STYLE
) -> GlassLevel | None:
    """The glass of a drink as it is handed over; ``None`` where ``why_no_glass`` says why there is none."""
    glass = book.glass_of(build)
    if why_no_glass(book, build) or glass is None:
        return None
    liquid_ml = _known(served.length_ml)
    foam = foam_of(book, build, liquid_ml, style)
    floats = floated(book, build, served.layers, liquid_ml, _known(served.mass_g), style)
    drawn = Glass(
        form=glass_form(glass.slug),
        brim_ml=glass.brim_ml,
        liquid_ml=max(liquid_ml or 0.0, 0.0),
        wash_line_ml=served.wash_line_ml,
        ice=ice_in_glass(book, served_ice_words(book, build), served.ice_left_g),
        liquid_g_per_ml=_density(served),
        foam_ml=foam.ml if liquid_ml else 0.0,
        floats_ml=tuple(layer.ml for layer in floats if not layer.sinks),
    )
    fill, words = _verdict(drawn, foam, served, _usual_ml(build, glass), style)
    return GlassLevel(
        drawn=drawn,
        fill=fill,
        words=words,
        facts=(*_facts(book, build, drawn, foam, served, glass, style), *_layer_facts(floats, style)),
        layer_names=tuple(layer.name for layer in floats if not layer.sinks),
        sinks=tuple(layer.sinks for layer in floats if layer.sinks),
        wash_label=_label("wash line", served.wash_line_ml, style),
        brim_label=_label("brim", glass.brim_ml, style),
        level_label=format_quantity(liquid_ml, 0, "ml", style),
        foam_label=_label("foam", drawn.foam_ml, style) if drawn.foam_ml > 0.0 else "",
    )


def _known(number: float | None) -> float | None:
    return number if number is not None and isfinite(number) else None


def _density(served: Served) -> float:
    length, mass = _known(served.length_ml), _known(served.mass_g)
    return mass / length if length and mass and length > 0.0 and mass > 0.0 else 1.0


def _label(name: str, ml: float | None, style: NumberStyle) -> str:
    return "" if ml is None else f"{name} {format_quantity(ml, 0, 'ml', style)}"


def _verdict(
    drawn: Glass, foam: Foam, served: Served, usual_ml: float | None, style: NumberStyle
) -> tuple[Fill, str]:
    if drawn.liquid_ml <= 0.0 and not served.why and not _known(served.mass_g):
        return Fill.NOT_KNOWN, EMPTY_GLASS
    if _known(served.length_ml) is None:
        return Fill.NOT_KNOWN, NOT_KNOWN.format(why=served.why or "it has no volume")
    spilt = drawn.liquid_ml - drawn.room_ml
    beside = "beside its ice" if drawn.ice is not None else "to its brim"
    if spilt > AT_LINE_ML:
        return Fill.OVER_BRIM, f"Overfull: {_ml(spilt, style)} more than the glass holds {beside}."
    spilt += drawn.foam_ml
    if spilt > AT_LINE_ML:
        return (
            Fill.OVER_BRIM,
            f"Overfull with its foam: {_ml(spilt, style)} more than the glass holds {beside}.",
        )
    if drawn.wash_line_ml is None:
        return Fill.RIGHT, f"{_ml(-spilt, style)} below the brim; no wash line is known."
    is_foam = drawn.foam_ml > 0.0 and not foam.has_room
    filled = drawn.liquid_ml + (drawn.foam_ml if is_foam else 0.0)
    return _against_line(filled, drawn.wash_line_ml, usual_ml, " with its foam" if is_foam else "", style)


def _against_line(
    filled: float, line: float, usual_ml: float | None, with_foam: str, style: NumberStyle
) -> tuple[Fill, str]:
    above = filled - line
    if abs(above) <= AT_LINE_ML:
        return Fill.RIGHT, f"Right: at the wash line{with_foam}."
    if above > 0.0:
        fill = Fill.OVER_LINE if above > OVER_FROM * line else Fill.RIGHT
        return fill, f"{_told(fill)}: {_ml(above, style)} over the wash line{with_foam}."
    least = line if usual_ml is None else min(line, usual_ml)
    fill = Fill.UNDER if filled < (1.0 - UNDER_FROM) * least else Fill.RIGHT
    away = f"{_ml(-above, style)} under the wash line{with_foam}"
    if fill is Fill.UNDER and least < line:
        away += f", {_ml(least - filled, style)} under what this glass usually holds"
    return fill, f"{_told(fill)}: {away}."


def _told(fill: Fill) -> str:
    return str(fill.value).capitalize()


def _usual_ml(build: Build, glass: HouseGlass) -> float | None:
    """What the glass usually holds; ``None`` where somebody set a wash line."""
    is_set = build.wash_line_ml is not None or glass.wash_line_ml is not None
    return None if is_set else glass.usual_fill_ml


def _ml(number: float, style: NumberStyle) -> str:
    return format_quantity(number, 0, "ml", style)


def _facts(
    book: HouseBook,
    build: Build,
    drawn: Glass,
    foam: Foam,
    served: Served,
    glass: HouseGlass,
    style: NumberStyle,
) -> list[Fact]:
    at = format_quantity(served.chill_c, 1, "°C", style)
    facts = [
        Fact("length", "Liquid", format_quantity(served.length_ml, 0, "ml", style), "at 20 °C"),
        Fact("length_served", "As served", _as_served(served, style), f"at {at}"),
        Fact(
            "wash_line", "Wash line", format_quantity(drawn.wash_line_ml, 0, "ml", style), _whose(book, build)
        ),
        Fact("brim", "Brim", format_quantity(glass.brim_ml, 0, "ml", style), glass.name),
        Fact("room", "Room for liquid", format_quantity(drawn.room_ml, 0, "ml", style), _beside(drawn)),
        Fact("ice", "Ice left", _ice_figure(drawn, style), _ice_words(book, build, drawn, style)),
    ]
    if foam.ml > 0.0:
        facts.append(Fact("foam", "Foam", format_quantity(drawn.foam_ml, 0, "ml", style), foam.words))
    return facts


def _layer_facts(floats: Sequence[Floated], style: NumberStyle) -> list[Fact]:
    return [
        Fact(
            "layer",
            layer.name,
            format_quantity(layer.ml, 0, "ml", style),
            f"{'will not stay on top' if layer.sinks else 'floats'}, "
            f"{format_quantity(layer.density_g_per_ml, 3, 'g/ml', style)}",
        )
        for layer in floats
    ]


def _as_served(served: Served, style: NumberStyle) -> str:
    return format_quantity(served.length_served_ml, 0, "ml", style)


def _whose(book: HouseBook, build: Build) -> str:
    glass = book.glass_of(build)
    if build.wash_line_ml is not None:
        return "as set for this drink"
    if glass is not None and glass.wash_line_ml is not None:
        return "as set for the glass"
    return "as usual: a share of what the ice leaves of the brim"


def _beside(drawn: Glass) -> str:
    return "to the brim, beside the ice" if drawn.ice is not None else "to the brim"


def _ice_figure(drawn: Glass, style: NumberStyle) -> str:
    return format_quantity(drawn.ice.mass_g, 0, "g", style) if drawn.ice is not None else "none"


def _ice_words(book: HouseBook, build: Build, drawn: Glass, style: NumberStyle) -> str:
    if drawn.ice is None:
        return "no ice in the glass when it is served"
    under = format_quantity(drawn.submerged_ml(drawn.surface_mm), 0, "ml", style)
    words = served_ice_words(book, build) or "kind not said, drawn as cubes"
    return f"{words}; {under} of it under the liquid"
