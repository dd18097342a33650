"""Rows of a house book as values of the model and as columns of tables: what goes where, both ways, to the bit.

One number does not keep its bits: SQLite reads a negative zero as zero, which is equal to it.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from math import isfinite
from operator import itemgetter
from typing import Any, Final

import sqlalchemy as sa
from msgspec import Struct, structs

from washline.chemistry.components import COMPONENTS
from washline.model.amount import Amount, Basis
from washline.model.change import SETTINGS_KEY, Table
from washline.model.house import Glass, Measure, Method, Settings
from washline.model.item import Build, Leftover, Price, RawIngredient, Sign
from washline.model.step import Add, Blend, Chill, Dry, Garnish, Heat, Note, Reduce, Rest, Strain, Take, Top
from washline.model.target import Aim, Target
from washline.store.problem import RowRefused
from washline.store.schema import METADATA

Columns = dict[str, Any]
Record = Sequence[Any]
Children = Mapping[str, Mapping[Any, tuple[Any, ...]]]
"""By name of a child table: the elements that belong to each key."""

AMOUNT_COLUMNS: Final = ("amount_number", "amount_unit", "amount_basis", "amount_typed")
_BASES: Final = {basis.value: basis for basis in Basis}


@dataclass(frozen=True, slots=True)
class ChildKind:
    """A tuple of the model that is stored as rows of a table of its own, in order."""

    field: str
    sql: sa.Table
    parent: str
    columns: tuple[str, ...]
    element: type[Struct] | None = None
    """What one row makes; ``None``: the single column is the element."""

    def values(self, elements: Iterable[Any]) -> list[tuple[Any, ...]]:
        """The columns of each element."""
        if self.element is None:
            return [(element,) for element in elements]
        return [tuple(getattr(element, name) for name in self.columns) for element in elements]

    def made(self, values: Record) -> Any:
        """The element that these columns say."""
        if self.element is None:
            return values[0]
        return self.element(*values)


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

    def columns(self, row: Struct) -> Columns:
        """The columns of a row, without its children.

        Raises RowRefused for a number that is not finite: the database would take it for unknown.
        """
        values: Columns = dict(self.fixed)
        for field in _FIELDS[self.struct]:
            value = getattr(row, field)
            if field == "amount":
                values.update(zip(AMOUNT_COLUMNS, _amount_values(value), strict=True))
            elif field == "composition":
                values.update(zip(COMPONENTS, value, strict=True))
            else:
                values[field] = value.value if isinstance(value, Enum) else value
        for name, value in values.items():
            if type(value) is float and not isfinite(value):
                raise RowRefused.not_finite(name, value)
        return values

    def child_values(self, row: Struct) -> dict[ChildKind, list[tuple[Any, ...]]]:
        """The rows of each child table."""
        return {child: child.values(_elements(row, child.field)) for child in self.children}


def _amount_values(amount: Amount) -> tuple[Any, ...]:
    return amount.number, amount.unit, amount.basis.value, amount.typed


def _elements(row: Struct, field: str) -> tuple[Any, ...]:
    if field == "of":
        return row.amount.of  # type: ignore[attr-defined, no-any-return]  # only rows with an amount have this child
    return getattr(row, field)  # type: ignore[no-any-return]


def _child(
    field: str, name: str, parent: str, *columns: str, element: type[Struct] | None = None
) -> ChildKind:
    return ChildKind(field, METADATA.tables[name], parent, columns, element)


_RAW_CHILDREN = (
    _child("prices", "raw_price", "raw_id", "per_unit", "unit", "date", "note", element=Price),
    _child("allergens", "raw_allergen", "raw_id", "allergen"),
    _child("cautions", "raw_caution", "raw_id", "caution"),
)
_BUILD_CHILDREN = (
    _child("added_allergens", "build_allergen", "build_id", "allergen"),
    _child("if_off", "build_sign", "build_id", "taste", "remedy", element=Sign),
)
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
) -> RowKind:
    return RowKind(struct, table, METADATA.tables[table.value], key, fixed, children)


def _step_kind(struct: type[Struct], *children: ChildKind) -> RowKind:
    tag = str(struct.__struct_config__.tag)
    return _kind(struct, Table.STEP, fixed=(("kind", tag),), children=children)


KINDS: Final[dict[type[Struct], RowKind]] = {
    kind.struct: kind
    for kind in (
        _kind(Settings, Table.SETTINGS, fixed=(("id", SETTINGS_KEY),)),
        _kind(RawIngredient, Table.RAW, children=_RAW_CHILDREN),
        _kind(Build, Table.BUILD, children=_BUILD_CHILDREN),
        _kind(Leftover, Table.LEFTOVER),
        _kind(Target, Table.TARGET, children=(_AIMS,)),
        _kind(Glass, Table.GLASS, "slug"),
        _kind(Method, Table.METHOD, "slug"),
        _kind(Measure, Table.MEASURE, "slug"),
        *(_step_kind(struct, _OF) for struct in (Add, Top, Garnish, Take)),
        *(_step_kind(struct) for struct in (Blend, Rest, Note, Strain, Heat, Reduce, Dry, Chill)),
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
        self._own = tuple((child.field, child.sql.name) for child in kind.children if child is not _OF)
        fields = _FIELDS[kind.struct]
        self._plain = tuple(name for name in fields if name not in ("amount", "composition"))
        self._pick = _picker(names, self._plain)
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
        for field, name in self._own:
            values[field] = children[name].get(record[self._key], ())
        return self._make(**values)


def _picker(names: Sequence[str], wanted: Sequence[str]) -> Callable[[Record], tuple[Any, ...]]:
    return itemgetter(*(names.index(name) for name in wanted))


def _turns(struct: type[Struct], plain: Sequence[str]) -> tuple[tuple[str, Callable[[Any], Any]], ...]:
    """How words of a list become members of it."""
    types = {field.name: field.type for field in structs.fields(struct) if field.name in plain}
    return tuple(
        (name, {member.value: member for member in kind}.__getitem__)
        for name, kind in types.items()
        if isinstance(kind, type) and issubclass(kind, Enum)
    )


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
    number, unit, basis, typed = values
    return Amount(number, unit, _BASES[basis], of, typed)


def kind_of(row: Struct) -> RowKind:
    """The kind of a row."""
    return KINDS[type(row)]
