"""A printout as lines of text."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.cli.output import BLANK, Line
from assistant.explain.sheet import Section, Sheet, Table

BLANK_CELL = "______"


def sheet_lines(sheet: Sheet) -> Iterator[Line]:
    """The page, section by section."""
    yield Line(sheet.title, "headline")
    yield Line(sheet.below)
    for part in sheet.sections:
        yield BLANK
        yield from _section(part)


def _section(part: Section) -> Iterator[Line]:
    yield Line(part.heading, "section")
    for sentence in part.says:
        yield Line(sentence, indent=2)
    for step in part.steps:
        yield Line(step, indent=2, bullet="[ ] ")
    for item in part.items:
        yield Line(item, indent=2, bullet="- ")
    for drawn in part.drawing:
        yield Line(drawn, "drawing", 2)
    if part.table:
        yield from _table(part.table)


def _table(table: Table) -> Iterator[Line]:
    rows = [table.headings, *(tuple(cell or BLANK_CELL for cell in row) for row in table.rows)]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        text = "  ".join(f"{cell:{width}}" for cell, width in zip(row, widths, strict=True))
        yield Line(text.rstrip(), "drawing", 2)
