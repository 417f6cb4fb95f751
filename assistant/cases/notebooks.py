"""A whole notebook as one text file and back, and any of its tables as CSV."""

from __future__ import annotations

import csv
import io
import json
import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from assistant.model.notebook import TABLES, Record
from assistant.model.place import BadInput, Place, Problem, refuse
from assistant.notebook import Notebook, write_notebook
from assistant.notebook.rows import NotACell, columns, defaults, from_cell, plain_of, record_of
from assistant.rulebook import dump_yaml, read_document
from assistant.rulebook.documents import Document, read_text
from assistant.rulebook.names import escaped, instead, quoted

HEAD = "notebook"
KIND = "digday"
BIGGEST = 200_000_000
"""Bytes in an exported notebook; far beyond fifty beds and ten years."""

Keypath = tuple[str | int, ...]


def notebook_data(notebook: Notebook) -> dict[str, Any]:
    """Every record of a notebook as plain data, table by table, those first that others refer to."""
    data: dict[str, Any] = {HEAD: KIND}
    with notebook.at_one_time():
        for table, kind in TABLES.items():
            records = [plain_of(record) for record in notebook.all(kind)]
            if records:
                data[table] = records
    return data


def notebook_text(notebook: Notebook, as_json: bool) -> str:
    """The same as YAML, or as JSON."""
    data = notebook_data(notebook)
    return escaped(json.dumps(data, ensure_ascii=False, indent=1)) + "\n" if as_json else dump_yaml(data)


def table_csv(notebook: Notebook, table: str) -> str:
    """A table as CSV with a header; days and moments in ISO 8601, lists and derivations as JSON.

    CSV has no way to escape a character, so what could steer a terminal is written out.
    """
    out = io.StringIO()
    writer = csv.DictWriter(out, list(columns(TABLES[table])), lineterminator="\n")
    writer.writeheader()
    writer.writerows(notebook.rows(table))
    return escaped(out.getvalue())


def write_new(path: Path, text: str) -> None:
    """A new text file, on the disk before this returns. Raises `FileExistsError` or another `OSError`."""
    with path.open("x", encoding="utf-8", newline="") as file:
        try:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        except OSError:
            path.unlink()
            raise


def import_notebook(file: Path, to: Path) -> int:
    """A new notebook of what an exported file holds; how many records that were.

    Raises `BadInput` with every problem of the file, and then there is no new notebook.
    """
    records = list(_Reader(*_source(file)).records())
    write_notebook(to, records)
    return len(records)


def _source(file: Path) -> tuple[object, Document | Place]:
    """What a file holds, and what knows the places in it."""
    if file.suffix.lower() != ".json":
        document = read_document(file, BIGGEST)
        return document.data, document
    place = Place(str(file))
    try:
        return json.loads(read_text(file, BIGGEST), object_pairs_hook=_each_once), place
    except json.JSONDecodeError as error:
        spot = Place(str(file), error.lineno, error.colno)
        raise refuse("not-json", spot, f"This is not JSON: {error.msg}.", "Name an exported file.") from None
    except RecursionError:
        raise refuse("too-deep", place, "Lists and mappings stand too deep here.", "Write it flatter.") from None
    except NotACell as error:
        raise refuse("duplicate-key", place, f"{error}.", "Delete one of the two, or merge them.") from None
    except ValueError:
        raise refuse("not-json", place, "A number here is too long.", "Name an exported file.") from None


def _each_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    data = dict(pairs)
    if len(data) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise NotACell(f"The key {quoted(twice)} stands twice in one place")
    return data


class _Reader(NamedTuple):
    """Turns plain data into records, each with its place."""

    data: object
    source: Document | Place

    def records(self) -> Iterator[tuple[Record, Place]]:
        """All records, those first that others refer to. Raises `BadInput` with every problem."""
        if not isinstance(self.data, dict) or self.data.get(HEAD) != KIND:
            message = "This is no notebook that digday has exported."
            raise BadInput([self._problem("not-an-export", (), message, f"Such a file begins with '{HEAD}: {KIND}'.")])
        problems: list[Problem] = []
        for table in self.data:
            if table not in TABLES and table != HEAD:
                hint = instead(table, list(TABLES)) or "Install the digday that exported it."
                problems.append(self._problem("unknown-table", (table,), f"{quoted(table)} is no table.", hint, True))
        found = [each for table in TABLES for each in self._table(table, problems)]
        if problems:
            raise BadInput(problems)
        yield from found

    def _table(self, table: str, problems: list[Problem]) -> Iterator[tuple[Record, Place]]:
        assert isinstance(self.data, dict)
        rows = self.data.get(table) or []
        if not isinstance(rows, list):
            hint = "Begin each record with '- '."
            problems.append(self._problem("not-a-list", (table,), f"{table} should be a list.", hint))
            return
        for number, row in enumerate(rows):
            path = (table, number)
            if not isinstance(row, dict):
                problems.append(self._problem("not-a-mapping", path, "A record should be here.", "Write key: value."))
                continue
            faults = list(self._faults(table, row, path))
            problems += faults
            if not faults:
                yield record_of(TABLES[table], row), self._place(path)

    def _faults(self, table: str, row: Mapping[str, object], path: Keypath) -> Iterator[Problem]:
        kind = TABLES[table]
        known = columns(kind)
        for name, value in row.items():
            if name not in known:
                message, hint = f"{table} has no {quoted(name)}.", instead(name, list(known))
                yield self._problem("unknown-column", (*path, name), message, hint, True)
                continue
            try:
                from_cell(value, *known[name])
            except NotACell as error:
                yield self._problem("bad-value", (*path, name), f"{table} {path[-1]}, {name}: {error}.")
        missing = [name for name in known if name not in row and name not in defaults(kind)]
        if missing:
            yield self._problem("left-out", path, f"This {table} has no {' and no '.join(missing)}.", "Write it down.")

    def _problem(self, code: str, path: Keypath, message: str, hint: str = "", of_key: bool = False) -> Problem:
        place = self._place(path, of_key)
        if isinstance(self.source, Document):
            return self.source.problem(code, place, message, hint)
        return Problem(code, place, message, hint)

    def _place(self, path: Keypath, of_key: bool = False) -> Place:
        return self.source.place(path, of_key) if isinstance(self.source, Document) else self.source
