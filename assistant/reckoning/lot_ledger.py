"""Where every pound of a lot went: dug, set apart, weighed again, used, given, sold, saved for slips or thrown out.

Weights are in pounds. At any time dug = taken out + shrunk + left, to the last pound.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import NamedTuple

from assistant.model.place import NOWHERE, Place
from assistant.reckoning.using_up import PARTS
from assistant.reckoning.yields import WEIGHT_ERROR

DUG, STORED, WEIGHED, APART, LOOKED = "dug", "stored", "weighed", "apart", "looked"
OUT = ("used", "given", "sold", "seed", "discarded")
EVENTS = (DUG, STORED, WEIGHED, APART, LOOKED, *OUT)
NEED_WEIGHT = (DUG, WEIGHED, APART, *OUT)
SOUND = PARTS[-1]
SCALE_ERROR = WEIGHT_ERROR["weighed"]
"""The share by which a scale may show more than there is before an entry must be wrong."""
_CRUMB = 1e-6  # pounds; sums of decimals end in such


class Entry(NamedTuple):
    """One line of a ledger: the day, the lot, what happened, to which part, and what was measured."""

    on: date
    lot: str
    what: str
    part: str = ""
    pounds: float | None = None
    temperature: float | None = None
    humidity: float | None = None
    note: str = ""
    place: Place = NOWHERE


class Stage(NamedTuple):
    """An entry, pounds left after it, and pounds it showed to have shrunk since the last weighing."""

    entry: Entry
    left: float
    shrunk: float


class Account(NamedTuple):
    """A lot from bed to kitchen: its entries with what was left after each, and where every pound is now."""

    lot: str
    stages: tuple[Stage, ...]
    dug: float
    out: Mapping[str, float]
    shrunk: float
    parts: Mapping[str, float]

    @property
    def left(self) -> float:
        """Pounds there still are, as far as was weighed."""
        return sum(self.parts.values())

    @property
    def began(self) -> date:
        """The day of its first entry."""
        return self.stages[0].entry.on

    @property
    def stored(self) -> date:
        """The day it went into the store; where nobody wrote that down, the day it was dug."""
        return next((stage.entry.on for stage in self.stages if stage.entry.what == STORED), self.began)

    @property
    def weighed(self) -> date:
        """The last day of which the weight is known by a scale."""
        return max(stage.entry.on for stage in self.stages if stage.entry.what in (DUG, WEIGHED))

    @property
    def looked(self) -> date:
        """The last day on which somebody looked through it; the day it was stored counts."""
        return max([self.stored, *(s.entry.on for s in self.stages if s.entry.what in (LOOKED, WEIGHED, "discarded"))])


class DoesNotAddUp(ValueError):
    """An entry that cannot be: more goes out than there is, or a lot grew. `entry` is the one at fault."""

    def __init__(self, entry: Entry, message: str) -> None:
        self.entry = entry
        super().__init__(message)


def accounts(entries: Iterable[Entry]) -> dict[str, Account]:
    """The account of each lot, its entries taken by day and within a day as written. Raises `DoesNotAddUp`."""
    books: dict[str, _Book] = {}
    for entry in sorted(entries, key=lambda each: each.on):
        if entry.lot not in books:
            if entry.what != DUG:
                raise DoesNotAddUp(entry, f"nothing of the lot {entry.lot} had been dug by {entry.on}")
            books[entry.lot] = _Book()
        books[entry.lot].enter(entry)
    return {lot: book.account(lot) for lot, book in books.items()}


class _Book:
    """One lot while its entries are gone through."""

    def __init__(self) -> None:
        self.parts: dict[str, float] = {}
        self.out = dict.fromkeys(OUT, 0.0)
        self.stages: list[Stage] = []
        self.dug = self.shrunk = 0.0

    def enter(self, entry: Entry) -> None:
        """Take one entry into account."""
        before, pounds = self.shrunk, entry.pounds or 0.0
        if entry.what == DUG:
            self.dug += pounds
            self._add(entry.part or SOUND, pounds)
        elif entry.what == WEIGHED:
            self._weigh(entry, pounds)
        elif entry.what == APART:
            self._take(entry, pounds, SOUND)
            self._add(entry.part, pounds)
        elif entry.what in OUT:
            self._take(entry, pounds, entry.part)
            self.out[entry.what] += pounds
        self.stages.append(Stage(entry, sum(self.parts.values()), self.shrunk - before))

    def account(self, lot: str) -> Account:
        """The account as it stands."""
        parts = {part: self.parts[part] for part in PARTS if self.parts.get(part, 0.0) > _CRUMB}
        return Account(lot, tuple(self.stages), self.dug, self.out, self.shrunk, parts)

    def _add(self, part: str, pounds: float) -> None:
        self.parts[part] = self.parts.get(part, 0.0) + pounds

    def _take(self, entry: Entry, pounds: float, part: str) -> None:
        """Pounds out of one part, or where none is named out of all in the order in which they are eaten."""
        parts = [part] if part else [each for each in PARTS if each in self.parts]
        there = sum(self.parts.get(each, 0.0) for each in parts)
        if pounds > there + _CRUMB:
            of = f" of its {part} roots" if part else ""
            message = f"{pounds:g} lb{of} went out of the lot {entry.lot} where {there:.1f} lb were left"
            raise DoesNotAddUp(entry, message)
        for each in parts:
            taken = min(pounds, self.parts.get(each, 0.0))
            self._add(each, -taken)
            pounds -= taken

    def _weigh(self, entry: Entry, pounds: float) -> None:
        """What a scale shows is what there is; a little more than there can be is the scale's error."""
        parts = [entry.part] if entry.part else list(self.parts)
        there = sum(self.parts.get(part, 0.0) for part in parts)
        if pounds > there * (1 + SCALE_ERROR) + _CRUMB:
            message = f"the lot {entry.lot} weighs {pounds:g} lb where {there:.1f} lb were left"
            raise DoesNotAddUp(entry, f"{message}; roots do not grow in store")
        if pounds >= there:
            return
        for part in parts:
            self.parts[part] = self.parts.get(part, 0.0) * pounds / there
        self.shrunk += there - pounds
