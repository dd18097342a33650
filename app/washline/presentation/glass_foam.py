"""The foam on a drink: of what foams and is shaken, and the head of what is fizzy."""

from dataclasses import dataclass

from washline.engine.contents import brought_raws
from washline.engine.items import foam_allowance_ml
from washline.model.book import HouseBook
from washline.model.house import Method, MethodKind
from washline.model.item import Build
from washline.model.step import Chill, items_of
from washline.quantity.formatting import ENGLISH_STYLE, UNIT_SPACE, NumberStyle, format_trimmed


@dataclass(frozen=True, slots=True)
class Foam:
    """The foam on a drink: how much, of what, and whether the wash line has left room for it."""

    ml: float
    words: str
    has_room: bool


def foam_of(
    book: HouseBook, build: Build, liquid_ml: float | None, style: NumberStyle = ENGLISH_STYLE
) -> Foam:
    """The foam on a drink: as set for it, else of what foams and is shaken, and the head of what is fizzy."""
    is_share = build.wash_line_ml is None and getattr(book.glass_of(build), "wash_line_ml", None) is None
    if build.foam_ml is not None:
        return Foam(build.foam_ml, "as set for this drink", is_share)
    settings, liquid = book.settings, liquid_ml or 0.0
    foaming = foaming_names(book, build)
    egg_ml = settings.egg_foam_pct / 100.0 * liquid if foaming else 0.0
    head_ml = foam_allowance_ml(book, build)
    is_fizzy = head_ml > 0.0
    words = []
    if foaming:
        share = format_trimmed(settings.egg_foam_pct, 1, style)
        words.append(f"{share}{UNIT_SPACE}% of the liquid: {' and '.join(foaming)}, shaken")
    if is_fizzy:
        words.append("left free for the head of the fizz")
    return Foam(egg_ml + head_ml, "; ".join(words), is_fizzy and not foaming)


def foaming_names(book: HouseBook, build: Build) -> tuple[str, ...]:
    """The lines that make foam: poured before something shakes them, and holding something that foams."""
    steps = [step for step in build.steps if not step.left_out]
    last = max((place for place, step in enumerate(steps) if _is_shaken(book, step)), default=-1)
    poured = (item_id for step in steps[: last + 1] for item_id in items_of(step))
    return tuple(dict.fromkeys(name_of(book, item_id) for item_id in poured if _foams(book, item_id)))


def _is_shaken(book: HouseBook, step: object) -> bool:
    method = book.methods.get(step.method) if isinstance(step, Chill) else None
    return method is not None and beats_air_in(method)


def beats_air_in(method: Method) -> bool:
    """Whether a method makes foam of what foams: it is shaken, whipped or blended."""
    words = f"{method.slug} {method.name}".casefold()
    return method.published == "shaken" or method.kind is MethodKind.ALL_IN or "shake" in words


def _foams(book: HouseBook, item_id: int) -> bool:
    return any(book.raws[raw_id].foams for raw_id in brought_raws(book, item_id))


def name_of(book: HouseBook, item_id: int) -> str:
    """The name of an item, or that it is gone."""
    item = book.item(item_id)
    return item.name if item is not None else "something that is gone"
