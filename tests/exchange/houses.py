"""Finds builds in a house book and spoils build files, for the tests of files."""

import json
from typing import Any

from washline.exchange.build_file import write_build
from washline.model.book import HouseBook
from washline.model.item import Build, RawIngredient


def build_named(book: HouseBook, name: str) -> Build:
    """The build of that name."""
    return next(build for build in book.builds.values() if build.name == name)


def raw_of(book: HouseBook, slug: str) -> RawIngredient:
    """The raw ingredient of that slug."""
    return next(raw for raw in book.raws.values() if raw.slug == slug)


def as_json(book: HouseBook, name: str) -> dict[str, Any]:
    """The build file of a build as plain values, to spoil."""
    found: dict[str, Any] = json.loads(write_build(book, build_named(book, name).id))
    return found


def as_bytes(value: object) -> bytes:
    """Plain values as a file."""
    return json.dumps(value).encode()
