"""Changing fields of a row by name, with the fields that only the program may set held fast."""

from collections.abc import Collection, Mapping
from typing import Any, TypeVar

from msgspec import Struct, structs

from washline.document.commands.command import Refusal

Row = TypeVar("Row", bound=Struct)


def replaced(row: Row, fields: Mapping[str, Any], fixed: Collection[str]) -> Row:
    """A copy of a row with other fields.

    Raises ``TypeError`` for a field that the row does not have or that is fixed: that is a fault of the caller.
    """
    wrong = [name for name in fields if name in fixed or name not in row.__struct_fields__]
    if wrong:
        raise TypeError(f"no such field to set in a {type(row).__name__}: {', '.join(wrong)}")
    if "name" in fields:
        fields = {**fields, "name": plain_name(fields["name"])}
    return structs.replace(row, **fields)


def plain_name(name: str) -> str:
    """A name without stray white space; refuses an empty one."""
    plain = " ".join(name.split())
    if not plain:
        raise Refusal("A name is missing.", remedy="Type at least one letter.")
    return plain
