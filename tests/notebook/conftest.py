from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.notebook import Notebook, open_notebook


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where a notebook may be made."""
    return tmp_path / "notebook.sqlite"


@pytest.fixture
def notebook(path: Path) -> Iterator[Notebook]:
    """A new notebook, found sound again when the test is over."""
    with open_notebook(path) as made:
        yield made
        assert made.check() == ()
