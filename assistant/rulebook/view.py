"""A checked file as the builder sees it: values that are whole, and a way to note what is wrong with their meaning."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.model.place import Place, Problem
from assistant.model.quantities import NotAValue
from assistant.rulebook.documents import Document, stop_at_many
from assistant.rulebook.nodes import Node


class Report:
    """Every problem of a rulebook so far, and the values in which the shape is already wrong."""

    def __init__(self, problems: list[Problem] | None = None) -> None:
        self.problems: list[Problem] = [] if problems is None else problems
        self.broken: set[int] = set()


class View:
    """One value of a file. What has a wrong shape is passed over: its problem is noted already."""

    __slots__ = ("document", "node", "report")

    def __init__(self, document: Document, node: Node, report: Report) -> None:
        self.document = document
        self.node = node
        self.report = report

    @property
    def whole(self) -> bool:
        """Whether the value and all in it have the right shape."""
        return id(self.node) not in self.report.broken

    @property
    def written(self) -> str:
        """A scalar as it stands in the file."""
        return self.node.written

    @property
    def place(self) -> Place:
        """Where the value's key starts, or the value itself."""
        return self.document.at_key(self.node)

    def beside(self, node: Node) -> View:
        """Another value of the same file."""
        return View(self.document, node, self.report)

    def entries(self) -> Iterator[tuple[str, View]]:
        """The keys and values of a mapping; none of anything else."""
        for name, node in (self.node.entries or {}).items():
            yield name, self.beside(node)

    def items(self) -> Iterator[View]:
        """The entries of a list; none of anything else."""
        for node in self.node.items or ():
            yield self.beside(node)

    def get(self, key: str) -> View | None:
        """The value of a key; None where it is missing or its shape is wrong."""
        node = (self.node.entries or {}).get(key)
        return None if node is None or id(node) in self.report.broken else self.beside(node)

    def within(self, key: str) -> View | None:
        """The value of a key even where something in it has a wrong shape."""
        node = (self.node.entries or {}).get(key)
        return None if node is None else self.beside(node)

    def has(self, key: str) -> bool:
        """Whether the key is there, whole or not."""
        return key in (self.node.entries or {})

    def text(self, key: str) -> str:
        """The text of a key as one paragraph; empty where it is missing or wrong."""
        value = self.get(key)
        return value.written.strip() if value else ""

    def note(self, code: str, message: str, hint: str = "", at_key: bool = False) -> None:
        """Note a problem at the value, or at its key."""
        place = self.place if at_key else self.document.at(self.node)
        self.report.problems.append(self.document.problem(code, place, message, hint))
        stop_at_many(self.report.problems)

    def refuse(self, code: str, error: NotAValue, at_key: bool = False) -> None:
        """Note that the value's text, or its key, means nothing here, in the words of the error."""
        said, _, hint = str(error).partition("; ")
        self.note(code, f"{said[:1].upper()}{said[1:]}.", f"{hint[:1].upper()}{hint[1:]}." if hint else "", at_key)
