"""The same year on the screen with real keys, told beside the one by commands; and the looks of a few of its pages."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from garden_year import YEAR, Look, digday, opened_by, write_station
from quick_hands import answer_all, is_ready, open_question, strike, until
from textual.pilot import Pilot
from walking import says

from assistant.cases import read_case
from assistant.model.case import Case
from assistant.tui.app import DigDay
from assistant.tui.outlook import OutlookScreen
from assistant.tui.question import QuestionScreen
from assistant.tui.sitting import Sitting
from assistant.tui.test_dig import TestDigScreen
from assistant.tui.verdict import VerdictScreen
from assistant.tui.widgets.hill_line import HillLine

SCREENS = Path(__file__).with_name("screens")
LOOKS = {look.name: look for look in YEAR}
ON_SCREEN = ("slips", "october", "cured", "garlic", "january")
"""What the screen lives of the year; the rest of it is the same pages again."""


@pytest.fixture(autouse=True)
def _no_settings_of_the_machine(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("NO_COLOR", "TEXTUAL_THEME", "TEXTUAL_ANIMATIONS"):
        monkeypatch.delenv(name, raising=False)


def notebook_of(folder: Path, look: Look) -> DigDay:
    """The screen that the command of a look opens."""
    write_station(folder, look.on)
    return DigDay(Sitting(*opened_by(folder, look.command)))


async def open_again(pilot: Pilot[None], app: DigDay, sign: str) -> None:
    """From the verdict back, page by page, to one that was answered."""
    strike(app, "escape")
    await until(pilot, lambda: isinstance(app.screen, QuestionScreen) and is_ready(app))
    while (open_now := open_question(app)) != sign:
        strike(app, "escape")
        await until(pilot, lambda before=open_now: open_question(app) != before and is_ready(app))  # type: ignore[misc]


async def dig_hills(pilot: Pilot[None], app: DigDay, look: Look) -> None:
    """From the verdict back to the page of the roots, and hill after hill written in."""
    await open_again(pilot, app, "roots")
    strike(app, "t")
    await until(pilot, lambda: isinstance(app.screen, TestDigScreen) and isinstance(app.focused, HillLine))
    for number, hill in enumerate(look.hills, start=1):
        strike(app, *hill, "enter")
        await until(pilot, lambda number=number: hills_dug(app) == number)  # type: ignore[misc]


def hills_dug(app: DigDay) -> int:
    """How many hills the case holds."""
    dug = app.sitting.visit.case.test_dig
    return len(dug.hills) if dug else 0


async def live(pilot: Pilot[None], app: DigDay, look: Look) -> None:
    """The interview to its verdict; once that asks for hills, they are dug and the interview goes on."""
    await answer_all(pilot, app, look.answers)
    if look.hills:
        assert says(app, "#headline") == "Dig up a hill and look"
        await dig_hills(pilot, app, look)
        await pilot.pause()
        check_screen(app, f"{look.name}-hills")
        strike(app, "escape")
        await until(pilot, lambda: not isinstance(app.screen, TestDigScreen))
        await answer_all(pilot, app, look.answers)
    assert isinstance(app.screen, VerdictScreen)


async def test_the_year_on_the_screen_comes_to_what_the_year_by_commands_came_to(
    tmp_path: Path, by_command: tuple[Path, dict[str, dict[str, Any]]]
) -> None:
    there, told_there = by_command
    for look in map(LOOKS.__getitem__, ON_SCREEN):
        app = notebook_of(tmp_path, look)
        async with app.run_test(size=(80, 24)) as pilot:
            await live(pilot, app, look)
            assert told_there[look.name]["headline"].startswith(says(app, "#headline"))
        told_here = json.loads(digday(tmp_path, "advise", f"{look.name}.yaml", "--json").out)
        assert told_here == told_there[look.name]
        assert _kept(tmp_path, look) == _kept(there, look)


def _kept(folder: Path, look: Look) -> tuple[object, ...]:
    """What a case file holds but for where it lies."""
    case: Case = read_case(folder / f"{look.name}.yaml")
    said = {name: (known.reading, known.origin) for name, known in case.answers.items()}
    return case.title, case.on, case.rulebook, said, case.test_dig


def check_screen(app: DigDay, name: str) -> None:
    """The text of the screen is the one kept under that name; where none is kept it is written, to be looked at."""
    strips = app.screen._compositor.render_strips()
    text = "\n".join("".join(part.text for part in strip).rstrip() for strip in strips) + "\n"
    kept = SCREENS / f"{name}.txt"
    if not kept.exists():
        kept.parent.mkdir(exist_ok=True)
        kept.write_text(text, encoding="utf-8")
        pytest.fail(f"{kept} was not there and is now; look at it and keep it")
    assert text == kept.read_text(encoding="utf-8"), f"when this is meant, delete {kept} and run again"


async def test_roots_too_small_for_a_frost_are_covered_and_roots_at_size_are_dug(tmp_path: Path) -> None:
    """One light frost with weeks of season left is worth a cover; roots at their size are not risked for it."""
    look = LOOKS["frost"]
    app = notebook_of(tmp_path, look)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: is_ready(app))
        await pilot.pause()
        check_screen(app, "question")
        assert not app.sitting.visit.case.answers
        await answer_all(pilot, app, {**look.answers, "roots": "too-small"})
        assert app.sitting.now.verdict.advice == "cover-and-wait"
        await open_again(pilot, app, "roots")
        await answer_all(pilot, app, look.answers)
        await pilot.pause()
        check_screen(app, "verdict")
        assert app.sitting.now.verdict.advice == "dig-before-frost"
        assert read_case(tmp_path / "frost.yaml").answers["roots"].written == "right"
        strike(app, "o")
        await until(pilot, lambda: isinstance(app.screen, OutlookScreen) and app.screen.ahead is not None)
