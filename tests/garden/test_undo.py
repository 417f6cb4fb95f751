"""Any course of deeds in a garden, undone step by step, exported and imported, and killed amid them."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest
from a_season import everything
from garden_deeds import deed, do_something
from killing import assert_sound, kill_again_and_again

from assistant.cases.notebooks import import_notebook, notebook_text, write_new
from assistant.garden import demo
from assistant.garden.entries.soundness import faults
from assistant.garden.standing.overview import beds_now
from assistant.garden.telling.timeline import timeline
from assistant.model.notebook import BedRow
from assistant.notebook import Notebook, open_notebook

DEEDS = 60
KILLS = 12


@pytest.mark.parametrize("seed", range(4))
def test_any_course_of_deeds_is_undone_step_by_step(notebook: Notebook, seed: int) -> None:
    chance, past, done = Random(seed), [], 0
    for _ in range(DEEDS):
        before, last = everything(notebook), notebook.last_entry
        done += do_something(notebook, chance)
        if notebook.last_entry != last:
            past.append(before)
        else:
            assert everything(notebook) == before  # what was refused, or was nothing, left no trace
    assert done > DEEDS / 3
    while past:
        assert notebook.undo_last() is not None
        assert everything(notebook) == past.pop()
    assert notebook.check() == ()


@pytest.mark.parametrize("seed", range(4))
def test_no_course_of_deeds_brings_in_what_cannot_be(notebook: Notebook, seed: int) -> None:
    chance = Random(seed + 100)
    for _ in range(DEEDS):
        do_something(notebook, chance)
        assert len(beds_now(notebook, demo.TODAY)) == len(notebook.rows("bed"))
    for bed in notebook.all(BedRow):
        assert faults(notebook, bed) == ()
        timeline(notebook, bed)
    assert notebook.check() == ()
    assert_sound(notebook.path)


@pytest.mark.parametrize("form", ["yaml", "json"])
def test_any_course_of_deeds_imports_from_its_export_as_it_was(notebook: Notebook, tmp_path: Path, form: str) -> None:
    chance = Random(7)
    for _ in range(DEEDS):
        do_something(notebook, chance)
    write_new(tmp_path / f"all.{form}", notebook_text(notebook, form == "json"))
    import_notebook(tmp_path / f"all.{form}", tmp_path / "again.sqlite")
    with open_notebook(tmp_path / "again.sqlite") as again:
        assert everything(again) == everything(notebook)
        assert again.check() == ()


def test_every_deed_told_as_written_is_there_after_a_kill(tmp_path: Path) -> None:
    assert kill_again_and_again(tmp_path, KILLS, seed=3, step=deed) >= KILLS
