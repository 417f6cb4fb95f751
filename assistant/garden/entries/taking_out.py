"""An entry or a bed taken out together with all that rests on it, which is told before."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from assistant.garden.entries.corrections import WAYS, stay_before
from assistant.garden.entries.digs import settle
from assistant.garden.entries.soundness import lots_of, readings_of_none, sound
from assistant.garden.standing.words import count_words
from assistant.model.notebook import (
    AirRow,
    AnswerRow,
    BedRow,
    DigRow,
    GardenRow,
    LotEntryRow,
    LotRow,
    PlantingRow,
    Record,
    RoomRow,
    StayRow,
    VisitRow,
)
from assistant.model.quantities import NotAValue, format_day
from assistant.notebook import Notebook
from assistant.reckoning.lot_ledger import DUG

NOTHING = "nothing else"
_TOLD = {
    "bed": "bed",
    "planting": "planting",
    "visit": "visit",
    "answer": "answer",
    "verdict": "verdict",
    "test_dig": "test dig",
    "dig": "dig",
    "lot": "lot",
    "lot_entry": "line of a ledger",
    "history": "year of history",
}


def what_goes(notebook: Notebook, record: Record) -> str:
    """All that taking out a record would take with it, in words."""
    counts = notebook.belonging(record)
    told = [count_words(counts[table], name) for table, name in _TOLD.items() if table in counts]
    readings = len(_readings(notebook, record))
    return ", ".join(told + [count_words(readings, "reading of the air")] * bool(readings)) or NOTHING


def take_out(notebook: Notebook, bed: BedRow) -> BedRow:
    """The bed and all that belongs to it leave the notebook, until that is undone."""
    with notebook.entry(f"the bed {bed.name} taken out"):
        _remove(notebook, bed)
    return bed


def take_out_garden(notebook: Notebook, garden: GardenRow) -> GardenRow:
    """A garden without beds leaves the notebook. Raises `NotAValue`."""
    beds = notebook.all(BedRow, garden=garden.id)
    if beds:
        told = count_words(len(beds), "bed")
        raise NotAValue(f"{garden.name} has {told}; move or take out {beds[0].name} first")
    stays = (stay for room in notebook.all(RoomRow, garden=garden.id) for stay in notebook.all(StayRow, room=room.id))
    lot = next((notebook.get(LotRow, stay.lot) for stay in stays), None)
    if lot:
        raise NotAValue(f"{lot.name} lay or lies in a room of {garden.name}, so that has to stay; rename it instead")
    with notebook.entry(f"the garden {garden.name} taken out"):
        notebook.remove(garden)
    return garden


def take_out_entry(notebook: Notebook, bed: BedRow, record: Record) -> str:
    """One entry of a bed's story leaves it with all that rests on it; which it was.

    Raises `NotAValue` where something rests on it that cannot go along, and then nothing is changed.
    """
    name = WAYS[type(record)].name
    _check_line(notebook, record)
    with sound(notebook, f"{bed.name}: the {name} taken out", bed):
        _remove(notebook, record)
        if isinstance(record, DigRow):
            settle(notebook, notebook.get(PlantingRow, record.planting))
        if isinstance(record, StayRow):
            _back_to_before(notebook, record)
    return name


def take_out_answer(notebook: Notebook, visit: VisitRow, sign: str) -> None:
    """An answer of a visit is rubbed out; its verdict stays as it was given. Raises `NotAValue`."""
    answers = notebook.all(AnswerRow, visit=visit.id, sign=sign)
    if not answers:
        known = ", ".join(answer.sign for answer in notebook.all(AnswerRow, visit=visit.id))
        raise NotAValue(f"'{sign}' is no answer of this visit; its answers are {known or 'none'}")
    with notebook.entry(f"{visit.title}: {sign.replace('_', ' ')} rubbed out"):
        notebook.remove(answers[0])


def _remove(notebook: Notebook, record: Record) -> None:
    for reading in _readings(notebook, record):
        notebook.remove(reading)
    notebook.remove(record)


def _check_line(notebook: Notebook, record: Record) -> None:
    """The weight that was dug is what all that was used rests on."""
    if not isinstance(record, LotEntryRow) or record.what != DUG:
        return
    lines = notebook.all(LotEntryRow, lot=record.lot)
    resting = [line for line in lines if line.what != DUG and line.pounds is not None]
    if resting and sum(line.what == DUG for line in lines) == 1:
        first = resting[0]
        says = f"'{first.what}' of {format_day(first.day)} rests on the weight that was dug"
        raise NotAValue(f"{says}; change the weight, or take that out first")


def _back_to_before(notebook: Notebook, record: StayRow) -> None:
    """Where the lot lay before it came there it lies until it was moved on."""
    before = stay_before(notebook, record)
    if before:
        notebook.change(before._replace(until=record.until))


def _readings(notebook: Notebook, record: Record) -> tuple[AirRow, ...]:
    """Typed readings that would be of no roots without the record."""
    stays = tuple(_stays(notebook, record))
    rooms = {stay.room for stay in stays}
    before = {reading.id for reading in readings_of_none(notebook, rooms)}
    after = readings_of_none(notebook, rooms, (stay.id for stay in stays))
    return tuple(reading for reading in after if reading.id not in before)


def _stays(notebook: Notebook, record: Record) -> Iterator[StayRow]:
    """Where the lots that come from a record lay."""
    if isinstance(record, StayRow):
        yield record
        return
    for lot in _lots(notebook, record):
        yield from notebook.all(StayRow, lot=lot.id)


def _lots(notebook: Notebook, record: Record) -> Iterable[LotRow]:
    if isinstance(record, DigRow):
        return notebook.all(LotRow, dig=record.id)
    plantings: tuple[PlantingRow, ...] = ()
    if isinstance(record, PlantingRow):
        plantings = (record,)
    elif isinstance(record, BedRow):
        plantings = notebook.all(PlantingRow, bed=record.id)
    return (lot for planting in plantings for _, lot in lots_of(notebook, planting))
