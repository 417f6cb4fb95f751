"""From a case to readings: every sign as answered, as the weather or a test dig tells it, or as its whole domain."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from assistant.measures.digging import ROOTS, grown_by, roots_dug
from assistant.model.case import Case
from assistant.model.readings import Known, Origin, Reading, exactly
from assistant.model.rules import Rulebook
from assistant.model.signs import DaysUntil, GrownBy, Measure, Sign
from assistant.reckoning.days import days_until
from assistant.reckoning.derived import derived


def domains(rulebook: Rulebook, on: date) -> dict[str, Reading]:
    """Everything each sign and measure can be on a day."""
    found: dict[str, Reading] = {name: sign.domain(on) for name, sign in rulebook.signs.items()}
    found.update((name, measure.domain) for name, measure in rulebook.measures.items())
    return found


def known_readings(rulebook: Rulebook, case: Case) -> dict[str, Known]:
    """What is known of every sign and measure on the day of the case.

    What the grower says stands above all else, but for can't tell, which gives way to a test dig and the weather.
    """
    case = with_frost_dates(case)
    known = {name: Known(sign.domain(case.on), _unknown(sign)) for name, sign in rulebook.signs.items()}
    known.update((name, case.answers[name]) for name in rulebook.signs if name in case.answers)
    unsaid = (Origin.NOT_ASKED, Origin.CANT_TELL)
    known.update((name, its) for name, its in _told(rulebook, case).items() if known[name].origin in unsaid)
    for name, measure in rulebook.measures.items():
        known[name] = _reckon(rulebook, measure, known, case)
    return known


def _unknown(sign: Sign) -> Origin:
    """Where a reading of which nothing is known comes from: nobody is asked what the weather tells."""
    return Origin.NOT_ASKED if sign.told is None else Origin.CANT_TELL


def with_frost_dates(case: Case) -> Case:
    """The case with the frost dates of its station's record, where the grower gave none."""
    if case.weather is None or case.weather.record is None or "first_frost" in case.garden.dates:
        return case
    from assistant.measures.weather import first_frost  # only a case with a record needs it

    dates = first_frost(case.weather.record)
    if dates is None:
        return case
    return replace(case, garden=case.garden._replace(dates={**case.garden.dates, "first_frost": dates}))


def _told(rulebook: Rulebook, case: Case) -> dict[str, Known]:
    """The signs that a test dig or the weather answers."""
    told = {}
    if case.test_dig and ROOTS in rulebook.signs:
        told[ROOTS] = roots_dug(case.test_dig, rulebook.signs[ROOTS].domain(case.on), case.units)
    if case.weather is not None:
        from assistant.measures.weather import signs_told

        told.update(signs_told(rulebook, case))
    return told


def _reckon(rulebook: Rulebook, measure: Measure, known: Mapping[str, Known], case: Case) -> Known:
    match measure.how:
        case DaysUntil(garden_date):
            return _days_to(measure, garden_date, case)
        case GrownBy(count):
            return grown_by(measure, known[count], case.test_dig)
        case how:
            reading = known[how.sign].reading
            return Known(derived(measure, reading, rulebook.tables, case.on.toordinal()), Origin.RECKONED)


def _days_to(measure: Measure, garden_date: str, case: Case) -> Known:
    day = case.garden.day_named(garden_date, case.on)
    if day is None:
        return Known(measure.domain, Origin.NOT_ASKED)
    return Known(exactly(days_until(day, case.on)), Origin.GARDEN)
