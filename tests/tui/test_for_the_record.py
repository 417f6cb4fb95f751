"""Going on to answer what the advice does not need."""

from __future__ import annotations

from pathlib import Path

from textual.pilot import Pilot
from walking import asked, give, press, says, turn_to, walk

from assistant.cases import read_case
from assistant.tui.app import DigDay
from assistant.tui.question import QuestionScreen
from assistant.tui.verdict import VerdictScreen
from assistant.tui.widgets.furniture import Masthead

SIZE = (80, 24)


async def settle(pilot: Pilot[None], app: DigDay) -> None:
    """Frost ahead of green vines; planting date and roots are not needed."""
    for sign, answer in (("vines", "green"), ("forecast_low", "30")):
        await turn_to(pilot, app, sign)
        await give(pilot, app, answer)
    assert isinstance(app.screen, VerdictScreen)


async def test_the_rest_is_asked_the_least_effort_first_and_then_the_verdict_stands_as_before(
    notebook: DigDay, case_file: Path
) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await settle(pilot, notebook)
        await press(pilot, "r")
        assert asked(notebook).name == "planted_on"
        assert "no advice hangs on this" in says(notebook, "#record")
        assert notebook.screen.query_one(Masthead).right == "2 answered · 2 for the record"
        await give(pilot, notebook, "2031-06-20")
        assert "no advice hangs on this" in says(notebook, "#record")
        assert says(notebook, "#so-far").startswith("Settled: Dig before the frost")
        await give(pilot, notebook, "right")
        assert isinstance(notebook.screen, VerdictScreen)
        assert says(notebook, "#headline") == "Dig before the frost"
        assert read_case(case_file).answers.keys() == {"vines", "forecast_low", "planted_on", "roots"}


async def test_a_question_left_out_is_passed_over_and_not_saved(notebook: DigDay, case_file: Path) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await settle(pilot, notebook)
        await press(pilot, "r", "x")
        assert asked(notebook).name == "roots"
        await press(pilot, "x")
        assert isinstance(notebook.screen, VerdictScreen)
        assert "planted_on" not in read_case(case_file).answers
        await press(pilot, "r")
        assert asked(notebook).name == "planted_on"


async def test_the_verdict_is_one_key_away_and_leads_back(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await settle(pilot, notebook)
        await press(pilot, "r", "v")
        assert isinstance(notebook.screen, VerdictScreen)
        await press(pilot, "escape")
        assert asked(notebook).name == "planted_on"
        assert "no advice hangs on this" in says(notebook, "#record")


async def test_a_question_that_matters_cannot_be_left_out(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        first = asked(notebook)
        await press(pilot, "x")
        assert asked(notebook) is first


async def test_a_changed_answer_brings_back_the_questions_that_matter(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await settle(pilot, notebook)
        await press(pilot, "r")
        await turn_to(pilot, notebook, "forecast_low")
        notebook.sitting.answer("50")
        await notebook.screen.turn_page()  # type: ignore[attr-defined]
        await pilot.pause()
        assert not notebook.screen.query("#record")
        await walk(pilot, notebook, {"planted_on": "?", "roots": "right"})
        assert says(notebook, "#headline") == "Dig now"


async def test_an_open_verdict_does_not_offer_the_record(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "question_mark", "v", "r")
        assert isinstance(notebook.screen, VerdictScreen)
        await press(pilot, "escape")
        assert isinstance(notebook.screen, QuestionScreen)
        assert not notebook.screen.query("#record")
