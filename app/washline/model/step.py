"""The steps of a build: what happens to the vessel, one entry each.

Every step has an ``id`` of its own, so that a share can refer to a line whatever its position, and a ``place`` that
orders it within its build. A step that is ``left_out`` is kept, shown struck through, and does nothing.
"""

from msgspec import Struct

from washline.model.amount import Amount


class Step(Struct, frozen=True, kw_only=True, gc=False):
    """What all steps have. ``words`` is the house's own text for the paper: how, with what, in what state."""

    id: int
    build_id: int
    place: float
    words: str = ""
    left_out: bool = False


class Add(Step, frozen=True, kw_only=True, gc=False, tag="add"):
    """A line: an amount of an item goes into the vessel.

    It comes at the temperature at which its item is kept, unless ``temperature_c`` says otherwise (water at 80 °C).
    """

    item_id: int
    amount: Amount
    temperature_c: float | None = None


class Work(Step, frozen=True, kw_only=True, gc=False):
    """Steps that change nothing in the ledger: time, temperature and kit for the paper."""

    duration_s: float | None = None
    temperature_low_c: float | None = None
    temperature_high_c: float | None = None


class Blend(Work, frozen=True, kw_only=True, gc=False, tag="blend"):
    """Blending, stirring or cutting, in words."""


class Rest(Work, frozen=True, kw_only=True, gc=False, tag="rest"):
    """Waiting, covered or not."""


class Note(Work, frozen=True, kw_only=True, gc=False, tag="note"):
    """A sentence for the paper; also a measurement written down in words."""


class Strain(Work, frozen=True, kw_only=True, gc=False, tag="strain"):
    """Splits the vessel into liquid that goes on, a leftover, and a loss on filter and jug.

    ``weighed_g`` is the liquid as weighed; without it the liquid is ``expected_pct`` of the vessel by mass, with the range
    ``low_pct`` to ``high_pct``. ``leftover_weighed_g`` is the leftover as weighed; without it the leftover is all that is
    not liquid. All insoluble solids stay behind, and the liquid in the cake has the composition of the strained liquid.
    """

    weighed_g: float | None = None
    expected_pct: float | None = None
    low_pct: float | None = None
    high_pct: float | None = None
    leftover_id: int | None = None
    leftover_weighed_g: float | None = None


class Evaporate(Work, frozen=True, kw_only=True, gc=False):
    """Water leaves as vapour until the vessel weighs ``final_g``, or ``final_pct`` of what it weighed; with neither,
    nothing leaves. ``ethanol_kept_pct`` is the share of the ethanol that stays: without it all stays until the water
    that is to leave is used up."""

    final_g: float | None = None
    final_pct: float | None = None
    ethanol_kept_pct: float | None = None


class Heat(Evaporate, frozen=True, kw_only=True, gc=False, tag="heat"):
    """Heating, with or without steam."""


class Reduce(Evaporate, frozen=True, kw_only=True, gc=False, tag="reduce"):
    """Boiling down in an open pan."""


class Dry(Evaporate, frozen=True, kw_only=True, gc=False, tag="dry"):
    """Drying in an oven or a dehydrator."""


class Take(Step, frozen=True, kw_only=True, gc=False, tag="take"):
    """An amount of the vessel, as it is, is set aside as an item of its own (``leftover_id``), or poured away."""

    amount: Amount
    leftover_id: int | None = None


class Chill(Work, frozen=True, kw_only=True, gc=False, tag="chill"):
    """Cooling by a bar method, with the water that melts from the ice.

    Of ``melted_g``, ``final_g`` and ``final_ml`` at most one is given: what was weighed or measured wins over the
    method's published dilution. ``count`` with ``count_unit`` is how it is done at the bar ("10 turns", "6 passes").
    """

    method: str
    ice: str = ""
    ice_g: float | None = None
    count: float | None = None
    count_unit: str = ""
    melted_g: float | None = None
    final_g: float | None = None
    final_ml: float | None = None


class Top(Step, frozen=True, kw_only=True, gc=False, tag="top"):
    """A line that lengthens the drink at the end, by an amount or to a mark."""

    item_id: int
    amount: Amount
    temperature_c: float | None = None


class Garnish(Step, frozen=True, kw_only=True, gc=False, tag="garnish"):
    """Something on the glass: it counts in cost, allergens and energy, and in the liquid only if told so."""

    item_id: int
    amount: Amount
    in_liquid: bool = False


Line = Add | Top | Garnish
AnyStep = Add | Blend | Rest | Note | Strain | Heat | Reduce | Dry | Take | Chill | Top | Garnish
