"""The interview walked with real keys on a screen of 80 by 24."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, Static

from assistant.cases import case_text, read_case
from assistant.model.case import Case
from assistant.model.readings import Choices, Origin, Span
from assistant.rulebook import read_rulebook
from assistant.season import Visit
from assistant.tui import DEMO_CASE
from assistant.tui.answers import AnswersScreen
from assistant.tui.app import DigDay
from assistant.tui.help import HelpScreen
from assistant.tui.question import QuestionScreen
from assistant.tui.sitting import Sitting
from assistant.tui.verdict import VerdictScreen
from assistant.tui.widgets.furniture import Masthead

SIZE = (80, 24)


async def press(pilot: Pilot[None], *keys: str) -> None:
    for key in keys:
        await pilot.press(key)
        await pilot.pause()


async def write(pilot: Pilot[None], text: str) -> None:
    names = {" ": "space", ".": "full_stop", "-": "minus"}
    await press(pilot, *(names.get(letter, letter) for letter in text))


def says(app: DigDay, selector: str) -> str:
    return str(app.screen.query_one(selector, Static).visual)


def is_shown(app: DigDay, selector: str) -> bool:
    return bool(app.screen.query(selector))


async def test_every_question_answered_by_its_keys_ends_in_the_verdict(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        assert says(notebook, "#ask") == "What do the vines look like?"
        await press(pilot, "1")
        await write(pilot, "50..58")
        await press(pilot, "enter")
        await write(pilot, "2031-06-20")
        await press(pilot, "enter", "1")
        assert isinstance(notebook.screen, VerdictScreen)
        assert says(notebook, "#headline") == "Wait"
        answers = notebook.sitting.visit.case.answers
        assert answers["vines"].reading == Choices(frozenset({"green"}))
        assert answers["forecast_low"].reading == Span(50, 58)


async def test_cant_tell_to_everything_reaches_a_verdict_on_the_shipped_rulebook(case_file: Path) -> None:
    case = read_case(DEMO_CASE)
    notebook = DigDay(Sitting(Visit(read_rulebook(case.rulebook), case), case_file))
    async with notebook.run_test(size=SIZE) as pilot:
        for _ in itertools.takewhile(lambda _: isinstance(notebook.screen, QuestionScreen), range(50)):
            await press(pilot, "question_mark")
        assert isinstance(notebook.screen, VerdictScreen)
        assert says(notebook, "#headline")
        asked = set(notebook.sitting.visit.case.answers) - set(case.answers)
        assert {notebook.sitting.visit.case.answers[name].origin for name in asked} == {Origin.CANT_TELL}


async def test_going_back_and_changing_an_answer_moves_the_advice(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "1")
        await write(pilot, "30")
        await press(pilot, "enter")
        assert says(notebook, "#headline") == "Dig before the frost"
        await press(pilot, "escape", "escape")
        assert says(notebook, "#ask") == "What do the vines look like?"
        await press(pilot, "3")
        assert "So far: Wait" in says(notebook, "#so-far")
        assert "Was: Dig before the frost" in says(notebook, "#so-far")


async def test_any_answer_opens_from_the_page_so_far(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "1", "question_mark", "p")
        assert isinstance(notebook.screen, AnswersScreen)
        await press(pilot, "down", "enter")
        assert says(notebook, "#ask") == "What do the vines look like?"
        await press(pilot, "enter")
        assert notebook.sitting.visit.case.answers["vines"].written == "green"


async def test_an_answer_rubbed_out_is_asked_again(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "1", "p", "down", "x", "escape")
        assert says(notebook, "#ask") == "What do the vines look like?"
        assert not notebook.sitting.visit.answered


async def test_the_file_holds_an_answer_before_the_next_question_shows(visit: Visit, case_file: Path) -> None:
    on_screen_when_saved: list[str] = []

    def save(case: Case, path: Path) -> None:
        on_screen_when_saved.append(says(notebook, "#ask"))
        path.write_text(case_text(case), encoding="utf-8")

    notebook = DigDay(Sitting(visit, case_file, save))
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "1")
        assert on_screen_when_saved == ["What do the vines look like?"]
        assert says(notebook, "#ask") == "How cold do the next seven nights get?"
        assert "vines: green" in case_file.read_text(encoding="utf-8")


async def test_the_file_reads_back_as_the_same_answers(notebook: DigDay, case_file: Path) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "1", "tab")
        await write(pilot, "12 C")
        await press(pilot, "enter")
    assert dict(read_case(case_file).answers) == dict(notebook.sitting.visit.case.answers)


async def test_a_date_that_does_not_exist_is_explained_and_kept_on_the_line(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "1")
        await write(pilot, "50")
        await press(pilot, "enter")
        await write(pilot, "2031-02-30")
        await press(pilot, "enter")
        assert says(notebook, "#problem") == "! There is no day 2031-02-30 in the calendar; check month and day."
        assert notebook.screen.query_one(Input).value == "2031-02-30"
        assert "planted_on" not in notebook.sitting.visit.answered


async def test_about_goes_on_and_off_with_one_key(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "1")
        await write(pilot, "54 F")
        line = notebook.screen.query_one(Input)
        await press(pilot, "tab")
        assert line.value == "about 54 F"
        await press(pilot, "tilde")
        assert line.value == "54 F"
        await press(pilot, "tilde", "enter")
        assert notebook.sitting.visit.case.answers["forecast_low"].reading == Span(51, 57)


@pytest.mark.parametrize("text", ["3 weeks ago", "20 Sept", "yesterday", "can't tell", "0.25 inches"])
async def test_letters_are_letters_once_writing_has_begun(notebook: DigDay, text: str) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "1")
        await press(pilot, *({" ": "space", "'": "apostrophe", ".": "full_stop"}.get(one, one) for one in text))
        assert notebook.screen.query_one(Input).value == text


async def test_an_empty_line_leaves_the_command_letters_to_the_page(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "1", "w")
        assert is_shown(notebook, "#why")
        assert "Dig before the frost" in says(notebook, "#why")
        await press(pilot, "w")
        assert not is_shown(notebook, "#why")


async def test_several_choices_marked_are_one_answer(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "tilde", "1", "2", "3", "3", "enter")
        assert notebook.sitting.visit.case.answers["vines"].reading == Choices(frozenset({"green", "yellowing"}))


async def test_arrows_and_enter_answer_too(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "down", "down", "enter")
        assert notebook.sitting.visit.case.answers["vines"].written == "yellowing"


async def test_a_click_on_a_choice_answers(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await pilot.click("KeyedRow")
        await pilot.pause()
        assert notebook.sitting.visit.case.answers["vines"].written == "green"


async def test_progress_counts_what_is_answered_and_what_can_still_come(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        assert notebook.screen.query_one(Masthead).right == "0 answered · at most 4 more"
        await press(pilot, "1")
        assert notebook.screen.query_one(Masthead).right == "1 answered · at most 3 more"


async def test_the_help_opens_and_closes_on_its_key(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "k")
        assert isinstance(notebook.screen, HelpScreen)
        await press(pilot, "k")
        assert isinstance(notebook.screen, QuestionScreen)
