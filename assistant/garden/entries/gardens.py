"""Several gardens in one notebook, each with its own frost dates and units; and beds that move between them."""

from __future__ import annotations

from assistant.cases.hills import bed_length
from assistant.garden.entries.digs import free_name
from assistant.garden.entries.soundness import lots_of, sound
from assistant.garden.standing.finding import BETWEEN, find_garden, plain, proper_name
from assistant.garden.standing.words import units_of
from assistant.model.case import FrostDates, MonthDay
from assistant.model.notebook import BedRow, FrostRow, GardenRow, PlantingRow, VisitRow
from assistant.model.quantities import NotAValue, Units
from assistant.notebook import Notebook
from assistant.reckoning.frost_odds import Odds

FIRST_GARDEN = "The garden"
FROSTS = {"first frost": "first_frost", "last frost": "last_frost"}
HOW = (
    "write us or metric, or first frost 10-08 10-20 11-02 (it has come by then in 1, 5 and 9 years of 10), "
    "or last frost in the same way, or name and another name"
)


def add_garden(notebook: Notebook, text: str) -> GardenRow:
    """A new garden. Raises `NotAValue` for a name that is none or is taken."""
    name = _free_name(notebook, text)
    with notebook.entry(f"the garden {name} added"):
        return notebook.add(GardenRow(name))


def change_garden(notebook: Notebook, garden: GardenRow, text: str) -> GardenRow:
    """Another name, other units or frost dates, from text such as `name Hill`, `metric` or `last frost none`.

    Raises `NotAValue`.
    """
    words = " ".join(text.split())
    if words.lower() in {units.value for units in Units}:
        with notebook.entry(f"the units of {garden.name} changed"):
            return notebook.change(garden._replace(units=Units(words.lower())))
    if words.lower().startswith("name "):
        name = _free_name(notebook, words[5:], garden)
        with notebook.entry(f"the garden {garden.name} named {name}"):
            return notebook.change(garden._replace(name=name))
    for said, which in FROSTS.items():
        if words.lower().startswith(f"{said} "):
            _change_frost(notebook, garden, said, which, words[len(said) :].split())
            return garden
    raise NotAValue(f"'{text.strip()}' is nothing that a garden has; {HOW}")


def frost_words(notebook: Notebook, garden: GardenRow) -> str:
    """A garden's frost dates in words."""
    rows = {row.which: row for row in notebook.all(FrostRow, garden=garden.id)}
    told = (f"{said} {row.p10} {row.p50} {row.p90}" for said, which in FROSTS.items() if (row := rows.get(which)))
    return ", ".join(told) or "no frost dates"


def add_bed(notebook: Notebook, text: str) -> BedRow:
    """A new bed in the garden that is shown or the only one, or in another: `Hill/North bed`. Raises `NotAValue`."""
    garden, name = _place_of_new_bed(notebook, text)
    name = proper_name(name, "bed")
    with notebook.entry(f"the bed {name} added"):
        garden = garden or notebook.add(GardenRow(FIRST_GARDEN))
        _check_free(notebook, garden, name)
        return notebook.add(BedRow(garden.id, name))


def rename_bed(notebook: Notebook, bed: BedRow, text: str) -> BedRow:
    """Another name. Raises `NotAValue`."""
    name = proper_name(text, "bed")
    _check_free(notebook, notebook.get(GardenRow, bed.garden), name, bed)
    with notebook.entry(f"{bed.name} named {name}"):
        return notebook.change(bed._replace(name=name))


def size_bed(notebook: Notebook, bed: BedRow, text: str) -> BedRow:
    """How long all its rows are together, such as `40 ft`. Raises `NotAValue`, also when more of it was dug."""
    units = units_of(notebook, bed)
    length = bed_length(text, "ft" if units is Units.US else "m")
    with sound(notebook, f"the length of {bed.name}", bed):
        return notebook.change(bed._replace(length=length))


def move_bed(notebook: Notebook, bed: BedRow, garden: GardenRow) -> BedRow:
    """The bed, its visits and its lots belong to another garden; rooms and their readings stay where they are.

    Raises `NotAValue`.
    """
    if bed.garden == garden.id:
        raise NotAValue(f"{bed.name} is in {garden.name} already")
    _check_free(notebook, garden, bed.name)
    with notebook.entry(f"{bed.name} moved to {garden.name}", linked_later=True):
        moved = notebook.change(bed._replace(garden=garden.id))
        for visit in notebook.all(VisitRow, bed=bed.id):
            notebook.change(visit._replace(garden=garden.id))
        for planting in notebook.all(PlantingRow, bed=bed.id):
            for _, lot in lots_of(notebook, planting):
                notebook.change(lot._replace(garden=garden.id, name=free_name(notebook, garden, lot.name)))
    return moved


def change_bed(notebook: Notebook, bed: BedRow, text: str) -> BedRow:
    """Another name, length or garden, from text such as `name North end`, `length 40 ft` or `garden Hill`.

    Raises `NotAValue`.
    """
    what, _, words = text.strip().partition(" ")
    if what.lower() == "name":
        return rename_bed(notebook, bed, words)
    if what.lower() == "length":
        return size_bed(notebook, bed, words)
    if what.lower() == "garden":
        return move_bed(notebook, bed, find_garden(notebook, words))
    raise NotAValue("write name and another name, length and how long its rows are, or garden and which")


def _change_frost(notebook: Notebook, garden: GardenRow, said: str, which: str, words: list[str]) -> None:
    dates = None if words == ["none"] else _dates(words)
    with notebook.entry(f"the {said} of {garden.name} changed"):
        kept = notebook.all(FrostRow, garden=garden.id, which=which)
        if dates is None:
            for row in kept:
                notebook.remove(row)
        elif kept:
            notebook.change(FrostRow(garden.id, which, *dates, id=kept[0].id))
        else:
            notebook.add(FrostRow(garden.id, which, *dates))


def _dates(words: list[str]) -> FrostDates:
    if len(words) != 3:
        raise NotAValue("a frost has three dates, of 1, 5 and 9 years in 10, such as 10-08 10-20 11-02; or write none")
    dates = FrostDates(*map(MonthDay.parse, words))
    Odds.from_dates(dates)  # refuses dates that do not follow one another
    return dates


def _free_name(notebook: Notebook, text: str, own: GardenRow | None = None) -> str:
    name = proper_name(text, "garden")
    if BETWEEN in name:
        raise NotAValue(f"a garden's name has no {BETWEEN}, which stands between a garden and its bed; leave it out")
    if any(plain(other.name) == plain(name) for other in notebook.all(GardenRow) if other != own):
        raise NotAValue(f"there is a garden named {name} already; write another name")
    return name


def _check_free(notebook: Notebook, garden: GardenRow, name: str, own: BedRow | None = None) -> None:
    beds = notebook.all(BedRow, garden=garden.id)
    if any(plain(bed.name) == plain(name) for bed in beds if own is None or bed.id != own.id):
        where = f" in {garden.name}" if len(notebook.rows("garden")) > 1 else ""
        raise NotAValue(f"there is a bed named {name} already{where}; write another name")


def _place_of_new_bed(notebook: Notebook, text: str) -> tuple[GardenRow | None, str]:
    """The garden a new bed is for, None where there is none yet, and the bed's name."""
    gardens = notebook.all(GardenRow)
    before, stroke, name = text.partition(BETWEEN)
    named = next((garden for garden in gardens if stroke and plain(garden.name) == plain(before)), None)
    if named:
        return named, name
    if len(gardens) <= 1:
        return (gardens[0] if gardens else None), text
    shown = next((garden for garden in gardens if garden.id == notebook.shown), None)
    if shown is None:
        raise NotAValue(
            f"there are {len(gardens)} gardens; write which, such as {gardens[0].name}{BETWEEN}{text.strip()}"
        )
    return shown, text
