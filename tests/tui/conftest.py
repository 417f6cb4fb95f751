"""A small invented rulebook and garden, so that these tests stand on the screens and not on the shipped rules."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

import pytest

from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.conditions import All, AnyOf, Compare, Could, Not, OneOf, Op
from assistant.model.quantities import Kind
from assistant.model.rules import (
    ADVICE,
    Advice,
    Caution,
    Disagreement,
    How,
    InDays,
    OnGardenDate,
    Rule,
    Rulebook,
    Several,
    Side,
    Source,
    advice_is,
)
from assistant.model.signs import DaysSince, Effort, Measure, Sign
from assistant.season import Visit
from assistant.tui.app import DigDay
from assistant.tui.sitting import Sitting

SIGNS = (
    Sign(
        "vines",
        Kind.CHOICE,
        "What do the vines look like?",
        "Look along the whole bed, not at one plant.",
        Effort.GLANCE,
        choices={
            "green": "green all over",
            "yellowing": "old leaves turning yellow, the young ones still green and growing",
            "withered": "dry and brown, without a frost",
        },
    ),
    Sign(
        "forecast_low",
        Kind.TEMPERATURE,
        "How cold do the next seven nights get?",
        "Take the lowest low of the forecast for your own hollow, not for the town.",
        Effort.LOOK_UP,
        low=-20,
        high=100,
        about=3,
    ),
    Sign(
        "planted_on",
        Kind.DATE,
        "When did you plant the slips?",
        "A month will do if you don't remember the day.",
        Effort.LOOK_UP,
        high=300,
        about=7,
    ),
    Sign(
        "roots",
        Kind.CHOICE,
        "How big are the roots?",
        "Dig up one hill at the edge.",
        Effort.DIG,
        choices={"too-small": "thinner than a thumb", "right": "the size you want", "too-big": "bigger than a fist"},
    ),
)
SOURCE = Source("R01", "A bulletin on roots", "2009", How.READ)
DISAGREEMENT = Disagreement(
    "how-cold",
    "How cold may a night get?",
    (Side("36 °F is the end.", ("R01",)), Side("32 °F is the end.", ("common practice",))),
    "Act at 36 °F, because a thermometer in town reads warmer than a hollow.",
)
FROST_COULD_COME = Could(Compare("forecast_low", Op.AT_MOST, 36))
RIPE = AnyOf((OneOf("roots", frozenset({"right", "too-big"})), Compare("days_in_ground", Op.AT_LEAST, 120)))
RULES = (
    Rule(
        "frost-ahead",
        "A frost may come within the week, and early beats late.",
        All((FROST_COULD_COME, Not(OneOf("vines", frozenset({"withered"}))))),
        ADVICE,
        "dig-before-frost",
        act_by=(InDays(3),),
        sources=("R01",),
        disputed=("how-cold",),
    ),
    Rule("ripe", "The roots have had their time.", RIPE, ADVICE, "dig-now", sources=("common practice",)),
    Rule(
        "not-yet",
        "Nothing presses.",
        All(()),
        ADVICE,
        "wait",
        look_again=(InDays(14), OnGardenDate("first_frost.p10", -1)),
        sources=("common practice",),
    ),
)
ADVICE_KINDS = (
    Advice(
        "dig-before-frost", "Dig before the frost", "All of the bed, whatever the size.", ("Cut vines.", "Lift roots.")
    ),
    Advice("dig-now", "Dig now", "The roots are ready and the days are good.", ("Lift with a fork.",)),
    Advice("wait", "Wait", "Let them grow on.", ("Look again on the day named.",)),
)


def small_rulebook() -> Rulebook:
    return Rulebook(
        name="sweetpotato/when-to-dig",
        title="When to dig",
        version="1",
        about="A small one.",
        signs={sign.name: sign for sign in SIGNS},
        measures={"days_in_ground": Measure("days_in_ground", "days since planting", DaysSince("planted_on"), 0, 300)},
        tables={},
        findings={},
        advice={advice.name: advice for advice in ADVICE_KINDS},
        several=Several.FIRST_WINS,
        rules=RULES,
        cautions={
            "spade": Caution(
                "spade", "Set the fork a foot away from the crown.", advice_is("dig-now"), ("common practice",)
            )
        },
        disagreements={DISAGREEMENT.name: DISAGREEMENT},
        sources={SOURCE.id: SOURCE},
    )


@pytest.fixture
def visit() -> Visit:
    frost = FrostDates(MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2))
    garden = Garden({"first_frost": frost})
    case = Case("An invented garden by the river", "sweetpotato/when-to-dig", date(2031, 10, 4), garden=garden)
    return Visit(small_rulebook(), case)


@pytest.fixture
def case_file(tmp_path: Path) -> Path:
    return tmp_path / "garden.yaml"


@pytest.fixture
def sitting(visit: Visit, case_file: Path) -> Sitting:
    return Sitting(visit, case_file)


@pytest.fixture
def notebook(sitting: Sitting) -> DigDay:
    return DigDay(sitting)


@pytest.fixture(autouse=True)
def _no_settings_of_the_machine(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in [name for name in os.environ if name == "NO_COLOR" or name.startswith("TEXTUAL")]:
        monkeypatch.delenv(name)
