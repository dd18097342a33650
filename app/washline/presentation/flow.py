"""The flow picture of a ledger: what went in at the left, what became of it at the right.

Where each node stands is the business of ``flow_layout``.
"""

from washline.engine.trace import Trace
from washline.presentation.flow_drink import DrinkSketch
from washline.presentation.flow_graph import Flow
from washline.presentation.flow_part import PartSketch
from washline.presentation.ledger import problem_of
from washline.presentation.ledger_shares import House, Users
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle


def flow_of(
    trace: Trace,
    users: Users,
    style: NumberStyle = ENGLISH_STYLE,
    *,
    follows: bool = True,
    is_percent: bool = False,
) -> Flow:
    """The picture of a build; without nodes where nothing is in the vessel or it cannot be computed."""
    house = House(trace.book, trace, users, style)
    vessel = house.vessel(trace.build.id)
    problem = problem_of(vessel)
    if problem or vessel.is_empty:
        return Flow(trace.build.name, "", (), (), (), problem)
    sketch = DrinkSketch(house) if trace.build.is_drink else PartSketch(house, follows=follows)
    sketch.draw(vessel)
    return sketch.flow(is_percent=is_percent)
