"""The readings of a build as JSON: full precision, stable keys, and never a number where nothing is known."""

from typing import Any

import numpy as np

from washline.chemistry.alcohol import standard_drink, units, us_proof
from washline.cli.books import OpenBook
from washline.engine.contents import Contents, Handling, brought_raws
from washline.engine.spread import Spread
from washline.engine.stamp import engine_stamp
from washline.engine.state import UNKNOWN_ACID, UNKNOWN_COST, UNKNOWN_ETHANOL, UNKNOWN_SUGAR
from washline.engine.step_cautions import StepCaution, step_cautions
from washline.engine.trace import Share, StepTrace, Trace
from washline.model.book import HouseBook
from washline.model.graph import inputs_of
from washline.model.item import Build
from washline.model.reading import READINGS, Reading
from washline.model.step import AnyStep, Line
from washline.presentation.card_box import CautionLine, contains_box, unknown_names
from washline.presentation.card_credits import credits_owed
from washline.presentation.card_pressure import pressure_block
from washline.presentation.cautions import DEFERRAL, caution, detail_words
from washline.presentation.contains import allergen_word
from washline.presentation.keeping import HouseDate, Keeping, house_date_of, keeping_of
from washline.presentation.row_words import item_name
from washline.presentation.strength_words import (
    CHECK_LOCAL_RULE,
    MEASURE_FIRST,
    NEVER_NONE,
    LegalRow,
    highest_strength,
    legal_words,
    strength_number,
)
from washline.quantity.formatting import format_number

VERSION = 1
FORMAT = "washline readings"


def readings_document(
    opened: OpenBook, build: Build, trace: Trace, spread: Spread, contents: Contents
) -> dict[str, Any]:
    """Everything that is computed of a build, as plain values for JSON."""
    book = opened.book
    box = contains_box(book, build, contents, "", step_cautions(trace))
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
        "strength_wording": _wording(trace, spread),
        "pressure": list(pressure_block(trace)),
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
        "may_contain": [
            {"key": key, "word": allergen_word(key), "ways": [_way(book, way) for way in ways]}
            for key, ways in contents.may_contain
        ],
        "may_contain_note": box.may_contain_text,
        "diet": {
            "not_vegetarian": [book.raws[one].name for one in contents.not_vegetarian],
            "not_vegan": [book.raws[one].name for one in contents.not_vegan],
        },
        "cautions": [_caution(book, line) for line in box.cautions],
        "deferral": DEFERRAL,
        "keeping": _keeping(book, build, trace),
        "cost": _cost(trace, book.settings.currency),
        "credits": list(credits_owed(book.raws[raw_id].source for raw_id in brought_raws(book, build.id))),
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
        "text": _text(reading, trace),
        "spread": {"up": number(spread.up[index]), "down": number(spread.down[index])}
        if has_spread
        else None,
        "is_at_least": more is None or more > 0.0,
        "may_be_higher_by": more,
        "is_outside_range": result.is_outside(reading.key),
        "reasons": list(result.reasons(reading.key)),
        "method": reading.definition,
    }


def _text(reading: Reading, trace: Trace) -> str:
    """The value as it is shown: strength and grams of ethanol are never written as none."""
    value, more = trace.result.value(reading.key), trace.result.more_than(reading.key)
    if reading.key in NEVER_NONE:
        return strength_number(value, decimals=reading.decimals, more=more)
    return format_number(value, reading.decimals)


def _wording(trace: Trace, spread: Spread) -> dict[str, Any]:
    """The words that the law which the house chose keeps for a low strength, each with its condition and source."""
    settings, value = trace.book.settings, trace.result.value("strength")
    highest = highest_strength(value, trace.result.more_than("strength"), spread.plus_minus("strength"))
    found = legal_words(settings.wording_law, highest)
    return {
        "law": found.law,
        "is_known_law": found.is_known,
        "highest_pct_vol": number(highest),
        "word": found.word or None,
        "text": found.text,
        "allowed": [_law_row(row) for row in found.allowed],
        "refused": _law_row(found.refused) if found.refused is not None else None,
        "lines_crossed": [_law_row(row) for row in found.lines],
        "us_proof": number(us_proof(value)) if value is not None else None,
        "note": f"{MEASURE_FIRST} {CHECK_LOCAL_RULE}",
    }


def _law_row(row: LegalRow) -> dict[str, Any]:
    return {
        "word": row.word,
        "law": row.law_name,
        "limit": row.limit if row.kind == "word" else None,
        "condition": row.condition,
        "source": row.source,
        "is_from_memory": row.is_from_memory,
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
    is_line = isinstance(step, Line)
    return {
        "step_id": step.id,
        "kind": type(step).__name__.lower(),
        "item": item_name(trace.book, step.item_id) if isinstance(step, Line) else None,
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


def _caution(book: HouseBook, line: CautionLine) -> dict[str, Any]:
    known = caution(line.key)
    return {
        "key": line.key,
        "title": known.title,
        "text": f"{known.bar} {DEFERRAL}",
        "bench_text": f"{known.bench} {DEFERRAL}",
        "sources": list(line.sources),
        "steps": [_caution_step(book, step) for step in line.steps],
    }


def _caution_step(book: HouseBook, one: StepCaution) -> dict[str, Any]:
    """The step that a caution follows from, with its computed figures; an id of null is the item as it is kept."""
    step = book.step(one.build_id, one.step_id) if one.step_id is not None else None
    return {
        "build": item_name(book, one.build_id),
        "step_id": one.step_id,
        "kind": type(step).__name__.lower() if step is not None else None,
        "items": [item_name(book, item_id) for item_id in one.item_ids],
        "figures": {name: number(value) for name, value in one.figures},
        "words": detail_words(one),
    }


def _way(book: HouseBook, way: Handling) -> dict[str, Any]:
    return {"item": item_name(book, way.item_id), "shared_place": way.place or None}


def _keeping(book: HouseBook, build: Build, trace: Trace) -> dict[str, Any]:
    """A part's own keeping, and the house dates of what a build takes in."""
    inputs = dict.fromkeys(item_id for item_id in inputs_of(build) if book.item(item_id) is not None)
    own = keeping_of(book, build, trace.result) if not build.is_drink else None
    return {
        "is_tested": False,
        "own": _own_keeping(build, own) if own is not None else None,
        "inputs": [
            {"item": item_name(book, item_id), **_date(house_date_of(book, item_id))} for item_id in inputs
        ],
    }


def _own_keeping(build: Build, keeping: Keeping) -> dict[str, Any]:
    proposal = keeping.proposal
    return {
        **_date(keeping.date),
        "kept_at": build.kept_at.value,
        "hurdles": [
            {"key": one.key, "words": one.text, "is_uncertain": one.is_uncertain, "source": one.source}
            for one in keeping.hurdles
        ],
        "proposal": {"days": proposal.days, "words": proposal.words, "source": proposal.source}
        if proposal is not None
        else None,
        "no_proposal": keeping.no_proposal,
        "caution": keeping.caution,
    }


def _date(date: HouseDate) -> dict[str, Any]:
    return {
        "days": date.days,
        "days_set": date.own,
        "shortest_input": {"item": date.limited_by, "days": date.limit} if date.limit is not None else None,
        "keeps_by": date.keeps_by,
        "reasons": list(date.reasons),
        "words": date.text,
    }


def _cost(trace: Trace, currency: str) -> dict[str, Any]:
    more = number(trace.result.more_than("cost"))
    return {
        "value": number(trace.result.value("cost")),
        "currency": currency,
        "is_at_least": more is None or more > 0.0,
    }
