"""A printout: a title and sections of paragraphs, lists and tables, as text for the terminal or one page of HTML."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from pathlib import Path
from typing import NamedTuple

from assistant.cli.output import BLANK, Line

GAP = "  "
"""Between the columns of a table of text."""
_STYLE = """\
body { font: 12pt/1.4 Georgia, serif; max-width: 44em; margin: 2em auto; padding: 0 1em; color: #111; background: #fff }
h1 { font-size: 1.5em } h2 { font-size: 1.15em; margin: 1.4em 0 .3em }
table { border-collapse: collapse; width: 100% }
th, td { text-align: left; vertical-align: top; padding: .2em .8em .2em 0; border-bottom: 1px solid #999 }
ul { padding-left: 1.2em } li, tr { break-inside: avoid } h2 { break-after: avoid }
.box::before { content: "\\2610\\00a0" } ul.boxes { list-style: none; padding-left: 0 }
.quiet { color: #444; font-size: .9em }
"""


class Table(NamedTuple):
    """A heading and rows of as many cells; in text the last column wraps."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


class Section(NamedTuple):
    """A titled part: paragraphs, then a list (with boxes to tick where there are things to do), a table, notes."""

    title: str
    says: tuple[str, ...] = ()
    items: tuple[str, ...] = ()
    boxes: bool = False
    table: Table | None = None
    notes: tuple[str, ...] = ()


class Printout(NamedTuple):
    """A title, a line below it, and sections; an empty section is left out."""

    title: str
    below: str
    sections: tuple[Section, ...]

    @property
    def filled(self) -> tuple[Section, ...]:
        """The sections that say something."""
        return tuple(each for each in self.sections if each.says or each.items or each.table or each.notes)


def printout_lines(printout: Printout) -> Iterator[Line]:
    """The printout as lines of text."""
    yield Line(printout.title, "headline")
    if printout.below:
        yield Line(printout.below)
    for section in printout.filled:
        yield BLANK
        yield Line(section.title, "section")
        yield from (Line(text, indent=2) for text in section.says)
        yield from (Line(item, indent=2, bullet="[ ] " if section.boxes else "- ") for item in section.items)
        yield from _table_lines(section.table) if section.table else ()
        yield from (Line(text, "quiet", 2) for text in section.notes)


def _table_lines(table: Table) -> Iterator[Line]:
    widths = [max(map(len, column)) for column in zip(table.head, *table.rows, strict=True)][:-1]
    for number, row in enumerate((table.head, *table.rows)):
        lead = "".join(cell.ljust(width) + GAP for cell, width in zip(row, widths, strict=False))
        yield Line(row[-1] or " ", "section" if not number else "", 2, lead)


def printout_html(printout: Printout) -> str:
    """The printout as one page of HTML that needs no other file and no network."""
    title = escape(printout.title)
    body = "".join(_section_html(section) for section in printout.filled)
    below = f"<p>{escape(printout.below)}</p>\n" if printout.below else ""
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width">\n<title>{title}</title>\n<style>\n{_STYLE}</style>\n'
        f"</head>\n<body>\n<h1>{title}</h1>\n{below}{body}</body>\n</html>\n"
    )


def _section_html(section: Section) -> str:
    parts = [f"<h2>{escape(section.title)}</h2>\n"]
    parts += [f"<p>{escape(text)}</p>\n" for text in section.says]
    if section.items:
        kind, item = (' class="boxes"', '<li class="box">') if section.boxes else ("", "<li>")
        items = "".join(f"{item}{escape(text)}</li>\n" for text in section.items)
        parts.append(f"<ul{kind}>\n{items}</ul>\n")
    if section.table:
        rows = _row("th", section.table.head) + "".join(_row("td", row) for row in section.table.rows)
        parts.append(f"<table>\n{rows}</table>\n")
    parts += [f'<p class="quiet">{escape(text)}</p>\n' for text in section.notes]
    return "".join(parts)


def _row(tag: str, cells: tuple[str, ...]) -> str:
    return "<tr>" + "".join(f"<{tag}>{escape(cell)}</{tag}>" for cell in cells) + "</tr>\n"


def save_html(printout: Printout, path: Path) -> None:
    """Write the page. Raises `OSError`."""
    path.write_text(printout_html(printout), encoding="utf-8")
