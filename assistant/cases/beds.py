"""What beds grew and what was sick in them, from a CSV file or a line typed in."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Mapping
from difflib import get_close_matches
from pathlib import Path

from assistant.model.place import BadInput, Place, Problem, refuse
from assistant.model.quantities import NotAValue
from assistant.reckoning.rotation import NO_DISEASE, POTATOES, RESTS, SWEET_POTATOES, Season
from assistant.rulebook.documents import read_text
from assistant.rulebook.names import instead, listed, quoted

COLUMNS = ("year", "crop", "disease", "bed")
THE_BED = "the bed"
"""The name of a bed that was given none."""
MOST_PROBLEMS = 20
_WRITE = "Begin with a line such as year,crop,disease or bed,year,crop,disease."
_SEASON = re.compile(r"\s*(\S+?)[\s,]+(sweet[\s_-]*potato(?:e?s)?|[^\s,]+)[\s,]*(.*?)\s*", re.IGNORECASE)
_CROPS = {"sweetpotato": SWEET_POTATOES, "potato": POTATOES}

Beds = Mapping[str, tuple[Season, ...]]


def read_beds(path: Path) -> Beds:
    """The seasons of each bed in a file. Raises `BadInput` with every row that is bad."""
    lines = read_text(path).splitlines()
    mark = max(",;\t", key=next(filter(str.strip, lines), "").count)
    rows = [(number, row) for number, line in enumerate(lines, start=1) if any(row := _cells(path, number, line, mark))]
    if not rows:
        raise refuse("empty-file", Place(str(path)), "The file holds nothing.", _WRITE)
    header = _header(path, *rows[0])
    found: dict[str, list[Season]] = {}
    problems = []
    for number, row in rows[1:]:
        cells = dict(zip(header, (cell.strip() for cell in row), strict=False))
        try:
            season = _season(cells.get("year", ""), cells.get("crop", ""), cells.get("disease", ""))
            found.setdefault(cells.get("bed") or THE_BED, []).append(season)
        except NotAValue as error:
            problems.append(Problem("bad-season", Place(str(path), number, 1), f"{error}."))
    if problems:
        raise BadInput(problems[:MOST_PROBLEMS])
    return {bed: tuple(sorted(seasons)) for bed, seasons in found.items()}


def _cells(path: Path, number: int, line: str, mark: str) -> list[str]:
    """The cells of one line, each by itself, so that a quote left open swallows none of the seasons below."""
    try:
        return next(csv.reader([line], delimiter=mark, strict=True), [])
    except csv.Error:
        message = "The quotes of this line do not match, or it is far too long."
        raise refuse("bad-season", Place(str(path), number, 1), message, "Delete the quotes.") from None


def _header(path: Path, number: int, row: list[str]) -> list[str]:
    names = [cell.strip().lower() for cell in row]
    unknown = [name for name in names if name not in COLUMNS]
    if unknown:
        message = f"{quoted(unknown[0])} is no column of a bed's history."
        raise refuse("bad-header", Place(str(path), number, 1), message, f"{instead(unknown[0], COLUMNS)} {_WRITE}")
    if len(set(names)) < len(names) or not {"year", "crop"} <= set(names):
        message = f"The header is {listed(names)}; it needs year and crop, each column once."
        raise refuse("bad-header", Place(str(path), number, 1), message, _WRITE)
    return names


def typed_seasons(lines: Iterable[str]) -> tuple[Season, ...]:
    """Seasons typed in, such as `2031 sweet potatoes black-rot`. Raises `NotAValue`."""
    return tuple(sorted(map(_typed, lines)))


def _typed(line: str) -> Season:
    match = _SEASON.fullmatch(line)
    if match is None:
        raise NotAValue(f"'{line}' is no season; write the year of the dig and the crop, such as 2031 sweet potatoes")
    return _season(match[1], match[2], match[3])


def _season(year: str, crop: str, disease: str) -> Season:
    if not re.fullmatch(r"[12]\d{3}", year):
        raise NotAValue(f"'{year}' is no year; write the year of the dig and the crop, such as 2031 sweet potatoes")
    if not crop:
        raise NotAValue(f"{year} has no crop; write one such as sweet potatoes, garlic or none")
    disease = disease.lower().replace(" ", "-") or NO_DISEASE
    if disease not in RESTS:
        near = get_close_matches(disease, RESTS, 1)
        hint = f"did you mean {near[0]}" if near else f"write one of {', '.join(RESTS)}, and a crop as one word"
        raise NotAValue(f"'{disease}' is no disease here; {hint}")
    return Season(int(year), _crop(crop), disease)


def _crop(text: str) -> str:
    plain = re.sub(r"[\s_-]+", "", text.lower())
    plain = re.sub(r"(?:es|s)$", "", plain)
    return _CROPS.get(plain, re.sub(r"\s+", "-", text.strip().lower()))
