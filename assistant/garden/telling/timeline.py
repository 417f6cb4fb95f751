"""The story of a bed, the latest first: what was set, seen, advised, dug, cured, eaten."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time
from typing import NamedTuple

from assistant.explain.wording import format_reading, name_words
from assistant.garden.entries.correcting_digs import dug_words
from assistant.garden.entries.soundness import BY_HAND, was_there
from assistant.garden.entries.visits import reopen, verdict_today
from assistant.garden.standing.words import air_words, units_of, weight_words
from assistant.model.notebook import (
    AirRow,
    BedRow,
    DigRow,
    HistoryRow,
    LotEntryRow,
    LotRow,
    PlantingRow,
    Record,
    RoomRow,
    StayRow,
    TrialRow,
    VerdictRow,
    VisitRow,
)
from assistant.model.quantities import Units, short_day
from assistant.model.readings import Known, Origin
from assistant.model.rules import Rulebook
from assistant.notebook import Between, Notebook
from assistant.reckoning.lot_ledger import DUG

CANT_TELL = "can't tell"
MOST_AIR = 3
"""Readings of a logger that a story tells, the last of a room; the log itself is in the notebook."""


class Event(NamedTuple):
    """One line of the story, and the record that tells it."""

    day: date
    words: str
    record: Record


def timeline(notebook: Notebook, bed: BedRow) -> tuple[Event, ...]:
    """Everything that the notebook has of a bed, the latest first. Raises `BadInput`."""
    with notebook.at_one_time():
        units, air = units_of(notebook, bed), _Air(notebook)
        plantings = notebook.all(PlantingRow, bed=bed.id)
        events = [event for planting in plantings for event in _of(notebook, planting, units, air)]
        events += [Event(date(row.year, 12, 31), _grew(row), row) for row in notebook.all(HistoryRow, bed=bed.id)]
    return tuple(sorted(events, key=lambda event: event.day, reverse=True))


class Told(NamedTuple):
    """One line of a visit; `sign` is the one that it answers, empty for advice."""

    label: str
    words: str
    sign: str = ""


def visit_story(notebook: Notebook, row: VisitRow) -> tuple[Told, ...]:
    """A visit line by line: its answers, the verdict then, and what the rules say now.

    Raises `BadInput`, also where its rulebook can no longer be read.
    """
    visit = reopen(notebook, row).visit
    told = [
        Told(name_words(visit.rulebook, sign), _answer(visit.rulebook, sign, known, row.units), sign)
        for sign, known in visit.case.answers.items()
        if sign in visit.rulebook.signs
    ]
    then = notebook.all(VerdictRow, visit=row.id)
    for verdict in then:
        told.append(Told(f"advice {short_day(verdict.day)}", f"{verdict.headline} (rules {verdict.version})"))
    now = verdict_today(notebook, row)
    same = then and then[-1].digest == now.derivation.rulebook.digest
    differs = not then or then[-1].headline != now.headline
    advice = now.headline if differs else "the same"
    told.append(Told("by today's rules", f"{advice}{'; the rules have not changed' if same else ''}"))
    return tuple(told)


def _answer(book: Rulebook, sign: str, known: Known, units: Units) -> str:
    if known.origin is Origin.CANT_TELL:
        return CANT_TELL
    return format_reading(book, sign, known.reading, units)


class _Air:
    """The readings that a story tells, each told once."""

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook
        self._told: set[int] = set()

    def during(self, stay: StayRow) -> Iterator[AirRow]:
        """Those of a stay which no other stay has told: all that were typed, and the last of a logger."""
        days = Between(datetime.combine(stay.since, time.min), datetime.combine(stay.until or date.max, time.max))
        rows = self._notebook.all(AirRow, room=stay.room, source=BY_HAND, at=days)
        if stay.until is None:
            last = self._notebook.recent(AirRow, MOST_AIR, room=stay.room)
            rows += tuple(row for row in last if was_there(stay, row.at.date()))
        for row in rows:
            if row.id not in self._told:
                self._told.add(row.id)
                yield row


def _of(notebook: Notebook, planting: PlantingRow, units: Units, air: _Air) -> Iterator[Event]:
    slips = f"{planting.slips} slips of " if planting.slips else ""
    yield Event(planting.planted_from, f"Planted {slips}{planting.variety or 'sweet potatoes'}", planting)
    for visit in notebook.all(VisitRow, planting=planting.id):
        verdict = notebook.latest(VerdictRow, visit=visit.id)
        words = verdict.headline if verdict else "broken off before a verdict"
        yield Event(visit.day, f"Visit: {words}", visit)
    for trial in notebook.all(TrialRow, planting=planting.id):
        hills = len(notebook.rows("hill", test_dig=trial.id))
        yield Event(trial.day, f"Test dig of {hills} hill{'s' * (hills != 1)}", trial)
    for dig in notebook.all(DigRow, planting=planting.id):
        what = filter(None, (dug_words(notebook, units, dig), dig.note))
        yield Event(dig.day, ": ".join(filter(None, ("Dug", ", ".join(what)))), dig)
        for lot in notebook.all(LotRow, dig=dig.id):
            yield from _of_lot(notebook, lot, units, air)


def _of_lot(notebook: Notebook, lot: LotRow, units: Units, air: _Air) -> Iterator[Event]:
    for entry in notebook.all(LotEntryRow, lot=lot.id):
        if entry.what == DUG:  # told with the dig
            continue
        weight = f" {weight_words(entry.pounds, units)}" if entry.pounds else ""
        words = f"{lot.name}: {entry.what}{weight}{f' {entry.part}' if entry.part else ''}"
        yield Event(entry.day, f"{words}{f', {entry.note}' if entry.note else ''}", entry)
    for stay in notebook.all(StayRow, lot=lot.id):
        room = notebook.get(RoomRow, stay.room)
        doing = "to cure" if stay.purpose == "cure" else "to keep"
        yield Event(stay.since, f"{lot.name}: into the {room.name.lower()} {doing}", stay)
        for row in air.during(stay):
            yield Event(row.at.date(), f"Air: {air_words(row, units)}", row)


def _grew(row: HistoryRow) -> str:
    grew = f"Grew {row.crop}, with {row.disease}" if row.disease else f"Grew {row.crop}"
    return grew.replace("-", " ")
