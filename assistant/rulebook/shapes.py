"""The shapes a value in a file can have; the grammar declares with them, and the schema is generated from them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

NAME = r"^[a-z][a-z0-9]*(?:[_-][a-z0-9]+)*$"


@dataclass(frozen=True)
class Text:
    """Text; `words` are the only ones allowed, `pattern` what it must look like."""

    wanted: str = "text"
    example: str = ""
    pattern: str = ""
    words: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Number:
    """A decimal number; `whole` leaves out fractions."""

    wanted: str = "a number"
    example: str = ""
    whole: bool = False
    least: float | None = None


@dataclass(frozen=True)
class Value:
    """Text or a number, such as a bound with its unit; `pattern` is what the text must look like."""

    wanted: str
    example: str
    pattern: str = ""


@dataclass(frozen=True)
class ListOf:
    """A list of values of one shape."""

    item: Shape
    wanted: str = "a list"
    example: str = ""
    least: int = 0


@dataclass(frozen=True)
class Names:
    """A mapping from names of the author's own to values of one shape."""

    item: Shape
    wanted: str
    example: str = ""
    pattern: str = NAME
    least: int = 1
    most: int | None = None


@dataclass(frozen=True)
class Key:
    """A key of a record: the shape of its value and what editors show about it."""

    shape: Shape
    says: str
    required: bool = False
    missing: str = "missing-key"


@dataclass(frozen=True)
class Form:
    """Keys that go together: all of the first, any of the second, none of the others."""

    required: tuple[str, ...]
    optional: tuple[str, ...] = ()


@dataclass(frozen=True)
class Record:
    """A mapping with keys of the grammar's own.

    `others` is the shape of all further keys, if there may be any. `forms` are the ways in which
    keys combine: one way must fit, chosen by the value of the key `by` where that is set.
    `needs` names the keys that a key cannot be without.
    """

    wanted: str
    keys: Mapping[str, Key]
    example: str = ""
    others: Key | None = None
    forms: Mapping[str, Form] = field(default_factory=dict)
    by: str = ""
    needs: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    least: int = 0


@dataclass(frozen=True)
class Either:
    """One of several shapes, told apart by being text, a list or a mapping."""

    options: tuple[Shape, ...]
    wanted: str
    example: str = ""


@dataclass(frozen=True)
class Named:
    """A shape that the grammar declares under a name, so that it can hold itself."""

    name: str
    wanted: str
    example: str = ""


Shape: TypeAlias = Text | Number | Value | ListOf | Names | Record | Either | Named
