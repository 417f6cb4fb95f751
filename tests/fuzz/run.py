"""Fuzz the parsers by hand: `python tests/fuzz/run.py SECONDS [PARSER ...]`, so many seconds each.

New crashes are told and kept under tests/fuzz/kept, from where the tests replay them. 1 when there are any.
"""

from __future__ import annotations

import hashlib
import resource
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from fuzz.hunting import Crash, hunt
from fuzz.parsers import PARSERS
from fuzz.seeds import seeds

KEPT = Path(__file__).parent / "kept"
MOST_MEMORY = 2_000_000_000  # bytes; more is a crash as well


def main(seconds: float, names: list[str]) -> int:
    """Hunt in each parser; 1 when crashes were found."""
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    PARSERS["typed"](Path(), b"warm")  # so that reading the shipped rulebook counts for no input
    total = 0
    for name in names or list(PARSERS):
        with tempfile.TemporaryDirectory() as folder:
            begun = [*seeds(name), *(path.read_bytes() for path in sorted((KEPT / name).glob("*")))]
            crashes, tries, ways = hunt(PARSERS[name], begun, Path(folder), seconds, seed=time.time_ns())
        print(f"{name}: {tries} inputs, {ways} ways between lines, {len(crashes)} crashes", flush=True)
        for crash in crashes:
            _keep(name, crash)
        total += len(crashes)
    return min(total, 1)


def _keep(name: str, crash: Crash) -> None:
    path = KEPT / name / f"{crash.kind}-{hashlib.sha256(crash.content).hexdigest()[:8]}"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(crash.content)
    print(f"--- {path.relative_to(KEPT)}: {crash.content[:200]!r}\n{crash.story}", flush=True)


if __name__ == "__main__":
    sys.exit(main(float(sys.argv[1]), sys.argv[2:]))
