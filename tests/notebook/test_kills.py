from __future__ import annotations

import random
from pathlib import Path

from a_season import everything
from killing import AN_ENTRY, assert_sound, kill_again_and_again, killed_while_writing, step

from assistant.notebook import open_notebook

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
