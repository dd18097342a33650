"""The card of a drink or a house-made part as data, in the order in which it is read; painting it is the window's."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from washline.engine.contents import Contents, brought_raws
from washline.engine.spread import Spread
from washline.engine.step_cautions import step_cautions
from washline.engine.trace import Trace
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.reading import BY_KEY
from washline.model.target import Target
from washline.presentation.card_box import ContainsBox, contains_box, on_card
from washline.presentation.card_credits import credits_owed
from washline.presentation.card_figures import CardFigure, Figures
from washline.presentation.card_pressure import pressure_block
from washline.presentation.card_words import ROUNDED, CardWords, Pour, ice_of, sentence
from washline.presentation.glass import Glass
from washline.presentation.glass_level import Fill, GlassLevel, glass_level, served_of
from washline.presentation.keeping import Keeping, keeping_of
from washline.presentation.radar import RadarAxis, RadarShape, for_paper
from washline.quantity.formatting import ENGLISH_STYLE, UNIT_SPACE, NumberStyle, format_trimmed
from washline.quantity.rounding import DECLARED_FROM

HOUSE_DATES = "House dates, not tested."
A_PART = "House-made part"
COMPUTED = "Figures are computed; measure your batch. Local codes come first."
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True)
class LastChange:
    """The last change of a drink: its number in the journal of its house book, and the day, as the house counts days."""

    number: int
    day: date


@dataclass(frozen=True, slots=True)
class ServedGlass:
    """The glass as it is drawn, with the words at its level."""

    glass: Glass
    volume: str
    ounces: str
    has_leaf: bool


@dataclass(frozen=True, slots=True)
class Card:
    """A card, top to bottom. What is an empty text or tuple is not there, and leaves no gap.

    ``level`` is the line of the glass: its brim and wash line. ``pressure`` is what is to be said of a bottle under
    pressure, ``wording`` which word the law that the house chose allows for a low strength.
    ``change`` are the two short lines at the top right. ``shape`` is the paper's radar. ``reasons`` say why a figure is
    missing or unsure. ``foot`` is what it is a card of, ``rounding`` how ounces are rounded, ``credits`` what is owed.
    ``keeping`` is the keeping of a house-made part; its lines are weighed in, and where a glass stands it says what it
    makes.
    """

    name: str
    house: str
    glass_name: str
    ice: str
    change: tuple[str, ...]
    pours: tuple[Pour, ...]
    served: ServedGlass | None
    shape: RadarShape | None
    method_note: str
    method: tuple[str, ...]
    garnishes: tuple[str, ...]
    box: ContainsBox
    tastes_like: str
    signs: tuple[tuple[str, str], ...]
    figures: tuple[CardFigure, ...]
    reasons: tuple[str, ...]
    keeps: tuple[str, ...]
    foot: str
    rounding: str
    credits: tuple[str, ...]
    computed: str = COMPUTED
    house_dates: str = HOUSE_DATES
    keeping: Keeping | None = None
    level: str = ""
    pressure: tuple[str, ...] = ()
    wording: str = ""

    @property
    def order_words(self) -> str:
        """What stands over the lines."""
        return "pour in this order" if self.keeping is None else "weigh in, in this order"


def card_content(
    trace: Trace,
    spread: Spread | None,
    contents: Contents,
    last_change: LastChange | None = None,
    style: NumberStyle = ENGLISH_STYLE,
) -> Card:
    """The card of a drink or a house-made part. ``last_change`` is ``None`` for a house book that has no journal."""
    book, build = trace.book, trace.build
    words, figures = CardWords(trace, style), Figures(trace, spread, style)
    pours = words.pours()
    ice, _ = ice_of(book, build)
    level = glass_level(book, build, served_of(trace), style)
    box = contains_box(book, build, contents, figures.alcohol(), step_cautions(trace))
    return Card(
        name=build.name,
        house=book.settings.house_name,
        glass_name=_glass_name(book, build),
        ice=_ice_words(book, build, ice) if build.is_drink else figures.makes(),
        change=_change(last_change),
        pours=pours,
        served=_served(level, figures, words),
        shape=_shape(trace),
        method_note=build.note.strip(),
        method=words.method(ice),
        garnishes=words.garnishes(),
        box=on_card(box, build),
        tastes_like=sentence(build.tastes_like),
        signs=tuple((sign.taste, sign.remedy) for sign in build.if_off if sign.taste or sign.remedy),
        figures=figures.row() if build.is_drink else figures.part_row(),
        reasons=(*figures.reasons(), *(level.sinks if level is not None else ())),
        keeps=words.keeps(),
        foot=_foot(book, build, last_change),
        rounding=_rounding(book, pours, style),
        credits=credits_owed(book.raws[raw_id].source for raw_id in brought_raws(book, build.id)),
        keeping=None if build.is_drink else keeping_of(book, build, trace.result, style),
        level=_level(level),
        pressure=pressure_block(trace, style),
        wording=figures.legal().text,
    )


def _glass_name(book: HouseBook, build: Build) -> str:
    glass = book.glass_of(build)
    if not build.is_drink:
        return A_PART
    return glass.name if glass is not None else "no glass chosen"


def _ice_words(book: HouseBook, build: Build, ice: str) -> str:
    return ice or ("no ice in the glass" if book.glass_of(build) is not None else "")


def day_words(day: date) -> str:
    """A day as papers write it: *21 Nov 2026*."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def _level(level: GlassLevel | None) -> str:
    """The brim and the wash line of the glass, the foam, and what is wrong with how full it is."""
    if level is None:
        return ""
    told = " · ".join(part for part in (level.brim_label, level.wash_label, level.foam_label) if part)
    if level.fill in (Fill.RIGHT, Fill.NOT_KNOWN):
        return told
    return f"{told}. {level.words}"


def _change(last: LastChange | None) -> tuple[str, ...]:
    return (f"change {last.number}", day_words(last.day)) if last is not None else ()


def _foot(book: HouseBook, build: Build, last: LastChange | None) -> str:
    target = _target(book, build)
    changed = f"change {last.number} of {day_words(last.day)}" if last is not None else ""
    aim = target.name if target is not None else "no target"
    parts = (book.settings.house_name, aim if build.is_drink else "", changed)
    return " · ".join(part for part in parts if part)


def _rounding(book: HouseBook, pours: Sequence[Pour], style: NumberStyle) -> str:
    told = f"1 oz = {format_trimmed(book.settings.oz_ml, 2, style)}{UNIT_SPACE}ml · oz in the glass rounded to a third"
    off = [f"{pour.name} {pour.off}" for pour in pours if pour.is_rounded]
    if off:
        limit = f"{format_trimmed(100 * DECLARED_FROM, 0, style)}{UNIT_SPACE}%"
        told += f" · {ROUNDED} oz off by more than {limit} of the ml: {', '.join(off)}"
    return told


def _target(book: HouseBook, build: Build) -> Target | None:
    return book.targets.get(build.target_id) if build.target_id is not None else None


def _served(level: GlassLevel | None, figures: Figures, words: CardWords) -> ServedGlass | None:
    """The glass with what is in it when it is handed over."""
    if level is None:
        return None
    volume, ounces = figures.volume()
    return ServedGlass(level.drawn, volume, ounces, words.has_leaf)


def _shape(trace: Trace) -> RadarShape | None:
    """The paper's radar: the bar's words, no figures; ``None`` without a target or with too few axes."""
    target = _target(trace.book, trace.build)
    if target is None:
        return None
    axes = tuple(
        RadarAxis(
            key=aim.reading,
            name=BY_KEY[aim.reading].name,
            value=trace.result.value(aim.reading),
            value_text="",
            state_text="",
            low=aim.low,
            ideal=aim.ideal,
            high=aim.high,
            house_step=BY_KEY[aim.reading].step,
            unit=BY_KEY[aim.reading].unit,
        )
        for aim in target.axes
    )
    shape = RadarShape(axes, drink_name=trace.build.name, is_empty=not trace.build.steps)
    return for_paper(shape) if shape.has_radar else None
