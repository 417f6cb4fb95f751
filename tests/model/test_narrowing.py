"""Laws of readings and conditions that every rulebook leans on, tried on random rulebooks and readings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from random import Random

import pytest
from random_rulebooks import Maker, domains, known, with_measures

from assistant.inference import Evaluation, evaluate, run, truth_of_rules
from assistant.inference.evaluator import knowledge
from assistant.model.conditions import Could, Knowledge, Truth, truth
from assistant.model.readings import Reading
from assistant.model.rules import ADVICE, Rule, Rulebook

BATCHES = range(6)


@dataclass(frozen=True)
class Pair:
    """One rulebook with readings and sharper ones, and what comes of each."""

    rulebook: Rulebook
    wide: Mapping[str, Reading]
    narrow: Mapping[str, Reading]
    before: Evaluation
    after: Evaluation

    def known(self, narrow: bool, evaluation: Evaluation) -> Knowledge:
        """Everything conditions are held against, before or after the sharper answers."""
        known = knowledge(self.narrow if narrow else self.wide, domains(self.rulebook))
        return known._replace(concluded=evaluation.concluded)

    def truths(self) -> Iterator[tuple[Rule, Truth, Truth]]:
        """Every rule with its state before and after."""
        before = truth_of_rules(self.rulebook, self.known(False, self.before))
        after = truth_of_rules(self.rulebook, self.known(True, self.after))
        for rule in self.rulebook.rules:
            yield rule, before[rule.name], after[rule.name]


def pairs(seed: int, plain: bool, rulebooks: int = 60, each: int = 12) -> Iterator[Pair]:
    """Random readings, each with some signs made sharper."""
    maker = Maker(Random(seed), plain=plain)
    for _ in range(rulebooks):
        rulebook = maker.rulebook(rules=maker.random.randint(4, 14))
        for _ in range(each):
            wide = maker.readings(rulebook)
            signs = {name: _sharper(maker, wide[name]) for name in rulebook.signs}
            narrow = with_measures(rulebook, signs)
            assert all(narrow[name].within(wide[name]) for name in wide)
            whole = domains(rulebook)
            yield Pair(rulebook, wide, narrow, evaluate(rulebook, wide, whole), evaluate(rulebook, narrow, whole))


def _sharper(maker: Maker, reading: Reading) -> Reading:
    return maker.narrowed(reading) if maker.random.random() < 0.5 else reading


@pytest.mark.parametrize("seed", BATCHES)
def test_a_sharper_answer_never_unfires_a_rule_of_plain_conditions(seed: int) -> None:
    kept = newly = 0
    for pair in pairs(seed, plain=False):
        plain = {rule.name for rule in pair.rulebook.rules if pair.rulebook.is_plain(rule)}
        before, after = plain & set(pair.before.fired), plain & set(pair.after.fired)
        assert before <= after
        kept, newly = kept + len(before), newly + len(after - before)
    assert kept > 100
    assert newly > 20


@pytest.mark.parametrize("seed", BATCHES)
def test_a_sharper_answer_never_turns_a_plain_rule_from_true_to_false_or_back(seed: int) -> None:
    """Once settled, a plain condition keeps its state, or a clash of findings disputes it; it never changes sides."""
    settled = sharpened = 0
    for pair in pairs(seed, plain=True):
        for rule, before, after in pair.truths():
            if before is Truth.TRUE:
                assert after in (Truth.TRUE, Truth.DISPUTED), rule
            if before is Truth.FALSE:
                assert after in (Truth.FALSE, Truth.DISPUTED), rule
            if before is Truth.DISPUTED:
                assert after is Truth.DISPUTED, rule
            settled += before is not Truth.OPEN
            sharpened += before is Truth.OPEN and after is not Truth.OPEN
    assert settled > 100
    assert sharpened > 100


@pytest.mark.parametrize("seed", BATCHES)
def test_a_sharper_answer_never_fires_a_rule_of_could_alone(seed: int) -> None:
    maker = Maker(Random(seed), plain=True)
    unfired = 0
    for pair in pairs(seed, plain=True, rulebooks=40):
        findings = tuple(pair.rulebook.findings)
        for _ in range(4):
            could = Could(maker.condition(pair.rulebook, findings, depth=2))
            before = truth(could, pair.known(False, pair.before))
            after = truth(could, pair.known(True, pair.after))
            may_before, may_after = before in (Truth.TRUE, Truth.DISPUTED), after in (Truth.TRUE, Truth.DISPUTED)
            assert may_before or not may_after, could
            unfired += may_before and not may_after
    assert unfired > 20


def test_could_is_never_open() -> None:
    for pair in pairs(seed=1, plain=False, rulebooks=20):
        for rule in pair.rulebook.rules:
            assert truth(Could(rule.when), pair.known(False, pair.before)) is not Truth.OPEN


@pytest.mark.parametrize("seed", BATCHES)
def test_the_order_of_answers_never_changes_the_outcome(seed: int) -> None:
    maker = Maker(Random(seed))
    for _ in range(25):
        rulebook = maker.rulebook()
        readings = maker.readings(rulebook)
        shuffled = dict(maker.random.sample(sorted(readings.items(), key=lambda item: item[0]), len(readings)))
        whole = domains(rulebook)
        one, other = run(rulebook, known(readings), whole), run(rulebook, known(shuffled), whole)
        assert one.firings == other.firings
        assert (one.advice, one.conflicts, one.cautions) == (other.advice, other.conflicts, other.cautions)


def test_random_rulebooks_reach_every_way_a_run_can_end() -> None:
    """Otherwise the laws above would be tried on too little."""
    maker = Maker(Random(1))
    ends = {"advice": 0, "none": 0, "findings clash": 0, "advice clashes": 0, "cautions": 0}
    for _ in range(150):
        rulebook = maker.rulebook()
        result = evaluate(rulebook, maker.readings(rulebook), domains(rulebook))
        about = {conflict.about for conflict in result.conflicts}
        ends["advice"] += result.advice is not None
        ends["none"] += result.advice is None and ADVICE not in about
        ends["findings clash"] += bool(about - {ADVICE})
        ends["advice clashes"] += ADVICE in about
        ends["cautions"] += bool(result.cautions)
    assert min(ends.values()) > 5, ends
