"""A tree of reasons as indented text, or as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from assistant.cli.output import Line

if TYPE_CHECKING:
    from assistant.explain.reasoning import Reason

STEP = 2  # columns a level stands further in
_LABELS = {"source": "Source: ", "disagreement": "Disputed: ", "caution": "Mind: ", "step": ""}


def reason_lines(reason: Reason, depth: int = 0) -> Iterator[Line]:
    """The reason and all that it rests on, each level further in."""
    bullet = "- " if depth else ""
    role = "" if depth else "headline"
    yield Line(_LABELS.get(reason.kind, "") + reason.text, role, depth * STEP, bullet)
    if reason.detail:
        yield Line(reason.detail, "quiet", depth * STEP + len(bullet))
    for child in reason.children:
        yield from reason_lines(child, depth + 1)


def reason_json(reason: Reason) -> dict[str, Any]:
    """The same tree for other programs."""
    return {
        "kind": reason.kind,
        "text": reason.text,
        "detail": reason.detail,
        "children": [reason_json(child) for child in reason.children],
    }
