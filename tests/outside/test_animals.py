"""The textbook rules that tell seven animals of a zoo apart, whose conclusions and chains of findings are known.

Winston, Artificial Intelligence, third edition (1992), chapter 7, rules Z1 to Z15, after Winston and Horn, LISP
(1981); the rules as quoted in course work. What the textbook does not say of an animal is taken for no.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path

import pytest

from assistant.explain.reasoning import Reason, reasoning
from assistant.inference import evaluate
from assistant.interview.diagrams import leaves_below
from assistant.interview.remainder import Ending, Remainder, ending_of, remainder
from assistant.measures import domains, known_readings
from assistant.model.case import Case
from assistant.model.derivation import Outcome
from assistant.proofs import prove
from assistant.rulebook import read_rulebook
from assistant.season import Visit

ANIMALS = read_rulebook(str(Path(__file__).parent / "animals"))
ON = date(2031, 10, 4)  # any day; the rules count none

# What the textbook says of each animal: Swifty the cheetah and Stretch the giraffe are its own worked examples, the
# others the facts that its rules ask for.
FACTS: dict[str, dict[str, str]] = {
    "cheetah": dict.fromkeys(("hair", "pointed_teeth", "claws", "forward_eyes"), "yes")
    | {"colour": "tawny", "marks": "dark-spots"},
    "tiger": {"milk": "yes", "meat": "yes", "colour": "tawny", "marks": "black-stripes"},
    "giraffe": dict.fromkeys(("hair", "cud", "long_legs", "long_neck"), "yes")
    | {"colour": "tawny", "marks": "dark-spots"},
    "zebra": {"hair": "yes", "hoofs": "yes", "colour": "white", "marks": "black-stripes"},
    "ostrich": {"feathers": "yes", "flies": "no", "long_legs": "yes", "long_neck": "yes", "colour": "black-and-white"},
    "penguin": {"feathers": "yes", "flies": "no", "swims": "yes", "colour": "black-and-white"},
    "albatross": {"flies": "yes", "eggs": "yes", "good_flyer": "yes"},
}
# The rules that lead to each, first the one on its class.
CHAINS = {
    "cheetah": ["z01", "z06", "z09"],
    "tiger": ["z02", "z05", "z10"],
    "giraffe": ["z01", "z08", "z11"],
    "zebra": ["z01", "z07", "z12"],
    "ostrich": ["z03", "z13"],
    "penguin": ["z03", "z14"],
    "albatross": ["z04", "z15"],
}
EVERY_ANIMAL = pytest.mark.parametrize("animal", FACTS)


def visit(facts: Mapping[str, str]) -> Visit:
    seen = Visit(ANIMALS, Case("An animal of the zoo", ANIMALS.name, ON))
    for sign, answer in facts.items():
        seen = seen.answer(sign, answer)
    return seen


def rest_of(seen: Visit) -> Remainder:
    return remainder(ANIMALS, known_readings(ANIMALS, seen.case), domains(ANIMALS, ON))


def all_facts(animal: str) -> dict[str, str]:
    """An answer to every question; the last choice of each is no, or other, or none."""
    return {name: FACTS[animal].get(name, list(sign.choices)[-1]) for name, sign in ANIMALS.signs.items()}


@EVERY_ANIMAL
def test_the_textbooks_facts_alone_give_the_animal_by_the_textbooks_rules(animal: str) -> None:
    derivation = visit(FACTS[animal]).verdict().derivation
    readings = {name: known.reading for name, known in derivation.known.items()}
    found = evaluate(ANIMALS, readings, domains(ANIMALS, ON))
    assert (derivation.advice, list(derivation.fired), derivation.conflicts) == (animal, CHAINS[animal], ())
    assert (found.advice, list(found.fired), found.conflicts) == (animal, CHAINS[animal], ())
    assert rest_of(visit({})).decide(readings) == Ending(animal)


@EVERY_ANIMAL
def test_the_interview_names_the_animal_without_asking_everything(animal: str) -> None:
    answers, seen = all_facts(animal), visit({})
    while (question := seen.next_question()) is not None:
        seen = seen.answer(question.name, answers[question.name])
    verdict = seen.verdict()
    assert (verdict.advice, verdict.outcome) == (animal, Outcome.SETTLED)
    assert set(CHAINS[animal]) <= set(verdict.derivation.fired)
    assert len(seen.answered) < len(ANIMALS.signs)


@EVERY_ANIMAL
def test_why_goes_back_from_the_animal_through_its_order_and_class_to_what_was_seen(animal: str) -> None:
    top = reasoning(visit(FACTS[animal]).verdict())
    shown = [line.detail.split(":")[0] for line in lines(top) if line.kind == "rule"]
    assert shown == CHAINS[animal][::-1]
    deepest = next(line for line in lines(top) if line.kind == "rule" and line.detail.startswith(CHAINS[animal][0]))
    assert {line.kind for line in deepest.children} == {"answer", "source"}


def lines(reason: Reason) -> Iterator[Reason]:
    yield reason
    for child in reason.children:
        yield from lines(child)


@pytest.mark.parametrize(
    ("seen", "possible"),
    [
        ({"hair": "no", "milk": "no"}, {"ostrich", "penguin", "albatross"}),
        ({"feathers": "no", "flies": "no"}, {"cheetah", "tiger", "giraffe", "zebra"}),
        ({"feathers": "no", "flies": "no", "meat": "no", "claws": "no"}, {"giraffe", "zebra"}),
        ({"hair": "no", "milk": "no", "good_flyer": "no", "long_neck": "no"}, {"penguin"}),
        ({"hair": "no", "milk": "no", "flies": "yes"}, {"albatross"}),
    ],
)
def test_what_is_seen_leaves_just_the_animals_that_the_textbook_leaves(
    seen: dict[str, str], possible: set[str]
) -> None:
    endings = {ending_of(leaf) for leaf in leaves_below(rest_of(visit(seen)).root)}
    assert {ending.advice for ending in endings} == {*possible, None}


def test_a_platypus_is_a_mammal_and_none_of_the_seven() -> None:
    platypus = dict.fromkeys(("hair", "milk", "eggs", "meat", "swims"), "yes")
    verdict = visit({**dict.fromkeys(ANIMALS.signs, "no"), "colour": "other", "marks": "none", **platypus}).verdict()
    assert verdict.outcome is Outcome.NO_ADVICE
    assert verdict.derivation.knowledge.concluded == {"class": frozenset({"mammal"}), "order": frozenset({"carnivore"})}


def test_the_textbook_does_not_keep_a_furry_thing_with_feathers_out_of_both_classes() -> None:
    seen = visit({"hair": "yes", "feathers": "yes"})
    assert seen.verdict().outcome is Outcome.CONFLICT
    assert {ending_of(leaf).conflict for leaf in leaves_below(rest_of(seen).root)} == {True}


def test_the_proofs_find_that_the_textbook_leaves_classes_and_orders_to_good_sense_and_some_animals_out() -> None:
    found = {(flaw.code, flaw.about) for flaw in prove(ANIMALS).flaws}
    assert found == {("no-advice", ""), ("finding-clash", "class"), ("finding-clash", "order")}
