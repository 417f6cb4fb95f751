"""What each answer would mean, held against giving that answer."""

from __future__ import annotations

import re
from datetime import date

import pytest

from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.quantities import Units
from assistant.rulebook import read_rulebook
from assistant.season import Visit
from assistant.stakes import FOR_THE_RECORD, ONLY_TOGETHER, SETTLES_THE_DAY, Why, why_asked

RULEBOOK = read_rulebook("sweetpotato/when-to-dig")
GARDEN = Garden({"first_frost": FrostDates(MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2))})
GARDENS: dict[str, dict[str, str]] = {
    "nothing known": {},
    "date and variety known": {"planted_on": "about 2031-06-20", "variety": "beauregard"},
    "small roots": {"roots": "too-small", "frost": "none", "vines": "green"},
    "ready roots in wet soil": {"roots": "right", "soil": "wet", "frost": "none"},
    "days alone": {"roots": "can't tell", "forecast_low": "50 F", "recent_nights": "55 F", "planted_on": "2031-05-20"},
}


def visit_in(units: Units) -> Visit:
    return Visit(RULEBOOK, Case("A bed", RULEBOOK.name, date(2031, 9, 10), units, GARDEN))


def visit_with(**answers: str) -> Visit:
    visit = visit_in(Units.US)
    for sign, text in answers.items():
        visit = visit.answer(sign, text)
    return visit


def plain(advice: str | None) -> str:
    return (advice or "no advice").replace("-", " ")


def stake_of(why: Why, answer: str) -> str:
    """What an answer would mean; those not named are the others."""
    named = {one: stake.then for stake in why.stakes for one in stake.answers.split(", ")}
    return named[answer] if answer in named else named["any other"]


def holds(then: str, before: Visit, after: Visit) -> bool:
    """Whether the answer leaves or rules out just what is told of it."""
    told = set(re.findall("“(.*?)”", then))
    was, left = ({plain(advice) for advice in visit.course.reachable} for visit in (before, after))
    if then == "leaves all open":
        return left == was and bool(after.course.left)
    if then.startswith("leaves "):
        return told == left and bool(after.course.left)
    if then.startswith("rules out "):
        return told == was - left and bool(after.course.left)
    verdict = after.verdict()
    headline = RULEBOOK.advice[verdict.advice or ""].headline
    return not after.course.left and then == plain(verdict.advice) + verdict.headline.removeprefix(headline)


@pytest.mark.parametrize("garden", GARDENS)
def test_every_choice_means_what_is_told_of_it(garden: str) -> None:
    visit = visit_with(**GARDENS[garden])
    looked_at = 0
    for name in visit.course.left:
        why = why_asked(visit, name)
        for choice in (*RULEBOOK.signs[name].choices, "can't tell") if RULEBOOK.signs[name].choices else ():
            then = stake_of(why, choice) if why.stakes else "leaves all open"
            assert holds(then, visit, visit.answer(name, choice)), (name, choice, then)
            looked_at += 1
    assert looked_at > 10


@pytest.mark.parametrize("low", ["20", "28.9", "29", "32", "36", "36.1", "60"])
def test_every_temperature_means_what_is_told_of_its_run(low: str) -> None:
    visit = visit_with(roots="too-small", frost="none", vines="green", cover="yes")
    stakes = why_asked(visit, "forecast_low").stakes
    told = {stake.answers.removesuffix(", can't tell"): stake.then for stake in stakes}
    runs = {"below 29 °F": (-20, 28.99), "29 °F to 36 °F": (29, 36), "above 36 °F": (36.01, 90)}
    assert set(runs) <= set(told)
    (run,) = [run for run, (lowest, highest) in runs.items() if lowest <= float(low) <= highest]
    assert holds(told[run], visit, visit.answer("forecast_low", low))


def test_a_long_list_names_the_few_and_calls_the_rest_the_others() -> None:
    why = why_asked(visit_with(**GARDENS["days alone"]), "variety")
    answers = [stake.answers for stake in why.stakes]
    assert any(answer.startswith("any other") for answer in answers)
    assert all(len(answer.split(", ")) <= 4 for answer in answers)


def test_an_answer_that_is_given_already_does_not_count() -> None:
    visit = visit_with(frost="hard")
    assert why_asked(visit, "frost") == why_asked(visit.forget("frost"), "frost")


def test_a_question_that_nothing_hangs_on_says_so() -> None:
    assert why_asked(visit_with(frost="hard"), "roots") == Why(FOR_THE_RECORD)


def test_a_question_for_the_day_alone_says_so() -> None:
    visit = visit_with(**dict.fromkeys(RULEBOOK.signs, "can't tell")).forget("forecast_low_in")
    visit = visit.answer("roots", "right").answer("forecast_low", "25 F")
    assert why_asked(visit, "forecast_low_in") == Why(SETTLES_THE_DAY)


def test_a_question_that_counts_only_with_others_says_so() -> None:
    assert why_asked(visit_with(), "recent_nights") == Why(ONLY_TOGETHER)


def test_runs_are_told_in_the_units_of_the_garden_and_one_is_not_plural() -> None:
    answers = [stake.answers for stake in why_asked(visit_in(Units.METRIC), "forecast_low").stakes]
    assert answers == ["below -1.7 °C", "-1.7 °C to 2.2 °C", "above 2.2 °C, can't tell"]
    assert "1 night or less" in why_asked(visit_with(**GARDENS["small roots"]), "cold_nights").stakes[0].answers
