"""The engine against the three-valued evaluator on thousands of random rulebooks and cases."""

from __future__ import annotations

from random import Random

import pytest
from random_rulebooks import Maker, domains, known

from assistant.inference import TooManyBranches, evaluate, run

BATCHES = 12
RULEBOOKS = 25
CASES = 8


@pytest.mark.parametrize("batch", range(BATCHES))
def test_the_engine_fires_what_the_evaluator_says_must_fire(batch: int) -> None:
    maker = Maker(Random(batch))
    compared = 0
    for _ in range(RULEBOOKS):
        rulebook = maker.rulebook(rules=maker.random.randint(1, 25))
        whole = domains(rulebook)
        for _ in range(CASES):
            readings = maker.readings(rulebook)
            expected = evaluate(rulebook, readings, whole)
            try:
                derivation = run(rulebook, known(readings), whole)
            except TooManyBranches:
                break
            assert derivation.fired == expected.fired
            assert dict(derivation.knowledge.concluded) == dict(expected.concluded)
            assert derivation.advice == expected.advice
            assert derivation.conflicts == expected.conflicts
            assert derivation.cautions == expected.cautions
            compared += 1
    assert compared > 0.8 * RULEBOOKS * CASES
