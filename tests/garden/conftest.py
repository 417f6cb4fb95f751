"""The invented garden of the demo in a scratch notebook."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.garden import demo
from assistant.notebook import Notebook, open_notebook


@pytest.fixture
def notebook(tmp_path: Path) -> Iterator[Notebook]:
    with open_notebook(tmp_path / "garden.sqlite") as notebook:
        demo.fill(notebook)
        yield notebook
