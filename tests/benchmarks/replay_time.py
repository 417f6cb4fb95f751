"""How long a replay of the whole Clemson record takes, and how the rulebook does there at all four planting dates.

Run by hand: `python tests/benchmarks/replay_time.py [SEED...]`. Prints for each date the time, the assistant's standing
and where it falls short. Exit 1 when one replay takes longer than the budget.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from assistant.model.case import MonthDay
from assistant.outlook.replay import Planting, replay
from assistant.outlook.replay.standing import shortfalls, summary
from assistant.rulebook import read_rulebook
from assistant.weather import read_record

CLEMSON = Path(__file__).parents[1] / "outside" / "data" / "clemson.csv"
PLANTED = (MonthDay(5, 20), MonthDay(6, 10), MonthDay(7, 1), MonthDay(7, 15))
BUDGET = 20.0
"""Seconds for 91 autumns, both views and every policy."""


def main(seeds: list[int]) -> int:
    """Play every date with every seed; 1 when one took too long."""
    record, rulebook = read_record(CLEMSON), read_rulebook("sweetpotato/when-to-dig")
    slowest = 0.0
    for planted in PLANTED:
        for seed in seeds:
            start = time.process_time()
            played = replay(record, rulebook, Planting(planted, "beauregard", seed=seed))
            took = time.process_time() - start
            slowest = max(slowest, took)
            print(f"planted {planted}, seed {seed}: {len(played.years)} autumns in {took:.1f} s")
            print(f"  {summary(played.views)}")
            for words in shortfalls(played.views):
                print(f"  - {words}")
    print(f"slowest {slowest:.1f} s of {BUDGET:g} s")
    return int(slowest > BUDGET)


if __name__ == "__main__":
    raise SystemExit(main([int(seed) for seed in sys.argv[1:]] or [1]))
