"""Straining: what is held and all insoluble solids stay behind, the liquid goes on. Taking: part of the vessel as it is."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from washline.chemistry import heat, mixture
from washline.chemistry.components import DISSOLVED, INSOLUBLE, WATER
from washline.engine.liquid import (
    ACID_ROWS,
    NOTHING,
    brix_liquid_g,
    dissolved_g,
    free_acid_g,
    share_of,
    titrated_liquid_g,
)
from washline.engine.program import NONE
from washline.engine.run import AWAY, HELD, LIQUID, MORE_THAN_THERE_IS, OUTPUT, Run
from washline.engine.state import ACID_EXCESS, CATIONS, COST, ENTHALPY, MASSES, UNKNOWN_COST, Numbers, mass_g

NOT_IN_THE_CAKE = "more than the cake can give or take: the split is as near as it gets"
CLOSE = 1e-9
"""Relative; what is nearer than that was met."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way to strain or clarify: its name, what is done in a sentence for the paper, and the usual yield in percent of the
    vessel by mass, with where that is from. ``loss`` says in words what is usually lost."""

    key: str
    name: str
    sentence: str
    low_pct: float
    high_pct: float
    loss: str
    source: str = "common practice, no source"


WAYS: Mapping[str, Way] = {
    way.key: way
    for way in (
        Way("press", "Press", "Press through a cloth or a press.", 60.0, 80.0, "cake and cloth keep some"),
        Way("cloth", "Cloth", "Strain through cloth, do not press.", 80.0, 95.0, "a nut bag keeps 5 to 20 %"),
        Way("paper", "Paper filter", "Filter through paper, cold.", 85.0, 95.0, "paper keeps 5 to 15 %"),
        Way("fine", "Fine strain", "Strain through a fine sieve.", 97.0, 99.0, "a sieve keeps 1 to 3 %"),
        Way("spin", "Spin", "Spin and pour off the clear liquid.", 90.0, 95.0, "the pellet keeps 5 to 10 %"),
        Way(
            "enzyme",
            "Enzyme and rest",
            "Stir in pectinase, rest, then strain or spin.",
            62.0,
            80.0,
            "less stays in the pulp than without",
        ),
        Way(
            "agar",
            "Agar",
            "Set with agar, break the curds and drain through cloth.",
            75.0,
            90.0,
            "curds keep 10 to 25 %",
        ),
        Way(
            "freeze-thaw",
            "Freeze and thaw",
            "Set with gelatine, freeze, and thaw through cloth in the fridge.",
            60.0,
            80.0,
            "the raft keeps 20 to 40 %",
        ),
        Way(
            "milk",
            "Milk",
            "Drain through the curd and cloth; pour the first cloudy part back.",
            75.0,
            90.0,
            "curd keeps 10 to 25 %",
        ),
        Way(
            "skim",
            "Lift the fat",
            "Chill until the fat is firm, lift it, filter.",
            80.0,
            97.0,
            "fat keeps some",
        ),
    )
}
"""The ways by their key. The usual yields are an offer: a house's own expected percent is still asked for."""


def strain(running: Run, liquid: int, kept: int, joint: int, brix: int, acidity: int) -> None:
    """Lets an expected share of the vessel through."""
    _split(running, running.numbers[liquid] * running.vessel_g, kept, joint, (brix, acidity))


def strain_weighed(running: Run, liquid: int, kept: int, joint: int, brix: int, acidity: int) -> None:
    """Lets through what was weighed."""
    _split(running, running.numbers[liquid], kept, joint, (brix, acidity))


@dataclass(slots=True)
class _Weights:
    """Grams (n,) of a split: the liquid through, the liquid that filter and jug lost and the solids with it, and what of
    the solids (a share) and of the liquid is in the cake."""

    liquid: Numbers
    lost_liquid: Numbers
    cake_liquid: Numbers
    cake_solids_share: Numbers
    dissolved: Numbers


def _weights(running: Run, wanted_g: Numbers, kept: int) -> _Weights:
    state, vessel_g = running.state, running.vessel_g
    dissolved = mass_g(state) - state[INSOLUBLE]
    running.miss(MORE_THAN_THERE_IS, wanted_g > dissolved + CLOSE * vessel_g)
    liquid = np.minimum(wanted_g, dissolved)
    behind = vessel_g - liquid
    solids = vessel_g - dissolved
    if kept == NONE:
        return _Weights(liquid, behind * 0.0, dissolved - liquid, np.ones_like(liquid), dissolved)
    running.miss(MORE_THAN_THERE_IS, running.numbers[kept] > behind * (1.0 + CLOSE))
    cake = np.minimum(running.numbers[kept], behind)
    cake_solids = np.minimum(solids, cake)
    cake_liquid = np.minimum(cake - cake_solids, dissolved - liquid)
    has_solids = solids > NOTHING
    share = np.where(has_solids, cake_solids / np.where(has_solids, solids, 1.0), 1.0)
    return _Weights(liquid, dissolved - liquid - cake_liquid, cake_liquid, share, dissolved)


def _split(running: Run, wanted_g: Numbers, kept: int, joint: int, measured: tuple[int, int]) -> None:
    """Liquid goes on, solids stay. What the cake and the filter hold has the composition of the liquid, unless that was
    measured."""
    weights = _weights(running, wanted_g, kept)
    running.leave_yield(weights.liquid)
    state, held = running.state, running.held_or_nothing
    drained = _part_of(state, weights.liquid + weights.lost_liquid, weights.dissolved)
    solids_lost = 1.0 - weights.cake_solids_share
    lost_held = held * solids_lost
    lost_solids = np.zeros_like(state)
    lost_solids[INSOLUBLE] = state[INSOLUBLE] * solids_lost
    cake = state - drained - lost_solids + (held - lost_held)
    net = None
    if measured != (NONE, NONE):
        net = resplit(running, drained, cake, *measured)
        drained, cake = drained + net, cake - net
    through = share_of(weights.liquid, weights.liquid + weights.lost_liquid)
    liquid = drained * through
    lost = (drained - liquid) + lost_solids + lost_held
    cost = (state + held)[[COST, UNKNOWN_COST]]
    cost_share = leftover_share(running, joint, weights.liquid, mass_g(cake))
    liquid[[COST, UNKNOWN_COST]], lost[[COST, UNKNOWN_COST]] = cost * (1.0 - cost_share), 0.0
    cake[[COST, UNKNOWN_COST]] = cost * cost_share
    if running.held is not None:
        _note_moves(running, _Split(cake, lost, lost_held, net, through, cost_share))
        running.held = np.zeros_like(held)
    running.outputs.append(cake)
    running.leave("leftover", cake)
    if kept != NONE:
        running.leave("loss", lost)
    running.state = liquid


def _part_of(state: Numbers, grams: Numbers, dissolved_g: Numbers) -> Numbers:
    """So many grams of the liquid in a vessel, with none of its solids."""
    part = state * share_of(grams, dissolved_g)
    part[INSOLUBLE] = 0.0
    return part


def leftover_share(running: Run, joint: int, main_g: Numbers, leftover_g: Numbers) -> Numbers:
    """The leftover's share (n,) of a joint cost: by weight times worth; none where all stays with the main output."""
    if joint == NONE:
        return np.zeros_like(main_g)
    leftover = leftover_g * running.numbers[joint + 1]
    return share_of(leftover, main_g * running.numbers[joint] + leftover)


def resplit(running: Run, drained: Numbers, cake: Numbers, brix: int, acidity: int) -> Numbers:
    """What goes from the cake to the drained liquid, (ROWS, n), so that the liquid is as it was measured: dissolved solids
    against water, each component conserved. Negative rows go the other way."""
    warm_c = heat.temperature_from_enthalpy(running.state[MASSES], running.state[ENTHALPY])
    net = np.zeros_like(drained)
    rows = (*DISSOLVED, CATIONS, ACID_EXCESS)
    if acidity != NONE:
        wanted = running.numbers[acidity] / 100.0 * titrated_liquid_g(drained)
        _shift(running, drained, cake, net, ACID_ROWS, wanted, free_acid_g)
        rows = tuple(row for row in DISSOLVED if row not in ACID_ROWS)
    if brix != NONE:
        wanted = running.numbers[brix] / 100.0 * brix_liquid_g(drained)
        _shift(running, drained, cake, net, rows, wanted, dissolved_g)
    after = drained + net
    net[ENTHALPY] = (
        heat.enthalpy_j(after[MASSES], np.where(np.isnan(warm_c), 0.0, warm_c)) - drained[ENTHALPY]
    )
    return net


def _shift(
    running: Run,
    drained: Numbers,
    cake: Numbers,
    net: Numbers,
    rows: tuple[int, ...],
    wanted: Numbers,
    amount: Callable[[Numbers], Numbers],
) -> None:
    """Adds to ``net`` the share of some rows of the cake, or of the liquid, that brings the liquid's amount to what is
    wanted, as far as there is matter and water for it."""
    liquid, rest = drained + net, cake - net
    change = wanted - amount(liquid)
    gives, takes = np.zeros_like(rest), np.zeros_like(rest)
    gives[list(rows)], takes[list(rows)] = rest[list(rows)], liquid[list(rows)]
    up = np.clip(_positive_share(change, amount(gives)), 0.0, 1.0)
    down = np.clip(_positive_share(-change, amount(takes)), 0.0, 1.0)
    moved = gives * up - takes * down
    grams = mass_g(moved)
    room = np.where(grams > 0.0, liquid[WATER], rest[WATER])
    moved *= np.minimum(1.0, _positive_share(room, np.abs(grams), 1.0))
    net += moved
    net[WATER] -= mass_g(moved)
    reached = amount(drained + net)
    running.miss(NOT_IN_THE_CAKE, np.abs(reached - wanted) > CLOSE * np.maximum(wanted, 1.0))


def _positive_share(part: Numbers, whole: Numbers, without: float = 0.0) -> Numbers:
    """The part of a whole that is above 0, else what is said."""
    has = whole > NOTHING
    share: Numbers = np.where(has, part / np.where(has, whole, 1.0), without)
    return share


@dataclass(slots=True)
class _Split:
    """How a vessel with something held was split: cake and loss (ROWS, n), what of the loss was held, what a measurement
    moved, the share (n,) of the drained liquid that was caught, and the leftover's share of the cost."""

    cake: Numbers
    lost: Numbers
    lost_held: Numbers
    net: Numbers | None
    through: Numbers
    cost_share: Numbers


def _note_moves(running: Run, split: _Split) -> None:
    """Where the liquid and the held matter went, for the shares of the lines."""
    state, held = running.state, running.held_or_nothing
    given = np.zeros_like(held)
    if split.net is not None:
        in_cake = held - split.lost_held
        before = split.cake + split.net
        given = np.maximum(split.net, 0.0) * share_of(in_cake, before)
        given[ENTHALPY:] = np.where(split.net[ENTHALPY:] > 0.0, given[ENTHALPY:], 0.0)
    held_to_liquid = given * split.through
    held_away = split.lost_held + (given - held_to_liquid)
    held_to_cake = held - held_to_liquid - held_away
    liquid_to_cake, liquid_away = split.cake - held_to_cake, split.lost - held_away
    for row in (COST, UNKNOWN_COST):
        held_to_liquid[row], held_to_cake[row] = (
            held[row] * (1.0 - split.cost_share),
            held[row] * split.cost_share,
        )
        liquid_to_cake[row] = state[row] * split.cost_share
        held_away[row] = liquid_away[row] = 0.0
    running.move(HELD, LIQUID, held_to_liquid)
    running.move(HELD, OUTPUT, held_to_cake)
    running.move(HELD, AWAY, held_away)
    running.move(LIQUID, OUTPUT, liquid_to_cake)
    running.move(LIQUID, AWAY, liquid_away)


def take_share(running: Run, share: int, joint: int) -> None:
    """Takes a share of the vessel."""
    _take(running, running.numbers[share] * running.vessel_g, joint)


def take_mass(running: Run, grams: int, joint: int) -> None:
    """Takes some grams of the vessel."""
    _take(running, running.numbers[grams], joint)


def take_volume(running: Run, volume: int, joint: int) -> None:
    """Takes some millilitres of the vessel."""
    density = mixture.density_g_per_ml(running.state[MASSES])
    if running.held is not None:
        density = running.vessel_g / running.vessel_ml
    _take(running, running.numbers[volume] * density, joint)


def _take(running: Run, grams: Numbers, joint: int) -> None:
    """Part of the vessel as it is. It carries its cost by weight, but for an output that acts as another item: then the
    step is a breakdown, whose cost is shared as the house says."""
    mass = running.vessel_g
    running.miss(MORE_THAN_THERE_IS, grams > mass * (1.0 + CLOSE))
    share = share_of(np.minimum(grams, mass), mass)
    rows = np.broadcast_to(share, running.state.shape).copy()
    if joint != NONE:
        rows[[COST, UNKNOWN_COST]] = leftover_share(running, joint, mass - mass * share, mass * share)
    taken = running.state * rows
    running.state = running.state - taken
    if running.held is not None:
        taken_held = running.held * rows
        running.move(LIQUID, OUTPUT, taken)
        running.move(HELD, OUTPUT, taken_held)
        running.held = running.held - taken_held
        taken = taken + taken_held
    running.outputs.append(taken)
    running.leave("leftover", taken)
