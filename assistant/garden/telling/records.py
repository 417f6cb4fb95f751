"""Rows of the notebook put together as others take them: the nights of a planting, the air of a stay, a test dig."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta

from assistant.explain.nights import Night
from assistant.model.notebook import AirRow, AnswerRow, HillRow, PlantingRow, RootRow, StayRow, TrialRow, VisitRow
from assistant.model.readings import Origin, Span
from assistant.model.room_log import RoomReading
from assistant.notebook import Between, Notebook
from assistant.reckoning.dig_report import DigReport
from assistant.reckoning.hills import Classes, Hill
from assistant.reckoning.yields import Root

RECENT, FORECAST, NIGHTS = "recent_nights", "forecast_low", "forecast_low_in"
AHEAD = Span(0, 7)
"""Nights that a forecast looks ahead, where nobody said in how many the coldest comes."""


def nights_of(notebook: Notebook, planting: PlantingRow) -> tuple[Night, ...]:
    """Every low that was answered at the visits to a planting, by the day of the visit."""
    visits = sorted(notebook.all(VisitRow, planting=planting.id), key=lambda visit: (visit.day, visit.id))
    return tuple(night for visit in visits for night in _told_at(notebook, visit))


def _told_at(notebook: Notebook, visit: VisitRow) -> Iterator[Night]:
    recent, forecast, ahead = (_answer(notebook, visit, sign) for sign in (RECENT, FORECAST, NIGHTS))
    if recent:
        yield Night(False, visit.day, visit.day, recent)
    if forecast:
        days = ahead or AHEAD
        first, last = (visit.day + timedelta(days=int(end)) for end in (days.low, days.high))
        yield Night(True, first, last, forecast)


def _answer(notebook: Notebook, visit: VisitRow, sign: str) -> Span | None:
    for row in notebook.all(AnswerRow, visit=visit.id, sign=sign):
        reading = row.known.reading
        return reading if isinstance(reading, Span) and row.origin is not Origin.CANT_TELL else None
    return None


def air_of(notebook: Notebook, stay: StayRow, on: date, last: int | None = None) -> tuple[RoomReading, ...]:
    """The air of the room while the lot was there, up to a day, by time; of very many the `last` ones entered."""
    until = min(on, stay.until or on)
    days = Between(datetime.combine(stay.since, time.min), datetime.combine(until, time.max))
    where = {"room": stay.room, "at": days}
    rows = notebook.all(AirRow, **where) if last is None else reversed(notebook.recent(AirRow, last, **where))
    told = {row.at: RoomReading(row.at, row.temperature, row.humidity) for row in rows}
    return tuple(told[at] for at in sorted(told))


def report_of(notebook: Notebook, trial: TrialRow) -> DigReport:
    """A test dig, its hills with every root that was measured or weighed, or with roots counted by size."""
    hills = tuple(_hill(notebook, row) for row in notebook.all(HillRow, test_dig=trial.id))
    return DigReport(hills, Span(trial.wanted_low, trial.wanted_high))


def _hill(notebook: Notebook, row: HillRow) -> Hill:
    if row.small is not None and row.wanted is not None and row.big is not None:
        return Hill(row.name, classes=Classes(row.small, row.wanted, row.big))
    roots = notebook.all(RootRow, hill=row.id)
    return Hill(row.name, tuple(Root(root.diameter, root.length, root.grams) for root in roots))
