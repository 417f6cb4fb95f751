"""A garden's frost dates in the proofs: unknown together, or known, in order and within half a year."""

from dataclasses import replace
from datetime import date, timedelta
from random import Random

import pytest
from random_rulebooks import Maker

from assistant.inference.evaluator import evaluate
from assistant.measures import domains, known_readings
from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.conditions import CantTell, Compare, leaves
from assistant.model.quantities import Kind
from assistant.model.readings import Choices, Known, Origin
from assistant.model.rules import Rulebook
from assistant.model.signs import DaysUntil, Effort, Measure, Sign
from assistant.proofs import prove
from assistant.proofs.gardens import gardens_of

ON = date(2031, 7, 15)
MEASURES = {
    "to first": Measure("to first", "", DaysUntil("first_frost.p10"), -200, 200),
    "to usual": Measure("to usual", "", DaysUntil("first_frost.p50"), -200, 200),
    "to last": Measure("to last", "", DaysUntil("last_frost.p90"), -200, 200),
}
LEAF = Sign("leaf", Kind.CHOICE, "", "", Effort.GLANCE, choices=dict.fromkeys(("green", "black"), ""))


def frost_rulebook(seed: int) -> Rulebook | None:
    """A random rulebook over three frost dates; None when it asks *can't tell* of one, which no author can."""
    maker = Maker(Random(seed))
    signs = {name: Sign(name, Kind.NUMBER, "", "", Effort.GLANCE, low=-200, high=200) for name in MEASURES}
    blank = replace(maker.rulebook(), signs={**signs, "leaf": LEAF}, measures={}, tables={}, cautions={})
    rules = tuple(maker.rules(blank, 5))
    if any(isinstance(leaf, CantTell) and leaf.sign in MEASURES for rule in rules for leaf in leaves(rule.when)):
        return None
    return replace(blank, signs={"leaf": LEAF}, measures=MEASURES, rules=rules)


def frost_gardens(rulebook: Rulebook) -> list[Garden]:
    """Gardens that meet every bound from both sides, with the dates of a frost unknown or in order."""
    bounds = {leaf.bound for rule in rulebook.rules for leaf in leaves(rule.when) if isinstance(leaf, Compare)}
    near = {round(bound) + step for bound in bounds for step in (-1, 0, 1)} | {-182, 182}
    days = sorted(day for day in near if -182 <= day <= 182)
    firsts = [None, *((one, other) for one in days for other in days if one <= other)]
    return [garden(first, last) for first in firsts for last in (None, *days)]


def garden(first: tuple[int, int] | None, last: int | None) -> Garden:
    dates = {}
    if first is not None:
        dates["first_frost"] = FrostDates(month_day(first[0]), month_day(first[1]), month_day(first[1]))
    if last is not None:
        dates["last_frost"] = FrostDates(*(month_day(last),) * 3)
    return Garden(dates)


def month_day(ahead: int) -> MonthDay:
    day = ON + timedelta(days=ahead)
    return MonthDay(day.month, day.day)


@pytest.mark.parametrize("seed", range(30))
def test_rules_fire_in_exactly_the_gardens_that_real_dates_can_give(seed: int) -> None:
    rulebook = frost_rulebook(seed)
    if rulebook is None:
        return
    whole = domains(rulebook, ON)
    gardens = gardens_of(rulebook)
    fired: set[str] = set()
    for home in frost_gardens(rulebook):
        for leaf in (Choices(frozenset({"green"})), Choices(frozenset({"black"})), LEAF.domain(ON)):
            case = Case("", "", ON, garden=home, answers={"leaf": Known(leaf, Origin.ANSWERED)})
            readings = {name: known.reading for name, known in known_readings(rulebook, case).items()}
            found = evaluate(rulebook, readings, whole)
            fired.update(found.fired)
            ways = gardens.ways_of(case)
            firing = {rule.name for rule in rulebook.rules if gardens.at(gardens.fires(rule.name), ways)}
            assert firing == set(found.fired)
    never = {flaw.about for flaw in prove(rulebook).flaws if flaw.code == "never-fires"}
    assert never == {rule.name for rule in rulebook.rules} - fired


@pytest.mark.parametrize("seed", range(30))
def test_the_example_of_a_rule_has_frost_dates_that_fire_it(seed: int) -> None:
    rulebook = frost_rulebook(seed)
    if rulebook is None:
        return
    gardens = gardens_of(rulebook)
    for rule in rulebook.rules:
        ways = gardens.simplest(gardens.fires(rule.name))
        if ways is not None:
            case = gardens.case("", ways)
            readings = {name: known.reading for name, known in known_readings(rulebook, case).items()}
            assert rule.name in evaluate(rulebook, readings, domains(rulebook, case.on)).fired


def test_a_measure_too_narrow_for_half_a_year_is_said_to_leave_gardens_out() -> None:
    rulebook = frost_rulebook(1)
    assert rulebook is not None
    narrow = Measure("to last", "", DaysUntil("last_frost.p90"), 0, 100)
    unproved = prove(replace(rulebook, measures={**MEASURES, "to last": narrow})).unproved
    assert ["'to last'" in item.why for item in unproved].count(True) == 1
