"""Compiling a build: every step that is no plain line, and the whole program."""

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from washline.chemistry.cooking import ethanol_kept_pct, ways
from washline.engine.compiling import Compiler
from washline.engine.compiling_bar import (
    compile_bar_strain,
    compile_carbonate,
    compile_chill,
    compile_garnish,
    compile_rinse,
)
from washline.engine.program import NONE, Program
from washline.engine.state import MASS, VOLUME
from washline.model.amount import Basis
from washline.model.book import HouseBook
from washline.model.house import JointCost
from washline.model.item import Build, Leftover
from washline.model.step import (
    Add,
    Adjust,
    BarStrain,
    Blend,
    Carbonate,
    Chill,
    Dry,
    Ferment,
    FermentKind,
    Garnish,
    Goal,
    Heat,
    Infuse,
    Measurement,
    Muddle,
    Note,
    Reduce,
    Rest,
    Rinse,
    Smoke,
    Strain,
    Take,
    Top,
    Wash,
    WashKind,
)

CASEIN_PCT = 80.0
"""Casein in percent of the protein of cow's milk: what curdles when it is soured (Walstra, Wouters and Geurts, Dairy
Science and Technology, 2nd ed. 2006, from memory)."""


def compile_build(book: HouseBook, build: Build) -> Program:
    """The program of a build. Steps left out and steps of words alone leave no trace in it."""
    compiler = Compiler(book, build)
    for step in build.steps:
        if step.left_out or isinstance(step, _WORDS):
            continue
        if isinstance(step, Add):
            compiler.add(step)
            continue
        if not isinstance(step, Garnish):
            compiler.flush()
        _STEPS[type(step)](compiler, step)
    compiler.flush()
    if compiler.is_holding:
        compiler.op(NONE, "unite")
    if build.acts_as_id is not None and book.item(build.acts_as_id) is not None:
        compiler.op(NONE, "act", compiler.line(NONE, build.acts_as_id, MASS, 0.0))
    if build.bitterness is not None:
        compiler.op(NONE, "taste", compiler.number(build.bitterness))
    for step_id, loss in compiler.openings:
        compiler.op(step_id, "open_bottle", compiler.number(loss))
    if build.is_drink:
        loss_pct = book.settings.fizz_loss_pct if build.fizz_loss_pct is None else build.fizz_loss_pct
        compiler.op(NONE, "serve", compiler.number(loss_pct / 100.0))
    return Program(
        build.id,
        tuple(compiler.ops),
        np.array(compiler.items, dtype=np.int64),
        np.array(compiler.kinds, dtype=np.int64),
        np.array(compiler.amounts, dtype=np.float64),
        np.array(compiler.numbers, dtype=np.float64),
        tuple(compiler.line_steps),
        tuple(compiler.op_steps),
        tuple(compiler.outputs),
        tuple(compiler.problems),
        tuple(compiler.doubtful),
    )


_WORDS = (Blend, Muddle, Rest, Note, Smoke)


def _top(compiler: Compiler, step: Top) -> None:
    compiler.add(step)


def _infuse(compiler: Compiler, step: Infuse) -> None:
    unit = compiler.unit(step, step.amount)
    factor = None if unit is None else compiler.used_of_amount(step)
    if unit is None or factor is None:
        return
    line = compiler.line_of(step, unit[0], compiler.size(step.amount, *unit) * factor)
    if line is None:
        return
    index = compiler.line(step.id, step.item_id, line.kind, line.amount)
    given = tuple(
        compiler.share_or_none(percent, step.id, "given")
        for percent in (
            step.water_given_pct,
            step.sugars_given_pct,
            step.acids_given_pct,
            step.salt_given_pct,
            step.solids_given_pct,
        )
    )
    compiler.is_holding = True
    compiler.op(step.id, "infuse", index, line.basis, line.temperature, line.refers, given)
    compiler.pay(step, index)


def _wash(compiler: Compiler, step: Wash) -> None:
    protein = step.protein_held_pct
    if protein is None and step.kind is WashKind.MILK:
        protein = CASEIN_PCT
    fat = 100.0 if step.fat_held_pct is None else step.fat_held_pct
    compiler.is_holding = True
    compiler.op(
        step.id,
        "wash",
        compiler.number(fat / 100.0),
        compiler.share_or_none(protein),
        compiler.share_or_none(step.acids_held_pct),
    )


def _strain(compiler: Compiler, step: Strain) -> None:
    if step.weighed_g is not None:
        name, liquid = "strain_weighed", compiler.number(step.weighed_g)
    elif step.expected_pct is not None:
        name, liquid = "strain", compiler.number(step.expected_pct / 100.0, step.id, "yield")
    else:
        compiler.problem(step.id, "weigh what was strained, or say what percent is expected")
        return
    kept = compiler.number_or_none(step.leftover_weighed_g)
    brix = compiler.number_or_none(step.measured_brix, step.id, "measured brix")
    acidity = compiler.number_or_none(step.measured_acidity_pct, step.id, "measured acidity")
    compiler.leaves_yield(step.id)
    compiler.op(step.id, name, liquid, kept, _joint_of_strain(compiler, step), brix, acidity)
    compiler.outputs.append(step.leftover_id if step.leftover_id is not None else NONE)
    compiler.is_holding = False


def _joint_of_strain(compiler: Compiler, step: Strain) -> int:
    """Where the worth of main output and leftover stands; ``NONE`` where the main output carries the whole cost."""
    leftover = compiler.book.leftovers.get(step.leftover_id) if step.leftover_id is not None else None
    if leftover is None or compiler.book.settings.joint_cost is JointCost.MAIN:
        return NONE
    return _worth(compiler, leftover)


def _joint_of_take(compiler: Compiler, step: Take) -> int:
    """The same for what is taken; ``NONE`` where it carries its cost by weight."""
    leftover = compiler.book.leftovers.get(step.leftover_id) if step.leftover_id is not None else None
    if leftover is None or leftover.acts_as_id is None:
        return NONE
    if compiler.book.settings.joint_cost is JointCost.MAIN:
        main = compiler.number(1.0)
        compiler.number(0.0)
        return main
    return _worth(compiler, leftover)


def _worth(compiler: Compiler, leftover: Leftover) -> int:
    """Two numbers, what a kilogram of the main output and of the leftover is worth; equal where nobody has said, so that
    the cost goes by weight."""
    main, other = compiler.build.value_per_kg, leftover.value_per_kg
    if compiler.book.settings.joint_cost is not JointCost.VALUE or main is None or other is None:
        main = other = 1.0
    index = compiler.number(main)
    compiler.number(other)
    return index


def _evaporate(compiler: Compiler, step: Heat | Reduce | Dry) -> None:
    kept_pct = _ethanol_kept_pct(compiler, step)
    kept = compiler.share_or_none(kept_pct)
    if step.final_g is not None:
        compiler.op(step.id, "evaporate_to", compiler.number(step.final_g), kept)
    elif step.final_pct is not None:
        compiler.op(step.id, "evaporate_by", compiler.number(step.final_pct / 100.0), kept)
    elif step.final_brix is not None:
        compiler.op(step.id, "evaporate_to_brix", compiler.number(step.final_brix), kept)
    elif kept != NONE:
        compiler.op(step.id, "evaporate_ethanol", kept)


def _ethanol_kept_pct(compiler: Compiler, step: Heat | Reduce | Dry) -> float | None:
    """What the house says stays, else what the published table says for the way and the time."""
    if step.ethanol_kept_pct is not None or not step.ethanol_way:
        return step.ethanol_kept_pct
    if step.ethanol_way not in ways():
        compiler.problem(step.id, f"way of heating not known here: {step.ethanol_way}")
        return None
    if step.duration_s is None and ethanol_kept_pct(step.ethanol_way, 0.0) != ethanol_kept_pct(
        step.ethanol_way, 60.0
    ):
        compiler.problem(step.id, "say how long it is heated: the ethanol that stays depends on it")
        return None
    return ethanol_kept_pct(step.ethanol_way, (step.duration_s or 0.0) / 60.0)


def _ferment(compiler: Compiler, step: Ferment) -> None:
    gas = compiler.number_or_none(step.gas_lost_g, step.id, "gas")
    ph = compiler.number_or_none(step.final_ph)
    if step.kind is FermentKind.LACTIC:
        acidity = compiler.number_or_none(step.final_acidity_pct, step.id, "measured acidity")
        compiler.op(step.id, "ferment_lactic", gas, acidity, ph)
    else:
        brix = compiler.number_or_none(step.final_brix, step.id, "measured brix")
        compiler.op(step.id, "ferment_yeast", gas, brix, ph)


def _adjust(compiler: Compiler, step: Adjust) -> None:
    parts = sum(portion.parts for portion in step.portions)
    if not parts > 0.0:
        compiler.problem(step.id, "say what to adjust it with")
        return
    if step.value is None and step.like_item_id is None:
        compiler.problem(step.id, "say what reading to adjust it to")
        return
    liked_ids = () if step.like_item_id is None else (step.like_item_id,)
    if not all(
        compiler.knows(step.id, item_id)
        for item_id in (*(portion.item_id for portion in step.portions), *liked_ids)
    ):
        return
    liked = NONE if step.like_item_id is None else compiler.line(NONE, step.like_item_id, MASS, 0.0)
    wanted = compiler.number(step.value) if step.like_item_id is None and step.value is not None else NONE
    first = len(compiler.items)
    for portion in step.portions:
        compiler.line(step.id, portion.item_id, MASS, portion.parts / parts)
    aim = (
        step.goal.value if step.goal in (Goal.BRIX, Goal.STRENGTH) else f"{step.goal.value}_{step.per.value}"
    )
    compiler.leaves_yield(step.id)
    compiler.op(step.id, "adjust", aim, wanted, liked, first, len(compiler.items))


def _measure(compiler: Compiler, step: Measurement) -> None:
    measured = compiler.number(step.value, step.id, "measurement")
    compiler.op(step.id, "measure", step.quantity.value, measured, compiler.number(step.gain))


def _take(compiler: Compiler, step: Take) -> None:
    if step.amount.basis is Basis.PERCENT_OF_VESSEL:
        name, number = "take_share", step.amount.number / 100.0
    else:
        unit = compiler.unit(step, step.amount)
        if unit is None or unit[0] not in (MASS, VOLUME):
            compiler.problem(step.id, "take so many g or ml, or a percent of what is in the vessel")
            return
        name = "take_mass" if unit[0] == MASS else "take_volume"
        number = step.amount.number * unit[1]
    compiler.op(step.id, name, compiler.number(number), _joint_of_take(compiler, step))
    compiler.outputs.append(step.leftover_id if step.leftover_id is not None else NONE)


_STEPS: Mapping[type, Callable[[Compiler, Any], None]] = {
    Top: _top,
    Infuse: _infuse,
    Wash: _wash,
    Strain: _strain,
    Heat: _evaporate,
    Reduce: _evaporate,
    Dry: _evaporate,
    Ferment: _ferment,
    Adjust: _adjust,
    Measurement: _measure,
    Take: _take,
    Chill: compile_chill,
    BarStrain: compile_bar_strain,
    Rinse: compile_rinse,
    Carbonate: compile_carbonate,
    Garnish: compile_garnish,
}
