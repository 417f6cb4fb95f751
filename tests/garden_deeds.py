"""What a grower may do with a garden, drawn at random: entries, changes, things taken out, gardens and beds moved."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from random import Random
from typing import TypeVar

from assistant.garden.demo import TODAY, fill
from assistant.garden.entries.corrections import change, change_answer, written
from assistant.garden.entries.digs import record_dig
from assistant.garden.entries.gardens import add_bed, add_garden, change_garden, move_bed, rename_bed, size_bed
from assistant.garden.entries.lots import note_lot
from assistant.garden.entries.plantings import plant
from assistant.garden.entries.rooms import log_air, moment_of, move_to_store
from assistant.garden.entries.taking_out import take_out, take_out_answer, take_out_entry, take_out_garden
from assistant.garden.entries.visits import frost_tonight
from assistant.garden.standing.overview import bed_now
from assistant.garden.standing.stages import BedNow
from assistant.garden.telling.timeline import Event, timeline
from assistant.model.notebook import AnswerRow, BedRow, GardenRow, VisitRow
from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue
from assistant.notebook import Notebook

T = TypeVar("T")
Deed = Callable[[Notebook, Random, BedNow, date], object]
DIGS = ("96 lb", "part, 30 lb", "12 ft, 30 lb", "12 ft", "20 hills", "rest", "", "4 ft, 3 kg")
LINES = ("looked", "used 3 lb", "apart 5 lb nicked", "used 2 lb nicked", "weighed 20 lb", "given 9 lb", "dug 40 lb")
SETTINGS = ("metric", "us", "first frost 10-01 10-12 10-30", "last frost none", "name {}")


def deed(notebook: Notebook, number: int) -> None:
    """The deed of a number in the invented garden, or an undoing: the same whoever does it on the same notebook."""
    if number == 0:
        fill(notebook)
    elif number % 9 == 8:
        notebook.undo_last()
    else:
        do_something(notebook, Random(number))


def do_something(notebook: Notebook, chance: Random) -> bool:
    """One deed on some bed; whether it was done and not refused."""
    beds = notebook.all(BedRow)
    deed = chance.choice(DEEDS if beds else (_add_bed,))
    on = TODAY + timedelta(days=chance.randrange(-20, 60))
    try:
        deed(notebook, chance, bed_now(notebook, chance.choice(beds).id, on) if beds else None, on)  # type: ignore[arg-type]
    except (NotAValue, BadInput):
        return False
    return True


def _add_bed(notebook: Notebook, chance: Random, now: BedNow, on: date) -> None:
    add_bed(notebook, f"Bed {chance.randrange(100)}")


def _plant(notebook: Notebook, chance: Random, now: BedNow, on: date) -> None:
    plant(notebook, now.bed, f"{on - timedelta(days=chance.randrange(120))}, Beauregard, 50 slips", on)


def _note(notebook: Notebook, chance: Random, now: BedNow, on: date) -> None:
    lot = chance.choice(now.lots).lot.name if now.lots else ""
    note_lot(notebook, now, f"{chance.choice(LINES)}, {lot}", on)


def _change(notebook: Notebook, chance: Random, now: BedNow, on: date) -> None:
    """The entry with its first day moved, or other numbers after it."""
    event = _event(notebook, chance, now)
    words = written(notebook, now.bed, event.record)
    day, comma, more = words.partition(",")
    moved = str(event.day + timedelta(days=chance.randrange(-3, 4))) + day[10:]
    other = chance.choice((more, *DIGS, *LINES))
    text = moved + (comma and f", {other.strip()}")
    if chance.random() < 0.1:
        text = f"bed {chance.choice(notebook.all(BedRow)).name}"
    change(notebook, now.bed, event.record, text)


def _take_out_entry(notebook: Notebook, chance: Random, now: BedNow, on: date) -> None:
    take_out_entry(notebook, now.bed, _event(notebook, chance, now).record)


def _change_answer(notebook: Notebook, chance: Random, now: BedNow, on: date) -> None:
    visit = _one_of(chance, notebook.all(VisitRow, bed=now.bed.id))
    answer = _one_of(chance, notebook.all(AnswerRow, visit=visit.id))
    if chance.random() < 0.5:
        take_out_answer(notebook, visit, answer.sign)
    else:
        change_answer(notebook, visit, answer.sign, chance.choice(("?", "40", "green", "none")))


def _garden(notebook: Notebook, chance: Random, now: BedNow, on: date) -> None:
    gardens = notebook.all(GardenRow)
    garden = chance.choice(gardens)
    deeds: tuple[Callable[[], object], ...] = (
        lambda: add_garden(notebook, f"Garden {chance.randrange(9)}"),
        lambda: change_garden(notebook, garden, chance.choice(SETTINGS).format(chance.randrange(99))),
        lambda: take_out_garden(notebook, garden),
        lambda: notebook.show(garden.id),
    )
    chance.choice(deeds)()


def _event(notebook: Notebook, chance: Random, now: BedNow) -> Event:
    return _one_of(chance, timeline(notebook, now.bed))


def _one_of(chance: Random, things: Sequence[T]) -> T:
    if not things:
        raise NotAValue("there is nothing here")
    return chance.choice(things)


DEEDS: tuple[Deed, ...] = (
    _add_bed,
    _plant,
    lambda notebook, chance, now, on: record_dig(notebook, now, chance.choice(DIGS), on),
    lambda notebook, chance, now, on: log_air(notebook, now, f"{chance.randrange(50, 90)} F 85 %", moment_of(on)),
    _note,
    lambda notebook, chance, now, on: move_to_store(notebook, now, on),
    lambda notebook, chance, now, on: frost_tonight(notebook, f"{chance.randrange(24, 40)} F", on),
    *(_change,) * 4,
    *(_take_out_entry,) * 4,
    *(_change_answer,) * 2,
    *(_garden,) * 2,
    lambda notebook, chance, now, on: size_bed(notebook, now.bed, "40 ft"),
    lambda notebook, chance, now, on: rename_bed(notebook, now.bed, f"Bed {chance.randrange(100)}"),
    lambda notebook, chance, now, on: move_bed(notebook, now.bed, chance.choice(notebook.all(GardenRow))),
    lambda notebook, chance, now, on: take_out(notebook, now.bed) if chance.random() < 0.3 else None,
)
