"""What decided a verdict on the shipped rulebook, and what would change it."""

from dataclasses import replace
from datetime import date

from assistant.interview.options import MOST_SETS
from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.conditions import OneOf
from assistant.model.derivation import Verdict
from assistant.model.rules import ADVICE
from assistant.rulebook import read_rulebook
from assistant.season import Visit
from assistant.whatif import advise_fully

RULEBOOK = read_rulebook("sweetpotato/when-to-dig")
GARDEN = Garden({"first_frost": FrostDates(MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2))})


def visit_with(**answers: str) -> Visit:
    visit = Visit(RULEBOOK, Case("A bed", RULEBOOK.name, date(2031, 9, 10), garden=GARDEN))
    for sign, text in answers.items():
        visit = visit.answer(sign, text)
    return visit


def full(visit: Visit) -> Verdict:
    return advise_fully(visit.rulebook, visit.case)


def test_a_hard_freeze_alone_decides_whatever_else_is_true() -> None:
    verdict = full(visit_with(vines="green", frost="hard", roots="right"))
    assert verdict.forced
    assert verdict.decided_by == ("frost",)


def test_the_nearest_change_comes_to_the_advice_it_names() -> None:
    visit = visit_with(roots="right", forecast_low="30 F", frost="none", vines="green")
    verdict = full(visit)
    (change,) = [change for change in verdict.would_change if change.sign == "forecast_low"]
    assert (change.before, change.after) == ("30 °F (you said “30 F”)", "above 36 °F")
    milder = visit.answer("forecast_low", "36.5 F").verdict()
    assert (milder.advice, milder.headline) == (change.then, change.headline)
    assert visit.answer("forecast_low", "36 F").verdict().advice == verdict.advice


def test_a_verdict_that_more_answers_can_change_is_forced_by_none() -> None:
    verdict = full(visit_with(vines="green"))
    assert not verdict.forced
    assert verdict.would_change


def test_more_choices_than_can_be_tried_leave_the_verdict_plain() -> None:
    names = [f"kind-{number}" for number in range(MOST_SETS.bit_length())]
    sign = replace(RULEBOOK.signs["vines"], name="kind", choices=dict.fromkeys(names, ""))
    rules = tuple(
        RULEBOOK.rules[0]._replace(name=name, when=OneOf("kind", frozenset((name,))), concludes=ADVICE, value="wait")
        for name in names
    )
    rulebook = replace(RULEBOOK, signs={"kind": sign}, measures={}, rules=rules, cautions={})
    visit = Visit(rulebook, Case("A bed", "many", date(2031, 9, 10))).answer("kind", "kind-3")
    verdict = full(visit)
    assert (verdict.advice, verdict.forced, verdict.would_change) == ("wait", False, ())
