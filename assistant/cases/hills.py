"""Hills of a test dig as they are typed: diameters, `2.1x6` with a length, weights, or counts by size class."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from assistant.model.place import BadInput, Place, Problem
from assistant.model.quantities import (
    CM_PER_INCH,
    Kind,
    NotAValue,
    Units,
    inches,
    parse_value,
    plain_number,
    rounded,
    split_unit,
)
from assistant.model.readings import Span
from assistant.reckoning.hills import Classes, Hill
from assistant.reckoning.yields import GRAMS_PER_POUND, OUNCES_PER_POUND, Root

LARGEST_ROOT = 30.0
"""No root is taken to be wider or longer than this, in inches (a slip of the unit; our own judgement)."""
HEAVIEST_ROOT = 20_000.0
"""No root is taken to be heavier than this, in grams (a slip of the unit; our own judgement)."""
LONGEST_BED = 1e6
"""No row is taken to be longer than this, in inches (some 25 km; our own judgement)."""
MOST_ROOTS = 500
"""No hill is taken to have more roots of one class than this (a slip of the finger; our own judgement)."""

_OUNCE = GRAMS_PER_POUND / OUNCES_PER_POUND
GRAMS = {"g": 1.0, "kg": 1000.0, "lb": GRAMS_PER_POUND, "lbs": GRAMS_PER_POUND, "oz": _OUNCE}
_INCHES = {"in": 1.0, "ft": 12.0, "cm": 1 / CM_PER_INCH, "m": 100 / CM_PER_INCH}
_UNIT = r'in|"|cm|oz|lbs?|kg|g'
_LOOSE_UNIT = re.compile(rf"(?<=[\d.])\s+(?=(?:{_UNIT})(?:[\s,]|$))", re.IGNORECASE)
_TOKEN = re.compile(rf"([\d./ ]+?)(?:\s*[x×]\s*([\d./ ]+?))?\s*({_UNIT})?", re.IGNORECASE)
_CLASS = re.compile(r"(small|right|big)\s*[:=]\s*(\d{1,9})", re.IGNORECASE)
EXAMPLES = "2.1 1.2 3.0, or 2.1x6 with the length, or 8 12 oz, or small:3 right:5 big:1"


class Word(NamedTuple):
    """A root or a count as typed, and the column it begins in."""

    text: str
    column: int


def typed_hill(text: str, name: str, place: Place, units: Units) -> Hill:
    """One hill from a line of text; the columns of `place` count from its first character.

    A bare number takes the unit of the next one that has one, else that of `units`. An empty line is a hill
    without roots. Raises `BadInput` with every word that is no root.
    """
    words = list(_words(text))
    if any(_CLASS.fullmatch(word.text) for word in words):
        return Hill(name, classes=_classes(words, text, place))
    roots: list[Root] = []
    problems: list[Problem] = []
    unit = ""
    for word in reversed(words):
        try:
            root, unit = _root(word.text, unit, units)
            roots.append(root)
        except NotAValue as error:
            problems.append(_problem(place, word, f"{error}."))
    if problems:
        raise BadInput(problems)
    return Hill(name, tuple(reversed(roots)))


def parse_wanted(text: str, units: Units) -> Span:
    """A range of diameters such as 1.75..3.5 in, in inches. Raises `NotAValue`."""
    low_text, dots, high_text = text.partition("..")
    try:
        unit = split_unit(Kind.LENGTH, high_text)[1] or units
        low, high = (parse_value(Kind.LENGTH, end.strip(), unit) for end in (low_text, high_text))
    except NotAValue:
        low = high = 0.0
    if not dots or not 0 < low <= high <= LARGEST_ROOT:
        raise NotAValue(f"'{text}' is no range of diameters; write LOW..HIGH, such as 1.75..3.5 in")
    return Span(low, high)


def length_in_inches(text: str, units: Units) -> float:
    """A diameter or length of a root. Raises `NotAValue`."""
    return _possible(parse_value(Kind.LENGTH, text, units), LARGEST_ROOT, text)


def bed_length(text: str, unit: str) -> float:
    """A distance in the bed, in inches; a bare number is in `unit` (in, ft, cm or m). Raises `NotAValue`."""
    match = re.fullmatch(r"\s*([\d./ ]+?)\s*(in|ft|cm|m)?\s*", text, re.IGNORECASE)
    inches_long = plain_number(match[1]) * _INCHES[(match[2] or unit).lower()] if match else 0.0
    if not 1 <= inches_long <= LONGEST_BED:
        raise NotAValue(f"'{text}' is no distance in a bed; write one such as 12 in, 3 ft, 90 cm or 30 m")
    return inches_long


def weight_in_grams(text: str) -> float:
    """A weight of a root with its unit. Raises `NotAValue`."""
    match = re.fullmatch(r"\s*([\d./ ]+?)\s*(oz|lbs?|kg|g)\s*", text, re.IGNORECASE)
    if match is None:
        raise NotAValue(f"'{text}' is no weight with a unit; write one such as 8 oz, 0.5 lb or 230 g")
    return _possible(plain_number(match[1]) * GRAMS[match[2].lower()], HEAVIEST_ROOT, text)


def _words(text: str) -> Iterator[Word]:
    """The parts of a line: between commas where there are any, else between spaces."""
    joined = _LOOSE_UNIT.sub(lambda space: "\0" * len(space[0]), text)
    apart = r"[^,;]+" if "," in text or ";" in text else r"\S+"
    for match in re.finditer(apart, joined):
        word = match[0].strip()
        if word:
            yield Word(word.replace("\0", ""), match.start() + len(match[0]) - len(match[0].lstrip()) + 1)


def _root(text: str, unit_after: str, units: Units) -> tuple[Root, str]:
    """A root, and the unit that holds for bare numbers before it."""
    match = _TOKEN.fullmatch(text)
    if match is None:
        raise NotAValue(f"'{text}' is no root; write {EXAMPLES}")
    unit = (match[3] or unit_after or ("in" if units is Units.US else "cm")).lower()
    number = plain_number(match[1].strip())
    if unit in GRAMS:
        if match[2]:
            raise NotAValue(f"'{text}' has a length and a unit of weight; write {EXAMPLES}")
        return Root(grams=_possible(number * GRAMS[unit], HEAVIEST_ROOT, text)), unit
    length = _inches(plain_number(match[2].strip()), unit, text) if match[2] else None
    return Root(_inches(number, unit, text), length), unit


def _inches(number: float, unit: str, text: str) -> float:
    return _possible(inches(number) if unit == "cm" else rounded(number), LARGEST_ROOT, text)


def _possible(value: float, most: float, text: str) -> float:
    if not 0 < value <= most:
        raise NotAValue(f"'{text.strip()}' is no size of a root; check the number and its unit")
    return value


def _classes(words: list[Word], text: str, place: Place) -> Classes:
    counts: dict[str, int] = {}
    problems = []
    for word in words:
        match = _CLASS.fullmatch(word.text)
        name = match[1].lower() if match else ""
        if match is None or int(match[2]) > MOST_ROOTS or name in counts:
            problems.append(_problem(place, word, f"'{word.text}' is no count of a size class here.", text))
        else:
            counts[name] = int(match[2])
    if problems:
        raise BadInput(problems)
    return Classes(**counts)


def _problem(place: Place, word: Word, message: str, line: str = "") -> Problem:
    spot = Place(place.file, place.line, place.column + word.column - 1)
    hint = "Write each class once, such as small:3 right:5 big:1." if line else ""
    return Problem("bad-root", spot, message, hint)
