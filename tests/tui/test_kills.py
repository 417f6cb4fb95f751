"""What the garden's screen showed as done is in the notebook after a kill; hundreds by tests/fuzz/kills.py."""

from __future__ import annotations

from pathlib import Path

from killed_screens import screens_again_and_again

KILLS = 8


def test_what_the_screen_showed_as_done_is_there_after_a_kill(tmp_path: Path) -> None:
    assert screens_again_and_again(tmp_path, KILLS, seed=1) > KILLS // 2
