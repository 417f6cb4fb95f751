"""Where roots lie: the air read there, and a lot put into the store when its cure is over."""

from __future__ import annotations

from datetime import date, datetime, time

from assistant.cases.rooms import parse_reading
from assistant.garden.entries.lots import which_lot
from assistant.garden.entries.soundness import BY_HAND, sound
from assistant.garden.standing.stages import BedNow, InStore
from assistant.model.notebook import AirRow, GardenRow, LotRow, RoomRow, StayRow
from assistant.model.quantities import NotAValue
from assistant.notebook import Notebook

CURE, STORE = "Curing place", "Store"


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


def room_named(notebook: Notebook, garden: GardenRow, name: str) -> RoomRow:
    """The room of a name, made where there is none."""
    rooms = notebook.all(RoomRow, garden=garden.id, name=name)
    return rooms[0] if rooms else notebook.add(RoomRow(garden.id, name))


def _store(now: BedNow) -> InStore:
    """Where the air is read: by a lot that cures before one that is kept."""
    return min(now.lots, key=lambda store: store.stay.purpose) if now.lots else which_lot(now)


def _since(store: InStore) -> tuple[date, int]:
    return store.stay.since, store.stay.id
