"""Where a cure stands, as a page of text: the verdict, the progress, each recipe, the air, and the log drawn."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.cli.cure_report import CureReport
from assistant.cli.output import BLANK, Line, width
from assistant.cli.verdict_text import verdict_lines
from assistant.explain.curing import (
    dew_words,
    left_words,
    log_words,
    plan_words,
    progress_words,
    recipe_words,
    share_words,
    unhealing_words,
    water_words,
)
from assistant.explain.histogram import gauge
from assistant.explain.log_plot import plot_lines
from assistant.explain.room_air import CURING, air_series
from assistant.reckoning.ranges import Range


def cure_lines(report: CureReport) -> Iterator[Line]:
    """The whole page, section by section."""
    if report.cure.stretches:
        yield from _progress(report)
    elif report.cure.now.known:
        yield Line(plan_words(report.cure, report.units), "section")
        yield BLANK
    yield from verdict_lines(report.verdict, report.units)
    if report.cure.stretches:
        yield from _recipes(report)
    yield from _air(report)
    yield from _log(report)


def _progress(report: CureReport) -> Iterator[Line]:
    cure = report.cure
    yield Line(progress_words(cure), "section")
    slow, quick = min(cure.progress.slow, 1), min(cure.progress.quick, 1)
    yield Line(f"none {gauge(Range(slow, slow, quick), min(width() - 14, 60))} done", indent=2)
    yield Line(left_words(cure, report.verdict.on, report.units), indent=2)
    for sentence in unhealing_words(cure):
        yield Line(sentence, indent=2)
    yield BLANK


def _recipes(report: CureReport) -> Iterator[Line]:
    yield BLANK
    yield Line("By each recipe, from its longest to its shortest time", "section")
    for recipe, share in report.recipes:
        yield Line(recipe_words(recipe, report.units), indent=2, bullet=f"{share_words(share):>14}  ")


def _air(report: CureReport) -> Iterator[Line]:
    air, asked = report.cure.air, report.asked
    if air is None:
        return
    yield BLANK
    yield Line("Dew and water", "section")
    yield Line(dew_words(air, asked.roots, report.units), indent=2)
    if asked.space is not None:
        for sentence in water_words(air, asked.space, asked.outside, report.units):
            yield Line(sentence, indent=2)


def _log(report: CureReport) -> Iterator[Line]:
    log = report.cure.log
    if log is None:
        return
    yield BLANK
    yield Line("The log", "section")
    for sentence in log_words(log, report.verdict.on):
        yield Line(sentence, indent=2)
    for series in air_series(log.readings, CURING, report.units):
        yield BLANK
        for drawn in plot_lines(series, width() - 2):
            yield Line(drawn, "drawing", 2)
