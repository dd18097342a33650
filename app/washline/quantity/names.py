"""Names of drinks and items as search sees them and as files carry them."""

import re
import unicodedata
from collections.abc import Iterable

MOST_BYTES = 120
PART_SEPARATOR = " \u2013 "

_OWN_LETTERS = str.maketrans(
    {
        "ø": "o",
        "đ": "d",
        "ð": "d",
        "ł": "l",
        "ħ": "h",
        "ŧ": "t",
        "ı": "i",
        "æ": "ae",
        "œ": "oe",
        "þ": "th",
        "\u2018": "'",
        "\u2019": "'",
        "\u02bc": "'",
        "\u201c": '"',
        "\u201d": '"',
        "\u2010": "-",
        "\u2011": "-",
        "\u2012": "-",
        "\u2013": "-",
        "\u2014": "-",
        "\u2212": "-",
    }
)
_FORBIDDEN = re.compile(r'[/\\:*?"<>|]')
_RESERVED = re.compile(r"(?:con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(?:\.|$)", re.IGNORECASE)


def fold(text: str) -> str:
    """``text`` for searching: without case, accents, and differences of dash, quote and space."""
    apart = unicodedata.normalize("NFKD", text.casefold()).casefold()
    bare = "".join(character for character in apart if not unicodedata.combining(character))
    return " ".join(bare.translate(_OWN_LETTERS).split())


def safe_file_name(parts: Iterable[str], suffix: str = "", if_empty: str = "unnamed") -> str:
    """A file name that every system takes, of the parts that are not empty: *Quince Ferry – spec card.pdf*.

    Characters that some system forbids are left out, and so are control characters, dots and spaces at the ends; names
    that Windows keeps for devices get an underscore. At most 120 bytes in UTF-8, in Unicode's composed form: where it
    would be longer, the first part is cut. ``suffix`` brings its dot.
    """
    clean = [part for part in map(_clean, parts) if part] or [if_empty]
    behind = "".join(PART_SEPARATOR + part for part in clean[1:]) + suffix
    room = MOST_BYTES - len(behind.encode())
    first = _cut(clean[0], room) if room > 0 else ""
    if not first:
        return _not_reserved(_cut(PART_SEPARATOR.join(clean), MOST_BYTES - len(suffix.encode()) - 1) + suffix)
    return _not_reserved(first + behind)


def _clean(part: str) -> str:
    spaced = _FORBIDDEN.sub(" ", part)
    kept = (
        character for character in spaced if unicodedata.category(character)[0] != "C" or character.isspace()
    )
    return unicodedata.normalize("NFC", " ".join("".join(kept).split())).strip(". ")


def _cut(text: str, most_bytes: int) -> str:
    """The longest beginning that fits, never between a letter and its accents."""
    end = len(text)
    while end and (
        len(text[:end].encode()) > most_bytes or (end < len(text) and unicodedata.combining(text[end]))
    ):
        end -= 1
    return text[:end].strip(". ")


def _not_reserved(name: str) -> str:
    return f"_{name}" if _RESERVED.match(name) else name
