from __future__ import annotations

import gc
import threading
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from random import Random
from typing import Any

import durable_rules_engine
import pytest
from durable import engine as durable
from random_rulebooks import Maker, domains, known
from small_rulebooks import DOMAINS, VINES, rule, rulebook

from assistant.inference import EngineFault, engine, program, run
from assistant.model.conditions import (
    ALWAYS,
    All,
    AnyOf,
    Compare,
    CompareTo,
    Concluded,
    Condition,
    Could,
    Not,
    OneOf,
    Op,
)
from assistant.model.derivation import Conflict, Derivation
from assistant.model.readings import Reading, Span, exactly, one_of
from assistant.model.rules import Rulebook, Several, advice_is

COLD = Compare("nights", Op.BELOW, 50)
GREEN = OneOf("vines", frozenset({"green"}))
RIGHT = Concluded("size", frozenset({"right"}))


def fire(book: Rulebook, readings: Mapping[str, Reading] | None = None) -> Derivation:
    """A run on the small rulebook; readings not given are the whole domain."""
    return run(book, known({**DOMAINS, **(readings or {})}), DOMAINS)


def test_a_rule_fires_when_it_must_and_not_when_it_only_may() -> None:
    book = rulebook(rule("cold", COLD))
    assert fire(book, {"nights": Span(30, 49.99)}).fired == ("cold",)
    assert fire(book, {"nights": Span(30, 50)}).fired == ()
    assert fire(book).fired == ()


def test_findings_are_closed_before_the_rules_that_rest_on_them() -> None:
    book = rulebook(
        rule("not known", Could(RIGHT), value="wait"),
        rule("known", RIGHT),
        rule("excluded", Not(RIGHT), value="salvage"),
        rule("small", COLD, "size", "small"),
        rule("right", GREEN, "size", "right"),
    )
    assert fire(book).fired == ("not known",)
    assert fire(book, {"nights": exactly(40)}).fired == ("small", "excluded")
    assert fire(book, {"vines": one_of("green")}).fired == ("right", "not known", "known")


def test_rules_are_recorded_by_layer_and_then_in_rulebook_order() -> None:
    book = rulebook(
        rule("last", RIGHT),
        rule("b", ALWAYS, "size", "right"),
        rule("a", ALWAYS, "size", "right"),
        rule("free", ALWAYS, value="wait"),
    )
    assert fire(book).fired == ("b", "a", "last", "free")


def test_a_firing_names_the_readings_and_findings_of_the_branch_that_held() -> None:
    book = rulebook(
        rule("right", CompareTo("days", Op.AT_LEAST, "needed"), "size", "right"),
        rule("dig", AnyOf((COLD, All((GREEN, RIGHT))))),
    )
    readings: dict[str, Reading] = {"days": exactly(112), "needed": Span(90, 110), "vines": one_of("green")}
    first, second = fire(book, readings).firings
    assert (first.readings, first.findings) == (("days", "needed"), ())
    assert (second.readings, second.findings) == (("vines",), (("size", "right"),))


def test_a_rule_whose_branches_all_hold_is_recorded_once_by_the_branch_written_first() -> None:
    book = rulebook(rule("dig", AnyOf((GREEN, COLD, Compare("planted", Op.AT_LEAST, 0)))))
    (firing,) = fire(book, {"vines": one_of("green"), "nights": exactly(40)}).firings
    assert firing.readings == ("vines",)


def test_the_first_listed_advice_wins() -> None:
    derivation = fire(rulebook(rule("wait", ALWAYS, value="wait"), rule("salvage", ALWAYS, value="salvage")))
    assert (derivation.advice, derivation.conflicts) == ("salvage", ())


def test_advice_that_must_agree_and_does_not_is_a_conflict() -> None:
    rules = rule("wait", ALWAYS, value="wait"), rule("salvage", ALWAYS, value="salvage")
    derivation = fire(rulebook(*rules, several=Several.MUST_AGREE))
    assert derivation.advice is None
    assert derivation.conflicts == (Conflict("advice", ("salvage", "wait")),)
    agreeing = rule("one", ALWAYS, value="wait"), rule("two", ALWAYS, value="wait")
    assert fire(rulebook(*agreeing, several=Several.MUST_AGREE)).advice == "wait"


def test_a_finding_concluded_two_ways_keeps_both_and_is_a_conflict() -> None:
    book = rulebook(
        rule("big", ALWAYS, "size", "big"),
        rule("small", ALWAYS, "size", "small"),
        rule("dig", Concluded("size", frozenset({"big"}))),
        rule("wait", Concluded("size", frozenset({"small"})), value="wait"),
    )
    derivation = fire(book)
    assert derivation.conflicts == (Conflict("size", ("small", "big")),)
    assert derivation.knowledge.concluded == {"size": frozenset({"small", "big"})}
    assert derivation.fired == ("big", "small", "dig", "wait")


def test_no_rule_is_no_advice() -> None:
    derivation = fire(rulebook(rule("cold", COLD)))
    assert (derivation.advice, derivation.conflicts, derivation.firings) == (None, (), ())


def test_cautions_look_at_the_advice_that_won_and_at_findings() -> None:
    cautions: dict[str, Condition] = {
        "with dig": advice_is("dig"),
        "with wait": advice_is("wait"),
        "dig": RIGHT,  # named like a rule
        "never": Not(advice_is("dig", "wait")),
    }
    rules = rule("wait", ALWAYS, value="wait"), rule("dig", GREEN), rule("right", COLD, "size", "right")
    derivation = fire(rulebook(*rules, cautions=cautions), {"vines": one_of("green"), "nights": exactly(40)})
    assert derivation.cautions == ("with dig", "dig")
    assert fire(rulebook(*rules, cautions=cautions)).cautions == ("with wait",)


def test_readings_are_compared_in_hundredths() -> None:
    book = rulebook(rule("warm", Compare("nights", Op.AT_LEAST, 50.01)))
    assert fire(book, {"nights": exactly(50.0051)}).fired == ("warm",)
    assert fire(book, {"nights": exactly(50.0049)}).fired == ()
    assert fire(book, {"nights": exactly(50.0051)}).knowledge.readings["nights"] == exactly(50.01)


def test_a_lookup_that_its_table_does_not_give_is_refused() -> None:
    book = rulebook(rule("ripe", CompareTo("days", Op.AT_LEAST, "needed")))
    with pytest.raises(ValueError, match=r"needed is 93\.\.110, which no row of its table gives"):
        fire(book, {"needed": Span(93, 110)})


def test_a_rule_that_looks_at_too_many_things_is_refused_by_name() -> None:
    maker = Maker(Random(0))
    book = maker.rulebook(rules=0)
    sign = book.signs["warmth"]
    many = {f"sign {n}": replace(sign, name=f"sign {n}") for n in range(16)}
    wide = replace(
        book,
        signs={**book.signs, **many},
        rules=(rule("wide", All(tuple(Compare(name, Op.AT_LEAST, 1) for name in many)), value="go"),),
    )
    with pytest.raises(ValueError, match="wide: looks at 16 things at once, more than 15; split the rule"):
        run(wide, known(maker.readings(wide)), domains(wide))


def test_a_rulebook_that_outgrows_one_ruleset_still_fires_every_rule() -> None:
    bounds = range(-20, 100)
    rules = [rule(f"from {bound}", Compare("nights", Op.AT_LEAST, bound)) for bound in bounds]
    rules += [rule(f"green {number}", GREEN) for number in range(450)]
    rules += [rule(f"always {number}", ALWAYS) for number in range(450)]
    fired = fire(rulebook(*rules), {"nights": exactly(100), "vines": one_of("green")}).fired
    assert fired == tuple(item.name for item in rules)


@pytest.fixture
def broken(monkeypatch: pytest.MonkeyPatch) -> Callable[[Callable[..., None]], Rulebook]:
    """A rulebook whose rule runs a broken action in the engine."""

    def make(action: Callable[..., None]) -> Rulebook:
        get_action = engine._Host.get_action
        monkeypatch.setattr(
            engine._Host, "get_action", lambda self, name: get_action(self, name) if name == "end" else action
        )
        return rulebook(rule("dig", ALWAYS))

    return make


def test_an_exception_inside_the_engine_is_a_fault_of_our_own(
    broken: Callable[[Callable[..., None]], Rulebook],
) -> None:
    def fail(_: object) -> None:
        raise RuntimeError("out of dirt")

    with pytest.raises(EngineFault, match=r"stopped early: .*out of dirt"):
        fire(broken(fail))


def test_a_run_that_stops_half_way_is_a_fault_of_our_own(broken: Callable[[Callable[..., None]], Rulebook]) -> None:
    def wait_for_ever(_: object, done: object) -> None:
        """Two parameters: the library waits for a call that never comes."""

    with pytest.raises(EngineFault, match="rules were left waiting"):
        fire(broken(wait_for_ever))


def test_a_run_cut_off_by_the_clock_is_a_fault_of_our_own(monkeypatch: pytest.MonkeyPatch) -> None:
    clock = iter(range(0, 10**6, 11))  # the library gives up on an action after ten seconds, and says nothing
    monkeypatch.setattr(durable, "_unix_now", lambda: next(clock))
    with pytest.raises(EngineFault, match="rules were left waiting"):
        fire(rulebook(rule("dig", ALWAYS)))


def test_an_error_of_the_library_is_a_fault_of_our_own(monkeypatch: pytest.MonkeyPatch) -> None:
    facts = program.RulesetDraft.facts
    monkeypatch.setattr(program.RulesetDraft, "facts", lambda self, state: facts(self, state) * 2)
    with pytest.raises(EngineFault, match=r"the rule engine failed: .*already been observed"):
        fire(rulebook(rule("dig", ALWAYS)))


def test_a_fault_does_not_spoil_the_next_run(monkeypatch: pytest.MonkeyPatch) -> None:
    book = rulebook(rule("dig", ALWAYS))
    facts = program.RulesetDraft.facts
    with monkeypatch.context() as patch:
        patch.setattr(program.RulesetDraft, "facts", lambda self, state: facts(self, state) * 2)
        with pytest.raises(EngineFault):
            fire(book)
    assert id(book) not in engine._machines  # deleting what is half done can crash the process
    assert fire(book).fired == ("dig",)


def test_more_signs_than_one_ruleset_holds_are_spread_over_several() -> None:
    book = rulebook()
    signs = {f"sign {n}": replace(book.signs["nights"], name=f"sign {n}") for n in range(600)}
    rules = tuple(rule(name, Compare(name, Op.BELOW, 50)) for name in signs)
    wide = replace(book, signs=signs, measures={}, rules=rules)
    whole = dict.fromkeys(signs, Span(-20, 100))
    assert run(wide, known(dict.fromkeys(signs, exactly(40))), whole).fired == tuple(signs)
    assert run(wide, known(whole), whole).fired == ()


def test_the_engine_starts_no_threads() -> None:
    before = threading.active_count()
    fire(rulebook(rule("dig", ALWAYS)))
    assert threading.active_count() == before


def test_no_state_is_left_behind() -> None:
    book = rulebook(rule("dig", ALWAYS))
    fire(book)
    host = engine.machine_for(book)._host
    for session in ("1", "2"):
        with pytest.raises(durable_rules_engine.error):
            host.get_state("ruleset 0", session)


def test_a_machine_goes_with_its_rulebook() -> None:
    book = rulebook(rule("dig", ALWAYS))
    derivation = fire(book)
    key = id(book)
    assert key in engine._machines
    del book, derivation
    gc.collect()
    assert key not in engine._machines


def test_rulesets_hold_no_negation_no_alternatives_and_no_booleans_and_every_pattern_asks_for_its_kind() -> None:
    maker = Maker(Random(2))
    seen = 0
    for pattern in _patterns(maker, rulebooks=60):
        seen += 1
        kinds = [expression for expression in pattern if "kind" in expression]
        assert len(kinds) == 1
        for expression in pattern:
            ((name, value),) = expression.items()
            assert name in {"kind", "whole", "$gte", "$lte"} or name.startswith("value_"), expression
            numbers = [value] if name not in ("$gte", "$lte") else list(value.values())
            assert all(type(number) is int for number in numbers) or name == "kind"
    assert seen > 1000


def _patterns(maker: Maker, rulebooks: int) -> Iterator[list[dict[str, Any]]]:
    for _ in range(rulebooks):
        compiled = program.program_of(maker.rulebook(rules=15))
        for ruleset in compiled.rulesets:
            for engine_rule in ruleset.rules.values():
                assert set(engine_rule) == {"all", "run"}
                for named in engine_rule["all"]:
                    ((_, pattern),) = named.items()
                    yield pattern["$and"]


def test_choices_are_told_by_number_so_that_no_name_clashes() -> None:
    (ruleset,) = program.program_of(rulebook(rule("dig", GREEN))).rulesets
    facts = ruleset.facts(fire(rulebook(), {"vines": one_of("green", "withered")}).knowledge)
    assert facts[1] == {"kind": "vines", "value_0": 1, "value_1": 0, "value_2": 1}
    assert VINES == ("green", "yellowing", "withered")
