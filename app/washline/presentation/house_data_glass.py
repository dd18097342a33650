"""Glasses of the house drawn to scale with their own levels: brim, wash line, usual fill, and the usual ice.

A glass has no form of its own in the model: it is drawn by its key. A key that begins with that of a glass of the pantry
(``coupe-2``) has the form of that glass, so that the house's own glasses take a form with their key.
"""

from functools import cache

from washline.model.house import Glass as HouseGlass
from washline.model.house import Settings, wash_line_ml
from washline.presentation.glass import Glass, glass_form, known_glasses, read_ice
from washline.presentation.glass_level import Fact, Fill, GlassLevel
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_quantity

SMALLEST_ML = 1.0


def is_of_the_pantry(slug: str) -> bool:
    """Whether a glass has a form of its own."""
    return slug in known_glasses()


@cache
def forms() -> tuple[tuple[str, str], ...]:
    """The forms that there are: key and name."""
    return tuple((form, form.replace("v-stem", "V-shaped stem")) for form in _by_form())


@cache
def _by_form() -> dict[str, str]:
    found: dict[str, str] = {}
    for slug in known_glasses():
        found.setdefault(glass_form(slug).name, slug)
    return found


def slug_start(form: str) -> str:
    """What the key of a glass of that form begins with. Raises ``KeyError`` for a form that there is not."""
    return _by_form()[form]


def pictured(settings: Settings, glass: HouseGlass, style: NumberStyle = ENGLISH_STYLE) -> GlassLevel | None:
    """The glass with its usual ice, filled to its usual fill, else to the wash line; ``None`` where it holds nothing."""
    if not glass.brim_ml >= SMALLEST_ML:
        return None
    wash = wash_line_ml(settings, glass, None, None)
    wash = None if wash is None or wash <= 0.0 else min(wash, glass.brim_ml)
    ice = read_ice(glass.ice or ("cubes" if glass.ice_g > 0.0 else ""), glass.ice_g)
    level = glass.usual_fill_ml if glass.usual_fill_ml is not None else wash or 0.0
    drawn = Glass(glass_form(glass.slug), glass.brim_ml, level, wash, ice)

    def ml(value: float) -> str:
        return format_quantity(value, 0, "ml", style)

    facts = [Fact("brim", "Brim", ml(glass.brim_ml))]
    if wash is not None:
        whose = "set for this glass" if glass.wash_line_ml is not None else "by the house’s share"
        facts.append(Fact("wash", "Wash line", ml(wash), whose))
    if glass.usual_fill_ml is not None:
        facts.append(Fact("fill", "Usual fill", ml(glass.usual_fill_ml)))
    if ice is not None:
        room = f"it takes {ml(drawn.brim_ml - drawn.room_ml)} of the brim"
        facts.append(Fact("ice", "Usual ice", format_quantity(ice.mass_g, 0, "g", style), room))
    return GlassLevel(
        drawn=drawn,
        fill=Fill.RIGHT,
        words=glass.name,
        facts=tuple(facts),
        wash_label="" if wash is None else f"wash line {ml(wash)}",
        brim_label=f"brim {ml(glass.brim_ml)}",
        level_label="" if glass.usual_fill_ml is None else f"usual fill {ml(glass.usual_fill_ml)}",
    )
