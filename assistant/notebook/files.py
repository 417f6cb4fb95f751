"""The notebook's file: made, opened, brought up to date, copied.

SQLite's rollback journal is used rather than its write-ahead log, because then the one file holds everything after
each entry, so that it may be copied, put on a stick or into a shared folder. `synchronous=EXTRA` has an entry on the
disk before the next thing is asked; with less, a power cut may bring the journal's name back and so undo the entry.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from datetime import date, datetime
from pathlib import Path

from assistant.model.place import BadInput, Place, refuse
from assistant.notebook.faults import BACKUP, PATIENCE, told
from assistant.notebook.schema import APPLICATION_ID, LOG, STEPS, Step

STRICT_SINCE = (3, 37, 0)
"""The first SQLite that checks the types of cells itself (sqlite.org/stricttables.html)."""

SETTINGS = ("foreign_keys=ON", "synchronous=EXTRA", "fullfsync=ON", "trusted_schema=OFF", "cell_size_check=ON")
MAGIC = b"SQLite format 3\0"
"""How every SQLite file begins (sqlite.org/fileformat2.html)."""
TAKEN = "file-there"


def default_path() -> Path:
    """The notebook in the user's data folder."""
    from platformdirs import user_data_path

    return user_data_path("digday") / "notebook.sqlite"


def opened(path: Path, new: bool) -> sqlite3.Connection:
    """A connection to the notebook at a path, brought up to date where needed; `new` allows to make one.

    Raises `BadInput`.
    """
    if not path.exists():
        _begin(path, new)
    _check_file(path)
    connection = connected(path)
    try:
        with told(path):
            _check_whose(connection, path)
            connection.execute("PRAGMA journal_mode=DELETE")  # another program may have turned it to its own liking
            _update(connection, path)
    except BaseException:
        connection.close()
        raise
    return connection


def connected(path: Path, patience: float = PATIENCE) -> sqlite3.Connection:
    """A connection with everything switched on that keeps entries safe; no file is ever made by it."""
    with told(path):
        address = f"{path.absolute().as_uri()}?mode=rw"
        connection = sqlite3.connect(address, uri=True, timeout=patience, isolation_level=None)
        try:
            for setting in SETTINGS:
                connection.execute(f"PRAGMA {setting}")
        except BaseException:
            connection.close()
            raise
    return connection


def which_file(path: Path) -> tuple[int, int] | None:
    """What tells the file at a path from any other, whatever its name; None when there is none."""
    try:
        status = path.stat()
    except OSError:
        return None
    return status.st_dev, status.st_ino


def make(path: Path, fill: Callable[[sqlite3.Connection], None]) -> None:
    """A new file that appears under its name only once it is filled and on the disk.

    Raises `BadInput`, also when there is such a file already; that one stays as it is.
    """
    if path.exists():
        raise _taken(path)
    from tempfile import mkstemp  # slow to load, and seldom needed

    with _files_told(path):
        descriptor, name = mkstemp(prefix=f".{path.name}-", dir=path.parent)
        os.close(descriptor)
    scratch = Path(name)
    try:
        with told(path), closing(connected(scratch)) as connection:
            fill(connection)
        with _files_told(path):
            _appear(scratch, path)
    finally:
        for left in (scratch, scratch.with_name(f"{scratch.name}-journal")):
            with suppress(OSError):
                left.unlink()


@contextmanager
def transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """All that is written inside, or nothing of it."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def bring_up_to_date(connection: sqlite3.Connection, steps: tuple[Step, ...]) -> None:
    """Take each step that is missing, in one transaction with its line in the log. What was written can then no longer
    be undone, for the tables are others."""
    for step in steps:
        with transaction(connection):
            if step.name in steps_taken(connection):
                continue
            for statement in filter(None, map(str.strip, step.statements.split(";"))):
                connection.execute(_as_known_here(statement))
            connection.execute("DELETE FROM entry")
            moment = datetime.now().isoformat(timespec="seconds")
            connection.execute(f"INSERT INTO {LOG} VALUES (?, ?)", (step.name, moment))
            connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")


def steps_taken(connection: sqlite3.Connection) -> tuple[str, ...]:
    """The steps in the notebook's log, in the order in which they were taken."""
    if not connection.execute("SELECT 1 FROM sqlite_master WHERE name = ?", (LOG,)).fetchone():
        return ()
    return tuple(name for (name,) in connection.execute(f"SELECT name FROM {LOG} ORDER BY rowid"))


def copy(connection: sqlite3.Connection, to: Path) -> None:
    """A sound copy of a notebook, also while others write in it. Raises `BadInput`, also when the file is there."""
    make(to, lambda copied: connection.backup(copied))


def free_name(path: Path) -> Path:
    """The path, with a number before its ending where it is taken."""
    free, number = path, 2
    while free.exists():
        free, number = path.with_name(f"{path.stem}-{number}{path.suffix}"), number + 1
    return free


def backup_name(path: Path, on: date) -> Path:
    """A name for a backup beside the notebook."""
    return free_name(path.with_name(f"{path.stem}-{on.isoformat()}{path.suffix}"))


def _as_known_here(statement: str) -> str:
    """The statement in the words of the SQLite at hand."""
    return statement if sqlite3.sqlite_version_info >= STRICT_SINCE else statement.removesuffix("STRICT")


def _update(connection: sqlite3.Connection, path: Path) -> None:
    """Take the steps that are missing, after a backup."""
    taken = steps_taken(connection)
    newer = [name for name in taken if name not in {step.name for step in STEPS}]
    if newer:
        message = f"The notebook was written by a newer digday (it has the step '{newer[0]}')."
        raise refuse("newer-notebook", Place(str(path)), message, "Install that version; nothing was changed.")
    if len(taken) == len(STEPS):
        return
    before = free_name(path.with_name(f"{path.stem}-before-update{path.suffix}"))
    copy(connection, before)
    bring_up_to_date(connection, STEPS)


def _check_file(path: Path) -> None:
    place = Place(str(path))
    if not path.is_file():
        raise refuse("not-a-file", place, "This is not an ordinary file.", "Name the file of a notebook.")
    with _files_told(path), path.open("rb") as file:
        begins = file.read(len(MAGIC))
    if not begins:
        raise refuse("notebook-torn", place, "The file is empty, so it is no notebook, or no longer one.", BACKUP)
    if begins != MAGIC:
        raise refuse("not-a-notebook", place, "This is not a notebook of digday.", "Name another with --notebook.")


def _check_whose(connection: sqlite3.Connection, path: Path) -> None:
    connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    (whose,) = connection.execute("PRAGMA application_id").fetchone()
    _check_length(connection, path)
    if whose != APPLICATION_ID:
        message = "This is a database, but not a notebook of digday."
        raise refuse("not-a-notebook", Place(str(path)), message, "Name another with --notebook.")


def _check_length(connection: sqlite3.Connection, path: Path) -> None:
    """SQLite itself takes no offence at a last page that was cut short."""
    (pages,), (size,) = (connection.execute(f"PRAGMA {of}").fetchone() for of in ("page_count", "page_size"))
    with _files_told(path):
        there = path.stat().st_size
    if there < pages * size:
        message = "The notebook is damaged: part of the file is missing or overwritten."
        raise refuse("notebook-torn", Place(str(path)), message, BACKUP)


def _begin(path: Path, new: bool) -> None:
    """A notebook of empty tables; should another program be quicker, its notebook."""
    if not new:
        raise refuse("no-notebook", Place(str(path)), "There is no notebook here yet.", "Name one with --notebook.")
    with _files_told(path):
        path.parent.mkdir(parents=True, exist_ok=True)
    try:
        make(path, lambda connection: bring_up_to_date(connection, STEPS))
    except BadInput as error:
        if error.problems[0].code != TAKEN:
            raise


def _taken(path: Path) -> BadInput:
    return refuse(TAKEN, Place(str(path)), "There is a file of this name already.", "Name another.")


def _appear(scratch: Path, path: Path) -> None:
    """Give the file its name, unless another has it, and have the folder's record of it on the disk."""
    try:
        os.link(scratch, path)
    except FileExistsError:
        raise _taken(path) from None
    except OSError:  # some file systems know no second names
        os.rename(scratch, path)
    with suppress(OSError):  # some systems open no folders
        folder = os.open(path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


@contextmanager
def _files_told(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        message = f"No file can be made here: {reason}."
        raise refuse("not-writable", Place(str(path)), message, "Check the folder, or name another file.") from error
