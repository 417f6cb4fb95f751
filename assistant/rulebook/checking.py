"""Holding a file against its shape: every unknown key, wrong type and missing key, each at its place."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from assistant.model.place import Place, Problem
from assistant.rulebook.documents import Document, stop_at_many
from assistant.rulebook.grammar import named
from assistant.rulebook.names import instead, listed, near, quoted
from assistant.rulebook.nodes import Node
from assistant.rulebook.shapes import Either, Form, Key, ListOf, Named, Names, Number, Record, Shape, Text, Value

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
        self.holding: list[Node] = []

    def check(self, node: Node, shape: Shape, what: str) -> None:
        """Note every problem of a value; `what` names it in messages."""
        self.holding.append(node)
        if isinstance(shape, Named):
            shape = named(shape.name)
        if isinstance(shape, Either):
            chosen = next((option for option in shape.options if accepts(option, node)), None)
            if chosen is None:
                self._wrong_type(node, shape, what)
            else:
                self._inside(node, chosen, what)
        elif accepts(shape, node):
            self._inside(node, shape, what)
        else:
            self._wrong_type(node, shape, what)
        self.holding.pop()

    def _inside(self, node: Node, shape: Shape, what: str) -> None:
        match shape:
            case Named() | Either():
                self.check(node, shape, what)
            case Text():
                self._text(node, shape, what)
            case Value():
                self._like(node, shape.pattern, shape, what)
            case Number():
                self._number(node, shape, what)
            case ListOf():
                self._list(node, shape, what)
            case Names():
                self._names(node, shape, what)
            case Record():
                self._record(node, shape, what)

    def _text(self, node: Node, shape: Text, what: str) -> None:
        text = node.written
        if shape.words and text not in shape.words:
            hint = instead(text, shape.words)
            self.note("bad-value", self.document.at(node), f"{what} cannot be {quoted(text)}.", hint)
        elif not text.strip():
            self.note(
                "bad-value", self.document.at(node), f"{what} is empty.", f"Write {shape.example or shape.wanted}."
            )
        else:
            self._like(node, shape.pattern, shape, what)

    def _like(self, node: Node, pattern: str, shape: Text | Value, what: str) -> None:
        if len(node.written) > LONGEST_VALUE and isinstance(shape, Value):
            message = f"{what} has {len(node.written)} letters; it can have at most {LONGEST_VALUE}."
            self.note("bad-value", self.document.at(node), message, _write(shape))
        elif pattern and not re.fullmatch(pattern, str(node.data)):
            message = f"{what} must be {shape.wanted}, not {quoted(node.written)}."
            self.note("bad-value", self.document.at(node), message, _write(shape))

    def _number(self, node: Node, shape: Number, what: str) -> None:
        value = node.data
        assert isinstance(value, (int, float))
        if shape.whole and isinstance(value, float):
            message = f"{what} must be a whole number, not {quoted(node.written)}."
            self.note("wrong-type", self.document.at(node), message, _write(shape))
        elif shape.least is not None and value < shape.least:
            message = f"{what} must be at least {shape.least:g}, not {quoted(node.written)}."
            self.note("bad-value", self.document.at(node), message, _write(shape))
        elif shape.most is not None and value > shape.most:
            message = f"{what} must be at most {shape.most:g}, not {quoted(node.written)}."
            self.note("bad-value", self.document.at(node), message, _write(shape))

    def _list(self, node: Node, shape: ListOf, what: str) -> None:
        assert node.items is not None
        for item in node.items:
            self.check(item, shape.item, f"An entry of {_inner(what)}")
        if len(node.items) < shape.least:
            self._too_few(node, shape.least, "entry", "entries", shape, what)

    def _names(self, node: Node, shape: Names, what: str) -> None:
        assert node.entries is not None
        for name, child in node.entries.items():
            if not re.fullmatch(shape.pattern, name):
                hint = "Names are small letters, digits and hyphens, and start with a letter."
                self.note("bad-name", self.document.at_key(child), f"{quoted(name)} cannot be a name here.", hint)
            self.check(child, shape.item, quoted(name))
        if len(node.entries) < shape.least:
            self._too_few(node, shape.least, "entry", "entries", shape, what)
        if shape.most is not None and len(node.entries) > shape.most:
            extra = list(node.entries.values())[shape.most]
            message = f"{what} has {len(node.entries)} entries; there can be only {shape.most}."
            self.note("too-many", self.document.at_key(extra), message, _write(shape))

    def _record(self, node: Node, shape: Record, what: str) -> None:
        assert node.entries is not None
        absent = dict(missing(node.entries, shape))
        for name, child in node.entries.items():
            key = shape.keys.get(name, shape.others)
            if key is not None:
                self.check(child, key.shape, quoted(name))
            else:
                absent.pop(self._unknown_key(name, child, node, shape, what) or "", None)
        for name, key in absent.items():
            message = f"{what} lacks the key {quoted(name)}."
            self.note(key.missing, self.document.at_key(node), message, f"Add {name}: {wanted(key.shape)}.")
        if shape.forms:
            self._form(node, shape, what)
        if len(node.entries) < shape.least:
            self._too_few(node, shape.least, "key", "keys", shape, what)

    def _unknown_key(self, name: str, child: Node, node: Node, shape: Record, what: str) -> str | None:
        """Note a key that is none of the record's; the key it was probably meant for."""
        allowed = [each for each in shape.keys if each not in (node.entries or {})]
        message = f"{what} has the key {quoted(name)}, which {shape.wanted} does not have."
        hint = instead(name, allowed) or f"Delete {quoted(name)}."
        self.broken.update(map(id, _all_in(child)))
        self.note("unknown-key", self.document.at_key(child), message, hint)
        return near(name, allowed)

    def _form(self, node: Node, shape: Record, what: str) -> None:
        assert node.entries is not None
        form = chosen_form(node, shape)
        ruled = {name for each in shape.forms.values() for name in (*each.required, *each.optional)}
        if form is None:
            if not shape.by:
                ways = listed([" + ".join(each.required) for each in shape.forms.values()])
                self.note(
                    "missing-key",
                    self.document.at_key(node),
                    f"{what} says nothing to reckon with.",
                    f"Write one of: {ways}.",
                )
            return
        name, keys = form
        another = f"write another {shape.by}" if shape.by else name
        for key in keys.required:
            if key not in node.entries:
                message = f"{what} lacks the key {quoted(key)}, which goes with {quoted(name)}."
                hint = f"Add {key}: {wanted(shape.keys[key].shape)}."
                self.note("missing-key", self.document.at_key(node), message, hint)
        for key in ruled - {*keys.required, *keys.optional}:
            if key in node.entries:
                message = f"{what} has the key {quoted(key)}, which does not go with {quoted(name)}."
                self.note(
                    "mixed-kinds", self.document.at_key(node.entries[key]), message, f"Delete {key}, or {another}."
                )

    def _too_few(self, node: Node, least: int, one: str, many: str, shape: Shape, what: str) -> None:
        message = f"{what} needs at least {least} {one if least == 1 else many}."
        self.note("too-few", self.document.at(node), message, _write(shape))

    def _wrong_type(self, node: Node, shape: Shape, what: str) -> None:
        message = f"{what} must be {_type_wanted(shape, node)}, not {type_of(node)}."
        hint = _write(shape)
        if isinstance(shape, Text) and node.written:
            hint = f'Write it in quotes: "{node.written}".' if not shape.words else instead(node.written, shape.words)
        self.note("wrong-type", self.document.at(node), message, hint)

    def note(self, code: str, place: Place, message: str, hint: str) -> None:
        """Add a problem, and mark everything around it as broken."""
        self.broken.update(map(id, self.holding))
        self.problems.append(self.document.problem(code, place, message, hint))
        stop_at_many(self.problems)


def _all_in(node: Node) -> Iterator[Node]:
    """A value and every value in it."""
    yield node
    for child in (*(node.entries or {}).values(), *(node.items or ())):
        yield from _all_in(child)


def missing(entries: Collection[str], shape: Record) -> Iterator[tuple[str, Key]]:
    """The keys a record lacks: those always required, and those that its other keys cannot be without."""
    for name, key in shape.keys.items():
        if name in entries:
            continue
        if key.required or any(name in others for owner, others in shape.needs.items() if owner in entries):
            yield name, key


def chosen_form(node: Node, shape: Record) -> tuple[str, Form] | None:
    """The way in which a record's keys combine: named by the value of its `by` key, or else by one of its keys."""
    entries = node.entries or {}
    if shape.by:
        teller = entries.get(shape.by)
        name = str(teller.data) if teller else ""
        return (name, shape.forms[name]) if name in shape.forms else None
    fitting = [item for item in shape.forms.items() if item[0] in entries]
    return max(fitting, key=lambda item: len({*item[1].required, *item[1].optional} & set(entries)), default=None)


def accepts(shape: Shape, node: Node) -> bool:
    """Whether a value is of the right type for a shape, whatever it holds."""
    match shape:
        case Text():
            return isinstance(node.data, str)
        case Number():
            return isinstance(node.data, (int, float)) and not isinstance(node.data, bool)
        case Value():
            return isinstance(node.data, (str, int, float)) and not isinstance(node.data, bool)
        case ListOf():
            return node.items is not None
        case Names() | Record():
            return node.entries is not None
        case Named():
            return accepts(named(shape.name), node)
        case Either():
            return any(accepts(option, node) for option in shape.options)


def type_of(node: Node) -> str:
    """What a value is, in YAML's words."""
    if node.entries is not None:
        return "a mapping"
    if node.items is not None:
        return "a list"
    if node.data is None:
        return "nothing"
    if isinstance(node.data, bool):
        return node.written
    return "text" if isinstance(node.data, str) else f"the number {node.written}"


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
    if isinstance(shape, Text) and shape.wanted != "text" and node.data is not None:
        return f"{shape.wanted}, as text"
    if isinstance(shape, Names):
        return f"a mapping of {shape.wanted}"
    return f"{shape.wanted}, as a mapping" if isinstance(shape, Record) else shape.wanted


def _inner(what: str) -> str:
    return what[:1].lower() + what[1:] if what.startswith(("An ", "A ", "The ")) else what
