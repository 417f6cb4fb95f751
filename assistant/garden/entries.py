"""What a grower writes down: each entry is on the disk at one go, and is undone at one go."""

from __future__ import annotations

import re
from datetime import date, datetime, time
from typing import NamedTuple

from assistant.cases.rooms import parse_reading
from assistant.garden.digs import STORE, room_named
from assistant.garden.finding import LONGEST_NAME
from assistant.garden.lots import which_lot
from assistant.garden.soundness import BY_HAND, sound
from assistant.garden.stages import BedNow, InStore
from assistant.interview.answers import parse_answer
from assistant.model.notebook import AirRow, BedRow, GardenRow, LotRow, PlantingRow, StayRow
from assistant.model.quantities import Kind, NotAValue, Units
from assistant.model.readings import Span
from assistant.model.signs import Effort, Sign
from assistant.notebook import Notebook

_PLANTED = Sign("planted_on", Kind.DATE, "", "", Effort.GLANCE, high=3650, about=7)
_SLIPS = re.compile(r"(\d{1,6})\s*slips?", re.IGNORECASE)


class Planted(NamedTuple):
    """What was told of a planting."""

    first: date
    last: date
    variety: str
    slips: int | None


def plant(notebook: Notebook, bed: BedRow, text: str, on: date) -> PlantingRow:
    """Slips set, from text such as `20 June` or `2031-06-20, Beauregard, 40 slips`. Raises `NotAValue`."""
    if any(planting.ended is None for planting in notebook.all(PlantingRow, bed=bed.id)):
        raise NotAValue(f"{bed.name} is planted already; record its dig first")
    planted = parse_planting(text, on)
    with sound(notebook, f"{bed.name} planted", bed):
        return notebook.add(PlantingRow(bed.id, planted.first, planted.last, planted.variety, planted.slips))


def parse_planting(text: str, on: date) -> Planted:
    """A day, and after commas the variety and how many slips. Raises `NotAValue`."""
    day, *others = (part.strip() for part in text.split(","))
    reading = parse_answer(_PLANTED, day, on, Units.US).reading
    if not isinstance(reading, Span) or reading.high - reading.low > 200:
        raise NotAValue("write a day such as 20 June, mid June or 2031-06-20")
    first, last = (date.fromordinal(int(end)) for end in (reading.low, reading.high))
    counts = [int(match[1]) for match in map(_SLIPS.fullmatch, others) if match]
    varieties = [other for other in others if not _SLIPS.fullmatch(other)]
    if len(counts) > 1 or len(varieties) > 1 or 0 in counts:
        raise NotAValue("after the day write the variety and how many slips: 20 June, Beauregard, 40 slips")
    variety = " ".join("".join(varieties).split())[:LONGEST_NAME]
    return Planted(first, last, variety, counts[0] if counts else None)


def log_air(notebook: Notebook, now: BedNow, text: str, at: datetime) -> AirRow:
    """A reading of the air where the bed's roots lie, such as `84 F 88 %`. Raises `NotAValue`."""
    store = _store(now)
    garden = notebook.get(GardenRow, now.bed.garden)
    temperature, humidity = parse_reading(text, garden.units)
    with sound(notebook, f"the air by {store.lot.name} read", now.bed):
        return notebook.add(AirRow(store.stay.room, at, temperature, humidity, BY_HAND))


def move_to_store(notebook: Notebook, now: BedNow, on: date) -> LotRow:
    """The cure is over: the lot that has cured longest goes into the store. Raises `NotAValue` when none is curing."""
    curing = min((store for store in now.lots if store.stay.purpose == "cure"), key=_since, default=None)
    if curing is None:
        raise NotAValue(f"no roots of {now.bed.name} are curing")
    garden = notebook.get(GardenRow, now.bed.garden)
    with sound(notebook, f"{curing.lot.name} put into the store", now.bed):
        notebook.change(curing.stay._replace(until=max(on, curing.stay.since)))
        store = room_named(notebook, garden, STORE)
        notebook.add(StayRow(curing.lot.id, store.id, "keep", max(on, curing.stay.since)))
    return curing.lot


def moment_of(on: date) -> datetime:
    """Now on the clock, or noon of a day that is not today."""
    now = datetime.now().replace(microsecond=0)
    return now if now.date() == on else datetime.combine(on, time(12))


def _store(now: BedNow) -> InStore:
    """Where the air is read: by a lot that cures before one that is kept."""
    return min(now.lots, key=lambda store: store.stay.purpose) if now.lots else which_lot(now)


def _since(store: InStore) -> tuple[date, int]:
    return store.stay.since, store.stay.id
