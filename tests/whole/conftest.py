"""The year by commands, lived once and looked at by several tests."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from garden_year import YEAR, Look, digday, write_station


def dig_hills(case: Path, look: Look) -> None:
    """The hills, written into the case by hand in place of what was said of the roots."""
    hills = ", ".join(f"[{', '.join(hill.split())}]" for hill in look.hills)
    said = case.read_text(encoding="utf-8").replace("  roots: can't tell\n", "")
    case.write_text(f"{said}test_dig: {{wanted: 1.75..3.5 in, hills: [{hills}]}}\n", encoding="utf-8")


def look_by_command(folder: Path, look: Look) -> dict[str, Any]:
    """A visit line by line, with a test dig where the look has one; the verdict that `advise` then gives."""
    write_station(folder, look.on)
    said = digday(folder, *look.command, "--plain", look=look)
    assert (said.code, said.err) == (0, ""), said.err
    if look.hills:
        assert "Dig up a hill and look" in said.out
        dig_hills(folder / f"{look.name}.yaml", look)
        said = digday(folder, "visit", "--plain", "--case", f"{look.name}.yaml", look=look)
    verdict: dict[str, Any] = json.loads(digday(folder, "advise", f"{look.name}.yaml", "--json").out)
    assert verdict["headline"] in " ".join(said.out.split())
    return verdict


@pytest.fixture(scope="session")
def by_command(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, dict[str, Any]]]:
    """The folder of a year lived by commands, and the verdict of each look."""
    folder = tmp_path_factory.mktemp("year")
    return folder, {look.name: look_by_command(folder, look) for look in YEAR}
