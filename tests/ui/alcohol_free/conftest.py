"""The demo house in a file, for the sheet of an alcohol-free version."""

from tests.ui.twist.conftest import bench

__all__ = ["bench"]
