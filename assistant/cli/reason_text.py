"""A tree of reasons as indented text, or as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from assistant.cli.output import BLANK, Line

if TYPE_CHECKING:
    from assistant.explain.reasoning import Reason

STEP = 2  # columns a level stands further in
_HEADS = {"verdict": "headline", "section": "section"}


def reason_lines(reason: Reason, depth: int = 0) -> Iterator[Line]:
    """The reason and all that it rests on, each level further in; heads stand at the margin."""
    is_head = reason.kind in _HEADS
    indent, bullet = (0, "") if is_head else (depth * STEP, "- ")
    if reason.kind == "section":
        yield BLANK
    if reason.kind == "source":
        yield Line(f"Source: {reason.text}" + (f" ({reason.detail})" if reason.detail else ""), "", indent, bullet)
        return
    yield Line(reason.text, _HEADS.get(reason.kind, ""), indent, bullet)
    if reason.detail:
        place = f" ({reason.place})" if reason.place else ""
        yield Line(reason.detail + place, "quiet", indent + len(bullet))
    for child in reason.children:
        yield from reason_lines(child, 1 if is_head else depth + 1)


def reason_json(reason: Reason) -> dict[str, Any]:
    """The same tree for other programs."""
    return {
        "kind": reason.kind,
        "text": reason.text,
        "detail": reason.detail,
        "place": reason.place,
        "children": [reason_json(child) for child in reason.children],
    }
