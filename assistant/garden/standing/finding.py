"""Beds and gardens found by what is typed of their names."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from assistant.garden.standing.overview import bed_now
from assistant.garden.standing.stages import BedNow
from assistant.model.notebook import BedRow, GardenRow
from assistant.model.quantities import NotAValue
from assistant.notebook import Notebook

LONGEST_NAME = 60
MOST_NAMES = 12
BETWEEN = "/"
"""Stands between the name of a garden and that of its bed."""


def find_bed(notebook: Notebook, name: str, on: date) -> BedNow:
    """The bed of a name, or of the only name that begins so, as it stands on a day. Raises `NotAValue`."""
    return bed_now(notebook, find_bed_row(notebook, name).id, on)


def find_bed_row(notebook: Notebook, name: str) -> BedRow:
    """The same as its record; of equal names the one in the garden that is shown. Raises `NotAValue`."""
    gardens = gardens_by_number(notebook)
    beds, wanted = notebook.all(BedRow), plain(name)
    found = [bed for bed in beds if wanted in (plain(bed.name), plain(full_name(bed, gardens)))]
    found = found or [bed for bed in beds if wanted and _begins(bed, gardens, wanted)]
    if len(found) > 1:
        found = [bed for bed in found if bed.garden == notebook.shown] or found
    if len(found) == 1:
        return found[0]
    if not found:
        known = ", ".join(_told(bed, gardens) for bed in beds[:MOST_NAMES]) or "none yet"
        raise NotAValue(f"'{name}' is no bed; the beds are: {known}")
    choice = " or ".join(_told(bed, gardens) for bed in found[:MOST_NAMES])
    raise NotAValue(f"'{name}' is more than one bed; write {choice}")


def find_garden(notebook: Notebook, name: str) -> GardenRow:
    """The garden of a name, or of the only name that begins so. Raises `NotAValue`."""
    gardens, wanted = notebook.all(GardenRow), plain(name)
    found = [garden for garden in gardens if plain(garden.name) == wanted]
    found = found or [garden for garden in gardens if wanted and plain(garden.name).startswith(wanted)]
    if len(found) != 1:
        known = ", ".join(garden.name for garden in gardens[:MOST_NAMES]) or "none yet"
        raise NotAValue(f"'{name}' is {'more than one' if found else 'no'} garden; the gardens are: {known}")
    return found[0]


def gardens_by_number(notebook: Notebook) -> Mapping[int, GardenRow]:
    """Every garden."""
    return {garden.id: garden for garden in notebook.all(GardenRow)}


def full_name(bed: BedRow, gardens: Mapping[int, GardenRow]) -> str:
    """A bed's name that no other bed has, such as `Hill/North bed`."""
    return f"{gardens[bed.garden].name}{BETWEEN}{bed.name}"


def plain(name: str) -> str:
    """A name as names are compared."""
    return " ".join(name.split()).lower()


def proper_name(text: str, of: str) -> str:
    """A name that can be given. Raises `NotAValue`."""
    name = " ".join(text.split())
    if not 0 < len(name) <= LONGEST_NAME:
        raise NotAValue(f"a {of}'s name has 1 to {LONGEST_NAME} letters; write one such as North {of}")
    return name


def _told(bed: BedRow, gardens: Mapping[int, GardenRow]) -> str:
    return full_name(bed, gardens) if len(gardens) > 1 else bed.name


def _begins(bed: BedRow, gardens: Mapping[int, GardenRow], wanted: str) -> bool:
    """Whether what is typed begins the bed's name, or its garden's and after a stroke the bed's."""
    garden, _, name = wanted.partition(BETWEEN)
    in_garden = bool(name) and plain(gardens[bed.garden].name).startswith(garden.strip())
    return plain(bed.name).startswith(wanted) or (in_garden and plain(bed.name).startswith(name.strip()))
