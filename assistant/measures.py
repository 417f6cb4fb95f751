"""From a case to readings: every sign as answered or as its whole domain, and the measures reckoned from them."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from assistant.model.case import Case, TestDig
from assistant.model.quantities import format_number
from assistant.model.readings import Choices, Known, Origin, Reading, exactly
from assistant.model.rules import Rulebook
from assistant.model.signs import DaysUntil, Measure
from assistant.reckoning.days import days_until
from assistant.reckoning.derived import derived
from assistant.reckoning.test_dig import median_range

ROOTS = "roots"
"""The sign that a test dig answers when the grower has not."""


def domains(rulebook: Rulebook, on: date) -> dict[str, Reading]:
    """Everything each sign and measure can be on a day."""
    found: dict[str, Reading] = {name: sign.domain(on) for name, sign in rulebook.signs.items()}
    found.update((name, measure.domain) for name, measure in rulebook.measures.items())
    return found


def known_readings(rulebook: Rulebook, case: Case) -> dict[str, Known]:
    """What is known of every sign and measure on the day of the case."""
    known = {
        name: case.answers.get(name) or Known(sign.domain(case.on), Origin.NOT_ASKED)
        for name, sign in rulebook.signs.items()
    }
    if case.test_dig and ROOTS in rulebook.signs and ROOTS not in case.answers:
        known[ROOTS] = _roots(case.test_dig, rulebook.signs[ROOTS].domain(case.on))
    for name, measure in rulebook.measures.items():
        known[name] = _reckon(rulebook, measure, known, case)
    return known


def _reckon(rulebook: Rulebook, measure: Measure, known: Mapping[str, Known], case: Case) -> Known:
    if isinstance(measure.how, DaysUntil):
        day = case.garden.day_named(measure.how.garden_date, case.on)
        if day is None:
            return Known(measure.domain, Origin.NOT_ASKED)
        return Known(exactly(days_until(day, case.on)), Origin.GARDEN)
    reading = known[measure.how.sign].reading
    return Known(derived(measure, reading, rulebook.tables, case.on.toordinal()), Origin.RECKONED)


def _roots(dig: TestDig, domain: Reading) -> Known:
    """The sizes the bed's middle root may have, by the wanted diameters; any size when too few were dug."""
    roots = sum(map(len, dig.hills))
    dug = f"{roots} root{'s' * (roots != 1)} of {len(dig.hills)} hill{'s' * (len(dig.hills) != 1)}"
    middle = median_range(dig.hills)
    if middle is None:
        return Known(domain, Origin.TEST_DIG, f"{dug}, too few to tell")
    possible = {
        "too-small": middle.low < dig.wanted.low,
        "right": middle.low <= dig.wanted.high and middle.high >= dig.wanted.low,
        "too-big": middle.high > dig.wanted.high,
    }
    written = (
        f"{dug}; middle root "
        f"{format_number(middle.low)} to {format_number(middle.high)} in across"
    )
    return Known(Choices(frozenset(size for size, holds in possible.items() if holds)), Origin.TEST_DIG, written)
