"""The questions that are left are all that could still change the advice."""

from dataclasses import replace
from random import Random

import pytest
from random_rulebooks import Maker, domains, with_measures

from assistant.inference.evaluator import evaluate
from assistant.interview.open_rules import advice_at_stake, questions_left
from assistant.model.readings import Known, Origin, Reading
from assistant.model.rules import Rulebook


def half_answered(maker: Maker, rulebook: Rulebook) -> tuple[dict[str, Reading], set[str]]:
    """Readings with some signs not asked, and which those are."""
    whole = domains(rulebook)
    unasked = {name for name in rulebook.signs if maker.random.random() < 0.6}
    answered = maker.readings(rulebook)
    return {name: whole[name] if name in unasked else answered[name] for name in rulebook.signs}, unasked


def as_known(rulebook: Rulebook, signs: dict[str, Reading], unasked: set[str]) -> dict[str, Known]:
    return {
        name: Known(reading, Origin.NOT_ASKED if name in unasked else Origin.ANSWERED)
        for name, reading in with_measures(rulebook, signs).items()
    }


@pytest.mark.parametrize("seed", range(150))
def test_answering_a_question_that_is_left_out_never_changes_the_advice(seed: int) -> None:
    maker = Maker(Random(seed))
    rulebook = maker.rulebook()
    whole = domains(rulebook)
    signs, unasked = half_answered(maker, rulebook)
    left = set(questions_left(rulebook, as_known(rulebook, signs, unasked), whole))
    assert left <= unasked
    before = evaluate(rulebook, with_measures(rulebook, signs), whole).advice
    for _ in range(20):
        answers = maker.readings(rulebook)
        now = {name: answers[name] if name in unasked - left else reading for name, reading in signs.items()}
        assert evaluate(rulebook, with_measures(rulebook, now), whole).advice == before


@pytest.mark.parametrize("seed", range(60))
def test_the_advice_at_stake_takes_in_every_advice_an_answer_can_bring(seed: int) -> None:
    maker = Maker(Random(seed))
    rulebook = maker.rulebook()
    whole = domains(rulebook)
    signs, unasked = half_answered(maker, rulebook)
    stake = advice_at_stake(rulebook, as_known(rulebook, signs, unasked), whole)
    before = evaluate(rulebook, with_measures(rulebook, signs), whole).advice
    for _ in range(30):
        answers = maker.readings(rulebook)
        now = {name: answers[name] if name in unasked else reading for name, reading in signs.items()}
        after = evaluate(rulebook, with_measures(rulebook, now), whole).advice
        if after != before:
            assert {after, before} & {*stake, None}


def test_questions_go_by_effort_and_then_in_the_rulebooks_order() -> None:
    most = 0
    for seed in range(20):
        rulebook = Maker(Random(seed)).rulebook()
        unasked = {name: Known(whole, Origin.NOT_ASKED) for name, whole in domains(rulebook).items()}
        left = questions_left(rulebook, unasked, domains(rulebook))
        costs = [(rulebook.signs[name].effort.cost, list(rulebook.signs).index(name)) for name in left]
        assert costs == sorted(costs)
        most = max(most, len(left))
    assert most > 3


def test_nothing_is_left_to_ask_once_everything_is_answered() -> None:
    maker = Maker(Random(5))
    rulebook = replace(maker.rulebook(), cautions={})
    known = as_known(rulebook, {name: maker.readings(rulebook)[name] for name in rulebook.signs}, set())
    assert questions_left(rulebook, known, domains(rulebook)) == ()
