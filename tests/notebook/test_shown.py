"""Which garden of a notebook is looked at: kept with it, and no entry."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from a_season import everything

from assistant.model.notebook import BedRow, GardenRow, VisitRow
from assistant.notebook import Notebook, open_notebook


def test_the_garden_that_is_shown_is_kept_and_is_no_entry(path: Path) -> None:
    with open_notebook(path) as notebook:
        assert notebook.shown is None
        garden = notebook.add(GardenRow("Hill"))
        notebook.show(garden.id)
        last = notebook.last_entry
    with open_notebook(path) as notebook:
        assert (notebook.shown, notebook.last_entry) == (garden.id, last)
        notebook.show(None)
        assert notebook.shown is None


def test_a_garden_that_is_shown_can_be_undone_and_taken_out(notebook: Notebook) -> None:
    for leave in (lambda garden: notebook.undo_last(), notebook.remove):
        garden = notebook.add(GardenRow("Hill"))
        notebook.show(garden.id)
        leave(garden)
        assert notebook.shown is None


def test_a_bed_moves_with_its_visits_and_undoing_moves_them_back(notebook: Notebook) -> None:
    home, hill = (notebook.add(GardenRow(name)) for name in ("Home", "Hill"))
    bed = notebook.add(BedRow(home.id, "North bed"))
    visit = notebook.add(VisitRow(home.id, date(2031, 10, 4), "sweetpotato/when-to-dig", "A look", bed=bed.id))
    before = everything(notebook)
    with notebook.entry("North bed moved", linked_later=True):
        notebook.change(bed._replace(garden=hill.id))
        notebook.change(visit._replace(garden=hill.id))
    assert notebook.get(VisitRow, visit.id).garden == hill.id
    notebook.undo_last()
    assert everything(notebook) == before
