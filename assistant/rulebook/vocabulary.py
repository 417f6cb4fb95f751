"""What a rulebook's files declare, by section and name; and the looking up of one name by another part."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from assistant.model.quantities import Kind
from assistant.model.rules import COMMON_PRACTICE, Advice, Disagreement, Finding, Source
from assistant.model.signs import Measure, Sign, Table
from assistant.rulebook.names import instead, quoted, same_but_for_case
from assistant.rulebook.view import View

SECTIONS = ("signs", "tables", "measures", "findings", "rules", "cautions", "disagreements", "sources")
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
    "sources": "source",
    "advice": "kind of advice",
}


@dataclass
class Vocabulary:
    """The names declared in each section, and what has been built of them.

    A name that is declared but not built has a problem of its own, so nobody complains of it again;
    neither of the names of an unclear section, one that is misspelt or no mapping.
    """

    declared: dict[str, dict[str, View]] = field(default_factory=lambda: {name: {} for name in (*SECTIONS, "advice")})
    unclear: set[str] = field(default_factory=set)
    signs: dict[str, Sign] = field(default_factory=dict)
    tables: dict[str, Table] = field(default_factory=dict)
    measures: dict[str, Measure] = field(default_factory=dict)
    findings: dict[str, Finding] = field(default_factory=dict)
    advice: dict[str, Advice] = field(default_factory=dict)
    disagreements: dict[str, Disagreement] = field(default_factory=dict)
    sources: dict[str, Source] = field(default_factory=dict)

    def declare(self, section: str, entries: Iterable[tuple[str, View]]) -> None:
        """Take up the names of a section of one file; a name that is taken already is a problem."""
        for name, view in entries:
            taken = self._taken(section, name)
            if taken is not None:
                owner, first = taken
                message = f"The name {quoted(name)} is taken: a {_SINGULAR[owner]} has it at {first.place}."
                view.note("duplicate-name", message, "Give one of the two another name.", at_key=True)
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

    def knows(self, section: str, name: str, view: View) -> bool:
        """Whether a section declares a name; where not, the problem is noted at the view."""
        names = self.declared[section]
        if name not in names and section not in self.unclear:
            noun = _SINGULAR[section]
            message = f"No {noun} is called {quoted(name)}."
            view.note(f"unknown-{noun.split()[-1]}", message, instead(name, names) or f"Add it under {section}.")
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
        words = [item for item in view.items() if item.written != COMMON_PRACTICE]
        for item in words:
            self._knows_source(item)
        return tuple(item.written for item in view.items())

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
