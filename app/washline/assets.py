"""Finds the files of ``resources/`` and ``db/``: at the top of the source tree, or inside the installed package."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def _folder(name: str) -> Path:
    installed = _PACKAGE / f"_{name}"
    return installed if installed.is_dir() else _PACKAGE.parent.parent / name


def resource(*parts: str) -> Path:
    """The path of a file or folder below ``resources/``."""
    return _folder("resources").joinpath(*parts)


def database_file(*parts: str) -> Path:
    """The path of a file or folder below ``db/`` (migrations and starting content)."""
    return _folder("db").joinpath(*parts)
