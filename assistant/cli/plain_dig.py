"""The test dig in the interview line by line: hills typed after `dig`, and what they say of the bed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from assistant.cli.output import Line, width
from assistant.model.quantities import Units

if TYPE_CHECKING:
    from assistant.model.case import TestDig

HOW_TO_DIG = {
    Units.US: (
        "Or write in the roots you dug, inches across each at its widest, hill by hill: dig 2.1 1.2 3.0 / 2.4 2.2; "
        "dig 1.5..3 changes the wanted sizes, dig back takes the last hill back."
    ),
    Units.METRIC: (
        "Or write in the roots you dug, centimetres across each at its widest, hill by hill: dig 5.3 3 7.6 / 6.1 5.6; "
        "dig 4..7.5 changes the wanted sizes, dig back takes the last hill back."
    ),
}
NOTHING_DUG = "Nothing dug yet. Take hills from all over the bed, not the best ones."
_COMMAND = re.compile(r"dig(?:\s+(.*))?", re.IGNORECASE | re.DOTALL)
_BETWEEN_HILLS = re.compile(r"(?:^|\s+)/(?:\s+|$)")


def typed_after_dig(text: str) -> str | None:
    """What follows the word `dig`; None when the line is not of a test dig."""
    match = _COMMAND.fullmatch(text)
    return None if match is None else (match[1] or "").strip()


def dig_as_typed(dig: TestDig | None, text: str, units: Units) -> TestDig | None:
    """The dig after what was typed: hills between strokes, other sizes wanted, or `back`; all of it or nothing.

    Raises `NotAValue` or `BadInput`.
    """
    from assistant.cases.typed_dig import with_typed, without_last

    if text.lower() == "back":
        return without_last(dig)
    for part in _BETWEEN_HILLS.split(text):
        if part:
            dig = with_typed(dig, part, units)
    return dig


def dig_lines(dig: TestDig | None, units: Units) -> Iterator[Line]:
    """The hills so far and what they say, as the page on the screen has it."""
    from assistant.cases.typed_dig import hills_of, report_of, wanted_of
    from assistant.explain.digging import (
        confidence_words,
        dug_words,
        middle_words,
        plan_words,
        share_words,
        wanted_words,
        weight_words,
    )
    from assistant.explain.histogram import gauge, histogram_lines, size_words

    report = report_of(dig)
    if not report.root_count:
        yield Line(f"{NOTHING_DUG} Wanted: {wanted_words(wanted_of(dig), units)}.")
        return
    yield Line(f"Test dig: {dug_words(report, units)}.", "section")
    for number, hill in enumerate(hills_of(dig), start=1):
        sizes = ", ".join(size_words(root, units) for root in hill)
        yield Line(sizes or "no roots", indent=2, bullet=f"Hill {number}: ")
    yield Line(plan_words(report), "section")
    yield Line(f"At the size: {share_words(report.share)}", indent=2)
    yield Line(f"none {gauge(report.share, min(width() - 14, 60))} all", indent=2)
    for drawn in histogram_lines(report, units, width() - 2):
        yield Line(drawn, indent=2)
    yield Line(middle_words(report, units), indent=2)
    if report.per_plant:
        yield Line(f"A plant: {weight_words(report.per_plant, units)}, by size.", indent=2)
    yield Line(confidence_words(report), "quiet", 2)
