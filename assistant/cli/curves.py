"""Curves of chances over days, drawn in plain characters."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from assistant.model.quantities import short_day

ROWS = 10  # one for each tenth of the chance, and one for none
MARGIN = 7  # columns for the scale at the left
LABEL = 9  # columns a date and the gap after it take


def drawn(curves: Mapping[str, Sequence[float]], days: Sequence[date]) -> Iterator[str]:
    """The lines of a plot of chances (0 to 1), one column a day, each curve by its own character.

    Where curves meet the later one is seen.
    """
    for row in range(ROWS, -1, -1):
        scale = f"{row * 100 // ROWS:3d} % " if row % 2 == 0 else " " * (MARGIN - 1)
        yield f"{scale}|{_row(curves, row, len(days))}".rstrip()
    yield " " * (MARGIN - 1) + "+" + "".join("'" if at % LABEL == 0 else "-" for at in range(len(days)))
    yield " " * MARGIN + "".join(f"{short_day(days[at]):{LABEL}}" for at in range(0, len(days), LABEL)).rstrip()


def _row(curves: Mapping[str, Sequence[float]], row: int, columns: int) -> str:
    marks = [" "] * columns
    for mark, chances in curves.items():
        for column, chance in enumerate(chances):
            if round(chance * ROWS) == row:
                marks[column] = mark
    return "".join(marks)
