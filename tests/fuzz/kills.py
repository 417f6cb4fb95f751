"""Kill interviews, screens and writes by hand, at random moments: `python tests/fuzz/kills.py [ROUNDS] [SEED]`."""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from killed import EVERY_KIND
from killed_screens import screens_again_and_again


def run(rounds: int = 300, seed: int = 1) -> None:
    """Kill, look, and say how it went; the first loss ends it with an error."""
    for kind in (*EVERY_KIND, screens_again_and_again):
        begun = time.monotonic()
        with tempfile.TemporaryDirectory() as folder:
            written = kind(Path(folder), rounds, seed)
        took = time.monotonic() - begun
        print(f"{kind.__name__}: {rounds} kills, {written} entries, nothing lost ({took:.0f} s)", flush=True)


if __name__ == "__main__":
    run(*map(int, sys.argv[1:]))
