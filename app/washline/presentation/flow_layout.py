"""Where the bars, bands and labels of a flow picture stand: every width to one scale, no label on another.

Each column is a stack of slots, one for every bar with its label; a slot is as high as the higher of the two, so that
nothing in it can meet its neighbour. Slots stand as near as they can to where their bands come from.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from washline.presentation.flow_graph import Band, Flow, Node

Measure = Callable[[str, bool], float]
"""The advance of a text in px, as plain or as strong text."""

BAR = 6.0
LINE = 17.0
SLOT_GAP = 9.0
TEXT_GAP = 8.0
HEAD = 34.0
FOOT = 40.0
MARGIN = 20.0
LATE = 0.64
LATE_GAP = 14.0
NARROWEST_PITCH = 150.0
WIDEST_LABEL = 236.0
LEAST_BAR = 72.0
MOST_BAR = 380.0
MOST_LINES = 2
_SCALE_STEPS = tuple(digit * 10.0**power for power in range(-2, 6) for digit in (1.0, 2.0, 5.0))
_PASSES = 48
ELLIPSIS = "…"


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in px."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """Its lower edge."""
        return self.y + self.height

    def meets(self, other: "Box") -> bool:
        """Whether both cover some place together."""
        return (
            self.x < other.right - 1e-6
            and other.x < self.right - 1e-6
            and self.y < other.bottom - 1e-6
            and other.y < self.bottom - 1e-6
        )


@dataclass(frozen=True, slots=True)
class Piece:
    """A run of text of a label: its left edge and the middle of its line."""

    x: float
    y: float
    text: str
    is_strong: bool
    is_quiet: bool = False


@dataclass(frozen=True, slots=True)
class PlacedNode:
    """A node's bar, and its label with the box around it. A bar of less than a px is a hairline."""

    node: Node
    bar: Box
    pieces: tuple[Piece, ...]
    label: Box


@dataclass(frozen=True, slots=True)
class PlacedBand:
    """A band from the right of one bar to the left of another: upper edges, and the width at both ends."""

    band: Band
    x0: float
    y0: float
    x1: float
    y1: float
    width: float


@dataclass(frozen=True, slots=True)
class Head:
    """What happens at a column."""

    x: float
    text: str
    width: float


@dataclass(frozen=True, slots=True)
class FlowPlaces:
    """The picture laid out. ``width`` and ``height`` are what it needs; ``scale`` is px per gram; the scale bar stands for
    ``scale_g`` grams."""

    width: float
    height: float
    scale: float
    nodes: tuple[PlacedNode, ...]
    bands: tuple[PlacedBand, ...]
    heads: tuple[Head, ...]
    scale_bar: Box
    scale_g: float


@dataclass(frozen=True, slots=True)
class _Columns:
    """Where the bars of each column stand, and how wide labels may be."""

    left: float
    pitch: float
    count: int
    right_room: float
    unit: float
    above_late: frozenset[str]
    """Ends with late nodes under them in their column: the bands of these pass at the right of their labels."""

    def bar_x(self, node: Node) -> float:
        return self.left + self.pitch * (node.column + (LATE if node.is_late else 0.0))

    def room(self, node: Node) -> float:
        """Room for the label of a node, in px."""
        gap = TEXT_GAP * self.unit
        if node.is_source and not node.is_late:
            return self.left - MARGIN * self.unit - gap
        if node.is_late or node.key in self.above_late:
            return LATE * self.pitch - BAR * self.unit - 2 * gap
        if node.column == self.count - 1:
            return self.right_room
        return self.pitch - BAR * self.unit - 2 * gap


@dataclass(frozen=True, slots=True)
class _Label:
    """The lines of a label, each a tuple of (text, is strong, is quiet), and its size."""

    lines: tuple[tuple[tuple[str, bool, bool], ...], ...]
    width: float
    height: float


def layout(flow: Flow, width: float, height: float, measure: Measure, unit: float = 1.0) -> FlowPlaces:
    """Lays a picture out in a width and a height, both in px; it takes more of either where it must."""
    columns = _columns(flow, width, measure, unit)
    labels = {node.key: _label(node, columns.room(node), measure, unit) for node in flow.nodes}
    stack = _Stack(flow, labels, unit)
    room = height - (HEAD + FOOT) * unit
    scale = _scale(stack, room, unit)
    tops, extent = stack.tops(scale)
    shift = HEAD * unit + max(0.0, (room - extent) / 2)
    nodes = tuple(_placed(node, tops[node.key] + shift, scale, columns, labels[node.key], measure, unit)
                  for node in flow.nodes)  # fmt: skip
    needed = max(height, extent + (HEAD + FOOT) * unit)
    right_edge = columns.left + columns.pitch * (columns.count - 1)
    full_width = right_edge + columns.right_room + (BAR + TEXT_GAP + MARGIN) * unit
    scale_g, scale_bar = _scale_bar(scale, needed, unit)
    return FlowPlaces(
        width=max(width, full_width), height=needed, scale=scale, nodes=nodes, bands=_bands(flow, nodes, scale),
        heads=_heads(flow, columns, measure, unit), scale_bar=scale_bar, scale_g=scale_g,
    )  # fmt: skip


def _columns(flow: Flow, width: float, measure: Measure, unit: float) -> _Columns:
    count = len(flow.groups)
    first = [node for node in flow.nodes if node.column == 0]
    last = [node for node in flow.nodes if node.column == count - 1]
    least, most = 60.0 * unit, min(WIDEST_LABEL * unit, 0.24 * width)
    first_width = max((_one_line(node, measure, unit) for node in first), default=0.0)
    last_width = max((_longest_line(node, measure, unit) for node in last), default=0.0)
    left = MARGIN * unit + TEXT_GAP * unit + min(max(first_width, least), max(most, least))
    right = min(max(last_width, least), max(most, least))
    free = width - left - right - (BAR + TEXT_GAP + MARGIN) * unit
    pitch = max(free / max(1, count - 1), NARROWEST_PITCH * unit)
    return _Columns(left, pitch, count, right, unit, frozenset(_above_late(flow)))


def _above_late(flow: Flow) -> Iterator[str]:
    going_on = {band.source for band in flow.bands}
    for group in flow.groups:
        late = [index for index, node in enumerate(group) if node.is_late]
        for index, node in enumerate(group):
            if late and index < late[-1] and node.key not in going_on:
                yield node.key


def _one_line(node: Node, measure: Measure, unit: float) -> float:
    return measure(node.name, False) + measure(node.figure, True) + TEXT_GAP * unit


def _longest_line(node: Node, measure: Measure, unit: float) -> float:
    return max(_one_line(node, measure, unit), *(measure(note, False) for note in node.notes), 0.0)


def _label(node: Node, room: float, measure: Measure, unit: float) -> _Label:
    """A label in its room: figure and name in one line where they fit, else the name under it in two at most."""
    figure = (node.figure, True, False)
    lines: list[tuple[tuple[str, bool, bool], ...]]
    if not node.name:
        lines = [(figure,)]
    elif _one_line(node, measure, unit) <= room:
        name = (node.name, False, False)
        lines = [(name, figure) if node.is_source else (figure, name)]
    elif node.is_source and not node.is_late:
        rest = room - measure(node.figure, True) - TEXT_GAP * unit
        lines = [((shortened(node.name, rest, measure), False, False), figure)]
    else:
        first = room - measure(node.figure, True) - TEXT_GAP * unit
        lines = _wrapped(node, figure, 0.0 if node.is_late else first, room, measure)
    lines += [((shortened(note, room, measure), False, True),) for note in node.notes]
    gap = TEXT_GAP * unit
    widths = [
        sum(measure(text, strong) for text, strong, _ in line) + gap * (len(line) - 1) for line in lines
    ]
    return _Label(tuple(lines), max(widths), LINE * unit * len(lines))


def _wrapped(
    node: Node, figure: tuple[str, bool, bool], first: float, room: float, measure: Measure
) -> list[tuple[tuple[str, bool, bool], ...]]:
    """The figure with as much of the name as fits behind it, the rest beneath."""
    words, begun = node.name.split(" "), ""
    while words and measure(f"{begun} {words[0]}".strip(), False) <= first:
        begun = f"{begun} {words.pop(0)}".strip()
    lines: list[tuple[tuple[str, bool, bool], ...]]
    lines = [(figure, (begun, False, False)) if begun else (figure,)]
    for number in range(MOST_LINES if not begun else MOST_LINES - 1):
        if not words:
            break
        line = ""
        is_last = number == (MOST_LINES if not begun else MOST_LINES - 1) - 1
        while words and (not line or measure(f"{line} {words[0]}", False) <= room):
            line = f"{line} {words.pop(0)}".strip()
        text = " ".join([line, *words]) if is_last else line
        lines.append(((shortened(text, room, measure), False, False),))
    return lines


def shortened(text: str, room: float, measure: Measure) -> str:
    """A text cut to a room, with a mark that it is."""
    if measure(text, False) <= room:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if measure(text[:middle].rstrip(" ,") + ELLIPSIS, False) <= room:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip(" ,") + ELLIPSIS if low else ELLIPSIS


class _Stack:
    """The slots of all columns; ``tops`` places them for a scale."""

    def __init__(self, flow: Flow, labels: Mapping[str, _Label], unit: float) -> None:
        self._flow, self._labels, self._unit = flow, labels, unit
        place = {node.key: index for index, node in enumerate(flow.nodes)}
        self._outs: dict[str, list[Band]] = {node.key: [] for node in flow.nodes}
        self._ins: dict[str, list[Band]] = {node.key: [] for node in flow.nodes}
        for band in flow.bands:
            self._outs[band.source].append(band)
            self._ins[band.target].append(band)
        for bands in self._outs.values():
            bands.sort(key=lambda band: place[band.target])
        for bands in self._ins.values():
            bands.sort(key=lambda band: place[band.source])
        self._late = {node.key: node.is_late for node in flow.nodes}
        self.total_g = max((node.grams for node in flow.nodes), default=0.0)

    def tops(self, scale: float) -> tuple[dict[str, float], float]:
        """The upper edge of each bar, the highest slot at 0, and how high all are together."""
        bars: dict[str, float] = {}
        highest, lowest = 0.0, 0.0
        for index, group in enumerate(self._flow.groups):
            bases = [self._height(node, scale) for node in group]
            heights = [base + self._below(group, place) for place, base in enumerate(bases)]
            wished = self._wished(group, heights, bars, scale, is_first=index == 0)
            weights = [0.02 if node.is_late else max(node.grams * scale, 1.0) for node in group]
            placed = stacked(wished, heights, weights, SLOT_GAP * self._unit)
            for node, top, base in zip(group, placed, bases, strict=True):
                bars[node.key] = top + (base - node.grams * scale) / 2
                highest, lowest = min(highest, top), max(lowest, top + base)
        return {key: top - highest for key, top in bars.items()}, lowest - highest

    def _below(self, group: Sequence[Node], place: int) -> float:
        """More room between a late node and one whose band rises or falls beside it."""
        is_between = group[place].is_late and place + 1 < len(group) and not group[place + 1].is_late
        return LATE_GAP * self._unit if is_between else 0.0

    def _height(self, node: Node, scale: float) -> float:
        label = self._labels[node.key].height
        return max(node.grams * scale, label)

    def _wished(
        self,
        group: Sequence[Node],
        heights: Sequence[float],
        bars: Mapping[str, float],
        scale: float,
        *,
        is_first: bool,
    ) -> list[float]:
        """Where the top of each slot would best be: a bar at the height of what comes in, a late source beside its
        neighbour."""
        if is_first:
            return [0.0] * len(group)
        found: list[float | None] = []
        for node, height in zip(group, heights, strict=True):
            ins = self._ins[node.key]
            found.append(None if not ins else self._wish(ins, bars, scale, node.grams * scale, height))
        gap = SLOT_GAP * self._unit
        for index in range(len(found) - 2, -1, -1):
            after = found[index + 1]
            is_above = all(one is None for one in found[: index + 1])
            if found[index] is None and after is not None and is_above:
                found[index] = after - gap - heights[index]
        for index in range(1, len(found)):
            before = found[index - 1]
            if found[index] is None and before is not None:
                found[index] = before + heights[index - 1] + gap
        return [0.0 if one is None else one for one in found]

    def _wish(
        self, ins: Sequence[Band], bars: Mapping[str, float], scale: float, bar: float, height: float
    ) -> float:
        """The top of a slot in the middle of what comes in; what passes under late nodes arrives below them."""
        top = self._middle(ins, bars, scale) - height / 2
        late = [band for band in ins if self._late[band.source]]
        if not late or len(late) == len(ins) or not self._late[ins[0].source]:
            return top
        lowest = max(bars[band.source] + band.grams * scale for band in late)
        joined = sum(band.grams for band in late) * scale
        return max(top, lowest + LATE_GAP / 2 * self._unit - joined - (height - bar) / 2)

    def _middle(self, ins: Sequence[Band], bars: Mapping[str, float], scale: float) -> float:
        total = sum(band.grams for band in ins)
        return (
            sum(band.grams * (self._leaves(band, bars, scale) + band.grams * scale / 2) for band in ins)
            / total
        )

    def _leaves(self, band: Band, bars: Mapping[str, float], scale: float) -> float:
        """The upper edge of a band where it leaves its source."""
        top = bars[band.source]
        for one in self._outs[band.source]:
            if one is band:
                break
            top += one.grams * scale
        return top


def stacked(
    wished: Sequence[float], heights: Sequence[float], weights: Sequence[float], gap: float
) -> list[float]:
    """Tops of slots in their order, none on another, as near to the wished ones as can be: least squares under the order,
    by pooling neighbours (Barlow and others, *Statistical Inference under Order Restrictions*, 1972)."""
    offsets, total = [], 0.0
    for height in heights:
        offsets.append(total)
        total += height + gap
    pools: list[list[float]] = []
    for wish, offset, weight in zip(wished, offsets, weights, strict=True):
        pools.append([wish - offset, weight, 1.0])
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            value, mass, count = pools.pop()
            before = pools[-1]
            before[0] = (before[0] * before[1] + value * mass) / (before[1] + mass)
            before[1] += mass
            before[2] += count
    values = [pool[0] for pool in pools for _ in range(int(pool[2]))]
    return [value + offset for value, offset in zip(values, offsets, strict=True)]


def _scale(stack: _Stack, room: float, unit: float) -> float:
    """The largest scale at which everything fits; never so small that the largest bar cannot be read."""
    if stack.total_g <= 0.0:
        return 0.0
    low = LEAST_BAR * unit / stack.total_g
    high = max(min(room, MOST_BAR * unit), LEAST_BAR * unit) / stack.total_g
    if stack.tops(low)[1] > room:
        return low
    for _ in range(_PASSES):
        middle = (low + high) / 2
        if stack.tops(middle)[1] <= room:
            low = middle
        else:
            high = middle
    return low


def _placed(
    node: Node, top: float, scale: float, columns: _Columns, label: _Label, measure: Measure, unit: float
) -> PlacedNode:
    bar = Box(columns.bar_x(node), top, BAR * unit, node.grams * scale)
    gap, line = TEXT_GAP * unit, LINE * unit
    is_tall = bar.height > label.height + 2 * gap and not node.is_source
    y = bar.y + gap if is_tall else bar.y + bar.height / 2 - label.height / 2
    left = bar.x - gap - label.width if node.is_source else bar.right + gap
    pieces: list[Piece] = []
    for number, texts in enumerate(label.lines):
        width = sum(measure(text, strong) for text, strong, _ in texts) + gap * (len(texts) - 1)
        x = left + label.width - width if node.is_source else left
        for text, strong, quiet in texts:
            pieces.append(Piece(x, y + line * (number + 0.5), text, strong, quiet))
            x += measure(text, strong) + gap
    return PlacedNode(node, bar, tuple(pieces), Box(left, y, label.width, label.height))


def _bands(flow: Flow, nodes: Sequence[PlacedNode], scale: float) -> tuple[PlacedBand, ...]:
    """Bands in the order of their ends, so that none crosses another at a bar."""
    bars = {placed.node.key: placed.bar for placed in nodes}
    place = {placed.node.key: index for index, placed in enumerate(nodes)}
    leaves = {key: bar.y for key, bar in bars.items()}
    starts: dict[tuple[str, str], float] = {}
    for band in sorted(flow.bands, key=lambda one: place[one.target]):
        starts[band.source, band.target] = leaves[band.source]
        leaves[band.source] += band.grams * scale
    arrives = {key: bar.y for key, bar in bars.items()}
    placed = []
    for band in sorted(flow.bands, key=lambda one: place[one.source]):
        source, target = bars[band.source], bars[band.target]
        placed.append(PlacedBand(band, source.right, starts[band.source, band.target], target.x,
                                 arrives[band.target], band.grams * scale))  # fmt: skip
        arrives[band.target] += band.grams * scale
    return tuple(placed)


def _heads(flow: Flow, columns: _Columns, measure: Measure, unit: float) -> tuple[Head, ...]:
    heads = []
    for column, text in enumerate(flow.heads):
        if text:
            room = columns.pitch - 2 * TEXT_GAP * unit
            short = shortened(text, room, measure)
            heads.append(
                Head(columns.left + columns.pitch * column + BAR * unit / 2, short, measure(short, False))
            )
    return tuple(heads)


def _scale_bar(scale: float, height: float, unit: float) -> tuple[float, Box]:
    """The largest round number of grams that fits into the foot."""
    most = (FOOT - 16.0) * unit
    fitting = [grams for grams in _SCALE_STEPS if grams * scale <= most]
    grams = float(fitting[-1]) if fitting else float(_SCALE_STEPS[0])
    length = grams * scale
    return grams, Box(MARGIN * unit, height - 8.0 * unit - length, 8.0 * unit, length)
