"""Which room may load what: by the import contracts, by reading the source, and by watching a process."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
HOUSE = ROOT / "assistant"

# Each library with the only places that may name it.
KEEPERS = {
    "durable": ("inference/",),
    "durable_rules_engine": ("inference/",),
    "yaml": ("rulebook/",),
    "sqlite3": ("notebook/",),
    "textual": ("tui/",),
    "rich": ("cli/", "tui/"),
    "shtab": ("cli/",),
    "platformdirs": ("cli/", "notebook/", "tui/"),
    "psychrolib": ("reckoning/moist_air.py",),
}
CASE = "case: A bed\nrulebook: sweetpotato/when-to-dig\non: 2031-10-04\nsigns: {vines: green}\n"
LOADED = """
import sys
from assistant.cli import main
code = main()
print(*sys.modules, file=sys.stderr)
sys.exit(code)
"""


def _imports(path: Path) -> Iterator[str]:
    """The modules a file imports, wherever in it."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{name.name}" for name in node.names)


def _files() -> Iterator[Path]:
    return (path for path in sorted(HOUSE.rglob("*.py")) if "shipped" not in path.parts)


@pytest.mark.parametrize("library", KEEPERS)
def test_each_library_is_named_only_by_the_room_that_keeps_it(library: str) -> None:
    strangers = [
        place
        for path in _files()
        if not (place := path.relative_to(HOUSE).as_posix()).startswith(KEEPERS[library])
        and any(name.split(".")[0] == library for name in _imports(path))
    ]
    assert strangers == []


def test_the_engine_is_named_in_one_file_of_its_room() -> None:
    assert len([path for path in _files() if any(name.split(".")[0] == "durable" for name in _imports(path))]) == 1


def test_the_vocabulary_uses_the_standard_library_alone() -> None:
    for path in sorted((HOUSE / "model").glob("*.py")):
        for name in _imports(path):
            top = name.split(".")[0]
            assert top in sys.stdlib_module_names or name.startswith("assistant.model"), f"{path.name}: {name}"


def test_the_command_line_opens_the_screens_in_one_function_only() -> None:
    doors = []
    for path in sorted((HOUSE / "cli").glob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef) and "tui" in {name.name for name in _froms(node)}:
                doors.append(node.name)
        assert "tui" not in {name.name for name in _froms(ast.Module(tree.body, [])) if name in _top_names(tree)}
    assert doors == ["_open_screen"]


def _froms(node: ast.AST) -> Iterator[ast.alias]:
    for inner in ast.walk(node):
        if isinstance(inner, ast.ImportFrom | ast.Import):
            yield from inner.names


def _top_names(tree: ast.Module) -> list[ast.alias]:
    return [name for node in tree.body if isinstance(node, ast.ImportFrom | ast.Import) for name in node.names]


def test_the_import_contracts_hold() -> None:
    script = Path(sys.executable).with_name("lint-imports")
    run = subprocess.run([script, "--no-cache"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout


@pytest.mark.parametrize("command", [["advise"], ["advise", "--json"], ["why"], ["cases"]])
def test_a_verdict_in_a_pipe_loads_no_screens_and_no_styling(tmp_path: Path, command: list[str]) -> None:
    case = tmp_path / "case.yaml"
    case.write_text(CASE, encoding="utf-8")
    run = subprocess.run(
        [sys.executable, "-c", LOADED, *command, str(case)], capture_output=True, text=True, check=False, cwd=tmp_path
    )
    assert run.returncode == 0, run.stderr
    loaded = {name.split(".")[0] for name in run.stderr.split()}
    assert "durable" in loaded
    assert not loaded & {"textual", "rich", "shtab", "sqlite3", "platformdirs"}
    assert "assistant.tui" not in run.stderr.split()


def test_help_loads_neither_the_engine_nor_yaml(tmp_path: Path) -> None:
    run = subprocess.run(
        [sys.executable, "-c", LOADED, "--help"], capture_output=True, text=True, check=False, cwd=tmp_path
    )
    assert not {name.split(".")[0] for name in run.stderr.split()} & {"durable", "yaml", "textual", "rich"}
