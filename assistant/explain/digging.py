"""What a test dig says, in sentences; both fronts show these."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil
from typing import NamedTuple

from assistant.explain.histogram import size_words
from assistant.model.quantities import CM_PER_INCH, Units, format_number
from assistant.model.readings import Span
from assistant.model.rules import How
from assistant.reckoning.dig_report import DigReport
from assistant.reckoning.grades import NO_LIMIT, OUNCE, Grade
from assistant.reckoning.growth import days_at_published_growth, days_to_size, growth_per_day
from assistant.reckoning.ranges import Range
from assistant.reckoning.sampling import Answer, Plan, hills_for_share, hills_for_weight
from assistant.reckoning.yields import BUSHELS, GRAMS_PER_POUND, USUAL_SPREAD, Bed, weight_error

FEET_PER_METRE = 1 / 0.3048  # exact by definition (international foot, 1959)
ACRES_PER_HECTARE = 2.4710538
GRADE_NAMES = {
    "us-no-1": "U.S. No. 1",
    "us-no-1-petite": "U.S. No. 1 Petite",
    "us-no-2": "U.S. No. 2",
    "canning-no-1": "canning No. 1",
    "us-extra-no-1": "U.S. Extra No. 1",
    "research-no-1": "No. 1 as trials count it",
}
PLAN_WORDS = {
    Answer.MOST: "Stop: most of the bed's roots are at the wanted size.",
    Answer.FEW: "Stop: few of the bed's roots are at the wanted size",
    Answer.BETWEEN: "Stop: about half of the bed's roots are at the wanted size, and more hills would hardly tell.",
}


def dug_words(report: DigReport, units: Units) -> str:
    """How much was dug, and what was wanted."""
    hills, roots = _many(len(report.hills), "hill"), _many(report.root_count, "root")
    return f"{hills}, {roots}; wanted {wanted_words(report.wanted, units)}"


def wanted_words(wanted: Span, units: Units) -> str:
    """The wanted diameters."""
    return f"{size_words(wanted.low, units)} to {size_words(wanted.high, units)} {length_unit(units)} across"


def length_unit(units: Units) -> str:
    """The unit diameters are shown in."""
    return "in" if units is Units.US else "cm"


def share_words(share: Range) -> str:
    """A share with its range, in percent."""
    return f"{share.likely:.0%} ({share.low * 100:.0f} to {share.high:.0%})".replace("%", " %")


def confidence_words(report: DigReport) -> str:
    """How often the ranges hold."""
    return f"Ranges hold the bed's true value about {report.confidence * 10:.0f} times in 10; hills are the sample."


def plan_words(report: DigReport) -> str:
    """Whether to dig another hill."""
    plan = report.plan
    if plan.answer is None:
        return f"Dig another hill; about {plan.more_hills} more may settle it."
    words = PLAN_WORDS[plan.answer]
    return words if plan.answer is not Answer.FEW else f"{words}; {_which_way(report)}."


class Needed(NamedTuple):
    """Hills in all to know the share to within so much (0 to 1), and the weight to within a fifth."""

    within: float
    share: int
    weight: int


def hills_needed(report: DigReport, within: float) -> Needed:
    """How many hills it takes to know this bed's share to within so much, and its weight."""
    share = min(max(report.share.likely, 0.2), 0.8)  # few hills that agree by chance don't make it easy
    roots = report.root_count / len(report.hills)
    return Needed(within, hills_for_share(within, share, roots), hills_for_weight(0.20, report.spread or USUAL_SPREAD))


def needed_words(needed: Needed) -> str:
    """That in a sentence."""
    return (
        f"It takes some {needed.share} hills in all to know the share within {needed.within * 100:.0f} points, "
        f"and some {needed.weight} to know the weight within 20 %."
    )


def plan_terms(plan: Plan) -> str:
    """The rule behind that, with its error rates."""
    return (
        f"The rule tells beds with {plan.most:.0%} at the size from beds with {plan.few:.0%}, and errs at most "
        f"{plan.wrong_most:.0%} of the time either way; it stops after {plan.most_hills} hills (Wald's sequential "
        f"test; roots of one hill count as alike by {plan.likeness:g}, our own judgement)."
    ).replace("%", " %")


def middle_words(report: DigReport, units: Units) -> str:
    """Where the bed's middle root lies."""
    if report.only_counted:
        return "The middle root is not known, because the roots were only sorted."
    if report.middle is None:
        return "Too few roots to tell the bed's middle root."
    low, high = (size_words(round(end, 2), units) for end in (report.middle.low, report.middle.high))
    return f"The bed's middle root is {low} to {high} {length_unit(units)} across."


def grade_words(grade: Grade, units: Units) -> str:
    """A grade with its sizes."""
    across = _from_to(grade.diameter, units)
    long = f", {_from_to(grade.length, units)} long" if grade.length.low else ""
    ounces = f"{grade.ounces:g} oz" if units is Units.US else f"{round(grade.ounces * OUNCE, -1):g} g"
    weight = f", to {ounces}" if grade.ounces < NO_LIMIT else ""
    memory = "" if grade.how is How.READ else "; from memory"
    return f"{GRADE_NAMES[grade.name]} ({across} {length_unit(units)} across{long}{weight}{memory})"


def _from_to(sizes: Span, units: Units) -> str:
    """The limits of a grade, to a hundredth of a cm: a tenth would let smaller roots in."""
    low, high = (
        size_words(end, units) if units is Units.US else format_number(end * CM_PER_INCH)
        for end in (sizes.low, sizes.high)
    )
    return f"{low} to {high}" if sizes.high < NO_LIMIT else f"from {low}"


def weight_words(grams: Range, units: Units) -> str:
    """A weight with its range, in pounds or kilograms."""
    low, likely, high = in_weight_unit(grams, units)
    return f"{_rough(likely)} {weight_unit(units)} ({_rough(low)} to {_rough(high)})"


def in_weight_unit(grams: Range, units: Units) -> Range:
    """Grams in pounds or kilograms."""
    return grams.times(1 / GRAMS_PER_POUND if units is Units.US else 0.001)


def weight_unit(units: Units) -> str:
    """The unit weights are shown in."""
    return "lb" if units is Units.US else "kg"


def weight_basis(report: DigReport) -> str:
    """What the weights rest on, and how far they may be off as a whole."""
    error = f"{weight_error(report.roots):.0%}".replace("%", " %")
    if all(root.grams is not None for root in report.roots):
        return "Weights as weighed."
    if all(root.grams is not None or root.length is not None for root in report.roots):
        return f"Weights by diameter and length, each root an ellipsoid; that may be off by {error}, which counts in."
    return f"Weights by diameter alone, at the usual shape; that may be off by {error}, which counts in."


def row_words(per_plant: Range, bed: Bed, units: Units) -> Iterator[str]:
    """The weight of a length of row, and of the bed and an acre where their sizes are known."""
    if units is Units.US:
        yield f"A foot of row: {weight_words(bed.per_foot(per_plant), units)}"
    else:
        yield f"A metre of row: {weight_words(bed.per_foot(per_plant).times(FEET_PER_METRE), units)}"
    whole, acre = bed.in_bed(per_plant), bed.per_acre(per_plant)
    if whole:
        yield f"The bed: {weight_words(whole, units)}{_in_bushels(whole, units)}"
    if acre and units is Units.US:
        yield f"An acre: {weight_words(acre, units)}{_in_bushels(acre, units)}"
    elif acre:
        yield f"A hectare: {weight_words(acre.times(ACRES_PER_HECTARE), units)}"


def growth_words(report: DigReport, units: Units, growth: tuple[DigReport, int] | None) -> Iterator[str]:
    """How fast the roots widen and when they are as wide as wanted: by two digs, or else by growth in trials."""
    if report.only_counted:
        return
    if growth:
        yield from _measured_growth(report, units, *growth)
    elif report.share.likely < 0.5 and report.too_big.likely < 0.5:
        ahead = days_at_published_growth(report.dig.hills, report.wanted.low)
        if ahead and ahead.high >= 1:
            size = f"{size_words(report.wanted.low, units)} {length_unit(units)}"
            yield (
                f"The average root is {size} across after {ahead.low:.0f} days at the fastest growth on record and "
                f"{ahead.high:.0f} at the usual (23 and 11 g a plant a day over whole seasons), and never in soil "
                "below 50 °F (10 °C) or under dead vines. Trials found the gain of a later dig not dependable."
            )


def _measured_growth(report: DigReport, units: Units, earlier: DigReport, days: int) -> Iterator[str]:
    digs = earlier.dig.hills, report.dig.hills, days
    per_day = growth_per_day(*digs, report.confidence).times(1 if units is Units.US else CM_PER_INCH)
    unit, size = length_unit(units), f"{size_words(report.wanted.low, units)} {length_unit(units)}"
    yield (
        f"In {_many(days, 'day')} since the earlier dig ({dug_words(earlier, units).partition(';')[0]}) the average "
        f"root widened by {per_day.likely:.3f} {unit} a day ({per_day.low:.3f} to {per_day.high:.3f})."
    )
    ahead = days_to_size(*digs, report.wanted.low, report.confidence)
    if per_day.low <= 0:
        yield "Cannot tell: the two digs overlap, and no growth at all fits them as well. More hills would tell more."
    elif ahead is None:
        yield f"Cannot tell when the average root is {size} across."
    elif not ahead.high:
        yield f"The average root is {size} across already."
    elif ahead.low < 1:
        within = _many(ceil(ahead.high), "day")
        yield f"The average root may be {size} across already, and if that goes on it is in {within}."
    else:
        yield f"If that goes on, the average root is {size} across in {ahead.low:.0f} to {ahead.high:.0f} days."


def _in_bushels(grams: Range, units: Units) -> str:
    """The same in bushels of both weights in use, for pounds."""
    if units is not Units.US:
        return ""
    told = [f"{_rough(grams.likely / GRAMS_PER_POUND / pounds)} bushels of {name}" for name, pounds in BUSHELS.items()]
    return f"; {' or '.join(told)}"


def _which_way(report: DigReport) -> str:
    small, big = report.too_small.likely, report.too_big.likely
    return "most are smaller" if small > 0.5 else "most are bigger" if big > 0.5 else "they are smaller and bigger"


def _rough(value: float) -> str:
    """Two digits that count, no more."""
    return f"{float(f'{value:.2g}'):,g}"


def _many(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
