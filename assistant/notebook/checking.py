"""Whether a notebook is sound: by SQLite's own checks, by its tables, and by reading every record."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing

from assistant.model.notebook import TABLES
from assistant.notebook.files import bring_up_to_date
from assistant.notebook.rows import NotACell, record_of
from assistant.notebook.schema import STEPS


def troubles(connection: sqlite3.Connection) -> Iterator[str]:
    """A sentence for each thing that is wrong; records are not looked at when the file itself is not sound."""
    broken = [f"The file is damaged: {said}." for said in _of_the_file(connection)]
    yield from broken
    if broken:
        return
    for table, number, parent, _ in connection.execute("PRAGMA foreign_key_check"):
        yield f"{table} {number} belongs to a {parent} that is not there."
    if _tables(connection) != _tables_as_made():
        yield "The tables are not those that digday makes; another program has changed them."
        return
    yield from _of_the_records(connection)


def _of_the_file(connection: sqlite3.Connection) -> list[str]:
    try:
        found = [str(said) for (said,) in connection.execute("PRAGMA integrity_check")]
    except sqlite3.DatabaseError as error:
        return [str(error)]
    return [said for said in found if said != "ok"]


def _of_the_records(connection: sqlite3.Connection) -> Iterator[str]:
    for table, kind in TABLES.items():
        rows = connection.execute(f'SELECT * FROM "{table}" ORDER BY id')
        names = [column[0] for column in rows.description]
        for row in rows:
            cells = dict(zip(names, row, strict=True))
            try:
                record_of(kind, cells)
            except NotACell as error:
                yield f"{table} {cells['id']}: {error}."


def _tables(connection: sqlite3.Connection) -> set[str]:
    made = connection.execute("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%'")
    return {" ".join(sql.removesuffix("STRICT").split()) for (sql,) in made}


def _tables_as_made() -> set[str]:
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as connection:
        bring_up_to_date(connection, STEPS)
        return _tables(connection)
