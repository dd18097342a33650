"""Rows of a house book as values of the model and as columns of tables: what goes where, both ways, to the bit.

One number does not keep its bits: SQLite reads a negative zero as zero, which is equal to it.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import groupby
from math import isfinite
from operator import itemgetter
from typing import Any, Final, get_args

import sqlalchemy as sa
from msgspec import NODEFAULT, Struct, structs

from washline.chemistry.components import COMPONENTS
from washline.model.amount import Amount, Basis, Heft
from washline.model.change import SETTINGS_KEY, Table
from washline.model.house import Calibration, Glass, Ice, Measure, Method, Settings, Swap, Vessel, Weighing
from washline.model.house import Shared as SharedPlace
from washline.model.item import (
    Batch,
    BatchService,
    Build,
    Leftover,
    Making,
    Price,
    RawIngredient,
    Sign,
    StepYield,
    Today,
)
from washline.model.step import (
    Add,
    Adjust,
    BarStrain,
    Blend,
    Carbonate,
    Chill,
    Dry,
    Ferment,
    Garnish,
    Heat,
    Infuse,
    Measurement,
    Muddle,
    Note,
    Portion,
    Reduce,
    Rest,
    Rinse,
    Smoke,
    Strain,
    Take,
    Top,
    Wash,
)
from washline.model.target import Aim, Target
from washline.store.problem import RowRefused
from washline.store.schema import METADATA

Columns = dict[str, Any]
Record = Sequence[Any]
Children = Mapping[str, Mapping[Any, Any]]
"""By name of a child table: the field's value for each key that has rows there."""

AMOUNT_COLUMNS: Final = ("amount_number", "amount_unit", "amount_basis", "amount_typed", "amount_heft")
_BASES: Final = {basis.value: basis for basis in Basis}
_HEFTS: Final = {heft.value: heft for heft in Heft}


@dataclass(frozen=True, slots=True)
class ChildKind:
    """A field of the model that is stored as rows of a table of its own: a tuple of values, one row each, in order."""

    field: str
    sql: sa.Table
    parent: str
    columns: tuple[str, ...]
    element: type[Struct] | None = None
    """What one row makes; ``None``: the single column is the element."""

    @property
    def empty(self) -> Any:
        """The value that has no rows."""
        return ()

    @property
    def is_ordered(self) -> bool:
        """Whether the rows have a position."""
        return True

    def values(self, value: Any) -> list[tuple[Any, ...]]:
        """The columns of each row."""
        if self.element is None:
            return [(element,) for element in value]
        return [tuple(getattr(element, name) for name in self.columns) for element in value]

    def made(self, records: Sequence[Record]) -> Any:
        """The value that these rows say."""
        if self.element is None:
            return tuple(values[0] for values in records)
        return tuple(self.element(*values) for values in records)


@dataclass(frozen=True, slots=True)
class OneOrNone(ChildKind):
    """A value that is there or not: one row, or none."""

    @property
    def empty(self) -> Any:
        """Nothing."""
        return None

    @property
    def is_ordered(self) -> bool:
        """Whether the rows have a position: there is one at most."""
        return False

    def values(self, value: Any) -> list[tuple[Any, ...]]:
        """The columns of the value."""
        return [] if value is None else ChildKind.values(self, (value,))

    def made(self, records: Sequence[Record]) -> Any:
        """The value."""
        return ChildKind.made(self, records)[0]


@dataclass(frozen=True, slots=True)
class BatchOrNone(OneOrNone):
    """How a drink is made ahead, or nothing: words of a list are stored as they are."""

    def values(self, value: Any) -> list[tuple[Any, ...]]:
        """The columns of the batch. Raises RowRefused for a number that is not finite."""
        rows = OneOrNone.values(self, value)
        for row in rows:
            _refuse_not_finite(zip(self.columns, row, strict=True))
        return [tuple(one.value if isinstance(one, Enum) else one for one in row) for row in rows]

    def made(self, records: Sequence[Record]) -> Any:
        """The batch."""
        values = dict(zip(self.columns, records[0], strict=True))
        return Batch(**{**values, "service": BatchService(values["service"])})


@dataclass(frozen=True, slots=True)
class SharedPlaces(ChildKind):
    """Places with the allergens of each: a row per allergen, or one with NULL, numbered by the place's entry."""

    def values(self, value: Any) -> list[tuple[Any, ...]]:
        """The rows of all places."""
        return [
            (entry, shared.place, allergen)
            for entry, shared in enumerate(value)
            for allergen in shared.allergens or (None,)
        ]

    def made(self, records: Sequence[Record]) -> Any:
        """The places."""
        return tuple(
            SharedPlace(place, tuple(row[2] for row in rows if row[2] is not None))
            for (_, place), rows in groupby(records, key=itemgetter(0, 1))
        )


@dataclass(frozen=True, slots=True)
class RowKind:
    """One kind of row: the struct of the model, and the table and columns that hold it."""

    struct: type[Struct]
    table: Table
    sql: sa.Table
    key: str
    fixed: tuple[tuple[str, Any], ...] = ()
    """Columns that say what kind of row it is."""
    children: tuple[ChildKind, ...] = ()
    named: tuple[tuple[str, str], ...] = ()
    """Fields whose column is called otherwise: several kinds of step share one table."""

    def column(self, field: str) -> str:
        """The column that holds a field."""
        return dict(self.named).get(field, field)

    def column_names(self) -> tuple[str, ...]:
        """All columns of a row, without its children."""
        names = [name for name, _ in self.fixed]
        for field in _FIELDS[self.struct]:
            several = {"amount": AMOUNT_COLUMNS, "composition": COMPONENTS}.get(field)
            names.extend(several or (self.column(field),))
        return tuple(dict.fromkeys(names))

    def columns(self, row: Struct) -> Columns:
        """The columns of a row, without its children.

        Raises RowRefused for a number that is not finite: the database would take it for unknown.
        """
        values: Columns = dict(self.fixed)
        names = dict(self.named)
        for field in _FIELDS[self.struct]:
            value = getattr(row, field)
            if field == "amount":
                values.update(zip(AMOUNT_COLUMNS, _amount_values(value), strict=True))
            elif field == "composition":
                values.update(zip(COMPONENTS, value, strict=True))
            else:
                values[names.get(field, field)] = value.value if isinstance(value, Enum) else value
        _refuse_not_finite(values.items())
        return values

    def child_values(self, row: Struct) -> dict[ChildKind, list[tuple[Any, ...]]]:
        """The rows of each child table."""
        return {child: child.values(_elements(row, child.field)) for child in self.children}

    def usual(self) -> Columns:
        """What the columns hold of a row that says nothing special: all that have a usual value."""
        values: Columns = dict(self.fixed)
        for field in structs.fields(self.struct):
            if field.name not in _APART and field.default is not NODEFAULT:
                usual = field.default
                values[self.column(field.name)] = usual.value if isinstance(usual, Enum) else usual
        if "amount" in _FIELDS[self.struct]:
            values["amount_heft"] = Heft.EVEN.value
        return values


def _amount_values(amount: Amount) -> tuple[Any, ...]:
    return amount.number, amount.unit, amount.basis.value, amount.typed, amount.heft.value


def _refuse_not_finite(values: Iterable[tuple[str, Any]]) -> None:
    for name, value in values:
        if type(value) is float and not isfinite(value):
            raise RowRefused.not_finite(name, value)


def _elements(row: Struct, field: str) -> Any:
    if field == "of":
        return row.amount.of  # type: ignore[attr-defined]  # only rows with an amount have this child
    return getattr(row, field)


def _child(
    field: str, name: str, parent: str, *columns: str, element: type[Struct] | None = None
) -> ChildKind:
    return ChildKind(field, METADATA.tables[name], parent, columns, element)


_SETTINGS_CHILDREN = (
    SharedPlaces("shared", METADATA.tables["settings_shared"], "settings_id", ("entry", "place", "allergen")),
    _child("swaps", "settings_swap", "settings_id", "from_id", "to_id", "factor", element=Swap),
)
_RAW_CHILDREN = (
    _child("prices", "raw_price", "raw_id", "per_unit", "unit", "date", "note", element=Price),
    _child("allergens", "raw_allergen", "raw_id", "allergen"),
    _child("may_contain", "raw_may_contain", "raw_id", "allergen"),
    _child("cautions", "raw_caution", "raw_id", "caution"),
    OneOrNone(
        "today", METADATA.tables["raw_today"], "raw_id", ("sugars_pct", "acids_pct", "until", "how"), Today
    ),
)
_BUILD_CHILDREN = (
    _child("added_allergens", "build_allergen", "build_id", "allergen"),
    _child("may_contain", "build_may_contain", "build_id", "allergen"),
    _child("if_off", "build_sign", "build_id", "taste", "remedy", element=Sign),
    BatchOrNone("batch", METADATA.tables["build_batch"], "build_id", Batch.__struct_fields__, Batch),
)
_LEFTOVER_CHILDREN = (_child("may_contain", "leftover_may_contain", "leftover_id", "allergen"),)
_YIELDS = _child("yields", "making_yield", "making_id", "step_id", "before_g", "weighed_g", element=StepYield)
_PORTIONS = _child("portions", "step_portion", "step_id", "item_id", "parts", element=Portion)
_AIMS = _child(
    "aims", "target_aim", "target_id", "reading", "low", "ideal", "high", "is_gate", "source", "note",
    element=Aim,
)  # fmt: skip
_OF = _child("of", "step_base", "step_id", "base_id")


def _kind(
    struct: type[Struct],
    table: Table,
    key: str = "id",
    *,
    fixed: tuple[tuple[str, Any], ...] = (),
    children: tuple[ChildKind, ...] = (),
    named: Mapping[str, str] | None = None,
) -> RowKind:
    names = tuple((named or {}).items())
    return RowKind(struct, table, METADATA.tables[table.value], key, fixed, children, names)


def _step_kind(struct: type[Struct], *children: ChildKind, **named: str) -> RowKind:
    tag = str(struct.__struct_config__.tag)
    return _kind(struct, Table.STEP, fixed=(("kind", tag),), children=children, named=named)


KINDS: Final[dict[type[Struct], RowKind]] = {
    kind.struct: kind
    for kind in (
        _kind(Settings, Table.SETTINGS, fixed=(("id", SETTINGS_KEY),), children=_SETTINGS_CHILDREN),
        _kind(RawIngredient, Table.RAW, children=_RAW_CHILDREN),
        _kind(Build, Table.BUILD, children=_BUILD_CHILDREN),
        _kind(Leftover, Table.LEFTOVER, children=_LEFTOVER_CHILDREN),
        _kind(Target, Table.TARGET, children=(_AIMS,)),
        _kind(Glass, Table.GLASS, "slug"),
        _kind(Method, Table.METHOD, "slug"),
        _kind(Measure, Table.MEASURE, "slug"),
        _kind(Making, Table.MAKING, children=(_YIELDS,)),
        _kind(Ice, Table.ICE, "slug"),
        _kind(Vessel, Table.VESSEL, "slug"),
        _kind(Weighing, Table.WEIGHING),
        _kind(Calibration, Table.CALIBRATION, "slug"),
        *(_step_kind(struct, _OF) for struct in (Add, Infuse, Rinse, Top, Take)),
        _step_kind(Garnish, _OF, way="garnish_way"),
        *(_step_kind(struct) for struct in (Blend, Muddle, Rest, Note, Strain, Heat, Reduce, Dry, Smoke)),
        _step_kind(Chill, by="chill_by"),
        _step_kind(BarStrain, way="bar_strain_way"),
        _step_kind(Carbonate),
        _step_kind(Wash, kind="wash_kind"),
        _step_kind(Ferment, kind="ferment_kind"),
        _step_kind(Adjust, _PORTIONS, value="goal_value"),
        _step_kind(Measurement, value="measured_value"),
    )
}
BY_TABLE: Final[dict[Table, tuple[RowKind, ...]]] = {
    table: tuple(kind for kind in KINDS.values() if kind.table is table) for table in Table
}
CHILD_KINDS: Final = tuple(dict.fromkeys(child for kind in KINDS.values() for child in kind.children))
_APART: Final = {child.field for child in CHILD_KINDS} | {"steps"}
_FIELDS: Final[dict[type[Struct], tuple[str, ...]]] = {
    struct: tuple(name for name in struct.__struct_fields__ if name not in _APART) for struct in KINDS
}


class RowReader:
    """Makes rows of one kind from records whose columns come in the order of ``names``."""

    def __init__(self, kind: RowKind, names: Sequence[str]) -> None:
        self._make = kind.struct
        self._own = tuple(
            (child.field, child.sql.name, child.empty) for child in kind.children if child is not _OF
        )
        fields = _FIELDS[kind.struct]
        self._plain = tuple(name for name in fields if name not in ("amount", "composition"))
        self._pick = _picker(names, [kind.column(field) for field in self._plain])
        self._amount = _picker(names, AMOUNT_COLUMNS) if "amount" in fields else None
        self._composition = _picker(names, COMPONENTS) if "composition" in fields else None
        self._turned = _turns(kind.struct, self._plain)
        self._key = names.index(kind.key)

    def row(self, record: Record, children: Children, shared: "Shared") -> Any:
        """The row of one record, with the children that belong to its key."""
        values = dict(zip(self._plain, self._pick(record), strict=True))
        for name, turn in self._turned:
            values[name] = turn(values[name])
        if self._amount is not None:
            of = children[_OF.sql.name].get(record[self._key], ())
            values["amount"] = shared.amount(self._amount(record), of)
        if self._composition is not None:
            values["composition"] = self._composition(record)
        for field, name, empty in self._own:
            values[field] = children[name].get(record[self._key], empty)
        return self._make(**values)


def _picker(names: Sequence[str], wanted: Sequence[str]) -> Callable[[Record], tuple[Any, ...]]:
    return itemgetter(*(names.index(name) for name in wanted))


def _turns(struct: type[Struct], plain: Sequence[str]) -> tuple[tuple[str, Callable[[Any], Any]], ...]:
    """How words of a list become members of it."""
    types = {field.name: field.type for field in structs.fields(struct) if field.name in plain}
    lists = {
        name: kind
        for name, types_of_one in types.items()
        for kind in (types_of_one, *get_args(types_of_one))
        if isinstance(kind, type) and issubclass(kind, Enum)
    }
    return tuple((name, _turn(kind, types[name] is not kind)) for name, kind in lists.items())


def _turn(kind: type[Enum], may_be_none: bool) -> Callable[[Any], Any]:
    members: dict[Any, Enum | None] = {member.value: member for member in kind}
    if may_be_none:
        members[None] = None
    return members.__getitem__


class Shared:
    """Equal amounts as one object: a book says "45 ml" a thousand times."""

    def __init__(self) -> None:
        self._amounts: dict[tuple[Any, ...], Amount] = {}

    def amount(self, values: tuple[Any, ...], of: tuple[int, ...]) -> Amount:
        """The amount with these columns."""
        if of:
            return _amount(values, of)
        known = self._amounts.get(values)
        if known is None:
            known = self._amounts[values] = _amount(values, of)
        return known


def _amount(values: tuple[Any, ...], of: tuple[int, ...]) -> Amount:
    number, unit, basis, typed, heft = values
    return Amount(number, unit, _BASES[basis], of, typed, _HEFTS[heft])


def kind_of(row: Struct) -> RowKind:
    """The kind of a row."""
    return KINDS[type(row)]
