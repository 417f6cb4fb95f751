"""A problem as people read it: the place, the sentence, the lines of source with the spot marked, the way out."""

from __future__ import annotations

from assistant.model.place import Problem
from assistant.rulebook.names import visible

WIDTH = 96  # the widest piece of a source line that is shown
FITS = 88  # the last column that needs no shift to be shown
BEFORE = 60  # how much of a long line is shown before the spot


def render_problem(problem: Problem) -> str:
    """The problem as several lines of plain text, safe to send to a terminal."""
    lines = [f"{visible(str(problem.place))}: {visible(problem.message)} [{problem.code}]"]
    lines += _marked_source(problem)
    if problem.hint:
        lines.append(f"  {visible(problem.hint)}")
    return "\n".join(lines)


def _marked_source(problem: Problem) -> list[str]:
    if not problem.excerpt:
        return []
    last = problem.place.line
    margin = len(str(last))
    start = 0 if problem.place.column <= FITS else problem.place.column - 1 - BEFORE
    shown = [
        f"  {number:>{margin}} | {_piece(text, start)}".rstrip()
        for number, text in enumerate(problem.excerpt, start=last - len(problem.excerpt) + 1)
    ]
    return [*shown, f"  {'':>{margin}} | {' ' * _offset(problem, start)}^"]


def _offset(problem: Problem, start: int) -> int:
    """How far right the spot stands in the piece of the line that is shown."""
    before = problem.excerpt[-1][start : problem.place.column - 1]
    return len(_safe(before)) + (1 if start else 0)


def _piece(text: str, start: int) -> str:
    piece = _safe(text[start : start + WIDTH])
    return ("…" if start else "") + piece + ("…" if len(text) > start + WIDTH else "")


def _safe(text: str) -> str:
    return visible(text.replace("\t", " "))
