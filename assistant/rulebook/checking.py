"""Holding a file against its shape: every unknown key, wrong type and missing key, each at its place."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping

from assistant.model.place import Place, Problem
from assistant.rulebook.case_grammar import CASE
from assistant.rulebook.documents import Document, stop_at_many
from assistant.rulebook.grammar import named
from assistant.rulebook.names import instead, listed, near, quoted
from assistant.rulebook.nodes import Node
from assistant.rulebook.shapes import Either, Form, Key, ListOf, Named, Names, Number, Record, Shape, Text, Value

_SCALARS: Mapping[type, tuple[type, ...]] = {Text: (str,), Number: (int, float), Value: (str, int, float)}
LONGEST_VALUE = 200
"""Letters of a value that is no text of the author's own, such as a range."""


class Checker:
    """Checks one document; `broken` holds every value in which a problem was found, and all that hold it."""

    def __init__(
        self, document: Document, problems: list[Problem] | None = None, broken: set[int] | None = None
    ) -> None:
        self.document = document
        self.problems = [] if problems is None else problems
        self.broken = set() if broken is None else broken
        self.holding: list[tuple[Node, str | None]] = []

    def check(self, node: Node, shape: Shape, name: str | None) -> None:
        """Note every problem of a value; the key it stands under, or nothing for an entry of a list, names it."""
        self.holding.append((node, name))
        fitting = _fitting(shape, node)
        if isinstance(fitting, Text):
            self._text(node, fitting)
        elif isinstance(fitting, Record):
            self._record(node, fitting)
        elif isinstance(fitting, ListOf):
            self._list(node, fitting)
        elif isinstance(fitting, Names):
            self._names(node, fitting)
        elif isinstance(fitting, Value):
            self._like(node, fitting.pattern, fitting)
        elif isinstance(fitting, Number):
            self._number(node, fitting)
        else:
            self._wrong_type(node, named(shape.name) if isinstance(shape, Named) else shape)
        self.holding.pop()

    def _what(self, depth: int = -1) -> str:
        """The value at hand in words: the whole file, the key it stands under, or an entry of what holds it."""
        name = self.holding[depth][1]
        if name is None:
            return f"An entry of {_inner(self._what(depth - 1))}"
        return quoted(name) if len(self.holding) > -depth else name

    def _text(self, node: Node, shape: Text) -> None:
        text = node.written
        if shape.words and text not in shape.words:
            hint = instead(text, shape.words)
            self.note("bad-value", self.document.at(node), f"{self._what()} cannot be {quoted(text)}.", hint)
        elif not text.strip():
            self.note(
                "bad-value",
                self.document.at(node),
                f"{self._what()} is empty.",
                f"Write {shape.example or shape.wanted}.",
            )
        else:
            self._like(node, shape.pattern, shape)

    def _like(self, node: Node, pattern: str, shape: Text | Value) -> None:
        if len(node.written) > LONGEST_VALUE and isinstance(shape, Value):
            message = f"{self._what()} has {len(node.written)} letters; it can have at most {LONGEST_VALUE}."
            self.note("bad-value", self.document.at(node), message, _write(shape))
        elif pattern and not re.fullmatch(pattern, str(node.value)):
            message = f"{self._what()} must be {shape.wanted}, not {quoted(node.written)}."
            self.note("bad-value", self.document.at(node), message, _write(shape))

    def _number(self, node: Node, shape: Number) -> None:
        value = node.value
        assert isinstance(value, (int, float))
        if shape.whole and isinstance(value, float):
            message = f"{self._what()} must be a whole number, not {quoted(node.written)}."
            self.note("wrong-type", self.document.at(node), message, _write(shape))
        elif shape.least is not None and value < shape.least:
            message = f"{self._what()} must be at least {shape.least:g}, not {quoted(node.written)}."
            self.note("bad-value", self.document.at(node), message, _write(shape))
        elif shape.most is not None and value > shape.most:
            message = f"{self._what()} must be at most {shape.most:g}, not {quoted(node.written)}."
            self.note("bad-value", self.document.at(node), message, _write(shape))

    def _list(self, node: Node, shape: ListOf) -> None:
        assert node.items is not None
        for item in node.items:
            self.check(item, shape.item, None)
        if len(node.items) < shape.least:
            self._too_few(node, shape.least, "entry", "entries", shape)

    def _names(self, node: Node, shape: Names) -> None:
        assert node.entries is not None
        for name, child in node.entries.items():
            if not re.fullmatch(shape.pattern, name):
                hint = "Names are small letters, digits and hyphens, and start with a letter."
                self.note("bad-name", self.document.at_key(child), f"{quoted(name)} cannot be a name here.", hint)
            self.check(child, shape.item, name)
        if len(node.entries) < shape.least:
            self._too_few(node, shape.least, "entry", "entries", shape)
        if shape.most is not None and len(node.entries) > shape.most:
            extra = list(node.entries.values())[shape.most]
            message = f"{self._what()} has {len(node.entries)} entries; there can be only {shape.most}."
            self.note("too-many", self.document.at_key(extra), message, _write(shape))

    def _record(self, node: Node, shape: Record) -> None:
        assert node.entries is not None
        absent = dict(missing(node.entries, shape))
        for name, child in node.entries.items():
            key = shape.keys.get(name, shape.others)
            if key is not None:
                self.check(child, key.shape, name)
            else:
                absent.pop(self._unknown_key(name, child, node, shape) or "", None)
        for name, key in absent.items():
            message = f"{self._what()} lacks the key {quoted(name)}."
            self.note(key.missing, self.document.at_key(node), message, f"Add {name}: {wanted(key.shape)}.")
        if shape.forms:
            self._form(node, shape)
        if len(node.entries) < shape.least:
            self._too_few(node, shape.least, "key", "keys", shape)

    def _unknown_key(self, name: str, child: Node, node: Node, shape: Record) -> str | None:
        """Note a key that is none of the record's; the key it was probably meant for."""
        allowed = [each for each in shape.keys if each not in (node.entries or {})]
        message = f"{self._what()} has the key {quoted(name)}, which {shape.wanted} does not have."
        hint = instead(name, allowed) or f"Delete {quoted(name)}."
        self.broken.update(map(id, _all_in(child)))
        self.note("unknown-key", self.document.at_key(child), message, hint)
        return near(name, allowed)

    def _form(self, node: Node, shape: Record) -> None:
        assert node.entries is not None
        form = chosen_form(node, shape)
        ruled = {name for each in shape.forms.values() for name in (*each.required, *each.optional)}
        if form is None:
            if not shape.by:
                ways = listed([" + ".join(each.required) for each in shape.forms.values()])
                self.note(
                    "missing-key",
                    self.document.at_key(node),
                    f"{self._what()} says nothing to reckon with.",
                    f"Write one of: {ways}.",
                )
            return
        name, keys = form
        another = f"write another {shape.by}" if shape.by else name
        for key in keys.required:
            if key not in node.entries:
                message = f"{self._what()} lacks the key {quoted(key)}, which goes with {quoted(name)}."
                hint = f"Add {key}: {wanted(shape.keys[key].shape)}."
                self.note("missing-key", self.document.at_key(node), message, hint)
        for key in ruled - {*keys.required, *keys.optional}:
            if key in node.entries:
                message = f"{self._what()} has the key {quoted(key)}, which does not go with {quoted(name)}."
                self.note(
                    "mixed-kinds", self.document.at_key(node.entries[key]), message, f"Delete {key}, or {another}."
                )

    def _too_few(self, node: Node, least: int, one: str, many: str, shape: Shape) -> None:
        message = f"{self._what()} needs at least {least} {one if least == 1 else many}."
        self.note("too-few", self.document.at(node), message, _write(shape))

    def _wrong_type(self, node: Node, shape: Shape) -> None:
        message = f"{self._what()} must be {_type_wanted(shape, node)}, not {type_of(node)}."
        hint = _write(shape)
        if isinstance(shape, Text) and node.written:
            hint = f'Write it in quotes: "{node.written}".' if not shape.words else instead(node.written, shape.words)
        self.note("wrong-type", self.document.at(node), message, hint)

    def note(self, code: str, place: Place, message: str, hint: str) -> None:
        """Add a problem, and mark everything around it as broken."""
        self.broken.update(id(node) for node, _ in self.holding)
        self.problems.append(self.document.problem(code, place, message, hint))
        stop_at_many(self.problems)


def check_case_shape(document: Document) -> tuple[Problem, ...]:
    """Every problem of a case file's shape, sorted by place; what its values mean is not looked at."""
    checker = Checker(document)
    checker.check(document.root, CASE, "The case")
    return tuple(sorted(checker.problems, key=lambda problem: problem.place))


def _all_in(node: Node) -> Iterator[Node]:
    """A value and every value in it."""
    yield node
    for child in (*(node.entries or {}).values(), *(node.items or ())):
        yield from _all_in(child)


def missing(entries: Collection[str], shape: Record) -> Iterator[tuple[str, Key]]:
    """The keys a record lacks: those always required, and those that its other keys cannot be without."""
    needed = {name for owner, others in shape.needs.items() if owner in entries for name in others}
    for name, key in shape.keys.items():
        if name not in entries and (key.required or name in needed):
            yield name, key


def chosen_form(node: Node, shape: Record) -> tuple[str, Form] | None:
    """The way in which a record's keys combine: named by the value of its `by` key, or else by one of its keys."""
    entries = node.entries or {}
    if shape.by:
        teller = entries.get(shape.by)
        name = str(teller.value) if teller else ""
        return (name, shape.forms[name]) if name in shape.forms else None
    fitting = [item for item in shape.forms.items() if item[0] in entries]
    return max(fitting, key=lambda item: len({*item[1].required, *item[1].optional} & set(entries)), default=None)


def _fitting(shape: Shape, node: Node) -> Text | Number | Value | ListOf | Names | Record | None:
    """The shape, or the one of its options, that a value is of the right type for, whatever it holds."""
    if isinstance(shape, Named):
        return _fitting(named(shape.name), node)
    if isinstance(shape, Either):
        fitting = (_fitting(option, node) for option in shape.options)
        return next((option for option in fitting if option is not None), None)
    if isinstance(shape, (Record, Names)):
        fits = node.entries is not None
    elif isinstance(shape, ListOf):
        fits = node.items is not None
    else:
        fits = isinstance(node.value, _SCALARS[type(shape)]) and not isinstance(node.value, bool)
    return shape if fits else None


def type_of(node: Node) -> str:
    """What a value is, in YAML's words."""
    if node.entries is not None:
        return "a mapping"
    if node.items is not None:
        return "a list"
    if node.value is None:
        return "nothing"
    if isinstance(node.value, bool):
        return node.written
    return "text" if isinstance(node.value, str) else f"the number {node.written}"


def wanted(shape: Shape) -> str:
    """What to write for a shape, in the fewest words."""
    if isinstance(shape, Text) and shape.words:
        return listed(list(shape.words)) if len(shape.words) == 1 else f"one of {listed(list(shape.words))}"
    if isinstance(shape, Record) and not shape.example:
        return _braced([name for name, key in shape.keys.items() if key.required] or list(shape.keys)[:1])
    if isinstance(shape, Names) and not shape.example:
        return _braced(["name"])
    return shape.example or shape.wanted


def _braced(names: list[str]) -> str:
    return f"{{{', '.join(f'{name}: …' for name in names)}}}"


def _write(shape: Shape) -> str:
    return f"Write {wanted(shape)}."


def _type_wanted(shape: Shape, node: Node) -> str:
    """The type a shape asks for, in its own words and YAML's."""
    if isinstance(shape, Text) and shape.wanted != "text" and node.value is not None:
        return f"{shape.wanted}, as text"
    if isinstance(shape, Names):
        return f"a mapping of {shape.wanted}"
    return f"{shape.wanted}, as a mapping" if isinstance(shape, Record) else shape.wanted


def _inner(what: str) -> str:
    return what[:1].lower() + what[1:] if what.startswith(("An ", "A ", "The ")) else what
