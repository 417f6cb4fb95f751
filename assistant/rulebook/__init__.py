"""YAML text -> rulebooks and cases, with every problem at its place; and the schemas that editors use."""

from __future__ import annotations

from pathlib import Path

from assistant.model.place import Problem
from assistant.rulebook.build import check_rulebook, read_rulebook
from assistant.rulebook.case_grammar import CASE
from assistant.rulebook.checking import Checker
from assistant.rulebook.documents import Document, read_document
from assistant.rulebook.problems import render_problem
from assistant.rulebook.shipped import shipped_folder, shipped_rulebooks
from assistant.rulebook.writing import dump_yaml

__all__ = [
    "Document",
    "check_case_shape",
    "check_rulebook",
    "dump_yaml",
    "read_document",
    "read_rulebook",
    "render_problem",
    "schema_text",
    "shipped_folder",
    "shipped_rulebooks",
    "write_schemas",
]


def check_case_shape(document: Document) -> tuple[Problem, ...]:
    """Every problem of a case file's shape, sorted by place; what its values mean is not looked at."""
    checker = Checker(document)
    checker.check(document.root, CASE, "The case")
    return tuple(sorted(checker.problems, key=lambda problem: problem.place))


def schema_text(which: str) -> str:
    """The JSON Schema of `rulebook`, `sources` or `case` files."""
    from assistant.rulebook import schema

    return schema.schema_text(which)


def write_schemas() -> tuple[Path, ...]:
    """Write all JSON Schemas beside the rulebooks, and say where."""
    from assistant.rulebook import schema

    return schema.write_schemas()
