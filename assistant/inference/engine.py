"""The rule engine behind one door: fires the rules of a rulebook on what is known and keeps the record.

The only module that knows durable-rules. Its habits that this rests on are pinned one by one in
tests/inference/test_engine_habits.py.
"""

from __future__ import annotations

import weakref
from collections.abc import Callable, Mapping
from itertools import count
from threading import Lock

import durable_rules_engine
from durable import engine as durable

from assistant.inference.branches import Branch
from assistant.inference.conclusions import concluded_by, conflicts, findings_only, winner
from assistant.inference.evaluator import knowledge, with_advice
from assistant.inference.program import END, Program, RulesetDraft, program_of
from assistant.model.conditions import Knowledge
from assistant.model.derivation import Derivation, Firing
from assistant.model.readings import Known, Reading
from assistant.model.rules import ADVICE, Rule, Rulebook


class EngineFault(Exception):
    """The rule engine did not finish a run as it must; its result would not be safe to show."""


class _Host(durable.Host):  # type: ignore[misc]
    """A home for rulesets apart from the library's process-wide one, without its timer threads."""

    def __init__(self) -> None:
        self.fired: list[str] = []
        super().__init__()

    def get_action(self, action_name: str) -> Callable[[object], None]:
        """An action that notes its name. It must take exactly one parameter to be run at once."""

        def note(_: object) -> None:
            self.fired.append(action_name)

        return note

    def _run(self) -> None:
        """Starts no threads: every fact is worked off in the call that asserts it."""


class Machine:
    """The rulesets of one rulebook, made once and run for every verdict. One run at a time."""

    def __init__(self, rulebook: Rulebook) -> None:
        self._program: Program = program_of(rulebook)
        self._host = _Host()
        self._names: dict[int, str] = {}
        self._runs = count(1)
        self._busy = Lock()
        for number, ruleset in enumerate(self._program.rulesets):
            self._names[id(ruleset)] = f"ruleset {number}"
            self._host.register_rulesets({self._names[id(ruleset)]: ruleset.closed()})

    def run(self, rulebook: Rulebook, known: Mapping[str, Known], domains: Mapping[str, Reading]) -> Derivation:
        """Fires every layer and then the cautions; `run` of this module says the rest."""
        with self._busy:
            return self._run(rulebook, known, domains)

    def _run(self, rulebook: Rulebook, known: Mapping[str, Known], domains: Mapping[str, Reading]) -> Derivation:
        state = knowledge({name: item.reading for name, item in known.items()}, domains)
        self._program.check_lookups(state)
        firings: list[Firing] = []
        for layer in self._program.layers:
            held = self._held(layer.rulesets, state)
            firings += [_firing(rule, held[rule.name], state) for rule in layer.rules if rule.name in held]
            state = state._replace(concluded=findings_only(concluded_by(firing.rule for firing in firings)))
        concluded = concluded_by(firing.rule for firing in firings)
        advice = winner(rulebook, concluded.get(ADVICE, frozenset()))
        warned = self._held(self._program.cautions, with_advice(state, advice))
        return Derivation(
            rulebook=rulebook,
            known=known,
            firings=tuple(firings),
            knowledge=state,
            advice=advice,
            conflicts=conflicts(rulebook, concluded),
            cautions=tuple(name for name in rulebook.cautions if name in warned),
        )

    def _held(self, rulesets: tuple[RulesetDraft, ...], state: Knowledge) -> dict[str, Branch]:
        """The rules or cautions that fired, each with the first of its branches that held."""
        heads = [ruleset.heads[action] for ruleset in rulesets for action in self._fire(ruleset, state)]
        first: dict[str, Branch] = {}
        for head in sorted(heads, key=lambda head: head.number):
            first.setdefault(head.name, head.branch)
        return first

    def _fire(self, ruleset: RulesetDraft, state: Knowledge) -> list[str]:
        """The actions of one ruleset that fired. Raises `EngineFault` when the engine did not finish."""
        name, session = self._names[id(ruleset)], str(next(self._runs))
        self._host.fired = []
        try:
            self._host.assert_facts(name, [{"sid": session, **fact} for fact in ruleset.facts(state)])
            problem = self._host.get_state(name, session).get("exception")
        except Exception as error:
            said = getattr(error, "message", error)  # the library's own exceptions print only their arguments
            raise EngineFault(f"the rule engine failed: {said}") from error
        *fired, last = self._host.fired or [""]
        if problem or last != END:
            raise EngineFault(f"the rule engine stopped early: {problem or 'rules were left waiting'}")
        self._host.delete_state(name, session)
        return fired

    def close(self) -> None:
        """Frees the rulesets, which the library keeps outside Python's memory."""
        for name in self._names.values():
            durable_rules_engine.delete_ruleset(self._host.get_ruleset(name)._handle)
        self._names.clear()


_machines: dict[int, Machine] = {}


def run(rulebook: Rulebook, known: Mapping[str, Known], domains: Mapping[str, Reading]) -> Derivation:
    """Fires the rules that must fire and records them in order: by layer, then as the rulebook lists them.

    `known` and `domains` hold every sign and measure. Raises `ValueError` for a rule too large
    to compile, and `EngineFault` when the engine did not finish.
    """
    try:
        return machine_for(rulebook).run(rulebook, known, domains)
    except EngineFault:
        # Deleting a half-built state can crash the process, so the whole machine is left behind.
        _machines.pop(id(rulebook), None)
        raise


def machine_for(rulebook: Rulebook) -> Machine:
    """The rulebook's machine, made at first use and freed with the rulebook."""
    machine = _machines.get(id(rulebook))
    if machine is None:
        machine = _machines[id(rulebook)] = Machine(rulebook)
        weakref.finalize(rulebook, _drop, id(rulebook)).atexit = False
    return machine


def _drop(key: int) -> None:
    machine = _machines.pop(key, None)
    if machine is not None:
        machine.close()


def _firing(rule: Rule, branch: Branch, state: Knowledge) -> Firing:
    """The record of one rule: what the branch looked at, and the findings it rests on with their values."""
    findings = tuple(
        (test.finding, value)
        for test in branch.findings
        for value in test.among
        if value in (test.concluded or state.concluded.get(test.finding, frozenset()))
    )
    return Firing(rule, branch.readings, findings)
