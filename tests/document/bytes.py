"""A whole house book as bytes, so that two of them can be compared to the last bit."""

from dataclasses import fields

import msgspec

from washline.model.book import HouseBook


def bytes_of(book: HouseBook) -> bytes:
    """The book as JSON, its rows in the order of their keys. ``top_id`` is left out: ids once given are not given again
    after an undo."""
    rows = {field.name: getattr(book, field.name) for field in fields(book) if field.name != "top_id"}
    return msgspec.json.encode(
        {name: sorted(value.items()) if isinstance(value, dict) else value for name, value in rows.items()}
    )
