"""The pictures of a bed as text with their words, and its page or the garden's to print."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from datetime import date
from typing import TYPE_CHECKING

from assistant.cli.output import BLANK, Line, complain, width
from assistant.cli.sheet_text import print_sheet

if TYPE_CHECKING:
    from assistant.garden.standing.stages import BedNow
    from assistant.garden.telling.pictures import Picture
    from assistant.notebook import Notebook

NO = 1
HEIGHT = 14


def picture_lines(pictures: Iterable[Picture]) -> Iterator[Line]:
    """Each picture under its heading, and below it in words."""
    for picture in pictures:
        heading, *drawn = picture.draw(width() - 2, HEIGHT)
        yield BLANK
        yield Line(f"{picture.of}: {heading}" if picture.of else heading, "section")
        yield from (Line(line, "drawing", 2) for line in drawn)
        yield from (Line(words, indent=2) for words in picture.tell())


def picture_data(picture: Picture) -> dict[str, object]:
    """What a picture is of and says, as plain data."""
    return {"of": picture.of or None, "heading": picture.draw(width(), HEIGHT)[0], "says": picture.tell()}


def print_garden_sheet(name: str, beds: Iterable[BedNow], on: date, options: argparse.Namespace) -> int:
    """The page to walk round the garden with."""
    from assistant.garden.telling.sheets import garden_sheet

    print_sheet(garden_sheet(name, beds, on), options)
    return 0


def print_bed_sheet(notebook: Notebook, now: BedNow, on: date, options: argparse.Namespace) -> int:
    """The page of the bed's stage; 1 where there is none yet."""
    from assistant.garden.telling.sheets import bed_sheet
    from assistant.model.quantities import NotAValue

    try:
        sheet = bed_sheet(notebook, now, on)
    except NotAValue as error:
        from assistant.rulebook.names import visible

        complain(visible(f"{str(error)[0].upper()}{str(error)[1:]}."))
        return NO
    print_sheet(sheet, options)
    return 0
