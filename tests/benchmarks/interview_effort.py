"""What interviews are expected to cost by how they pick their questions, beside the true optimum; how long that takes.

Run by hand, from the repository: `PYTHONPATH=tests:tests/benchmarks python tests/benchmarks/interview_effort.py`
(some minutes). Efforts are in looks across the bed. The optimum tries every question at every step and
remembers each remainder. Where there are too many remainders for that, a way of asking is left as soon
as it must cost more than the best one found, by the effort of the questions that no honest interview can
leave out; wherever both can be done, both are, and must agree. Exit 1 when the chooser is too far from
the optimum or too slow.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import islice
from math import inf
from random import Random
from statistics import mean, quantiles
from time import perf_counter, process_time
from typing import NamedTuple

from interview.gardens_of_options import small_rulebook
from large_rulebooks import Size, large_rulebook
from random_rulebooks import ON, Maker

from assistant.interview.choosing import Chooser, Merged, likelihoods
from assistant.interview.diagrams import Diagram, Leaf, Node, questions_in
from assistant.interview.remainder import Remainder, remainder
from assistant.measures import domains, known_readings
from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.readings import Known, Origin
from assistant.model.rules import Rulebook
from assistant.model.signs import Sign
from assistant.rulebook import read_rulebook

MEAN_OVER, WORST_OVER, MILLISECONDS = 0.02, 0.10, 20
MOST_REMAINDERS = 20_000
WALKS = 200
SHIPPED = read_rulebook("sweetpotato/when-to-dig")
FROST_DATES = (
    None,
    FrostDates(MonthDay(10, 4), MonthDay(10, 17), MonthDay(10, 30)),
    FrostDates(MonthDay(10, 22), MonthDay(11, 3), MonthDay(11, 15)),
)
Policy = Callable[[Diagram], int]


class TooMany(Exception):
    """More remainders than can be gone through."""


class Optimum:
    """The least expected effort of all ways of asking."""

    def __init__(self, rest: Remainder, signs: Mapping[str, Sign]) -> None:
        self.merged = Merged(rest, signs)
        self.root = self.merged.of(rest.root)
        self.costs = [signs[name].effort.cost for name in rest.questions]
        self.every: dict[Diagram, float] = {}
        self.exact: dict[Diagram, float] = {}
        self.at_least: dict[Diagram, float] = {}
        self.probability: dict[tuple[Diagram, int], float] = {}
        self.differing: dict[frozenset[Diagram], float] = {}

    def by_trying_all(self, diagram: Diagram) -> float:
        """Every question at every step. Raises `TooMany`."""
        if isinstance(diagram, Leaf):
            return 0.0
        if diagram not in self.every:
            ways = [self._cost(diagram, question, self.by_trying_all) for question in questions_in(diagram)]
            self.every[diagram] = min(ways)
            if len(self.every) > MOST_REMAINDERS:
                raise TooMany
        return self.every[diagram]

    def _cost(self, diagram: Node, question: int, of: Callable[[Diagram], float]) -> float:
        after = self.merged.after(diagram, question)
        return self.costs[question] + sum(share * of(left) for left, share in after.items())

    def by_bounds(self, diagram: Diagram, limit: float = inf) -> float:
        """The same; a value from the limit on only says that it is no less."""
        if isinstance(diagram, Leaf):
            return 0.0
        known = self.exact.get(diagram, max(self.at_least.get(diagram, 0.0), self.bound(diagram)))
        if diagram in self.exact or known >= limit:
            return known
        best = limit
        for total, question in self._first(diagram):
            for left, share in self.merged.after(diagram, question).items():
                if total >= best:
                    break
                bound = self.bound(left)
                total += share * (self.by_bounds(left, bound + (best - total) / share) - bound)
            best = min(best, total)
        (self.exact if best < limit else self.at_least)[diagram] = best
        return best

    def _first(self, diagram: Node) -> list[tuple[float, int]]:
        """The questions that can come first with what that costs at least; one that is always needed may be it."""
        questions = questions_in(diagram)
        certain = [question for question in questions if self.needed(diagram, question) > 1 - 1e-9]
        return sorted((self._cost(diagram, question, self.bound), question) for question in certain[:1] or questions)

    def bound(self, diagram: Diagram) -> float:
        """The effort of the questions that cannot be left out."""
        return sum(self.costs[question] * self.needed(diagram, question) for question in questions_in(diagram))

    def needed(self, diagram: Diagram, question: int) -> float:
        """The probability that the answer to a question alone, all others as they are, changes the ending."""
        if isinstance(diagram, Leaf) or diagram.question > question:
            return 0.0
        if diagram.question == question:
            return self._differ(frozenset(diagram.children))
        if (diagram, question) not in self.probability:
            shares = zip(self.merged.likely[diagram.question], diagram.children, strict=True)
            self.probability[diagram, question] = sum(share * self.needed(child, question) for share, child in shares)
        return self.probability[diagram, question]

    def _differ(self, diagrams: frozenset[Diagram]) -> float:
        if len(diagrams) == 1 or all(isinstance(diagram, Leaf) for diagram in diagrams):
            return float(len(diagrams) > 1)
        if diagrams not in self.differing:
            question = min(diagram.question for diagram in diagrams)
            self.differing[diagrams] = sum(
                share * self._differ(frozenset(self.merged.diagrams.restrict(d, question, option) for d in diagrams))
                for option, share in enumerate(self.merged.likely[question])
            )
        return self.differing[diagrams]


class Interviews:
    """The interviews of one rulebook, by the way of picking questions."""

    def __init__(self, start: Start) -> None:
        self.rest, self.signs, self.unasked = rest, signs, _ = start
        self.costs = [signs[name].effort.cost for name in rest.questions]
        self.likely = [likelihoods(signs[name], rest.options[name]) for name in rest.questions]
        places = {name: place for place, name in enumerate(signs)}
        self.places = [places[name] for name in rest.questions]
        self.known: dict[tuple[Diagram, int], dict[Diagram, float]] = {}

    def after(self, diagram: Diagram, question: int) -> dict[Diagram, float]:
        """What can remain after a question, and how likely each is."""
        if (diagram, question) not in self.known:
            found = self.known[diagram, question] = {}
            for option, share in enumerate(self.likely[question]):
                left = self.rest.diagrams.restrict(diagram, question, option)
                found[left] = found.get(left, 0.0) + share
        return self.known[diagram, question]

    def effort(self, policy: Policy) -> float:
        """What is to be expected when the policy picks every question until the advice is settled."""
        found: dict[Diagram, float] = {}

        def expected(diagram: Diagram) -> float:
            if isinstance(diagram, Leaf):
                return 0.0
            if diagram not in found:
                question = policy(diagram)
                after = self.after(diagram, question)
                found[diagram] = self.costs[question] + sum(share * expected(left) for left, share in after.items())
            return found[diagram]

        return expected(self.rest.root)

    def chooser(self) -> float:
        """Led by the chooser."""
        chooser = Chooser(self.rest, self.signs)
        return self.effort(lambda diagram: chooser.order(diagram)[0])

    def cheapest(self) -> float:
        """The least effort first, of those that matter."""
        return self.effort(lambda diagram: min(questions_in(diagram), key=lambda q: (self.costs[q], self.places[q])))

    def in_order(self) -> float:
        """In the rulebook's order, of those that matter."""
        return self.effort(lambda diagram: min(questions_in(diagram), key=self.places.__getitem__))

    def in_order_skipping_none(self) -> float:
        """In the rulebook's order, those that cannot matter too, until the advice is settled."""
        unasked = [question for question, name in enumerate(self.rest.questions) if name in self.unasked]
        order = sorted(unasked, key=self.places.__getitem__)
        found: dict[tuple[Diagram, int], float] = {}

        def expected(diagram: Diagram, place: int) -> float:
            if isinstance(diagram, Leaf):
                return 0.0
            if (diagram, place) not in found:
                after = self.after(diagram, order[place])
                below = sum(share * expected(left, place + 1) for left, share in after.items())
                found[diagram, place] = self.costs[order[place]] + below
            return found[diagram, place]

        return expected(self.rest.root, 0)

    def at_random(self) -> float:
        """Any of those that matter: the mean of some hundred interviews."""
        random = Random(1)
        return mean(self._walk(random) for _ in range(WALKS))

    def _walk(self, random: Random) -> float:
        diagram, effort = self.rest.root, 0
        while isinstance(diagram, Node):
            question = random.choice(sorted(questions_in(diagram)))
            effort += self.costs[question]
            (diagram,) = random.choices(*zip(*self.after(diagram, question).items(), strict=True))
        return effort

    def everything(self) -> float:
        """Every sign that nobody has asked."""
        return sum(self.signs[name].effort.cost for name in self.unasked)


WAYS = (
    Interviews.chooser,
    Interviews.cheapest,
    Interviews.in_order,
    Interviews.at_random,
    Interviews.in_order_skipping_none,
    Interviews.everything,
)


class Start(NamedTuple):
    """Where an interview starts: what remains of a rulebook, and the signs that nobody has asked yet."""

    rest: Remainder
    signs: Mapping[str, Sign]
    unasked: frozenset[str]


class Found(NamedTuple):
    """The least effort from one start, whether every way of asking was tried, and the effort of each way."""

    least: float
    tried_all: bool
    ways: tuple[float, ...]


def measured(start: Start) -> Found:
    """The optimum and every way of picking questions."""
    optimum = Optimum(start.rest, start.signs)
    least = optimum.by_bounds(optimum.root)
    try:
        by_trying_all = optimum.by_trying_all(optimum.root)
        assert abs(by_trying_all - least) < 1e-6, (by_trying_all, least)
        tried_all = True
    except TooMany:
        tried_all = False
    interviews = Interviews(start)
    return Found(least, tried_all, tuple(way(interviews) for way in WAYS))


def start_of(rulebook: Rulebook, frost: FrostDates | None = None, given: Mapping[str, Known] | None = None) -> Start:
    """An interview with some answers given."""
    garden = Garden({"first_frost": frost} if frost else {})
    known = known_readings(rulebook, Case("", rulebook.name, ON, garden=garden, answers=given or {}))
    unasked = frozenset(name for name in rulebook.signs if known[name].origin is Origin.NOT_ASKED)
    return Start(remainder(rulebook, known, domains(rulebook, ON)), rulebook.signs, unasked)


def open_ones(starts: Iterable[Start]) -> Iterator[Start]:
    """Those in which there is anything to ask."""
    return (start for start in starts if isinstance(start.rest.root, Node))


def shipped(answered: int, count: int) -> Iterator[Start]:
    """The shipped rulebook with each kind of frost dates, after some answers that leave it open."""
    random = Random(3)
    for frost in FROST_DATES:
        given = (dict(islice(answers(random), answered)) for _ in range(20 * count))
        yield from islice(open_ones(start_of(SHIPPED, frost, some) for some in given), count)


def answers(random: Random) -> Iterator[tuple[str, Known]]:
    """Signs in any order, each answered as often as the chooser takes it to be."""
    rest = start_of(SHIPPED).rest
    for name in random.sample(rest.questions, len(rest.questions)):
        (option,) = random.choices(rest.options[name].all, likelihoods(SHIPPED.signs[name], rest.options[name]))
        yield name, Known(option.reading, Origin.ANSWERED)


GROUPS = {
    "shipped, nothing answered": lambda: shipped(0, 1),
    "shipped, 6 answers": lambda: shipped(6, 15),
    "shipped, 9 answers": lambda: shipped(9, 15),
    "random, 3 signs, 3-8 rules": lambda: map(start_of, (small_rulebook(seed, 3 + seed % 6) for seed in range(200))),
    "random, 6-9 signs, 12 rules": lambda: map(start_of, (Maker(Random(seed)).rulebook() for seed in range(200))),
    "random, 6-9 signs, 24 rules": lambda: map(start_of, (Maker(Random(seed)).rulebook(24) for seed in range(200))),
    "made up, 10 signs, 40 rules": lambda: map(start_of, (large_rulebook(Size(10, 40), seed) for seed in range(20))),
}


LARGER = {
    "made up, 20 signs, 100 rules": lambda: map(start_of, (large_rulebook(Size(20, 100), seed) for seed in range(10))),
    "made up, 40 signs, 200 rules": lambda: map(start_of, (large_rulebook(Size(40, 200), seed) for seed in range(10))),
}


def print_efforts() -> bool:
    """One line a group; whether the chooser is as near to the optimum as it should be."""
    names = " ".join(f"{way.__name__.replace('_', ' ')[:14]:>15}" for way in WAYS[1:])
    print(f"\n{'effort':28}{'n':>4}{'all tried':>10}{'optimum':>9}{'chooser':>9}{'over':>8}{'worst':>8} {names}")
    fine = True
    for name, starts in GROUPS.items():
        found = [measured(start) for start in open_ones(starts())]
        over = [one.ways[0] / one.least - 1 for one in found]
        others = " ".join(f"{mean(one.ways[number] for one in found):15.2f}" for number in range(1, len(WAYS)))
        least, led = mean(one.least for one in found), mean(one.ways[0] for one in found)
        print(
            f"{name:28}{len(found):4}{sum(one.tried_all for one in found):10}{least:9.2f}{led:9.2f}"
            f"{mean(over):8.2%}{max(over):8.2%} {others}",
            flush=True,
        )
        fine = fine and mean(over) < MEAN_OVER and max(over) < WORST_OVER
    return fine


class Time(NamedTuple):
    """Milliseconds on the clock and of the processor."""

    clock: float
    processor: float


def timed(chooser: Callable[[Start], Chooser], start: Start) -> tuple[Time, str]:
    """How long it takes to choose, with making the chooser if need be; and the question chosen.

    Garbage is collected before, not meanwhile: a visit holds far less than all these rulebooks together.
    """
    gc.collect()
    gc.disable()
    clock, processor = perf_counter(), process_time()
    question = chooser(start).order(start.rest.root)[0]
    time = Time(1000 * (perf_counter() - clock), 1000 * (process_time() - processor))
    gc.enable()
    return time, start.rest.questions[question]


def anew(start: Start) -> Chooser:
    return Chooser(start.rest, start.signs)


def visits(shared: bool) -> Iterator[Time]:
    """How long each choice takes in a hundred visits; with `shared` by one chooser for all, else anew at each step."""
    random = Random(5)
    choosers = [anew(start_of(SHIPPED, frost)) for frost in FROST_DATES]
    for number in range(102):
        frost, kept = FROST_DATES[number % 3], choosers[number % 3]
        everything, given = dict(answers(random)), dict[str, Known]()
        start = start_of(SHIPPED, frost)
        while isinstance(start.rest.root, Node):
            time, question = timed((lambda _, kept=kept: kept) if shared else anew, start)
            yield time
            given[question] = everything[question]
            start = start_of(SHIPPED, frost, given)


def print_times() -> bool:
    """One line a group; whether a choice in a visit is quick enough."""
    print(f"{'choosing, milliseconds':36}{'n':>5}{'median':>8}{'95 %':>8}{'longest':>9}   (processor) 95 %")
    groups = {
        "in a visit, anew at each step": list(visits(shared=False)),
        "along one remainder, one chooser": list(visits(shared=True)),
        **{
            f"first of: {name}": [timed(anew, start)[0] for start in open_ones(starts())]
            for name, starts in {**GROUPS, **LARGER}.items()
        },
    }
    for name, times in groups.items():
        clock, processor = ([getattr(one, field) for one in times] for field in Time._fields)
        at, of_processor = quantiles(clock, n=20), quantiles(processor, n=20)
        print(f"{name:36}{len(times):5}{at[9]:8.2f}{at[-1]:8.2f}{max(clock):9.2f}{of_processor[-1]:20.2f}")
    return quantiles([one.clock for one in groups["in a visit, anew at each step"]], n=20)[-1] < MILLISECONDS


if __name__ == "__main__":
    sys.setrecursionlimit(10_000)
    sys.exit(not all([print_times(), print_efforts()]))
