"""Nothing that a text holds reaches the terminal but characters to be seen."""

from __future__ import annotations

from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

from assistant.rulebook.names import harmless


class Harmless(LineFilter):
    """Takes out of every line drawn what would steer the terminal: it has no width, so nothing moves."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The segments, most of them as they are."""
        return [segment if segment.text.isprintable() else _cleaned(segment) for segment in segments]


def _cleaned(segment: Segment) -> Segment:
    return Segment(harmless(segment.text), segment.style)
