from __future__ import annotations

from random import Random

import pytest
from random_rulebooks import Maker, domains
from small_rulebooks import VINES, rulebook

from assistant.inference import Branch, ChoiceTest, FindingTest, Side, SpanTest, TooManyBranches, branches_of
from assistant.inference.branches import absorbed
from assistant.inference.evaluator import knowledge
from assistant.model.conditions import (
    ALWAYS,
    All,
    AnyOf,
    CantTell,
    Compare,
    CompareTo,
    Concluded,
    Condition,
    Could,
    Knowledge,
    Not,
    OneOf,
    Op,
    surely,
    surely_not,
)
from assistant.model.rules import Rulebook

SMALL = rulebook()
GREEN = OneOf("vines", frozenset({"green"}))
RIGHT = Concluded("size", frozenset({"right"}))
SIZES = ("small", "right", "big")


def only(condition: Condition, side: Side = Side.SURELY) -> object:
    """The one test of the one branch of a condition."""
    (branch,) = branches_of(condition, SMALL, side)
    (test,) = branch.tests
    return test


@pytest.mark.parametrize(
    ("op", "sure", "may"),
    [
        (Op.AT_LEAST, SpanTest("nights", low_from=5000), SpanTest("nights", high_from=5000)),
        (Op.ABOVE, SpanTest("nights", low_from=5001), SpanTest("nights", high_from=5001)),
        (Op.AT_MOST, SpanTest("nights", high_to=5000), SpanTest("nights", low_to=5000)),
        (Op.BELOW, SpanTest("nights", high_to=4999), SpanTest("nights", low_to=4999)),
    ],
)
def test_a_comparison_looks_at_the_end_nearer_to_failing_and_with_could_at_the_other(
    op: Op, sure: SpanTest, may: SpanTest
) -> None:
    condition = Compare("nights", op, 50)
    assert only(condition) == sure
    assert only(Could(condition)) == may
    assert only(Not(Could(Compare("nights", op.opposite, 50)))) == sure
    assert only(Could(Not(Compare("nights", op.opposite, 50)))) == may


def test_a_choice_is_sure_when_all_others_are_impossible() -> None:
    assert only(GREEN) == ChoiceTest("vines", VINES, impossible=frozenset({"yellowing", "withered"}))
    assert only(Not(GREEN)) == ChoiceTest("vines", VINES, impossible=frozenset({"green"}))
    assert only(Could(GREEN)) == ChoiceTest("vines", VINES, possible=frozenset({"green"}))


def test_cant_tell_asks_for_the_whole_domain() -> None:
    assert only(CantTell("nights")) == SpanTest("nights", whole=True)
    assert only(Not(CantTell("nights"))) == SpanTest("nights", whole=False)
    assert only(CantTell("vines")) == ChoiceTest("vines", VINES, possible=frozenset(VINES))
    assert len(branches_of(Not(CantTell("vines")), SMALL)) == len(VINES)


def test_a_finding_is_excluded_only_by_another_value_and_possible_until_then() -> None:
    assert only(RIGHT) == FindingTest("size", SIZES, concluded=frozenset({"right"}))
    excluded = [branch.tests for branch in branches_of(Not(RIGHT), SMALL)]
    assert excluded == [(FindingTest("size", SIZES, concluded=frozenset({value})),) for value in ("small", "big")]
    assert only(Could(RIGHT)) == FindingTest("size", SIZES, not_concluded=frozenset({"small", "big"}))


def test_a_comparison_with_a_lookup_has_a_branch_for_each_end_the_table_gives() -> None:
    condition = CompareTo("days", Op.AT_LEAST, "needed")
    assert [branch.tests for branch in branches_of(condition, SMALL)] == [
        (SpanTest("days", low_from=11000), SpanTest("needed", high_to=11000)),
        (SpanTest("days", low_from=12000), SpanTest("needed", high_to=12000)),
    ]
    assert [branch.tests for branch in branches_of(Could(condition), SMALL)] == [
        (SpanTest("days", high_from=9000), SpanTest("needed", low_to=9000)),
        (SpanTest("days", high_from=10000), SpanTest("needed", low_to=10000)),
    ]


def test_only_measures_read_off_a_table_can_be_compared_with() -> None:
    with pytest.raises(ValueError, match="'nights' is not read off a table"):
        branches_of(CompareTo("days", Op.BELOW, "nights"), SMALL)


def test_always_is_one_branch_without_tests_and_never_is_no_branch() -> None:
    assert branches_of(ALWAYS, SMALL) == (Branch(),)
    assert branches_of(Not(ALWAYS), SMALL) == ()
    assert branches_of(AnyOf(()), SMALL) == ()


def test_tests_on_one_reading_are_merged_and_contradictions_dropped() -> None:
    warm = Compare("nights", Op.AT_LEAST, 50)
    assert only(All((warm, Compare("nights", Op.AT_LEAST, 60), Could(warm)))) == SpanTest("nights", low_from=6000)
    assert branches_of(All((warm, Compare("nights", Op.BELOW, 50))), SMALL) == ()
    assert branches_of(All((GREEN, OneOf("vines", frozenset({"withered"})))), SMALL) == ()
    assert branches_of(All((CantTell("nights"), Not(CantTell("nights")))), SMALL) == ()
    assert branches_of(All((Could(RIGHT), Not(RIGHT))), SMALL) == ()


def test_a_branch_that_another_covers_is_absorbed() -> None:
    wide, narrow = Compare("nights", Op.AT_LEAST, 50), Compare("nights", Op.AT_LEAST, 60)
    assert len(branches_of(AnyOf((narrow, wide)), SMALL)) == 1
    assert only(AnyOf((narrow, wide, All((GREEN, wide))))) == SpanTest("nights", low_from=5000)


def test_a_condition_with_too_many_alternatives_is_refused() -> None:
    sizes = AnyOf(tuple(Concluded("size", frozenset({size})) for size in SIZES))
    both = (All((Compare("nights", Op.AT_LEAST, n), Compare("days", Op.AT_MOST, n))) for n in range(90))
    with pytest.raises(TooManyBranches, match="270 alternatives, more than 200"):
        branches_of(All((sizes, AnyOf(tuple(both)))), SMALL)


def test_each_side_holds_exactly_when_one_of_its_branches_does() -> None:
    maker = Maker(Random(7))
    outcomes: set[tuple[bool, bool]] = set()
    for _ in range(60):
        book = maker.rulebook(rules=0)
        condition = maker.condition(book, tuple(book.findings), depth=3)
        for _ in range(40):
            known = _knowledge(maker, book)
            outcomes.add((surely(condition, known), surely_not(condition, known)))
            _assert_sides(condition, known, book)
    assert len(outcomes) == 4  # disputed findings make a condition both


def test_a_branch_implies_another_only_if_it_never_holds_without_it() -> None:
    maker = Maker(Random(3))
    implied = 0
    for _ in range(40):
        book = maker.rulebook(rules=0)
        branches = [
            branch
            for _ in range(6)
            for branch in branches_of(maker.condition(book, tuple(book.findings), depth=2), book)[:8]
        ]
        pairs = [(one, two) for one in branches for two in branches if one != two and one.implies(two)]
        implied += len(pairs)
        for known in (_knowledge(maker, book) for _ in range(30)):
            assert all(two.holds(known) for one, two in pairs if one.holds(known))
            assert any(one.holds(known) for one in branches) == any(one.holds(known) for one in absorbed(branches))
    assert implied > 100


def _knowledge(maker: Maker, book: Rulebook) -> Knowledge:
    known = knowledge(maker.readings(book), domains(book))
    concluded = {
        name: frozenset(maker.random.sample(sorted(finding.values), maker.random.choice((0, 1, 1, 2))))
        for name, finding in book.findings.items()
    }
    return known._replace(concluded=concluded)


def _assert_sides(condition: Condition, known: Knowledge, book: Rulebook) -> None:
    expected = {
        Side.SURELY: surely(condition, known),
        Side.SURELY_NOT: surely_not(condition, known),
        Side.MAY: not surely_not(condition, known),
        Side.MAY_NOT: not surely(condition, known),
    }
    for side, holds in expected.items():
        assert any(branch.holds(known) for branch in branches_of(condition, book, side)) == holds, (side, condition)
