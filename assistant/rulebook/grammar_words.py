"""Words, ranges, sources and conditions: shapes that the grammars of rulebooks and of cases are made of."""

from __future__ import annotations

from assistant.model.quantities import MOST_DAYS
from assistant.model.rules import COMMON_PRACTICE
from assistant.rulebook.shapes import Either, Key, ListOf, Named, Number, Record, Text, Value

FORMAT = 1  # the grammar's version; a rulebook of a later one is refused
CANT_TELL = "can't tell"
ALWAYS_WORD = "always"
SOURCE_ID = r"^[A-Za-z0-9][A-Za-z0-9_-]*$"

SENTENCE = Text("a sentence")
NAME_TEXT = Text("a name")
RANGE_PATTERN = r"^.*[0-9.].*\.\.\s*[-+−]?[0-9.].*$"
RANGE = Value("a range", "0..300", RANGE_PATTERN)
BOUNDS = Value("a range", "0..7, or with its unit -20..100 F", RANGE_PATTERN)
COUNT = Number("a whole number", "7", whole=True, least=-MOST_DAYS, most=MOST_DAYS)
SOURCE_LIST = ListOf(Text("the name of a source", "R09"), "a list of sources", "[R09]")
SOURCES = Either(
    (
        SOURCE_LIST,
        Text("a list of sources", "[R09]", words={COMMON_PRACTICE: "Growers do so; nobody has written it down."}),
    ),
    "a list of sources",
    f"[R09], or: {COMMON_PRACTICE}",
)
NAME_LIST = ListOf(NAME_TEXT, "a list of names", "[first, second]")

CITED = Key(
    SOURCES, f"Who says so: a list of sources from sources.yaml, or the words: {COMMON_PRACTICE}.", True, "no-source"
)
DISPUTED = Key(NAME_LIST, "The disagreements that matter when this holds.")
WHEN = Key(
    Named("condition", "a condition", "{vines: yellowing}"), "What must hold for everything the answers allow.", True
)

_PART = Named("condition", "a condition")
_PARTS = ListOf(_PART, "a list of conditions", least=1)
CONDITION = Either(
    (
        Text("a condition", words={ALWAYS_WORD: "Holds whatever is known."}),
        Record(
            "a condition",
            {
                "all": Key(_PARTS, "Every one must hold."),
                "any": Key(_PARTS, "One must hold."),
                "not": Key(_PART, "Must not hold."),
                "could": Key(_PART, "May hold, for all that is known."),
            },
            "{vines: yellowing}",
            others=Key(
                Either(
                    (
                        Text("a choice"),
                        ListOf(Text("a choice"), "a list of choices", "[green, yellowing]", least=1),
                        Record(
                            "a comparison",
                            {
                                word: Key(
                                    Value("a bound", "36 F"),
                                    f"The value is {word.replace('_', ' ')} this, with its unit.",
                                )
                                for word in ("at_least", "above", "at_most", "below")
                            },
                            "{at_most: 36 F}",
                            least=1,
                        ),
                    ),
                    "a choice, a list of choices or a comparison",
                    "yellowing, [green, yellowing] or {at_most: 36 F}",
                ),
                f"A sign, measure or finding, with its choice, choices, bounds, or the words: {CANT_TELL}.",
            ),
            least=1,
        ),
    ),
    "a condition",
    "{vines: yellowing}, or: always",
)
