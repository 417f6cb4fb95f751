from __future__ import annotations

import pytest
from small_rulebooks import rule, rulebook

from assistant.model.conditions import ALWAYS, Concluded, Condition, Could, Not
from assistant.model.rules import Rule, Rulebook, advice_is


def on(finding: str) -> Condition:
    """A condition that rests on a finding."""
    return Concluded(finding, frozenset({"yes"}))


def concluding(finding: str, when: Condition = ALWAYS) -> Rule:
    """A rule that concludes a finding, named after it."""
    return rule(f"for {finding}", when, finding, "yes")


def names(book: Rulebook) -> list[list[str]]:
    """The layers by rule name."""
    return [[item.name for item in layer] for layer in book.layers()]


def test_each_layer_rests_on_earlier_ones_whatever_the_order_written() -> None:
    book = rulebook(
        rule("advise", on("b")), concluding("b", Not(on("a"))), concluding("a"), rule("early", ALWAYS), concluding("c")
    )
    assert names(book) == [["for a", "for c"], ["for b"], ["advise", "early"]]


def test_a_finding_that_no_rule_concludes_needs_no_layer() -> None:
    assert names(rulebook(rule("advise", on("never concluded")))) == [["advise"]]
    assert names(rulebook()) == []


def test_findings_in_a_circle_are_named() -> None:
    book = rulebook(concluding("a", on("b")), concluding("b", Could(on("a"))), concluding("c"))
    with pytest.raises(ValueError, match="rest on each other in a circle: a, b"):
        book.layers()


def test_a_rule_is_plain_only_when_every_rule_below_it_is() -> None:
    book = rulebook(concluding("a", Could(on("x"))), concluding("b", on("a")), rule("top", on("b")), concluding("c"))
    assert [item.name for item in book.rules if book.is_plain(item)] == ["for c"]


def test_rules_are_found_by_name_and_by_conclusion() -> None:
    book = rulebook(rule("one", ALWAYS), rule("two", ALWAYS, value="wait"), concluding("a"))
    assert book.rule("two").value == "wait"
    assert [item.name for item in book.rules_concluding("advice")] == ["one", "two"]
    assert [item.name for item in book.rules_concluding("advice", "wait")] == ["two"]
    with pytest.raises(KeyError):
        book.rule("three")


def test_advice_is_looked_at_as_a_finding() -> None:
    assert advice_is("dig", "wait") == Concluded("advice", frozenset({"dig", "wait"}))
