"""A printout as text, HTML or JSON on standard output."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from itertools import zip_longest

from assistant.cli.output import BLANK, Line, say, say_json, width, write
from assistant.explain.sheet import Section, Sheet, Table, sheet_data

GAP = "  "
LEAST_BLANK, LEAST_COLUMN = 12, 8
"""Letters that a cell to be filled in takes at least, and a column that gives way."""


def takes_sheet(command: argparse.ArgumentParser, what: str) -> None:
    """The option `--sheet`, whose page is plain data with `--json`."""
    command.add_argument("--sheet", nargs="?", const="text", choices=("text", "html"), help=what)


def print_sheet(sheet: Sheet, options: argparse.Namespace) -> None:
    """Print the page as text, HTML or JSON."""
    if options.json:
        say_json(sheet_data(sheet))
    elif options.sheet == "html":
        from assistant.explain.sheet_html import sheet_html

        say(sheet_html(sheet))
    else:
        write(sheet_lines(sheet))


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
    """As wide as the page: long texts are wrapped in their cells, and room that is left is given to be written in."""
    rows = [table.headings, *table.rows]
    widths = _widths(table, width() - 2)
    for row in rows:
        cells = [_cell(text, wide) for text, wide in zip(row, widths, strict=True)]
        for parts in zip_longest(*cells, fillvalue=""):
            line = GAP.join(f"{part:{wide}}" for part, wide in zip(parts, widths, strict=True))
            yield Line(line.rstrip(), "drawing", 2)


def _cell(text: str, wide: int) -> list[str]:
    from textwrap import wrap

    return wrap(text, wide) or ["_" * wide]


def _widths(table: Table, room: int) -> list[int]:
    """What each column takes; the widest gives way where there is too little room."""
    columns = [list(column) for column in zip(table.headings, *table.rows, strict=True)]
    widths = [max(len(cell) or LEAST_BLANK for cell in column) for column in columns]
    room -= len(GAP) * (len(widths) - 1)
    while sum(widths) > room and max(widths) > LEAST_COLUMN:
        widths[widths.index(max(widths))] -= 1
    for left, at in enumerate(reversed(table.blanks), start=1):
        widths[at] += max(room - sum(widths), 0) // (len(table.blanks) + 1 - left)
    return widths
