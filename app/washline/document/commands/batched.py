"""The figures of a drink made ahead: found by the one evaluator in a house book that nobody keeps."""

import math

from msgspec import structs

from washline.chemistry.components import WATER
from washline.document.commands.batching import batch_build
from washline.document.commands.command import Refusal
from washline.engine.traced import Trace
from washline.engine.workings import Workings
from washline.model.amount import Basis, grams
from washline.model.book import HouseBook
from washline.model.item import Batch, Build, RawIngredient
from washline.model.step import Add, AnyStep, Chill, Garnish, Infuse, Line, Top
from washline.presentation.batch_plan import AtService, Batched, BatchFacts, BatchPlan, fill_of
from washline.presentation.batch_roles import BITTERS_CATEGORY, ItemRoles

STILL_WATER = "water-still"
_PURE_WATER_PCT = 99.5


def batch_facts(trace: Trace) -> BatchFacts:
    """What a batch needs to know of a drink, from its trace."""
    book, drink = trace.book, trace.build
    roles = ItemRoles(trace)
    lines = [step for step in drink.steps if isinstance(step, Line) and not step.left_out]
    chills = [step for step in drink.steps if isinstance(step, Chill) and not step.left_out]
    found = {step.id: _number(trace.step(step.id).found_g) for step in lines}
    found_ml = {step.id: _number(trace.step(step.id).found_ml) for step in lines}
    melted = {step.id: _number(trace.step(step.id).found_g) for step in chills}
    return BatchFacts(
        found_g={key: value for key, value in found.items() if value is not None},
        found_ml={key: value for key, value in found_ml.items() if value is not None},
        melted_g={key: value for key, value in melted.items() if value is not None},
        roles={step.id: roles.role(step.item_id, step.amount) for step in lines},
        citrus=frozenset(step.id for step in lines if roles.is_citrus(step.item_id)),
        fizzy=frozenset(step.id for step in lines if roles.is_fizzy(step.item_id)),
        water_id=still_water_of(book),
    )


def still_water_of(book: HouseBook) -> int | None:
    """The raw ingredient that dilution is made of: the pantry's still water, else the first that is nothing but water and
    has no gas."""
    pure = [
        raw
        for raw in book.raws.values()
        if raw.is_poured and (raw.composition[WATER] or 0.0) >= _PURE_WATER_PCT and not raw.co2_g_per_l
    ]
    named = next((raw.id for raw in pure if raw.slug == STILL_WATER), None)
    return named if named is not None else min((raw.id for raw in pure if _is_bare(raw)), default=None)


def _is_bare(raw: RawIngredient) -> bool:
    """Flower waters are water too: what is poured for its smell is no water."""
    return raw.category != BITTERS_CATEGORY and raw.bitterness in (None, 0.0)


def _number(value: float | None) -> float | None:
    return None if value is None or not math.isfinite(value) else value


def batched(workings: Workings, drink_id: int, batch: Batch, book: HouseBook | None = None) -> Batched:
    """A drink made ahead with all its figures; ``book`` is a preview. Nothing is kept. Raises ``Refusal`` as
    ``batch_build`` does, and for a vessel that is gone or a batch that would be nothing."""
    drink = workings.trace(drink_id, book)
    facts = batch_facts(drink)
    vessel = drink.book.vessels.get(batch.vessel)
    serves = _serves(workings, drink, batch, facts)
    plan = batch_build(drink.book, drink.build, batch, facts, serves)
    whole = drink.book.with_build(plan.build)
    trace = workings.trace(plan.build.id, whole)
    volume, mass = trace.result.value("length"), trace.result.value("mass")
    serving = one_serve(whole, drink.build, plan, mass)
    with_serve = whole.with_build(serving)
    return Batched(
        plan, with_serve, drink, trace, workings.trace(serving.id, with_serve), volume, mass, vessel
    )


def _serves(workings: Workings, drink: Trace, batch: Batch, facts: BatchFacts) -> float:
    """As many as were asked for, or as fill the vessels: the volume of a batch grows with its serves."""
    if batch.vessel_count is None:
        return batch.serves
    vessel = drink.book.vessels.get(batch.vessel)
    if vessel is None:
        raise Refusal(
            "There is no vessel to fill.",
            "None is chosen, or it was removed.",
            "Choose a vessel, or type serves.",
        )
    exact = structs.replace(batch, round_g=0.0)
    one = batch_build(drink.book, drink.build, exact, facts, 1.0)
    volume = workings.trace(one.build.id, drink.book.with_build(one.build)).result.value("length")
    if volume is None or not volume > 0.0:
        raise Refusal(
            "How many serves fill the vessel is not known.",
            "The volume of one serve cannot be computed.",
            "See what the build says about its lines, or type serves.",
        )
    return batch.vessel_count * fill_of(vessel) / volume


def one_serve(book: HouseBook, drink: Build, plan: BatchPlan, mass_g: float | None) -> Build:
    """One serve from the batch as it reaches the guest: its part of the batch, and what waited for service. ``book`` holds
    the batch; the serve takes the next id but one after the drink's book."""
    serve_id = plan.build.id + 1
    first_id = max((book.top_id, serve_id, *(step.id for step in plan.build.steps))) + 1
    portion = Add(
        id=first_id,
        build_id=serve_id,
        place=0.0,
        item_id=plan.build.id,
        amount=grams((mass_g or 0.0) / plan.serves),
    )
    order = {step.id: number for number, step in enumerate(drink.steps)}
    first = min((order[line.step_id] for line in plan.lines), default=0)
    steps: list[AnyStep] = []
    for number, waiting in enumerate(plan.at_service, start=1):
        if order[waiting.step.id] > first and portion not in steps:
            steps.append(portion)
        steps.append(_at_service(waiting, first_id + number, serve_id))
    if portion not in steps:
        steps.append(portion)
    placed = tuple(structs.replace(step, place=float(number)) for number, step in enumerate(steps, start=1))
    return structs.replace(
        drink,
        id=serve_id,
        name=f"{drink.name}, from the batch",
        steps=placed,
        batch=None,
        added_allergens=(),
        may_contain=(),
    )


def _at_service(waiting: AtService, step_id: int, build_id: int) -> AnyStep:
    """A step as it is done in the glass: what is a share of other lines stands at the grams found."""
    step = structs.replace(waiting.step, id=step_id, build_id=build_id)
    if isinstance(step, Add | Infuse | Top | Garnish) and waiting.serve_g is not None:
        is_own = step.amount.basis in (Basis.ABSOLUTE, Basis.TO_WASH_LINE, Basis.TO_VOLUME)
        return step if is_own else structs.replace(step, amount=grams(waiting.serve_g))
    return step
