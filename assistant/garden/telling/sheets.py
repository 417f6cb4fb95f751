"""Pages to print from the notebook: the garden to walk round with, and a bed's page for where it is in its year."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date
from itertools import count, groupby
from pathlib import Path

from assistant.cases.notebooks import write_new
from assistant.explain.sheet import Section, Sheet, Table
from assistant.explain.wording import day_words
from assistant.garden.standing.stages import BedNow, Need, Stage
from assistant.garden.standing.urgency import urgency
from assistant.model.place import Place, refuse
from assistant.model.quantities import NotAValue
from assistant.notebook import Notebook

SEEN = 5
"""Empty lines for what is seen on the way."""
LONGEST_NAME = 60
"""Letters of a title in the name of a file, which may be 255 bytes long."""


def garden_sheet(name: str, beds: Iterable[BedNow], on: date) -> Sheet:
    """Every bed with all that it needs, the most pressing first, and room to write."""
    found = tuple(beds)
    several = len({now.bed.garden for now in found}) > 1
    needs = [(need, _name(now, several)) for now in found for need in now.needs]
    needs.sort(key=lambda each: (each[0].pressing(on), each[1]))
    return Sheet(
        f"{name}: what each bed needs",
        f"{day_words(on)} {on.year}. The most pressing stands first.",
        (
            *_pressing(needs, on),
            Section("Seen on the way", table=Table(("bed", "what", "to do"), (("",) * 3,) * SEEN)),
        ),
    )


def _name(now: BedNow, several: bool) -> str:
    return f"{now.garden.name}/{now.bed.name}" if several and now.garden else now.bed.name


def _pressing(needs: list[tuple[Need, str]], on: date) -> Iterator[Section]:
    for heading, group in groupby(needs, key=lambda each: urgency(each[0], on)):
        rows = tuple((bed, need.stage.value, need.words, due_words(need.by, on), "") for need, bed in group)
        yield Section(heading, table=Table(("bed", "stage", "what it needs", "by", "notes"), rows))


def due_words(by: date | None, on: date) -> str:
    """The day by which something is due, as a page says it that is read on other days too."""
    if by is None:
        return "no day"
    words = f"{by:%a} {by.day} {by:%b}{f' {by.year}' if by.year != on.year else ''}"
    return f"since {words}" if by < on else words


def bed_sheet(notebook: Notebook, now: BedNow, on: date) -> Sheet:
    """The page of what presses most of a bed: dig day, the cure, or the store.

    Raises `NotAValue` where no page is of any use yet, and `BadInput`.
    """
    from assistant.garden.telling import stage_sheets as sheets  # they load rulebooks and the engine

    pages = {Stage.DIG: sheets.dig_day_page, Stage.CURING: sheets.cure_page, Stage.KEEPING: sheets.store_page}
    stage = now.stage.value
    why = NotAValue(f"{now.bed.name} has no page while it is {stage}; dig day, the cure and the store have one each")
    for need in now.needs:
        try:
            if need.stage in pages:
                return pages[need.stage](notebook, now, on)
        except NotAValue as error:
            why = error
    raise why


def save_sheet(sheet: Sheet, folder: Path, on: date) -> Path:
    """The page as HTML in a new file of the folder, named after its title and day. Raises `BadInput`.

    Where there is such a file already, the new one gets a number.
    """
    from assistant.explain.sheet_html import sheet_html

    words = "-".join(re.findall(r"[^\W_]+", sheet.title.lower()))
    name = f"{words[:LONGEST_NAME]}-{on.isoformat()}"
    for number in count(1):
        path = folder / f"{name}{f'-{number}' * (number > 1)}.html"
        try:
            write_new(path, sheet_html(sheet))
        except FileExistsError:
            continue
        except OSError as error:
            message = f"The page cannot be written to {path}: {error.strerror}."
            raise refuse("cannot-write", Place(str(path)), message, "Begin digday in a folder of your own.") from None
        break
    return path.resolve()
