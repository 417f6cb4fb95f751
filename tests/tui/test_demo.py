"""The invented garden that ships with the program, and what naming this room costs."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from assistant import tui
from assistant.cases import read_case
from assistant.rulebook import check_case_shape, read_document


def test_the_demo_case_has_the_shape_of_a_case_and_expects_nothing() -> None:
    assert check_case_shape(read_document(tui.DEMO_CASE)) == ()
    case = read_case(tui.DEMO_CASE)
    assert case.expected is None
    assert set(case.answers) == {"planted_on", "variety"}


def test_the_demo_opens_on_a_scratch_notebook_that_is_gone_afterwards(monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[tuple[Path, int]] = []
    monkeypatch.setattr(
        tui, "_run_garden", lambda notebook, on: opened.append((notebook.path, len(notebook.rows("bed"))))
    )
    tui.open_demo()
    [(scratch, beds)] = opened
    assert beds >= 7
    assert not scratch.exists()
    assert not scratch.parent.exists()


def test_naming_this_room_loads_no_textual() -> None:
    code = "import sys, assistant.tui; sys.exit(any(name.split('.')[0] == 'textual' for name in sys.modules))"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
