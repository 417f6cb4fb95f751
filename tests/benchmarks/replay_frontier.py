"""How well anybody could do in a replay who knows what a grower can know: value against crops hurt.

Run by hand: `python tests/benchmarks/replay_frontier.py [RECORD.csv]`, some minutes. For each planting date it looks
for the best day to dig by backward induction with regression (Longstaff and Schwartz 2001, Review of Financial Studies
14:113), on the replay's own yardstick. The rule found sees the chances of frost tonight, within three nights and within
the week, the soil, and, more than any grower does, how big the roots truly are and how fast they grow. It is fitted on
some seeds and scored on others. A crop hurt is counted as `dread` crops lost on top of what it costs, from none to
four, so the rows show what fewer hurt crops cost in value. The last row is the assistant on the same seeds. Where no
row has the hurts of day-90 and the value of the best rule of thumb together, no grower is likely to have had both: the
regression finds nearly, not exactly, the best.
"""

from __future__ import annotations

import sys
from pathlib import Path
from statistics import fmean
from typing import Any, NamedTuple

import numpy

from assistant.model.case import MonthDay
from assistant.outlook.replay import Planting, _Play
from assistant.outlook.replay.autumns import autumns
from assistant.outlook.replay.beds import DAYS, Bed
from assistant.outlook.replay.eyes import Eyes
from assistant.outlook.replay.grower import Season
from assistant.outlook.replay.scores import Score, scores
from assistant.outlook.replay.thumbs import THUMBS
from assistant.outlook.replay.yardstick import FIRST_LOOK, View, worth_of_roots
from assistant.rulebook import read_rulebook
from assistant.weather import read_record

CLEMSON = Path(__file__).parents[1] / "outside" / "data" / "clemson.csv"
PLANTED = (MonthDay(5, 20), MonthDay(6, 10), MonthDay(7, 1), MonthDay(7, 15))
FITTED = range(11, 21)
SCORED = range(1, 4)
DREADS = (0.0, 0.2, 0.5, 1.0, 2.0, 4.0)
LAST = DAYS[-1] - 4
FEWEST = 60
"""Autumns still unharmed that a day's regression needs; with fewer left everybody digs."""
FROST = 34
"""°F, as in the rulebook's chances of frost."""
Numbers = Any  # an array of floats, autumns by days


class Autumns(NamedTuple):
    """The autumns of some seeds: the beds, what each is worth and keeps on each day, and what is seen."""

    plays: list[_Play]
    worth: Numbers
    unhurt: Numbers
    seen: Numbers

    def reward(self, day: int, dread: float) -> Numbers:
        """What digging on a day is worth beside hindsight, less the dread of a crop hurt."""
        return self.worth[:, day] - dread * ~self.unhurt[:, day]


def known(plays: list[_Play]) -> Autumns:
    """What the plays hold, under the view in which a light frost hurts."""
    worth = numpy.array([play.bed.worth[View.HURTS] for play in plays])
    unhurt = numpy.array([play.bed.kept[View.HURTS] for play in plays]) >= 1
    most = worth.max(axis=1, keepdims=True)
    seen = numpy.array([[_seen(eyes, day) for day in DAYS] for eyes in map(_eyes, plays)])
    return Autumns(plays, worth / numpy.where(most > 0, most, 1), unhurt, seen)


def _eyes(play: _Play) -> Eyes:
    return Eyes(play.rulebook, play.planting.variety, play.bed, play.forecasts)


def _seen(eyes: Eyes, day: int) -> list[float]:
    if day < FIRST_LOOK:
        return [0.0] * 14
    ahead = eyes.ahead(day)
    tonight, soon, week = ((ahead.chance(FROST, range(nights)) or 0.0) for nights in (1, 3, 7))
    logs = [float(numpy.log(chance + 1e-4)) for chance in (tonight, soon, week)]
    size, gain = _growth(eyes.bed, day)
    squares = [logs[0] ** 2, logs[2] ** 2]
    return [1.0, *logs, *squares, tonight, soon, week, eyes.bed.soil[day], size, gain, gain * logs[0], gain * tonight]


def _growth(bed: Bed, day: int) -> tuple[float, float]:
    """The logarithm of a root's worth today, and by what share it grew since yesterday."""
    before, now = (worth_of_roots(bed.plant_grams[each] / bed.nature.roots, bed.wanted) for each in (day - 1, day))
    return float(numpy.log(max(now, 1e-3))), min(now / before - 1, 0.1) if before > 0 else 0.1


def best_days(fit: Autumns, score: Autumns, dread: float) -> list[int]:
    """The day on which the rule found on some autumns digs each of the others."""
    weights = _fitted(fit, dread)
    days = numpy.full(len(score.plays), LAST)
    open_still = numpy.ones(len(score.plays), bool)
    for day in range(FIRST_LOOK, LAST):
        stop = ~score.unhurt[:, day]
        stop |= score.seen[:, day] @ weights[day] < 0 if day in weights else True
        days[stop & open_still] = day
        open_still &= ~stop
    return [int(day) for day in days]


def _fitted(autumns: Autumns, dread: float) -> dict[int, Numbers]:
    """For each day the weights of what is seen in the gain of waiting, negative where digging is better."""
    to_come = autumns.reward(LAST, dread)
    weights: dict[int, Numbers] = {}
    for day in range(LAST - 1, FIRST_LOOK - 1, -1):
        now, unhurt = autumns.reward(day, dread), autumns.unhurt[:, day]
        stop = numpy.ones(len(now), bool)
        if unhurt.sum() >= FEWEST:
            seen = autumns.seen[unhurt, day]
            weights[day] = numpy.linalg.lstsq(seen, (to_come - now)[unhurt], rcond=1e-6)[0]
            stop[unhurt] = seen @ weights[day] < 0
        to_come = numpy.where(stop, now, to_come)
    return weights


def scored(plays: list[_Play], days: list[int], name: str) -> Score:
    """The days dug scored by the replay itself, under the view in which a light frost hurts."""
    beds = [play.bed for play in plays]
    found = scores(beds, {name: [Season(day, 0, 0) for day in days]}, [list(DAYS)] * len(beds))
    return next(each for view in found if view.frost is View.HURTS for each in view.policies if each.name == name)


def told(name: str, found: list[Score]) -> str:
    """One row of the table: means over the seeds, and each seed's crops hurt."""
    value = fmean(each.value_mean or 0 for each in found)
    worst = fmean(each.value_p10 or 0 for each in found)
    return f"  {name:24} value {value:.3f}  worst tenth {worst:.2f}  hurt {[each.crops_hurt for each in found]}"


def main(path: Path) -> int:
    """Print the table for every planting date."""
    record, rulebook = read_record(path), read_rulebook("sweetpotato/when-to-dig")
    for planted in PLANTED:
        followed, _ = autumns(record, planted)
        plays = {
            seed: [_Play(autumn, rulebook, Planting(planted, "beauregard", seed=seed)) for autumn in followed]
            for seed in (*FITTED, *SCORED)
        }
        print(f"planted {planted}, {len(followed)} autumns")
        _table([play for seed in FITTED for play in plays[seed]], [plays[seed] for seed in SCORED])
    return 0


def _table(fit: list[_Play], score: list[list[_Play]]) -> None:
    fitted, others = known(fit), [known(plays) for plays in score]
    for dread in DREADS:
        found = [scored(other.plays, best_days(fitted, other, dread), "best") for other in others]
        print(told(f"best, dread {dread:g}", found))
    for name, thumb in THUMBS.items():
        days = [[min(thumb(play.bed, play.forecasts), DAYS[-1]) for play in plays] for plays in score]
        print(told(name, [scored(plays, dug, name) for plays, dug in zip(score, days, strict=True)]))
    dug = [[play.assisted(DAYS).dug for play in plays] for plays in score]
    print(told("assistant", [scored(plays, days, "a") for plays, days in zip(score, dug, strict=True)]))


if __name__ == "__main__":
    raise SystemExit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else CLEMSON))
