"""A notebook that is open: records in, records out, the last entry undone."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import datetime
from itertools import chain
from pathlib import Path
from types import TracebackType
from typing import NamedTuple, TypeVar

from assistant.model.notebook import TABLES, AnswerRow, Record, answer_row
from assistant.model.place import Place, refuse
from assistant.model.readings import Known
from assistant.notebook.changes import Change, kept_for_undo, links_later, put_back, remember
from assistant.notebook.checking import troubles
from assistant.notebook.faults import refused, told
from assistant.notebook.files import bring_up_to_date, copy, make, opened, steps_taken, transaction, which_file
from assistant.notebook.rows import OWNED, Cell, cells_of, record_of, table_of, to_cell
from assistant.notebook.schema import STEPS

R = TypeVar("R", bound=Record)


class Entry(NamedTuple):
    """What was written at one go. Numbers rise even when the clock is set back."""

    id: int
    at: datetime
    says: str


class Between(NamedTuple):
    """In place of a value that is looked for: any from the first to the last."""

    first: object
    last: object


class Notebook:
    """Every change is on the disk when its method returns, or has left no trace and raised `BadInput`.

    Records come in the order in which they were entered, whatever the clock said then.
    """

    def __init__(self, path: Path, new: bool = True) -> None:
        self.path = path
        self._connection = opened(path, new)
        self._file = which_file(path)
        self._entry: int | None = None

    def __enter__(self) -> Notebook:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self._connection.close()

    def add(self, record: R) -> R:
        """Write a new record; it comes back with its number."""
        with self.entry(f"{_words(table_of(record))} added"):
            return self._insert(record)

    def change(self, record: R) -> R:
        """Write a record over what it was before. Raises `BadInput` when it is no longer there."""
        with self.entry(f"{_words(table_of(record))} changed"):
            before = self._row(table_of(record), record.id)
            self._remember(Change(table_of(record), record.id, before))
            cells = cells_of(record)
            settings = ", ".join(f'"{name}" = ?' for name in cells)
            self._run(f'UPDATE "{table_of(record)}" SET {settings} WHERE id = ?', *cells.values(), record.id)
        return self.get(type(record), record.id)

    def remove(self, record: Record) -> None:
        """Take out a record and all that belongs to it."""
        with self.entry(f"{_words(table_of(record))} taken out"):
            self._remove(table_of(record), record.id)

    def answer(self, visit: int, sign: str, known: Known) -> AnswerRow:
        """Write what is known of a sign at a visit, over an earlier answer to it, if any."""
        record = answer_row(visit, sign, known)
        earlier = self.all(AnswerRow, visit=visit, sign=sign)
        return self.change(record._replace(id=earlier[0].id)) if earlier else self.add(record)

    def get(self, kind: type[R], number: int) -> R:
        """The record of a number. Raises `BadInput` when there is none."""
        with told(self.path):
            return record_of(kind, self._row(table_of(kind), number))

    def all(self, kind: type[R], **where: object) -> tuple[R, ...]:
        """The records of a kind whose fields hold these values, in the order in which they were entered."""
        with told(self.path):
            return tuple(record_of(kind, row) for row in self.rows(table_of(kind), **where))

    def latest(self, kind: type[R], **where: object) -> R | None:
        """The record of these that was entered last; None when there is none."""
        return next(iter(self.recent(kind, 1, **where)), None)

    def recent(self, kind: type[R], last: int, **where: object) -> tuple[R, ...]:
        """So many of these records, the one that was entered last first."""
        with told(self.path):
            return tuple(record_of(kind, row) for row in self._rows(table_of(kind), where, f"DESC LIMIT {last}"))

    def rows(self, table: str, **where: object) -> list[dict[str, Cell]]:
        """The records as cells by column."""
        return self._rows(table, where)

    def _rows(self, table: str, where: Mapping[str, object], order: str = "") -> list[dict[str, Cell]]:
        tests = {name: "BETWEEN ? AND ?" if isinstance(value, Between) else "IS ?" for name, value in where.items()}
        condition = " AND ".join(f'"{name}" {test}' for name, test in tests.items()) or "1"
        values = chain.from_iterable(value if isinstance(value, Between) else (value,) for value in where.values())
        query = f'SELECT * FROM "{table}" WHERE {condition} ORDER BY id {order}'
        with told(self.path):
            found = self._connection.execute(query, [*map(to_cell, values)])
            names = [column[0] for column in found.description]
            return [dict(zip(names, row, strict=True)) for row in found]

    def belonging(self, record: Record) -> dict[str, int]:
        """How many records of each table would go if this one were taken out, itself not counted."""
        counts: dict[str, int] = {}
        for table, _ in list(self._belonging(table_of(record), record.id))[:-1]:
            counts[table] = counts.get(table, 0) + 1
        return counts

    @contextmanager
    def entry(self, says: str, linked_later: bool = False) -> Iterator[None]:
        """All that is written inside goes in at one go or not at all, and is undone at one go.

        What the tables refuse may be caught inside, and the rest goes in; a fault of the disk ends the whole entry.
        With `linked_later`, whether all belongs to something that is there counts only at the end.
        """
        if self._entry is not None:
            with told(self.path):
                self._check_going_on()
                yield
            return
        self._check_still_there()
        with told(self.path), transaction(self._connection):
            moment = datetime.now().isoformat(timespec="seconds")
            self._entry = self._run("INSERT INTO entry (at, says) VALUES (?, ?)", moment, says).lastrowid
            if linked_later:
                links_later(self._connection)
            try:
                yield
                kept_for_undo(self._connection)
            finally:
                self._entry = None

    def keep_for_good(self) -> None:
        """Nothing that was entered so far can be undone from now on."""
        with told(self.path), transaction(self._connection):
            self._run("DELETE FROM entry")

    @contextmanager
    def at_one_time(self) -> Iterator[None]:
        """What is read inside is as it was at one moment, also while another program writes."""
        with told(self.path):
            self._connection.execute("BEGIN")
            try:
                yield
            finally:
                self._connection.execute("ROLLBACK")

    @property
    def last_entry(self) -> Entry | None:
        """What `undo_last` would undo; None when nothing can be."""
        with told(self.path):
            row = self._connection.execute("SELECT id, at, says FROM entry ORDER BY id DESC LIMIT 1").fetchone()
        return Entry(row[0], datetime.fromisoformat(row[1]), row[2]) if row else None

    def undo_last(self) -> Entry | None:
        """Put all back as it was before the last entry, and say which it was; None when nothing can be undone."""
        self._check_still_there()
        with told(self.path), transaction(self._connection):
            last = self.last_entry
            if last is not None:
                put_back(self._connection, last.id)
        return last

    @property
    def shown(self) -> int | None:
        """The garden that is to be shown; None for all of them. How a notebook is looked at is no entry."""
        with told(self.path):
            row = self._connection.execute("SELECT garden FROM shown").fetchone()
        return row[0] if row else None

    def show(self, garden: int | None) -> None:
        """Choose the garden that is shown, or all."""
        self._check_still_there()
        with told(self.path), transaction(self._connection):
            self._run("DELETE FROM shown")
            if garden is not None:
                self._run("INSERT INTO shown (id, garden) VALUES (1, ?)", garden)

    def backup(self, to: Path) -> None:
        """A copy of the whole notebook. Raises `BadInput`, also when there is such a file already."""
        with told(self.path):
            copy(self._connection, to)

    def check(self) -> tuple[str, ...]:
        """Everything that is wrong with the file, a sentence each."""
        with told(self.path):
            return tuple(troubles(self._connection))

    @property
    def steps(self) -> tuple[str, ...]:
        """The steps by which its tables came to be."""
        with told(self.path):
            return steps_taken(self._connection)

    def _check_still_there(self) -> None:
        """What is written in a file that was moved or replaced meanwhile would be in no notebook."""
        if which_file(self.path) != self._file:
            message = "The notebook was moved, deleted or replaced since it was opened, so nothing was written."
            raise refuse("notebook-moved", Place(str(self.path)), message, "Put it back, or leave and open it again.")

    def _check_going_on(self) -> None:
        """SQLite itself gives an entry up when the disk is full or fails."""
        if not self._connection.in_transaction:
            message = "The entry was given up after an error, so nothing of it was written."
            raise refuse("entry-given-up", Place(str(self.path)), message, "Mend what was wrong and enter it again.")

    def _run(self, statement: str, *values: Cell) -> sqlite3.Cursor:
        return self._connection.execute(statement, values)

    def _insert(self, record: R) -> R:
        number = _insert(self._connection, record)
        self._remember(Change(table_of(record), number, None))
        return self.get(type(record), number)

    def _remove(self, table: str, number: int) -> None:
        for owned, owned_number in self._belonging(table, number):
            self._remember(Change(owned, owned_number, self._row(owned, owned_number)))
            self._run(f'DELETE FROM "{owned}" WHERE id = ?', owned_number)

    def _belonging(self, table: str, number: int) -> Iterator[tuple[str, int]]:
        """The record and all that belongs to it, each once, what belongs before what it belongs to."""
        found: dict[tuple[str, int], None] = {}
        waiting = [(table, number)]
        while waiting:
            here = waiting.pop()
            found.setdefault(here)
            for owned, column in OWNED.get(here[0], ()):
                rows = self._run(f'SELECT id FROM "{owned}" WHERE "{column}" = ?', here[1])
                waiting += [(owned, row[0]) for row in rows if (owned, row[0]) not in found]
        order = list(TABLES)
        return iter(sorted(found, key=lambda each: (-order.index(each[0]), each[1])))

    def _row(self, table: str, number: int) -> Mapping[str, Cell]:
        rows = self.rows(table, id=number)
        if not rows:
            place = Place(str(self.path))
            raise refuse("no-longer-there", place, f"The {_words(table)} is no longer in the notebook.", "Look again.")
        return rows[0]

    def _remember(self, change: Change) -> None:
        assert self._entry is not None
        remember(self._connection, self._entry, change)


def write_notebook(path: Path, records: Iterable[tuple[Record, Place]]) -> None:
    """A new notebook of these records with the numbers they have, each with the place where it was read.

    All of it is written or nothing. Raises `BadInput`, also when there is such a file already.
    """

    def fill(connection: sqlite3.Connection) -> None:
        bring_up_to_date(connection, STEPS)
        with transaction(connection):
            for record, place in records:
                try:
                    _insert(connection, record)
                except sqlite3.IntegrityError as error:
                    raise refused(str(error), place) from error

    make(path, fill)


def _insert(connection: sqlite3.Connection, record: Record) -> int:
    cells = cells_of(record)
    names = ", ".join(f'"{name}"' for name in cells)
    marks = ", ".join("?" * len(cells))
    statement = f'INSERT INTO "{table_of(record)}" ({names}) VALUES ({marks})'
    number = connection.execute(statement, [*cells.values()]).lastrowid
    assert number is not None
    return number


def _words(table: str) -> str:
    return table.replace("_", " ")
