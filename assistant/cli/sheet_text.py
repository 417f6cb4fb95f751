"""A printout as text, HTML or JSON on standard output."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from assistant.cli.output import BLANK, Line, say, say_json, write
from assistant.explain.sheet import Section, Sheet, Table, sheet_data

BLANK_CELL = "______"


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
    rows = [table.headings, *(tuple(cell or BLANK_CELL for cell in row) for row in table.rows)]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        text = "  ".join(f"{cell:{width}}" for cell, width in zip(row, widths, strict=True))
        yield Line(text.rstrip(), "drawing", 2)
