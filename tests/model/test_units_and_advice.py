"""The unit system people write in never changes what rules fire."""

from __future__ import annotations

from random import Random

import pytest
from random_rulebooks import Maker, domains

from assistant.inference import evaluate
from assistant.model.quantities import Kind, Units, celsius, parse_value
from assistant.model.readings import Span


@pytest.mark.parametrize("seed", range(4))
def test_an_answer_in_celsius_fires_the_same_rules_as_in_fahrenheit(seed: int) -> None:
    maker = Maker(Random(seed))
    fired = 0
    for _ in range(100):
        rulebook = maker.rulebook()
        readings = maker.readings(rulebook)
        warmth = readings["warmth"]
        assert isinstance(warmth, Span)
        ends = (f"{celsius(end):.4f}" for end in (warmth.low, warmth.high))
        metric = {**readings, "warmth": Span(*(parse_value(Kind.TEMPERATURE, end, Units.METRIC) for end in ends))}
        whole = domains(rulebook)
        assert evaluate(rulebook, metric, whole) == evaluate(rulebook, readings, whole)
        fired += len(evaluate(rulebook, readings, whole).fired)
    assert fired > 100
