"""New inputs from old ones: bytes, words, numbers and lines changed, doubled, moved and taken from elsewhere."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from random import Random

LONGEST = 60_000
_NUMBER = re.compile(rb"\d+")
_WORD = re.compile(rb"[\w.-]+")
_NUMBERS = (
    b"0", b"-1", b"1", b"99", b"0000", b"9999", b"0001", b"1e999", b"9" * 25, b"9" * 400, b"1/0", b"1/" + b"9" * 320,
    b".5", b"-0", b"nan", b"inf", "٣".encode(), "²".encode(), b"31", b"32", b"13", b"366", b"1.7976931348623157e308",
)  # fmt: skip
_PIECES = (
    b"", b"\n", b"\0", b"\xff", "\u2028".encode(), b"\x1b[2J", b"\x85", b":", b": ", b"- ", b"{}", b"[]", b"[[", b"'",
    b'"', b"#", b",", b";", b"\t", b"..", b" ", b"|", b"&a", b"*a", b"!!python/object:os.system", b"---\n", b"~", b"%",
    b"can't tell", b"0001-01-01", b"9999-12-31", b"null", b"true", b"\r\n", b"\xef\xbb\xbf", "\U0001f360".encode(),
    b"../", b"\\", b"?", b"any", b"not", b"could", b"= ", b"/",
)  # fmt: skip

Change = Callable[[bytes, bytes, Random], bytes]


def mutated(content: bytes, other: bytes, chance: Random) -> bytes:
    """The content after one to five changes; `other` is another input to take parts from."""
    for _ in range(1 + int(chance.expovariate(1.0)) % 5):
        change = chance.choice(_CHANGES)
        content = change(content, other, chance)
    return content[:LONGEST]


def _at(content: bytes, chance: Random, longest: int = 0) -> tuple[int, int]:
    start = chance.randint(0, len(content))
    return start, min(len(content), start + chance.randint(0, longest))


def _byte(content: bytes, other: bytes, chance: Random) -> bytes:
    start, _ = _at(content, chance)
    return content[:start] + bytes([chance.randrange(256)]) + content[start + 1 :]


def _piece(content: bytes, other: bytes, chance: Random) -> bytes:
    start, end = _at(content, chance, 4)
    return content[:start] + chance.choice(_PIECES) + content[end:]


def _cut(content: bytes, other: bytes, chance: Random) -> bytes:
    start, end = _at(content, chance, 40)
    return content[:start] + content[end:]


def _end_early(content: bytes, other: bytes, chance: Random) -> bytes:
    return content[: _at(content, chance)[0]]


def _another(pattern: re.Pattern[bytes], known: Sequence[bytes]) -> Change:
    """What the pattern finds becomes something known, or what it finds elsewhere."""

    def change(content: bytes, other: bytes, chance: Random) -> bytes:
        found = list(pattern.finditer(content))
        if not found:
            return content
        place = chance.choice(found)
        new: bytes = chance.choice([*known, *pattern.findall(other if chance.random() < 0.5 else content)] or [b""])
        return content[: place.start()] + new + content[place.end() :]

    return change


def _lines(content: bytes, other: bytes, chance: Random) -> bytes:
    """A run of lines is left out, doubled, moved, indented or taken from another input."""
    lines = content.splitlines(keepends=True) or [b""]
    start = chance.randrange(len(lines))
    run = lines[start : start + 1 + int(chance.expovariate(0.5))]
    rest = lines[:start] + lines[start + len(run) :]
    target = chance.randint(0, len(rest))
    match chance.randrange(5):
        case 0:
            return b"".join(rest)
        case 1:
            return b"".join([*lines[:start], *run * chance.choice((2, 2, 3, 50)), *lines[start:]])
        case 2:
            return b"".join([*rest[:target], *run, *rest[target:]])
        case 3:
            moved = [b"  " + line if chance.random() < 0.5 else line.removeprefix(b"  ") for line in run]
            return b"".join([*lines[:start], *moved, *lines[start + len(run) :]])
    from_there = other.splitlines(keepends=True) or [b""]
    begin = chance.randrange(len(from_there))
    return b"".join([*lines[:start], *from_there[begin : begin + 1 + len(run)], *lines[start:]])


_CHANGES: tuple[Change, ...] = (
    _byte,
    _piece,
    _cut,
    _end_early,
    _lines,
    _lines,
    _another(_NUMBER, _NUMBERS),
    _another(_WORD, ()),
    _another(_WORD, _NUMBERS),
)
