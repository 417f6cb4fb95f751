"""What decides gardens by the rules of one rulebook: the remainder, the evaluator, durable-rules, plain Python."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import count
from typing import Any, Protocol

from large_rulebooks import ON, known_with
from plain_tests import Comparison, Conclusion, PlainTests

from assistant.inference import evaluate, run
from assistant.inference.branches import FindingTest
from assistant.inference.engine import machine_for
from assistant.inference.evaluator import knowledge
from assistant.inference.program import RulesetDraft
from assistant.interview.remainder import Ending, whole_remainder
from assistant.measures import domains
from assistant.model.readings import Known, Reading
from assistant.model.rules import Rulebook

Readings = Mapping[str, Reading]
Facts = Any
"""Whatever a decider likes best."""


class Decider(Protocol):
    """Something that decides gardens by the rules of one rulebook."""

    def facts(self, known: Mapping[str, Known]) -> Facts:
        """What is known of a garden, as it likes it best."""

    def decide(self, facts: Facts) -> Ending:
        """What these facts come to."""


def readings_of(known: Mapping[str, Known]) -> dict[str, Reading]:
    return {name: item.reading for name, item in known.items()}


class AlongTheRemainder:
    """One step for each question that still matters."""

    def __init__(self, rulebook: Rulebook) -> None:
        self.remainder = whole_remainder(rulebook, known_with(rulebook, {}), domains(rulebook, ON))
        self.facts = readings_of
        self.decide = self.remainder.decide


class EngineRoom:
    """durable-rules as digday runs it, with the derivation."""

    def __init__(self, rulebook: Rulebook) -> None:
        self.rulebook = rulebook
        self.domains = domains(rulebook, ON)
        self.decide(known_with(rulebook, {}))  # compiles the rules

    def facts(self, known: Mapping[str, Known]) -> Mapping[str, Known]:
        return known

    def decide(self, known: Mapping[str, Known]) -> Ending:
        found = run(self.rulebook, known, self.domains)
        return Ending(found.advice, bool(found.conflicts))


class DurableAlone:
    """durable-rules itself: facts of the readings made beforehand, nothing recorded."""

    def __init__(self, rulebook: Rulebook) -> None:
        self.tests = PlainTests(rulebook, domains(rulebook, ON))
        self.domains = domains(rulebook, ON)
        self.machine = machine_for(rulebook)
        self.layers = [layer.rulesets for layer in self.machine._program.layers]
        self.concludes = {rule.name: (rule.concludes, rule.value) for rule in rulebook.rules}
        self.sessions = count()

    def facts(self, known: Mapping[str, Known]) -> Facts:
        state = knowledge(readings_of(known), self.domains)
        return [[(ruleset, ruleset.facts(state)) for ruleset in layer] for layer in self.layers]

    def decide(self, facts: Facts) -> Ending:
        concluded: set[tuple[str, str]] = set()
        for layer in facts:
            fired = [action for ruleset, known in layer for action in self._fire(ruleset, known, concluded)]
            concluded |= {self.concludes[ruleset.heads[action].name] for ruleset, action in fired}
        given = ((self.tests.findings[name], self.tests.values[name].index(value)) for name, value in concluded)
        return self.tests.ending(given)

    def _fire(
        self, ruleset: RulesetDraft, known: Facts, concluded: set[tuple[str, str]]
    ) -> list[tuple[RulesetDraft, str]]:
        host, name, session = self.machine._host, self.machine._names[id(ruleset)], f"alone {next(self.sessions)}"
        about = [test for test in ruleset.subjects.values() if isinstance(test, FindingTest)]
        findings = {f"finding {test.finding}": _finding_fact(test, concluded) for test in about}
        host.fired = []
        host.assert_facts(name, [{"sid": session, **findings.get(fact["kind"], fact)} for fact in known])
        host.delete_state(name, session)
        return [(ruleset, action) for action in host.fired[:-1]]


def _finding_fact(test: FindingTest, concluded: set[tuple[str, str]]) -> dict[str, Any]:
    flags = {f"value_{n}": int((test.finding, value) in concluded) for n, value in enumerate(test.among)}
    return {"kind": f"finding {test.finding}", **flags}


class PlainEvaluator:
    """The conditions as the model reads them, one after the other."""

    def __init__(self, rulebook: Rulebook) -> None:
        self.rulebook = rulebook
        self.domains = domains(rulebook, ON)
        self.facts = readings_of

    def decide(self, readings: Readings) -> Ending:
        found = evaluate(self.rulebook, readings, self.domains)
        return Ending(found.advice, bool(found.conflicts))


class OnPlainTests:
    """A decider that is given plain facts and tests; `prepare` makes it ready."""

    def __init__(self, rulebook: Rulebook) -> None:
        self.tests = PlainTests(rulebook, domains(rulebook, ON))
        self.conclusions = [conclusion for layer in self.tests.layers for conclusion in layer]
        self.prepare()

    def prepare(self) -> None:
        raise NotImplementedError

    def facts(self, known: Mapping[str, Known]) -> Facts:
        return self.tests.facts(readings_of(known))


def expression(conclusion: Conclusion, both: str, either: str, write: Callable[[Comparison], str]) -> str:
    """The branches of a conclusion as one expression."""
    branches = (both.join(map(write, branch)) or "1 == 1" for branch in conclusion.branches)
    return either.join(f"({branch})" for branch in branches)


def written(comparison: Comparison) -> str:
    """A comparison as most languages write it."""
    return f"{comparison.fact} {comparison.sign} {comparison.value}"


class PlainPython(OnPlainTests):
    """No engine: the rules written out as one Python function."""

    def prepare(self) -> None:
        names = {c.fact for c in self.conclusions}
        names |= {check.fact for c in self.conclusions for branch in c.branches for check in branch}
        lines = [f"{name} = facts.get('{name}', 0)" for name in sorted(names)]
        lines += [f"{c.fact} = {expression(c, ' and ', ' or ', written)}" for c in self.conclusions]
        held = ", ".join(c.fact for c in self.conclusions)
        made: dict[str, Callable[[Mapping[str, int]], tuple[bool, ...]]] = {}
        exec("\n    ".join(["def held(facts):", *lines, f"return ({held})"]), made)
        self.held = made["held"]

    def decide(self, facts: Mapping[str, int]) -> Ending:
        true = zip(self.conclusions, self.held(facts), strict=True)
        return self.tests.ending((conclusion.subject, conclusion.value) for conclusion, held in true if held)
