"""The roots of a test dig as a histogram in plain characters, the wanted sizes told by shape and not by colour."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor
from typing import NamedTuple

from assistant.model.quantities import CM_PER_INCH, Units, format_number
from assistant.reckoning.dig_report import DigReport
from assistant.reckoning.ranges import Range

WANTED, OTHER = "█", "░"
AXIS = {True: "┃", False: "│"}  # beside sizes that are wanted, and others
HILLS = "of hill"
_BESIDE = 44  # letters beside the longest bar: sizes, number and hills
_NUMBERS = 20  # the same without the hills
QUARTER_INCH, HALF_CM = 0.25, 0.5 / CM_PER_INCH
MOST_ROWS = 24
WIDEST_ROOT = 4  # letters to a root where there are few
_FRACTIONS = {0: "", 1: "¼", 2: "½", 3: "¾"}


class Bar(NamedTuple):
    """One row: what sizes it holds, its bar as runs of one character each, how many roots, and of which hills."""

    label: str
    is_wanted: bool
    runs: tuple[str, ...]
    roots: int
    hills: str

    @property
    def bar(self) -> str:
        """The bar in one piece."""
        return "".join(self.runs)


class _Class(NamedTuple):
    """The roots of one row, hill by hill: those of a size class with their character."""

    label: str
    is_wanted: bool
    sizes: tuple[tuple[str, int], ...]
    hills: tuple[str, ...]

    @property
    def roots(self) -> int:
        return sum(number for _, number in self.sizes)


def bars(report: DigReport, units: Units, room: int, most_rows: int = MOST_ROWS) -> list[Bar]:
    """The rows of the histogram from the smallest size up; `room` is for the longest bar, in letters."""
    rows = list(_by_class(report) if report.only_counted else _by_size(report, units, most_rows))
    most = max(row.roots for row in rows)
    each = min(WIDEST_ROOT, room / most) if most else 1
    return [Bar(row.label, row.is_wanted, _runs(row, each), row.roots, ", ".join(row.hills)) for row in rows]


def histogram_lines(report: DigReport, units: Units, width: int, height: int = MOST_ROWS + 1) -> list[str]:
    """The histogram as lines of at most so many letters, under a heading; its hills only where they have room."""
    tells_hills = width >= _BESIDE + 10
    rows = bars(report, units, max(width - (_BESIDE if tells_hills else _NUMBERS), 10), height - 1)
    labels = max(len(row.label) for row in rows)
    longest = max(len(row.bar) for row in rows)
    unit = "in" if units is Units.US else "cm"
    lines = [f"{unit:>{labels}}   {'roots':<{longest}}{f'     {HILLS}' * tells_hills}"]
    for row in rows:
        bar = f"{row.label:>{labels}} {AXIS[row.is_wanted]} {row.bar:<{longest}}"
        lines.append(f"{bar} {row.roots or '':>3} {row.hills if tells_hills else ''}".rstrip())
    return [line if len(line) <= width else f"{line[: width - 1]}…" for line in lines]


def gauge(share: Range, width: int) -> str:
    """A line from none to all with the range on it and a mark at the likely share."""
    low, likely, high = (round(end * (width - 1)) for end in share)
    return "".join(
        "●" if at == likely else "├" if at == low else "┤" if at == high else "─" if low < at < high else "·"
        for at in range(width)
    )


def size_words(inches: float, units: Units) -> str:
    """A diameter, in quarters of an inch where it is some, or in cm."""
    if units is Units.METRIC:
        return format_number(round(inches * CM_PER_INCH, 1))
    quarters = round(inches * 4)
    if abs(quarters / 4 - inches) > 1e-9:
        return format_number(inches)
    whole, part = divmod(quarters, 4)
    return f"{whole or ''}{_FRACTIONS[part]}" or "0"


def _runs(row: _Class, each: float) -> tuple[str, ...]:
    """Each class as long as it is many; any root at all shows."""
    return tuple(
        (WANTED if size == "right" else OTHER) * max(round(number * each), 1) for size, number in row.sizes if number
    )


def _by_class(report: DigReport) -> Iterator[_Class]:
    """Small, right and big, where some hill was only counted."""
    for size, label in (("small", "smaller"), ("right", "wanted"), ("big", "bigger")):
        found = [(hill.name, some) for hill, (some, _) in zip(report.hills, report.counts(size), strict=True) if some]
        hills = tuple(f"{name} ×{some}" if some > 1 else name for name, some in found)
        yield _Class(label, size == "right", ((size, sum(some for _, some in found)),), hills)


def _by_size(report: DigReport, units: Units, most_rows: int) -> Iterator[_Class]:
    """Every step of size from the smallest root or wanted size to the largest."""
    step = QUARTER_INCH if units is Units.US else HALF_CM
    wanted = report.wanted
    sizes = [(hill.name, diameter) for hill in report.hills for diameter in hill.diameters]
    ends = [diameter for _, diameter in sizes] + [wanted.low, wanted.high - step / 2]
    while _step(max(ends), step) - _step(min(ends), step) >= most_rows:
        step *= 2
    for number in range(_step(min(ends), step), _step(max(ends), step) + 1):
        low, high = number * step, (number + 1) * step
        inside = [(name, diameter) for name, diameter in sizes if _step(diameter, step) == number]
        classes = [report.class_of(diameter) for _, diameter in inside]
        counted = tuple((size, classes.count(size)) for size in ("small", "right", "big"))
        label = f"{size_words(low, units)} to {size_words(high, units)}"
        is_wanted = low < wanted.high - 0.01 and high > wanted.low + 0.01
        yield _Class(label, is_wanted, counted, tuple(_with_counts([name for name, _ in inside])))


def _step(diameter: float, step: float) -> int:
    return floor(diameter / step + 1e-6)


def _with_counts(names: list[str]) -> Iterator[str]:
    for name in dict.fromkeys(names):
        number = names.count(name)
        yield f"{name} ×{number}" if number > 1 else name
