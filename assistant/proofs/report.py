"""What a proof leaves behind: the flaws it found, what it could not prove, and what it did."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from assistant.model.case import Case
from assistant.model.place import Place

if TYPE_CHECKING:
    from assistant.proofs.gardens import Gardens


@dataclass(frozen=True)
class Flaw:
    """Something wrong with what a rulebook says, with cases that show it.

    `code` is stable and made of words, and names a page of the manual; `about` names the rule, sign,
    finding, direction or source at fault.
    """

    code: str
    about: str
    place: Place
    message: str
    hint: str
    examples: tuple[Case, ...] = ()


@dataclass(frozen=True)
class Unproved:
    """A statement that was not proved of a rulebook, and why not."""

    what: str
    why: str


@dataclass(frozen=True)
class Report:
    """Everything that came of proving a rulebook. `proved` are statements that hold in every garden."""

    flaws: tuple[Flaw, ...]
    unproved: tuple[Unproved, ...]
    proved: tuple[str, ...]


@dataclass(frozen=True)
class Check:
    """One thing to prove: the statement, and a search for what speaks against it.

    `find` yields the reason, as text, where the statement or a part of it stays unproved.
    """

    says: str
    find: Callable[[Gardens], Iterator[Flaw | str]]
