"""How large a rulebook may be, several times any real one, so that a stranger's takes no minutes and not all memory."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from math import prod
from pathlib import Path

from assistant.model.conditions import (
    All,
    AnyOf,
    CantTell,
    Compare,
    CompareTo,
    Concluded,
    Condition,
    Could,
    Not,
    OneOf,
    leaves,
)
from assistant.model.place import BadInput, Place, Problem, refuse
from assistant.model.rules import Caution, Rule
from assistant.model.signs import Lookup
from assistant.rulebook.documents import too_big
from assistant.rulebook.names import quoted
from assistant.rulebook.view import View
from assistant.rulebook.vocabulary import Vocabulary

MOST_FILES, BIGGEST_FOLDER = 100, 2_000_000
"""Files of one rulebook, and bytes in all of them."""
MOST_ENTRIES = {"rules": 1000, "cautions": 500, "sources": 2000}
MOST_OF_THE_REST = 300
"""Entries of a section, those of the rulebooks built on included."""
MOST_INSIDE = 200
"""Choices of a sign, values of a finding, rows of a table."""
MOST_BOUNDS = 100
"""Different bounds that one sign or measure is compared with."""
MOST_ALTERNATIVES, MOST_IN_ALL = 1000, 10_000
"""Alternatives that the condition of a rule multiplies out to, and those of all rules and cautions."""
_COUNTLESS = 10**6


def check_files(paths: Sequence[Path]) -> None:
    """Refuse a folder with too many files, or too large ones, before any is read. Raises `BadInput`."""
    if len(paths) > MOST_FILES:
        message = f"This folder holds {len(paths)} YAML files; a rulebook has at most {MOST_FILES}."
        raise refuse("too-many", Place(str(paths[0].parent)), message, "Name the folder of a rulebook.")
    size = sum(path.stat().st_size for path in paths if path.is_file())
    if size > BIGGEST_FOLDER:
        raise too_big(Place(str(paths[0].parent)), size, BIGGEST_FOLDER)


def check_declared(words: Vocabulary) -> None:
    """Refuse sections with more entries than there can be, or entries with more in them. Raises `BadInput`."""
    problems = [problem for section, entries in words.declared.items() for problem in _sections(section, entries)]
    if problems:
        raise BadInput(problems)


def _sections(section: str, entries: Mapping[str, View]) -> Iterator[Problem]:
    most = MOST_ENTRIES.get(section, MOST_OF_THE_REST)
    if len(entries) > most:
        yield _too_many([*entries.values()][most], f"There are {len(entries)} {section}", most)
    for name, view in entries.items():
        inside = {"signs": view.within("choices"), "findings": view.within("values"), "tables": view}.get(section)
        held = [each for _, each in inside.entries()] if inside else []
        if len(held) > MOST_INSIDE:
            yield _too_many(held[MOST_INSIDE], f"{quoted(name)} has {len(held)} entries", MOST_INSIDE)


def _too_many(view: View, what: str, most: int) -> Problem:
    hint = "Split the rulebook, or merge entries that mean the same."
    return view.document.problem("too-many", view.place, f"{what}; there can be at most {most}.", hint)


def check_conditions(conditioned: Sequence[Rule | Caution], words: Vocabulary) -> None:
    """Refuse conditions that would multiply out to too much, or compare with too much. Raises `BadInput`."""
    bounds: dict[str, set[float]] = defaultdict(set)
    total = 0
    for each in conditioned:
        count = _alternatives(each.when, words)
        total += count
        for leaf in leaves(each.when):
            if isinstance(leaf, Compare):
                bounds[leaf.reading].add(leaf.bound)
                if len(bounds[leaf.reading]) > MOST_BOUNDS:
                    message = f"{quoted(leaf.reading)} is compared with more than {MOST_BOUNDS} different bounds."
                    raise refuse("too-many", each.place, message, "Leave out bounds that are nearly the same.")
        if count > MOST_ALTERNATIVES:
            message = f"The condition of {quoted(each.name)} has more than {MOST_ALTERNATIVES} alternatives."
            raise refuse("too-many", each.place, message, "Split it into several rules that conclude a finding.")
        if total > MOST_IN_ALL:
            message = f"Up to here the conditions have more than {MOST_IN_ALL} alternatives."
            raise refuse("too-many", each.place, message, "Let rules conclude findings, and use those.")


def _alternatives(condition: Condition, words: Vocabulary, negative: bool = False, sure: bool = True) -> int:
    """How many ways of holding a condition has, or one more than too many."""
    match condition:
        case All(parts) | AnyOf(parts):
            counts = [_alternatives(part, words, negative, sure) for part in parts]
            multiplied = isinstance(condition, All) is not negative
            return min(prod(counts) if multiplied else sum(counts), _COUNTLESS)
        case Not(part):
            return _alternatives(part, words, not negative, sure)
        case Could(part):
            return _alternatives(part, words, negative, False)
        case CantTell(sign):
            return max(1, len(words.signs[sign].choices)) if negative else 1
        case OneOf(sign, choices):
            return 1 if sure else max(1, len(words.signs[sign].choices) - len(choices) if negative else len(choices))
        case Concluded(_, values):
            return len(values) if sure else 1
        case CompareTo(_, _, other):
            how = words.measures[other].how
            return 1 + (len(words.tables[how.table].rows) if isinstance(how, Lookup) else 0)
        case Compare():
            return 1
