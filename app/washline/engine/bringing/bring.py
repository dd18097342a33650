"""*Bring to target*: the few changes of a drink, in whole steps, that bring its readings to what the house wants."""

from collections.abc import Iterable, Sequence

import numpy as np

from washline.engine.bringing.columns import columns_of
from washline.engine.bringing.extras import brought, usable, with_changes, with_extras
from washline.engine.bringing.judging import Judged
from washline.engine.bringing.pours import Pour, pours_of, without_room
from washline.engine.bringing.reasons import (
    before_running,
    gives_way,
    out_of_limits,
    without_pours,
    without_values,
)
from washline.engine.bringing.request import Answer, Change, Merit, Outcome, Proposal, Refused, Request
from washline.engine.bringing.searching import Found, Searches
from washline.engine.bringing.terms import boundaries_of, giving_way, weighted_aims
from washline.engine.compiling_steps import compile_build
from washline.engine.readings import Figures
from washline.engine.spread import Source
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.reading import READING_INDEX

MOST_PROPOSALS = 3


def bring(book: HouseBook, request: Request, source: Source) -> Answer:
    """Up to three proposals that differ in which lines move which way or what gives way, the best first, or why there is
    none.

    Every proposal keeps every limit on the full model, moves no held line, and brings no allergen or unknown unless the
    request allows it. ``source`` must have all that the build and the extras rest on up to date. The same request gives the
    same bytes. Raises ``KeyError`` for an id that is no build.
    """
    build = book.builds[request.build_id]
    why = before_running(build, source.program(build.id))
    if why is not None:
        return Answer(*why)
    request, refused = usable(book, build, request, source)
    whole = with_extras(build, request.extras)
    program = source.program(build.id) if whole is build else compile_build(book.with_build(whole), whole)
    pours = pours_of(book, whole, program, request)
    now = columns_of(program, (), source).figures(np.zeros((0, 1)))
    why = without_values(now.values[:, 0], request) or (None if pours else without_pours(build, request))
    if why is None:
        why = _without_room(book, pours)
    if why is not None:
        return Answer(*why, refused=refused)
    return _searched(
        book,
        build,
        request,
        refused,
        now,
        Searches(
            columns_of(program, pours, source),
            weighted_aims(request, now.values[:, 0]),
            boundaries_of(request),
        ),
        source,
    )


def _without_room(book: HouseBook, pours: Sequence[Pour]) -> tuple[Outcome, str] | None:
    for pour in without_room(pours):
        item = book.item(pour.item_id)
        name = item.name if item is not None else "a line"
        return Outcome.OUT_OF_REACH, f"The limits of {name} leave no amount in its steps: widen them."
    return None


def _searched(
    book: HouseBook,
    build: Build,
    request: Request,
    refused: tuple[Refused, ...],
    now: Figures,
    searches: Searches,
    source: Source,
) -> Answer:
    found = searches.all()
    unknown = tuple(
        dict.fromkeys(
            aim.reading for aim in request.aims if np.isnan(now.values[READING_INDEX[aim.reading], 0])
        )
    )
    if found.best is None:
        at_best = searches.columns.figures(searches.optimum.numbers[:, None])
        why = out_of_limits(searches.boundaries, at_best.values, at_best.more)
        return Answer(*why, unknown=unknown, refused=refused)
    chosen = _chosen(found, searches)
    proposals = tuple(_proposal(book, build, searches, merit, one, now, source) for merit, one in chosen)
    given = proposals[0].gives_way if proposals else giving_way(searches.aims, now.values[:, 0])
    unmoved = tuple(one.reading for one in given if not searches.moves(one.reading))
    outcome = _outcome(bool(proposals), bool(given))
    words = gives_way(given, unmoved, now.values[:, 0])
    if outcome is Outcome.ALREADY:
        words = "Every reading lies in its band, and no pour in these steps brings it nearer."
    elif outcome is Outcome.NO_NEARER:
        words = f"No pour in these steps brings it nearer. {words}"
    return Answer(outcome, words, proposals, unmoved, unknown, refused)


def _outcome(has_proposals: bool, has_given: bool) -> Outcome:
    if has_proposals:
        return Outcome.GIVES_WAY if has_given else Outcome.FOUND
    return Outcome.NO_NEARER if has_given else Outcome.ALREADY


def _chosen(found: Found, searches: Searches) -> list[tuple[Merit, Judged]]:
    """The best of each kind, each unlike those before it, then the next best: the nearest stands first."""
    if found.best is None or not searches.is_better(found.best):
        return []
    wanted = [
        (Merit.NEAREST, found.best),
        (Merit.FEWEST_CHANGES, found.fewest),
        (Merit.LEAST_ALCOHOL, found.least_alcohol),
        *((Merit.ANOTHER_WAY, one) for one in found.others),
    ]
    chosen: list[tuple[Merit, Judged]] = []
    for merit, one in wanted:
        if one is not None and _is_unlike(merit, one, (other for _merit, other in chosen)):
            chosen.append((merit, one))
    first, rest = chosen[0], chosen[1:MOST_PROPOSALS]
    return [first, *sorted(rest, key=lambda entry: entry[1].rank)]


def _is_unlike(merit: Merit, judged: Judged, others: Iterable[Judged]) -> bool:
    """Whether it differs from others in which lines move which way or what gives way; another way must do without a line
    that each of the others moves, for the same with one line more is no way of its own."""
    for other in others:
        if judged.signature == other.signature:
            return False
        is_same_but_more = judged.moved >= other.moved and judged.signature[2] == other.signature[2]
        if merit is Merit.ANOTHER_WAY and is_same_but_more:
            return False
    return True


def _proposal(
    book: HouseBook,
    build: Build,
    searches: Searches,
    merit: Merit,
    judged: Judged,
    now: Figures,
    source: Source,
) -> Proposal:
    """A judged point as what it changes, read again as the drink that it then is: to the byte what the book will say."""
    changes = _changes(build, searches.columns.pours, judged)
    changed = with_changes(build, changes)
    program = compile_build(book.with_build(changed), changed)
    figures = columns_of(program, (), source).figures(np.zeros((0, 1)))
    brings = brought(book, build, changed)
    values = figures.values[:, 0]
    ethanol = READING_INDEX["ethanol"]
    return Proposal(
        merit,
        changes,
        values,
        figures.more[:, 0],
        giving_way(searches.aims, values),
        float(values[ethanol] - now.values[ethanol, 0]),
        brings.allergens,
        brings.unknown,
        brings.cautions,
        judged.cost,
    )


def _changes(build: Build, pours: Sequence[Pour], judged: Judged) -> tuple[Change, ...]:
    order = {step.id: index for index, step in enumerate(build.steps)}
    moved = sorted(judged.moved, key=lambda pour: (order.get(pours[pour].step_id, len(order)), pour))
    return tuple(
        Change(
            None if pours[pour].is_extra else pours[pour].step_id,
            pours[pour].item_id,
            None if pours[pour].is_extra else pours[pour].before,
            pours[pour].amount(judged.numbers[pour]),
        )
        for pour in moved
    )
