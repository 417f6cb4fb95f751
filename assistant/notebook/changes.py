"""What the notebook remembers of each change, so that the last entry can be undone."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from typing import NamedTuple

from assistant.notebook.rows import Cell

UNDO_DEPTH = 200
"""So many entries can be undone, one after the other."""


class Change(NamedTuple):
    """One record that was changed or taken out, with its row before; or added, with None."""

    table: str
    record: int
    before: Mapping[str, Cell] | None


def remember(connection: sqlite3.Connection, entry: int, change: Change) -> None:
    """Write down a change, in the transaction that makes it."""
    before = None if change.before is None else json.dumps(change.before, ensure_ascii=False)
    connection.execute(
        "INSERT INTO change (entry, record_of, record, before) VALUES (?, ?, ?, ?)",
        (entry, change.table, change.record, before),
    )


def kept_for_undo(connection: sqlite3.Connection) -> None:
    """Forget the changes of entries that are too long ago."""
    first_too_many = "SELECT id FROM entry ORDER BY id DESC LIMIT 1 OFFSET ?"
    connection.execute(f"DELETE FROM entry WHERE id <= ({first_too_many})", (UNDO_DEPTH,))


def links_later(connection: sqlite3.Connection) -> None:
    """What refers to what is looked at when the transaction ends, not at each statement."""
    connection.execute("PRAGMA defer_foreign_keys = ON")


def put_back(connection: sqlite3.Connection, entry: int) -> None:
    """Undo the changes of an entry, the last first, and forget it."""
    links_later(connection)
    query = "SELECT record_of, record, before FROM change WHERE entry = ? ORDER BY id DESC"
    for table, record, before in connection.execute(query, (entry,)).fetchall():
        if before is None:
            connection.execute(f'DELETE FROM "{table}" WHERE id = ?', (record,))
        else:
            _restore(connection, table, json.loads(before))
    connection.execute("DELETE FROM entry WHERE id = ?", (entry,))


def _restore(connection: sqlite3.Connection, table: str, row: Mapping[str, Cell]) -> None:
    """The row as it was, whether it is still there or not. An update, since others may refer to the record."""
    names = ", ".join(f'"{name}"' for name in row)
    marks = ", ".join("?" * len(row))
    settings = ", ".join(f'"{name}" = excluded."{name}"' for name in row)
    connection.execute(
        f'INSERT INTO "{table}" ({names}) VALUES ({marks}) ON CONFLICT (id) DO UPDATE SET {settings}', [*row.values()]
    )
