"""The same rules on the same gardens, decided along the remainder and by rule engines of the registry.

Run by hand: `python tests/benchmarks/engines.py [FOLDER]`, with the `benchmarks` extra installed. On the
shipped rulebook and on a made-up one of 120 signs and 600 rules it times, in turns, what each takes for a
decision given facts as it likes them best, and from the readings on; compares all answers; and prints the
ratios to the remainder (also to engines.md in the folder). Exit 1 when an answer differs or when the
remainder is not the quickest.

What is counted: for everyone one whole decision, from facts to the advice and whether rules disagree.
Translating and compiling the rules once is not counted, nor is building the remainder (both are
printed). The remainder and the evaluator take readings as they are; the engines are given plain numbers
made beforehand, and asserting facts counts where an engine wants them asserted. They are told only what
a decision needs: rules of one conclusion are one expression where an engine has expressions, and nothing
is recorded, while `assistant.inference.run` also leaves the derivation. What only an engine can do (facts
that come and go, rules that change while it runs) is not asked of it here.
"""

from __future__ import annotations

import gc
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from itertools import count
from pathlib import Path
from random import Random
from typing import NamedTuple

from deciders import AlongTheRemainder, Decider, DurableAlone, EngineRoom, PlainEvaluator, PlainPython, readings_of
from large_rulebooks import ON, SIZES, Size, garden, known_with, large_rulebook
from registry_engines import Clips, CommonExpressions, RuleEngine, Zen

from assistant.inference import evaluate
from assistant.interview.diagrams import TooLarge
from assistant.interview.remainder import Ending, whole_remainder
from assistant.measures import domains
from assistant.model.readings import Known
from assistant.model.rules import Rulebook
from assistant.rulebook import read_rulebook

GARDENS = 200
ROUNDS = 7
LARGE = SIZES[-1]._replace(tangle=0.2)

DECIDERS: dict[str, Callable[[Rulebook], Decider]] = {
    "along the remainder": AlongTheRemainder,
    "plain evaluator": PlainEvaluator,
    "no engine, the rules as a Python function": PlainPython,
    "durable-rules, as digday runs it": EngineRoom,
    "durable-rules alone": DurableAlone,
    "clipspy": Clips,
    "rule-engine": RuleEngine,
    "zen-engine": Zen,
    "common-expression-language": CommonExpressions,
}


class Timing(NamedTuple):
    """How long one decider took: seconds to make ready, microseconds a decision, and how many answers differ."""

    name: str
    ready: float
    deciding: float
    from_readings: float
    differing: int


def compare(rulebook: Rulebook) -> list[Timing]:
    """All deciders on the same gardens, in turns, the best turn of each; answers are held against the evaluator's."""
    random = Random(1)
    gardens = [garden(rulebook, random) for _ in range(GARDENS)]
    whole = domains(rulebook, ON)
    evaluated = [evaluate(rulebook, readings_of(known), whole) for known in gardens]
    due = [Ending(found.advice, bool(found.conflicts)) for found in evaluated]
    ready = {name: made for name, make in DECIDERS.items() if (made := _made(name, make, rulebook))}
    differing = {name: _differing(decider, gardens, due) for name, (decider, _) in ready.items()}
    gc.collect()
    gc.freeze()  # or the nodes of the remainder would slow the others down, who make more rubbish
    turns = [{name: _microseconds(decider, gardens) for name, (decider, _) in ready.items()} for _ in range(ROUNDS)]
    return [
        Timing(name, ready[name][1], *(min(turn[name][part] for turn in turns) for part in (0, 1)), differing[name])
        for name in ready
    ]


def _made(name: str, make: Callable[[Rulebook], Decider], rulebook: Rulebook) -> tuple[Decider, float] | None:
    """The decider and the seconds it took to make; None when its library is not installed."""
    begun = time.perf_counter()
    try:
        decider = make(rulebook)
    except ModuleNotFoundError as missing:
        print(f"{name} is left out: {missing}", file=sys.stderr)
        return None
    return decider, time.perf_counter() - begun


def _differing(decider: Decider, gardens: Sequence[Mapping[str, Known]], due: Sequence[Ending]) -> int:
    return sum(decider.decide(decider.facts(known)) != end for known, end in zip(gardens, due, strict=True))


def _microseconds(decider: Decider, gardens: Sequence[Mapping[str, Known]]) -> tuple[float, float]:
    """For one decision, from facts made ready and from the readings on."""
    begun = time.perf_counter()
    ready = [decider.facts(known) for known in gardens]
    made = time.perf_counter()
    for facts in ready:
        decider.decide(facts)
    decided = time.perf_counter()
    return (decided - made) / len(gardens) * 1e6, (decided - begun) / len(gardens) * 1e6


def table(title: str, timings: Sequence[Timing]) -> str:
    """The timings as people read them, each beside the remainder's."""
    first = timings[0]
    lines = [
        f"### {title}",
        "",
        "| decided by | µs | ratio | µs from readings | ratio | ready in s | answers that differ |",
    ]
    lines += ["| --- | ---: | ---: | ---: | ---: | ---: | ---: |"]
    lines += [
        f"| {one.name} | {one.deciding:,.1f} | {one.deciding / first.deciding:,.1f} | {one.from_readings:,.1f} "
        f"| {one.from_readings / first.from_readings:,.1f} | {one.ready:.2f} | {one.differing} of {GARDENS} |"
        for one in timings
    ]
    return "\n".join([*lines, ""])


def largest_that_fits(size: Size) -> tuple[Rulebook, int]:
    """A made-up rulebook of that size whose remainder can be held, and its seed."""
    for seed in count(1):
        rulebook = large_rulebook(size, seed)
        try:
            whole_remainder(rulebook, known_with(rulebook, {}), domains(rulebook, ON))
        except TooLarge:
            continue
        return large_rulebook(size, seed), seed
    raise AssertionError("counting goes on for ever")


def main() -> int:
    """Prints both tables; 1 when an answer differs or something is quicker than the remainder."""
    large, seed = largest_that_fits(LARGE)
    subjects = {
        "The shipped rulebook": read_rulebook("sweetpotato/when-to-dig"),
        f"{LARGE.signs} signs, {LARGE.rules} rules (made up, seed {seed})": large,
    }
    found = {title: compare(rulebook) for title, rulebook in subjects.items()}
    text = "\n".join(table(title, timings) for title, timings in found.items())
    print(text)
    if len(sys.argv) > 1:
        Path(sys.argv[1], "engines.md").write_text(text, encoding="utf-8")
    beaten = any(one.deciding < timings[0].deciding for timings in found.values() for one in timings[1:])
    return int(beaten or any(one.differing for timings in found.values() for one in timings))


if __name__ == "__main__":
    sys.exit(main())
