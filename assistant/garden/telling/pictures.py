"""What a bed has that people would rather look at than read: nights, roots and air, each as a plot and in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from typing import NamedTuple

from assistant.explain.digging import dug_words, growth_words, length_unit, share_words
from assistant.explain.histogram import HILLS, OTHER, WANTED, bars, histogram_lines, size_words
from assistant.explain.log_plot import OUTSIDE, Series, plot_lines, series_words
from assistant.explain.nights import night_chart, night_words
from assistant.explain.range_plot import Chart, Mark, chart_lines
from assistant.explain.room_air import CURING, KEEPING, air_series
from assistant.garden.standing.stages import BedNow
from assistant.garden.standing.words import units_of
from assistant.garden.telling.records import air_of, nights_of, report_of
from assistant.model.notebook import PlantingRow, RoomRow, StayRow, TrialRow
from assistant.model.quantities import CM_PER_INCH, Units, short_day
from assistant.model.readings import Span
from assistant.notebook import Notebook
from assistant.reckoning.dig_report import DigReport
from assistant.reckoning.growth import mean_size
from assistant.reckoning.ranges import Range, student_t

MOST_READINGS = 1000
"""Readings that are drawn of a stay, the last ones entered: six weeks of hours."""
SIZE_STEPS = {Units.US: (0.25, 0.5, 1.0, 2.0, 4.0), Units.METRIC: (0.5, 1.0, 2.0, 5.0, 10.0)}


class Picture(NamedTuple):
    """A plot that fits itself into columns and lines, a heading first, and the same in sentences.

    `of` is what it is of where that is not the bed; `alarming` are the letters that mean that something is amiss.
    """

    draw: Callable[[int, int], list[str]]
    tell: Callable[[], list[str]]
    of: str = ""
    alarming: str = ""


def pictures(notebook: Notebook, now: BedNow, on: date) -> tuple[Picture, ...]:
    """What there is to draw of a bed, what matters at its stage first. Raises `BadInput`."""
    with notebook.at_one_time():
        units = units_of(notebook, now.bed)
        plantings = notebook.all(PlantingRow, bed=now.bed.id)
        ground = [*_of_planting(notebook, plantings[-1], units)] if plantings else []
        air = [*_of_air(notebook, now, on, units)]
    return (*air, *ground) if now.planting is None else (*ground, *air)


def _of_planting(notebook: Notebook, planting: PlantingRow, units: Units) -> Iterator[Picture]:
    nights = nights_of(notebook, planting)
    if nights:
        chart = night_chart(nights, units)
        yield Picture(lambda width, height: chart_lines(chart, width, height), lambda: night_words(nights, units))
    trials = sorted(notebook.all(TrialRow, planting=planting.id), key=lambda trial: (trial.day, trial.id))
    digs = [(trial.day, report) for trial in trials if (report := report_of(notebook, trial)).root_count]
    if digs:
        yield _sizes(*digs[-1], units)
    yield from _growth([(day, report) for day, report in digs if not report.only_counted], units)


def _sizes(day: date, report: DigReport, units: Units) -> Picture:
    head = f"Roots, {length_unit(units)}, {short_day(day)}: {WANTED} wanted {OTHER} not"

    def tell() -> list[str]:
        told = ", ".join(f"{bar.roots} of {bar.label}" for bar in bars(report, units, 1) if bar.roots)
        by_size = f"Roots by size ({length_unit(units)}): {told}."
        return [f"{dug_words(report, units)}.", by_size, f"At the wanted size: {share_words(report.share)}."]

    def draw(width: int, height: int) -> list[str]:
        columns, *rows = histogram_lines(report, units, width, height - 1)
        return [head, columns, *rows] if HILLS in columns else [head, *rows]

    return Picture(draw, tell)


def _growth(digs: list[tuple[date, DigReport]], units: Units) -> Iterator[Picture]:
    """Only where there are two digs of different days."""
    days = dict(digs)
    if len(days) < 2:
        return
    chart = growth_chart(days, units)
    (before, earlier), (day, later) = list(days.items())[-2:]
    words = list(growth_words(later, units, (earlier, (day - before).days)))
    yield Picture(lambda width, height: chart_lines(chart, width, height), lambda: words)


def growth_chart(digs: dict[date, DigReport], units: Units) -> Chart:
    """The mean root of each dig with its range, against the sizes that are wanted."""
    factor = 1.0 if units is Units.US else CM_PER_INCH
    marks = []
    for day, report in digs.items():
        size = mean_size(report.dig.hills)
        room = size.error * student_t(size.freedom)
        width = Range(max(size.inches - room, 0.0), size.inches, size.inches + room)
        marks.append(Mark(day, day, width.times(factor), "●", f"{size.inches * factor:.1f}"))
    wanted = next(reversed(digs.values())).wanted
    band = Span(wanted.low * factor, wanted.high * factor)
    ends = Span(
        min(band.low, *(mark.value.low for mark in marks)), max(band.high, *(mark.value.high for mark in marks))
    )
    heading = f"Mean root, {length_unit(units)}: │ its range · wanted"
    return Chart(
        heading, tuple(marks), ends, SIZE_STEPS[units], lambda size: size_words(size / factor, units), band=band
    )


def _of_air(notebook: Notebook, now: BedNow, on: date, units: Units) -> Iterator[Picture]:
    """The air where the bed's lots lie, and then where they cured."""
    stays = [stay for store in now.lots for stay in notebook.all(StayRow, lot=store.lot.id)]
    for stay in sorted(stays, key=lambda stay: stay.since, reverse=True):
        air = air_of(notebook, stay, on, MOST_READINGS)
        of = f"{notebook.get(RoomRow, stay.room).name} since {short_day(stay.since)}"
        for series in air_series(air, CURING if stay.purpose == "cure" else KEEPING, units):
            yield _of_series(of, series)


def _of_series(of: str, series: Series) -> Picture:
    def draw(width: int, height: int) -> list[str]:
        return plot_lines(series, width, height)

    return Picture(draw, lambda: [series_words(series)], of, OUTSIDE)
