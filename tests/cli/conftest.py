from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from assistant.cli import main


class Run(NamedTuple):
    """What one command left behind."""

    code: int
    out: str
    err: str


Digday = Callable[..., Run]

CASE = """\
case: Green vines in mild nights
rulebook: sweetpotato/when-to-dig
on: 2031-10-04
signs:
  planted_on: 2031-06-10
  vines: green
  recent_nights: 60 F
"""


@pytest.fixture
def digday(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Digday:
    """Run a command in this process, in an empty folder, with a data folder of its own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv("COLUMNS", "80")

    def run(*arguments: object) -> Run:
        capsys.readouterr()
        code = main([str(argument) for argument in arguments])
        return Run(code, *capsys.readouterr())

    return run


@pytest.fixture
def case_file(tmp_path: Path) -> Path:
    """A sound case of three answers."""
    path = tmp_path / "garden.yaml"
    path.write_text(CASE, encoding="utf-8")
    return path
