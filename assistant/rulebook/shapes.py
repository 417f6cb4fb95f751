"""The shapes a value in a file can have; the grammar declares with them, and the schema is generated from them.

Named tuples, since every run makes these classes anew and dataclasses take several times as long to make.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, NamedTuple, TypeAlias

_NONE: Mapping[str, Any] = MappingProxyType({})

ANYTHING = r"^.*\S.*$"
NAME = r"^[a-z][a-z0-9]*(?:[_-][a-z0-9]+)*$"


class Text(NamedTuple):
    """Text; `words` are the only ones allowed, `pattern` what it must look like."""

    wanted: str = "text"
    example: str = ""
    pattern: str = ""
    words: Mapping[str, str] = _NONE


class Number(NamedTuple):
    """A decimal number; `whole` leaves out fractions."""

    wanted: str = "a number"
    example: str = ""
    whole: bool = False
    least: float | None = None
    most: float | None = None


class Value(NamedTuple):
    """Text or a number, such as a bound with its unit; `pattern` is what the text must look like."""

    wanted: str
    example: str
    pattern: str = ""


class ListOf(NamedTuple):
    """A list of values of one shape."""

    item: Shape
    wanted: str = "a list"
    example: str = ""
    least: int = 0


class Names(NamedTuple):
    """A mapping from names of the author's own to values of one shape."""

    item: Shape
    wanted: str
    example: str = ""
    pattern: str = NAME
    least: int = 1
    most: int | None = None


class Key(NamedTuple):
    """A key of a record: the shape of its value and what editors show about it."""

    shape: Shape
    says: str
    required: bool = False
    missing: str = "missing-key"


class Form(NamedTuple):
    """Keys that go together: all of the first, any of the second, none of the others."""

    required: tuple[str, ...]
    optional: tuple[str, ...] = ()


class Record(NamedTuple):
    """A mapping with keys of the grammar's own.

    `others` is the shape of all further keys, if there may be any. `forms` are the ways in which
    keys combine: one way must fit, chosen by the value of the key `by` where that is set.
    `needs` names the keys that a key cannot be without.
    """

    wanted: str
    keys: Mapping[str, Key]
    example: str = ""
    others: Key | None = None
    forms: Mapping[str, Form] = _NONE
    by: str = ""
    needs: Mapping[str, tuple[str, ...]] = _NONE
    least: int = 0


class Either(NamedTuple):
    """One of several shapes, told apart by being text, a list or a mapping."""

    options: tuple[Shape, ...]
    wanted: str
    example: str = ""


class Named(NamedTuple):
    """A shape that the grammar declares under a name, so that it can hold itself."""

    name: str
    wanted: str
    example: str = ""


Shape: TypeAlias = Text | Number | Value | ListOf | Names | Record | Either | Named
