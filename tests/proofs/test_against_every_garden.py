"""The proofs say of small random rulebooks what a walk through every garden says of them."""

from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations, permutations, product
from random import Random

import pytest
from interview.gardens_of_options import every_reading, small_rulebook
from random_rulebooks import Maker, domains

from assistant.inference.evaluator import Evaluation, evaluate
from assistant.model.conditions import Compare, Op
from assistant.model.quantities import Kind
from assistant.model.readings import Choices, Reading, Span
from assistant.model.rules import ADVICE, Direction, Rule, Rulebook, Several
from assistant.proofs import prove

SEEDS = range(60)
CERTAIN = (
    Rule("certainly high", "", Compare("number", Op.AT_LEAST, 2), ADVICE, "go"),
    Rule("certainly low", "", Compare("number", Op.BELOW, 2), ADVICE, "go"),
)
"""Rules that advise on every exact number and not on every vague one."""

Garden = tuple[Reading, ...]


@dataclass(frozen=True)
class Walked:
    """A rulebook with every garden it can meet, and the codes and subjects of the flaws found in it."""

    rulebook: Rulebook
    gardens: dict[Garden, Evaluation]
    flaws: frozenset[tuple[str, str]]

    def found(self, code: str) -> set[str]:
        return {about for given, about in self.flaws if given == code}


@cache
def walked(seed: int) -> Walked:
    rulebook = with_promises(small_rulebook(seed, rules=3 + seed % 8), Random(seed))
    if seed % 2:
        rulebook = with_much_advice(rulebook, Random(seed))
    if seed % 4 == 0:
        rulebook = replace(rulebook, rules=(*rulebook.rules, *CERTAIN))
    whole, names = domains(rulebook), list(rulebook.signs)
    gardens = {
        garden: evaluate(rulebook, dict(zip(names, garden, strict=True)), whole)
        for garden in product(*(every_reading(rulebook, sign) for sign in rulebook.signs.values()))
    }
    flaws = frozenset((flaw.code, flaw.about) for flaw in prove(rulebook).flaws)
    return Walked(rulebook, gardens, flaws)


def with_much_advice(rulebook: Rulebook, random: Random) -> Rulebook:
    """The rulebook with rules that look at little and all give advice, of which the first wins."""
    maker, kinds = Maker(random), list(rulebook.advice)
    rules = (
        Rule(f"rule {number}", "", maker.condition(rulebook, (), depth=1), ADVICE, random.choice(kinds))
        for number in range(random.randint(3, 7))
    )
    return replace(rulebook, rules=tuple(rules), several=Several.FIRST_WINS)


def with_promises(rulebook: Rulebook, random: Random) -> Rulebook:
    """The rulebook with urgencies and directions, few of which will hold."""
    advice = {name: item._replace(urgency=random.randint(0, 2)) for name, item in rulebook.advice.items()}
    orders = {"number": ("lower",), "leaf": ("black", "green"), "cover": ("no", "yes")}
    directions = {name: Direction(name, "", name, order) for name, order in orders.items()}
    return replace(rulebook, advice=advice, directions=directions)


def is_exact(reading: Reading) -> bool:
    return reading.low == reading.high if isinstance(reading, Span) else len(reading.possible) == 1


@pytest.mark.parametrize("seed", SEEDS)
def test_a_rule_never_fires_exactly_when_it_fires_in_no_garden(seed: int) -> None:
    book = walked(seed)
    fired = {name for found in book.gardens.values() for name in found.fired}
    assert book.found("never-fires") == {rule.name for rule in book.rulebook.rules} - fired


@pytest.mark.parametrize("seed", SEEDS)
def test_a_rule_is_hidden_exactly_when_others_say_as_much_wherever_it_fires(seed: int) -> None:
    book = walked(seed)
    order = list(book.rulebook.advice)
    hidden: set[str] = set()
    for rule in reversed(book.rulebook.rules):
        where = [found for found in book.gardens.values() if rule.name in found.fired]
        same = {other.name for other in book.rulebook.rules_concluding(rule.concludes, rule.value)}
        same -= {rule.name, *hidden}
        repeated = all(same & set(found.fired) for found in where)
        beaten = (
            rule.concludes == ADVICE
            and book.rulebook.several is Several.FIRST_WINS
            and all(order.index(str(found.advice)) < order.index(rule.value) for found in where)
        )
        if where and (repeated or beaten):
            hidden.add(rule.name)
    assert book.found("always-hidden") == hidden


@pytest.mark.parametrize("seed", SEEDS)
def test_gardens_lack_advice_exactly_when_one_does(seed: int) -> None:
    book = walked(seed)
    silent = [garden for garden, found in book.gardens.items() if found.advice is None and not found.conflicts]
    in_full = any(all(map(is_exact, garden)) for garden in silent)
    assert ("no-advice" in dict(book.flaws)) == in_full
    assert ("no-advice-unsure" in dict(book.flaws)) == (bool(silent) and not in_full)


@pytest.mark.parametrize("seed", SEEDS)
def test_values_clash_exactly_when_they_do_in_some_garden(seed: int) -> None:
    book = walked(seed)
    clashing = {conflict.about for found in book.gardens.values() for conflict in found.conflicts}
    assert book.found("finding-clash") | book.found("advice-clash") == clashing


@pytest.mark.parametrize("seed", SEEDS)
def test_a_question_is_needed_exactly_when_some_answer_to_it_changes_the_ending(seed: int) -> None:
    book = walked(seed)
    needed = set()
    for position, name in enumerate(book.rulebook.signs):
        endings: dict[Garden, set[object]] = {}
        for garden, found in book.gardens.items():
            others = garden[:position] + garden[position + 1 :]
            endings.setdefault(others, set()).add((found.advice, bool(found.conflicts)))
        if any(len(group) > 1 for group in endings.values()):
            needed.add(name)
    assert book.found("question-nobody-needs") == set(book.rulebook.signs) - needed


@pytest.mark.parametrize("seed", SEEDS)
def test_a_direction_is_broken_exactly_when_some_pair_of_gardens_breaks_it(seed: int) -> None:
    book = walked(seed)
    assert book.found("direction-broken") == {
        name for name in book.rulebook.directions if any(breaks(book, name, *pair) for pair in pairs(book, name))
    }


def pairs(book: Walked, name: str) -> set[tuple[Reading, Reading]]:
    """Exact answers to a sign, the milder one first."""
    sign, order = book.rulebook.signs[name], book.rulebook.directions[name].order
    if sign.kind is Kind.CHOICE:
        return {(Choices(frozenset({one})), Choices(frozenset({other}))) for one, other in combinations(order, 2)}
    spans = [reading for reading in every_reading(book.rulebook, sign) if isinstance(reading, Span)]
    exact = filter(is_exact, spans)
    return {(one, other) for one, other in permutations(exact, 2) if one.low > other.low}


def breaks(book: Walked, name: str, mild: Reading, pressing: Reading) -> bool:
    position = list(book.rulebook.signs).index(name)
    for garden, found in book.gardens.items():
        if garden[position] == mild:
            changed = (*garden[:position], pressing, *garden[position + 1 :])
            other = book.gardens[changed]
            ends = [urgency(book.rulebook, end) for end in (found, other)]
            if ends[0] is not None and ends[1] is not None and ends[0] > ends[1]:
                return True
    return False


def urgency(rulebook: Rulebook, found: Evaluation) -> int | None:
    return rulebook.advice[found.advice].urgency if found.advice and not found.conflicts else None


@pytest.mark.parametrize(
    "code",
    ["never-fires", "always-hidden", "no-advice", "no-advice-unsure", "finding-clash", "advice-clash",
     "question-nobody-needs", "direction-broken"],
)  # fmt: skip
def test_some_of_the_random_rulebooks_have_the_flaw_and_some_do_not(code: str) -> None:
    assert {code in dict(walked(seed).flaws) for seed in SEEDS} == {True, False}
