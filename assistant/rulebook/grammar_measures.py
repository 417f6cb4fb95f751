"""The grammar of measures: numbers reckoned from a sign, a table, the garden's dates or the weather."""

from __future__ import annotations

from assistant.model.signs import WEATHER_QUANTITIES
from assistant.rulebook.grammar_words import NAME_TEXT, RANGE, SENTENCE
from assistant.rulebook.shapes import Form, Key, Number, Record, Text, Value

MEASURE = Record(
    "a measure",
    {
        "says": Key(SENTENCE, "What it is, in words.", True),
        "days_since": Key(NAME_TEXT, "The date sign that days are counted from."),
        "days_until": Key(
            Text("a date of the garden", "first_frost.p10"), "The garden's own date that days are counted to."
        ),
        "weather": Key(
            Text("a quantity of the weather", words=WEATHER_QUANTITIES),
            "What a station's record and a forecast tell; can be anything while they are not known.",
        ),
        "at_or_below": Key(Value("a temperature", "32 F"), "With weather: chance, the low whose chance it is."),
        "nights": Key(
            Number("a whole number", "7", whole=True, least=0),
            "With weather: the coming nights that count, tonight being one; for the soil, days on.",
        ),
        "lookup": Key(NAME_TEXT, "The choice sign that picks the row of a table."),
        "table": Key(NAME_TEXT, "The table that is looked up."),
        "column": Key(NAME_TEXT, "The column that is read."),
        "range": Key(RANGE, "The lowest and highest it can be when nothing is known."),
        "unit": Key(Text("a unit", "days"), "What it counts; days when left out."),
    },
    forms={
        "days_since": Form(("days_since", "range")),
        "days_until": Form(("days_until", "range")),
        "weather": Form(("weather", "nights", "range"), ("at_or_below", "unit")),
        "lookup": Form(("lookup", "table", "column"), ("unit",)),
    },
)
