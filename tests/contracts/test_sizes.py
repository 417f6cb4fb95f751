"""How long modules and functions may be; run with `-s` to see the table."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from statistics import median, quantiles

ROOT = Path(__file__).resolve().parents[2]
MODULE, LONGEST, MOST, HALF = 300, 60, 30, 10


def _modules(folder: str) -> list[Path]:
    return [path for path in sorted((ROOT / folder).rglob("*.py")) if "shipped" not in path.parts]


def _functions(path: Path) -> Iterator[tuple[str, int]]:
    """Each function of a file with its lines, from `def` to the last one."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            assert node.end_lineno is not None
            yield f"{path.relative_to(ROOT)}:{node.lineno} {node.name}", node.end_lineno - node.lineno + 1


def _table(folder: str) -> dict[str, int]:
    sizes = {name: lines for path in _modules(folder) for name, lines in _functions(path)}
    lengths = sorted(sizes.values())
    print(f"\n{folder}: {len(_modules(folder))} modules, {len(lengths)} functions,", end=" ")
    print(f"median {median(lengths)}, p90 {quantiles(lengths, n=10)[-1]:.0f}, longest {lengths[-1]}")
    return sizes


def test_no_module_is_longer_than_300_lines() -> None:
    for path in _modules("assistant") + _modules("tests"):
        lines = len(path.read_text(encoding="utf-8").splitlines())
        assert lines <= MODULE, f"{path.relative_to(ROOT)} has {lines} lines"


def test_no_function_is_longer_than_60_lines() -> None:
    for folder in ("assistant", "tests"):
        too_long = {name: lines for name, lines in _table(folder).items() if lines > LONGEST}
        assert not too_long


def test_half_the_functions_are_under_10_lines_and_nine_in_ten_under_30() -> None:
    lengths = list(_table("assistant").values())
    assert median(lengths) < HALF
    assert quantiles(lengths, n=10)[-1] < MOST
