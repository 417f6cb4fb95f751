from __future__ import annotations

import os
import random
import signal
import sqlite3
import time
from contextlib import closing
from pathlib import Path

import pytest
from a_season import everything, season
from killing import assert_sound

from assistant.model.notebook import TABLES, GardenRow, Record
from assistant.model.place import BadInput
from assistant.notebook import files, open_notebook
from assistant.notebook.files import bring_up_to_date, connected, make, steps_taken
from assistant.notebook.rows import cells_of, table_of
from assistant.notebook.schema import STEPS, Step

BROKEN = Step("a step that cannot be", "CREATE TABLE extra (id INTEGER) STRICT; ALTER TABLE garden ADD COLUMN id TEXT;")


def older(path: Path, steps: int) -> list[Record]:
    """A notebook as it was after some steps, with the records of a season that it could hold."""
    make(path, lambda connection: bring_up_to_date(connection, STEPS[:steps]))
    kept = []
    with closing(connected(path)) as connection:
        there = {name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        for record in season():
            if table_of(record) in there:
                known = {name for _, name, *_ in connection.execute(f"PRAGMA table_info({table_of(record)})")}
                cells = {name: cell for name, cell in cells_of(record).items() if name in known}
                marks = ", ".join(f":{name}" for name in cells)
                names = ", ".join(f'"{name}"' for name in cells)
                connection.execute(f'INSERT INTO "{table_of(record)}" ({names}) VALUES ({marks})', cells)
                kept.append(record)
    return kept


@pytest.mark.parametrize("steps", range(1, len(STEPS)))
def test_a_notebook_of_any_earlier_step_is_brought_up_to_date_and_keeps_its_records(path: Path, steps: int) -> None:
    kept = older(path, steps)
    before = path.read_bytes()
    with open_notebook(path) as notebook:
        assert notebook.steps == tuple(step.name for step in STEPS)
        found = [record._replace(id=0) for kind in TABLES.values() for record in notebook.all(kind)]  # type: ignore[attr-defined]
        assert sorted(map(str, found)) == sorted(map(str, kept))
        assert notebook.check() == ()
    backup = path.with_name("notebook-before-update.sqlite")
    with closing(sqlite3.connect(backup)) as connection:
        assert steps_taken(connection) == tuple(step.name for step in STEPS[:steps])
        assert connection.execute("SELECT name FROM garden").fetchall() == [("Home",)]
    assert len(backup.read_bytes()) == len(before)
    assert_sound(backup)


def test_what_was_entered_before_an_update_can_no_longer_be_undone(path: Path) -> None:
    older(path, 3)
    with closing(connected(path)) as connection:
        connection.execute("INSERT INTO entry (at, says) VALUES ('2031-10-04T18:30:00', 'garden added')")
        connection.execute("INSERT INTO change (entry, record_of, record) VALUES (1, 'garden', 1)")
    with open_notebook(path) as notebook:
        assert notebook.undo_last() is None
        assert len(notebook.all(GardenRow)) == 1
    assert_sound(path)


def test_an_update_that_is_killed_is_finished_the_next_time(path: Path) -> None:
    kept, chance = older(path, 1), random.Random(6)
    before = path.read_bytes()
    for _ in range(12):
        path.write_bytes(before)
        child = os.fork()
        if child == 0:
            try:
                open_notebook(path)
            finally:
                os._exit(1)
        time.sleep(chance.uniform(0, 0.03))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        with open_notebook(path) as notebook:
            assert notebook.steps == tuple(step.name for step in STEPS)
            assert sum(map(len, everything(notebook).values())) == len(kept)
            assert notebook.check() == ()
        assert_sound(path)


def test_a_notebook_that_is_up_to_date_is_not_touched(path: Path) -> None:
    open_notebook(path).close()
    before = path.read_bytes()
    open_notebook(path).close()
    assert path.read_bytes() == before
    assert [each.name for each in path.parent.iterdir()] == [path.name]


def test_a_step_that_fails_leaves_the_steps_before_it_and_nothing_of_its_own(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    older(path, 2)
    monkeypatch.setattr(files, "STEPS", (*STEPS[:3], BROKEN))
    with pytest.raises(BadInput):
        open_notebook(path)
    with closing(sqlite3.connect(path)) as connection:
        assert steps_taken(connection) == tuple(step.name for step in STEPS[:3])
        assert connection.execute("SELECT name FROM sqlite_master WHERE name = 'extra'").fetchall() == []
    monkeypatch.undo()
    with open_notebook(path) as notebook:
        assert notebook.check() == ()
        assert everything(notebook)["garden"] == (season()[0]._replace(id=1),)  # type: ignore[attr-defined]


def test_each_step_has_its_line_in_the_log(path: Path) -> None:
    open_notebook(path).close()
    with closing(sqlite3.connect(path)) as connection:
        rows = connection.execute("SELECT name, at FROM migration ORDER BY rowid").fetchall()
    assert [name for name, _ in rows] == [step.name for step in STEPS]
    assert all(len(at) == len("2031-10-04T18:30:00") for _, at in rows)


def test_a_notebook_of_a_newer_program_is_refused_and_not_touched(path: Path) -> None:
    with open_notebook(path) as notebook:
        notebook.add(GardenRow("Home"))
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("INSERT INTO migration VALUES ('weeds', '2041-01-01T00:00:00')")
    before = path.read_bytes()
    with pytest.raises(BadInput) as refusal:
        open_notebook(path)
    (problem,) = refusal.value.problems
    assert problem.message == "The notebook was written by a newer digday (it has the step 'weeds')."
    assert path.read_bytes() == before


def test_an_older_sqlite_makes_the_same_tables_without_their_types_being_checked(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 34, 1))
    with open_notebook(path) as notebook:
        assert notebook.check() == ()
    with closing(sqlite3.connect(path)) as connection:
        assert not [sql for (sql,) in connection.execute("SELECT sql FROM sqlite_master") if "STRICT" in (sql or "")]
    monkeypatch.undo()
    with open_notebook(path) as notebook:
        assert notebook.check() == ()
