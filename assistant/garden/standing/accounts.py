"""Where every pound of a lot of the notebook is, and what of a planting is still in the ground."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from assistant.garden.standing.words import count_words, length_words, weight_words
from assistant.model.notebook import BedRow, DigRow, LotEntryRow, LotRow, PlantingRow
from assistant.model.quantities import Units
from assistant.reckoning.lot_ledger import DUG, OUT, WEIGHED, Account, Entry, accounts

REST, PART = "rest", "part"
CRUMB = 0.01
"""Pounds; what is left in a basket that is used up."""
HALF_AN_INCH = 0.5
_OUT = {what: "saved for slips" if what == "seed" else what for what in OUT}


class Dug(NamedTuple):
    """What is told of a dig: all the rest or a part, inches of row, hills, and pounds; None for what was not told."""

    what: str
    length: float | None = None
    hills: int | None = None
    pounds: float | None = None


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


class Extent(NamedTuple):
    """Inches of row and hills; None for what was not told and cannot be reckoned from the other."""

    length: float | None
    hills: int | None


def extent_of(bed: BedRow, planting: PlantingRow, dug: DigRow | Dug) -> Extent:
    """How much of a bed was dug, by what was told of it and by how far apart the slips were set."""
    apart = spacing_of(bed, planting)
    length = dug.length or (dug.hills * apart if dug.hills and apart else None)
    return Extent(length, dug.hills or (round(dug.length / apart) if dug.length and apart else None))


def spacing_of(bed: BedRow, planting: PlantingRow) -> float | None:
    """Inches from slip to slip, as told or by how many stand in how long a row; None where neither is known."""
    return planting.spacing or (bed.length / planting.slips if bed.length and planting.slips else None)


def all_dug(bed: BedRow, planting: PlantingRow, digs: Iterable[DigRow]) -> Extent:
    """How much was dug altogether, as far as it is known."""
    extents = [extent_of(bed, planting, dig) for dig in digs]
    return Extent(sum(each.length or 0.0 for each in extents), sum(each.hills or 0 for each in extents))


def left_of(bed: BedRow, planting: PlantingRow, digs: Iterable[DigRow]) -> Left | None:
    """What is still in the ground after some parts were dug; None when nothing was dug yet.

    Where all was counted in hills it is told in hills, else in the length of the rows.
    """
    parts = list(digs)
    if not parts:
        return None
    dug, extents = all_dug(bed, planting, parts), [extent_of(bed, planting, dig) for dig in parts]
    length = max(bed.length - (dug.length or 0.0), 0.0) if bed.length else None
    hills = max(planting.slips - (dug.hills or 0), 0) if planting.slips else None
    if hills is not None and all(dig.hills for dig in parts):
        length = None
    known = [each.length for each in extents] if length is not None else [each.hills for each in extents]
    return Left(length, hills, at_most=None in known)
