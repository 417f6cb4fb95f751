"""Reading a `when`: what conditions say of signs, measures and findings, and whether that can be said of them."""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import NamedTuple

from assistant.model.conditions import (
    ALWAYS,
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
    Op,
)
from assistant.model.quantities import Kind, NotAValue, example_of, parse_value
from assistant.model.rules import ADVICE
from assistant.model.signs import DaysSince, GrownBy, Lookup, Measure, Sign
from assistant.rulebook.grammar_words import CANT_TELL
from assistant.rulebook.names import instead, quoted
from assistant.rulebook.shapes import NAME
from assistant.rulebook.values import has_wrong_unit
from assistant.rulebook.view import View
from assistant.rulebook.vocabulary import Vocabulary


class Conditions(NamedTuple):
    """Reads conditions in the words of one rulebook; only cautions may look at the advice."""

    words: Vocabulary
    may_see_advice: bool = False

    def read(self, view: View | None) -> Condition:
        """The condition of a `when`. Parts with a problem are noted and stand as `always`."""
        if view is None or view.node.entries is None:
            return ALWAYS
        parts = tuple(self._part(name, entry) for name, entry in view.entries())
        return parts[0] if len(parts) == 1 else All(parts)

    def _part(self, name: str, view: View) -> Condition:
        match name:
            case "all":
                return All(tuple(self.read(item) for item in view.items()))
            case "any":
                return AnyOf(tuple(self.read(item) for item in view.items()))
            case "not":
                return Not(self._something(name, view))
            case "could":
                return Could(self._something(name, view))
        return self._leaf(name, view) if view.whole else ALWAYS

    def _something(self, word: str, view: View) -> Condition:
        if view.whole and view.node.entries is None:
            view.note("empty-condition", f"{quoted(word)} stands over nothing that could be otherwise.", "Name a sign.")
        return self.read(view)

    def _leaf(self, name: str, view: View) -> Condition:
        words = self.words
        if name in words.declared["signs"]:
            sign = words.signs.get(name)
            return self._of_sign(sign, view) if sign else ALWAYS
        if name in words.declared["measures"]:
            measure = words.measures.get(name)
            return self._of_measure(measure, view) if measure else ALWAYS
        if name in words.declared["findings"]:
            finding = words.findings.get(name)
            return self._of_finding(name, finding.values, view) if finding else ALWAYS
        if name == ADVICE:
            return self._of_advice(view)
        if not words.unclear & {"signs", "measures", "findings"}:
            known = [*words.declared["signs"], *words.declared["measures"], *words.declared["findings"]]
            message = f"No sign, measure or finding is called {quoted(name)}."
            view.note("unknown-sign", message, instead(name, known) or "Add it under signs.", at_key=True)
        return ALWAYS

    def _of_sign(self, sign: Sign, view: View) -> Condition:
        if view.written == CANT_TELL:
            return CantTell(sign.name)
        if sign.kind is Kind.CHOICE:
            return self._choice(sign, view)
        if sign.kind is Kind.DATE:
            hint = f"Compare a measure that has days_since: {sign.name}, or write: {CANT_TELL}."
            view.note("wrong-kind", f"{quoted(sign.name)} is a date, which no condition compares.", hint)
            return ALWAYS
        return self._comparison(sign.name, sign.kind, view)

    def _of_measure(self, measure: Measure, view: View) -> Condition:
        if isinstance(measure.how, GrownBy):
            message = f"{quoted(measure.name)} only names a day to look again; no condition compares it."
            view.note("wrong-kind", message, "Ask of the roots instead.")
            return ALWAYS
        if view.written == CANT_TELL:
            hint = f"Write {measure.sign}: {CANT_TELL}." if measure.sign else "Compare it, as in {at_most: 14}."
            view.note("wrong-kind", f"{quoted(measure.name)} is reckoned, so nobody can be unable to tell it.", hint)
            return ALWAYS
        return self._comparison(measure.name, Kind.NUMBER, view)

    def _choice(self, sign: Sign, view: View) -> Condition:
        if view.node.entries is not None:
            message = f"{quoted(sign.name)} is a choice and cannot be compared as a number."
            view.note("wrong-kind", message, f"Write {sign.name}: {next(iter(sign.choices))}, or a list of choices.")
            return ALWAYS
        chosen = self._among(view, sign.choices, "unknown-choice", f"{quoted(sign.name)} has no choice")
        return OneOf(sign.name, chosen) if chosen else ALWAYS

    def _of_finding(self, name: str, values: Collection[str], view: View) -> Condition:
        if view.node.entries is not None:
            message = f"{quoted(name)} is a finding and cannot be compared as a number."
            view.note("wrong-kind", message, f"Write {name}: {next(iter(values))}, or a list of its values.")
            return ALWAYS
        chosen = self._among(view, values, "unknown-value", f"The finding {quoted(name)} has no value")
        return Concluded(name, chosen) if chosen else ALWAYS

    def _of_advice(self, view: View) -> Condition:
        if not self.may_see_advice:
            hint = "Use a finding, or make it a caution."
            view.note("advice-in-rule", "A rule's condition cannot look at the advice.", hint, at_key=True)
            return ALWAYS
        if view.node.entries is not None:
            view.note("wrong-kind", "The advice cannot be compared as a number.", "Write advice: [kind, kind].")
            return ALWAYS
        kinds = self.words.declared["advice"]
        if not kinds and "advice" in self.words.unclear:
            return ALWAYS
        chosen = self._among(view, kinds, "unknown-advice", "There is no advice")
        return Concluded(ADVICE, chosen) if chosen else ALWAYS

    def _among(self, view: View, allowed: Collection[str], code: str, says: str) -> frozenset[str]:
        """One value or a list of them, each among those allowed; empty once one is not."""
        written = list(view.items()) if view.node.items is not None else [view]
        unknown = [item for item in written if item.written not in allowed]
        for item in unknown:
            hint = instead(item.written, allowed) or "Add it to the rulebook."
            if item.written == CANT_TELL:
                hint = f"Write it alone, or use any: [{{…: {CANT_TELL}}}, …]."
            item.note(code, f"{says} {quoted(item.written)}.", hint)
        return frozenset() if unknown else frozenset(item.written for item in written)

    def _comparison(self, name: str, kind: Kind, view: View) -> Condition:
        if view.node.entries is None:
            message = f"{quoted(name)} is a {kind.value} and has no choices."
            example = {Kind.TEMPERATURE: "54 F", Kind.LENGTH: "2.5 in"}.get(kind, "12")
            view.note("wrong-kind", message, f"Write {name}: {{at_least: {example}}}, or: {CANT_TELL}.")
            return ALWAYS
        parts = tuple(self._bound(name, kind, Op(word), bound) for word, bound in view.entries())
        return parts[0] if len(parts) == 1 else All(parts)

    def _bound(self, name: str, kind: Kind, op: Op, view: View) -> Condition:
        if re.fullmatch(NAME, view.written):
            return self._other(name, kind, op, view)
        try:
            return Compare(name, op, parse_value(kind, view.written, None))
        except NotAValue as error:
            view.refuse("wrong-unit" if has_wrong_unit(kind, view.written) else "bad-value", error)
            return ALWAYS

    def _other(self, name: str, kind: Kind, op: Op, view: View) -> Condition:
        """A bound that is the name of a looked-up measure."""
        other = self.words.measures.get(view.written)
        lookups = [each for each, measure in self.words.measures.items() if isinstance(measure.how, Lookup)]
        if view.written not in self.words.declared["measures"] and "measures" in self.words.unclear:
            return ALWAYS
        if view.written not in self.words.declared["measures"]:
            hint = instead(view.written, lookups) or f"Write {example_of(kind)}."
            view.note("unknown-measure", f"No measure is called {quoted(view.written)}.", hint)
        elif kind is not Kind.NUMBER:
            message = (
                f"{quoted(name)} is a {kind.value}; it cannot be compared with the measure {quoted(view.written)}."
            )
            view.note("wrong-kind", message, f"Write {example_of(kind)}.")
        elif other is not None and not isinstance(other.how, Lookup):
            message = f"{quoted(view.written)} is not looked up in a table, so nothing is compared with it."
            view.note("wrong-kind", message, instead(view.written, lookups) or "Write a number.")
        else:
            return CompareTo(name, op, view.written)
        return ALWAYS


def counts_up(measure: Measure) -> bool:
    """Whether a measure grows by one a day."""
    return isinstance(measure.how, DaysSince)
