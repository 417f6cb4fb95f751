"""The invented garden of the demo in a scratch notebook."""

from __future__ import annotations

import pytest

from assistant.notebook import Notebook


@pytest.fixture
def notebook(kept: Notebook) -> Notebook:
    return kept
