"""A page to print and hang up: headed lists, tables and blanks to fill in, before anybody says how it looks."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple


class Table(NamedTuple):
    """Rows under headings; an empty cell is one to fill in by hand."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    @property
    def blanks(self) -> tuple[int, ...]:
        """The columns that are left to be filled in from top to bottom."""
        return tuple(at for at in range(len(self.headings)) if not any(row[at] for row in self.rows))


class Section(NamedTuple):
    """A part of a page: sentences, steps to be ticked off, a table, and a picture as SVG with its words in text."""

    heading: str
    says: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    items: tuple[str, ...] = ()
    table: Table | None = None
    svg: str = ""
    drawing: tuple[str, ...] = ()


class Sheet(NamedTuple):
    """A whole page: its title, the line below it, and its parts in order."""

    title: str
    below: str
    sections: tuple[Section, ...]


def section(heading: str, items: Iterable[str]) -> tuple[Section, ...]:
    """A headed list; nothing when there is nothing to list."""
    told = tuple(items)
    return (Section(heading, items=told),) if told else ()


def sheet_data(sheet: Sheet) -> dict[str, object]:
    """The page as plain data, pictures left out."""
    return {
        "title": sheet.title,
        "below": sheet.below,
        "sections": [
            {
                "heading": part.heading,
                "says": list(part.says),
                "steps": list(part.steps),
                "items": list(part.items),
                "table": part.table and {"headings": part.table.headings, "rows": part.table.rows},
            }
            for part in sheet.sections
        ],
    }
