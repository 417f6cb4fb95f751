"""Where every pound of a lot of the notebook is, and what of a planting is still in the ground."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from assistant.garden.words import count_words, length_words, weight_words
from assistant.model.notebook import BedRow, DigRow, LotEntryRow, LotRow, PlantingRow
from assistant.model.quantities import Units
from assistant.reckoning.lot_ledger import DUG, OUT, WEIGHED, Account, Entry, accounts

REST, PART = "rest", "part"
CRUMB = 0.01
"""Pounds; what is left in a basket that is used up."""
HALF_AN_INCH = 0.5
_OUT = {what: "saved for slips" if what == "seed" else what for what in OUT}


class Left(NamedTuple):
    """What is still in the ground of a planting that is dug bit by bit, as far as was told: inches of row, or hills.

    Both are the most there can be where some part was not measured so.
    """

    length: float | None
    hills: int | None
    at_most: bool

    def words(self, units: Units) -> str:
        """Such as `28 ft left`."""
        if self.length is None and self.hills is None:
            return "a part is left"
        what = count_words(self.hills or 0, "hill") if self.length is None else length_words(self.length, units)
        return f"{'at most ' if self.at_most else ''}{what} left"


def account_of(lot: LotRow, rows: Iterable[LotEntryRow]) -> Account | None:
    """The account of a lot by its lines in the notebook; None where it was never weighed. Raises `DoesNotAddUp`.

    The first weighing of a lot that was not weighed when it was dug begins its account; what went before is not known.
    """
    lines = sorted(rows, key=lambda row: (row.day, row.what != DUG))
    if not any(row.what == DUG for row in lines):
        first = next((at for at, row in enumerate(lines) if row.what == WEIGHED and not row.part), None)
        if first is None:
            return None
        lines = [lines[first]._replace(what=DUG), *lines[first + 1 :]]
    entries = (
        Entry(row.day, lot.name, row.what, row.part, row.pounds, row.temperature, row.humidity, row.note)
        for row in lines
    )
    return accounts(entries)[lot.name]


def account_words(account: Account, units: Units) -> str:
    """Where every pound is, such as `96 lb dug, 12 lb used, 3 lb shrunk, 81 lb left`."""
    out = (f"{weight_words(pounds, units)} {_OUT[what]}" for what, pounds in account.out.items() if pounds)
    shrunk = f"{weight_words(account.shrunk, units)} shrunk" if account.shrunk else ""
    dug, left = f"{weight_words(account.dug, units)} dug", f"{weight_words(account.left, units)} left"
    return ", ".join(filter(None, (dug, *out, shrunk, left)))


def left_of(bed: BedRow, planting: PlantingRow, digs: Iterable[DigRow]) -> Left | None:
    """What is still in the ground after some parts were dug; None when nothing was dug yet."""
    parts = list(digs)
    if not parts:
        return None
    lengths, hills = [dig.length for dig in parts], [dig.hills for dig in parts]
    length = max(bed.length - sum(filter(None, lengths)), 0.0) if bed.length else None
    count = max(planting.slips - sum(filter(None, hills)), 0) if planting.slips else None
    if length is not None and count is not None and None in lengths and None not in hills:
        length = None  # what was counted in hills is told in hills
    at_most = None in (lengths if length is not None else hills)
    return Left(length, count, at_most)
