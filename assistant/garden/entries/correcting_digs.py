"""Digs and test digs as one line each, and brought in line with such a line."""

from __future__ import annotations

from datetime import date

from assistant.cases.hills import typed_hill
from assistant.garden.entries.digs import all_told, free_name, parse_dug, settle
from assistant.garden.entries.soundness import sound
from assistant.garden.standing.accounts import PART, REST, Dug
from assistant.garden.standing.finding import find_bed_row
from assistant.garden.standing.words import count_words, length_words, weight_words
from assistant.model.notebook import (
    BedRow,
    DigRow,
    GardenRow,
    HillRow,
    LotEntryRow,
    LotRow,
    PlantingRow,
    RootRow,
    StayRow,
    TrialRow,
)
from assistant.model.place import NOWHERE, BadInput
from assistant.model.quantities import Kind, NotAValue, Units, format_day, format_value, parse_date
from assistant.notebook import Notebook
from assistant.reckoning.hills import Hill
from assistant.reckoning.lot_ledger import DUG


def dug_words(notebook: Notebook, units: Units, row: DigRow) -> str:
    """What was dug, such as `12 ft, 30 lb`; nothing where all of a bed was dug and not weighed."""
    pounds = sum(line.pounds or 0.0 for line in _dug_lines(notebook, row))
    length = length_words(row.length, units) if row.length else ""
    hills = count_words(row.hills, "hill") if row.hills else ""
    usual = PART if row.length or row.hills else REST
    what = row.what if row.what != usual and not (row.length or row.hills) else ""
    weight = weight_words(pounds, units) if pounds else ""
    return ", ".join(filter(None, (what, length, hills, weight)))


def dig_written(notebook: Notebook, units: Units, row: DigRow) -> str:
    """A dig on one line."""
    return ", ".join(filter(None, (row.day.isoformat(), dug_words(notebook, units, row))))


def change_dig(notebook: Notebook, bed: BedRow, units: Units, row: DigRow, text: str) -> None:
    """The weight, the beginning of the cure and the end of the planting go with the dig; `bed South bed` tells that it
    was another bed that was dug."""
    what, _, name = text.strip().partition(" ")
    if what.lower() == "bed":
        _move_to(notebook, row, find_bed_row(notebook, name))
        return
    words, _, told = text.partition(",")
    day = parse_date(words)
    new = row._replace(day=day)
    if told.strip() != dug_words(notebook, units, row):
        planting = notebook.get(PlantingRow, row.planting)
        others = tuple(dig for dig in notebook.all(DigRow, planting=row.planting) if dig.id != row.id)
        dug = all_told(parse_dug(told, units), bed, planting, others)
        new = new._replace(what=dug.what, length=dug.length, hills=dug.hills)
        _weigh_anew(notebook, row, dug)
    _move_day(notebook, row, day)
    notebook.change(new)
    settle(notebook, notebook.get(PlantingRow, row.planting))


def _move_to(notebook: Notebook, row: DigRow, bed: BedRow) -> None:
    """The dig and its lot, named after the bed that was dug, with all that was noted of it."""
    growing = [each for each in notebook.all(PlantingRow, bed=bed.id, ended=None) if each.planted_from <= row.day]
    if not growing:
        raise NotAValue(f"nothing grew in {bed.name} on {format_day(row.day)}; record its planting first")
    garden = notebook.get(GardenRow, bed.garden)
    with sound(notebook, f"a dig moved to {bed.name}", bed):
        notebook.change(row._replace(planting=growing[-1].id))
        for lot in notebook.all(LotRow, dig=row.id):
            name = free_name(notebook, garden, f"{bed.name} {row.day.year}")
            notebook.change(lot._replace(garden=garden.id, name=name))
        for planting in (row.planting, growing[-1].id):
            settle(notebook, notebook.get(PlantingRow, planting))


def _dug_lines(notebook: Notebook, row: DigRow) -> tuple[LotEntryRow, ...]:
    lots = notebook.all(LotRow, dig=row.id)
    return tuple(line for lot in lots for line in notebook.all(LotEntryRow, lot=lot.id, what=DUG))


def _weigh_anew(notebook: Notebook, row: DigRow, dug: Dug) -> None:
    """One line with all that was dug, or none."""
    lines, lots = _dug_lines(notebook, row), notebook.all(LotRow, dig=row.id)
    if lines and dug.pounds:
        notebook.change(lines[0]._replace(pounds=dug.pounds))
    elif dug.pounds and lots:
        notebook.add(LotEntryRow(lots[0].id, row.day, DUG, "", dug.pounds))
    for line in lines[1 if dug.pounds else 0 :]:
        notebook.remove(line)


def _move_day(notebook: Notebook, row: DigRow, day: date) -> None:
    """What began with the dig begins on its day as it is now."""
    for line in _dug_lines(notebook, row):
        notebook.change(line._replace(day=day))
    for lot in notebook.all(LotRow, dig=row.id):
        for stay in notebook.all(StayRow, lot=lot.id, since=row.day):
            if stay.until is not None and stay.until < day:
                raise NotAValue(f"{lot.name} was moved on on {format_day(stay.until)}; change that day first")
            notebook.change(stay._replace(since=day))


def trial_written(notebook: Notebook, units: Units, row: TrialRow) -> str:
    """A test dig on one line: its day, and its hills between semicolons."""
    hills = (_hill_written(notebook, units, hill) for hill in notebook.all(HillRow, test_dig=row.id))
    return f"{row.day.isoformat()}, {'; '.join(hills)}"


def change_trial(notebook: Notebook, bed: BedRow, units: Units, row: TrialRow, text: str) -> None:
    """Hills that are typed anew replace those that were."""
    words, _, hills = text.partition(",")
    notebook.change(row._replace(day=parse_date(words)))
    if hills.strip() == trial_written(notebook, units, row).partition(", ")[2]:
        return
    for hill in notebook.all(HillRow, test_dig=row.id):
        notebook.remove(hill)
    for number, line in enumerate(filter(str.strip, hills.split(";")), start=1):
        typed = _typed(line, str(number), units)
        counts = typed.classes or (None, None, None)
        hill = notebook.add(HillRow(row.id, str(number), *counts))
        for root in typed.roots:
            notebook.add(RootRow(hill.id, root.diameter, root.length, root.grams))


def _typed(line: str, name: str, units: Units) -> Hill:
    try:
        return typed_hill(line, name, NOWHERE, units)
    except BadInput as error:
        raise NotAValue(error.problems[0].message.rstrip(".")) from None


def _hill_written(notebook: Notebook, units: Units, hill: HillRow) -> str:
    if hill.small is not None:
        return f"small:{hill.small} right:{hill.wanted} big:{hill.big}"
    return " ".join(_root_written(units, root) for root in notebook.all(RootRow, hill=hill.id))


def _root_written(units: Units, root: RootRow) -> str:
    if root.diameter is None:
        return f"{root.grams:g}g"
    across, long = (
        format_value(Kind.LENGTH, each, units).replace(" ", "") if each else "" for each in (root.diameter, root.length)
    )
    return f"{across.rstrip('incm')}x{long}" if long else across
