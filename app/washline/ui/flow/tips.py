"""Tooltips that show a name as it was typed, never taken as mark-up."""

from html import escape


def plain_tip(text: str) -> str:
    """A text as a tooltip shows it letter by letter; nothing where there is none."""
    return f"<p>{escape(text)}</p>" if text else ""
