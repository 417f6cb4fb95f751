"""How long `digday advise CASE` takes as a whole process, beside bare imports of its two libraries.

Run by hand: `python tests/benchmarks/startup.py [CASE]`. Ratios within one run are what counts,
since milliseconds differ from machine to machine. Exit 1 when the ratio is above the budget.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

ROUNDS = 21
BUDGET = 3.0
CASE = """\
case: A bed in early October
rulebook: sweetpotato/when-to-dig
on: 2031-10-04
signs: {planted_on: about 2031-06-20, vines: green, recent_nights: 54 F, forecast_low: 29..36 F, roots: right}
"""
ADVISE = "from assistant.cli import run; run()"


def milliseconds(command: list[str], environment: dict[str, str]) -> float:
    """How long one process takes, from start to end."""
    start = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, env=environment)
    return (time.perf_counter() - start) * 1000


def compiled_in(folder: str) -> dict[str, str]:
    """An environment in which byte code is kept, as on any user's second run, whatever this one says."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPYCACHEPREFIX": folder}


def measure(case: str, environment: dict[str, str]) -> dict[str, float]:
    """The median of each command, taken in turns so that a busy moment hits all alike."""
    commands = {
        "bare interpreter": [sys.executable, "-c", "pass"],
        "import yaml, durable.lang": [sys.executable, "-c", "import yaml, durable.lang"],
        "digday --help": [sys.executable, "-c", ADVISE, "--help"],
        "digday advise CASE": [sys.executable, "-c", ADVISE, "advise", case],
        "digday advise CASE --json": [sys.executable, "-c", ADVISE, "advise", case, "--json"],
    }
    taken: dict[str, list[float]] = {name: [] for name in commands}
    for command in commands.values():
        milliseconds(command, environment)
    for _ in range(ROUNDS):
        for name, command in commands.items():
            taken[name].append(milliseconds(command, environment))
    return {name: median(times) for name, times in taken.items()}


def main() -> int:
    """Print the table; 1 when advising takes more than the budget allows."""
    with tempfile.TemporaryDirectory() as folder:
        case = Path(folder) / "case.yaml"
        case.write_text(CASE, encoding="utf-8")
        medians = measure(sys.argv[1] if len(sys.argv) > 1 else str(case), compiled_in(folder))
    base = medians["import yaml, durable.lang"]
    for name, taken in medians.items():
        print(f"{name:28} {taken:7.1f} ms  {taken / base:5.2f}x")
    return 0 if medians["digday advise CASE"] <= BUDGET * base else 1


if __name__ == "__main__":
    raise SystemExit(main())
