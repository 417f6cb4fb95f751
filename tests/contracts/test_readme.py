"""The README's tour, walked: its case gives advice, and its change to the rules changes that advice."""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path

import pytest

from assistant.cli import main

ROOT = Path(__file__).resolve().parents[2]
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
    case, _, rulebook = _blocks("yaml")
    (tmp_path / "garden.yaml").write_text(case, encoding="utf-8")
    (tmp_path / "hollow").mkdir()
    (tmp_path / "hollow" / "rulebook.yaml").write_text(rulebook, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_change_of_rules_in_the_readme_changes_the_advice(
    tour: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = _advice(tour / "garden.yaml", capsys)
    (change,) = (block for block in _blocks("sh") if block.startswith("sed -i"))
    commands = [line for line in change.splitlines() if not line.startswith("digday")]
    subprocess.run(["bash", "-euc", "\n".join(commands)], cwd=tour, check=True)
    assert (before, _advice(tour / "garden.yaml", capsys)) == ("dig-now", "dig-before-frost")
    assert main(["rulebook", "check", "hollow"]) == 0


def test_the_rule_in_the_readme_is_one_of_the_shipped_rules() -> None:
    shipped = (ROOT / "rulebooks" / "sweetpotato" / "when-to-dig" / "cold.yaml").read_text(encoding="utf-8")
    assert _blocks("yaml")[1] in shipped


def test_every_command_of_the_tour_on_the_case_works(tour: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = [line.partition("#")[0].split() for block in _blocks("sh") for line in block.splitlines()]
    told = [words[1:] for words in lines if words and words[0] == "digday" and "garden.yaml" in words[2:3]]
    assert len(told) >= 4
    for command in told:
        assert main(command) == 0, command
    assert "Traceback" not in capsys.readouterr().err
