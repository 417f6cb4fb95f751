"""Hills of a test dig from a CSV file: a root a row, or the counts by size class of a hill a row."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from math import log
from pathlib import Path
from statistics import median
from typing import NamedTuple

from assistant.cases.hills import GRAMS, MOST_ROOTS, length_in_inches, weight_in_grams
from assistant.model.place import BadInput, Place, Problem, refuse
from assistant.model.quantities import NotAValue, Units, plain_number
from assistant.reckoning.hills import Classes, Hill
from assistant.reckoning.yields import Root, root_grams
from assistant.rulebook.documents import excerpt, read_text
from assistant.rulebook.names import instead, listed, quoted

MEASURED = ("diameter", "length", "weight")
COUNTED = Classes._fields
COLUMNS = ("hill", *MEASURED, *COUNTED)
MOST_PROBLEMS = 20  # of one file; more would only scroll the first ones away
_WRITE = "Begin with a line such as hill,diameter or hill,diameter,length,weight or hill,small,right,big."
_CELL = {mark: re.compile(rf'"((?:[^"]|"")*)"\s*(?={mark}|$)|([^{mark}]*)') for mark in (",", ";", "\t")}


class Cell(NamedTuple):
    """One field of a row, and the column it begins in."""

    text: str
    column: int


_NO_CELL = Cell("", 0)
Row = Mapping[str, Cell]


def read_hills(path: Path, units: Units) -> tuple[Hill, ...]:
    """The hills of a file, in the order they first come up; bare numbers are in `units` (in and oz, or cm and g).

    A row with a hill and nothing else is a hill without roots. Raises `BadInput` with every row that is bad.
    """
    return _HillReader(str(path), read_text(path), units).read()


class _HillReader:
    """Turns the rows of a file into hills, gathering problems as it goes."""

    def __init__(self, file: str, text: str, units: Units) -> None:
        self.file, self.units = file, units
        self.lines = tuple(text.splitlines())
        self.weight_unit = ""
        self.problems: list[Problem] = []
        self.roots: dict[str, list[Root]] = {}
        self.classes: dict[str, Classes] = {}

    def read(self) -> tuple[Hill, ...]:
        """All hills, or `BadInput`."""
        number, header, mark = self._header()
        rows = (dict(zip(header, _cells(text, mark), strict=False)) for text in self.lines[number:])
        self.weight_unit = _unit_that_fits(rows, self.units)
        for line, text in enumerate(self.lines[number:], start=number + 1):
            if text.strip():
                self._row(line, list(_cells(text, mark)), header)
            if len(self.problems) >= MOST_PROBLEMS:
                break
        if not self.roots and not self.problems:
            self._add(number, 1, "The file has a header and no hills.", "Write one root in each line below it.")
        if self.problems:
            raise BadInput(self.problems)
        return tuple(Hill(name, tuple(roots), self.classes.get(name)) for name, roots in self.roots.items())

    def _header(self) -> tuple[int, list[str], str]:
        """The number of the header's line, its names, and what stands between them."""
        number = next((at for at, text in enumerate(self.lines, start=1) if text.strip()), 0)
        if not number:
            raise refuse("empty-file", Place(self.file), "The file holds nothing.", _WRITE)
        text = self.lines[number - 1]
        mark = max(_CELL, key=text.count)
        cells = list(_cells(text.lower(), mark))
        names = [cell.text for cell in cells]
        for at, cell in enumerate(cells):
            if cell.text not in COLUMNS:
                hint = f"{instead(cell.text, COLUMNS)} {_WRITE}" if "hill" in names else _WRITE
                self._add(number, cell.column, f"{quoted(cell.text)} is no column of a test dig.", hint)
            elif cell.text in names[:at]:
                self._add(number, cell.column, f"The column {cell.text} is there twice.", "Keep one.")
        self._kind_of(number, names)
        if self.problems:
            raise BadInput(self.problems)
        return number, names, mark

    def _kind_of(self, number: int, names: list[str]) -> None:
        """Whether the header names hills, and either measured roots or counted ones."""
        if "hill" not in names:
            self._add(number, 1, "The header has no column hill.", _WRITE)
        measured = [name for name in ("diameter", "weight") if name in names]
        counted = [name for name in COUNTED if name in names]
        if measured and counted:
            both = listed([*measured, *counted])
            self._add(number, 1, f"The header has {both}: roots are measured or counted, not both.", _WRITE)
        if not measured and not counted:
            self._add(number, 1, "The header has neither diameters nor weights nor counts.", _WRITE)

    def _row(self, line: int, cells: list[Cell], header: list[str]) -> None:
        if len(cells) > len(header) and any(cell.text for cell in cells[len(header) :]):
            message = f"The row has {len(cells)} fields and the header {len(header)}."
            self._add(line, cells[len(header)].column, message, "Write decimals with a point, and one root a line.")
            return
        row = {name: cell for name, cell in zip(header, cells, strict=False) if cell.text}
        if "hill" not in row:
            self._add(line, 1, "The row does not say which hill it is of.", "Write the hill's number or name.")
        elif row.keys() & set(COUNTED):
            self._count(line, row)
        else:
            self._measure(line, row)

    def _measure(self, line: int, row: Row) -> None:
        roots = self.roots.setdefault(row["hill"].text, [])
        values: dict[str, float] = {}
        for name in MEASURED:
            if name in row:
                try:
                    values[name] = self._value(name, row[name].text)
                except NotAValue as error:
                    self._add(line, row[name].column, f"{name}: {error}.", "")
                    return
        if "length" in values and len(values) == 1:
            self._add(line, row["length"].column, "A length alone says nothing.", "Write the diameter too.")
        elif values:
            roots.append(Root(values.get("diameter"), values.get("length"), values.get("weight")))
        if len(roots) == MOST_ROOTS + 1:
            name = quoted(row["hill"].text)
            self._add(line, row["hill"].column, f"The hill {name} has over {MOST_ROOTS} roots.", "Tell hills apart.")

    def _value(self, name: str, text: str) -> float:
        if name != "weight":
            return length_in_inches(text, self.units)
        return weight_in_grams(f"{text} {self.weight_unit}".strip() if text[-1:].isdigit() else text)

    def _count(self, line: int, row: Row) -> None:
        name = row["hill"].text
        if name in self.roots:
            self._add(line, row["hill"].column, f"The hill {quoted(name)} is counted twice.", "Keep one row a hill.")
        self.roots.setdefault(name, [])
        counts = {}
        for size in COUNTED:
            if size in row:
                text = row[size].text
                if not re.fullmatch("[0-9]{1,9}", text) or int(text) > MOST_ROOTS:
                    message = f"{size}: {quoted(text)} is no number of roots."
                    self._add(line, row[size].column, message, "Write a whole number.")
                    return
                counts[size] = int(text)
        self.classes[name] = Classes(**counts)

    def _add(self, line: int, column: int, message: str, hint: str) -> None:
        place = Place(self.file, line, column)
        self.problems.append(Problem("bad-row", place, message, hint, excerpt(self.lines, place)))


def _unit_that_fits(rows: Iterable[Row], units: Units) -> str:
    """The unit of weights without one: oz or lb, or g or kg, by the sizes of their roots; none where none is known."""
    fits = []
    for row in rows:
        with suppress(KeyError, NotAValue):
            length = row.get("length", _NO_CELL).text
            size = root_grams(
                length_in_inches(row["diameter"].text, units), length_in_inches(length, units) if length else None
            )
            fits.append(log(size) - log(max(plain_number(row["weight"].text), 1e-6)))
    light_and_heavy = ("oz", "lb") if units is Units.US else ("g", "kg")
    return min(light_and_heavy, key=lambda unit: abs(log(GRAMS[unit]) - median(fits))) if fits else ""


def _cells(text: str, mark: str) -> Iterator[Cell]:
    """The fields of one line; one may stand in quotes."""
    at = 0
    while at <= len(text):
        blank = len(text[at:]) - len(text[at:].lstrip(" "))
        match = _CELL[mark].match(text, at + blank)
        assert match is not None, "the pattern takes anything"
        field = match[1].replace('""', '"') if match[1] is not None else match[2]
        yield Cell(field.strip(), at + blank + 1)
        at = match.end() + 1
