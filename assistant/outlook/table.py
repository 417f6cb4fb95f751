"""The days ahead as a table: one row a day, as many columns as the room allows."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

from assistant.model.quantities import Units, celsius
from assistant.outlook.ahead import DayAhead, Outlook
from assistant.outlook.wording import percent, short_day
from assistant.reckoning.frost_odds import THRESHOLDS
from assistant.reckoning.ranges import Range


class _Column(NamedTuple):
    """Two lines of heading, a width, what a day holds, and how soon it goes when room is short (0 never)."""

    above: str
    heading: str
    width: int
    cell: Callable[[DayAhead], str]
    goes: int = 0
    is_words: bool = False


def table(outlook: Outlook, room: int) -> list[str]:
    """Heading and rows, each within the room (letters) where that can be."""
    columns = list(_columns(outlook))
    while sum(column.width for column in columns) > room and any(column.goes for column in columns):
        columns.remove(max(columns, key=lambda column: column.goes))
    lines = [_line(columns, [column.above for column in columns]), _line(columns, [each.heading for each in columns])]
    return lines + [_line(columns, [column.cell(day) for column in columns]) for day in outlook.days]


def _columns(outlook: Outlook) -> Iterator[_Column]:
    units, days = outlook.case.units, outlook.days
    most = max(len(day.advice or "advice") for day in days)
    degrees = "°F" if units is Units.US else "°C"
    yield _Column("", "day", 6, lambda day: short_day(day.on))
    if any(day.low for day in days):
        yield _Column("low", degrees, 7, lambda day: _range(day.low, units), 2)
    yield _Column("% that night", "36  32  28", 13, lambda day: _chances(day.night), 1)
    yield _Column("% before", "36  32  28", 13, lambda day: _chances(day.by))
    if any(day.counted for day in days):
        yield _Column("on rec", "at 32", 7, _counted, 4)
    if any(day.soil for day in days):
        yield _Column("soil", degrees, 7, lambda day: _range(day.soil, units), 3)
    if any(day.roots for day in days):
        yield _Column("size", "%", 8, _share)
    yield _Column("", "advice", most + 2, lambda day: day.advice or "none", is_words=True)


def _line(columns: list[_Column], cells: list[str]) -> str:
    return "".join(_cell(column, cell) for column, cell in zip(columns, cells, strict=True)).rstrip()


def _cell(column: _Column, text: str) -> str:
    return f"  {text:<{column.width - 2}}" if column.is_words else f"{text:>{column.width}}"


def _chances(chances: Mapping[int, float | None]) -> str:
    return "".join(f"{percent(chances[limit]):>4}" for limit in THRESHOLDS)


def _range(range_: Range | None, units: Units) -> str:
    if range_ is None:
        return "-"
    low, high = (f"{end if units is Units.US else celsius(end):.0f}" for end in (range_.low, range_.high))
    return f"{low}..{high}"


def _counted(day: DayAhead) -> str:
    return f"{day.counted.came}/{day.counted.seasons}" if day.counted else "-"


def _share(day: DayAhead) -> str:
    if day.roots is None:
        return "-"
    low, _, high = (f"{end * 100:.0f}" for end in day.roots.share)
    return f"{low}..{high}"
