"""What interviews are expected to cost by how they pick their questions, beside the true optimum; how long that takes.

Run by hand, from the repository: `PYTHONPATH=tests:tests/benchmarks python tests/benchmarks/interview_effort.py`
(some minutes). Efforts are in looks across the bed. The optimum tries every question at every step and
remembers each remainder. Where there are too many remainders for that, a way of asking is left as soon
as it must cost more than the best one found, by the effort of the questions that no honest interview can
leave out; wherever both can be done, both are, and must agree. Exit 1 when the chooser is too far from
the optimum, or too slow on the clock, which asks for an otherwise idle machine.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import islice
from random import Random
from statistics import mean, quantiles
from time import perf_counter, process_time
from typing import NamedTuple

from interview.gardens_of_options import small_rulebook
from large_rulebooks import Size, large_rulebook
from random_rulebooks import ON, Maker
from ways_of_asking import WAYS, Interviews, Optimum, Start, TooMany

from assistant.interview.choosing import Chooser, likelihoods
from assistant.interview.diagrams import Node
from assistant.interview.remainder import remainder
from assistant.measures import domains, known_readings
from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.readings import Known, Origin
from assistant.model.rules import Rulebook
from assistant.rulebook import read_rulebook

MEAN_OVER, WORST_OVER, MILLISECONDS = 0.02, 0.10, 20
SHIPPED = read_rulebook("sweetpotato/when-to-dig")
FROST_DATES = (
    None,
    FrostDates(MonthDay(10, 4), MonthDay(10, 17), MonthDay(10, 30)),
    FrostDates(MonthDay(10, 22), MonthDay(11, 3), MonthDay(11, 15)),
)


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
