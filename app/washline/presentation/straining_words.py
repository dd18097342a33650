"""What a way of straining usually yields, for the papers and beside the field where a house types what it expects."""

from washline.engine.straining import WAYS
from washline.quantity.formatting import NumberStyle, format_range


def usual_yield(way: str, style: NumberStyle) -> str:
    """The usual yield of a way as a range, common practice; empty for a way that has none."""
    known = WAYS.get(way)
    if known is None:
        return ""
    return f"usual {format_range(known.low_pct, known.high_pct, 0, '%', style)}, common practice"
