"""The next question: how likely answers are, and the least expected effort, held against brute force."""

from dataclasses import replace
from itertools import product
from random import Random

import pytest
from interview.gardens_of_options import small_rulebook, unasked
from random_rulebooks import ON, Maker, domains
from small_rulebooks import rule
from small_rulebooks import rulebook as rulebook_of

from assistant.inference.evaluator import evaluate
from assistant.interview.choosing import CANT_TELL_SHARE, Chooser, likelihoods
from assistant.interview.diagrams import Diagram, Leaf, nodes_below, questions_in
from assistant.interview.remainder import Ending, Remainder, remainder
from assistant.model.conditions import All, AnyOf, Compare, Condition, OneOf, Op
from assistant.model.quantities import Kind
from assistant.model.readings import Span, exactly, one_of
from assistant.model.rules import Rulebook
from assistant.model.signs import DaysSince, Effort, Measure, Sign

Answers = tuple[int | None, ...]


def whole(rulebook: Rulebook) -> Remainder:
    return remainder(rulebook, unasked(rulebook), domains(rulebook))


def yes_no(*signs: tuple[str, Effort], when: Condition) -> tuple[Remainder, dict[str, Sign]]:
    """What is to be asked of yes-or-no signs when one rule says dig and nothing else is ever advised."""
    made = {name: Sign(name, Kind.CHOICE, "", "", effort, choices={"yes": "", "no": ""}) for name, effort in signs}
    return whole(replace(rulebook_of(rule("dig", when)), signs=made, measures={}, tables={})), made


def is_yes(sign: str) -> OneOf:
    return OneOf(sign, frozenset(("yes",)))


def names(rest: Remainder, signs: dict[str, Sign]) -> list[str]:
    return [rest.questions[question] for question in Chooser(rest, signs).order(rest.root)]


@pytest.mark.parametrize("seed", range(40))
def test_the_likelihoods_of_a_sign_add_up_to_one(seed: int) -> None:
    rulebook = Maker(Random(seed)).rulebook()
    rest = whole(rulebook)
    for name in rest.questions:
        likely = likelihoods(rulebook.signs[name], rest.options[name])
        assert sum(likely) == pytest.approx(1)
        assert min(likely) >= 0
        assert likely[rest.options[name].whole] >= CANT_TELL_SHARE - 1e-12


def test_the_weights_that_the_author_gives_count() -> None:
    usual = {"green": 6, "yellowing": 3, "withered": 1}
    vines = Sign("vines", Kind.CHOICE, "", "", Effort.GLANCE, choices=dict.fromkeys(usual, ""), usual=usual)
    rules = [rule(choice, OneOf("vines", frozenset((choice,))), value=choice) for choice in ("green", "withered")]
    advice = {choice: rulebook_of().advice["dig"] for choice in usual}
    rest = whole(replace(rulebook_of(*rules), signs={"vines": vines}, measures={}, tables={}, advice=advice))
    likely = likelihoods(vines, rest.options["vines"])
    green, yellowing, withered = (likely[rest.option_for("vines", one_of(choice))] for choice in usual)
    assert green / withered == pytest.approx(6)
    assert yellowing == pytest.approx(CANT_TELL_SHARE + withered * 3)  # nothing tells it from can't tell


def likely_cells(sign: Sign, *starts: float) -> list[float]:
    """How likely a number is to be below the first start, from there to the next, and so on."""
    rules = [rule(f"from {start}", Compare(sign.name, Op.AT_LEAST, start)) for start in starts]
    rest = whole(replace(rulebook_of(*rules), signs={sign.name: sign}, measures={}, tables={}))
    likely = likelihoods(sign, rest.options[sign.name])
    return [likely[rest.option_for(sign.name, exactly(start))] for start in (sign.low, *starts)]


def test_a_number_is_as_likely_as_the_ranges_the_author_weighs() -> None:
    usual = ((Span(0, 1), 8), (Span(2, 30), 1))
    water = Sign("days of water", Kind.NUMBER, "", "", Effort.GLANCE, low=0, high=30, usual_spans=usual)
    dry, one_day, longer = likely_cells(water, 1, 2)
    exact = 1 - CANT_TELL_SHARE
    assert longer == pytest.approx(exact / 9)
    assert dry - CANT_TELL_SHARE == pytest.approx(one_day, abs=0.08)


def test_a_date_is_as_likely_as_the_days_ago_the_author_weighs() -> None:
    usual = ((Span(0, 100), 1), (Span(100, 300), 3))
    planted = Sign("planted", Kind.DATE, "", "", Effort.LOOK_UP, low=0, high=300, usual_spans=usual)
    days = Measure("days", "", DaysSince("planted"), 0, 300)
    long_ago = rulebook_of(rule("long ago", Compare("days", Op.AT_LEAST, 100)))
    rest = whole(replace(long_ago, signs={"planted": planted}, measures={"days": days}, tables={}))
    likely = likelihoods(planted, rest.options["planted"])
    chance = likely[rest.option_for("planted", exactly(ON.toordinal() - 200))]
    assert chance == pytest.approx((1 - CANT_TELL_SHARE) * 3 / 4, abs=0.03)


def test_each_part_of_a_number_that_the_rules_tell_apart_counts_alike_where_no_author_weighs_it() -> None:
    water = Sign("days of water", Kind.NUMBER, "", "", Effort.GLANCE, low=0, high=30)
    dry, one_day, longer = likely_cells(water, 1, 2)
    assert one_day == longer == pytest.approx(dry - CANT_TELL_SHARE)


def test_a_cheap_question_that_decides_goes_before_a_dear_one() -> None:
    either = AnyOf((is_yes("roots"), is_yes("leaves")))
    assert names(*yes_no(("roots", Effort.DIG), ("leaves", Effort.GLANCE), when=either)) == ["leaves", "roots"]


def test_a_question_that_is_needed_in_any_case_goes_before_a_cheaper_one_that_may_be_wasted() -> None:
    both = All((is_yes("roots"), AnyOf((is_yes("leaves"), is_yes("soil"), is_yes("sap")))))
    signs = [("leaves", Effort.STOOP), ("soil", Effort.STOOP), ("sap", Effort.STOOP), ("roots", Effort.LOOK_UP)]
    assert names(*yes_no(*signs, when=both))[0] == "roots"


def test_equally_good_questions_go_in_the_order_of_the_rulebook() -> None:
    signs = [(name, Effort.STOOP) for name in ("c", "a", "b")]
    for condition in (All((is_yes("a"), is_yes("b"), is_yes("c"))), All((is_yes("b"), is_yes("c"), is_yes("a")))):
        assert names(*yes_no(*signs, when=condition)) == ["c", "a", "b"]


@pytest.mark.parametrize("seed", range(60))
def test_exactly_the_questions_that_can_matter_are_in_the_order_and_it_is_always_the_same(seed: int) -> None:
    rulebook = Maker(Random(seed)).rulebook()
    rest = whole(rulebook)
    for most_looked_at in (0, 50, 2_000):
        order = Chooser(rest, rulebook.signs, most_looked_at).order(rest.root)
        assert sorted(order) == sorted(questions_in(rest.root))
        assert order == Chooser(rest, rulebook.signs, most_looked_at).order(rest.root)


class Brute:
    """Every way of asking about a small rulebook, from the endings of the plain evaluator alone."""

    def __init__(self, rulebook: Rulebook) -> None:
        self.rest = whole(rulebook)
        self.costs = [rulebook.signs[name].effort.cost for name in self.rest.questions]
        self.likely = [likelihoods(rulebook.signs[name], self.rest.options[name]) for name in self.rest.questions]
        readings = [[option.reading for option in self.rest.options[name].all] for name in self.rest.questions]
        self.endings: dict[Answers, Ending] = {}
        for options in product(*(range(len(its)) for its in readings)):
            garden = {n: its[o] for n, its, o in zip(self.rest.questions, readings, options, strict=True)}
            found = evaluate(rulebook, garden, domains(rulebook))
            self.endings[options] = Ending(found.advice, bool(found.conflicts))
        self.chooser = Chooser(self.rest, rulebook.signs)
        self.found: dict[Answers, tuple[float, float]] = {}

    def efforts(self, answers: Answers) -> tuple[float, float]:
        """The least expected effort from here, and that of an interview led by the chooser."""
        if answers not in self.found:
            self.found[answers] = self._efforts(answers)
        return self.found[answers]

    def _efforts(self, answers: Answers) -> tuple[float, float]:
        if len({ending for options, ending in self.endings.items() if _fits(options, answers)}) == 1:
            return 0, 0
        after = {q: self._after(answers, q) for q, answer in enumerate(answers) if answer is None}
        given = {self.rest.questions[q]: answer for q, answer in enumerate(answers) if answer is not None}
        chosen = self.chooser.order(self.rest.after(self.rest.root, given))[0]
        return min(least for least, _ in after.values()), after[chosen][1]

    def _after(self, answers: Answers, question: int) -> tuple[float, float]:
        """Both efforts when this question comes next."""
        cost, shares = self.costs[question], self.likely[question]
        both = [self.efforts((*answers[:question], option, *answers[question + 1 :])) for option in range(len(shares))]
        return (
            cost + sum(share * least for share, (least, _) in zip(shares, both, strict=True)),
            cost + sum(share * led for share, (_, led) in zip(shares, both, strict=True)),
        )


def _fits(options: Answers, answers: Answers) -> bool:
    return all(answer in (None, option) for option, answer in zip(options, answers, strict=True))


@pytest.mark.parametrize("seed", range(60))
def test_no_way_of_asking_at_all_takes_less_effort_on_the_smallest_rulebooks(seed: int) -> None:
    least, led = Brute(small_rulebook(seed, rules=3 + seed % 6)).efforts((None,) * 3)
    assert led == pytest.approx(least)


def least_effort(rest: Remainder, signs: dict[str, Sign]) -> tuple[float, float]:
    """The least expected effort by trying every question at every step, and that of the chooser."""
    likely = [likelihoods(signs[name], rest.options[name]) for name in rest.questions]
    chooser = Chooser(rest, signs)
    found: dict[Diagram, tuple[float, float]] = {}

    def after(diagram: Diagram, question: int) -> tuple[float, float]:
        shares: dict[Diagram, float] = {}
        for option, share in enumerate(likely[question]):
            rest_of_it = rest.diagrams.restrict(diagram, {question: option})
            shares[rest_of_it] = shares.get(rest_of_it, 0) + share
        below = [(share, efforts(left)) for left, share in shares.items()]
        cost = signs[rest.questions[question]].effort.cost
        return cost + sum(s * least for s, (least, _) in below), cost + sum(s * led for s, (_, led) in below)

    def efforts(diagram: Diagram) -> tuple[float, float]:
        if isinstance(diagram, Leaf):
            return 0, 0
        if diagram not in found:
            ways = {question: after(diagram, question) for question in questions_in(diagram)}
            found[diagram] = min(least for least, _ in ways.values()), ways[chooser.order(diagram)[0]][1]
        return found[diagram]

    return efforts(rest.root)


def test_an_interview_led_by_the_chooser_is_within_two_percent_of_the_least_effort_and_never_ten_over() -> None:
    over = []
    for seed in range(200):
        rulebook = Maker(Random(seed)).rulebook()
        rest = whole(rulebook)
        if 1 < len(list(nodes_below(rest.root))) < 25:
            least, led = least_effort(rest, dict(rulebook.signs))
            over.append(led / least)
    assert len(over) > 60
    assert sum(over) / len(over) < 1.02
    assert max(over) < 1.10
