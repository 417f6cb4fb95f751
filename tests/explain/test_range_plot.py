"""Values with their ranges over days: each mark stands where its day and value are, and its bars hold its range."""

from __future__ import annotations

import re
from collections import defaultdict
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from assistant.explain.range_plot import ABOVE, LEVEL, UPRIGHT, Chart, Grid, Mark, chart_lines, grid_of
from assistant.model.readings import Span
from assistant.reckoning.ranges import Range

BEGIN = date(2031, 9, 1)
STEPS = (1.0, 2.0, 4.0, 8.0, 16.0, 32.0)
SHAPES = "●○"


def mark(day: int, value: float, less: float = 0, more: float = 0, days: int = 0, shape: str = "●") -> Mark:
    first = BEGIN + timedelta(days=day)
    return Mark(first, first + timedelta(days=days), Range(value - less, value, value + more), shape, "")


marks = st.lists(
    st.builds(
        mark, st.integers(0, 90), st.floats(0, 99), st.floats(0, 20), st.floats(0, 20), st.integers(0, 7),
        st.sampled_from(SHAPES),
    ),
    min_size=1, max_size=12,
)  # fmt: skip
widths, heights = st.integers(30, 120), st.integers(8, 30)


def chart_of(told: list[Mark], **more: object) -> Chart:
    ends = Span(min(each.value.low for each in told), max(each.value.high for each in told))
    return Chart("Told", tuple(told), ends, STEPS, lambda value: f"{value:g}", **more)  # type: ignore[arg-type]


def cells_of(chart: Chart, width: int, height: int) -> tuple[Grid, list[str]]:
    """The scale, and the letters right of the axis row by row from the bottom, each padded to its whole width."""
    lines = chart_lines(chart, width, height)[1:-1]
    margin = lines[0].index("│")
    grid = grid_of(chart, width - margin - 1, height - 2)
    return grid, [line[margin + 1 :].ljust(grid.columns) for line in reversed(lines)]


@given(marks, widths, heights)
def test_a_mark_stands_in_the_row_nearest_to_its_value_and_the_column_of_its_days(
    told: list[Mark], width: int, height: int
) -> None:
    grid, cells = cells_of(chart_of(told), width, height)
    last = told[-1]
    row = grid.row(last.value.likely)
    assert abs(grid.value(row) - last.value.likely) <= grid.step / 2
    assert grid.column(last.first) <= cells[row].index(last.shape, grid.column(last.first)) <= grid.column(last.last)


@given(marks, widths, heights)
def test_no_mark_is_lost_but_under_another(told: list[Mark], width: int, height: int) -> None:
    grid, cells = cells_of(chart_of(told), width, height)
    places = {(grid.row(each.value.likely), grid.column(each.first) + grid.column(each.last) >> 1) for each in told}
    assert sum(letter in SHAPES for row in cells for letter in row) == len(places)


@given(st.floats(0, 99), st.floats(0, 40), st.floats(0, 40), st.integers(0, 7), widths, heights)
def test_the_bars_of_a_mark_hold_its_range_and_its_days(
    value: float, less: float, more: float, days: int, width: int, height: int
) -> None:
    told = [mark(0, 50), mark(30, value, less, more, days), mark(60, 50)]
    grid, cells = cells_of(chart_of(told), width, height)
    here = told[1]
    ends = range(grid.column(here.first), grid.column(here.last) + 1)
    letters = {(row, at): cells[row][at] for row in range(grid.rows) for at in ends}
    rows = {row for (row, _), letter in letters.items() if letter in ("●", UPRIGHT)}
    assert grid.value(min(rows)) - grid.step / 2 <= here.value.low
    assert grid.value(max(rows)) + grid.step / 2 >= here.value.high
    assert rows == set(range(min(rows), max(rows) + 1))
    level = [letters[grid.row(value), at] for at in ends]
    assert all(letter in ("●", LEVEL) for letter in level)


@given(marks, widths, heights)
def test_a_plot_keeps_to_its_room(told: list[Mark], width: int, height: int) -> None:
    lines = chart_lines(chart_of(told), width, height)
    assert len(lines) <= height
    assert all(len(line) <= width for line in lines)


def test_days_run_from_left_to_right_over_the_whole_width() -> None:
    grid = grid_of(chart_of([mark(0, 1), mark(10, 1), mark(40, 1)]), 43, 10)
    assert [grid.column(BEGIN + timedelta(days=day)) for day in (0, 10, 40)] == [1, 11, 41]


def test_a_line_has_its_value_and_its_name_in_its_row() -> None:
    chart = chart_of([mark(0, 45), mark(9, 28)], lines={36.0: "frost", 32.0: "freeze"})._replace(steps=(4.0,))
    rows = dict(line.split("│")[:2] for line in chart_lines(chart, 40, 12)[1:-1])
    assert {value.strip(): row[:8] for value, row in rows.items() if "┄" in row} == {"36": "┄frost ┄", "32": "┄freeze "}


def test_the_band_that_is_wanted_is_dotted_and_nothing_else() -> None:
    chart = chart_of([mark(0, 0), mark(9, 10)], band=Span(3, 6))
    _, cells = cells_of(chart, 40, 20)
    assert [row for row, letters in enumerate(cells) if "·" in letters] == [3, 4, 5, 6]


def test_what_is_above_all_that_must_be_shown_is_an_arrow_that_says_its_value() -> None:
    warm = mark(0, 70)._replace(says="70")
    chart = chart_of([warm, mark(9, 30)])._replace(shows=Span(28, 40), steps=(4.0,))
    assert f"{ABOVE}70" in chart_lines(chart, 40, 7)[1]
    assert ABOVE not in "".join(chart_lines(chart, 40, 20))


@given(st.lists(st.tuples(st.integers(0, 25), st.integers(9, 12)), min_size=1, max_size=12), st.integers(30, 60))
def test_what_stands_beside_a_mark_is_its_own_value(told: list[tuple[int, int]], width: int) -> None:
    marked = [mark(day, value)._replace(says=str(value)) for day, value in told]
    grid, cells = cells_of(chart_of(marked), width, 60)
    values = defaultdict(set)
    for each in marked:
        values[grid.row(each.value.likely), grid.column(each.first)].add(each.says)
    for row, letters in enumerate(cells):
        for found in re.finditer(r"\d+", letters):
            (beside,) = (at for at in (found.start() - 1, found.end()) if letters[at : at + 1] == "●")
            assert found[0] in values[row, beside]
