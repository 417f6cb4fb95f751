"""What cannot be in the story of a bed: an entry that would make it so is refused, and names what rests on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from itertools import pairwise
from typing import NamedTuple

from assistant.garden.standing.accounts import CRUMB, HALF_AN_INCH, account_of, all_dug
from assistant.garden.standing.words import air_words, ledger_words, length_words, units_of
from assistant.model.notebook import (
    AirRow,
    BedRow,
    DigRow,
    GardenRow,
    LotEntryRow,
    LotRow,
    PlantingRow,
    StayRow,
    TrialRow,
    VisitRow,
)
from assistant.model.quantities import NotAValue, format_day
from assistant.notebook import Notebook
from assistant.reckoning.lot_ledger import DoesNotAddUp

BY_HAND = "by hand"
"""The source of a reading that was typed."""


class Fault(NamedTuple):
    """Something that cannot be: of which record, in which way, and as a sentence."""

    of: tuple[str, int]
    says: str


@contextmanager
def sound(notebook: Notebook, says: str, bed: BedRow, linked_later: bool = False) -> Iterator[None]:
    """An entry that goes in only when it brings nothing into the bed's story that cannot be. Raises `NotAValue`.

    What could not be before, such as in an imported notebook, stands in no entry's way.
    """
    with notebook.entry(says, linked_later):
        rooms = set(_rooms(notebook, bed))
        before = {fault.of for fault in _faults(notebook, bed, rooms)}
        yield
        for fault in _faults(notebook, bed, rooms):
            if fault.of not in before:
                raise NotAValue(fault.says)


def faults(notebook: Notebook, bed: BedRow) -> tuple[Fault, ...]:
    """All that cannot be in a bed's story."""
    return tuple(_faults(notebook, bed, set(_rooms(notebook, bed))))


def readings_of_none(notebook: Notebook, rooms: Iterable[int], gone: Iterable[int] = ()) -> Iterator[AirRow]:
    """Typed readings of rooms on days when no lot lay there, some stays left out of account."""
    out = set(gone)
    for room in rooms:
        stays = [stay for stay in notebook.all(StayRow, room=room) if stay.id not in out]
        for reading in notebook.all(AirRow, room=room, source=BY_HAND):
            if not any(was_there(stay, reading.at.date()) for stay in stays):
                yield reading


def was_there(stay: StayRow, day: date) -> bool:
    """Whether a lot lay in the room on a day."""
    return stay.since <= day and (stay.until is None or day <= stay.until)


def lots_of(notebook: Notebook, planting: PlantingRow) -> Iterator[tuple[DigRow, LotRow]]:
    """The lots of a planting with their digs."""
    for dig in notebook.all(DigRow, planting=planting.id):
        for lot in notebook.all(LotRow, dig=dig.id):
            yield dig, lot


def _rooms(notebook: Notebook, bed: BedRow) -> Iterator[int]:
    for planting in notebook.all(PlantingRow, bed=bed.id):
        for _, lot in lots_of(notebook, planting):
            yield from (stay.room for stay in notebook.all(StayRow, lot=lot.id))


def _faults(notebook: Notebook, bed: BedRow, rooms: Iterable[int]) -> Iterator[Fault]:
    plantings = notebook.all(PlantingRow, bed=bed.id)
    for row in notebook.all(BedRow, id=bed.id):
        for planting in plantings:
            yield from _of_days(notebook, planting)
            yield from _of_lengths(notebook, row, planting)
            yield from _of_lots(notebook, planting)
        yield from _of_order(row, plantings)
    for reading in readings_of_none(notebook, rooms):
        words = f"the reading of {format_day(reading.at.date())} ({air_words(reading, units_of(notebook, bed))})"
        yield Fault(("reading", reading.id), f"{words} would be of no roots; take it out first, or change its day")


def _of_days(notebook: Notebook, planting: PlantingRow) -> Iterator[Fault]:
    visits, trials = notebook.all(VisitRow, planting=planting.id), notebook.all(TrialRow, planting=planting.id)
    digs = notebook.all(DigRow, planting=planting.id)
    named: Mapping[str, tuple[VisitRow | TrialRow | DigRow, ...]] = {"visit": visits, "test dig": trials, "dig": digs}
    for name, records in named.items():
        for record in records:
            what = f"the {name} of {format_day(record.day)}"
            if record.day < planting.planted_from:
                says = f"{what} would be before the planting; change its day first, or take it out"
                yield Fault((f"early {name}", record.id), says)
            if planting.ended and record.day > planting.ended:
                says = f"{what} would be after the last was dug; change its day first, or take it out"
                yield Fault((f"late {name}", record.id), says)


def _of_lengths(notebook: Notebook, bed: BedRow, planting: PlantingRow) -> Iterator[Fault]:
    digs = notebook.all(DigRow, planting=planting.id)
    hills, length = sum(dig.hills or 0 for dig in digs), all_dug(bed, planting, digs).length or 0.0
    if planting.slips and hills > planting.slips:
        yield Fault(("hills", planting.id), f"{hills} hills would be dug of {planting.slips} slips set; check them")
    if bed.length and length > bed.length + HALF_AN_INCH:
        units = units_of(notebook, bed)
        told = f"{length_words(length, units)} would be dug of {length_words(bed.length, units)} in {bed.name}"
        yield Fault(("length", planting.id), f"{told}; check the lengths")


def _of_order(bed: BedRow, plantings: Iterable[PlantingRow]) -> Iterator[Fault]:
    by_day = sorted(plantings, key=lambda each: (each.planted_from, each.id))
    for earlier, later in pairwise(by_day):
        if earlier.ended is None or earlier.ended > later.planted_from:
            again = f"{bed.name} was planted again on {format_day(later.planted_from)}"
            says = f"{again}, when all of the earlier planting has to be dug; change or take out that planting first"
            yield Fault(("planted again", earlier.id), says)


def _of_lots(notebook: Notebook, planting: PlantingRow) -> Iterator[Fault]:
    for dig, lot in lots_of(notebook, planting):
        rows, stays = notebook.all(LotEntryRow, lot=lot.id), notebook.all(StayRow, lot=lot.id)
        yield from _of_stays(dig, lot, stays)
        for row in rows:
            if row.day < dig.day:
                says = f"'{row.what}' of {format_day(row.day)} would be before {lot.name} was dug; change its day first"
                yield Fault(("early line", row.id), says)
        try:
            account = account_of(lot, rows)
        except DoesNotAddUp as error:
            told = ledger_words(str(error), notebook.get(GardenRow, lot.garden).units)
            hint = "check the weight, the day and the part"
            yield Fault(("ledger", lot.id), f"{told}, on {format_day(error.entry.on)}; {hint}")
            continue
        used_up = account is not None and account.left <= CRUMB
        if not used_up and not any(stay.until is None for stay in stays):
            yield Fault(("nowhere", lot.id), f"{lot.name} would lie nowhere; take out the dig it came from instead")


def _of_stays(dig: DigRow, lot: LotRow, stays: Iterable[StayRow]) -> Iterator[Fault]:
    in_order = sorted(stays, key=lambda each: each.id)
    for stay in in_order:
        if stay.since < dig.day:
            says = f"{lot.name} would be {_DOING[stay.purpose]} since {format_day(stay.since)}, before it was dug"
            yield Fault(("early stay", stay.id), f"{says}; change that day first")
    for one, other in pairwise(in_order):
        if one.until is None or one.until > other.since:
            says = f"{lot.name} would be in two places on {format_day(other.since)}; change the later of its days first"
            yield Fault(("two places", other.id), says)


_DOING = {"cure": "in the cure", "keep": "in the store"}
