"""The options of a sign are all the ways its tests can come out, no more and no fewer."""

from dataclasses import replace
from itertools import combinations
from random import Random

import pytest
from random_rulebooks import Maker

from assistant.inference.branches import ChoiceTest, SpanTest, Test
from assistant.inference.evaluator import knowledge
from assistant.interview.options import MOST_SETS, Options, TooManyChoices
from assistant.model.quantities import Kind
from assistant.model.readings import Choices, Reading, Span
from assistant.model.rules import Rulebook
from assistant.model.signs import DaysSince, Effort, Lookup, Measure, Row, Sign, Table
from assistant.reckoning.derived import derived

TODAY = 1000


def a_rulebook(random: Random) -> Rulebook:
    """A choice sign with two measures read off a table, a number, and a date with its days."""
    leaves = ("green", "yellow", "black", "torn", "gone")
    rows = {name: Row(name, name, {"early": a_span(random), "late": a_span(random)}, ()) for name in leaves}
    signs = (
        Sign("leaf", Kind.CHOICE, "", "", Effort.GLANCE, choices=dict.fromkeys(leaves, "")),
        Sign("number", Kind.NUMBER, "", "", Effort.GLANCE, low=0, high=4),
        Sign("planted", Kind.DATE, "", "", Effort.GLANCE, low=0, high=9),
    )
    measures = (
        Measure("early", "", Lookup("leaf", "leaves", "early"), 0, 9),
        Measure("late", "", Lookup("leaf", "leaves", "late"), 0, 9),
        Measure("days", "", DaysSince("planted"), 0, 9),
    )
    return replace(
        Maker(random).rulebook(),
        signs={sign.name: sign for sign in signs},
        measures={measure.name: measure for measure in measures},
        tables={"leaves": Table("leaves", rows)},
    )


def a_span(random: Random) -> Span:
    low, high = sorted(random.choices(range(10), k=2))
    return Span(low, high)


def a_bound(random: Random) -> int | None:
    return random.choice((None, None, 100 * random.randint(0, 9)))


def a_span_test(random: Random, reading: str, can_be_whole: bool) -> SpanTest:
    whole = random.choice((None, None, True, False)) if can_be_whole else None
    return SpanTest(reading, a_bound(random), a_bound(random), a_bound(random), a_bound(random), whole)


def a_choice_test(random: Random, sign: Sign) -> ChoiceTest:
    some = random.sample(list(sign.choices), 2)
    return ChoiceTest(sign.name, tuple(sign.choices), frozenset(some[:1]), frozenset(some[1:]))


def every_reading(rulebook: Rulebook, sign: Sign) -> list[Reading]:
    if sign.kind is Kind.CHOICE:
        choices = list(sign.choices)
        return [Choices(frozenset(some)) for size in range(len(choices)) for some in combinations(choices, size + 1)]
    steps = range(TODAY - 9, TODAY + 1) if sign.kind is Kind.DATE else range(401)
    scale = 1 if sign.kind is Kind.DATE else 100
    return [Span(low / scale, high / scale) for low in steps for high in steps if low <= high]


def domains(rulebook: Rulebook) -> dict[str, Reading]:
    whole: dict[str, Reading] = {name: measure.domain for name, measure in rulebook.measures.items()}
    choices = Choices(frozenset(rulebook.signs["leaf"].choices))
    return {**whole, "leaf": choices, "number": Span(0, 4), "planted": Span(TODAY - 9, TODAY)}


def outcome(rulebook: Rulebook, sign: Sign, tests: tuple[Test, ...], reading: Reading) -> tuple[bool, ...]:
    """Each test tried by itself."""
    readings: dict[str, Reading] = {sign.name: reading}
    for name, measure in rulebook.measures.items():
        if measure.sign == sign.name:
            readings[name] = derived(measure, reading, rulebook.tables, TODAY)
    state = knowledge(readings, {name: domains(rulebook)[name] for name in readings})
    return tuple(test.holds(state) for test in tests)


def some_tests(random: Random, rulebook: Rulebook, sign: Sign) -> tuple[Test, ...]:
    match sign.name:
        case "leaf":
            measured = [a_span_test(random, name, can_be_whole=False) for name in ("early", "late", "early")]
            named = [a_choice_test(random, sign)] if random.random() < 0.5 else []
            return tuple(dict.fromkeys([*measured, *named]))
        case "number":
            return tuple({a_span_test(random, "number", can_be_whole=True): None for _ in range(3)})
        case _:
            return (a_span_test(random, "days", can_be_whole=False), a_span_test(random, "planted", can_be_whole=True))


@pytest.mark.parametrize("sign_name", ["leaf", "number", "planted"])
@pytest.mark.parametrize("seed", range(15))
def test_every_way_the_tests_can_come_out_is_an_option_once(seed: int, sign_name: str) -> None:
    random = Random(seed)
    rulebook = a_rulebook(random)
    sign = rulebook.signs[sign_name]
    tests = some_tests(random, rulebook, sign)
    options = Options(rulebook, sign, tests, domains(rulebook))
    readings = every_reading(rulebook, sign)
    readings = random.sample(readings, min(len(readings), 4000))
    told_apart = {tuple(number in options.passing(test) for test in tests) for number in range(len(options.all))}
    assert len(told_apart) == len(options.all)
    met = set()
    for reading in readings:
        number = options.index_of(reading)
        met.add(number)
        expected = outcome(rulebook, sign, tests, reading)
        assert tuple(number in options.passing(test) for test in tests) == expected
    assert len(readings) == 4000 or met == set(range(len(options.all)))


def test_exact_answers_come_before_the_vague_ones_they_are_equal_to() -> None:
    random = Random(1)
    rulebook = a_rulebook(random)
    sign = rulebook.signs["number"]
    options = Options(rulebook, sign, (SpanTest("number", low_from=200),), domains(rulebook))
    assert [option.reading for option in options.all] == [Span(0, 0), Span(2, 2)]
    assert all(option.exact for option in options.all)


def test_more_sets_of_choices_than_can_be_listed_are_refused() -> None:
    random = Random(1)
    names = tuple(f"kind-{number}" for number in range(MOST_SETS.bit_length()))
    sign = Sign("kind", Kind.CHOICE, "", "", Effort.GLANCE, choices=dict.fromkeys(names, ""))
    tests = tuple(ChoiceTest("kind", names, possible=frozenset((name,))) for name in names)
    with pytest.raises(TooManyChoices):
        Options(a_rulebook(random), sign, tests, {"kind": Choices(frozenset(names))})


def test_as_many_choices_are_taken_together_as_measures_have_ends() -> None:
    rulebook = a_rulebook(Random(1))
    ranges = {"green": (0, 5, 4, 5), "yellow": (4, 9, 4, 5), "black": (4, 5, 0, 5), "torn": (4, 5, 4, 9)}
    rows = {
        name + twin: Row(name, name, {"early": Span(a, b), "late": Span(c, d)}, ())
        for name, (a, b, c, d) in {**ranges, "gone": (4, 5, 4, 5)}.items()
        for twin in ("", "-too")
    }
    rulebook = replace(rulebook, tables={"leaves": Table("leaves", rows)})
    sign = replace(rulebook.signs["leaf"], choices=dict.fromkeys(rows, ""))
    tests = tuple(SpanTest(name, low_from=400) for name in ("early", "late")) + tuple(
        SpanTest(name, high_to=500) for name in ("early", "late")
    )
    options = Options(rulebook, sign, tests, {**domains(rulebook), "leaf": Choices(frozenset(rows))})
    assert len(options.all) == 2 ** len(tests)
