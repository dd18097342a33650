"""Writes rows as JSON: the same bytes for equal rows."""

import math
from typing import Any

import msgspec
from msgspec import structs

from washline.exchange.row_types import FileRow
from washline.problem import UserError


def written(row: FileRow, name: str) -> bytes:
    """A file that holds one row, indented, in the order of its fields; a field at its usual value is left out.

    What is written can be read: raises ``UserError`` for a value that the format does not allow, and for a number that
    JSON cannot hold, which would become null and so mean not known. ``name`` says what cannot be written.
    """
    try:
        # Read back, so that a whole number in the place of a decimal one is written like any other.
        checked = msgspec.convert(_plain(row, "$", name), type(row), strict=True)
    except msgspec.ValidationError as error:
        raise UserError(f"{name} cannot be written.", f"{error}.", "Type that value anew.") from error
    return msgspec.json.format(msgspec.json.encode(_plain(checked, "$", name)), indent=2) + b"\n"


def _plain(value: Any, path: str, name: str) -> Any:
    if isinstance(value, FileRow):
        return _plain_row(value, path, name)
    if isinstance(value, tuple):
        return [_plain(one, f"{path}[{index}]", name) for index, one in enumerate(value)]
    if isinstance(value, float) and not math.isfinite(value):
        raise UserError(f"{name} cannot be written.", f"The number at {path} is not finite.", "Type it anew.")
    return value


def _plain_row(row: FileRow, path: str, name: str) -> dict[str, Any]:
    config = row.__struct_config__
    result: dict[str, Any] = {config.tag_field: config.tag} if config.tag_field else {}
    for field in structs.fields(row):
        value = getattr(row, field.name)
        # msgspec itself leaves a field out only where it is the very same object as the default.
        if value != field.default:
            result[field.encode_name] = _plain(value, f"{path}.{field.name}", name)
    return result
