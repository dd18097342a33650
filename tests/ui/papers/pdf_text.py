"""Reads the words of a PDF as Qt writes it: glyphs are turned back into letters through each font's ToUnicode table."""

import re
import zlib
from collections.abc import Iterator


def pdf_words(data: bytes) -> str:
    """All words of the document in the order in which they are painted, with one blank between texts."""
    objects = {int(number): body for number, body in re.findall(rb"(?s)(\d+) 0 obj\s(.*?)endobj", data)}
    tables = {number: _table(objects, body) for number, body in objects.items() if b"/ToUnicode" in body}
    fonts = {
        name.decode(): tables[int(number)]
        for body in objects.values()
        for name, number in re.findall(rb"/(F\d+) (\d+) 0 R", body)
        if int(number) in tables
    }
    return " ".join(text for body in objects.values() for text in _texts(_stream(body), fonts))


def _stream(body: bytes) -> bytes:
    found = re.search(rb"(?s)stream\r?\n(.*?)\r?\nendstream", body)
    if found is None:
        return b""
    return zlib.decompress(found[1]) if b"FlateDecode" in body.split(b"stream")[0] else found[1]


def _table(objects: dict[int, bytes], font: bytes) -> dict[int, str]:
    found = re.search(rb"/ToUnicode (\d+) 0 R", font)
    assert found is not None
    text = _stream(objects[int(found[1])]).decode("latin-1")
    table: dict[int, str] = {}
    for block in re.findall(r"(?s)beginbfrange(.*?)endbfrange", text):
        for first, last, start in re.findall(r"<(\w+)> <(\w+)> <(\w+)>", block):
            for offset in range(int(last, 16) - int(first, 16) + 1):
                letters = bytes.fromhex(start).decode("utf-16-be")
                table[int(first, 16) + offset] = letters[:-1] + chr(ord(letters[-1]) + offset)
        for first, _last, targets in re.findall(r"<(\w+)> <(\w+)> \[(.*?)\]", block):
            for offset, target in enumerate(re.findall(r"<(\w+)>", targets)):
                table[int(first, 16) + offset] = bytes.fromhex(target).decode("utf-16-be")
    for block in re.findall(r"(?s)beginbfchar(.*?)endbfchar", text):
        for glyph, target in re.findall(r"<(\w+)> <(\w+)>", block):
            table[int(glyph, 16)] = bytes.fromhex(target).decode("utf-16-be")
    return table


def _texts(stream: bytes, fonts: dict[str, dict[int, str]]) -> Iterator[str]:
    text = stream.decode("latin-1")
    for block in re.findall(r"(?s)BT(.*?)ET", text):
        font = re.search(r"/(F\d+) ", block)
        table = fonts.get(font[1], {}) if font is not None else {}
        glyphs = "".join(re.findall(r"<([0-9a-fA-F]+)>", block))
        yield "".join(table.get(int(glyphs[at : at + 4], 16), "") for at in range(0, len(glyphs), 4))
