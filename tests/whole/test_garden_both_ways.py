"""A season kept in the notebook, once by commands and once on the screen with real keys: the same story of the bed."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from garden_year import BED, SOUND, WHEN, Look, digday
from quick_hands import answer_all, strike, until
from textual.widgets import Input

from assistant.notebook import open_notebook
from assistant.tui.garden import GardenScreen
from assistant.tui.garden_app import GardenApp
from assistant.tui.garden_page import Garden

NO_WEATHER = {"forecast_low_in": "3", "cold_nights": "1", "recent_nights": "52", "cover": "no", "frost_days_ago": "?"}


class Entry(NamedTuple):
    """One entry: its day, the command's words, the key that opens its line, and the stage the bed is in after it."""

    on: str
    command: tuple[str, ...]
    key: str
    stage: str
    answers: Mapping[str, str] = {}


SEASON = (
    Entry("2031-06-20", ("add", "North bed"), "n", "resting"),
    Entry("2031-06-20", ("plant", "North bed", "20 June, Beauregard"), "p", "growing"),
    Entry("2031-08-25", (), "v", "watch", {"forecast_low": "60", "heave": "none"}),
    Entry("2031-10-07", (), "v", "dig", {"forecast_low": "34", "heave": "mounded", "roots": "right"}),
    Entry("2031-10-07", ("frost", "31F"), "f", "dig"),
    Entry("2031-10-07", ("dig", "North bed", "part, 20 lb"), "d", "dig"),
    Entry("2031-10-08", ("dig", "North bed", "96 lb"), "d", "curing"),
    Entry("2031-10-09", ("air", "North bed", "84 F 88 %"), "r", "curing"),
    Entry("2031-10-18", ("store", "North bed"), "m", "curing"),
    Entry("2031-10-18", ("store", "North bed"), "m", "keeping"),
    Entry("2031-12-20", ("note", "North bed", "used 3 lb, (2)"), "l", "keeping"),
)


def by_command(folder: Path, entry: Entry) -> None:
    """The entry as a command, or a visit line by line."""
    if entry.command:
        said = digday(folder, "bed", *entry.command, "--on", entry.on)
    else:
        look = Look("bed", WHEN, entry.on, {**BED, **SOUND, **NO_WEATHER, **entry.answers}, "")
        said = digday(folder, "visit", "North bed", "--plain", "--on", entry.on, look=look)
    assert (said.code, said.err) == (0, "")


async def on_screen(folder: Path, entry: Entry) -> None:
    """The same entry by its key on the screen of the garden."""
    path = folder / "data" / "digday" / "notebook.sqlite"
    with open_notebook(path) as notebook:
        app = GardenApp(Garden(notebook, date.fromisoformat(entry.on)))
        async with app.run_test(size=(80, 24)) as pilot:
            await until(pilot, lambda: isinstance(app.screen, GardenScreen) and app.focused is not None)
            strike(app, entry.key)
            if entry.key == "v":
                await answer_all(pilot, app, {**BED, **SOUND, **NO_WEATHER, **entry.answers})
                strike(app, "q")
            elif entry.key != "m":
                await until(pilot, lambda: isinstance(app.focused, Input))
                strike(app, *entry.command[-1], "enter")
            await until(pilot, lambda: isinstance(app.screen, GardenScreen))
            await pilot.pause()


def story(folder: Path, on: str) -> dict[str, Any]:
    """The bed as it stands on a day."""
    told: dict[str, Any] = json.loads(digday(folder, "bed", "show", "North bed", "--on", on, "--json").out)
    return told


@pytest.fixture
def folders(tmp_path: Path) -> tuple[Path, Path]:
    """A folder for each way, each with a user's data folder of its own."""
    here, there = tmp_path / "screen", tmp_path / "commands"
    for folder in (here, there):
        (folder / "data" / "digday").mkdir(parents=True)
    return here, there


async def test_a_season_kept_on_the_screen_is_the_season_kept_by_commands(folders: tuple[Path, Path]) -> None:
    here, there = folders
    for entry in SEASON:
        await on_screen(here, entry)
        by_command(there, entry)
        told = story(there, entry.on)
        assert story(here, entry.on) == told, entry
        assert told["stage"] == entry.stage, (entry, told)
    assert digday(here, "notebook", "check").code == 0
