"""How many questions are still to come: the average over every garden, and a number that is never passed."""

from collections.abc import Iterator
from datetime import date
from itertools import product
from math import prod
from random import Random

import pytest
from interview.gardens_of_options import small_rulebook, unasked
from random_rulebooks import domains

from assistant.interview import expecting
from assistant.interview.choosing import Chooser, likelihoods
from assistant.interview.expecting import expected_questions
from assistant.interview.remainder import Remainder, remainder
from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.rules import Rulebook
from assistant.model.signs import Sign
from assistant.rulebook import read_rulebook
from assistant.season import Visit

RULEBOOK = read_rulebook("sweetpotato/when-to-dig")
GARDEN = Garden({"first_frost": FrostDates(MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2))})


def whole(rulebook: Rulebook) -> Remainder:
    return remainder(rulebook, unasked(rulebook), domains(rulebook))


def questions_asked(rest: Remainder, signs: dict[str, Sign], garden: dict[str, int]) -> int:
    """Walks one garden to the end, as any interview that looks no further ahead would."""
    diagram, asked = rest.root, 0
    while order := Chooser(rest, signs, most_looked_at=0).order(diagram):
        question = rest.questions[order[0]]
        diagram, asked = rest.after(diagram, {question: garden[question]}), asked + 1
    return asked


def every_garden(rest: Remainder, signs: dict[str, Sign]) -> Iterator[tuple[dict[str, int], float]]:
    likely = {name: likelihoods(signs[name], rest.options[name]) for name in rest.questions}
    for options in product(*(range(len(likely[name])) for name in rest.questions)):
        garden = dict(zip(rest.questions, options, strict=True))
        yield garden, prod(likely[name][option] for name, option in garden.items())


@pytest.mark.parametrize("seed", range(12))
def test_the_expected_number_is_the_average_over_every_garden(seed: int) -> None:
    rulebook = small_rulebook(seed, rules=4)
    rest, signs = whole(rulebook), dict(rulebook.signs)
    average = sum(share * questions_asked(rest, signs, garden) for garden, share in every_garden(rest, signs))
    assert expected_questions(rest, signs) == pytest.approx(average)


def test_nothing_is_expected_where_too_many_ways_would_have_to_be_followed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(expecting, "MOST_STANDINGS", 3)
    assert expected_questions(whole(RULEBOOK), dict(RULEBOOK.signs)) is None


@pytest.mark.parametrize("seed", range(12))
def test_an_interview_never_asks_more_than_it_said_at_most(seed: int) -> None:
    chance = Random(seed)
    visit = Visit(RULEBOOK, Case("A bed", RULEBOOK.name, date(2031, 9, 10), garden=GARDEN if seed % 2 else Garden()))
    at_most = visit.at_most_left
    while (sign := visit.next_question()) is not None:
        assert visit.at_most_left <= at_most
        assert (visit.about_left or 1) <= visit.at_most_left
        at_most = visit.at_most_left - 1
        visit = visit.answer(sign.name, a_likely_answer(sign, chance))
    assert visit.at_most_left == 0


def a_likely_answer(sign: Sign, chance: Random) -> str:
    if chance.random() < 0.3 or not (sign.choices or sign.unit == "nights"):
        return "can't tell"
    return chance.choice(list(sign.choices)) if sign.choices else str(chance.randint(0, 7))


def test_a_question_that_only_moves_the_day_is_counted_from_the_start() -> None:
    visit = Visit(RULEBOOK, Case("A bed", RULEBOOK.name, date(2031, 9, 10), garden=GARDEN))
    for name in RULEBOOK.signs:
        if name not in ("forecast_low", "forecast_low_in"):
            visit = visit.answer(name, "can't tell")
    visit = visit.answer("roots", "right")
    assert (visit.left, visit.at_most_left) == (("forecast_low",), 2)
    visit = visit.answer("forecast_low", "25 F")
    assert (visit.course.left, visit.left, visit.at_most_left) == ((), ("forecast_low_in",), 1)


def test_the_record_goes_on_with_the_least_effort_and_passes_over_what_was_skipped() -> None:
    visit = Visit(RULEBOOK, Case("A bed", RULEBOOK.name, date(2031, 9, 10), garden=GARDEN)).answer("frost", "hard")
    efforts = []
    skipped: set[str] = set()
    while (sign := visit.next_for_the_record(skipped)) is not None:
        efforts.append(sign.effort.cost)
        skipped.add(sign.name)
    assert efforts == sorted(efforts)
    asked = {name for name, sign in RULEBOOK.signs.items() if sign.told is None}
    assert skipped == set(visit.not_needed) == asked - {"frost"}
