"""Values with their ranges over days, in plain characters: a mark where a value likely is, bars as far as it may reach.

What a mark is of is told by its shape, and limits by lines with their names, never by colour.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime, time, timedelta
from math import ceil, floor
from typing import NamedTuple

from assistant.explain.log_plot import LIMITS, days_line
from assistant.model.readings import Span
from assistant.reckoning.ranges import Range

UPRIGHT, LEVEL, LINE, ABOVE = "│", "─", "┄", "↑"
DAY = timedelta(days=1)


class Mark(NamedTuple):
    """A value with its range, of a day or of some day from one to another.

    It is drawn as the letter `shape`, with `says` beside it where there is room.
    """

    first: date
    last: date
    value: Range
    shape: str
    says: str


class Chart(NamedTuple):
    """Marks to draw, lines with their names, the band that is wanted, and the steps that the scale may have.

    `shows` must have room; marks above it may stand in the highest row as an arrow.
    """

    heading: str
    marks: tuple[Mark, ...]
    shows: Span
    steps: tuple[float, ...]
    label: Callable[[float], str]
    lines: Mapping[float, str] = {}
    band: Span | None = None


class Grid(NamedTuple):
    """Where a value and a day stand: rows from the bottom up, columns from the left."""

    lowest: float
    step: float
    rows: int
    start: date
    time: timedelta
    columns: int

    def row(self, value: float) -> int:
        """The row whose value is nearest; one too many where the value lies above all."""
        return min(max(floor((value - self.lowest) / self.step + 0.5), 0), self.rows)

    def column(self, day: date) -> int:
        """The column of a day; the first and the last one stay free."""
        return 1 + round((day - self.start) / self.time * (self.columns - 3))

    def value(self, row: int) -> float:
        """What a row stands for."""
        return self.lowest + row * self.step


def grid_of(chart: Chart, columns: int, rows: int) -> Grid:
    """The finest scale on which all that must be shown has room, no more rows than there is something in."""
    step = next((step for step in chart.steps if _rows(chart.shows, step) <= rows), chart.steps[-1])
    lowest = floor(chart.shows.low / step) * step
    highest = max(chart.shows.high, *(mark.value.high for mark in chart.marks))
    start, end = min(mark.first for mark in chart.marks), max(mark.last for mark in chart.marks)
    needed = _rows(Span(chart.shows.low, highest), step)
    return Grid(lowest, step, min(rows, needed), start, max(end - start, DAY), columns)


def chart_lines(chart: Chart, width: int, height: int) -> list[str]:
    """The heading, at most so many lines less two, highest values first, and the days below."""
    margin = max(len(chart.label(value)) for value in (chart.shows.low, chart.shows.high, *chart.lines)) + 2
    grid = grid_of(chart, max(width - margin - 2, 8), max(height - 2, 2))
    cells = _cells(chart, grid)
    lines = [chart.heading]
    for row in range(grid.rows - 1, -1, -1):
        text = "".join(cells[row]).rstrip()
        lines.append(f"{chart.label(_value(chart, grid, row)):>{margin}} │{text}")
    days = days_line(datetime.combine(grid.start, time()), grid.time, grid.columns - 2)
    return [*lines, f"{' ' * (margin + 3)}{days}"]


def _value(chart: Chart, grid: Grid, row: int) -> float:
    """What stands beside a row: the line that it has, or else its own value."""
    return next((value for value in chart.lines if grid.row(value) == row), grid.value(row))


def _rows(span: Span, step: float) -> int:
    return ceil(span.high / step) - floor(span.low / step) + 1


def _cells(chart: Chart, grid: Grid) -> list[list[str]]:
    """The letters row by row from the bottom: grounds first, then bars, then marks."""
    cells = [list(_ground(chart, grid, row)) for row in range(grid.rows)]
    for mark in chart.marks:
        for row, column in _bars(mark, grid):
            cells[row][column] = UPRIGHT if column == _middle(mark, grid) else LEVEL
    for mark in chart.marks:
        row = grid.row(mark.value.likely)
        cells[min(row, grid.rows - 1)][_middle(mark, grid)] = mark.shape if row < grid.rows else ABOVE
    for mark in chart.marks:
        _say_beside(mark, cells[min(grid.row(mark.value.likely), grid.rows - 1)], _middle(mark, grid))
    return cells


def _say_beside(mark: Mark, row: list[str], at: int) -> None:
    """Writes what a mark says to its right or else to its left, where neither it nor its end meets another mark."""
    size = len(mark.says)
    for start, room in ((at + 1, row[at + 1 : at + size + 2]), (at - size, row[max(at - size - 1, 0) : at])):
        if 0 <= start <= len(row) - size and set(room) <= {" ", LIMITS, LINE, LEVEL}:
            row[start : start + size] = mark.says
            return


def _ground(chart: Chart, grid: Grid, row: int) -> str:
    names = [name for value, name in chart.lines.items() if grid.row(value) == row]
    if names:
        return f"{LINE}{', '.join(names)} ".ljust(grid.columns, LINE)[: grid.columns]
    wanted = chart.band is not None and grid.row(chart.band.low) <= row <= grid.row(chart.band.high)
    return (LIMITS if wanted else " ") * grid.columns


def _middle(mark: Mark, grid: Grid) -> int:
    return (grid.column(mark.first) + grid.column(mark.last)) // 2


def _bars(mark: Mark, grid: Grid) -> Iterator[tuple[int, int]]:
    """The cells of a mark: upright over its range of values, level over its days."""
    likely, middle = grid.row(mark.value.likely), _middle(mark, grid)
    for row in range(grid.row(mark.value.low), min(grid.row(mark.value.high), grid.rows - 1) + 1):
        yield row, middle
    if likely < grid.rows:
        for column in range(grid.column(mark.first), grid.column(mark.last) + 1):
            if column != middle:
                yield likely, column
