"""Where something stands in a file, and what is wrong with it there."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple


class Place(NamedTuple):
    """A spot in a text file. Lines and columns count from 1; 0 means the file as a whole."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        if not self.line:
            return self.file
        return f"{self.file}:{self.line}:{self.column}"


NOWHERE = Place("")
"""The place of what was not read from a file."""


class Problem(NamedTuple):
    """One thing wrong with an input: what, where, and what to write instead.

    `code` is stable and made of words, such as `unknown-sign`. `excerpt` holds up to two
    lines of source, the second being the one at fault.
    """

    code: str
    place: Place
    message: str
    hint: str = ""
    excerpt: tuple[str, ...] = ()

    def one_line(self) -> str:
        """The problem as one line an editor can jump to."""
        hint = f" {self.hint}" if self.hint else ""
        return f"{self.place}: {self.message}{hint} [{self.code}]"


class BadInput(Exception):
    """The user's input cannot be used; carries every problem found, sorted by place.

    Fronts print the problems and exit with 2; nothing is written or lost.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(problems, key=lambda problem: problem.place))
        super().__init__("\n".join(problem.one_line() for problem in self.problems))


def refuse(code: str, place: Place, message: str, hint: str = "") -> BadInput:
    """A `BadInput` of one problem, ready to raise."""
    return BadInput([Problem(code, place, message, hint)])
