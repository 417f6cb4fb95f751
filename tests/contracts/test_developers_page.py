"""What DEVELOPERS.md and README.md say is there, is there."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from assistant.cli.parser import build_parser

ROOT = Path(__file__).resolve().parents[2]
PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
README = (ROOT / "README.md").read_text(encoding="utf-8")


def _named_tests() -> list[tuple[str, str]]:
    """Each `tests/…py` or `tests/…py::test_name` the page names; the name is empty for a whole file."""
    return sorted(set(re.findall(r"(tests/[\w/]+\.py)(?:::(\w+))?", PAGE)))


def _commands() -> list[str]:
    actions = build_parser()._subparsers
    assert actions is not None
    return [name for action in actions._group_actions if action.choices for name in action.choices]


def test_the_page_names_tests_at_all() -> None:
    assert len(_named_tests()) > 10


@pytest.mark.parametrize(("file", "name"), _named_tests())
def test_every_test_that_the_page_names_exists(file: str, name: str) -> None:
    path = ROOT / file
    assert path.is_file(), f"DEVELOPERS.md names {file}"
    tree = ast.parse(path.read_text(encoding="utf-8"))
    functions = {n.name for n in ast.walk(tree) if isinstance(n, ast.FunctionDef | ast.AsyncFunctionDef)}
    assert not name or name in functions, f"{file} has no {name}"


@pytest.mark.parametrize("room", sorted(path.name for path in (ROOT / "assistant").iterdir() if path.suffix != ".pyc"))
def test_every_room_is_on_the_page(room: str) -> None:
    if room.startswith("__") or room == "shipped":
        return
    assert re.search(rf"\b{re.escape(room)}\b", PAGE), room


@pytest.mark.parametrize("command", _commands())
def test_every_command_is_in_the_readme_and_in_the_help(command: str) -> None:
    assert re.search(rf"digday {command}\b", README), command
    assert f"    {command}" in build_parser().format_help()


def test_the_readme_opens_with_one_paragraph_and_two_commands() -> None:
    blocks = [block.strip() for block in README.split("\n\n") if block.strip()]
    assert blocks[0] == "# digday"
    assert blocks[1].startswith("`digday` helps")
    assert [block.startswith("```sh\npython3 -m venv .venv") for block in blocks[3:6:2]] == [True, True]


def test_every_path_that_the_readme_names_exists() -> None:
    for path in re.findall(r"`((?:assistant|rulebooks|scenarios|tests)/[\w/.-]*)`", README):
        assert (ROOT / path).exists(), path


def test_the_dependencies_on_the_page_are_those_of_the_project() -> None:
    pyproject = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    listed = re.search(r"\ndependencies = \[(.*?)\]", pyproject, re.DOTALL)
    assert listed is not None
    for name in re.findall(r'"([\w-]+)', listed[1]):
        assert f"| {name} " in PAGE, name
