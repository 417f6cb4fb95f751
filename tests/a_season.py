"""An invented garden's season, written into a notebook, and random records beside it."""

from __future__ import annotations

from datetime import date, datetime

from assistant.model.case import MonthDay
from assistant.model.derivation import Outcome
from assistant.model.notebook import (
    TABLES,
    AirRow,
    AnswerRow,
    BedRow,
    DigRow,
    FrostRow,
    GardenRow,
    HillRow,
    HistoryRow,
    LotEntryRow,
    LotRow,
    PlantingRow,
    Record,
    RoomRow,
    RootRow,
    StayRow,
    TrialRow,
    VerdictRow,
    VisitRow,
)
from assistant.model.readings import Origin
from assistant.notebook import Notebook

WHEN_TO_DIG = "sweetpotato/when-to-dig"


def season() -> tuple[Record, ...]:
    """Records of every table, those first that others refer to, by the numbers that a new notebook gives."""
    derivation = {"fired": ["mild"], "because": {"recent_nights": "60 F"}, "year": 2031, "share": 0.25}
    return (
        GardenRow("Home", record="station.csv", note="behind the house"),
        FrostRow(1, "first_frost", MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2)),
        BedRow(1, "Long bed", 240.0, 36.0),
        BedRow(1, "Short bed"),
        HistoryRow(1, 2030, "beans", ph=6.1),
        PlantingRow(1, date(2031, 6, 1), date(2031, 6, 3), "Beauregard", 40, 12.0),
        RoomRow(1, "Pantry", 1200.0),
        VisitRow(1, date(2031, 10, 4), WHEN_TO_DIG, "A look at the long bed", bed=1, planting=1),
        AnswerRow(1, "vines", Origin.ANSWERED, "green, yellowing", choices=("green", "yellowing")),
        AnswerRow(1, "recent_nights", Origin.ANSWERED, "about 60", 58.0, 62.0),
        VerdictRow(1, date(2031, 10, 4), WHEN_TO_DIG, "1", "a1b2", Outcome.SETTLED, "Dig now.", derivation, "dig-now"),
        TrialRow(1, date(2031, 10, 4), 1.75, 3.5, visit=1),
        HillRow(1, "1"),
        HillRow(1, "2", 3, 5, 1),
        RootRow(1, 2.1, 6.0),
        RootRow(1, grams=210.0),
        DigRow(1, date(2031, 10, 6)),
        LotRow(1, "north", 1),
        StayRow(1, 1, "keep", date(2031, 10, 14)),
        AirRow(1, datetime(2031, 10, 14, 18, 30), 57.5, 85.0, "typed"),
        LotEntryRow(1, date(2031, 10, 6), "dug", pounds=120.0),
        LotEntryRow(1, date(2031, 11, 1), "looked", note="all sound"),
    )


def write_season(notebook: Notebook) -> None:
    """The season, an entry a record."""
    for record in season():
        notebook.add(record)


def everything(notebook: Notebook) -> dict[str, tuple[Record, ...]]:
    """All records by table."""
    return {table: notebook.all(kind) for table, kind in TABLES.items()}
