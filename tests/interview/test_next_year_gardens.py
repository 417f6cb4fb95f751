"""The next year's interview in invented gardens: it stops early, and rightly."""

from __future__ import annotations

from datetime import date
from random import Random

import pytest

from assistant.model.case import Case
from assistant.model.quantities import Kind, format_number
from assistant.model.signs import Sign
from assistant.rulebook import read_rulebook
from assistant.season import Visit

RULEBOOK = read_rulebook("sweetpotato/next-year")
# Values about which the rules turn, among which a random garden chooses as often as among all others.
TURNS = {"years_since": 4, "weeks_to_freeze": 3, "weeks_to_planting": 9, "soil_temperature": 65, "warm_mornings": 4}


def _answer(sign: Sign, random: Random) -> str:
    if random.random() < 0.1:
        return "can't tell"
    if sign.kind is Kind.CHOICE:
        return random.choice(list(sign.choices))
    middle = TURNS.get(sign.name)
    if middle is not None and random.random() < 0.5:
        return format_number(middle + random.randint(-2, 2))
    return format_number(round(random.uniform(sign.low, sign.high), 1))


def _empty() -> Visit:
    return Visit(RULEBOOK, Case("A bed", RULEBOOK.name, date(2031, 11, 1)))


@pytest.mark.parametrize("seed", range(25))
def test_an_interview_that_stops_early_gives_the_advice_of_answering_everything(seed: int) -> None:
    random = Random(seed)
    answers = {name: _answer(sign, random) for name, sign in RULEBOOK.signs.items()}
    everything, asked = _empty(), _empty()
    for name, text in answers.items():
        everything = everything.answer(name, text)
    while sign := asked.next_question():
        asked = asked.answer(sign.name, answers[sign.name])
    assert asked.verdict().advice == everything.verdict().advice
    assert not everything.next_question()
    assert len(asked.answered) < len(RULEBOOK.signs)
