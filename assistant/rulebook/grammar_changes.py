"""The grammar of what a rulebook changes and silences in the one it builds on; loaded only where one does."""

from __future__ import annotations

from assistant.rulebook.grammar import ROW, RULE, SIGN
from assistant.rulebook.grammar_words import CITED, SENTENCE
from assistant.rulebook.shapes import Key, Names, Record, Shape

_BECAUSE = Key(SENTENCE, "Why it is otherwise here.", True)


def _changed(shape: Record, fixed: str = "") -> Record:
    """The shape of a change: a reason with its sources, and those keys that are to be otherwise."""
    keys = {name: key._replace(required=False) for name, key in shape.keys.items() if name != fixed}
    changed = {**keys, "because": _BECAUSE, "sources": CITED}
    return Record(f"a change of {shape.wanted}", changed, others=shape.others)


CHANGES = Record(
    "changes",
    {
        "rules": Key(Names(_changed(RULE, "then"), "changed rules"), "Rules below that are otherwise here."),
        "signs": Key(Names(_changed(SIGN, "kind"), "changed signs"), "Signs below that are otherwise here."),
        "tables": Key(
            Names(Names(_changed(ROW), "changed rows"), "tables with changed rows"),
            "Rows of tables below that are otherwise here.",
        ),
    },
    least=1,
)

_SILENCED = Record("a silenced rule", {"because": _BECAUSE, "sources": CITED})

NAMED: dict[str, Shape] = {"changes": CHANGES, "silences": Names(_SILENCED, "silenced rules")}
