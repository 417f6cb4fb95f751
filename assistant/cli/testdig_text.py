"""A test dig as a page of text: the histogram, the share, whether to dig on, grades, weight and growth."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.cli.output import BLANK, Line, width
from assistant.explain.digging import (
    Needed,
    confidence_words,
    dug_words,
    grade_words,
    growth_words,
    middle_words,
    needed_words,
    plan_terms,
    plan_words,
    row_words,
    share_words,
    weight_basis,
    weight_words,
)
from assistant.explain.histogram import OTHER, WANTED, gauge, histogram_lines
from assistant.model.quantities import Units
from assistant.reckoning.dig_report import DigReport
from assistant.reckoning.grades import GRADES, NO_GRADE, STRICTER
from assistant.reckoning.sampling import Plan
from assistant.reckoning.yields import Bed


def dig_lines(
    report: DigReport, units: Units, bed: Bed | None, growth: tuple[DigReport, int] | None, needed: Needed
) -> Iterator[Line]:
    """The whole page, section by section."""
    yield Line(f"Test dig: {dug_words(report, units)}", "headline")
    yield BLANK
    yield from _histogram(report, units)
    yield from _share(report, units)
    yield from _plan(report, needed)
    if report.roots:
        yield from _grades(report, units)
    if report.per_plant:
        yield from _weights(report, units, bed)
    yield from _growth(report, units, growth)


def _histogram(report: DigReport, units: Units) -> Iterator[Line]:
    for text in histogram_lines(report, units, width() - 2):
        yield Line(text, indent=2)
    yield Line(f"{WANTED} the wanted size", "quiet", 2)
    yield Line(f"{OTHER} smaller or bigger", "quiet", 2)


def _share(report: DigReport, units: Units) -> Iterator[Line]:
    yield BLANK
    yield Line(f"At the wanted size: {share_words(report.share)}", "section")
    yield Line(f"none {gauge(report.share, min(width() - 14, 60))} all", indent=2)
    yield Line(f"Smaller: {share_words(report.too_small)}; bigger: {share_words(report.too_big)}.", indent=2)
    yield Line(middle_words(report, units), indent=2)
    yield Line(confidence_words(report), "quiet", 2)


def _plan(report: DigReport, needed: Needed) -> Iterator[Line]:
    yield BLANK
    yield Line(plan_words(report), "section")
    yield Line(plan_terms(Plan()), "quiet", 2)
    yield Line(needed_words(needed), indent=2)


def _grades(report: DigReport, units: Units) -> Iterator[Line]:
    yield BLANK
    yield Line("Roots by the size of grades (shape, skin and damage are not judged)", "section")
    for grade in GRADES:
        yield Line(grade_words(grade, units), indent=2, bullet=f"{report.grades[grade.name]:>3}  ")
    yield Line("smaller than any of these", indent=2, bullet=f"{report.grades[NO_GRADE]:>3}  ")
    yield Line("Disputed: how much a No. 1 root needs. You decide, by --wanted.", indent=2)
    for grade in STRICTER:
        yield Line(grade_words(grade, units), indent=2, bullet=f"{report.stricter[grade.name]:>3}  ")
    classes = ", ".join(f"{count} {name}" for name, count in report.trial.items())
    yield Line(f"A Cornell trial graded by weight (at ¼, 1 and 2 lb): {classes}.", indent=2)


def _weights(report: DigReport, units: Units, bed: Bed | None) -> Iterator[Line]:
    assert report.per_plant is not None
    yield BLANK
    yield Line(f"A plant: {weight_words(report.per_plant, units)}", "section")
    if bed is None:
        yield Line("For a foot of row, the bed and an acre add --spacing, --row-length and --row-width.", "quiet", 2)
    else:
        for words in row_words(report.per_plant, bed, units):
            yield Line(words, indent=2)
    yield Line(weight_basis(report), "quiet", 2)
    if report.spread is not None:
        yield Line(f"The plants dug differ by {report.spread * 100:.0f} % (standard deviation over mean).", "quiet", 2)
    yield Line("Digging with a fork leaves about a fifth of the roots behind (University of Delaware).", "quiet", 2)


def _growth(report: DigReport, units: Units, growth: tuple[DigReport, int] | None) -> Iterator[Line]:
    words = list(growth_words(report, units, growth))
    if words:
        yield BLANK
        yield Line("Growth", "section")
    for sentence in words:
        yield Line(sentence, indent=2)
