"""Kills a program that writes in a notebook, hundreds of times, each time looking for what it had told as written;
it makes plain entries and the deeds of a grower, a file of each in turn.

    PYTHONPATH=tests python tests/benchmarks/notebook_kills.py [ROUNDS] [SEED]
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from garden_deeds import deed
from killing import kill_again_and_again, step

A_FILE = 50  # kills that one notebook sees


def main(rounds: int, seed: int) -> None:
    """Kill, look, and say how it went; the first loss ends it with an error."""
    begun, entries = time.monotonic(), 0
    for number in range(rounds // A_FILE):
        with tempfile.TemporaryDirectory() as folder:
            entries += kill_again_and_again(Path(folder), A_FILE, seed + number, (step, deed)[number % 2])
    kills = rounds // A_FILE * A_FILE
    print(f"{kills} kills, {entries} entries, nothing lost, every file sound ({time.monotonic() - begun:.0f} s)")


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:]]
    main(*numbers, *(500, 1)[len(numbers) :])
