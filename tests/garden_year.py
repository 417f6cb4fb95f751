"""A year of an invented garden, from planting to the plan for the next, and a grower who answers what is asked.

The advice beside each visit is what a grower of the trade would expect there; where a number decides, its source stands
beside it. All else (dates, weather, weights) is invented.
"""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path
from typing import NamedTuple
from unittest.mock import patch

from stations import invented

from assistant.cli import main
from assistant.rulebook import read_rulebook
from assistant.season import Visit

WHEN, CURING = "sweetpotato/when-to-dig", "sweetpotato/curing"
KEEPING, NEXT_YEAR = "sweetpotato/keeping", "sweetpotato/next-year"
RECORD = invented(2015, 2031)
MILD, COOL, FROST = "60 62 61 59 60 63 62", "50 48 47 49 51 50 52", "48 45 39 34 37 42 46"
SMALL_HILLS = ("1.1 1.3 0.9 1.5", "1.2 1.6 1.4", "1.5 1.2 1 1.3")
GOOD_HILLS = ("2.1 2.4 1.9 2.6", "2.2 3 2.5 1.8", "2 2.7 3.1", "2.3 1.9 2.8")


class Look(NamedTuple):
    """One visit: the answers in the words of the interview, the hills dug up once it asks for them, the advice."""

    name: str
    rulebook: str
    on: str
    answers: Mapping[str, str]
    advice: str
    act_by: str | None = None
    look_again: str | None = None
    lows: str = ""
    hills: tuple[str, ...] = ()

    @property
    def command(self) -> list[str]:
        """`digday visit …`, as it is typed."""
        weather = ["--weather", f"to-{self.on}.csv"] if self.rulebook == WHEN else []
        lows = ["--lows", self.lows] if self.lows else []
        return ["visit", "--rulebook", self.rulebook, "--on", self.on, "--save", f"{self.name}.yaml", *weather, *lows]


BED = {
    "planted_on": "2031-06-20", "variety": "beauregard", "vines": "green", "rot_seen": "no", "roots": "?",
    "heat_units": "?", "sap": "?", "frost": "none", "next_chance": "later",
    "soil_temperature": "64", "forecast_low_in": "3", "frost_days_ago": "?",
}  # fmt: skip
SOUND = {"standing_water_days": "0", "soil": "workable", "curing_place": "ready", "heavy_rain_in": "10"}
YEAR = (
    # The soil at 65 °F for four mornings, two weeks past the last frost (Kansas and New Hampshire, read).
    Look(
        "slips", NEXT_YEAR, "2031-06-19",
        {"slips": "ready", "soil_temperature": "68", "warm_mornings": "5", "years_since": "4", "bed_disease": "none",
         "bed": "growing", "garlic_ready": "no", "weeks_to_planting": "0", "forecast_low": "58"},
        "plant-out", act_by="2031-06-26",
    ),
    # Beauregard: from 90 days, best at 100 to 110 (Schultheis and others 1999, read). This is day 66.
    Look("august", WHEN, "2031-08-25", {**BED, **SOUND, "heave": "none"}, "wait", look_again="2031-09-04", lows=MILD),
    # Day 92, and the soil has cracked: look. No root reaches the 1¾ in of U.S. No. 1 (LSU AgCenter 2009, read);
    # at 23 g a plant a day, the best line of New Hampshire 2015, they lack six days.
    Look(
        "september", WHEN, "2031-09-20", {**BED, **SOUND, "heave": "cracks"}, "wait", look_again="2031-09-26",
        lows=MILD, hills=SMALL_HILLS,
    ),
    # Day 106, the roots are U.S. No. 1, the soil warm, frost far: they fill out until 130 to 170 days (Missouri, read).
    Look(
        "october", WHEN, "2031-10-04", {**BED, **SOUND, "heave": "mounded"}, "wait", look_again="2031-10-14",
        lows=COOL, hills=GOOD_HILLS,
    ),
    # 34 °F is forecast for three nights from now, and the weekend is too late (early beats late: common practice).
    Look(
        "frost", WHEN, "2031-10-07", {**BED, **SOUND, "heave": "mounded", "roots": "right", "cover": "yes"},
        "dig-before-frost", act_by="2031-10-07", lows=FROST,
    ),
    # The second day of the cure, at 66 °F: too cool to heal by every handbook (80 to 85 °F wanted, read).
    Look(
        "cool-closet", CURING, "2031-10-11",
        {"room_temperature": "66", "humidity": "88", "dew": "none", "air": "fresh", "rot_seen": "no", "sprouts": "none",
         "skin": "slips", "wounds": "wet", "cure_began": "2031-10-09", "history": "straight", "variety": "other",
         "dug_on": "2031-10-09", "can_warm": "electric", "progress": "?"},
        "warm-it",
    ),
    # Nine days at 84 °F later: 7 to 10 days are common practice; skins hold and wounds are dry.
    Look(
        "cured", CURING, "2031-10-20",
        {"room_temperature": "84", "humidity": "88", "dew": "none", "air": "fresh", "rot_seen": "no", "sprouts": "none",
         "skin": "holds", "wounds": "dry", "cure_began": "2031-10-09", "history": "straight", "variety": "other",
         "dug_on": "2031-10-09", "can_warm": "electric", "progress": "?"},
        "stop-and-move",
    ),
    # The empty bed, six weeks before the ground freezes: time for garlic (garlic two to eight weeks before, read).
    Look(
        "garlic", NEXT_YEAR, "2031-10-20",
        {"bed": "bare", "garlic_ready": "yes", "weeks_to_freeze": "6", "weeks_to_planting": "34", "slips": "roots"},
        "plant-garlic",
    ),
    # January at 58 °F, sound roots, used in time: 55 to 60 °F is where they keep (North Carolina, read).
    Look(
        "january", KEEPING, "2032-01-15",
        {"spoilage": "sound", "looked_days_ago": "10", "nicked": "no", "sprouts": "none", "sweating": "no",
         "store_low": "56", "store_usual": "58", "cold_coming": "no", "cold_days": "0", "bitter_days": "0",
         "chill_dose": "?", "humidity": "85", "cure": "full", "stored_on": "2031-10-20", "place": "home",
         "variety": "?", "using": "in-time", "froze": "no"},
        "keep-on",
    ),
    # February, after three days at 50 °F: they may be hard in the middle and go first (Mississippi State 2015, read).
    Look(
        "february", KEEPING, "2032-02-15",
        {"spoilage": "sound", "looked_days_ago": "10", "nicked": "no", "sprouts": "none", "sweating": "no",
         "store_low": "56", "store_usual": "58", "cold_coming": "no", "cold_days": "3", "bitter_days": "0",
         "chill_dose": "?", "humidity": "85", "cure": "full", "stored_on": "2031-10-20", "place": "home",
         "variety": "?", "using": "in-time", "froze": "no"},
        "use-chilled-first",
    ),
    # Ten weeks before planting: two to four weeks of warmth before bedding (North Carolina, read).
    Look(
        "seed-roots", NEXT_YEAR, "2032-04-05",
        {"bed": "growing", "slips": "roots", "disease": "none", "weeks_to_planting": "10", "garlic_ready": "no"},
        "wake-the-roots",
    ),
)  # fmt: skip


def write_station(folder: Path, until: str) -> None:
    """The record of the station as it stands on the morning of a day: sixteen autumns, and this year so far."""
    days = (day for day in RECORD.days if f"{day.on}" < until)
    rows = (f"{day.on},{day.low:.0f},{day.high:.0f}" for day in days)
    (folder / f"to-{until}.csv").write_text("\n".join(("DATE,TMIN,TMAX", *rows)) + "\n", encoding="utf-8")


class Run(NamedTuple):
    """What one command left behind."""

    code: int
    out: str
    err: str


class _Terminal(io.StringIO):
    """Text that passes for a terminal."""

    def isatty(self) -> bool:
        return True


class Grower(io.StringIO):
    """Reads each question that was printed and types the answer; an unexpected question stops the story."""

    def __init__(self, look: Look, heard: io.StringIO) -> None:
        super().__init__()
        self.answers, self.heard, self.from_here = look.answers, heard, 0
        self.questions = {_one_line(sign.ask): sign.name for sign in read_rulebook(look.rulebook).signs.values()}

    def readline(self, size: int = -1, /) -> str:  # type: ignore[override]
        """The answer to what was printed since the last one; Enter where that was no question."""
        news = _one_line(self.heard.getvalue()[self.from_here :])
        self.from_here = len(self.heard.getvalue())
        asked = [name for words, name in self.questions.items() if f"{words} (" in news]
        return f"{self.answers[asked[-1]]}\n" if asked else "\n"


@contextmanager
def in_folder(folder: Path) -> Iterator[None]:
    """Everything in a folder, and nothing of the user's own."""
    before = Path.cwd()
    home = {"HOME": str(folder / "home"), "XDG_DATA_HOME": str(folder / "data"), "COLUMNS": "100"}
    os.chdir(folder)
    try:
        with patch.dict(os.environ, home):
            yield
    finally:
        os.chdir(before)


def digday(folder: Path, *arguments: str, look: Look | None = None) -> Run:
    """One command in a folder; with a look, its grower answers what is asked."""
    out, err = io.StringIO(), io.StringIO()
    typing = Grower(look, out) if look else io.StringIO()
    with in_folder(folder), redirect_stdout(out), redirect_stderr(err), patch.object(sys, "stdin", typing):
        code = main(list(arguments))
    return Run(code, out.getvalue(), err.getvalue())


def opened_by(folder: Path, arguments: Sequence[str]) -> tuple[Visit, Path]:
    """The visit that a command opens a screen for, and the file it saves to."""
    opened: list[tuple[Visit, Path]] = []
    screen = patch("assistant.tui.open_visit", lambda visit, path: opened.append((visit, folder / path)))
    with in_folder(folder), screen, patch.object(sys, "stdin", _Terminal()), redirect_stdout(_Terminal()):
        assert main(list(arguments)) == 0
    [found] = opened
    return found


def _one_line(text: str) -> str:
    return " ".join(text.split())
