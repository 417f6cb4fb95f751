"""What was told as noted or written is there after a kill at a random moment; hundreds by tests/fuzz/kills.py."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from killed import EVERY_KIND, visits_again_and_again

from assistant.cases import case_text, ledger
from assistant.cases.ledger import add_entry
from assistant.model.case import Case
from assistant.model.quantities import Units

KILLS = 20


@pytest.mark.parametrize("kind", EVERY_KIND)
def test_what_was_told_as_written_is_there_after_a_kill(tmp_path: Path, kind: Callable[[Path, int, int], int]) -> None:
    assert kind(tmp_path, KILLS, 1) > KILLS // 2


def test_an_answer_noted_and_never_saved_is_found_missing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("assistant.cases.save_case", lambda case, path: None)
    with pytest.raises(AssertionError, match=r"answers were noted and 0 are kept"):
        visits_again_and_again(tmp_path, KILLS, 1)


def test_a_case_written_in_place_is_found_torn_or_lost(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def in_place(case: Case, path: Path) -> None:
        with path.open("w", encoding="utf-8") as file:
            for letter in case_text(case):
                file.write(letter)
                file.flush()

    monkeypatch.setattr("killed.save_case", in_place)
    with pytest.raises(Exception):  # noqa: B017  (no case, half a case, or an old one)
        EVERY_KIND[3](tmp_path, 4 * KILLS, 1)


def test_a_ledger_that_was_only_begun_is_begun_anew(tmp_path: Path) -> None:
    path = tmp_path / "lots.csv"
    path.touch()
    add_entry(path, {"date": "2031-10-06", "lot": "north", "what": "dug", "weight": "9 lb"}, Units.US)
    assert path.read_text(encoding="utf-8") == f"{ledger.HEADER}\n2031-10-06,north,dug,,9 lb,,,\n"
