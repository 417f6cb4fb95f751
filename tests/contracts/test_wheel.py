"""The built wheel works away from the checkout: rulebooks and scenarios travel with it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
ASK_WHERE = "import assistant; print(assistant.__file__)"


def _run(*command: object, cwd: Path) -> str:
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    run = subprocess.run(
        [str(part) for part in command], cwd=cwd, env=environment, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stdout + run.stderr
    return run.stdout


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A scratch environment with the wheel in it; only the dependencies are borrowed from this one."""
    scratch = tmp_path_factory.mktemp("wheel")
    _run(sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", scratch, ROOT, cwd=scratch)
    (wheel,) = scratch.glob("digday-*.whl")
    venv.create(scratch / "venv", with_pip=False)
    python = scratch / "venv" / "bin" / "python"
    _run(sys.executable, "-m", "pip", "--python", python, "install", "-q", "--no-deps", wheel, cwd=scratch)
    (site,) = (scratch / "venv").glob("lib/python*/site-packages")
    (site / "borrowed.pth").write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    return python


def test_the_wheel_s_own_files_are_the_ones_used(installed: Path, tmp_path: Path) -> None:
    assert Path(_run(installed, "-c", ASK_WHERE, cwd=tmp_path).strip()).is_relative_to(installed.parents[1])


def test_every_scenario_ships_in_the_wheel_and_passes_in_an_empty_folder(installed: Path, tmp_path: Path) -> None:
    report = json.loads(_run(installed.with_name("digday"), "cases", "--json", cwd=tmp_path))
    assert report["failed"] == 0
    assert report["run"] == len(list((ROOT / "scenarios").rglob("*.yaml")))
    assert all(Path(case["path"]).is_relative_to(installed.parents[1]) for case in report["cases"])
    assert list(tmp_path.iterdir()) == []


def test_the_rulebooks_the_grammar_and_the_style_sheets_ship_in_the_wheel(installed: Path, tmp_path: Path) -> None:
    (package,) = installed.parents[1].glob("lib/python*/site-packages/assistant")
    shipped = package / "shipped" / "rulebooks"
    for path in (ROOT / "rulebooks").rglob("*.*"):
        assert (shipped / path.relative_to(ROOT / "rulebooks")).exists(), path
    for sheet in (ROOT / "assistant").rglob("*.tcss"):
        assert (package / sheet.relative_to(ROOT / "assistant")).exists(), sheet
    assert "no problems" in _run(installed.with_name("digday"), "rulebook", "check", "sweetpotato/curing", cwd=tmp_path)
