from __future__ import annotations

import os
import random
from pathlib import Path
from typing import NoReturn

from a_season import everything
from killing import AN_ENTRY, assert_sound, kill_again_and_again, killed_while_writing, step

from assistant.model.notebook import GardenRow
from assistant.notebook import open_notebook

GARDENS = 10
KILLS = 25  # hundreds in tests/benchmarks/notebook_kills.py


def test_every_entry_told_as_written_is_there_after_a_kill(tmp_path: Path) -> None:
    assert kill_again_and_again(tmp_path, KILLS, seed=1) >= KILLS


def test_a_program_killed_while_it_makes_its_notebook_leaves_one_that_opens_or_none(tmp_path: Path) -> None:
    chance = random.Random(2)
    for number in range(10):
        path = tmp_path / f"{number}.sqlite"
        told = killed_while_writing(path, 0, 0, chance.uniform(0, 3 * AN_ENTRY))
        with open_notebook(path) as notebook, open_notebook(tmp_path / f"mirror-{number}.sqlite") as mirror:
            for done in range(told + 1):
                step(mirror, done)
            if everything(notebook) != everything(mirror):
                step(mirror, told + 1)
            assert everything(notebook) == everything(mirror)
        assert_sound(path)


def test_what_three_programs_write_at_once_is_all_there(tmp_path: Path) -> None:
    path, children = tmp_path / "notebook.sqlite", []
    for program in range(3):
        child = os.fork()
        if child == 0:
            _write_gardens(path, program)
        children.append(child)
    assert [os.waitpid(child, 0)[1] for child in children] == [0, 0, 0]
    with open_notebook(path) as notebook:
        names = [garden.name for garden in notebook.all(GardenRow)]
        assert sorted(names) == sorted(f"{program} {number}" for program in range(3) for number in range(GARDENS))
        for letter in "012":
            own = [int(name[2:]) for name in names if name[0] == letter]
            assert own == sorted(own)
        assert notebook.check() == ()
    assert_sound(path)


def _write_gardens(path: Path, program: int) -> NoReturn:
    failed = 1
    try:
        with open_notebook(path) as notebook:
            for number in range(GARDENS):
                notebook.add(GardenRow(f"{program} {number}"))
        failed = 0
    finally:
        os._exit(failed)
