"""Where the radar stands in its pane: the radius is solved so that every measured label lies inside and none meet."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from washline.presentation.shape import axis_direction

SMALLEST_RADIUS = 72.0
LARGEST_RADIUS = 160.0
LABEL_GAP = 15.0
SPARE = 8.0
STATE_GAP = 5.0
BOX_GAP = 2.0
BISECTIONS = 24

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class LabelWidths:
    """The measured widths of one label's texts, in pixels; zero for a text that is never shown.

    ``kept_state`` is room kept for *over by 0.7* even while the reading is in band, so that nothing moves when a
    figure does; ``state`` is the width of the words that stand there now. ``first_word`` is the width of the name's
    first word. With ``parent`` two figures are shown.
    """

    name: float
    first_word: float
    value: float
    state: float
    kept_state: float = 0.0
    parent: float = 0.0


@dataclass(frozen=True)
class LabelPlace:
    """Where one label stands. ``x`` is its left edge, centre or right edge for ``side`` 1, 0, -1; ``top`` its top.

    ``value_rows`` is 2 where two figures are stacked. ``state_is_inline``: the words of the state stand beside the
    figure instead of below it; ``figure_gives_way``: figure and words are centred as one, where labels stand too close
    for the figure to keep its place. ``box`` is left, top, right, bottom of all that may be written there.
    """

    x: float
    top: float
    side: int
    value_rows: int
    state_is_inline: bool
    figure_gives_way: bool
    box: Box


@dataclass(frozen=True)
class RadarLayout:
    """A solved place: centre, rim radius and labels in pixels of the pane; ``is_elided``: names cut to one word."""

    radius: float
    x: float
    y: float
    labels: tuple[LabelPlace, ...]
    is_elided: bool

    def axis_point(self, index: int, radius: float) -> tuple[float, float]:
        """The place of a share of the rim on an axis."""
        x, y = axis_direction(index, len(self.labels))
        return self.x + x * radius * self.radius, self.y + y * radius * self.radius


@dataclass(frozen=True)
class Pane:
    """The room of a radar: width and height in pixels, ``unit`` (1 at 100 %), ``line_height`` of its text.

    ``words_only`` is the paper's radar (one line a label, and it may be smaller than in the window).
    """

    width: float
    height: float
    unit: float
    line_height: float
    words_only: bool = False

    @property
    def smallest_radius(self) -> float:
        """The radius below which names are elided; a paper has no table beside it, so there it may be half."""
        return SMALLEST_RADIUS * self.unit * (0.5 if self.words_only else 1.0)


def solve_layout(
    pane: Pane, labels: Sequence[LabelWidths], keep: RadarLayout | None = None
) -> RadarLayout | None:
    """The largest radius for which every label lies in the pane and no two meet; ``None`` when there is none.

    ``keep`` is the place held so far: while a figure is being typed it stays as long as everything still fits, so that
    the shape moves and the plate does not. Where room is scarce the kept room is given up first, then names are cut to
    their first word, and then the radar is given up.
    """
    return _solved(pane, tuple(labels), keep)


@lru_cache(maxsize=64)
def _solved(pane: Pane, labels: tuple[LabelWidths, ...], keep: RadarLayout | None) -> RadarLayout | None:
    """The same labels in the same room stand in the same place: kept, for a view is shown once more with its spread."""
    if keep is not None and len(keep.labels) == len(labels):
        kept = _labels_for(pane, labels, keep)
        if kept is not None:
            return kept
    whole = _solve(pane, labels, keeps_room=True) or _solve(pane, labels)
    if whole is not None:
        return whole
    cut = _solve(pane, _cut(labels))
    return replace(cut, is_elided=True) if cut else None


def _cut(labels: Sequence[LabelWidths]) -> list[LabelWidths]:
    return [replace(label, name=label.first_word) for label in labels]


def _labels_for(pane: Pane, labels: Sequence[LabelWidths], keep: RadarLayout) -> RadarLayout | None:
    widths = _cut(labels) if keep.is_elided else list(labels)
    places = [
        _place(pane, label, index, len(widths), keep.radius, keeps_room=False)
        for index, label in enumerate(widths)
    ]
    placed = _moved(places, keep.x, keep.y)
    return replace(keep, labels=placed) if _is_inside(pane, placed) and not _meet(placed) else None


def _solve(pane: Pane, labels: Sequence[LabelWidths], *, keeps_room: bool = False) -> RadarLayout | None:
    def places_at(radius: float) -> tuple[LabelPlace, ...]:
        return tuple(
            _place(pane, label, index, len(labels), radius, keeps_room=keeps_room)
            for index, label in enumerate(labels)
        )

    low, high = pane.smallest_radius, LARGEST_RADIUS * pane.unit
    if _centre(pane, places_at(low), low) is None:
        return None
    if _centre(pane, places_at(high), high) is None:
        for _ in range(BISECTIONS):
            middle = (low + high) / 2
            fits = _centre(pane, places_at(middle), middle) is not None
            low, high = (middle, high) if fits else (low, middle)
        radius = low
    else:
        radius = high
    places = places_at(radius)
    centre = _centre(pane, places, radius)
    if centre is None or _meet(places):
        return None
    return RadarLayout(radius, *centre, _moved(places, *centre), is_elided=False)


def _place(
    pane: Pane, label: LabelWidths, index: int, count: int, radius: float, *, keeps_room: bool
) -> LabelPlace:
    """The label of one axis, relative to the centre."""
    across, down = axis_direction(index, count)
    reach = radius + LABEL_GAP * pane.unit
    side = 0 if abs(across) < 0.2 else int(math.copysign(1, across))
    value_rows = 0 if pane.words_only else (2 if label.parent and abs(across) > 0.8 else 1)
    # Below a steep label of the upper half lies the spoke's end, where a vertex far out would meet the words.
    is_steep_above = down < 0 and abs(across) <= 0.8
    state_is_inline = side == 0 or count >= 9 or is_steep_above
    rows = 1 + value_rows
    block = rows * pane.line_height
    # Level labels are centred on their spoke's end, steep ones stand off it, with no jump between.
    centre_y = reach * down + abs(down) ** 3 * math.copysign(block / 2, down)
    top = centre_y - block / 2
    has_state_row = not state_is_inline and not pane.words_only
    bottom = top + block + (pane.line_height if has_state_row else 0.0)
    # Room is kept where it costs little: below a figure, and beside those straight up and down.
    kept = label.kept_state if keeps_room and (side == 0 or not state_is_inline) else 0.0
    state = max(label.state, kept) if value_rows else 0.0
    gives_way = side == 0 and count >= 9
    x = reach * across if side else 0.0
    place = LabelPlace(x, top, side, value_rows, state_is_inline, gives_way, (x, top, x, bottom))
    left, right = _extents(pane, replace(label, state=state), place)
    return replace(place, box=(x - left, top, x + right, bottom))


def _extents(pane: Pane, label: LabelWidths, place: LabelPlace) -> tuple[float, float]:
    """How far a label reaches to the left and to the right of its anchor."""
    gap = STATE_GAP * pane.unit if label.state else 0.0
    figures = max(label.value, label.parent) if place.value_rows == 2 else label.value + label.parent
    beside = figures + gap + label.state if place.state_is_inline else figures
    if place.figure_gives_way:
        half = max(label.name, beside) / 2
        return half, half
    if place.side == 0:
        half = max(label.name, figures) / 2
        return half, max(half, beside - figures / 2)
    below = 0.0 if place.state_is_inline else label.state
    width = max(label.name, beside, below)
    return (0.0, width) if place.side > 0 else (width, 0.0)


def _centre(pane: Pane, places: Sequence[LabelPlace], radius: float) -> tuple[float, float] | None:
    """The centre nearest to the pane's own for which all fits with room to spare."""
    spare = SPARE * pane.unit
    left = max(radius, *(-place.box[0] for place in places)) + spare
    top = max(radius, *(-place.box[1] for place in places)) + spare
    right = pane.width - max(radius, *(place.box[2] for place in places)) - spare
    bottom = pane.height - max(radius, *(place.box[3] for place in places)) - spare
    if left > right or top > bottom:
        return None
    return min(max(pane.width / 2, left), right), (top + bottom) / 2


def _moved(places: Sequence[LabelPlace], x: float, y: float) -> tuple[LabelPlace, ...]:
    return tuple(
        replace(
            place,
            x=place.x + x,
            top=place.top + y,
            box=(place.box[0] + x, place.box[1] + y, place.box[2] + x, place.box[3] + y),
        )
        for place in places
    )


def _is_inside(pane: Pane, places: Sequence[LabelPlace]) -> bool:
    spare = SPARE * pane.unit - 1e-6
    return all(
        place.box[0] >= spare
        and place.box[1] >= spare
        and place.box[2] <= pane.width - spare
        and place.box[3] <= pane.height - spare
        for place in places
    )


def _meet(places: Sequence[LabelPlace]) -> bool:
    return any(
        one.box[0] < other.box[2] + BOX_GAP
        and other.box[0] < one.box[2] + BOX_GAP
        and one.box[1] < other.box[3]
        and other.box[1] < one.box[3]
        for index, one in enumerate(places)
        for other in places[index + 1 :]
    )
