"""YAML text -> a tree of plain values that know their line and column.

A small, safe part of YAML: mappings, lists, and scalars that are nothing, true/false, decimal
numbers or text. Dates, `yes`, `on`, `010` and `1e3` are text. Tags, anchors and aliases are refused.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Protocol, TypeAlias

import yaml

from assistant.model.place import BadInput, Place, Problem
from assistant.rulebook.names import quoted

DEEPEST = 40  # how many mappings and lists may stand inside each other
_TOO_DEEP = (f"Lists and mappings stand more than {DEEPEST} deep here.", "Write it flatter.")

Plain: TypeAlias = "dict[str, Plain] | list[Plain] | str | int | float | bool | None"

LINE_ENDS = re.compile("\r\n|[\n\r\x85\u2028\u2029]")  # those YAML counts, so that lines have the same numbers
_WHOLE = re.compile(r"[-+]?(?:0|[1-9][0-9]{0,14})")
_DECIMAL = re.compile(r"[-+]?(?:0|[1-9][0-9]{0,14})\.[0-9]{1,15}")
_WORDS: Mapping[str, bool | None] = {"": None, "~": None, "null": None, "true": True, "false": False}


class Node:
    """A value with where it starts and, inside a mapping, where its key starts (lines and columns from 1).

    `written` is a scalar's text as it stands in the file.
    """

    __slots__ = ("column", "data", "entries", "items", "key_column", "key_line", "line", "written")

    def __init__(
        self,
        data: Plain,
        spot: tuple[int, int],
        entries: dict[str, Node] | None = None,
        items: list[Node] | None = None,
        written: str = "",
    ) -> None:
        self.data = data
        self.line, self.column = spot
        self.key_line = self.key_column = 0
        self.entries = entries
        self.items = items
        self.written = written


def scalar(text: str) -> Plain:
    """What an unquoted scalar means."""
    if text in _WORDS:
        return _WORDS[text]
    if text[0] in "-+0123456789":
        if _WHOLE.fullmatch(text):
            return int(text)
        if _DECIMAL.fullmatch(text):
            return float(text)
    return text


def compose(text: str, file: str) -> tuple[Node | None, list[Problem]]:
    """The tree of a text (None when it holds nothing), with the problems that do not stop the reading.

    Raises `BadInput` on those that do: no YAML, aliases, nesting too deep.
    """
    builder = _Builder(file)
    parser = _parser(text)
    try:
        while not builder.done:
            builder.take(parser.get_event())
    except yaml.YAMLError as error:
        raise BadInput([*builder.problems, not_yaml(error, text, file)]) from None
    return builder.root, builder.problems


def _parser(text: str) -> _Parser:
    """libyaml's parser, or the slower one in plain Python where PyYAML was built without it."""
    fast: Any = getattr(yaml, "CSafeLoader", None)
    parser: _Parser = fast(text) if fast is not None else yaml.SafeLoader(text)
    return parser


class _Parser(Protocol):
    def get_event(self) -> yaml.Event: ...


class _Builder:
    """Puts the parser's events together, without recursion; `waiting` holds each open mapping's key."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.root: Node | None = None
        self.done = False
        self.problems: list[Problem] = []
        self.opened: list[Node] = []
        self.waiting: list[tuple[str, int, int] | None] = []

    def take(self, event: yaml.Event) -> None:
        """Add one event to the tree."""
        if isinstance(event, yaml.ScalarEvent):
            self._check(event)
            self._scalar(event)
        elif isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)):
            self._check(event)
            self._open(event)
        elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            self.opened.pop()
            self.waiting.pop()
        elif isinstance(event, yaml.AliasEvent):
            self._refuse_alias(event)
        elif isinstance(event, yaml.DocumentStartEvent) and self.root is not None:
            self._stop(event, "not-yaml", "A second document starts here.", "Delete this '---' and what follows.")
        else:
            self.done = isinstance(event, yaml.StreamEndEvent)

    def _check(self, event: yaml.ScalarEvent | yaml.CollectionStartEvent) -> None:
        if event.anchor is not None:
            self._refuse_alias(event)
        if event.tag is not None:
            message = f"The tag {quoted(_tag(event.tag))} asks for more than plain values."
            self._note(event, "tag", message, "Delete the tag; text and numbers need none.")

    def _scalar(self, event: yaml.ScalarEvent) -> None:
        line, column = _spot(event)
        parent = self.opened[-1] if self.opened else None
        if parent is not None and parent.entries is not None and self.waiting[-1] is None:
            if event.value in parent.entries:
                first = parent.entries[event.value].key_line
                message = f"The key {quoted(event.value)} stands here a second time; the first is on line {first}."
                self._note(event, "duplicate-key", message, "Delete one of the two, or merge them.")
            self.waiting[-1] = (event.value, line, column)
        else:
            value = scalar(event.value) if event.implicit[0] else event.value
            key = self.waiting[-1] if self.waiting else None
            if key is not None and value is None and not event.value:
                _, line, column = key  # nothing is nowhere, and parsers differ over where
            self._add(Node(value, (line, column), written=event.value))

    def _open(self, event: yaml.CollectionStartEvent) -> None:
        if isinstance(event, yaml.MappingStartEvent):
            node = Node({}, _spot(event), entries={})
        else:
            node = Node([], _spot(event), items=[])
        if len(self.opened) >= DEEPEST:
            self._stop(event, "too-deep", *_TOO_DEEP)
        if self.opened and self.opened[-1].entries is not None and self.waiting[-1] is None:
            self._stop(event, "bad-key", "A list or mapping cannot be a key.", "Put braces or brackets in quotes.")
        self._add(node)
        self.opened.append(node)
        self.waiting.append(None)

    def _add(self, node: Node) -> None:
        if not self.opened:
            self.root = node
            return
        parent, key = self.opened[-1], self.waiting[-1]
        if parent.items is not None:
            parent.items.append(node)
            parent.data.append(node.data)  # type: ignore[union-attr]
            return
        assert key is not None
        assert parent.entries is not None
        name, node.key_line, node.key_column = key
        self.waiting[-1] = None
        if name not in parent.entries:
            parent.entries[name] = node
            parent.data[name] = node.data  # type: ignore[index, call-overload]

    def _refuse_alias(self, event: yaml.Event) -> None:
        hint = "Write the value out where it is needed; put text with & or * in quotes."
        self._stop(event, "alias", "Anchors (&) and aliases (*) are not read here.", hint)

    def _note(self, event: yaml.Event, code: str, message: str, hint: str) -> None:
        self.problems.append(Problem(code, Place(self.file, *_spot(event)), message, hint))

    def _stop(self, event: yaml.Event, code: str, message: str, hint: str) -> None:
        self._note(event, code, message, hint)
        raise BadInput(self.problems)


def _tag(tag: str) -> str:
    """A tag as authors write it."""
    return tag.replace("tag:yaml.org,2002:", "!!")


def _spot(event: yaml.Event) -> tuple[int, int]:
    mark: Any = event.start_mark
    return mark.line + 1, mark.column + 1


# What the parser says, and what an author can do about it.
_CLOSE = "Close it, put commas between entries, and quote text that holds ? : , or a bracket."
_INDENT = "Check its indent and quotes."
_IN_PLAIN_WORDS = (
    ("mapping values are not allowed", "A colon stands where none can be.", "Put text that holds ': ' in quotes."),
    ("could not find expected ':'", "This line has no colon after its key.", "Write key: value."),
    ("cannot start any token", "Nothing can start with this character.", "Put text that starts with it in quotes."),
    ("unexpected end of stream", "The file ends inside quotes.", "Close the quotes."),
    ("undefined tag handle", "A tag stands here.", "Delete the tag; text and numbers need none."),
    ("',' or '}'", "A brace that was opened before is not closed.", _CLOSE),
    ("',' or ']'", "A bracket that was opened before is not closed.", _CLOSE),
    ("did not find expected key", "This line does not fit the lines above it.", _INDENT),
    ("expected <block end>", "This line does not fit the lines above it.", _INDENT),
    ("did not find expected '-'", "This line does not fit the list above it.", "Start each entry with '- '."),
)


def not_yaml(error: yaml.YAMLError, text: str, file: str) -> Problem:
    """A parser's complaint in plain words, at the spot it complains of."""
    said = str(getattr(error, "problem", None) or error)
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    lines = LINE_ENDS.split(text)
    if mark and mark.line >= len(lines):  # libyaml may point past the end of the last line
        place = Place(file, len(lines), len(lines[-1]) + 1)
    else:
        place = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
    if place.line and lines[place.line - 1].startswith("\t", place.column - 1):
        return Problem("not-yaml", place, "A tab stands where a value or an indent should be.", "Indent with spaces.")
    if "maximum nesting depth" in said:  # libyaml looks ahead, and may find brackets too deep before we do
        return Problem("too-deep", place, *_TOO_DEEP)
    for words, message, hint in _IN_PLAIN_WORDS:
        if words in said:
            return Problem("not-yaml", place, message, hint)
    return Problem("not-yaml", place, f"This is not YAML: {said}.", "Check quotes, brackets and indent.")
