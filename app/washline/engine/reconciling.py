"""What a measurement means: the computed value of the vessel with its own uncertainty, against what an instrument shows."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from msgspec import structs

from washline.chemistry.reconcile import reconcile
from washline.engine.measuring import computed
from washline.engine.spread import Cause, Source, causes_of, doubts_below, run_with_doubts
from washline.model.book import HouseBook
from washline.model.item import BuildKind
from washline.model.step import Measurable

_RELATIVE_ERROR: Mapping[Measurable, float] = {
    Measurable.VOLUME: 0.001,
    Measurable.DENSITY: 0.001,
    Measurable.STRENGTH: 0.001,
}
"""The model's own error, one standard deviation, relative: 0.1 % of volume, density and strength of a mixture."""

_ABSOLUTE_ERROR: Mapping[Measurable, float] = {
    Measurable.BRIX: 0.1,
    Measurable.PH: 0.2,
    Measurable.ACIDITY: 0.005,
}
"""The same in the unit of the quantity: 0.1 °Bx of mixtures with ethanol, acids and salts; pH 0.21 rms of juices of typical
composition; acidity by the cations' doubt (15 % of what they bind, common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Reconciled:
    """A measured value against a computed one, in the unit of the quantity: the computed with its standard uncertainty, the
    gain (the share of the difference that the vessel should take over), the value after it, how many joint standard
    uncertainties lie between the two (``None`` where the instrument's is not known), and what makes the computed value
    uncertain, the largest first; a cause's ``higher`` and ``lower`` are (1,)."""

    computed: float
    computed_sd: float
    gain: float
    reconciled: float
    residual_sigmas: float | None
    causes: tuple[Cause, ...]


def book_up_to(book: HouseBook, build_id: int, step_id: int | None) -> HouseBook:
    """The book with a build as it stands right after one of its steps, unserved. A step that is not there means the end.

    Raises ``KeyError`` for an id that is no build.
    """
    build = book.builds[build_id]
    places = [index for index, step in enumerate(build.steps) if step.id == step_id]
    steps = build.steps[: places[0] + 1] if places else build.steps
    return book.with_build(structs.replace(build, steps=steps, kind=BuildKind.PART))


def reconciled(
    book: HouseBook,
    build_id: int,
    source: Source,
    quantity: Measurable,
    value: float,
    uncertainty: float | None,
) -> Reconciled:
    """The measured value against the vessel at the end of a build. A computed value that nothing bounds gives way."""
    doubts = doubts_below(book, build_id)
    values = computed(run_with_doubts(book, build_id, doubts, source), quantity.value)[None, :]
    causes = causes_of(doubts, values)
    sides = np.array([[float(cause.higher[0]), float(cause.lower[0])] for cause in causes]).reshape(-1, 2)
    largest = np.max(np.abs(sides), axis=1) if len(causes) else np.zeros(1)
    own = model_error(quantity, float(values[0, 0]))
    sd = float(np.sqrt(np.add.accumulate(np.append(largest * largest, own * own))[-1]))
    ranked = [causes[index] for index in np.argsort(-largest, kind="stable").tolist()] if causes else []
    kept = tuple(cause for cause in ranked if cause.higher[0] or cause.lower[0])
    return _against(float(values[0, 0]), sd, value, uncertainty, kept)


def model_error(quantity: Measurable, value: float) -> float:
    """The model's own error of a quantity at a value, one standard deviation."""
    return _RELATIVE_ERROR.get(quantity, 0.0) * abs(value) + _ABSOLUTE_ERROR.get(quantity, 0.0)


def _against(
    found: float, sd: float, value: float, uncertainty: float | None, causes: tuple[Cause, ...]
) -> Reconciled:
    if uncertainty is None or found != found:
        return Reconciled(found, sd, 1.0, value, None, causes)
    joined = reconcile(found, sd, value, uncertainty)
    return Reconciled(found, sd, joined.gain, joined.value, joined.residual_sigmas, causes)
