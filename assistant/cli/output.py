"""Text on its way out: control characters neutralised, wrapped to the width, styled on terminals only."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Iterable, Iterator
from typing import NamedTuple, TextIO

WIDEST = 100  # lines longer than this are hard to read
NARROWEST = 30
NO_TERMINAL = 80  # how wide text is where nothing says how wide it should be


class Line(NamedTuple):
    """One paragraph of a report: its text, its role, how far in it stands, and what hangs before it."""

    text: str
    role: str = ""
    indent: int = 0
    bullet: str = ""


BLANK = Line("")
_STYLES = {"headline": "bold", "section": "bold", "quiet": "dim", "warning": "bold"}


def listed(title: str, items: Iterable[str]) -> Iterator[Line]:
    """A section of items, with a blank line before it; nothing where there are none."""
    lines = [Line(item, indent=2, bullet="- ") for item in items]
    if lines:
        yield from (BLANK, Line(title, "section"), *lines)


def clean(text: str) -> str:
    """The text, lines kept, with every character that could steer a terminal written out, such as `\\x1b`."""
    from assistant.rulebook.names import visible

    return "\n".join(visible(line) for line in text.expandtabs(4).split("\n"))


def prepare_streams() -> None:
    """Never fail on a character the terminal cannot show, on bytes typed that are no text, nor on a closed stream."""
    for name in ("stdin", "stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:  # whoever started the program closed it
            setattr(sys, name, os.fdopen(os.open(os.devnull, os.O_RDWR), "r" if name == "stdin" else "w"))
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def complain(text: str) -> None:
    """A message to the person, on standard error."""
    print(clean(text), file=sys.stderr)


def say(text: str) -> None:
    """Plain text on standard output, as it is but for unsafe characters."""
    print(clean(text))


def say_lines(lines: Iterable[str]) -> None:
    """Sentences on standard output, each on one line whatever is in it."""
    from assistant.rulebook.names import visible

    print("\n".join(map(visible, lines)))


def say_json(data: object) -> None:
    """Data as JSON on standard output; ASCII only, so that any pipe carries it."""
    import json

    from assistant.rulebook.names import escaped

    print(escaped(json.dumps(data, indent=2)))


def width() -> int:
    """How wide to wrap: the terminal's width within bounds, 80 where there is no terminal."""
    return max(NARROWEST, min(WIDEST, _columns()))


def _columns() -> int:
    """What COLUMNS says, or else the terminal; `shutil` knows the same, but is slow to load."""
    asked = os.environ.get("COLUMNS", "")
    if asked.isdecimal() and int(asked) > 0:
        return int(asked)
    try:
        return os.get_terminal_size(sys.stdout.fileno()).columns or NO_TERMINAL
    except (OSError, ValueError):
        return NO_TERMINAL


def wrapped(line: Line, columns: int) -> str:
    """The paragraph wrapped, with its bullet hanging."""
    import textwrap

    margin = " " * line.indent
    return textwrap.fill(
        clean(line.text),
        columns,
        initial_indent=margin + line.bullet,
        subsequent_indent=margin + " " * len(line.bullet),
        break_long_words=False,
        break_on_hyphens=False,
    )


def write(lines: Iterable[Line]) -> None:
    """A report on standard output, styled when that is a terminal that wants it."""
    columns = width()
    if is_styled(sys.stdout):
        _write_styled(lines, columns)
        return
    for line in lines:
        print(wrapped(line, columns))


def is_styled(stream: TextIO) -> bool:
    """Whether to style text there: a terminal, no NO_COLOR, not a dumb one."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def _write_styled(lines: Iterable[Line], columns: int) -> None:
    from rich.console import Console
    from rich.text import Text

    console = Console(highlight=False, soft_wrap=True)
    for line in lines:
        console.print(Text(wrapped(line, columns), style=_STYLES.get(line.role, "")))
