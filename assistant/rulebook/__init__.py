"""YAML text -> rulebooks and cases, with every problem at its place; and the schemas that editors use."""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from assistant.rulebook.build import check_rulebook, read_rulebook
    from assistant.rulebook.checking import check_case_shape
    from assistant.rulebook.documents import Document, read_document
    from assistant.rulebook.problems import render_problem
    from assistant.rulebook.schema import schema_text, write_schemas
    from assistant.rulebook.shipped import shipped_folder, shipped_rulebooks
    from assistant.rulebook.writing import dump_yaml

_HOMES = {
    "build": ("check_rulebook", "read_rulebook"),
    "checking": ("check_case_shape",),
    "documents": ("Document", "read_document"),
    "problems": ("render_problem",),
    "schema": ("schema_text", "write_schemas"),
    "shipped": ("shipped_folder", "shipped_rulebooks"),
    "writing": ("dump_yaml",),
}

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


def __getattr__(name: str) -> object:
    """Loads a part when it is first asked for, so that a command pays only for what it uses."""
    for home, names in _HOMES.items():
        if name in names:
            return getattr(import_module(f"{__name__}.{home}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
