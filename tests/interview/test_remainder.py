"""The remainder says of every way of answering what the rules say, and asks exactly what can still matter."""

from random import Random

import pytest
from interview.gardens_of_options import every_garden, small_rulebook, unasked
from random_rulebooks import Maker, domains, with_measures

from assistant.inference.evaluator import evaluate
from assistant.interview.remainder import Ending, ending_of, remainder
from assistant.model.readings import Known, Origin, Reading


@pytest.mark.parametrize("seed", range(200))
def test_a_question_is_left_exactly_when_its_answer_can_change_the_advice(seed: int) -> None:
    rulebook = small_rulebook(seed, rules=3 + seed % 6)
    rest = remainder(rulebook, unasked(rulebook), domains(rulebook))
    endings: dict[tuple[tuple[str, Reading], ...], Ending] = {}
    for garden, ending in every_garden(rulebook):
        endings[tuple(garden.items())] = ending
        options = {name: rest.option_for(name, reading) for name, reading in garden.items()}
        assert ending_of(rest.after(rest.root, options)) == ending
    matters: set[str] = set()
    for position, name in enumerate(rulebook.signs):
        groups: dict[tuple[tuple[str, Reading], ...], set[Ending]] = {}
        for answers, ending in endings.items():
            groups.setdefault(answers[:position] + answers[position + 1 :], set()).add(ending)
        if any(len(group) > 1 for group in groups.values()):
            matters.add(name)
    assert set(rest.open) == matters


@pytest.mark.parametrize("seed", range(300))
def test_following_the_answers_comes_to_what_the_rules_say(seed: int) -> None:
    maker = Maker(Random(seed))
    rulebook = maker.rulebook()
    whole = domains(rulebook)
    open_signs = {name for name in rulebook.signs if maker.random.random() < 0.7}
    answered = maker.readings(rulebook)
    signs = {name: whole[name] if name in open_signs else answered[name] for name in rulebook.signs}
    known = {
        name: Known(reading, Origin.NOT_ASKED if name in open_signs else Origin.ANSWERED)
        for name, reading in with_measures(rulebook, signs).items()
    }
    rest = remainder(rulebook, known, whole)
    for _ in range(20):
        answers = maker.readings(rulebook)
        garden = {name: answers[name] if name in open_signs else signs[name] for name in rulebook.signs}
        found = evaluate(rulebook, with_measures(rulebook, garden), whole)
        options = {name: rest.option_for(name, garden[name]) for name in rest.questions}
        assert ending_of(rest.after(rest.root, options)) == Ending(found.advice, bool(found.conflicts))


def test_two_remainders_that_mean_the_same_are_one_node() -> None:
    rulebook = small_rulebook(11)
    rest = remainder(rulebook, unasked(rulebook), domains(rulebook))
    numbers = range(len(rest.options["number"].all))
    covers = range(len(rest.options["cover"].all))
    pairs = [(number, cover) for number in numbers for cover in covers]
    for number, cover in pairs:
        one = rest.after(rest.after(rest.root, {"number": number}), {"cover": cover})
        other = rest.after(rest.after(rest.root, {"cover": cover}), {"number": number})
        assert one is other


@pytest.mark.parametrize("seed", range(20))
def test_what_remains_after_each_option_in_one_walk_is_what_remains_after_each_alone(seed: int) -> None:
    rulebook = small_rulebook(seed, rules=3 + seed % 6)
    rest = remainder(rulebook, unasked(rulebook), domains(rulebook))
    for number, name in enumerate(rest.questions):
        options = range(len(rest.options[name].all))
        each = tuple(rest.after(rest.root, {name: option}) for option in options)
        assert rest.diagrams.after_each(rest.root, number) == each
