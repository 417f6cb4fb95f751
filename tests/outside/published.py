"""Decision tables as their authors print them, read with no help from the program: rows of plain tests on plain values.

A table is a line that says which rows count when several are met (unique, any, first, or priority with the
outcomes in order), a heading whose last column is the outcome, and the rows. A later table may rest on the
outcomes of earlier ones.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from pathlib import Path

from assistant.model.readings import Choices, Reading, Span
from assistant.model.rules import Rulebook

Value = float | str | None
Case = dict[str, float | str]
_NUMBER = re.compile(r"\d+")


@dataclass(frozen=True)
class Table:
    """One printed table."""

    policy: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    def outcomes(self, case: Mapping[str, Value]) -> frozenset[str]:
        """The outcomes that count: none in a gap, several where rows that must not be met together are."""
        met = [row[-1] for row in self.rows if _met(row, [case[name] for name in self.columns[:-1]])]
        policy, _, order = self.policy.partition(" ")
        ranked = order.split(", ") if order else met
        return frozenset(sorted(met, key=ranked.index)[:1] if policy in ("first", "priority") else met)


@dataclass(frozen=True)
class Published:
    """The printed tables of one example, each resting on the ones before."""

    tables: tuple[Table, ...]

    def outcomes(self, case: Mapping[str, float | str]) -> frozenset[str]:
        """The outcomes of the last table."""
        known: dict[str, Value] = dict(case)
        for table in self.tables[:-1]:
            known[table.columns[-1]] = next(iter(table.outcomes(known)), None)
        return self.tables[-1].outcomes(known)

    def numbers(self, sign: str) -> set[int]:
        """Every number that some row holds the sign against."""
        cells = [row[t.columns.index(sign)] for t in self.tables if sign in t.columns for row in t.rows]
        return {int(number) for cell in cells for number in _NUMBER.findall(cell)}


def read_published(path: Path) -> Published:
    """The tables of a file; lines that start with # say where they are from."""
    lines = [line.strip() for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return Published(tuple(_table(block) for block in "\n".join(lines).strip().split("\n\n")))


def _table(block: str) -> Table:
    policy, *lines = block.splitlines()
    heading, *rows = (tuple(cell.strip() for cell in line.split("|")) for line in lines)
    return Table(policy, heading, tuple(rows))


def every_case(published: Published, rulebook: Rulebook) -> Iterator[Case]:
    """Every way to answer exactly that a row could tell apart: all choices; numbers at, beside and between bounds."""
    columns: list[list[float | str]] = [_values(published, name, rulebook) for name in rulebook.signs]
    for values in product(*columns):
        yield dict(zip(rulebook.signs, values, strict=True))


def _values(published: Published, name: str, rulebook: Rulebook) -> list[float | str]:
    sign = rulebook.signs[name]
    if sign.choices:
        return list(sign.choices)
    bounds = {sign.low, sign.high, *published.numbers(name)}
    near = {round(bound + step, 2) for bound in bounds for step in (-0.01, 0, 0.01)}
    return [value for value in sorted(near) if sign.low <= value <= sign.high]


def as_readings(case: Mapping[str, float | str]) -> dict[str, Reading]:
    """A case as exact readings."""
    return {n: Choices(frozenset((v,))) if isinstance(v, str) else Span(v, v) for n, v in case.items()}


def _met(row: tuple[str, ...], values: list[Value]) -> bool:
    return all(_allows(cell, value) for cell, value in zip(row[:-1], values, strict=True))


def _allows(cell: str, value: Value) -> bool:
    """Whether a printed cell allows a value: `-` anything, `not(a)`, `a, b`, `<5`, `>=5`, `[1..5)`."""
    if cell == "-":
        return True
    if cell.startswith("not("):
        return not _allows(cell[4:-1], value)
    if not isinstance(value, float | int):
        return value in cell.split(", ")
    if ".." in cell:
        low, high = (float(end) for end in cell[1:-1].split(".."))
        left_out = {"(": low}.get(cell[0]), {")": high}.get(cell[-1])
        return low <= value <= high and value not in left_out
    bound = float(cell.lstrip("<>="))
    return (cell[0] == "<" and value < bound) or (cell[0] == ">" and value > bound) or ("=" in cell and value == bound)
