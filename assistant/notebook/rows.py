"""From a record to the cells of its row and back. A cell is text, a whole number, a number or nothing."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping
from datetime import date, datetime
from enum import Enum
from functools import cache, lru_cache
from math import isfinite
from types import UnionType
from typing import Any, TypeVar, get_args, get_origin, get_type_hints

from assistant.model.case import MonthDay
from assistant.model.notebook import TABLES, Record
from assistant.model.quantities import parse_date

R = TypeVar("R", bound=Record)
Cell = str | int | float | None

PLACES = 6
"""Numbers are kept to a millionth, so that they read the same wherever they are written down."""
LARGEST = 1e9
_UNKEEPABLE = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
_TABLE_OF = {kind: table for table, kind in TABLES.items()}


class NotACell(ValueError):
    """A value that its column cannot hold; the message says what it takes."""


def table_of(record: Record | type[Record]) -> str:
    """The table that keeps such records."""
    return _TABLE_OF[record if isinstance(record, type) else type(record)]


@cache
def columns(kind: type[Record]) -> Mapping[str, tuple[Any, bool]]:
    """Each column with the type of its values, and whether it may hold nothing."""
    return {name: _simple(hint) for name, hint in get_type_hints(kind).items()}


def cells_of(record: Record) -> dict[str, Cell]:
    """The record's row; without `id` when it has no number yet."""
    kind = type(record)
    row = {name: to_cell(getattr(record, name)) for name in columns(kind)}
    if not record.id:
        del row["id"]
    return row


def record_of(kind: type[R], cells: Mapping[str, object]) -> R:
    """The record of a row; a column left out holds its default. Raises `NotACell`."""
    values = {name: from_cell(cells[name], *column) for name, column in columns(kind).items() if name in cells}
    return kind(**values)


def plain_of(record: Record) -> dict[str, Any]:
    """The record as plain data for a text file: what is as it mostly is left out, lists and derivations unpacked."""
    row = {"id": record.id, **cells_of(record)}
    usual = defaults(type(record))
    packed = {name for name, (kind, _) in columns(type(record)).items() if kind in (tuple, Mapping)}
    return {
        name: _unpacked(cell) if name in packed else cell
        for name, cell in row.items()
        if name not in usual or cell != to_cell(usual[name])
    }


def defaults(kind: type[Record]) -> Mapping[str, Any]:
    """The columns that may be left out, with what they hold then."""
    return getattr(kind, "_field_defaults", {})


def to_cell(value: object) -> Cell:
    """A value as the file holds it."""
    if isinstance(value, datetime):
        return value.replace(microsecond=0, tzinfo=None).isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Enum):
        return to_cell(value.value)
    if isinstance(value, MonthDay):
        return str(value)
    if isinstance(value, tuple | Mapping):
        return as_json(value)
    if isinstance(value, float):
        return round(value, PLACES) + 0.0
    if isinstance(value, str):
        return keepable(value)
    assert value is None or isinstance(value, int), f"no cell can hold {value!r}"
    return value


def keepable(text: str) -> str:
    """The text without control characters, which could steer a terminal and which no text file may hold."""
    return _UNKEEPABLE.sub(" ", text)


def as_json(value: object) -> str:
    """Plain data as JSON text."""
    return json.dumps(_keepable(value), ensure_ascii=False, separators=(",", ":"))


def _keepable(value: object) -> object:
    if isinstance(value, Mapping):
        return {keepable(str(key)): _keepable(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_keepable(inner) for inner in value]
    return to_cell(value) if not isinstance(value, bool) else value


def from_cell(cell: object, kind: type, may_be_nothing: bool) -> Any:  # noqa: ANN401  (of the type that is asked for)
    """The value in a cell. Raises `NotACell`."""
    if cell is None:
        if may_be_nothing:
            return None
        raise NotACell("this cannot be left empty")
    if kind is tuple:
        return tuple(_words(cell))
    if kind is Mapping:
        return _mapping(cell)
    if kind is float:
        return _number(cell)
    if kind is int:
        return int(_whole(cell))
    if not isinstance(cell, str):
        raise NotACell(f"'{cell}' should be text; put it in quotes")
    if kind is str and not _UNKEEPABLE.search(cell):
        return cell
    try:
        return _read(cell, kind)
    except ValueError:
        raise NotACell(f"'{cell}' {_FAULTS[_fault(kind)]}{_among(kind)}") from None


@lru_cache(maxsize=4096)
def _read(text: str, kind: type) -> object:
    """Newer Pythons read more forms of days and moments than the one in which they are written."""
    value = _day_of_any_year(text) if kind is MonthDay else _PARSERS.get(kind, kind)(text)
    if to_cell(value) != text:
        raise ValueError
    return value


def _day_of_any_year(text: str) -> MonthDay:
    return MonthDay.of(date.fromisoformat(f"2000-{text}"))


def _moment(text: str) -> datetime:
    parse_date(text[:10])
    return datetime.fromisoformat(text)


_PARSERS: Mapping[type, Callable[[str], object]] = {date: parse_date, datetime: _moment}


_FAULTS = {
    datetime: "is no moment; write one such as 2031-10-04T18:30:00",
    date: "is no date; write one such as 2031-10-04",
    MonthDay: "is no day of a year; write one such as 10-08",
    Enum: "cannot stand here; write one of ",
    str: "holds a character that is no text; take it out",
}


def _fault(kind: type) -> type:
    return Enum if issubclass(kind, Enum) else kind


def _among(kind: type) -> str:
    return ", ".join(str(each.value) for each in kind) if issubclass(kind, Enum) else ""


def _number(cell: object) -> float:
    if isinstance(cell, bool) or not isinstance(cell, int | float) or not (isfinite(cell) and abs(cell) <= LARGEST):
        raise NotACell(f"'{cell}' is no number that can be kept; write one such as 12.5")
    return float(cell)


def _whole(cell: object) -> int:
    if isinstance(cell, bool) or not isinstance(cell, int) or abs(cell) > LARGEST:
        raise NotACell(f"'{cell}' is no whole number that can be kept; write one such as 12")
    return cell


def _mapping(cell: object) -> object:
    data = _unpacked(cell)
    if not isinstance(data, dict):
        raise NotACell("there should be keys with values here")
    return data


def _words(cell: object) -> list[str]:
    words = _unpacked(cell)
    if not isinstance(words, list) or not words or not all(isinstance(word, str) for word in words):
        raise NotACell(f"'{cell}' is no list of words; write one such as [green, yellowing]")
    return words


def _unpacked(cell: object) -> object:
    """What stands in JSON text; other data as it is."""
    try:
        return json.loads(cell) if isinstance(cell, str) else cell
    except ValueError:
        return None


def _simple(hint: Any) -> tuple[Any, bool]:  # noqa: ANN401  (an annotation can be anything)
    """The bare type of an annotation, and whether it allows None."""
    optional = get_origin(hint) is UnionType
    if optional:
        (hint,) = (part for part in get_args(hint) if part is not type(None))
    return get_origin(hint) or hint, optional


def _owned() -> dict[str, list[tuple[str, str]]]:
    """For each table those that refer to it, and by which column; a reference is named after what it refers to."""
    owned: dict[str, list[tuple[str, str]]] = {}
    for table, kind in TABLES.items():
        for name, (kind_of_value, _) in columns(kind).items():
            if name in TABLES and kind_of_value is int:
                owned.setdefault(name, []).append((table, name))
    return owned


OWNED = _owned()
"""Where the records of each table are referred to."""
