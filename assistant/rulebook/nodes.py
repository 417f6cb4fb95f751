"""YAML text -> a tree of plain values that know their line and column.

A small, safe part of YAML: mappings, lists, and scalars that are nothing, true/false, decimal
numbers or text. Dates, `yes`, `on`, `010` and `1e3` are text. Tags, anchors and aliases are refused.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, NoReturn, Protocol, TypeAlias

import yaml

from assistant.model.place import BadInput, Place, Problem
from assistant.rulebook.names import quoted

DEEPEST = 40  # how many mappings and lists may stand inside each other
_TOO_DEEP = (f"Lists and mappings stand more than {DEEPEST} deep here.", "Write it flatter.")

Plain: TypeAlias = "dict[str, Plain] | list[Plain] | str | int | float | bool | None"

_WHOLE = re.compile(r"[-+]?(?:0|[1-9][0-9]{0,14})")
_DECIMAL = re.compile(r"[-+]?(?:0|[1-9][0-9]{0,14})\.[0-9]{1,15}")
_WORDS: Mapping[str, bool | None] = {"": None, "~": None, "null": None, "true": True, "false": False}


class Node:
    """A value with where it starts and, inside a mapping, where its key starts (lines and columns from 1).

    `value` is what a scalar means and `written` its text as it stands in the file.
    """

    __slots__ = ("column", "entries", "items", "key_column", "key_line", "line", "value", "written")

    def __init__(
        self,
        spot: tuple[int, int],
        value: str | float | bool | None = None,
        written: str = "",
        entries: dict[str, Node] | None = None,
        items: list[Node] | None = None,
    ) -> None:
        self.line, self.column = spot
        self.key_line = self.key_column = 0
        self.value = value
        self.written = written
        self.entries = entries
        self.items = items

    @property
    def data(self) -> Plain:
        """The value and all in it as plain values."""
        if self.entries is not None:
            return {name: node.data for name, node in self.entries.items()}
        return self.value if self.items is None else [node.data for node in self.items]


def scalar(text: str) -> str | float | bool | None:
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
    composer = _Composer(file, _parser(text))
    try:
        return composer.root(), composer.problems
    except yaml.YAMLError as error:
        raise BadInput([*composer.problems, not_yaml(error, text, file)]) from None


def _parser(text: str) -> _Parser:
    """libyaml's parser, or the slower one in plain Python where PyYAML was built without it."""
    fast: Any = getattr(yaml, "CSafeLoader", None)
    parser: _Parser = fast(text) if fast is not None else yaml.SafeLoader(text)
    return parser


class _Parser(Protocol):
    def get_event(self) -> yaml.Event: ...


class _Composer:
    """Puts the parser's events together; `depth` counts the mappings and lists that are open."""

    def __init__(self, file: str, parser: _Parser) -> None:
        self.file = file
        self.next = parser.get_event
        self.depth = 0
        self.problems: list[Problem] = []

    def root(self) -> Node | None:
        """The value of the only document; None when there is none."""
        self.next()  # the stream starts
        if isinstance(self.next(), yaml.StreamEndEvent):
            return None
        root = self._node(self.next())
        self.next()  # the document ends
        event = self.next()
        if isinstance(event, yaml.DocumentStartEvent):
            self._stop(event, "not-yaml", "A second document starts here.", "Delete this '---' and what follows.")
        return root

    def _node(self, event: yaml.Event) -> Node:
        """The value that starts with an event."""
        self._check(event)
        if isinstance(event, yaml.ScalarEvent):
            text = event.value
            return Node(_spot(event), scalar(text) if event.implicit[0] else text, text)
        if self.depth >= DEEPEST:
            self._stop(event, "too-deep", *_TOO_DEEP)
        self.depth += 1
        node = self._mapping(event) if isinstance(event, yaml.MappingStartEvent) else self._list(event)
        self.depth -= 1
        return node

    def _check(self, event: yaml.Event) -> None:
        """Refuse an alias, or what has an anchor; note a tag."""
        marks: Any = event
        if marks.anchor is not None:
            hint = "Write the value out where it is needed; put text with & or * in quotes."
            self._stop(event, "alias", "Anchors (&) and aliases (*) are not read here.", hint)
        if marks.tag is not None:
            message = f"The tag {quoted(_tag(marks.tag))} asks for more than plain values."
            self._note(event, "tag", message, "Delete the tag; text and numbers need none.")

    def _list(self, start: yaml.Event) -> Node:
        items: list[Node] = []
        while not isinstance(event := self.next(), yaml.SequenceEndEvent):
            items.append(self._node(event))
        return Node(_spot(start), items=items)

    def _mapping(self, start: yaml.Event) -> Node:
        entries: dict[str, Node] = {}
        while not isinstance(event := self.next(), yaml.MappingEndEvent):
            name, spot = self._key(event, entries), _spot(event)
            node = self._node(self.next())
            node.key_line, node.key_column = spot
            if node.value is None and not node.written and node.entries is None and node.items is None:
                node.line, node.column = spot  # nothing is nowhere, and parsers differ over where
            entries.setdefault(name, node)
        return Node(_spot(start), entries=entries)

    def _key(self, event: yaml.Event, entries: Mapping[str, Node]) -> str:
        self._check(event)
        if not isinstance(event, yaml.ScalarEvent):
            if self.depth >= DEEPEST:
                self._stop(event, "too-deep", *_TOO_DEEP)
            self._stop(event, "bad-key", "A list or mapping cannot be a key.", "Put braces or brackets in quotes.")
        name: str = event.value
        if name in entries:
            first = entries[name].key_line
            message = f"The key {quoted(name)} stands here a second time; the first is on line {first}."
            self._note(event, "duplicate-key", message, "Delete one of the two, or merge them.")
        return name

    def _note(self, event: yaml.Event, code: str, message: str, hint: str) -> None:
        self.problems.append(Problem(code, Place(self.file, *_spot(event)), message, hint))

    def _stop(self, event: yaml.Event, code: str, message: str, hint: str) -> NoReturn:
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


def lines_of(text: str) -> tuple[str, ...]:
    """The lines of a text, as YAML counts them; only problems need them."""
    return tuple(re.split("\r\n|[\n\r\x85\u2028\u2029]", text))


def not_yaml(error: yaml.YAMLError, text: str, file: str) -> Problem:
    """A parser's complaint in plain words, at the spot it complains of."""
    said = str(getattr(error, "problem", None) or error)
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    lines = lines_of(text)
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
