"""The grammar of rulebooks: every key, the shape of its value, and what editors show about it."""

from __future__ import annotations

from assistant.model.rules import Several
from assistant.model.signs import Effort
from assistant.rulebook.grammar_measures import MEASURE, TOLD
from assistant.rulebook.grammar_words import (
    BOUNDS,
    CITED,
    CONDITION,
    COUNT,
    DISPUTED,
    FORMAT,
    NAME_TEXT,
    RANGE,
    SENTENCE,
    SOURCES,
    WHEN,
)
from assistant.rulebook.shapes import (
    ANYTHING,
    Either,
    Form,
    Key,
    ListOf,
    Named,
    Names,
    Number,
    Record,
    Shape,
    Text,
    Value,
)

_plain_number = Form(("range",), ("unit", "about", "usual", "told"))
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
        "called": Key(Text("a name", "lowest forecast"), "What a grower calls it, as it stands after 'the'."),
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
            Names(Number("a weight", "3", least=0), "weights", "{green: 3}, or {0..36 F: 1, 36..90 F: 4}", ANYTHING),
            "How often each choice is met, as weights; for a number those of ranges that together cover it all.",
        ),
        "days_ago": Key(RANGE, "For a date: the earliest and latest it can be, in days before the visit."),
        "range": Key(BOUNDS, "The lowest and highest it can be, with the unit."),
        "unit": Key(Text("a unit", "nights"), "What a plain number counts."),
        "about": Key(Value("a margin", "3 F, 7 or 5 %"), "How far 'about VALUE' reaches to either side."),
        "told": Key(TOLD, "What tells the sign, of which nobody is asked: a station's record and a forecast."),
        "sources": Key(SOURCES, "Who says that this sign tells something."),
    },
    forms={
        "number": _plain_number,
        "temperature": Form(("range",), ("about", "usual", "told")),
        "length": Form(("range",), ("about", "usual")),
        "date": Form(("days_ago",), ("about", "usual")),
        "choice": Form((), ("choices", "choices_from", "usual")),
        "yes-no": Form((), ("choices", "usual")),
    },
    by="kind",
)

ROW = Record(
    "a row of a table",
    {
        "named": Key(Text("a name as people write it", "Beauregard"), "What people call it.", True),
        "sources": CITED,
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
        "when": WHEN,
        "then": Key(
            Names(NAME_TEXT, "one conclusion", "{advice: wait}, or {size: too-small}", most=1),
            "What is concluded: advice and its kind, or a finding and its value.",
            True,
        ),
        "act_by": Key(_DAYS, "Days to act by; the soonest counts."),
        "look_again": Key(_DAYS, "Days to look again on; the soonest counts."),
        "sources": CITED,
        "disputed": DISPUTED,
    },
)

CAUTION = Record(
    "a caution",
    {
        "text": Key(SENTENCE, "The word of warning.", True),
        "when": WHEN,
        "sources": CITED,
        "disputed": DISPUTED,
    },
)

SIDE = Record("a side", {"says": Key(SENTENCE, "What this side says.", True), "sources": CITED})
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
        "urgency": Key(
            Number("a whole number from 0 to 9", whole=True, least=0, most=9),
            "How pressing it is, the higher the more; kinds may be equally so.",
        ),
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

DIRECTION = Record(
    "a direction",
    {
        "says": Key(SENTENCE, "The promise as a sentence.", True),
        "sign": Key(NAME_TEXT, "The sign it is about.", True),
        "presses": Key(
            Either(
                (
                    Text("lower or higher", words={"lower": "The lower the more.", "higher": "The higher the more."}),
                    ListOf(Text("a choice"), "a list of choices", "[too-small, right]", least=2),
                ),
                "lower, higher or a list of choices",
                "lower, higher, or choices such as [too-small, right]",
            ),
            "What presses: lower or higher, or the choices from the least to the most pressing.",
            True,
        ),
        "sources": CITED,
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
        "format": Key(
            Number("a whole number", str(FORMAT), whole=True, least=1), f"The version of this grammar: {FORMAT}."
        ),
        "about": Key(Text("a paragraph"), "A paragraph about region, crop and limits."),
        "builds_on": Key(
            Text("the name of a rulebook or a path from this folder", "sweetpotato/when-to-dig"),
            "The rulebook this one builds on: all of it holds here but for the changes and what is silenced.",
        ),
        "changes": Key(Named("changes", "changes", "{rules: {…}}"), "What is otherwise here than below, and why."),
        "silences": Key(Named("silences", "silenced rules"), "Rules below that do not hold here, and why."),
        "signs": Key(Names(SIGN, "signs"), "What the grower is asked for."),
        "tables": Key(Names(Names(ROW, "rows of a table"), "tables"), "Figures by row and column."),
        "measures": Key(Names(MEASURE, "measures"), "Numbers reckoned from a sign, a table or the garden's dates."),
        "findings": Key(Names(FINDING, "findings"), "What rules conclude on the way to the advice."),
        "advice": Key(ADVICE_SECTION, "The kinds of advice there are."),
        "rules": Key(Names(RULE, "rules"), "If this must hold, then that."),
        "cautions": Key(Names(CAUTION, "cautions"), "Words of warning shown with a verdict."),
        "disagreements": Key(Names(DISAGREEMENT, "disagreements"), "Where handbooks differ."),
        "directions": Key(
            Names(DIRECTION, "directions"), "Promises: as a sign goes this way, the advice never gets less urgent."
        ),
    },
    needs={
        "rulebook": ("title", "version", "format", "about"),
        "format": ("rulebook",),
        "builds_on": ("rulebook",),
    },
    least=1,
)


def named(name: str) -> Shape:
    """The shape that the grammar declares under a name."""
    if name == "condition":
        return CONDITION
    from assistant.rulebook.grammar_changes import NAMED  # few rulebooks build on another

    return NAMED[name]
