"""One entry of a bed's story changed, or taken out with what rests on it.

A change that would leave what rests on the entry without ground is refused; verdicts stay as they were given.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, datetime, time, timedelta
from typing import Any, NamedTuple

from assistant.cases.beds import typed_seasons
from assistant.cases.rooms import parse_reading
from assistant.garden.entries.correcting_digs import change_dig, change_trial, dig_written, trial_written
from assistant.garden.entries.lots import ledger_line
from assistant.garden.entries.plantings import parse_planting
from assistant.garden.entries.soundness import sound
from assistant.garden.entries.visits import planting_answers
from assistant.garden.standing.words import air_words, units_of, weight_words
from assistant.interview.answers import parse_answer
from assistant.model.notebook import (
    AirRow,
    AnswerRow,
    BedRow,
    DigRow,
    HistoryRow,
    LotEntryRow,
    PlantingRow,
    Record,
    StayRow,
    TrialRow,
    VisitRow,
)
from assistant.model.quantities import NotAValue, Units, format_day, parse_date
from assistant.notebook import Notebook
from assistant.reckoning.lot_ledger import DUG
from assistant.reckoning.rotation import NO_DISEASE
from assistant.rulebook import read_rulebook

LONGEST_SEASON = timedelta(days=300)


class Way(NamedTuple):
    """How a kind of entry is called, put on one line, and brought in line with such a line."""

    name: str
    written: Callable[[Notebook, Units, Any], str]
    change: Callable[[Notebook, BedRow, Units, Any, str], object]


def written(notebook: Notebook, bed: BedRow, record: Record) -> str:
    """An entry as one line that can be typed again, in the units of the garden."""
    return WAYS[type(record)].written(notebook, units_of(notebook, bed), record)


def change(notebook: Notebook, bed: BedRow, record: Record, text: str) -> str:
    """Bring an entry in line with what is typed, and tell which it was. Raises `NotAValue`, then nothing is changed."""
    way, units = WAYS[type(record)], units_of(notebook, bed)
    with sound(notebook, f"{bed.name}: the {way.name} changed", bed):
        way.change(notebook, bed, units, record, text)
    return way.name


def change_answer(notebook: Notebook, visit: VisitRow, sign: str, text: str) -> AnswerRow:
    """Another answer of a visit; its verdict stays as it was given. Raises `NotAValue`."""
    book = read_rulebook(visit.rulebook)
    if sign not in book.signs:
        known = ", ".join(answer.sign for answer in notebook.all(AnswerRow, visit=visit.id))
        raise NotAValue(f"'{sign}' is no question of this visit; its answers are {known}")
    known_now = parse_answer(book.signs[sign], text, visit.day, visit.units)
    with notebook.entry(f"{visit.title}: {sign.replace('_', ' ')} changed"):
        return notebook.answer(visit.id, sign, known_now)


def split_day(text: str) -> tuple[date, str]:
    """The day at the beginning of a line, and what stands after its comma. Raises `NotAValue`."""
    day, _, others = text.partition(",")
    return parse_date(day), others.strip()


def _planting_written(notebook: Notebook, units: Units, row: PlantingRow) -> str:
    last = f"..{row.planted_to.isoformat()}" if row.planted_to != row.planted_from else ""
    slips = f"{row.slips} slips" if row.slips else ""
    return ", ".join(filter(None, (f"{row.planted_from.isoformat()}{last}", row.variety, slips)))


def _change_planting(notebook: Notebook, bed: BedRow, units: Units, row: PlantingRow, text: str) -> None:
    """Visits that hold the planting's day and variety as it was hold them as they are now."""
    told = parse_planting(text, _season_of(text, row))
    new = row._replace(planted_from=told.first, planted_to=told.last, variety=told.variety, slips=told.slips)
    if new.ended is not None and new.ended < new.planted_from:
        raise NotAValue(f"{bed.name} was dug on {format_day(new.ended)}, before that; change the day of the dig first")
    notebook.change(new)
    for visit in notebook.all(VisitRow, planting=row.id):
        book = read_rulebook(visit.rulebook)
        before, after = planting_answers(book, row), planting_answers(book, new)
        for answer in notebook.all(AnswerRow, visit=visit.id):
            if answer.sign in before and answer.written == before[answer.sign].written:
                _answer_anew(notebook, answer, after)


def _season_of(text: str, row: PlantingRow) -> date:
    """The day from which is looked back: a day with its year is one, others are meant in the season as it was."""
    try:
        return parse_date(text.partition(",")[0].rpartition("..")[2])
    except NotAValue:
        return row.planted_from + LONGEST_SEASON


def _answer_anew(notebook: Notebook, answer: AnswerRow, after: Mapping[str, Any]) -> None:
    if answer.sign not in after:
        notebook.remove(answer)
    elif answer.known != after[answer.sign]:
        notebook.answer(answer.visit, answer.sign, after[answer.sign])


def _visit_written(notebook: Notebook, units: Units, row: VisitRow) -> str:
    return row.day.isoformat()


def _change_visit(notebook: Notebook, bed: BedRow, units: Units, row: VisitRow, text: str) -> None:
    day = parse_date(text)
    notebook.change(row._replace(day=day))
    for trial in notebook.all(TrialRow, visit=row.id):
        notebook.change(trial._replace(day=day))


def _line_written(notebook: Notebook, units: Units, row: LotEntryRow) -> str:
    weight = weight_words(row.pounds, units) if row.pounds is not None else ""
    return f"{row.day.isoformat()}, {' '.join(filter(None, (row.what, weight, row.part)))}"


def _change_line(notebook: Notebook, bed: BedRow, units: Units, row: LotEntryRow, text: str) -> None:
    day, line = split_day(text)
    new = row._replace(day=day)
    if line != split_day(_line_written(notebook, units, row))[1]:
        told = ledger_line(line, units, day)
        new = new._replace(what=told.what, part=told.part, pounds=told.pounds)
    if DUG in (row.what, new.what) and (new.what, new.day) != (row.what, row.day):
        raise NotAValue("what was dug was dug on the day of the dig; change the dig for another day")
    notebook.change(new)


def _stay_written(notebook: Notebook, units: Units, row: StayRow) -> str:
    return row.since.isoformat()


def _change_stay(notebook: Notebook, bed: BedRow, units: Units, row: StayRow, text: str) -> None:
    """Where a lot lay until the day it was moved, it lay until the day as it is now."""
    day = parse_date(text)
    if row.until is not None and day > row.until:
        raise NotAValue(f"the lot was moved on on {format_day(row.until)}; change that day first")
    before = stay_before(notebook, row)
    if before and before.since > day:
        raise NotAValue(f"the lot came there on {format_day(before.since)}; change that day first")
    if before:
        notebook.change(before._replace(until=day))
    notebook.change(row._replace(since=day))


def stay_before(notebook: Notebook, row: StayRow) -> StayRow | None:
    """Where a lot lay until it came to where it was then."""
    earlier = [stay for stay in notebook.all(StayRow, lot=row.lot) if stay.id < row.id]
    return earlier[-1] if earlier and earlier[-1].until == row.since else None


def _air_written(notebook: Notebook, units: Units, row: AirRow) -> str:
    return f"{row.at.isoformat(sep=' ', timespec='minutes')}, {air_words(row, units)}"


def _change_air(notebook: Notebook, bed: BedRow, units: Units, row: AirRow, text: str) -> None:
    moment, reading = map(str.strip, text.partition(",")[::2])
    day, _, clock = moment.partition(" ")
    new = row._replace(at=datetime.combine(parse_date(day), _clock(clock, row)))
    if reading != air_words(row, units):
        temperature, humidity = parse_reading(reading, units)
        new = new._replace(temperature=temperature, humidity=humidity)
    notebook.change(new)


def _clock(text: str, row: AirRow) -> time:
    """The hour and minute; as they were, to the second, where they are the same or left out."""
    if text.strip() in ("", f"{row.at:%H:%M}"):
        return row.at.time()
    try:
        return datetime.strptime(text.strip(), "%H:%M").time()
    except ValueError:
        raise NotAValue(f"'{text.strip()}' is no time of day; write one such as 18:30") from None


def _history_written(notebook: Notebook, units: Units, row: HistoryRow) -> str:
    return f"{row.year} {row.crop} {row.disease}".strip()


def _change_history(notebook: Notebook, bed: BedRow, units: Units, row: HistoryRow, text: str) -> None:
    (season,) = typed_seasons([text])
    disease = "" if season.disease == NO_DISEASE else season.disease
    notebook.change(row._replace(year=season.year, crop=season.crop, disease=disease))


WAYS: Mapping[type[Record], Way] = {
    PlantingRow: Way("planting", _planting_written, _change_planting),
    VisitRow: Way("visit", _visit_written, _change_visit),
    TrialRow: Way("test dig", trial_written, change_trial),
    DigRow: Way("dig", dig_written, change_dig),
    LotEntryRow: Way("line of the lot", _line_written, _change_line),
    StayRow: Way("day it was moved", _stay_written, _change_stay),
    AirRow: Way("reading", _air_written, _change_air),
    HistoryRow: Way("year", _history_written, _change_history),
}
"""Each kind of entry that a bed's story tells."""
