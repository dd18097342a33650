"""The ledger as a table: every figure written, every row as a sentence, the totals and what they mean."""

from dataclasses import dataclass

from washline.presentation.ledger import Account, Ledger
from washline.presentation.ledger_vessel import SMALLEST_G, Fate, Matter, Origin
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    LESS_THAN_LAST_DIGIT,
    UNKNOWN,
    NumberStyle,
    format_contribution,
    format_number,
    with_unit,
)

AT_LEAST = "at least "
COLUMNS = ("g", "sugars, g", "acids, g", "water, g", "share")
TIPS = (
    "Grams, to the tenth of a gram.",
    "Grams of sugars: sucrose, glucose, fructose, lactose, maltose.",
    "Grams of acids by weight, whatever binds them. The acidity of the balance is titratable, as citric acid.",
    "Grams of water.",
    "Percent of all that came out.",
)
_SAID = (Fate.REUSED, Fate.KEPT, Fate.POURED_AWAY, Fate.THROWN)


@dataclass(frozen=True, slots=True)
class LedgerRow:
    """One row: its name, the quiet words behind it, its figures (one a column), its share from 0 to 1, what opens from it,
    and its group."""

    key: str
    name: str
    note: str
    figures: tuple[str, ...]
    share: float
    item_id: int | None
    group: Origin | Fate
    spoken: str


@dataclass(frozen=True, slots=True)
class LedgerTexts:
    """The table. ``closes`` says whether in less out is nothing; ``notes`` are sentences under it."""

    ins: tuple[LedgerRow, ...]
    outs: tuple[LedgerRow, ...]
    all_in: str
    all_out: tuple[str, ...]
    in_less_out: str
    closes: bool
    used: str
    used_tip: str
    notes: tuple[str, ...]
    heads: tuple[str, ...]


def ledger_texts(
    ledger: Ledger, style: NumberStyle = ENGLISH_STYLE, *, is_percent: bool = False
) -> LedgerTexts:
    """The texts of a ledger; with ``is_percent`` masses are percent of all that went in."""
    writer = _Writer(ledger, style, is_percent)
    used, tip = writer.used()
    return LedgerTexts(
        ins=tuple(writer.in_row(row) for row in ledger.ins),
        outs=tuple(writer.out_row(row) for row in ledger.outs),
        all_in=writer.mass(ledger.in_g),
        all_out=(writer.mass(ledger.out_g), *writer.components(ledger.all_out, is_total=True)),
        in_less_out=f"in less out: {with_unit(format_number(ledger.in_less_out_g, 1, style), 'g')}",
        closes=abs(ledger.in_less_out_g) < 0.05,
        used=used,
        used_tip=tip,
        notes=writer.notes(),
        heads=("%", *COLUMNS[1:]) if is_percent else COLUMNS,
    )


class _Writer:
    def __init__(self, ledger: Ledger, style: NumberStyle, is_percent: bool) -> None:
        self._ledger, self._style, self._is_percent = ledger, style, is_percent

    def mass(self, grams: float) -> str:
        """Grams, or percent of all that went in; less than the last digit is a centred dot."""
        whole = self._ledger.in_g
        shown = 100.0 * grams / whole if self._is_percent and whole else grams
        return format_contribution(0.0 if abs(grams) <= SMALLEST_G else shown, 1, self._style)

    def components(self, matter: Matter | None, *, is_total: bool = False) -> tuple[str, str, str]:
        """Sugars, acids and water; a question mark where nobody knows."""
        if matter is None:
            return UNKNOWN, UNKNOWN, UNKNOWN
        return (
            self._component(matter.sugars_g, matter.may_be_sugar_g, 1),
            self._component(matter.acids_g, matter.may_be_acid_g, 2),
            self._component(matter.water_g, 0.0, 1),
        )

    def _component(self, grams: float, may_be_g: float, decimals: int) -> str:
        if may_be_g > 0.5 * 10.0**-decimals:
            return AT_LEAST + format_number(grams, decimals, self._style)
        return format_contribution(0.0 if abs(grams) <= SMALLEST_G else grams, decimals, self._style)

    def in_row(self, row: Account) -> LedgerRow:
        note = row.group.value if row.group in (Origin.MADE, Origin.LEFTOVER) else ""
        mass = self.mass(row.grams)
        spoken = f"In: {row.name}, {mass} {self._unit}" + (f", {row.group.value}" if note else "")
        return LedgerRow(row.key, row.name, note, (mass,), 0.0, row.item_id, row.group, spoken)

    def out_row(self, row: Account) -> LedgerRow:
        note = row.group.value if row.group in _SAID and row.group.value not in row.name else ""
        share = self._ledger.share_pct(row)
        figures = (
            self.mass(row.grams),
            *self.components(row.matter),
            with_unit(format_contribution(share, 1, self._style), "%"),
        )
        words = zip(("sugars", "acids", "water"), figures[1:4], strict=True)
        held = ", ".join(f"{name} {figure}" for name, figure in words if figure)
        behind = f", {note}" if note else ""
        spoken = f"Out: {row.name}{behind}, {figures[0]} {self._unit}, {figures[4]} of all. {held}"
        spoken = spoken.replace(LESS_THAN_LAST_DIGIT, "a trace").replace(UNKNOWN, "not known").strip(" .")
        return LedgerRow(row.key, row.name, note, figures, share / 100.0, row.item_id, row.group, spoken)

    @property
    def _unit(self) -> str:
        return "percent" if self._is_percent else "g"

    def used(self) -> tuple[str, str]:
        """Used of bought, and what that is."""
        used = self._ledger.used
        if used is None:
            return "", ""
        where = "in the glass" if self._ledger.build.is_drink else "in the bottle"
        parts = [f"{self._pct(used.main_pct)} {where}"]
        if used.leftover_g > SMALLEST_G:
            parts.append(f"{self._pct(used.leftover_pct)} in leftovers that are used")
        bought = with_unit(format_number(used.bought_g, 1, self._style), "g")
        tip = f"Of {bought} bought, weighed as it came. What evaporated, was lost or was thrown away is not used."
        return f"used of bought: {self._pct(used.pct)} ({', '.join(parts)})", tip

    def _pct(self, value: float) -> str:
        return with_unit(format_number(value, 1, self._style), "%")

    def notes(self) -> tuple[str, ...]:
        """What does not close per component, and what the table leaves open."""
        found = []
        for one in self._ledger.closings:
            decimals = 2 if one.name == "acids" else 1
            amount = with_unit(format_number(abs(one.grams), decimals, self._style), "g")
            if abs(one.grams) < 0.5 * 10.0**-decimals:
                continue
            way = "less came out than went in" if one.grams > 0.0 else "more came out than went in"
            why = f": {'; '.join(one.why)}" if one.why else ""
            found.append(f"{one.name[:1].upper()}{one.name[1:]} do not close, {amount} {way}{why}.")
        if any(row.matter is None for row in self._ledger.outs):
            found.append("What was trimmed away is weighed; what it holds is not known.")
        found += [f"Not counted: {words}." for words in self._ledger.uncounted]
        return tuple(found)
