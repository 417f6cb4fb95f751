"""The habits of durable-rules that the engine room rests on or keeps clear of, pinned on the library itself.

When one of these fails after an upgrade, assistant/inference/program.py and engine.py need another look.
"""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Callable
from typing import Any

import durable_rules_engine
import pytest
from durable import engine as durable

from assistant.inference import program

Rules = dict[str, dict[str, Any]]
Fact = dict[str, Any]


class Host(durable.Host):  # type: ignore[misc]
    """A host that notes which actions ran."""

    def __init__(self, rules: Rules, actions: dict[str, Callable[..., None]] | None = None) -> None:
        self.fired: list[str] = []
        self.actions = actions or {}
        super().__init__({"tried": {name: {**rule, "run": name} for name, rule in rules.items()}})

    def get_action(self, action_name: str) -> Callable[..., None]:
        return self.actions.get(action_name) or (lambda c: self.fired.append(action_name))

    def _run(self) -> None:
        """No timer threads."""


def one(*expressions: Fact) -> dict[str, Any]:
    """A rule over one fact of which all expressions hold."""
    return {"all": [{"fact": {"$and": [*expressions]}}]}


def fired(rules: Rules, *facts: Fact) -> list[str]:
    """The actions that ran when the facts were asserted together."""
    host = Host(rules)
    host.assert_facts("tried", [{"sid": "1", **fact} for fact in facts])
    return host.fired


ANY = one({"kind": "a"})


def test_an_action_with_one_parameter_runs_at_once() -> None:
    assert fired({"rule": ANY}, {"kind": "a"}) == ["rule"]


def test_an_action_with_two_parameters_stops_the_run_and_says_nothing() -> None:
    host = Host({"first": {**ANY, "pri": 1}, "then": {**ANY, "pri": 2}}, {"first": lambda c, done: None})
    host.assert_facts("tried", [{"sid": "1", "kind": "a"}])
    assert host.fired == []
    assert "exception" not in host.get_state("tried", "1")


def test_a_parameter_with_a_default_counts_too() -> None:
    host = Host({"first": {**ANY, "pri": 1}, "then": {**ANY, "pri": 2}}, {"first": lambda c, name="": None})
    host.assert_facts("tried", [{"sid": "1", "kind": "a"}])
    assert host.fired == []


def test_a_lower_priority_number_fires_first_whatever_the_order() -> None:
    rules = {"last": {**one({"kind": "b"}), "pri": 1}, "early": ANY}
    assert fired(rules, {"kind": "b"}, {"kind": "a"}) == ["early", "last"]
    assert fired(rules, {"kind": "a"}, {"kind": "b"}) == ["early", "last"]


def test_alternatives_in_one_pattern_fire_once_for_each_that_holds() -> None:
    either = one({"kind": "a"}, {"$or": [{"$gte": {"low": 1}}, {"$gte": {"low": 2}}]})
    assert fired({"rule": either}, {"kind": "a", "low": 3}) == ["rule", "rule"]


def test_an_exception_in_an_action_is_kept_in_the_state_and_not_raised() -> None:
    def fail(_: object) -> None:
        raise RuntimeError("out of dirt")

    host = Host({"rule": ANY}, {"rule": fail})
    host.assert_facts("tried", [{"sid": "1", "kind": "a"}])
    assert "out of dirt" in host.get_state("tried", "1")["exception"]


def test_a_fact_that_fits_no_rule_raises() -> None:
    with pytest.raises(durable.MessageNotHandledException):
        fired({"rule": ANY}, {"kind": "b"})


def test_a_rule_that_waits_for_what_never_comes_takes_any_fact_and_never_fires() -> None:
    waiting = {"all": [{"fact": {"$neq": {"kind": "never"}}}, {"never": {"kind": "never"}}]}
    assert fired({"waiting": waiting, "rule": ANY}, {"kind": "b"}, {"kind": "c"}) == []


def test_the_same_fact_twice_raises() -> None:
    with pytest.raises(durable.MessageObservedException):
        fired({"rule": ANY}, {"kind": "a"}, {"kind": "a"})


def test_the_number_one_equals_true() -> None:
    assert fired({"rule": one({"kind": "a"}, {"value": True})}, {"kind": "a", "value": 1}) == ["rule"]


def test_text_counts_as_more_than_any_number() -> None:
    assert fired({"rule": one({"kind": "a"}, {"$gt": {"low": 10**9}})}, {"kind": "a", "low": "5"}) == ["rule"]


def test_whole_numbers_compare_exactly_as_far_out_as_days_in_hundredths() -> None:
    day = 3652059 * 100  # 9999-12-31
    rules = {"from": one({"kind": "a"}, {"$gte": {"low": day}}), "to": one({"kind": "a"}, {"$lte": {"low": -day}})}
    assert fired(rules, {"kind": "a", "low": day}) == ["from"]
    assert fired(rules, {"kind": "a", "low": -day}) == ["to"]
    with pytest.raises(durable.MessageNotHandledException):
        fired(rules, {"kind": "a", "low": day - 1})
    with pytest.raises(durable.MessageNotHandledException):
        fired(rules, {"kind": "a", "low": 1 - day})


@pytest.mark.parametrize("kind", ["frost-blackened", 'a "quoted" word', "größe", "a.b", "$and", "back\\slash", "kind"])
def test_text_with_any_characters_equals_itself(kind: str) -> None:
    assert fired({"rule": one({"kind": kind}), "other": one({"kind": kind + " "})}, {"kind": kind}) == ["rule"]


def test_a_state_lives_until_it_is_deleted() -> None:
    host = Host({"rule": ANY})
    host.assert_facts("tried", [{"sid": "1", "kind": "a"}])
    assert host.get_state("tried", "1")["sid"] == "1"
    host.delete_state("tried", "1")
    with pytest.raises(durable_rules_engine.error):
        host.get_state("tried", "1")


def test_two_hosts_may_use_one_name_for_different_rulesets() -> None:
    first, second = Host({"rule": ANY}), Host({"other": ANY})
    first.assert_facts("tried", [{"sid": "1", "kind": "a"}])
    second.assert_facts("tried", [{"sid": "1", "kind": "a"}])
    assert (first.fired, second.fired) == (["rule"], ["other"])


def test_a_host_of_our_own_starts_no_threads() -> None:
    before = threading.active_count()
    Host({"rule": ANY})
    assert threading.active_count() == before


def test_a_rule_may_look_at_sixteen_facts_and_no_more() -> None:
    def rule_over(count: int) -> list[str]:
        kinds = [f"kind {number}" for number in range(count)]
        together = {"all": [{f"fact_{number}": {"kind": kind}} for number, kind in enumerate(kinds)]}
        return fired({"rule": together}, *({"kind": kind} for kind in kinds))

    assert rule_over(program.MOST_TESTS_OF_A_BRANCH) == ["rule"]
    assert rule_over(16) == ["rule"]
    with pytest.raises(durable_rules_engine.error, match="304"):
        rule_over(17)


def test_a_fact_may_meet_sixty_four_patterns_at_a_time_and_no_more() -> None:
    def rules_met(count: int) -> int:
        rules = {f"rule {bound}": one({"kind": "a"}, {"$gte": {"low": bound}}) for bound in range(count)}
        return len(fired(rules, {"kind": "a", "low": count}))

    assert rules_met(program.MOST_PATTERNS_OF_A_KIND) == program.MOST_PATTERNS_OF_A_KIND
    assert rules_met(64) == 64
    with pytest.raises(durable_rules_engine.error, match="303"):
        rules_met(65)


def test_as_many_rules_as_we_allow_may_share_a_pattern() -> None:
    count = program.MOST_RULES_ON_A_PATTERN
    assert len(fired({f"rule {number}": ANY for number in range(count)}, {"kind": "a"})) == count


def test_as_many_kinds_of_fact_as_we_allow_fit_side_by_side() -> None:
    kinds = [f"kind {number}" for number in range(program.MOST_KINDS)]
    assert len(fired({kind: one({"kind": kind}) for kind in kinds}, *({"kind": kind} for kind in kinds))) == len(kinds)


NEGATION = """
from durable import engine
class Host(engine.Host):
    def get_action(self, name): return lambda c: None
    def _run(self): pass
host = Host({"tried": {"rule": {"all": [{"fact": {"$nex": {"low": 1}}}], "run": "rule"}}})
print("begun", flush=True)
host.assert_facts("tried", [{"sid": "1", "kind": "a"}])
print("ended", flush=True)
"""


def test_a_negated_pattern_loops_for_ever() -> None:
    with pytest.raises(subprocess.TimeoutExpired) as stopped:
        subprocess.run([sys.executable, "-W", "ignore", "-c", NEGATION], stdout=subprocess.PIPE, timeout=3, check=True)
    assert stopped.value.stdout == b"begun\n"
