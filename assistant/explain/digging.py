"""What a test dig says, in sentences; both fronts show these."""

from __future__ import annotations

from assistant.explain.histogram import size_words
from assistant.model.quantities import Units, format_number
from assistant.model.readings import Span
from assistant.reckoning.dig_report import DigReport
from assistant.reckoning.ranges import Range
from assistant.reckoning.sampling import Answer, Plan
from assistant.reckoning.yields import GRAMS_PER_POUND, weight_error

GRADE_WORDS = {
    "us-no-1": "U.S. No. 1 (1¾ to 3½ in across, 3 to 9 long, to 20 oz)",
    "us-no-1-petite": "U.S. No. 1 Petite (1½ to 2¼ in, 3 to 7 long; from memory)",
    "us-no-2": "U.S. No. 2 (from 1½ in, to 36 oz; from memory)",
    "canning-no-1": "canning No. 1 (1 to 2¼ in, 2 to 7 long)",
    "no-grade": "smaller than any grade",
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


def _which_way(report: DigReport) -> str:
    small, big = report.too_small.likely, report.too_big.likely
    return "most are smaller" if small > 0.5 else "most are bigger" if big > 0.5 else "they are smaller and bigger"


def _rough(value: float) -> str:
    """Two digits that count, no more."""
    return format_number(round(value, 1 if value >= 1 else 2)) if value < 10 else f"{value:.0f}"


def _many(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
