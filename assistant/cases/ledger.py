"""The ledger of what is in store, a plain CSV file: read with every bad line told, and added to a line at a time."""

from __future__ import annotations

import csv
import io
import os
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from assistant.cases.hills import GRAMS
from assistant.model.place import BadInput, Place, Problem, refuse
from assistant.model.quantities import Kind, NotAValue, Units, parse_date, parse_value, plain_number
from assistant.reckoning.lot_ledger import APART, EVENTS, NEED_WEIGHT, Account, DoesNotAddUp, Entry, accounts
from assistant.reckoning.using_up import PARTS
from assistant.reckoning.yields import GRAMS_PER_POUND
from assistant.rulebook.documents import excerpt, read_text
from assistant.rulebook.names import instead, quoted

COLUMNS = ("date", "lot", "what", "part", "weight", "temperature", "humidity", "note")
NEEDED = COLUMNS[:3]
HEADER = ",".join(COLUMNS)
HEAVIEST = 1e6
"""Pounds; no lot is taken to be heavier (a slip of the unit; our own judgement)."""
LONGEST_NOTE = 200
_WEIGHT = re.compile(r"\s*([\d./ ]+?)\s*(oz|lbs?|kg|g)?\s*", re.IGNORECASE)


def read_ledger(path: Path, units: Units) -> tuple[Entry, ...]:
    """The entries of a ledger in the order of its lines; bare weights are in lb, or kg with metric units.

    Raises `BadInput` with every line that cannot be read.
    """
    text = read_text(path)
    rows = csv.DictReader(io.StringIO(text), skipinitialspace=True)
    with _csv_of(path, rows):
        rows.fieldnames = [name.strip().lower() for name in rows.fieldnames or ()]
    _check_header(path, list(rows.fieldnames))
    entries: list[Entry] = []
    problems: list[Problem] = []
    for row in _rows(rows, path):
        place = Place(str(path), rows.line_num, 1)
        try:
            entries.append(entry_of(_cells(row), units, place))
        except NotAValue as error:
            lines = excerpt(tuple(text.splitlines()), place)
            problems.append(Problem("bad-entry", place, f"{error}.", "", lines))
    if problems:
        raise BadInput(problems)
    return tuple(entries)


def read_accounts(path: Path, units: Units, until: date = date.max) -> dict[str, Account]:
    """The account of each lot of a ledger as it stood on a day. Raises `BadInput` also where it does not add up."""
    return accounts_of(tuple(entry for entry in read_ledger(path, units) if entry.on <= until), path)


def accounts_of(entries: tuple[Entry, ...], path: Path) -> dict[str, Account]:
    """The accounts of entries that were read from a file. Raises `BadInput` where they do not add up."""
    try:
        return accounts(entries)
    except DoesNotAddUp as error:
        place = error.entry.place if error.entry.place.line else Place(str(path))
        hint = "Check the weight, the day and the part, or write down what is missing."
        raise refuse("does-not-add-up", place, f"{str(error)[0].upper()}{str(error)[1:]}.", hint) from None


def _rows(rows: csv.DictReader[str], path: Path) -> Iterator[dict[str, str]]:
    with _csv_of(path, rows):
        yield from rows


@contextmanager
def _csv_of(path: Path, rows: csv.DictReader[str]) -> Iterator[None]:
    """Refuses what is no CSV, at its line."""
    try:
        yield
    except csv.Error as error:
        place = Place(str(path), rows.line_num, 1)
        raise refuse("not-csv", place, f"This is no CSV: {error}.", "Separate the fields with commas.") from None


def entry_of(cells: Mapping[str, str], units: Units, place: Place) -> Entry:
    """One entry from its cells by column, empty ones left out. Raises `NotAValue` with what to write instead."""
    missing = [name for name in NEEDED if name not in cells]
    if missing:
        raise NotAValue(f"this line has no {' and no '.join(missing)}; write {HEADER}")
    what, part = cells["what"].lower(), cells.get("part", "").lower()
    _check_word(what, EVENTS, "is nothing that happens to a lot")
    if part or what == APART:
        _check_word(part, PARTS, "is no part of a lot")
    if what in NEED_WEIGHT and "weight" not in cells:
        raise NotAValue(f"'{what}' takes a weight, such as 12 lb or 5 kg")
    note = cells.get("note", "")
    if len(note) > LONGEST_NOTE or "\n" in note:
        raise NotAValue(f"a note is one line of at most {LONGEST_NOTE} letters")
    return Entry(
        parse_date(cells["date"]),
        cells["lot"],
        what,
        part,
        pounds_of(cells["weight"], units) if "weight" in cells else None,
        parse_value(Kind.TEMPERATURE, cells["temperature"], units) if "temperature" in cells else None,
        _percent(cells["humidity"]) if "humidity" in cells else None,
        note,
        place,
    )


def pounds_of(text: str, units: Units) -> float:
    """A weight in pounds; a bare number is in lb, or in kg with metric units. Raises `NotAValue`."""
    match = _WEIGHT.fullmatch(text)
    pounds = 0.0
    if match:
        unit = (match[2] or ("lb" if units is Units.US else "kg")).lower()
        pounds = plain_number(match[1].strip()) * GRAMS[unit] / GRAMS_PER_POUND
    if not 0 < pounds <= HEAVIEST:
        raise NotAValue(f"'{text}' is no weight; write one such as 12 lb, 8 oz or 5 kg")
    return pounds


def add_entry(path: Path, cells: Mapping[str, str], units: Units) -> Account:
    """Write one entry at the end of a ledger, made where it is not there, and tell how its lot stands then.

    Nothing is written when the entry is bad or does not add up. Raises `BadInput`, `NotAValue` or `OSError`.
    """
    known = read_ledger(path, units) if is_begun(path) else ()
    number = len(read_text(path).splitlines()) + 1 if known else 2
    entry = entry_of(cells, units, Place(str(path), number, 1))
    book = accounts_of((*known, entry), path)
    _write(path, {**cells, "what": entry.what, "date": entry.on.isoformat()})
    return book[entry.lot]


def last_lot(entries: tuple[Entry, ...]) -> str | None:
    """The only lot of a ledger; None when there are several or none."""
    lots = {entry.lot for entry in entries}
    return lots.pop() if len(lots) == 1 else None


def is_begun(path: Path) -> bool:
    """Whether the ledger has its header; one made and never written, by a program that was killed, has not."""
    return path.exists() and (not path.is_file() or path.stat().st_size > 0)


def _write(path: Path, cells: Mapping[str, str]) -> None:
    """One line more, on the disk before this returns."""
    out = io.StringIO()
    writer = csv.DictWriter(out, _columns(path), lineterminator="\n", extrasaction="ignore")
    if not is_begun(path):
        writer.writeheader()
    writer.writerow(cells)
    text = path.read_text(encoding="utf-8-sig") if path.exists() else ""
    with path.open("a", encoding="utf-8", newline="") as file:
        file.write(("\n" if text and not text.endswith("\n") else "") + out.getvalue())
        file.flush()
        os.fsync(file.fileno())


def _columns(path: Path) -> list[str]:
    """The columns of the ledger in its own order."""
    if not is_begun(path):
        return list(COLUMNS)
    header = next(csv.reader(path.read_text(encoding="utf-8-sig").splitlines()[:1], skipinitialspace=True))
    return [name.strip().lower() for name in header]


def _cells(row: Mapping[str, object]) -> dict[str, str]:
    """The cells of a line that hold something. Raises `NotAValue` when there are more cells than columns."""
    if None in row:  # where the reader puts what is too much
        raise NotAValue("this line has more cells than the header; put a note with commas in quotes")
    return {str(name): value.strip() for name, value in row.items() if isinstance(value, str) and value.strip()}


def _check_header(path: Path, names: list[str]) -> None:
    missing = [name for name in NEEDED if name not in names]
    unknown = [name for name in names if name not in COLUMNS]
    place = Place(str(path), 1, 1)
    if missing:
        raise refuse("missing-column", place, f"The header has no {' and no '.join(missing)}.", f"Begin with {HEADER}")
    if unknown:
        raise refuse("unknown-column", place, f"A ledger has no column {quoted(unknown[0])}.", f"Begin with {HEADER}")


def _check_word(word: str, known: tuple[str, ...], fault: str) -> None:
    if word not in known:
        raise NotAValue(f"'{word}' {fault}; {instead(word, known).rstrip('.?')}")


def _percent(text: str) -> float:
    number = plain_number(text.rstrip(" %"))
    if not 0 <= number <= 100:
        raise NotAValue(f"'{text}' is no humidity; write percent, such as 85")
    return number
