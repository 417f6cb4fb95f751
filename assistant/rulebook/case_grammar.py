"""The grammar of sources and of cases: every key, the shape of its value, and what editors show about it."""

from __future__ import annotations

from assistant.model.quantities import Units
from assistant.model.rules import COMMON_PRACTICE, How
from assistant.rulebook.grammar_words import (
    CANT_TELL,
    NAME_LIST,
    NAME_TEXT,
    RANGE,
    SENTENCE,
    SOURCE_ID,
    SOURCES,
)
from assistant.rulebook.shapes import Either, Key, ListOf, Names, Record, Text, Value

SOURCE = Record(
    "a source",
    {
        "title": Key(SENTENCE, "Author and title.", True),
        "year": Key(Value("a year", "2009"), "The year it came out.", True),
        "grade": Key(
            Text(
                "a grade",
                words={
                    "A": "Refereed paper or government standard.",
                    "B": "University or government extension.",
                    "C": "Commission or trade text.",
                    "D": "Old bulletin.",
                },
            ),
            "How much weight it has.",
        ),
        "how": Key(
            Text(
                "how the figure is known",
                words={
                    How.READ.value: "Read in the source or a published copy.",
                    How.FROM_MEMORY.value: "From memory, not looked up.",
                    How.RECKONED.value: "Arithmetic from figures that were read.",
                },
            ),
            "How its figures are known.",
            True,
        ),
        "where": Key(Text("an address"), "Where it can be read."),
    },
)
SOURCES_FILE = Record(
    "a file of sources",
    {"sources": Key(Names(SOURCE, "sources", pattern=SOURCE_ID), "Every source by its short name.", True)},
)

_DATE = r"^[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}$"
_DAY_OF_YEAR = Text("a day as month-day", "10-08", r"^[0-9]{1,2}-[0-9]{1,2}$")
_day = Key(Text("a date", "2031-10-04", _DATE), "The day the advice is for.", True)
_expected_day = Key(Text("a date", "2031-10-04", _DATE), "The day that must come out.")
_FROST = Record(
    "frost dates",
    {
        "p10": Key(_DAY_OF_YEAR, "Reached in 1 year of 10.", True),
        "p50": Key(_DAY_OF_YEAR, "Reached in 5 years of 10.", True),
        "p90": Key(_DAY_OF_YEAR, "Reached in 9 years of 10.", True),
    },
    "{p10: 10-08, p50: 10-20, p90: 11-02}",
)

EXPECT = Record(
    "what is expected",
    {
        "advice": Key(NAME_TEXT, "The kind of advice."),
        "outcome": Key(
            Text(
                "an outcome",
                words={
                    "settled": "One piece of advice.",
                    "open": "Not enough known.",
                    "no-advice": "No rule gives advice.",
                    "conflict": "Rules disagree.",
                },
            ),
            "How the run ends.",
        ),
        "fired": Key(NAME_LIST, "Rules that must fire."),
        "not_fired": Key(NAME_LIST, "Rules that must not fire."),
        "open": Key(NAME_LIST, "Rules that must stay open."),
        "cautions": Key(NAME_LIST, "Cautions that must be shown."),
        "disagreements": Key(NAME_LIST, "Disagreements that must be shown."),
        "act_by": _expected_day,
        "look_again": _expected_day,
        "findings": Key(
            Names(NAME_TEXT, "findings and their values", "{size: right}"), "Findings that must be concluded."
        ),
    },
    least=1,
)

_ROOTS = ListOf(Value("a diameter", "2.4"), "the diameters of one hill", "[2.1, 1.2, 3.0]")
CASE = Record(
    "a case",
    {
        "case": Key(SENTENCE, "The case in a sentence.", True),
        "rulebook": Key(NAME_TEXT, "The rulebook it is for, such as sweetpotato/when-to-dig.", True),
        "on": _day,
        "units": Key(
            Text(
                "a system of units",
                words={
                    Units.US.value: "Bare numbers are °F and inches.",
                    Units.METRIC.value: "Bare numbers are °C and centimetres.",
                },
            ),
            "The units of bare numbers.",
        ),
        "garden": Key(
            Record(
                "a garden",
                {
                    "first_frost": Key(_FROST, "When the first frost of autumn has come."),
                    "last_frost": Key(_FROST, "When the last frost of spring has come."),
                },
            ),
            "What stays the same from visit to visit.",
        ),
        "weather": Key(
            Record(
                "weather",
                {
                    "record": Key(Text("a file", "station.csv"), "A station's daily lows and highs, near the garden."),
                    "record_units": Key(
                        Text(
                            "a system of units",
                            words={Units.US.value: "Its CSV is in °F.", Units.METRIC.value: "Its CSV is in °C."},
                        ),
                        "The units of the record, when it is a CSV file in °C.",
                    ),
                    "forecast": Key(Text("a file", "forecast.json"), "A forecast kept as a file."),
                    "lows": Key(Text("forecast lows", "44 40 38 35 39 42 45"), "Forecast lows, tonight's first."),
                    "lows_on": Key(Text("a date", "2031-10-04", _DATE), "The day of the lows, if not the case's."),
                },
                least=1,
            ),
            "Where the weather is read from; files are looked for beside the case.",
        ),
        "signs": Key(
            Names(
                Either(
                    (
                        Value("a value", "54 F"),
                        ListOf(Text("a choice"), "a list of choices", "[green, yellowing]", least=1),
                    ),
                    "a value or a list of choices",
                    f"54 F, about 54 F, 50..54 F, green, [green, yellowing], or: {CANT_TELL}",
                ),
                "signs and what was seen",
                "{vines: green}",
                least=0,
            ),
            "What was seen: a value, 'about VALUE', LOW..HIGH, a list of choices, or the words can't tell. "
            "Leave out what was not asked.",
        ),
        "test_dig": Key(
            Record(
                "a test dig",
                {
                    "wanted": Key(RANGE, "The diameters wanted, with the unit.", True),
                    "hills": Key(
                        ListOf(_ROOTS, "a list of hills", "[[2.1, 1.2], [2.4]]", least=1),
                        "The roots of each hill.",
                        True,
                    ),
                },
            ),
            "Hills dug up to look.",
        ),
        "expect": Key(EXPECT, "In scenarios: what must come of it."),
        "sources": Key(SOURCES, f"In scenarios: who says so, or the words: {COMMON_PRACTICE}.", missing="no-source"),
    },
    needs={"expect": ("sources",)},
)
