"""An invented garden: beds in different stages on one day in October, and the year that led there.

A frost is forecast for the second night from now; one bed has been visited, one has a visit broken off, one was dug
in time and cures, one store runs cold, and one bed is held by black rot.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import NamedTuple

from assistant.garden.entries.visits import RULEBOOK, case_of, keep_verdict, planting_answers
from assistant.interview.answers import parse_answer
from assistant.model.case import MonthDay
from assistant.model.notebook import (
    AirRow,
    BedRow,
    DigRow,
    FrostRow,
    GardenRow,
    HillRow,
    HistoryRow,
    LotEntryRow,
    LotRow,
    PlantingRow,
    RoomRow,
    RootRow,
    StayRow,
    TrialRow,
    VisitRow,
)
from assistant.notebook import Notebook
from assistant.rulebook import read_rulebook
from assistant.season import Visit

TODAY = date(2031, 10, 4)
GARDEN = "Otter Bend"
CURED_AT = ((82, 84), (84, 88), (85, 90), (83, 86))
KEPT_AT = ((63, 78), (61, 80), (59, 84), (58, 86), (56, 85), (54, 83), (56, 81), (57, 82))
"""°F and percent, every fourth day up to three days before today."""
WANTED = (1.75, 3.5)
SMALL_HILLS = ((1.2, 0.9, 1.6), (1.5, 1.4, 1.1, 1.8))
RIPE_HILLS = ((2.1, 1.6, 2.8), (2.4, 1.9, 1.3, 2.2), (2.6, 3.1, 1.8))


class _Look(NamedTuple):
    """A visit: days before today, its answers, and the hills of its test dig."""

    ago: int
    answers: dict[str, str]
    ends: bool = True
    hills: tuple[tuple[float, ...], ...] = ()


def fill(notebook: Notebook) -> None:
    """Write the invented garden into an empty notebook, for good, so that no undo takes it away."""
    with notebook.entry("the invented garden"):
        garden = notebook.add(GardenRow(GARDEN))
        notebook.add(FrostRow(garden.id, "first_frost", MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2)))
        notebook.add(FrostRow(garden.id, "last_frost", MonthDay(4, 12), MonthDay(4, 28), MonthDay(5, 12)))
        _growing(notebook, garden)
        _dug(notebook, garden)
        _resting(notebook, garden)
    notebook.keep_for_good()


def _growing(notebook: Notebook, garden: GardenRow) -> None:
    """The beds with roots in the ground."""
    ripe = {"vines": "yellowing", "frost": "none", "soil": "workable", "roots": "right", "curing_place": "ready"}
    low = {"forecast_low": "33", "forecast_low_in": "2", "recent_nights": "47"}
    small = {"vines": "green", "frost": "none", "forecast_low": "44", "recent_nights": "54", "roots": "too-small"}
    looks = (_Look(0, {**ripe, **low}, hills=RIPE_HILLS), _Look(16, small, hills=SMALL_HILLS))
    _bed(notebook, garden, "River bed", date(2031, 6, 2), "Beauregard", *looks)
    _bed(notebook, garden, "Orchard strip", date(2031, 6, 20), "Covington", _Look(6, small))
    _bed(notebook, garden, "South wall", date(2031, 6, 14), "Georgia Jet", _Look(0, {"vines": "green"}, ends=False))
    _bed(notebook, garden, "New ground", date(2031, 7, 24), "Jewel")


def _dug(notebook: Notebook, garden: GardenRow) -> None:
    """A bed whose roots cure, and one whose roots are in the store since last year's dig."""
    early = _bed(notebook, garden, "Gate bed", date(2031, 5, 24), "Beauregard")
    lot = _lot(notebook, garden, early, TODAY - timedelta(days=4), 96)
    room = notebook.add(RoomRow(garden.id, "Curing place"))
    notebook.add(StayRow(lot.id, room.id, "cure", TODAY - timedelta(days=4)))
    for days, (warm, damp) in enumerate(CURED_AT, start=-4):
        notebook.add(AirRow(room.id, datetime(2031, 10, 4, 8) + timedelta(days=days), warm, damp, "by hand"))
    first = _bed(notebook, garden, "Well bed", date(2031, 5, 10), "Centennial")
    lot = _lot(notebook, garden, first, date(2031, 8, 26), 61)
    store = notebook.add(RoomRow(garden.id, "Store"))
    notebook.add(StayRow(lot.id, room.id, "cure", date(2031, 8, 26), date(2031, 9, 2)))
    notebook.add(StayRow(lot.id, store.id, "keep", date(2031, 9, 2)))
    notebook.add(LotEntryRow(lot.id, date(2031, 9, 9), "looked"))
    notebook.add(LotEntryRow(lot.id, date(2031, 9, 21), "used", "", 5.5, note="the nicked ones first"))
    for days, (warm, damp) in zip(range(-28, 4, 4), KEPT_AT, strict=True):
        notebook.add(AirRow(store.id, datetime(2031, 10, 1, 19) + timedelta(days=days), warm, damp, "by hand"))


def _resting(notebook: Notebook, garden: GardenRow) -> None:
    """Two empty beds, one of them held by what was seen in it."""
    held = notebook.add(BedRow(garden.id, "Old bed"))
    notebook.add(HistoryRow(held.id, 2029, "sweet-potatoes", "black-rot"))
    notebook.add(HistoryRow(held.id, 2030, "garlic"))
    free = notebook.add(BedRow(garden.id, "Beech corner"))
    notebook.add(HistoryRow(free.id, 2027, "sweet-potatoes"))
    notebook.add(HistoryRow(free.id, 2030, "rye"))


def _bed(notebook: Notebook, garden: GardenRow, name: str, on: date, variety: str, *looks: _Look) -> PlantingRow:
    bed = notebook.add(BedRow(garden.id, name))
    planting = notebook.add(PlantingRow(bed.id, on, on, variety))
    for look in reversed(looks):
        _visit(notebook, bed, planting, look)
    return planting


def _visit(notebook: Notebook, bed: BedRow, planting: PlantingRow, look: _Look) -> None:
    book, day = read_rulebook(RULEBOOK), TODAY - timedelta(days=look.ago)
    row = notebook.add(VisitRow(bed.garden, day, RULEBOOK, bed.name, bed=bed.id, planting=planting.id))
    answers = {sign: parse_answer(book.signs[sign], text, day, row.units) for sign, text in look.answers.items()}
    for sign, known in {**planting_answers(book, planting), **answers}.items():
        notebook.answer(row.id, sign, known)
    if look.hills:
        _dig_hills(notebook, notebook.add(TrialRow(planting.id, day, *WANTED, row.id)), look.hills)
    if look.ends:
        keep_verdict(notebook, row, Visit(book, case_of(notebook, row)).verdict())


def _dig_hills(notebook: Notebook, trial: TrialRow, hills: tuple[tuple[float, ...], ...]) -> None:
    for number, roots in enumerate(hills, start=1):
        hill = notebook.add(HillRow(trial.id, str(number)))
        for diameter in roots:
            notebook.add(RootRow(hill.id, diameter))


def _lot(notebook: Notebook, garden: GardenRow, planting: PlantingRow, on: date, pounds: float) -> LotRow:
    notebook.change(planting._replace(ended=on))
    bed = notebook.get(BedRow, planting.bed)
    dig = notebook.add(DigRow(planting.id, on))
    lot = notebook.add(LotRow(garden.id, f"{bed.name} {on.year}", dig.id))
    notebook.add(LotEntryRow(lot.id, on, "dug", "", pounds))
    return lot
