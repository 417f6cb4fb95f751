"""Slips set in a bed: the day, the variety and how many."""

from __future__ import annotations

import re
from datetime import date
from typing import NamedTuple

from assistant.garden.entries.soundness import sound
from assistant.garden.standing.finding import LONGEST_NAME
from assistant.interview.answers import parse_answer
from assistant.model.notebook import BedRow, PlantingRow
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
