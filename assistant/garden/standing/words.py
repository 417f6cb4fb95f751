"""How the garden puts amounts and places into words, in the units of the garden, as they can be typed again."""

from __future__ import annotations

import re
from datetime import date

from assistant.model.notebook import AirRow, BedRow, GardenRow
from assistant.model.quantities import CM_PER_INCH, Kind, Units, format_number, format_value, parse_date
from assistant.notebook import Notebook
from assistant.reckoning.yields import GRAMS_PER_POUND

_DAY = re.compile(r"\d{4}-\d{1,2}-\d{1,2}")


def units_of(notebook: Notebook, bed: BedRow) -> Units:
    """The units of the garden that a bed is in."""
    return notebook.get(GardenRow, bed.garden).units


def weight_words(pounds: float, units: Units) -> str:
    """A weight such as `30 lb` or `13.61 kg`."""
    return (
        f"{format_number(pounds)} lb" if units is Units.US else f"{format_number(pounds * GRAMS_PER_POUND / 1000)} kg"
    )


def ledger_words(text: str, units: Units) -> str:
    """A sentence of the ledger, which is kept in pounds, with its weights in the units of a garden."""
    return text if units is Units.US else re.sub(r"(\d[\d.]*) lb\b", lambda of: weight_words(float(of[1]), units), text)


def length_words(inches: float, units: Units) -> str:
    """A length of row such as `12 ft` or `3.66 m`."""
    return f"{format_number(inches / 12)} ft" if units is Units.US else f"{format_number(inches * CM_PER_INCH / 100)} m"


def air_words(row: AirRow, units: Units) -> str:
    """A reading such as `84 °F 88 %`."""
    warm = format_value(Kind.TEMPERATURE, row.temperature, units) if row.temperature is not None else ""
    damp = f"{format_number(row.humidity)} %" if row.humidity is not None else ""
    return " ".join(part for part in (warm, damp) if part)


def dated(text: str, on: date) -> tuple[date, str]:
    """The day with which a text begins and what stands after its comma; without one, the day that is given.

    Raises `NotAValue` for a day that is none.
    """
    first, _, others = text.partition(",")
    return (parse_date(first), others) if _DAY.fullmatch(first.strip()) else (on, text)


def count_words(count: int, name: str) -> str:
    """A count such as `1 hill`, `20 hills` or `2 lines of a ledger`."""
    head, of, more = name.partition(" of ")
    return f"{count} {head}{'s' * (count != 1)}{of}{more}"
