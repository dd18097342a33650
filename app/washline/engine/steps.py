"""The fold over steps: a program runs on a block of columns, one drink or ten thousand, with the same bytes in each."""

from collections.abc import Callable

import numpy as np

from washline.engine import (
    adjusting,
    carbonating,
    chilling,
    evaporating,
    fermenting,
    measuring,
    pouring,
    rinsing,
    straining,
)
from washline.engine.program import Op
from washline.engine.run import RANGED, Run
from washline.engine.state import Numbers, empty_state


def run(
    ops: tuple[Op, ...],
    per_gram: Numbers,
    per_unit: Numbers,
    amounts: Numbers,
    numbers: Numbers,
    keep: bool = False,
) -> Run:
    """Runs a program on n columns; with ``keep`` the state after every op stands in ``after``, and what is held then in
    ``held_after``."""
    columns = amounts.shape[1]
    running = Run(
        per_gram,
        per_unit,
        amounts,
        numbers,
        empty_state(columns),
        empty_state(columns),
        np.zeros(columns),
        np.zeros(columns),
        np.full((len(RANGED), columns), np.nan),
        keeps=keep,
        found=[np.zeros(columns)] * amounts.shape[0],
    )
    for index, op in enumerate(ops):
        running.op = index
        _OPERATIONS[str(op[0])](running, *op[1:])
        if keep:
            running.after.append(running.state)
            running.held_after.append(running.held)
    return running


_OPERATIONS: dict[str, Callable[..., None]] = {
    function.__name__: function
    for function in (
        pouring.pour,
        pouring.pour_by,
        pouring.pay,
        pouring.infuse,
        rinsing.garnish,
        pouring.unite,
        pouring.act,
        pouring.taste,
        straining.strain,
        straining.strain_weighed,
        straining.take_share,
        straining.take_mass,
        straining.take_volume,
        evaporating.evaporate_to,
        evaporating.evaporate_by,
        evaporating.evaporate_to_brix,
        evaporating.evaporate_ethanol,
        fermenting.wash,
        fermenting.ferment_lactic,
        fermenting.ferment_yeast,
        adjusting.adjust,
        measuring.measure,
        chilling.chill_on_ice,
        chilling.chill_by_vessel,
        chilling.chill_in_store,
        rinsing.rinse,
        rinsing.spray,
        rinsing.bar_strain,
        carbonating.carbonate,
        carbonating.open_bottle,
        chilling.serve,
    )
}
"""The functions of the steps by the name of their op."""
