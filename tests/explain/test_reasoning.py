"""The reasoning down to each answer and source, and why it is not another advice."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest

from assistant.explain.evidence import disagreements, signs_behind, sources
from assistant.explain.reasoning import Reason, reasoning, why_not
from assistant.explain.wording import day_words, format_reading, known_words
from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.derivation import Outcome, Verdict
from assistant.model.quantities import Units
from assistant.model.readings import Known, Origin, Span, one_of
from assistant.rulebook import read_rulebook
from assistant.season import Visit

RULEBOOK = read_rulebook("sweetpotato/when-to-dig")
GARDEN = Garden({"first_frost": FrostDates(MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2))})


def verdict_on(**answers: str) -> Verdict:
    visit = Visit(RULEBOOK, Case("A bed", RULEBOOK.name, date(2031, 9, 10), garden=GARDEN))
    for sign, text in answers.items():
        visit = visit.answer(sign, text)
    return visit.verdict()


SMALL_AND_MILD = {"roots": "too-small", "forecast_low": "50 F", "recent_nights": "58 F"}


def lines(reason: Reason) -> Iterator[Reason]:
    yield reason
    for child in reason.children:
        yield from lines(child)


def test_each_answer_the_advice_rests_on_stands_in_the_tree_with_the_growers_words() -> None:
    verdict = verdict_on(roots="too-small", forecast_low="about 30 F", forecast_low_in="2")
    assert verdict.advice == "dig-before-frost"
    texts = [reason.text for reason in lines(reasoning(verdict)) if reason.kind == "answer"]
    assert "lowest forecast: 27 °F to 33 °F (you said “about 30 F”)" in texts
    assert set(verdict.decided_by) >= {"forecast_low", "roots"}


def test_every_source_the_verdict_names_is_cited_by_something_it_shows() -> None:
    verdict = verdict_on(roots="too-small", forecast_low="30 F")
    shown = " ".join(reason.detail for reason in lines(reasoning(verdict)) if reason.kind == "source")
    assert sources(verdict.derivation)
    for source in sources(verdict.derivation):
        assert source.id in shown


def test_where_handbooks_disagree_on_what_mattered_both_sides_are_shown() -> None:
    verdict = verdict_on(frost="light")
    assert verdict.advice == "dig-at-once"
    assert "after-light-frost" in [found.name for found in disagreements(verdict.derivation)]
    disputed = [reason for reason in reasoning(verdict).children if reason.kind == "disagreement"]
    assert all(len(reason.children) >= 2 and reason.detail.startswith("Here: ") for reason in disputed)


def test_why_not_names_what_is_needed_and_what_is_known_instead() -> None:
    reason = why_not(verdict_on(**SMALL_AND_MILD), "dig-now")
    needs = {(child.text, child.detail) for rule in reason.children for child in rule.children}
    assert ("needs size right", "size: too small") in needs


def test_why_not_of_outranked_advice_says_that_it_holds_but_loses() -> None:
    verdict = verdict_on(roots="right", forecast_low="30 F")
    assert verdict.advice == "dig-before-frost"
    (rule, *_) = [reason for reason in why_not(verdict, "dig-now").children if "right-size" in reason.detail]
    assert "more pressing advice wins" in rule.detail


def test_why_not_of_an_unknown_advice_is_a_mistake() -> None:
    with pytest.raises(KeyError):
        why_not(verdict_on(**SMALL_AND_MILD), "dance")


def test_signs_behind_a_verdict_include_those_under_its_measures() -> None:
    verdict = verdict_on(planted_on="2031-08-20", variety="jewel", vines="green", heave="none", forecast_low="50 F")
    assert {"planted_on", "variety"} <= set(signs_behind(verdict.derivation))


def test_the_headline_holds_the_day() -> None:
    verdict = verdict_on(**SMALL_AND_MILD)
    assert verdict.look_again is not None
    assert day_words(verdict.look_again) in verdict.headline
    assert day_words(date(2031, 10, 4)) == "Saturday 4 October"


def test_readings_are_worded_in_the_gardens_units() -> None:
    span = Span(53.6, 59)
    assert format_reading(RULEBOOK, "recent_nights", span, Units.US) == "53.6 °F to 59 °F"
    assert format_reading(RULEBOOK, "recent_nights", span, Units.METRIC) == "12 °C to 15 °C"
    assert format_reading(RULEBOOK, "vines", one_of("yellowing", "green"), Units.US) == "green or yellowing"
    assert format_reading(RULEBOOK, "days_in_ground", Span(95, 105), Units.US) == "95 to 105 days"


def test_a_sign_not_asked_is_never_worded_as_an_answer() -> None:
    whole = RULEBOOK.signs["vines"].domain(date(2031, 10, 4))
    assert known_words(RULEBOOK, "vines", Known(whole, Origin.NOT_ASKED), Units.US) == "not asked yet"
    assert known_words(RULEBOOK, "vines", Known(whole, Origin.CANT_TELL, "can't tell"), Units.US) == "you can't tell"
    assert known_words(RULEBOOK, "frost_chance_week", Known(Span(0, 100), Origin.CANT_TELL), Units.US) == "not known"


def test_no_advice_open_and_settled_are_different_outcomes() -> None:
    nothing = replace(RULEBOOK, rules=())
    assert Visit(nothing, Case("A bed", "x", date(2031, 9, 10))).verdict().outcome is Outcome.NO_ADVICE
    assert verdict_on(vines="green").outcome is Outcome.OPEN
    assert verdict_on(frost="hard").outcome is Outcome.SETTLED
