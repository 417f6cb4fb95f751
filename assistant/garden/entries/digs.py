"""Digs: of all that is in the ground, or of a part of it; the roots of each become a lot that goes into the cure."""

from __future__ import annotations

import re
from datetime import date

from assistant.cases.hills import bed_length
from assistant.cases.ledger import pounds_of
from assistant.garden.entries.rooms import CURE, room_named
from assistant.garden.entries.soundness import sound
from assistant.garden.standing.accounts import HALF_AN_INCH, PART, REST, Dug, all_dug, extent_of
from assistant.garden.standing.stages import BedNow
from assistant.garden.standing.words import dated
from assistant.model.notebook import BedRow, DigRow, GardenRow, LotEntryRow, LotRow, PlantingRow, StayRow
from assistant.model.quantities import NotAValue, Units
from assistant.notebook import Notebook
from assistant.reckoning.lot_ledger import DUG

HOW = "write the weight of all that was dug, such as 96 lb; of a part: 12 ft, 30 lb or 20 hills, 30 lb or part, 30 lb"
_LENGTH = re.compile(r"[\d./ ]+(ft|in|cm|m)", re.IGNORECASE)
_HILLS = re.compile(r"([1-9]\d{0,5})\s*hills?", re.IGNORECASE)


def record_dig(notebook: Notebook, now: BedNow, text: str, on: date) -> LotRow:
    """The bed is dug, or a part of it; `text` as in `parse_dug`, after another day where it was not `on` this one.

    Raises `NotAValue`.
    """
    on, text = dated(text, on)
    if now.planting is None:
        raise NotAValue(f"nothing grows in {now.bed.name}; record a planting first")
    if on < now.planting.planted_from:
        raise NotAValue(f"{now.bed.name} was planted after {on.isoformat()}; choose a later day")
    garden = notebook.get(GardenRow, now.bed.garden)
    dug = parse_dug(text, garden.units)
    with sound(notebook, f"{'a part of ' if dug.what == PART else ''}{now.bed.name} dug", now.bed):
        dug = all_told(dug, now.bed, now.planting, notebook.all(DigRow, planting=now.planting.id))
        dig = notebook.add(DigRow(now.planting.id, on, what=dug.what, length=dug.length, hills=dug.hills))
        lot = notebook.add(LotRow(garden.id, free_name(notebook, garden, f"{now.bed.name} {on.year}"), dig.id))
        if dug.pounds:
            notebook.add(LotEntryRow(lot.id, on, DUG, "", dug.pounds))
        notebook.add(StayRow(lot.id, room_named(notebook, garden, CURE).id, "cure", on))
        settle(notebook, now.planting)
    return lot


def parse_dug(text: str, units: Units) -> Dug:
    """From text such as `96 lb` or nothing, for all that is in the ground; `12 ft, 30 lb`, `20 hills` or `part, 30 lb`
    for a part. Raises `NotAValue`."""
    found = Dug("")
    for word in filter(None, map(str.strip, text.split(","))):
        told = _told(word, units)
        if any(one and other for one, other in zip(found, told, strict=True)):
            raise NotAValue(f"'{text.strip()}' tells the same twice; {HOW}")
        found = Dug(*(one or other for one, other in zip(found, told, strict=True)))  # type: ignore[arg-type]
    return found if found.what else found._replace(what=PART if found.length or found.hills else REST)


def _told(word: str, units: Units) -> Dug:
    """What one word tells of a dig."""
    hills = _HILLS.fullmatch(word)
    if word.lower() in (REST, PART):
        return Dug(word.lower())
    if hills:
        return Dug("", hills=int(hills[1]))
    if _LENGTH.fullmatch(word):
        return Dug("", bed_length(word, "ft"))
    return Dug("", pounds=_pounds(word, units))


def all_told(dug: Dug, bed: BedRow, planting: PlantingRow, before: tuple[DigRow, ...]) -> Dug:
    """The same as the rest, where a part takes all that was left."""
    now, then = extent_of(bed, planting, dug), all_dug(bed, planting, before)
    no_row = bed.length and now.length and abs(bed.length - (then.length or 0.0) - now.length) <= HALF_AN_INCH
    no_hill = planting.slips and now.hills and planting.slips - (then.hills or 0) == now.hills
    return dug._replace(what=REST) if no_row or (no_hill and not bed.length) else dug


def settle(notebook: Notebook, planting: PlantingRow) -> None:
    """A planting is over on the last day of its digs once one of them took the rest, and not before."""
    digs = notebook.all(DigRow, planting=planting.id)
    over = max(dig.day for dig in digs) if any(dig.what == REST for dig in digs) else None
    now = notebook.get(PlantingRow, planting.id)
    if now.ended != over:
        notebook.change(now._replace(ended=over))


def free_name(notebook: Notebook, garden: GardenRow, name: str) -> str:
    """The name for a lot, with a number where a lot of the garden has it."""
    taken = {lot.name for lot in notebook.all(LotRow, garden=garden.id)}
    again = (f"{name} ({number})" for number in range(2, len(taken) + 3))
    return name if name not in taken else next(other for other in again if other not in taken)


def _pounds(word: str, units: Units) -> float:
    try:
        return pounds_of(word, units)
    except NotAValue as error:
        raise NotAValue(f"{str(error).partition(';')[0]}; {HOW}") from None
