"""The manual: one page for each code, with a rulebook that has the flaw and the same one mended."""

from __future__ import annotations

from pathlib import Path

from assistant.model.place import Place, refuse
from assistant.rulebook import shipped_folder


def manual_folder() -> Path:
    """Where the pages lie, each in a folder named after its code."""
    return shipped_folder("rulebooks") / "_manual"


def codes() -> tuple[str, ...]:
    """Every code that has a page."""
    return tuple(sorted(path.parent.name for path in manual_folder().glob("*/page.md")))


def page(code: str) -> str:
    """The page of a code. Raises `BadInput` naming the codes there are."""
    if code not in codes():
        hint = f"Codes with a page: {', '.join(codes())}."
        raise refuse("unknown-code", Place("--explain"), f"There is no page on '{code}'.", hint)
    return (manual_folder() / code / "page.md").read_text(encoding="utf-8")
