"""Text files line by line: UTF-8 or compressed by gzip, with the place of the line at hand."""

from __future__ import annotations

import contextlib
import csv
import gzip
import io
import re
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import TextIO

from assistant.model.place import BadInput, Place, refuse

LONGEST = 10_000
"""Characters of a line; no weather file has longer ones."""
_NOT_TEXT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\u202a-\u202e\u2066-\u2069]")
"""Characters that no weather file has; some of them steer a terminal."""
_GZIP = b"\x1f\x8b"


class Lines:
    """The lines of a file, one at a time; `number` and `text` are those of the line handed out last."""

    def __init__(self, file: str, stream: TextIO) -> None:
        self.file = file
        self.number = 0
        self.text = ""
        self._stream = stream
        self.first = self._next()

    def __iter__(self) -> Iterator[str]:
        """All lines, the first included."""
        text = self.first
        while text:
            self.number += 1
            self.text = text
            yield text
            text = self._next()

    def place(self, column: int = 1) -> Place:
        """A spot in the line handed out last."""
        return Place(self.file, max(self.number, 1), column)

    def _next(self) -> str:
        """The next line. Raises `BadInput` when it is no text."""
        return _text(self._stream, LONGEST, Place(self.file, self.number + 1, 1), line=True)


def csv_rows(lines: Lines, separator: str = ",") -> Iterator[list[str]]:
    """The rows of a CSV file, one a line. Raises `csv.Error`, and `BadInput` for a quote that is not closed.

    No field of a record or a log runs on in the next line, so such a quote would swallow rows unseen.
    """
    above = lines.number
    for row in csv.reader(lines, delimiter=separator):
        if lines.number > above + 1:
            place = Place(lines.file, above + 1, 1)
            raise refuse("not-csv", place, "A quote is opened in this line and not closed.", "Close it, or delete it.")
        above = lines.number
        yield row


def _text(stream: TextIO, most: int, place: Place, line: bool) -> str:
    """A line or everything, of fewer characters than `most`. Raises `BadInput` when it is no text or too long."""
    try:
        text = stream.readline(most) if line else stream.read(most)
    except (UnicodeDecodeError, EOFError, OSError, zlib.error):
        text = "\0"
    if _NOT_TEXT.search(text) or len(text) == most:
        message = "This is no text in UTF-8, or too much of it."
        raise refuse("not-text", place, message, "Give the weather file as it was downloaded.")
    return text


@contextlib.contextmanager
def open_lines(path: Path) -> Iterator[Lines]:
    """The lines of a text file, unpacked when it is gzipped. Raises `BadInput` when it is no file, empty or binary."""
    with _opened(path) as stream:
        lines = Lines(str(path), stream)
        if not lines.first:
            raise _empty(path)
        yield lines


def whole_text(path: Path, most: int) -> str:
    """All the text of a file of fewer characters than `most`. Raises `BadInput` like `open_lines`."""
    with _opened(path) as stream:
        text = _text(stream, most, Place(str(path), 1, 1), line=False)
    if not text:
        raise _empty(path)
    return text


@contextlib.contextmanager
def _opened(path: Path) -> Iterator[TextIO]:
    if path.is_dir():
        raise refuse("not-a-file", Place(str(path)), "This is a folder.", "Name the weather file in it.")
    with path.open("rb") as raw, contextlib.ExitStack() as stack:
        packed = raw.read(2) == _GZIP
        raw.seek(0)
        stream = stack.enter_context(gzip.open(raw)) if packed else raw
        yield io.TextIOWrapper(stream, encoding="utf-8-sig", newline="")


def _empty(path: Path) -> BadInput:
    return refuse("empty-file", Place(str(path), 1, 1), "This file is empty.", "Name a file with weather in it.")
