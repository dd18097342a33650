"""The radar as data: axes, shapes and curves. Where the labels stand is ``radar_layout``; painting is the window's."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from washline.presentation.shape import FEWEST_AXES, MOST_AXES, Band, Run, outline, share_radius, value_radius

Values = tuple[float | None, ...]
Spread = tuple[float, float] | None

SOFT_EDGE = ((0.5, 0.12), (1.0, 0.10), (1.5, 0.08), (2.0, 0.07))
"""The soft edge of uncertainty: multiples of one standard uncertainty, and the opacity filled up to each."""

SOFT_EDGE_WHILE_TYPING = ((1.0, 0.18), (2.0, 0.12))
"""The same edge in half the steps: a key press waits for it."""

_SOFT_POINTS_PER_SPAN = 14
_SOFT_POINTS_WHILE_TYPING = 8

BAR_WORDS = {
    "strength": "strong",
    "sweetness": "sweet",
    "acidity": "sour",
    "bitterness": "bitter",
    "fizz": "fizz",
    "length": "volume",
    "chill": "cold",
    "salt": "salty",
}
"""What the bar calls an axis on its paper, by the key of the reading."""


@dataclass(frozen=True)
class RadarAxis:
    """One spoke: a reading against its band.

    ``value`` is ``None`` when it is not known; the label then says ``?``. ``value_text`` is the figure as shown,
    ``state_text`` is empty in band, else the words (*over by 0.7*); ``short_state_text`` is its shorter form for nine
    and ten axes (*over 0.7*). ``parent_text`` is filled when two drinks are compared and both figures are shown.
    ``spoken_text`` replaces the sentence that a screen reader gets; ``tool_tip`` carries the definition.
    ``unit`` is the unit as read aloud.
    Low, ideal, high, step and value are in that unit; their order is checked by ``Band``.
    """

    key: str
    name: str
    value: float | None
    value_text: str
    state_text: str
    low: float
    ideal: float
    high: float
    house_step: float
    unit: str
    short_state_text: str = ""
    parent_text: str = ""
    spoken_text: str = ""
    tool_tip: str = ""

    @property
    def band(self) -> Band:
        """The band of the axis; raises ``ValueError`` when its edges are not in order."""
        return Band(self.low, self.ideal, self.high, self.house_step)

    @property
    def shown_value(self) -> str:
        """The figure, or ``?`` where the reading is not known."""
        return self.value_text or ("?" if self.value is None else "")

    def state_words(self, *, is_dense: bool) -> str:
        """The words of the state; the short ones where nine or ten axes stand close."""
        return (self.short_state_text or self.state_text) if is_dense else self.state_text

    def kept_words(self, *, is_dense: bool) -> str:
        """A text as wide as the words of the state may become, so that nothing moves when they appear."""
        words = self.state_words(is_dense=is_dense)
        if words or self.value is None:
            return words
        return f"{'under' if is_dense else 'under by'} {self.shown_value.partition(' ')[0]}"

    @property
    def is_out(self) -> bool:
        """Whether the reading is known and lies outside its band."""
        return self.value is not None and not self.band.contains(self.value)

    @property
    def sentence(self) -> str:
        """The axis as it is read aloud: name, figure with unit, and where it stands."""
        if self.spoken_text:
            return self.spoken_text
        if self.value is None:
            return f"{self.name} not known"
        figure = self.shown_value if self.unit in self.shown_value else f"{self.shown_value} {self.unit}"
        return f"{self.name} {figure}, {self.state_text or 'in band'}"


@dataclass(frozen=True)
class RadarShape:
    """All that the radar shows at once.

    ``parent``, ``before`` (the shape before typing began) and ``proposal`` hold one value per axis (``None`` = not
    known) or are ``None`` when there is no such shape. ``sigma`` holds per axis one standard uncertainty to the low and
    to the high side in the axis' unit, or ``None``. ``is_empty``: nothing is poured yet, so that only the target stands
    there. ``words_only``: the paper's radar, names without figures. The four names are those of the legend.
    Raises ``ValueError`` for more than ten axes or a list of another length than ``axes``.
    """

    axes: tuple[RadarAxis, ...]
    parent: Values | None = None
    before: Values | None = None
    sigma: tuple[Spread, ...] | None = None
    is_preview: bool = False
    proposal: Values | None = None
    is_empty: bool = False
    words_only: bool = False
    drink_name: str = "this drink"
    parent_name: str = "parent"
    before_name: str = "before typing"
    proposal_name: str = "proposal"
    target_name: str = "target, band"

    def __post_init__(self) -> None:
        if len(self.axes) > MOST_AXES:
            raise ValueError(f"a radar has at most {MOST_AXES} axes, not {len(self.axes)}")
        for values in (self.parent, self.before, self.sigma, self.proposal):
            if values is not None and len(values) != len(self.axes):
                raise ValueError(f"{len(values)} values for {len(self.axes)} axes")

    @property
    def has_radar(self) -> bool:
        """Whether there are axes enough; with fewer than three the strips stand alone."""
        return len(self.axes) >= FEWEST_AXES

    @property
    def is_dense(self) -> bool:
        """Whether it has nine or ten axes, whose labels and ticks are set closer."""
        return len(self.axes) >= MOST_AXES - 1

    @property
    def values(self) -> Values:
        """The drink's own values, one per axis."""
        return tuple(axis.value for axis in self.axes)

    @property
    def has_spread(self) -> bool:
        """Whether any axis has an uncertainty to draw."""
        return any(spread and max(spread) > 0 for spread in self.sigma or ())

    def radii(self, values: Sequence[float | None] | None) -> tuple[float | None, ...]:
        """The radius of each value on its own axis, as a share of the rim; empty without values."""
        if values is None:
            return ()
        return tuple(value_radius(axis.band, value) for axis, value in zip(self.axes, values, strict=True))

    @property
    def sentence(self) -> str:
        """The chart in one sentence for a screen reader: every reading that is out, or that none is."""
        if self.is_empty:
            return "Nothing poured yet; the ring shows the target."
        notes = [axis.sentence for axis in self.axes if axis.is_out or axis.value is None]
        return "; ".join(notes) + "." if notes else f"All {len(self.axes)} readings in band."


def for_paper(shape: RadarShape) -> RadarShape:
    """The paper's radar: the bar's words instead of figures, the drink and its target alone."""
    axes = tuple(
        replace(axis, name=BAR_WORDS.get(axis.key, axis.name.lower()), value_text="", state_text="")
        for axis in shape.axes
    )
    return RadarShape(axes, words_only=True, is_empty=shape.is_empty, drink_name=shape.drink_name)


@dataclass(frozen=True)
class SoftBand:
    """One step of the soft edge: what lies between the two outlines, filled at ``opacity``."""

    opacity: float
    outer: tuple[Run, ...]
    inner: tuple[Run, ...]


@dataclass(frozen=True)
class RadarCurves:
    """The outlines to draw, in shares of the rim; what is not there is an empty tuple. ``drink_radii`` has one per axis."""

    drink_radii: Values
    drink: tuple[Run, ...]
    parent: tuple[Run, ...]
    before: tuple[Run, ...]
    proposal: tuple[Run, ...]
    soft_edge: tuple[SoftBand, ...]


def radar_curves(shape: RadarShape, drink_radii: Sequence[float | None] | None = None) -> RadarCurves:
    """The curves of a shape. ``drink_radii`` stand in for the drink's own while its shape travels after a commit."""
    radii = shape.radii(shape.values) if drink_radii is None else tuple(drink_radii)
    drink = () if shape.is_empty else outline(radii)
    return RadarCurves(
        drink_radii=radii,
        drink=drink,
        parent=outline(shape.radii(shape.parent)),
        before=outline(shape.radii(shape.before)),
        proposal=outline(shape.radii(shape.proposal)),
        soft_edge=_soft_edge(shape, radii) if drink and shape.has_spread else (),
    )


def _soft_edge(shape: RadarShape, radii: Sequence[float | None]) -> tuple[SoftBand, ...]:
    own = shape.radii(shape.values)
    moved = [
        0.0 if radius is None or at_rest is None else radius - at_rest
        for radius, at_rest in zip(radii, own, strict=True)
    ]
    steps: list[SoftBand] = []
    points = _SOFT_POINTS_WHILE_TYPING if shape.is_preview else _SOFT_POINTS_PER_SPAN
    for multiple, opacity in SOFT_EDGE_WHILE_TYPING if shape.is_preview else SOFT_EDGE:
        outer, inner = (
            outline(_shifted(shape, multiple * sign, moved), points_per_span=points) for sign in (1, -1)
        )
        steps.append(SoftBand(opacity, outer, inner))
    return tuple(steps)


def _shifted(shape: RadarShape, multiple: float, moved: Sequence[float]) -> list[float | None]:
    """The radii at value + multiple · sigma of the side, carried along with a travelling shape."""
    shifted: list[float | None] = []
    for axis, spread, travel in zip(shape.axes, shape.sigma or (), moved, strict=True):
        if axis.value is None:
            shifted.append(None)
            continue
        low, high = spread or (0.0, 0.0)
        sigma = high if multiple > 0 else low
        shifted.append(share_radius(axis.band.share(axis.value + multiple * sigma)) + travel)
    return shifted


def shares_between(start: Sequence[float | None], end: Sequence[float | None], done: float) -> Values:
    """Radii on the way from ``start`` to ``end``; what was or is not known jumps. ``done`` runs from 0 to 1."""
    return tuple(
        last if first is None or last is None else first + (last - first) * done
        for first, last in zip(start, end, strict=True)
    )


@dataclass(frozen=True)
class LegendEntry:
    """One key of the legend: ``kind`` is drink, target, parent, before or proposal."""

    kind: str
    text: str


def legend(shape: RadarShape) -> tuple[LegendEntry, ...]:
    """The keys of what is really drawn, in the order of the legend row."""
    entries: list[LegendEntry] = []
    if not shape.is_empty:
        text = "preview" if shape.is_preview else shape.drink_name
        entries.append(
            LegendEntry("drink", f"{text}, ±" if shape.has_spread and not shape.is_preview else text)
        )
    entries.append(LegendEntry("target", shape.target_name))
    others = (
        ("proposal", shape.proposal, shape.proposal_name),
        ("parent", shape.parent, shape.parent_name),
        ("before", shape.before, shape.before_name),
    )
    entries += [LegendEntry(kind, name) for kind, values, name in others if values is not None]
    return tuple(entries)
