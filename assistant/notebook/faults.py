"""What SQLite complains of, as one plain sentence about the notebook."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from assistant.model.place import BadInput, Place, refuse
from assistant.notebook.rows import NotACell

PATIENCE = 5.0
"""Seconds to wait for another program to finish writing."""

_KEPT = "What was written before is safe."
BACKUP = "Keep this file as it is, and bring back a backup."
# Words in SQLite's messages (the same since 3.7), with what they mean here; the first that fits is taken.
_FAULTS = (
    ("locked", "notebook-busy", "Another program is writing in the notebook, so nothing was changed.",
     "Close it, or wait a moment and try again."),
    ("disk is full", "disk-full", "The disk is full, so this was not written.", f"{_KEPT} Make room and try again."),
    ("readonly", "notebook-read-only", "The notebook cannot be written, here or at all, so nothing was changed.",
     "Give yourself the right to write in its folder, or copy it elsewhere and name that with --notebook."),
    ("unable to open", "notebook-unreadable", "The notebook, or a file that SQLite needs beside it, cannot be opened.",
     "Check that the folder is there and that you may read and write in it."),
    ("not a database", "not-a-notebook", "This is not a notebook of digday.", "Name another with --notebook."),
    ("malformed", "notebook-torn", "The notebook is damaged: part of the file is missing or overwritten.", BACKUP),
    ("disk i/o", "disk-trouble", "The disk failed or is full, so this was not written.",
     f"{_KEPT} Make room, check the disk and try again."),
)  # fmt: skip
_TORN = ("no such table", "no such column", "database schema")


@contextmanager
def told(path: Path) -> Iterator[None]:
    """Turns SQLite's errors, and cells that are not as they were written, into `BadInput` about a notebook."""
    try:
        yield
    except sqlite3.IntegrityError as error:
        raise refused(str(error), Place(str(path))) from error
    except sqlite3.Error as error:
        raise _fault(str(error), Place(str(path))) from error
    except NotACell as error:
        message = f"Another program has written in the notebook: {error}."
        raise refuse("notebook-torn", Place(str(path)), message, BACKUP) from None


def refused(said: str, place: Place) -> BadInput:
    """The refusal of a record that its table does not take."""
    what, _, which = said.partition(" constraint failed: ")
    if what == "UNIQUE":
        names = " and ".join(part.rpartition(".")[2] for part in which.split(", "))
        return refuse("already-there", place, f"There is one with this {names} already.", "Choose another.")
    if what.startswith("FOREIGN KEY"):
        message = "This belongs to something that is not in the notebook, or something there still belongs to it."
        return refuse("belongs-to-nothing", place, message, "Write down or take out the other first.")
    if what == "NOT NULL":
        return refuse("left-empty", place, f"{which} cannot be left empty.", "Write a value.")
    return refuse("impossible", place, f"This cannot be: it breaks the rule {which or said}.", "Check the values.")


def _fault(said: str, place: Place) -> BadInput:
    lower = said.lower()
    if any(words in lower for words in _TORN):
        return refuse("notebook-torn", place, f"The notebook lacks something it should have ({said}).", BACKUP)
    for words, code, message, hint in _FAULTS:
        if words in lower:
            return refuse(code, place, message, hint)
    return refuse("notebook-trouble", place, f"The notebook cannot be used: {said}.", BACKUP)
