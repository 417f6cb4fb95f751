"""What a verdict costs in the engine, on a rulebook of 60 rules over 30 signs.

Run with `python -m pytest tests/benchmarks/bench_engine.py`; the growth test runs ten thousand verdicts.
"""

from __future__ import annotations

import resource
import sys
from dataclasses import replace
from random import Random

import pytest
from pytest_benchmark.fixture import BenchmarkFixture
from random_rulebooks import Maker, domains, known

from assistant.inference import engine, run
from assistant.model.quantities import Kind
from assistant.model.rules import Rulebook
from assistant.model.signs import Effort, Sign

SECONDS_FOR_A_VERDICT = 0.005


def large_rulebook() -> Rulebook:
    """60 rules over 30 signs, all in layers."""
    maker = Maker(Random(11))
    extra = {f"sign {n}": Sign(f"sign {n}", Kind.NUMBER, "", "", Effort.GLANCE, low=0, high=20) for n in range(22)}
    small = maker.rulebook(rules=0)
    wide = replace(small, signs={**small.signs, **extra})
    rules = tuple(maker.rules(wide, 60))
    return replace(wide, rules=rules)


def test_a_verdict_takes_less_than_five_milliseconds(benchmark: BenchmarkFixture) -> None:
    rulebook = large_rulebook()
    whole, readings = domains(rulebook), known(Maker(Random(5)).readings(rulebook))
    run(rulebook, readings, whole)
    benchmark(run, rulebook, readings, whole)
    assert _median(benchmark) < SECONDS_FOR_A_VERDICT


def test_the_first_verdict_with_compiling_is_quick(benchmark: BenchmarkFixture) -> None:
    rulebook = large_rulebook()
    whole, readings = domains(rulebook), known(Maker(Random(5)).readings(rulebook))

    def cold() -> None:
        run(replace(rulebook), readings, whole)

    benchmark.pedantic(cold, rounds=10)  # type: ignore[no-untyped-call]
    assert _median(benchmark) < 10 * SECONDS_FOR_A_VERDICT


@pytest.mark.skipif(sys.platform == "win32", reason="no resource usage there")
def test_ten_thousand_verdicts_leave_memory_as_it_was() -> None:
    rulebook = large_rulebook()
    whole, maker = domains(rulebook), Maker(Random(5))
    cases = [known(maker.readings(rulebook)) for _ in range(100)]
    grown = []
    for _ in range(5):
        for case in cases * 20:
            run(rulebook, case, whole)
        grown.append(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
    print("peak memory after each 2,000 verdicts (KiB):", grown)
    assert grown[-1] - grown[0] < 8 * 1024


def test_rulebooks_that_are_gone_leave_no_machine_behind() -> None:
    maker = Maker(Random(1))
    before = len(engine._machines)
    for _ in range(50):
        rulebook = maker.rulebook()
        run(rulebook, known(maker.readings(rulebook)), domains(rulebook))
        del rulebook
    assert len(engine._machines) <= before + 1


def _median(benchmark: BenchmarkFixture) -> float:
    assert benchmark.stats is not None
    return float(benchmark.stats.stats.median)
