"""What a grower writes down: each entry is on the disk at one go, and is undone at one go."""

from __future__ import annotations

from datetime import date, datetime, time

from assistant.cases.ledger import entry_of
from assistant.cases.rooms import parse_reading
from assistant.garden.overview import bed_now, pounds_left
from assistant.garden.stages import BedNow, InStore
from assistant.interview.answers import parse_answer
from assistant.model.notebook import (
    AirRow,
    BedRow,
    DigRow,
    GardenRow,
    LotEntryRow,
    LotRow,
    PlantingRow,
    RoomRow,
    StayRow,
)
from assistant.model.place import NOWHERE
from assistant.model.quantities import Kind, NotAValue, Units, format_number
from assistant.model.readings import Span
from assistant.model.signs import Effort, Sign
from assistant.notebook import Notebook

GARDEN = "The garden"
CURE, STORE = "Curing place", "Store"
LONGEST_NAME = 60
_PLANTED = Sign("planted_on", Kind.DATE, "", "", Effort.GLANCE, high=3650, about=7)


def add_bed(notebook: Notebook, name: str) -> BedRow:
    """A new bed. Raises `NotAValue` for a name that is none or is taken."""
    name = " ".join(name.split())
    if not 0 < len(name) <= LONGEST_NAME:
        raise NotAValue(f"a bed's name has 1 to {LONGEST_NAME} letters; write one such as North bed")
    if any(bed.name.lower() == name.lower() for bed in notebook.all(BedRow)):
        raise NotAValue(f"there is a bed named {name} already; write another name")
    with notebook.entry(f"the bed {name} added"):
        return notebook.add(BedRow(_garden(notebook).id, name))


def plant(notebook: Notebook, bed: BedRow, text: str, on: date) -> PlantingRow:
    """Slips set, from text such as `20 June` or `2031-06-20, Beauregard`. Raises `NotAValue`."""
    if any(planting.ended is None for planting in notebook.all(PlantingRow, bed=bed.id)):
        raise NotAValue(f"{bed.name} is planted already; record its dig first")
    day, _, variety = text.partition(",")
    reading = parse_answer(_PLANTED, day, on, Units.US).reading
    if not isinstance(reading, Span) or reading.high - reading.low > 200:
        raise NotAValue("write a day such as 20 June, mid June or 2031-06-20")
    first, last = (date.fromordinal(int(end)) for end in (reading.low, reading.high))
    with notebook.entry(f"{bed.name} planted"):
        return notebook.add(PlantingRow(bed.id, first, last, " ".join(variety.split())[:LONGEST_NAME]))


def record_dig(notebook: Notebook, now: BedNow, text: str, on: date) -> LotRow:
    """The bed is dug: its roots become a lot that goes into the cure; `text` is their weight or empty.

    Raises `NotAValue`.
    """
    if now.planting is None:
        raise NotAValue(f"nothing grows in {now.bed.name}; record a planting first")
    if on < now.planting.planted_from:
        raise NotAValue(f"{now.bed.name} was planted after {on.isoformat()}; choose a later day")
    garden = notebook.get(GardenRow, now.bed.garden)
    pounds = _ledger_line(f"dug {text}", garden.units, on) if text.strip() else None
    with notebook.entry(f"{now.bed.name} dug"):
        dig = notebook.add(DigRow(now.planting.id, on))
        notebook.change(now.planting._replace(ended=on))
        lot = notebook.add(LotRow(garden.id, _free_name(notebook, garden, f"{now.bed.name} {on.year}"), dig.id))
        if pounds:
            notebook.add(pounds._replace(lot=lot.id))
        notebook.add(StayRow(lot.id, _room(notebook, garden, CURE).id, "cure", on))
    return lot


def log_air(notebook: Notebook, now: BedNow, text: str, at: datetime) -> AirRow:
    """A reading of the air where the bed's roots lie, such as `84 F 88 %`. Raises `NotAValue`."""
    store = _store(now)
    garden = notebook.get(GardenRow, now.bed.garden)
    temperature, humidity = parse_reading(text, garden.units)
    with notebook.entry(f"the air by {store.lot.name} read"):
        return notebook.add(AirRow(store.stay.room, at, temperature, humidity, "by hand"))


def note_lot(notebook: Notebook, now: BedNow, text: str, on: date) -> LotEntryRow:
    """A line of the lot's ledger: `looked`, `used 3 lb`, `discarded 1 lb`, `weighed 80 lb`. Raises `NotAValue`."""
    lot = _store(now).lot
    line = _ledger_line(text, notebook.get(GardenRow, now.bed.garden).units, on)
    left = pounds_left(notebook.all(LotEntryRow, lot=lot.id))
    if left is not None and line.pounds is not None and line.what != "dug" and line.pounds > left + 0.01:
        raise NotAValue(f"only {format_number(left)} lb of {lot.name} are left; check the weight")
    with notebook.entry(f"{lot.name} {line.what}"):
        return notebook.add(line._replace(lot=lot.id))


def move_to_store(notebook: Notebook, now: BedNow, on: date) -> LotRow:
    """The cure is over: the lot goes into the store. Raises `NotAValue` when none is curing."""
    curing = next((store for store in now.lots if store.stay.purpose == "cure"), None)
    if curing is None:
        raise NotAValue(f"no roots of {now.bed.name} are curing")
    garden = notebook.get(GardenRow, now.bed.garden)
    with notebook.entry(f"{curing.lot.name} put into the store"):
        notebook.change(curing.stay._replace(until=max(on, curing.stay.since)))
        notebook.add(StayRow(curing.lot.id, _room(notebook, garden, STORE).id, "keep", max(on, curing.stay.since)))
    return curing.lot


def what_goes(notebook: Notebook, bed: BedRow) -> str:
    """All that taking out a bed would take with it, in words."""
    counts = notebook.belonging(bed)
    told = [f"{counts[table]} {name}{'s' * (counts[table] != 1)}" for table, name in _TOLD.items() if table in counts]
    return ", ".join(told) or "nothing else"


def take_out(notebook: Notebook, bed: BedRow) -> BedRow:
    """The bed and all that belongs to it leave the notebook, until that is undone."""
    with notebook.entry(f"the bed {bed.name} taken out"):
        notebook.remove(bed)
    return bed


def moment_of(on: date) -> datetime:
    """Now on the clock, or noon of a day that is not today."""
    now = datetime.now().replace(microsecond=0)
    return now if now.date() == on else datetime.combine(on, time(12))


def find_bed(notebook: Notebook, name: str, on: date) -> BedNow:
    """The bed of a name, or of the only name that begins so. Raises `NotAValue`."""
    beds = notebook.all(BedRow)
    wanted = " ".join(name.split()).lower()
    found = [bed for bed in beds if bed.name.lower() == wanted]
    found = found or [bed for bed in beds if bed.name.lower().startswith(wanted)]
    if len(found) != 1:
        known = ", ".join(bed.name for bed in beds[:12]) or "none yet"
        raise NotAValue(f"'{name}' is {'no bed' if not found else 'more than one bed'}; the beds are: {known}")
    return bed_now(notebook, found[0].id, on)


_TOLD = {"planting": "planting", "visit": "visit", "answer": "answer", "lot": "lot", "history": "year of history"}


def _garden(notebook: Notebook) -> GardenRow:
    gardens = notebook.all(GardenRow)
    return gardens[0] if gardens else notebook.add(GardenRow(GARDEN))


def _room(notebook: Notebook, garden: GardenRow, name: str) -> RoomRow:
    rooms = notebook.all(RoomRow, garden=garden.id, name=name)
    return rooms[0] if rooms else notebook.add(RoomRow(garden.id, name))


def _free_name(notebook: Notebook, garden: GardenRow, name: str) -> str:
    taken = {lot.name for lot in notebook.all(LotRow, garden=garden.id)}
    again = (f"{name} ({number})" for number in range(2, len(taken) + 3))
    return name if name not in taken else next(other for other in again if other not in taken)


def _store(now: BedNow) -> InStore:
    """The lot that is meant: one that cures before one that is kept."""
    if not now.lots:
        raise NotAValue(f"no roots of {now.bed.name} are curing or kept; record a dig first")
    return min(now.lots, key=lambda store: store.stay.purpose)


def _ledger_line(text: str, units: Units, on: date) -> LotEntryRow:
    """A line such as `used 3 lb` as a row of no lot yet. Raises `NotAValue`."""
    what, _, weight = text.strip().partition(" ")
    cells = {"date": on.isoformat(), "lot": "lot", "what": what, "weight": weight.strip()}
    entry = entry_of({name: cell for name, cell in cells.items() if cell}, units, NOWHERE)
    if entry.what == "apart":
        raise NotAValue("write looked, used, given, sold, discarded or weighed, with a weight such as 3 lb")
    return LotEntryRow(0, on, entry.what, "", entry.pounds)
