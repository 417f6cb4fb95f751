"""A program that writes in a notebook, killed at random moments, beside a mirror that was never killed."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import time
from collections.abc import Callable
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import NoReturn

from a_season import everything

from assistant.model.notebook import AnswerRow, GardenRow, VisitRow
from assistant.model.readings import Origin
from assistant.notebook import Notebook, open_notebook

AN_ENTRY = 0.02  # seconds, as long as an entry takes on a slow disk


def assert_sound(path: Path) -> None:
    """Finds nothing wrong by SQLite's own checks, on a connection that is not ours."""
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []


def step(notebook: Notebook, number: int) -> None:
    """The entry of a number: the same records go in whoever calls it on the same notebook."""
    if number == 0:
        notebook.add(GardenRow("Home"))
    elif number % 4 == 1:
        with notebook.entry("a visit with its answers"):
            visit = notebook.add(VisitRow(1, date(2031, 10, 4), "sweetpotato/when-to-dig", f"Visit {number}"))
            for sign in ("vines", "roots", "heave"):
                notebook.add(AnswerRow(visit.id, sign, Origin.ANSWERED, "x" * number, choices=("green",)))
    elif number % 4 == 2:
        notebook.change(notebook.get(GardenRow, 1)._replace(note="y" * 50 * number))
    elif number % 16 == 11:
        notebook.remove(notebook.all(VisitRow)[0])
    elif number % 8 == 7:
        notebook.undo_last()
    else:
        visit = notebook.all(VisitRow)[-1]
        notebook.add(AnswerRow(visit.id, f"sign-{number}", Origin.ANSWERED, "about 3", 2.0, 4.0))


Step = Callable[[Notebook, int], None]


def killed_while_writing(path: Path, first: int, entries: int, seconds: float, step: Step = step) -> int:
    """Writes entries from `first` on in another process, which is killed some time after it has told of so many.

    The last that was told as written.
    """
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        _write_for_ever(path, first, writing, step)
    os.close(writing)
    with os.fdopen(reading, "rb") as told:
        numbers = [told.readline() for _ in range(entries)]
        time.sleep(seconds)
        os.kill(child, signal.SIGKILL)
        numbers += told.readlines()
    os.waitpid(child, 0)
    return int(numbers[-1]) if numbers else first - 1


def _write_for_ever(path: Path, number: int, told: int, step: Step) -> NoReturn:
    try:
        with open_notebook(path) as notebook:
            while True:
                step(notebook, number)
                os.write(told, b"%d\n" % number)
                number += 1
    finally:
        os._exit(1)


def kill_again_and_again(folder: Path, rounds: int, seed: int, step: Step = step) -> int:
    """After each kill the notebook must be sound, and equal to the mirror after the entries told as written, or one
    more; how many entries were written."""
    chance = random.Random(seed)
    path, done = folder / "notebook.sqlite", 0
    with open_notebook(folder / "mirror.sqlite") as mirror:
        for _ in range(rounds):
            told = killed_while_writing(path, done, chance.randrange(4), chance.uniform(0, AN_ENTRY), step) + 1
            while done < told:
                step(mirror, done)
                done += 1
            with open_notebook(path) as notebook:
                kept = everything(notebook)
                assert notebook.check() == ()
            assert_sound(path)
            if kept != everything(mirror):
                step(mirror, done)
                done += 1
                assert kept == everything(mirror), f"entry {done} of seed {seed}"
    return done
