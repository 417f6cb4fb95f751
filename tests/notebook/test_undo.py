from __future__ import annotations

import random
from datetime import date
from pathlib import Path

import pytest
from a_season import everything, season, write_season

from assistant.model.notebook import TABLES, BedRow, GardenRow, LotEntryRow, PlantingRow, Record
from assistant.notebook import Notebook, changes, open_notebook


def test_undoing_gives_the_notebook_before_each_entry(notebook: Notebook) -> None:
    past = [everything(notebook)]
    for record in season():
        notebook.add(record)
        past.append(everything(notebook))
    while past:
        assert everything(notebook) == past.pop()
        undone = notebook.undo_last()
    assert undone is None


@pytest.mark.parametrize("seed", range(3))
def test_any_course_of_adding_changing_and_taking_out_is_undone_step_by_step(notebook: Notebook, seed: int) -> None:
    chance = random.Random(seed)
    write_season(notebook)
    past = []
    for _ in range(20):
        past.append(everything(notebook))
        _do_something(notebook, chance)
    while past:
        assert notebook.undo_last() is not None
        assert everything(notebook) == past.pop()
        assert notebook.check() == ()


def _do_something(notebook: Notebook, chance: random.Random) -> None:
    kept: list[Record] = [record for kind in TABLES.values() for record in notebook.all(kind)]
    record = chance.choice(kept) if kept else None
    deed = chance.choice(("add", "change", "change", "remove"))
    if record is None or deed == "add":
        with notebook.entry("a garden with a bed"):
            garden = notebook.add(GardenRow(f"Garden {chance.random()}"))
            bed = notebook.add(BedRow(garden.id, "Bed"))
            notebook.add(PlantingRow(bed.id, date(2031, 6, 1), date(2031, 6, 1)))
    elif deed == "change" and hasattr(record, "note"):
        notebook.change(record._replace(note=f"{chance.random()}"))  # type: ignore[attr-defined]
    else:
        notebook.remove(record)


def test_several_records_of_one_entry_are_undone_at_one_go(notebook: Notebook) -> None:
    with notebook.entry("a garden with a bed"):
        garden = notebook.add(GardenRow("Home"))
        notebook.change(garden._replace(note="behind the house"))
        notebook.remove(notebook.add(BedRow(garden.id, "Long bed")))
    undone = notebook.undo_last()
    assert undone is not None
    assert undone.says == "a garden with a bed"
    assert notebook.all(GardenRow) == ()


def test_the_last_entry_can_be_undone_when_the_notebook_is_opened_again(path: Path) -> None:
    with open_notebook(path) as notebook:
        write_season(notebook)
        before = everything(notebook)
        notebook.add(LotEntryRow(1, date(2031, 12, 24), "used", pounds=3.0))
    with open_notebook(path) as notebook:
        notebook.undo_last()
        assert everything(notebook) == before


def test_what_is_too_long_ago_is_forgotten_and_only_that(notebook: Notebook, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(changes, "UNDO_DEPTH", 10)
    garden = notebook.add(GardenRow("Home"))
    for number in range(15):
        notebook.change(garden._replace(note=str(number)))
    undone = 0
    while notebook.undo_last():
        undone += 1
    assert undone == 10
    assert notebook.get(GardenRow, garden.id).note == "4"


def test_what_was_undone_takes_no_room_from_what_can_be(notebook: Notebook, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(changes, "UNDO_DEPTH", 10)
    garden = notebook.add(GardenRow("Home"))
    for number in range(30):
        notebook.change(garden._replace(note=str(number)))
        notebook.undo_last()
    assert notebook.undo_last() is not None
    assert notebook.all(GardenRow) == ()
