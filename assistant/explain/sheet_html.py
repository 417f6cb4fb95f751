"""A printout as one HTML page that needs nothing beside it: black on white, a tick box a step, A4 or letter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape

from assistant.explain.sheet import Section, Sheet, Table
from assistant.rulebook.names import escaped

_STYLE = """\
body { font: 12pt/1.4 Georgia, serif; color: #000; background: #fff }
body { max-width: 42em; margin: 1.5em auto; padding: 0 1em }
h1 { font-size: 1.6em; margin-bottom: 0 } h2 { font-size: 1.15em; margin: 1.2em 0 .3em; border-bottom: 1px solid #000 }
ul.steps { list-style: none; padding-left: 0 } ul.steps li { padding-left: 1.7em; text-indent: -1.7em; margin: .3em 0 }
ul.steps li::before { content: "\\2610\\00a0\\00a0"; font-size: 1.1em }
table { border-collapse: collapse; width: 100% } th, td { border: 1px solid #000; padding: .3em .5em; text-align: left }
td:empty { height: 1.4em } section { break-inside: avoid } svg { max-width: 100%; height: auto }
@media print { body { margin: 0; max-width: none; font-size: 11pt } }
"""


def sheet_html(sheet: Sheet) -> str:
    """The page; every text on it is escaped."""
    return escaped("\n".join(_page(sheet)))


def _page(sheet: Sheet) -> Iterator[str]:
    yield "<!DOCTYPE html>"
    yield f'<html lang="en"><head><meta charset="utf-8"><title>{escape(sheet.title)}</title>'
    yield f'<meta name="viewport" content="width=device-width"><style>\n{_STYLE}</style></head><body>'
    yield f"<h1>{escape(sheet.title)}</h1><p>{escape(sheet.below)}</p>"
    for part in sheet.sections:
        yield from _section(part)
    yield "</body></html>"


def _section(part: Section) -> Iterator[str]:
    yield f"<section><h2>{escape(part.heading)}</h2>"
    for sentence in part.says:
        yield f"<p>{escape(sentence)}</p>"
    yield from _list('<ul class="steps">', part.steps)
    yield from _list("<ul>", part.items)
    if part.svg:
        yield part.svg
    if part.table:
        yield from _table(part.table)
    yield "</section>"


def _list(opening: str, items: Sequence[str]) -> Iterator[str]:
    if items:
        yield opening
        yield from (f"<li>{escape(item)}</li>" for item in items)
        yield "</ul>"


def _table(table: Table) -> Iterator[str]:
    room = f' style="width: {min(30, 50 // max(len(table.blanks), 1))}%"'
    cells = "".join(
        f"<th{room if at in table.blanks else ''}>{escape(text)}</th>" for at, text in enumerate(table.headings)
    )
    yield f"<table><thead><tr>{cells}</tr></thead><tbody>"
    for row in table.rows:
        yield "<tr>" + "".join(f"<td>{escape(text)}</td>" for text in row) + "</tr>"
    yield "</tbody></table>"
