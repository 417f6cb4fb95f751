"""The grammar of measures, and of what tells the signs that nobody is asked of."""

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
        "grown_by": Key(NAME_TEXT, "The count of days, for when a test dig's roots may be the wanted size."),
        "lookup": Key(NAME_TEXT, "The choice sign that picks the row of a table."),
        "table": Key(NAME_TEXT, "The table that is looked up."),
        "column": Key(NAME_TEXT, "The column that is read."),
        "range": Key(RANGE, "The lowest and highest it can be when nothing is known."),
        "unit": Key(Text("a unit", "days"), "What it counts; days when left out."),
    },
    forms={
        "days_since": Form(("days_since", "range")),
        "days_until": Form(("days_until", "range")),
        "grown_by": Form(("grown_by", "range")),
        "lookup": Form(("lookup", "table", "column"), ("unit",)),
    },
)

TOLD = Record(
    "what tells it",
    {
        "weather": Key(Text("a quantity of the weather", words=WEATHER_QUANTITIES), "What is reckoned.", True),
        "at_or_below": Key(Value("a temperature", "32 F"), "For a chance: the low whose chance it is."),
        "nights": Key(
            Number("a whole number", "7", whole=True, least=1),
            "How many coming nights count, tonight being the first; for the soil, how many days on.",
            True,
        ),
    },
    "{weather: chance, at_or_below: 32 F, nights: 7}",
)
