"""Inputs that once crashed a parser are refused or read now; and the hunt finds a crash that is there."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from fuzz.hunting import ASSISTANT, hunt, tried
from fuzz.parsers import PARSERS
from fuzz.seeds import seeds

from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue

KEPT = Path(__file__).parent / "kept"
INPUTS = sorted(path.relative_to(KEPT) for path in KEPT.glob("*/*"))


@pytest.mark.parametrize("name", INPUTS, ids=str)
def test_an_input_that_once_crashed_a_parser_is_refused_or_read(tmp_path: Path, name: Path) -> None:
    crash = tried(PARSERS[name.parts[0]], tmp_path, (KEPT / name).read_bytes())
    assert crash is None, crash and crash.story


@pytest.mark.parametrize("name", PARSERS)
def test_every_parser_reads_something_it_is_given_to_begin_with(tmp_path: Path, name: str) -> None:
    def read(content: bytes) -> bool:
        try:
            PARSERS[name](tmp_path, content)
        except (BadInput, NotAValue):
            return False
        return True

    assert any(map(read, seeds(name)))


TOY = """
def toy(folder, content):
    first, second, third = (content.split(b";") + [b""] * 3)[:3]
    if first == b"9999":
        if second == b"0001":
            if third == b"366":
                1 / 0
"""


def test_the_hunt_finds_its_way_to_a_crash_and_makes_it_small(tmp_path: Path) -> None:
    scope: dict[str, Any] = {}
    exec(compile(TOY, f"{ASSISTANT}/toy.py", "exec"), scope)
    (crash,), tries, _ = hunt(scope["toy"], [b"1;2;3"], tmp_path, 20.0, seed=1, most=20_000)
    assert tries > 100
    assert (crash.kind, crash.where, crash.content) == ("ZeroDivisionError", "toy.py:toy", b"9999;0001;366")


def test_an_input_that_takes_too_long_is_a_crash(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("fuzz.hunting.LONGEST", 0.05)

    def never_ends(folder: Path, content: bytes) -> None:
        while True:
            pass

    crash = tried(never_ends, tmp_path, b"")
    assert crash
    assert crash.kind == "TooSlow"
