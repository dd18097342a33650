"""The readings of a build as JSON: full precision, stable keys, and never a number where nothing is known."""

from collections.abc import Iterable
from typing import Any

import numpy as np

from washline.chemistry.alcohol import standard_drink, units
from washline.cli.books import OpenBook
from washline.engine.contents import Contents
from washline.engine.spread import Spread
from washline.engine.stamp import engine_stamp
from washline.engine.state import UNKNOWN_ACID, UNKNOWN_COST, UNKNOWN_ETHANOL, UNKNOWN_SUGAR
from washline.engine.trace import Share, StepTrace, Trace
from washline.model.graph import raws_below
from washline.model.item import Build
from washline.model.reading import READINGS, Reading
from washline.model.step import Add, AnyStep, Garnish, Top
from washline.presentation.card_box import contains_box, unknown_names
from washline.presentation.card_credits import credits_owed
from washline.presentation.cautions import DEFERRAL, caution
from washline.presentation.row_words import item_name

VERSION = 1
FORMAT = "washline readings"


def readings_document(
    opened: OpenBook, build: Build, trace: Trace, spread: Spread, contents: Contents
) -> dict[str, Any]:
    """Everything that is computed of a build, as plain values for JSON."""
    book = opened.book
    box = contains_box(book, build, contents, "")
    return {
        "format": FORMAT,
        "version": VERSION,
        "engine": engine_stamp(),
        "book": {
            "house": book.settings.house_name,
            "file": str(opened.path) if opened.path is not None else None,
        },
        "build": {"name": build.name, "kind": build.kind.value, "glass": build.glass, "note": build.note},
        "readings": [_reading(one, trace, spread, book.settings.currency) for one in READINGS],
        "alcohol_units": _units(trace, book.settings.alcohol_units),
        "contributions": [_contribution(trace, step) for step in build.steps],
        "problems": [
            {"step_id": one.step_id, "words": one.words} for one in trace.result.problems
        ],
        "causes_of_spread": [cause.words for cause in spread.causes],
        "allergens": [
            {"key": one.key, "word": one.word, "source": one.source} for one in box.contained
        ],
        "allergens_note": box.contained_text,
        "unknown": list(unknown_names(book, build, contents)),
        "unknown_note": box.unknown_text,
        "cautions": [_caution(book.raws[ids[0]].name if ids else "", key, one.sources)
                     for (key, ids), one in zip(contents.cautions, box.cautions, strict=True)],
        "deferral": DEFERRAL,
        "cost": _cost(trace, book.settings.currency),
        "credits": list(credits_owed(book.raws[raw_id].source for raw_id in raws_below(book, build.id))),
    }  # fmt: skip


def number(value: float | None) -> float | None:
    """A number for JSON; ``None`` for what is not known or not finite."""
    return float(value) if value is not None and np.isfinite(value) else None


def _reading(reading: Reading, trace: Trace, spread: Spread, currency: str) -> dict[str, Any]:
    result = trace.result
    index = READINGS.index(reading)
    more = number(result.more_than(reading.key))
    has_spread = spread.has(reading.key)
    return {
        "key": reading.key,
        "name": reading.name,
        "value": number(result.value(reading.key)),
        "unit": reading.unit or (currency if reading.key == "cost" else "1"),
        "spread": {"up": number(spread.up[index]), "down": number(spread.down[index])}
        if has_spread
        else None,
        "is_at_least": more is None or more > 0.0,
        "may_be_higher_by": more,
        "is_outside_range": result.is_outside(reading.key),
        "reasons": list(result.reasons(reading.key)),
        "method": reading.definition,
    }


def _units(trace: Trace, country: str) -> dict[str, Any]:
    grams = trace.result.value("ethanol")
    return {
        "value": None if grams is None else number(float(units(grams, country))),
        "country": country,
        "grams_of_one_unit": standard_drink(country).grams,
    }


def _contribution(trace: Trace, step: AnyStep) -> dict[str, Any]:
    traced = trace.step(step.id)
    is_line = isinstance(step, Add | Top | Garnish)
    return {
        "step_id": step.id,
        "kind": type(step).__name__.lower(),
        "item": item_name(trace.book, step.item_id) if isinstance(step, Add | Top | Garnish) else None,
        "words": step.words,
        "is_left_out": step.left_out,
        "amount": _amount(step),
        "found_g": number(traced.found_g),
        "found_ml": number(traced.found_ml),
        "brings": _brings(traced) if is_line and not step.left_out else None,
        "is_on_glass": traced.is_on_glass,
        "missed": list(traced.missed),
    }


def _amount(step: AnyStep) -> dict[str, Any] | None:
    amount = getattr(step, "amount", None)
    if amount is None:
        return None
    return {"number": number(amount.number), "unit": amount.unit, "basis": amount.basis.value}


def _brings(traced: StepTrace) -> dict[str, Any]:
    """What of a line is in the glass in the end; each with how much more of it there may be."""
    share: Share = traced.share
    rows = share.rows
    return {
        "grams": number(share.grams),
        "sugars_g": number(share.sugars_g),
        "acids_g": number(share.acids_g),
        "ethanol_g": number(share.ethanol_g),
        "cost": number(share.cost),
        "matter_of_unknown_kind_g": {
            "may_be_sugars": number(rows[UNKNOWN_SUGAR]),
            "may_be_acids": number(rows[UNKNOWN_ACID]),
            "may_be_ethanol": number(rows[UNKNOWN_ETHANOL]),
            "has_no_price": number(rows[UNKNOWN_COST]),
        },
    }


def _caution(first: str, key: str, sources: Iterable[str]) -> dict[str, Any]:
    known = caution(key)
    return {
        "key": key,
        "title": known.title,
        "text": f"{known.bar} {DEFERRAL}",
        "bench_text": f"{known.bench} {DEFERRAL}",
        "sources": list(sources) or [first],
    }


def _cost(trace: Trace, currency: str) -> dict[str, Any]:
    more = number(trace.result.more_than("cost"))
    return {
        "value": number(trace.result.value("cost")),
        "currency": currency,
        "is_at_least": more is None or more > 0.0,
    }
