"""What a rulebook's files declare, by section and name; and the looking up of one name by another part."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from assistant.model.quantities import Kind
from assistant.model.rules import COMMON_PRACTICE, Advice, Direction, Disagreement, Finding, Silenced, Source
from assistant.model.signs import Measure, Sign, Table
from assistant.rulebook.grammar import RULEBOOK
from assistant.rulebook.names import instead, near, quoted, same_but_for_case
from assistant.rulebook.view import View

SECTIONS = (
    *("signs", "tables", "measures", "findings", "rules"),
    *("cautions", "disagreements", "directions", "sources"),
)
CHANGED = ("rules", "signs", "tables")  # of these a rulebook may change entries of the one it builds on
RESERVED = ("advice", "all", "any", "not", "could", "always")
_SHARED = ("signs", "measures", "findings")  # conditions call all of these by bare name
_SINGULAR = {
    "signs": "sign",
    "tables": "table",
    "measures": "measure",
    "findings": "finding",
    "rules": "rule",
    "cautions": "caution",
    "disagreements": "disagreement",
    "directions": "direction",
    "sources": "source",
    "advice": "kind of advice",
}


class Vocabulary:
    """The names declared in each section, and what has been built of them.

    A name that is declared but not built has a problem of its own, so nobody complains of it again;
    neither of the names of an unclear section, one that is misspelt or no mapping.
    """

    def __init__(self) -> None:
        self.declared: dict[str, dict[str, View]] = {name: {} for name in (*SECTIONS, "advice", "silences")}
        self.unclear: set[str] = set()
        self.signs: dict[str, Sign] = {}
        self.tables: dict[str, Table] = {}
        self.measures: dict[str, Measure] = {}
        self.findings: dict[str, Finding] = {}
        self.advice: dict[str, Advice] = {}
        self.disagreements: dict[str, Disagreement] = {}
        self.sources: dict[str, Source] = {}
        self.directions: dict[str, Direction] = {}
        self.silenced: dict[str, Silenced] = {}

    def take_up(self, view: View) -> None:
        """Take up everything that one file declares."""
        self.unclear.update(_unclear(view))
        for section in SECTIONS:
            entries = view.within(section)
            if entries is not None:
                self.declare(section, entries.entries())
        advice = view.within("advice")
        kinds = advice.within("kinds") if advice else None
        if kinds is not None:
            # A second list of kinds is one problem, not one for each kind.
            self.declare("advice", [item for item in kinds.entries() if item[0] not in self.declared["advice"]])

    def declare(self, section: str, entries: Iterable[tuple[str, View]]) -> None:
        """Take up the names of a section of one file; a name that is taken already is a problem."""
        for name, view in entries:
            taken = self._taken(section, name)
            if taken is not None:
                owner, first = taken
                message = f"The name {quoted(name)} is taken: a {_SINGULAR[owner]} has it at {first.place}."
                view.note("duplicate-name", message, _another_name(section, owner, view, first), at_key=True)
            elif section in _SHARED and name in RESERVED:
                message = f"A {_SINGULAR[section]} cannot be called {quoted(name)}: conditions use that word."
                view.note("reserved-name", message, "Give it another name.", at_key=True)
            else:
                self.declared[section][name] = view

    def _taken(self, section: str, name: str) -> tuple[str, View] | None:
        for other in _SHARED if section in _SHARED else (section,):
            if name in self.declared[other]:
                return other, self.declared[other][name]
        return None

    def knows(self, section: str, name: str, view: View, at_key: bool = False) -> bool:
        """Whether a section declares a name; where not, the problem is noted at the view."""
        names = self.declared[section]
        if name not in names and section not in self.unclear:
            noun = _SINGULAR[section]
            message = f"No {noun} is called {quoted(name)}."
            view.note(
                f"unknown-{noun.split()[-1]}", message, instead(name, names) or f"Add it under {section}.", at_key
            )
        return name in names

    def cited(self, owner: View) -> tuple[str, ...]:
        """The sources an entry names, each one looked up; none where they are missing or wrong."""
        view = owner.get("sources")
        if view is None:
            return ()
        if view.node.items is None:
            return (view.written,)
        if not view.node.items:
            hint = f"Write [R09] or the like, or: {COMMON_PRACTICE}."
            view.note("no-source", "The list of sources is empty.", hint)
        cited = list(view.items())
        for item in cited:
            if item.written != COMMON_PRACTICE:
                self._knows_source(item)
        return tuple(item.written for item in cited)

    def _knows_source(self, item: View) -> None:
        if item.written not in self.declared["sources"] and "sources" not in self.unclear:
            # Short names with numbers are all alike, so only their case is put right.
            meant = [
                name for name in (*self.declared["sources"], COMMON_PRACTICE) if same_but_for_case(name, item.written)
            ]
            hint = instead(item.written, meant) if meant else f"Add it to sources.yaml, or write: {COMMON_PRACTICE}."
            item.note("unknown-source", f"No source is called {quoted(item.written)}.", hint)

    def disputed(self, owner: View) -> tuple[str, ...]:
        """The disagreements an entry names, each one looked up."""
        view = owner.get("disputed")
        names = list(view.items()) if view else []
        return tuple(item.written for item in names if self.knows("disagreements", item.written, item))

    def numbers(self) -> Mapping[str, Sign | Measure]:
        """Every sign and measure that counts something, by name."""
        counting = {name: sign for name, sign in self.signs.items() if sign.kind is Kind.NUMBER}
        return {**counting, **self.measures}


def _another_name(section: str, owner: str, view: View, first: View) -> str:
    """What to do about a name that is taken: by the same rulebook, or by one that it builds on."""
    if view.report is first.report:
        return "Give one of the two another name."
    if section == owner and section in CHANGED:
        return "Put it under changes to have it otherwise than below, or give it another name."
    return "Give it another name."


def _unclear(view: View) -> Iterator[str]:
    """The sections of a file whose names cannot be made out: misspelt ones, and those that are no mapping."""
    sections = (*SECTIONS, "advice")
    for name, entry in view.entries():
        if name not in RULEBOOK.keys and name != "sources":
            yield near(name, sections) or ""
        elif name in sections and entry.node.entries is None:
            yield name
    if view.node.entries is None:
        yield from sections
