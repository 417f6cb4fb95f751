"""The page of the days ahead: opened where something tells of them, at the grower's own risk, by shape not colour."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from beds import RULEBOOK, bed, dates_around
from stations import invented
from textual.pilot import Pilot
from textual.widgets import Static

from assistant.model.case import Case
from assistant.season import Visit
from assistant.tui.app import DigDay
from assistant.tui.outlook import OutlookScreen
from assistant.tui.question import QuestionScreen
from assistant.tui.sitting import Sitting
from assistant.tui.widgets.furniture import KeyLine
from assistant.tui.widgets.value_line import ValueLine

STATION = invented(2010, 2031)


def notebook_of(case: Case, case_file: Path) -> DigDay:
    return DigDay(Sitting(Visit(RULEBOOK, case), case_file))


async def opened(pilot: Pilot[None], *keys: str) -> OutlookScreen:
    for key in keys:
        await pilot.press(key)
        await pilot.pause()
    screen = pilot.app.screen
    assert isinstance(screen, OutlookScreen)
    while screen.ahead is None:
        await pilot.pause(0.05)
    await pilot.pause()
    return screen


def words(app: DigDay) -> str:
    return "\n".join(str(part.render()) for part in app.screen.query(Static))


@pytest.mark.parametrize("keys", [("f6",), ("f4", "o")])
async def test_the_outlook_opens_from_the_question_and_from_the_verdict_and_leads_back(
    keys: tuple[str, ...], case_file: Path
) -> None:
    notebook = notebook_of(bed(lows=[50] * 7, record=STATION), case_file)
    async with notebook.run_test(size=(80, 40)) as pilot:
        await pilot.pause()
        before = notebook.screen if len(keys) == 1 else None
        await opened(pilot, *keys)
        assert "Latest safe day, at a risk of 1 in 10" in words(notebook)
        await pilot.press("escape")
        await pilot.pause()
        assert not isinstance(notebook.screen, OutlookScreen)
        assert before is None or notebook.screen is before


async def test_the_key_named_at_the_foot_opens_it_on_every_question(case_file: Path) -> None:
    kinds = set()
    for sign in RULEBOOK.signs.values():
        notebook = notebook_of(bed(lows=[50] * 7, record=STATION), case_file)
        async with notebook.run_test(size=(80, 40)) as pilot:
            await pilot.pause()
            page = notebook.screen
            assert isinstance(page, QuestionScreen)
            page.sitting.reopen(sign.name)
            await page.turn_page()
            await pilot.pause()
            [key] = [key for key, words in page.query_one(KeyLine).keys if words == "outlook"]
            await pilot.press(key.lower())
            await pilot.pause()
            assert isinstance(notebook.screen, OutlookScreen), sign.name
            kinds.add(sign.kind)
    assert len(kinds) > 2


async def test_a_day_may_begin_with_an_o(case_file: Path) -> None:
    notebook = notebook_of(bed(lows=[50] * 7, record=STATION), case_file)
    async with notebook.run_test(size=(80, 40)) as pilot:
        await pilot.pause()
        page = notebook.screen
        assert isinstance(page, QuestionScreen)
        page.sitting.reopen("planted_on")
        await page.turn_page()
        await pilot.pause()
        page.query_one(ValueLine).value = ""
        await pilot.press("o", "c", "t")
        assert page.query_one(ValueLine).value == "oct"


async def test_frost_dates_alone_open_it_and_nothing_known_does_not(case_file: Path) -> None:
    for case, opens in ((bed(dates=dates_around(date(2031, 10, 20))), True), (bed(), False)):
        notebook = notebook_of(case, case_file)
        async with notebook.run_test(size=(80, 40)) as pilot:
            await pilot.pause()
            await pilot.press("f6")
            await pilot.pause()
            assert isinstance(notebook.screen, OutlookScreen) is opens


async def test_the_risk_changes_at_a_key_and_the_latest_safe_days_with_it(case_file: Path) -> None:
    notebook = notebook_of(bed(date(2031, 10, 1), record=STATION), case_file)
    async with notebook.run_test(size=(80, 40)) as pilot:
        await pilot.pause()
        screen = await opened(pilot, "f6")
        first = words(notebook)
        await pilot.press("r")
        await pilot.pause()
        assert screen.ahead is not None
        assert screen.ahead.risk == 0.2
        assert "at a risk of 1 in 5" in words(notebook)
        assert words(notebook) != first


async def test_the_plot_keeps_its_columns_on_the_screen(case_file: Path) -> None:
    """The scale stands at the left of every row, so that a day is in one column from the top to the strips."""
    notebook = notebook_of(bed(record=STATION), case_file)
    async with notebook.run_test(size=(80, 60)) as pilot:
        await pilot.pause()
        await opened(pilot, "f6")
        rows = ["".join(part.text for part in strip) for strip in notebook.screen._compositor.render_strips()]
        bars = [row.index("|") for row in rows if "|" in row]
        assert len(bars) == 11  # one row a tenth
        assert len(set(bars)) == 1


async def test_the_outlook_goes_by_the_answers_given_meanwhile(case_file: Path) -> None:
    """A hard freeze answered on the way leaves no day to wait."""
    case = bed(record=STATION)
    case = replace(case, answers={name: known for name, known in case.answers.items() if name != "frost"})
    notebook = notebook_of(case, case_file)
    async with notebook.run_test(size=(80, 40)) as pilot:
        await pilot.pause()
        notebook.sitting.reopen("frost")
        notebook.sitting.answer("hard")
        screen = await opened(pilot, "f6")
        assert screen.ahead is not None
        assert screen.ahead.days[0].by[28] == 1
