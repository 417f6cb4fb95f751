"""Reading one YAML file into plain values, each with its place; anything unsafe or unreadable is refused."""

from __future__ import annotations

import os
import re
import stat
from codecs import BOM_UTF8
from collections.abc import Sequence
from functools import cached_property
from pathlib import Path

from assistant.model.place import BadInput, Place, Problem, refuse
from assistant.rulebook.names import quoted
from assistant.rulebook.nodes import Node, Plain, compose, lines_of

BIGGEST = 1_000_000  # bytes in one file; far beyond any rulebook written by hand
MOST_PROBLEMS = 100
"""How many problems are told of one rulebook or case."""

_NOT_TEXT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ufffe\uffff]")
_UTF16 = (b"\xff\xfe", b"\xfe\xff")


class Document:
    """One file as plain values, with the place of each value and key."""

    def __init__(self, file: str, raw: bytes, text: str, root: Node) -> None:
        self.file = file
        self.raw = raw
        self.text = text
        self.root = root

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """The lines of the file, which only problems need."""
        return lines_of(self.text)

    @property
    def data(self) -> Plain:
        """The file's values: dicts, lists, text, numbers, true/false, None."""
        return self.root.data

    def place(self, keypath: tuple[str | int, ...], of_key: bool = False) -> Place:
        """Where a value, or the key that names it, starts. Raises `KeyError` when there is none."""
        node = self.node(keypath)
        return self.at_key(node) if of_key else self.at(node)

    def node(self, keypath: tuple[str | int, ...]) -> Node:
        """The value under a path of keys and list positions. Raises `KeyError` when there is none."""
        node = self.root
        for step in keypath:
            if isinstance(step, str) and node.entries is not None:
                node = node.entries[step]
            elif isinstance(step, int) and node.items is not None and step < len(node.items):
                node = node.items[step]
            else:
                raise KeyError(keypath)
        return node

    def at(self, node: Node) -> Place:
        """Where a value starts."""
        return Place(self.file, node.line, node.column)

    def at_key(self, node: Node) -> Place:
        """Where the key of a value starts; for values without a key, the value."""
        return Place(self.file, node.key_line, node.key_column) if node.key_line else self.at(node)

    def excerpt(self, place: Place) -> tuple[str, ...]:
        """The line at a place after the one above it; nothing when the place has no line."""
        return excerpt(self.lines, place)

    def problem(self, code: str, place: Place, message: str, hint: str = "") -> Problem:
        """A problem at a place in this file, with the lines it stands in."""
        return Problem(code, place, message, hint, self.excerpt(place))


def excerpt(lines: tuple[str, ...], place: Place) -> tuple[str, ...]:
    """Up to two lines of source, the second the one at the place."""
    if not 0 < place.line <= len(lines):
        return ()
    return lines[max(0, place.line - 2) : place.line]


def stop_at_many(problems: Sequence[Problem]) -> None:
    """Look no further once there are more problems than anybody reads. Raises `BadInput`."""
    if len(problems) >= MOST_PROBLEMS:
        message = f"There are {MOST_PROBLEMS} problems or more; no others were looked for."
        last = problems[-1]
        raise BadInput([*problems, Problem("too-many", last.place, message, "Mend these first.")])


def read_document(path: Path, biggest: int = BIGGEST) -> Document:
    """One YAML file. Raises `BadInput` with every problem of its YAML; its shape is not looked at."""
    document, problems = load(path, biggest)
    if problems:
        raise BadInput(problems)
    return document


def read_text(path: Path, biggest: int = BIGGEST) -> str:
    """A text file whole. Raises `BadInput` when it is none, unreadable or too big."""
    return _text(_bytes(path, str(path), biggest), str(path))


def load(path: Path, biggest: int = BIGGEST) -> tuple[Document, list[Problem]]:
    """One YAML file with the problems, such as duplicate keys, that leave it readable. Raises `BadInput` on others."""
    file = str(path)
    raw = _bytes(path, file, biggest)
    text = _text(raw, file)
    try:
        root, problems = compose(text, file)
    except BadInput as error:
        raise BadInput(_with_excerpts(error.problems, text)) from None
    if root is None:
        raise refuse("empty-file", Place(file), "The file holds nothing.", "Write the case or rulebook into it.")
    return Document(file, raw, text, root), _with_excerpts(problems, text)


def _with_excerpts(problems: Sequence[Problem], text: str) -> list[Problem]:
    lines = lines_of(text) if problems else ()
    return [problem._replace(excerpt=excerpt(lines, problem.place)) for problem in problems]


def _bytes(path: Path, file: str, biggest: int) -> bytes:
    place = Place(file)
    try:
        with open(path, "rb", opener=_without_waiting) as stream:
            status = os.fstat(stream.fileno())
            if not stat.S_ISREG(status.st_mode):
                raise refuse("not-a-file", place, "This is not an ordinary file.", "Name a text file.")
            if status.st_size > biggest:
                raise too_big(place, status.st_size, biggest)
            return stream.read(biggest + 1)
    except FileNotFoundError:
        raise refuse("no-file", place, "There is no such file.", "Check the name and the folder.") from None
    except IsADirectoryError:
        raise refuse("not-a-file", place, "This is a folder, not a file.", "Name a text file.") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise refuse(
            "unreadable", place, f"The file cannot be read: {reason}.", "Check its name and its rights."
        ) from None


def _without_waiting(path: str, flags: int) -> int:
    """Opens a pipe without waiting for its other end, so that it can be refused."""
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def too_big(place: Place, size: int, biggest: int = BIGGEST) -> BadInput:
    """The refusal of a file over the limit, with both sizes."""
    message = f"The file has {size / 1e6:.1f} MB; files over {biggest / 1e6:g} MB are not read."
    return refuse("too-big", place, message, "Split it into several files.")


def _text(raw: bytes, file: str) -> str:
    raw = raw.removeprefix(BOM_UTF8)
    if not raw.startswith(_UTF16) and b"\0" in raw:
        raise _not_text(file, raw[: raw.index(b"\0")].decode("utf-8", "replace"), "\0")
    try:
        text = raw.decode()
    except UnicodeDecodeError as error:
        before = raw[: error.start].decode("utf-8", "replace")
        message = f"The file is not in UTF-8: the byte {raw[error.start]:02x} cannot stand here."
        raise refuse("wrong-encoding", _place_after(file, before), message, "Save it as UTF-8.") from None
    found = _NOT_TEXT.search(text)
    if found:
        raise _not_text(file, text[: found.start()], found[0])
    return text


def _not_text(file: str, before: str, character: str) -> BadInput:
    message = f"The file is not text: it holds the control character {quoted(character)}."
    return refuse("not-text", _place_after(file, before), message, "Name a text file, or delete the character.")


def _place_after(file: str, before: str) -> Place:
    lines = lines_of(before)
    return Place(file, len(lines), len(lines[-1]) + 1)
