"""The README's manual, walked: its commands work, its change to the rules changes advice, its pictures are true."""

from __future__ import annotations

import contextlib
import importlib.util
import io
import json
import os
import pty
import re
import select
import shlex
import subprocess
import sys
from pathlib import Path
from time import monotonic
from xml.etree import ElementTree

import pytest

from assistant.cli import main

ROOT = Path(__file__).resolve().parents[2]
LAST_WORD, MOST_SECONDS = b"leave", 60
"""What the line of keys of every page ends with, and how long it may take to come."""
RUN_ELSEWHERE = {
    "pip install": ".ci/run, in a clean copy",
    "digday cases": "tests/cli/test_commands.py::test_every_shipped_scenario_passes",
}
README = (ROOT / "README.md").read_text(encoding="utf-8")


def _blocks(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", README, re.DOTALL)


def _advice(case: Path, capsys: pytest.CaptureFixture[str]) -> str:
    capsys.readouterr()
    assert main(["advise", str(case), "--json"]) == 0
    return str(json.loads(capsys.readouterr().out)["advice"])


@pytest.fixture
def tour(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the README's case and its rulebook."""
    _write_files(tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _write_files(folder: Path) -> None:
    """The case and the rulebook that the manual says to write."""
    case, _, rulebook = _blocks("yaml")
    (folder / "garden.yaml").write_text(case, encoding="utf-8")
    (folder / "hollow").mkdir()
    (folder / "hollow" / "rulebook.yaml").write_text(rulebook, encoding="utf-8")


def test_the_change_of_rules_in_the_readme_changes_the_advice(tour: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = _advice(tour / "garden.yaml", capsys)
    (change,) = (block for block in _blocks("sh") if block.startswith("sed -i"))
    commands = [line for line in change.splitlines() if not line.startswith("digday")]
    subprocess.run(["bash", "-euc", "\n".join(commands)], cwd=tour, check=True)
    assert (before, _advice(tour / "garden.yaml", capsys)) == ("dig-now", "dig-before-frost")


def test_the_rule_in_the_readme_is_one_of_the_shipped_rules() -> None:
    shipped = (ROOT / "rulebooks" / "sweetpotato" / "when-to-dig" / "cold.yaml").read_text(encoding="utf-8")
    assert _blocks("yaml")[1] in shipped


def _commands() -> list[str]:
    """The lines of the manual's blocks in their order, but for those that are run elsewhere."""
    lines = (line for block in _blocks("sh") for line in block.splitlines() if line.strip())
    return [line for line in lines if not any(words in line for words in RUN_ELSEWHERE)]


def _is_screen(words: list[str]) -> bool:
    """Whether a command opens a screen and needs a terminal."""
    return words[1:2] in ([], ["visit"], ["demo"]) and "--plain" not in words


def _leave_screen(words: list[str], folder: Path) -> None:
    """Runs a command in a terminal of its own and leaves its screen by the key that works on every page."""
    ours, theirs = pty.openpty()
    program = [sys.executable, "-c", "import sys; from assistant.cli import run; sys.exit(run())", *words[1:]]
    process = subprocess.Popen(program, stdin=theirs, stdout=theirs, stderr=theirs, cwd=folder)
    os.close(theirs)
    shown, ends = b"", monotonic() + MOST_SECONDS
    while process.poll() is None and monotonic() < ends:
        if select.select([ours], [], [], 0.05)[0]:
            with contextlib.suppress(OSError):  # how a terminal ends on Linux
                shown += os.read(ours, 65536)
        elif LAST_WORD in shown:
            os.write(ours, b"\x11")
    process.kill()
    os.close(ours)
    assert process.wait() == 0, (words, shown[-2000:])
    assert LAST_WORD in shown


@pytest.fixture
def clone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder beside the little of a clone that the manual takes from it, the record cut to its last years."""
    record = (ROOT / "tests/outside/data/clemson.csv").read_text(encoding="utf-8").splitlines()
    data = tmp_path / "tests" / "outside" / "data"
    data.mkdir(parents=True)
    (data / "clemson.csv").write_text("\n".join((record[0], *record[-12 * 365 :])) + "\n", encoding="utf-8")
    for name, value in {"HOME": "home", "XDG_DATA_HOME": "data"}.items():
        monkeypatch.setenv(name, str(tmp_path / value))
    monkeypatch.setattr("sys.stdin", io.StringIO())
    return tmp_path


def test_every_command_of_the_manual_works_one_after_the_other_in_an_empty_folder(
    clone: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert len(_commands()) > 35
    for line in _commands():
        words = shlex.split(line, comments=True)
        if words[0] == "mkdir":
            (clone / "my-garden").mkdir()
            monkeypatch.chdir(clone / "my-garden")
            _write_files(clone / "my-garden")
        elif words[0] != "digday":
            subprocess.run(["bash", "-euc", line], cwd=clone / "my-garden", check=True)
        elif _is_screen(words):
            _leave_screen(words, clone / "my-garden")
        else:
            assert main(words[1:]) == 0, (line, capsys.readouterr())


@pytest.mark.parametrize("path", sorted(re.findall(r"!\[[^]]+\]\(([^)]+)\)", README)))
def test_every_picture_is_small_and_fetches_nothing(path: str) -> None:
    picture = (ROOT / path).read_text(encoding="utf-8")
    assert len(picture) < 30_000
    assert ElementTree.fromstring(picture).tag == "{http://www.w3.org/2000/svg}svg"
    assert re.findall(r"href|url\(|@import|<script", picture) == []


def test_the_pictures_say_what_the_screen_says() -> None:
    spec = importlib.util.spec_from_file_location("make_pictures", ROOT / "docs" / "make_pictures.py")
    assert spec is not None
    assert spec.loader is not None
    drawing = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(drawing)
    for name, picture in drawing.pictures().items():
        kept = (ROOT / "docs" / "pictures" / f"{name}.svg").read_text(encoding="utf-8")
        assert drawing.words(kept) == drawing.words(picture), "run docs/make_pictures.py and look at what it draws"
