"""A small rulebook to fill in, for tests that need just one or two rules."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.model.conditions import Condition
from assistant.model.quantities import Kind
from assistant.model.readings import Reading, Span, one_of
from assistant.model.rules import ADVICE, Advice, Caution, Finding, Rule, Rulebook, Several
from assistant.model.signs import DaysSince, Effort, Lookup, Measure, Row, Sign, Table

VINES = ("green", "yellowing", "withered")
DOMAINS: dict[str, Reading] = {
    "nights": Span(-20, 100),
    "vines": one_of(*VINES),
    "planted": Span(0, 300),
    "variety": one_of("early", "late"),
    "days": Span(0, 300),
    "needed": Span(90, 120),
}


def rule(name: str, when: Condition, concludes: str = ADVICE, value: str = "dig") -> Rule:
    """A rule that only matters for when it fires and what it concludes."""
    return Rule(name, "", when, concludes, value)


def rulebook(
    *rules: Rule, cautions: Mapping[str, Condition] | None = None, several: Several = Several.FIRST_WINS
) -> Rulebook:
    """Signs of three kinds, a lookup with ends 90, 100 and 110, 120, the finding `size` and three pieces of advice."""
    rows = {name: Row(name, name, {"days": span}, ()) for name, span in _DAYS.items()}
    return Rulebook(
        name="small",
        title="",
        version="1",
        about="",
        signs={
            "nights": Sign("nights", Kind.TEMPERATURE, "", "", Effort.GLANCE, low=-20, high=100),
            "vines": Sign("vines", Kind.CHOICE, "", "", Effort.GLANCE, choices=dict.fromkeys(VINES, "")),
            "planted": Sign("planted", Kind.NUMBER, "", "", Effort.GLANCE, low=0, high=300),
            "variety": Sign("variety", Kind.CHOICE, "", "", Effort.GLANCE, choices=dict.fromkeys(rows, "")),
        },
        measures={
            "days": Measure("days", "", DaysSince("planted"), 0, 300),
            "needed": Measure("needed", "", Lookup("variety", "varieties", "days"), 90, 120),
        },
        tables={"varieties": Table("varieties", rows)},
        findings={"size": Finding("size", "", {"small": "", "right": "", "big": ""})},
        advice={name: Advice(name, name, name) for name in ("salvage", "dig", "wait")},
        several=several,
        rules=rules,
        cautions={name: Caution(name, "", when) for name, when in (cautions or {}).items()},
        disagreements={},
        sources={},
    )


_DAYS = {"early": Span(90, 110), "late": Span(100, 120)}
