"""The grammar of rulebooks, sources and cases: every key, the shape of its value, and what editors show about it."""

from __future__ import annotations

from assistant.model.quantities import Units
from assistant.model.rules import COMMON_PRACTICE, How, Several
from assistant.model.signs import Effort
from assistant.rulebook.shapes import Either, Form, Key, ListOf, Named, Names, Number, Record, Shape, Text, Value

FORMAT = 1  # the grammar's version; a rulebook of a later one is refused
CANT_TELL = "can't tell"
ALWAYS_WORD = "always"
SOURCE_ID = r"^[A-Za-z0-9][A-Za-z0-9_-]*$"

SENTENCE = Text("a sentence")
NAME_TEXT = Text("a name")
RANGE_PATTERN = r"^.*[0-9.].*\.\.\s*[-+−]?[0-9.].*$"
RANGE = Value("a range", "0..300", RANGE_PATTERN)
BOUNDS = Value("a range", "0..7, or with its unit -20..100 F", RANGE_PATTERN)
COUNT = Number("a whole number", "7", whole=True)
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

_sources = Key(
    SOURCES, f"Who says so: a list of sources from sources.yaml, or the words: {COMMON_PRACTICE}.", True, "no-source"
)
_disputed = Key(NAME_LIST, "The disagreements that matter when this holds.")
_when = Key(
    Named("condition", "a condition", "{vines: yellowing}"), "What must hold for everything the answers allow.", True
)

CONDITION = Either(
    (
        Text("a condition", words={ALWAYS_WORD: "Holds whatever is known."}),
        Record(
            "a condition",
            {
                "all": Key(
                    ListOf(Named("condition", "a condition"), "a list of conditions", least=1), "Every one must hold."
                ),
                "any": Key(
                    ListOf(Named("condition", "a condition"), "a list of conditions", least=1), "One must hold."
                ),
                "not": Key(Named("condition", "a condition"), "Must not hold."),
                "could": Key(Named("condition", "a condition"), "May hold, for all that is known."),
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

_plain_number = Form(("range",), ("unit", "about"))
SIGN = Record(
    "a sign",
    {
        "kind": Key(
            Text(
                "a kind of sign",
                words={
                    "number": "A number, such as days or nights.",
                    "temperature": "A temperature; bounds carry F or C.",
                    "length": "A length; bounds carry in or cm.",
                    "date": "A calendar date.",
                    "choice": "One of a few named choices.",
                    "yes-no": "Yes or no.",
                },
            ),
            "What the sign's values are.",
            True,
        ),
        "ask": Key(Text("a question"), "The question, short enough to read in the sun.", True),
        "look": Key(SENTENCE, "How to look, or where to find it.", True),
        "effort": Key(
            Text(
                "an effort",
                words={
                    Effort.GLANCE.value: "A look across the bed.",
                    Effort.STOOP.value: "A closer look, hands in the vines.",
                    Effort.LOOK_UP.value: "A paper, a forecast or a thermometer.",
                    Effort.DIG.value: "A hill dug up.",
                },
            ),
            "What an answer costs the grower.",
            True,
        ),
        "choices": Key(
            Names(SENTENCE, "choices", "{green: green all over, withered: withered}", least=2),
            "Each choice with its meaning, in order.",
        ),
        "choices_from": Key(NAME_TEXT, "A table whose rows are the choices."),
        "usual": Key(
            Names(Number("a weight", "3", least=0), "weights of choices", "{green: 3}"),
            "How often each choice is met, as weights.",
        ),
        "days_ago": Key(RANGE, "For a date: the earliest and latest it can be, in days before the visit."),
        "range": Key(BOUNDS, "The lowest and highest it can be, with the unit."),
        "unit": Key(Text("a unit", "nights"), "What a plain number counts."),
        "about": Key(Value("a margin", "3 F, 7 or 5 %"), "How far 'about VALUE' reaches to either side."),
        "sources": Key(SOURCES, "Who says that this sign tells something."),
    },
    forms={
        "number": _plain_number,
        "temperature": Form(("range",), ("about",)),
        "length": Form(("range",), ("about",)),
        "date": Form(("days_ago",), ("about",)),
        "choice": Form((), ("choices", "choices_from", "usual")),
        "yes-no": Form((), ("choices", "usual")),
    },
    by="kind",
)

MEASURE = Record(
    "a measure",
    {
        "says": Key(SENTENCE, "What it is, in words.", True),
        "days_since": Key(NAME_TEXT, "The date sign that days are counted from."),
        "days_until": Key(
            Text("a date of the garden", "first_frost.p10"), "The garden's own date that days are counted to."
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
        "lookup": Form(("lookup", "table", "column"), ("unit",)),
    },
)

ROW = Record(
    "a row of a table",
    {
        "named": Key(Text("a name as people write it", "Beauregard"), "What people call it.", True),
        "sources": _sources,
        "note": Key(SENTENCE, "A word about the figures."),
    },
    others=Key(Value("a range", "90..110"), "A column: one figure, or LOW..HIGH. Every row has the same columns."),
)

DAY = Record(
    "a day to reckon",
    {
        "days": Key(COUNT, "So many days after the visit; beside a date, days to move it by."),
        "nights": Key(NAME_TEXT, "A sign that counts days or nights ahead; its earliest counts."),
        "date": Key(Text("a date of the garden", "first_frost.p10"), "A date of the garden's own."),
        "when": Key(NAME_TEXT, "A measure that counts days and grows by one a day."),
        "reaches": Key(NAME_TEXT, "The measure that it has to reach."),
    },
    "{days: 14}",
    forms={
        "days": Form(("days",)),
        "nights": Form(("nights",)),
        "date": Form(("date",), ("days",)),
        "when": Form(("when", "reaches")),
    },
)
_DAYS = ListOf(DAY, "a list of days to reckon", "[{days: 14}]", least=1)

RULE = Record(
    "a rule",
    {
        "says": Key(SENTENCE, "The rule as a sentence the grower reads.", True),
        "when": _when,
        "then": Key(
            Names(NAME_TEXT, "one conclusion", "{advice: wait}, or {size: too-small}", most=1),
            "What is concluded: advice and its kind, or a finding and its value.",
            True,
        ),
        "act_by": Key(_DAYS, "Days to act by; the soonest counts."),
        "look_again": Key(_DAYS, "Days to look again on; the soonest counts."),
        "sources": _sources,
        "disputed": _disputed,
    },
)

CAUTION = Record(
    "a caution",
    {
        "text": Key(SENTENCE, "The word of warning.", True),
        "when": _when,
        "sources": _sources,
        "disputed": _disputed,
    },
)

SIDE = Record("a side", {"says": Key(SENTENCE, "What this side says.", True), "sources": _sources})
DISAGREEMENT = Record(
    "a disagreement",
    {
        "about": Key(SENTENCE, "What handbooks disagree over.", True),
        "sides": Key(ListOf(SIDE, "a list of sides", least=2), "Each side and who takes it.", True),
        "taken": Key(SENTENCE, "The side this rulebook takes, and why.", True),
    },
)

FINDING = Record(
    "a finding",
    {
        "says": Key(SENTENCE, "What is found out.", True),
        "values": Key(Names(SENTENCE, "values", "{right: the wanted size}"), "Each value with its meaning.", True),
    },
)

ADVICE_KIND = Record(
    "a kind of advice",
    {
        "headline": Key(SENTENCE, "The advice in a few words, as a command.", True),
        "says": Key(SENTENCE, "What it means.", True),
        "steps": Key(ListOf(SENTENCE, "a list of steps"), "What to do next, step by step."),
    },
)

ADVICE_SECTION = Record(
    "the advice",
    {
        "several": Key(
            Text(
                "what several pieces of advice mean",
                words={
                    Several.FIRST_WINS.value: "The kind listed first wins.",
                    Several.MUST_AGREE.value: "Two kinds at once are a conflict, shown as such.",
                },
            ),
            "What it means when rules give several pieces of advice.",
            True,
        ),
        "kinds": Key(
            Names(ADVICE_KIND, "kinds of advice"), "The kinds of advice, in the order in which they win.", True
        ),
    },
)

RULEBOOK = Record(
    "a rulebook",
    {
        "rulebook": Key(
            Text("the rulebook's name", "sweetpotato/when-to-dig"),
            "The rulebook's name, crop/question. In one file of the folder only.",
        ),
        "title": Key(SENTENCE, "What the rulebook is for, as a title."),
        "version": Key(Text("a version in quotes", '"1.0"'), "The rulebook's version, in quotes."),
        "format": Key(Number("a whole number", str(FORMAT), whole=True), f"The version of this grammar: {FORMAT}."),
        "about": Key(Text("a paragraph"), "A paragraph about region, crop and limits."),
        "signs": Key(Names(SIGN, "signs"), "What the grower is asked for."),
        "tables": Key(Names(Names(ROW, "rows of a table"), "tables"), "Figures by row and column."),
        "measures": Key(Names(MEASURE, "measures"), "Numbers reckoned from a sign, a table or the garden's dates."),
        "findings": Key(Names(FINDING, "findings"), "What rules conclude on the way to the advice."),
        "advice": Key(ADVICE_SECTION, "The kinds of advice there are."),
        "rules": Key(Names(RULE, "rules"), "If this must hold, then that."),
        "cautions": Key(Names(CAUTION, "cautions"), "Words of warning shown with a verdict."),
        "disagreements": Key(Names(DISAGREEMENT, "disagreements"), "Where handbooks differ."),
    },
    needs={"rulebook": ("title", "version", "format", "about"), "format": ("rulebook",)},
    least=1,
)

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

NAMED: dict[str, Shape] = {"condition": CONDITION}
