"""The season kept: one SQLite file of gardens, beds, visits, digs, lots and all that was seen of them."""

from __future__ import annotations

from pathlib import Path

from assistant.notebook.book import Between, Entry, Notebook, write_notebook
from assistant.notebook.faults import BACKUP
from assistant.notebook.files import backup_name, default_path

__all__ = ["BACKUP", "Between", "Entry", "Notebook", "backup_name", "default_path", "open_notebook", "write_notebook"]


def open_notebook(path: Path | None = None, new: bool = True) -> Notebook:
    """The notebook at a path, or the user's own; `new` allows to make one where there is none. Raises `BadInput`."""
    return Notebook(path or default_path(), new)
