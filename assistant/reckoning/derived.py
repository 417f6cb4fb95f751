"""A measure's range from the range of the sign it is reckoned from."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.model.readings import Choices, Reading, Span, hull
from assistant.model.signs import DaysSince, Lookup, Measure, Table
from assistant.reckoning.days import days_since


def derived(measure: Measure, reading: Reading, tables: Mapping[str, Table], today: float) -> Span:
    """What a reading of its sign says of a measure; `today` is the ordinal day of the visit."""
    match measure.how, reading:
        case DaysSince(), Span(low, high):
            return days_since(Span(low, high), today)
        case Lookup(_, table, column), Choices(possible):
            ranges = tables[table].column(column)
            return hull(ranges[choice] for choice in possible)
        case _:
            raise TypeError(f"{measure.name} is not reckoned from such a reading")
