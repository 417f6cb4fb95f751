"""Rule engines of the registry, told the rules of a rulebook in their own languages."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from deciders import Facts, OnPlainTests, expression, readings_of, written
from plain_tests import Branch, Comparison, Conclusion

from assistant.interview.remainder import Ending
from assistant.model.readings import Known


class RuleEngine(OnPlainTests):
    """rule-engine: one of its rules for each conclusion, in order."""

    def prepare(self) -> None:
        from rule_engine import Rule

        self.rules = [(c, Rule(expression(c, " and ", " or ", written)).matches) for c in self.conclusions]
        self.nothing = {conclusion.fact: 0 for conclusion in self.conclusions}
        self.nothing.update((check.fact, 0) for c in self.conclusions for branch in c.branches for check in branch)

    def decide(self, facts: Mapping[str, int]) -> Ending:
        facts = {**self.nothing, **facts}
        concluded = []
        for conclusion, matches in self.rules:
            if matches(facts):
                facts[conclusion.fact] = 1
                concluded.append((conclusion.subject, conclusion.value))
        return self.tests.ending(concluded)


class Zen(OnPlainTests):
    """zen-engine: a decision graph with one node of expressions for each layer."""

    def prepare(self) -> None:
        import zen

        never = {
            c.fact for layer in self.tests.layers for x in layer for b in x.branches for c in b if c.subject[0] == "f"
        }
        self.nothing = dict.fromkeys(sorted(never), 0)
        layers = [[self._key(conclusion) for conclusion in layer] for layer in self.tests.layers]
        nodes = [
            _node("in", "inputNode"),
            *(_layer(n, layer) for n, layer in enumerate(layers)),
            _node("out", "outputNode"),
        ]
        names = [node["id"] for node in nodes]
        edges = [
            {"id": f"{one} {two}", "sourceId": one, "targetId": two, "type": "edge"} for one, two in pairwise(names)
        ]
        self.decision = zen.ZenEngine().create_decision(json.dumps({"nodes": nodes, "edges": edges}))

    def _key(self, conclusion: Conclusion) -> dict[str, str]:
        held = expression(conclusion, " and ", " or ", written)
        return {"id": conclusion.fact, "key": conclusion.fact, "value": f"({held}) ? 1 : 0"}

    def facts(self, known: Mapping[str, Known]) -> dict[str, int]:
        return {**self.nothing, **super().facts(known)}

    def decide(self, facts: dict[str, int]) -> Ending:
        found = self.decision.evaluate(facts)["result"]
        return self.tests.ending((c.subject, c.value) for c in self.conclusions if found[c.fact])


def _node(name: str, kind: str, **more: object) -> dict[str, object]:
    return {"id": name, "name": name, "type": kind, **more}


def _layer(number: int, expressions: list[dict[str, str]]) -> dict[str, object]:
    return _node(f"layer {number}", "expressionNode", content={"passThrough": True, "expressions": expressions})


class CommonExpressions(OnPlainTests):
    """common-expression-language: one program for each layer, whose value is the list of its conclusions."""

    def prepare(self) -> None:
        import cel

        self.layers = [
            (layer, cel.compile("[" + ", ".join(expression(c, " && ", " || ", written) for c in layer) + "]"))
            for layer in self.tests.layers
        ]
        self.nothing = {check.fact: 0 for c in self.conclusions for branch in c.branches for check in branch}

    def decide(self, facts: Mapping[str, int]) -> Ending:
        facts = {**self.nothing, **facts}
        concluded = []
        for layer, program in self.layers:
            true = [c for c, held in zip(layer, program.execute(facts), strict=True) if held]
            facts.update((conclusion.fact, 1) for conclusion in true)
            concluded += [(conclusion.subject, conclusion.value) for conclusion in true]
        return self.tests.ending(concluded)


class Clips(OnPlainTests):
    """clipspy: a fact for each sign, a rule for each branch, later layers at lower salience."""

    def prepare(self) -> None:
        from clips import Environment

        self.clips = Environment()
        for name, subject in self.tests.readings.items():
            parts = [part for part, _ in self.tests.parts(name, self.tests.domains[name])]
            self.clips.build(f"(deftemplate {subject} {' '.join(f'(slot {part})' for part in parts)})")
        self.clips.build("(deftemplate concluded (slot about) (slot value))")
        for level, layer in enumerate(self.tests.layers):
            for conclusion in layer:
                for number, branch in enumerate(conclusion.branches):
                    self.clips.build(_clips_rule(conclusion, branch, f"{conclusion.fact}-{number}", -level))
        self.concluded = self.clips.find_template("concluded")
        self.templates = {name: self.clips.find_template(subject) for name, subject in self.tests.readings.items()}

    def facts(self, known: Mapping[str, Known]) -> Facts:
        return [
            (self.templates[name].assert_fact, dict(self.tests.parts(name, reading)))
            for name, reading in readings_of(known).items()
        ]

    def decide(self, facts: Facts) -> Ending:
        self.clips.reset()
        for assert_fact, slots in facts:
            assert_fact(**slots)
        self.clips.run()
        return self.tests.ending((str(fact["about"]), int(fact["value"])) for fact in self.concluded.facts())


def _clips_rule(conclusion: Conclusion, branch: Branch, name: str, salience: int) -> str:
    by_subject: dict[str, list[Comparison]] = {}
    for check in branch:
        by_subject.setdefault(check.subject, []).append(check)
    patterns = " ".join(pattern for checks in by_subject.values() for pattern in _clips_patterns(checks))
    return (
        f"(defrule {name} (declare (salience {salience})) {patterns} => "
        f"(assert (concluded (about {conclusion.subject}) (value {conclusion.value}))))"
    )


def _clips_patterns(checks: Sequence[Comparison]) -> Iterator[str]:
    subject = checks[0].subject
    if subject.startswith("f"):
        for check in checks:
            pattern = f"(concluded (about {subject}) (value {check.part[1:]}))"
            yield pattern if check.value else f"(not {pattern})"
        return
    slots: dict[str, list[str]] = {}
    for check in checks:
        bound = f":({check.sign} ?{check.fact} {check.value})"  # a variable of one name in two patterns would join them
        slots.setdefault(check.part, [f"?{check.fact}"]).append(bound if check.sign != "==" else f"{check.value}")
    patterns = (f"({part} {'&'.join(wanted)})" for part, wanted in slots.items())
    yield f"({subject} {' '.join(patterns)})"
