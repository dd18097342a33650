"""What is alive or raw in a vessel: juice and produce that nobody heated, ferments and yeast, and what ends them."""

from collections.abc import Iterator

from washline.model.book import HouseBook
from washline.model.graph import maker_of
from washline.model.item import BatchService, Build, RawIngredient
from washline.model.step import (
    Add,
    AnyStep,
    Blend,
    Dry,
    Ferment,
    Heat,
    Note,
    Reduce,
    Rest,
    Strain,
    Take,
    items_of,
)

COOKED_C = 63.0
"""Half an hour at 63 °C is the slow pasteurisation of dairies (from memory); below it nothing counts as heated."""
HEATED = (Heat, Reduce, Dry)
NOT_RAW = ("pasteur", "uht", "steril", "condensed", "evaporated")
PRODUCE = ("fruit", "vegetable")

_LIVE = ("yeast", "kombucha", "kefir", "unfiltered")
_CLOSED = ("bottle", "keg", "siphon", "swing-top", "swing top", "crown cap")
_CLOSED_SERVICES = (BatchService.CARBONATED, BatchService.TAP, BatchService.FRIDGE)


def is_cooked(step: AnyStep) -> bool:
    """Whether a step heats what is in the vessel so far that it is not raw: from ``COOKED_C`` on, or heated or reduced
    without a temperature."""
    if not isinstance(step, HEATED):
        return False
    high = step.temperature_high_c if step.temperature_high_c is not None else step.temperature_low_c
    return high >= COOKED_C if high is not None else not isinstance(step, Dry)


def is_fresh(raw: RawIngredient) -> bool:
    """Whether something poured was not heated as far as its name and note say."""
    words = f"{raw.name} {raw.note}".casefold()
    return raw.is_poured and not any(word in words for word in NOT_RAW)


def live_items(book: HouseBook, build: Build, before: int | None = None) -> tuple[int, ...]:
    """The items by which live yeast or raw juice is in a build's vessel, before a step or at the end; the build's own id
    stands for a ferment in it. Heat ends what was in before it, a filter does not."""
    found: dict[int, None] = {}
    produce: dict[int, None] = {}
    for step in build.steps:
        if step.left_out:
            continue
        if step.id == before:
            break
        if is_cooked(step):
            found.clear()
            produce.clear()
        if isinstance(step, Ferment):
            found[build.id] = None
        produce.update(dict.fromkeys(_produce(book, step)))
        if isinstance(step, Strain | Blend):
            found.update(produce)
        found.update((item_id, None) for item_id in items_of(step) if _is_live(book, item_id))
    return tuple(found)


def _produce(book: HouseBook, step: AnyStep) -> Iterator[int]:
    raw = book.raws.get(step.item_id) if isinstance(step, Add) else None
    if raw is not None and raw.category in PRODUCE:
        yield raw.id


def _is_live(book: HouseBook, item_id: int) -> bool:
    raw = book.raws.get(item_id)
    if raw is not None:
        is_named = any(word in raw.name.casefold() for word in _LIVE)
        return is_fresh(raw) and (raw.category == "juice-fresh" or is_named)
    maker = maker_of(book, item_id)
    return maker is not None and bool(live_items(book, maker))


def closes_a_bottle(step: AnyStep) -> bool:
    """Whether the words of a step say that it goes into something that is closed tight."""
    words = step.words.casefold()
    return isinstance(step, Rest | Note | Strain | Take) and any(word in words for word in _CLOSED)


def is_made_ahead_closed(build: Build) -> bool:
    """Whether a drink is made ahead and kept closed, not so cold that nothing works in it."""
    return build.batch is not None and build.batch.service in _CLOSED_SERVICES
