"""The interview walked with real keys on a screen of 80 by 24."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest
from textual.widgets import Input
from walking import asked, give, press, says, turn_to, walk, write

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
from assistant.tui.widgets.keyed_list import KeyedRow

SIZE = (80, 24)
MILD_AND_SMALL = {"vines": "green", "forecast_low": "50..58", "planted_on": "2031-06-20", "roots": "too-small"}
FROST_AHEAD = {**MILD_AND_SMALL, "forecast_low": "30"}


def is_shown(app: DigDay, selector: str) -> bool:
    return bool(app.screen.query(selector))


async def test_every_question_answered_by_its_keys_ends_in_the_verdict(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await walk(pilot, notebook, MILD_AND_SMALL)
        assert isinstance(notebook.screen, VerdictScreen)
        assert says(notebook, "#headline") == "Wait"
        answers = notebook.sitting.visit.case.answers
        assert answers["forecast_low"].reading == Span(50, 58)
        assert answers["roots"].reading == Choices(frozenset({"too-small"}))


async def test_cant_tell_to_everything_reaches_a_verdict_on_the_shipped_rulebook(case_file: Path) -> None:
    case = read_case(DEMO_CASE)
    notebook = DigDay(Sitting(Visit(read_rulebook(case.rulebook), case), case_file))
    async with notebook.run_test(size=SIZE) as pilot:
        for _ in itertools.takewhile(lambda _: isinstance(notebook.screen, QuestionScreen), range(50)):
            await press(pilot, "question_mark")
        assert isinstance(notebook.screen, VerdictScreen)
        assert says(notebook, "#headline")
        given = set(notebook.sitting.visit.case.answers) - set(case.answers)
        assert {notebook.sitting.visit.case.answers[name].origin for name in given} == {Origin.CANT_TELL}


async def test_going_back_and_changing_an_answer_moves_the_advice(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await walk(pilot, notebook, FROST_AHEAD)
        assert says(notebook, "#headline") == "Dig before the frost"
        await press(pilot, "escape")
        await turn_to(pilot, notebook, "vines")
        await give(pilot, notebook, "withered")
        assert "So far: Wait" in says(notebook, "#so-far")
        assert "Was: Dig before the frost" in says(notebook, "#so-far")


async def test_esc_goes_back_page_by_page(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        first = asked(notebook)
        await press(pilot, "question_mark")
        second = asked(notebook)
        await press(pilot, "question_mark", "escape")
        assert asked(notebook) is second
        await press(pilot, "escape")
        assert asked(notebook) is first


async def test_any_answer_opens_from_the_page_so_far(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await turn_to(pilot, notebook, "vines")
        await press(pilot, "1", "question_mark", "p")
        assert isinstance(notebook.screen, AnswersScreen)
        await press(pilot, "down", "enter")
        assert says(notebook, "#ask") == "What do the vines look like?"
        await press(pilot, "enter")
        assert notebook.sitting.visit.case.answers["vines"].written == "green"


async def test_an_answer_rubbed_out_is_asked_again(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        first = asked(notebook)
        await press(pilot, "question_mark", "p", "down", "x", "escape")
        assert asked(notebook) is first
        assert not notebook.sitting.visit.answered


async def test_the_file_holds_an_answer_before_the_next_question_shows(visit: Visit, case_file: Path) -> None:
    on_screen_when_saved: list[str] = []

    def save(case: Case, path: Path) -> None:
        on_screen_when_saved.append(says(notebook, "#ask"))
        path.write_text(case_text(case), encoding="utf-8")

    notebook = DigDay(Sitting(visit, case_file, save))
    async with notebook.run_test(size=SIZE) as pilot:
        first = asked(notebook)
        await press(pilot, "question_mark")
        assert on_screen_when_saved == [first.ask]
        assert says(notebook, "#ask") == asked(notebook).ask != first.ask
        assert f"{first.name}: can't tell" in case_file.read_text(encoding="utf-8")


async def test_the_file_reads_back_as_the_same_answers(notebook: DigDay, case_file: Path) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await turn_to(pilot, notebook, "forecast_low")
        await press(pilot, "tab")
        await give(pilot, notebook, "12 C")
    assert dict(read_case(case_file).answers) == dict(notebook.sitting.visit.case.answers)


async def test_a_date_that_does_not_exist_is_explained_and_kept_on_the_line(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await turn_to(pilot, notebook, "planted_on")
        await give(pilot, notebook, "2031-02-30")
        assert says(notebook, "#problem") == "! There is no day 2031-02-30 in the calendar; check month and day."
        assert notebook.screen.query_one(Input).value == "2031-02-30"
        assert "planted_on" not in notebook.sitting.visit.answered


async def test_about_goes_on_and_off_with_one_key(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await turn_to(pilot, notebook, "forecast_low")
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
        await turn_to(pilot, notebook, "forecast_low")
        await write(pilot, text)
        assert notebook.screen.query_one(Input).value == text


async def test_an_empty_line_leaves_the_command_letters_to_the_page(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await turn_to(pilot, notebook, "forecast_low")
        await press(pilot, "w")
        assert is_shown(notebook, "#why")
        await press(pilot, "w")
        assert not is_shown(notebook, "#why")


async def test_why_tells_what_each_answer_would_mean(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await turn_to(pilot, notebook, "vines")
        await press(pilot, "1")
        await turn_to(pilot, notebook, "forecast_low")
        await press(pilot, "w")
        told = {
            row.row.label.replace("\N{NO-BREAK SPACE}", " "): row.row.words
            for row in notebook.screen.query("#why KeyedRow").results(KeyedRow)
        }
        assert told == {
            "36 °F or less, can't tell": "dig before frost; act by Tuesday 7 October",
            "above 36 °F": "rules out “dig before frost”",
        }


async def test_several_choices_marked_are_one_answer(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await turn_to(pilot, notebook, "vines")
        await press(pilot, "tilde", "1", "2", "3", "3", "enter")
        assert notebook.sitting.visit.case.answers["vines"].reading == Choices(frozenset({"green", "yellowing"}))


async def test_arrows_and_enter_answer_too(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await turn_to(pilot, notebook, "vines")
        await press(pilot, "down", "down", "enter")
        assert notebook.sitting.visit.case.answers["vines"].written == "yellowing"


async def test_a_click_on_a_choice_answers(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await turn_to(pilot, notebook, "vines")
        await pilot.click("KeyedRow")
        await pilot.pause()
        assert notebook.sitting.visit.case.answers["vines"].written == "green"


async def test_progress_counts_what_is_answered_and_what_can_still_come(notebook: DigDay) -> None:
    def progress() -> str:
        return notebook.screen.query_one(Masthead).right

    async with notebook.run_test(size=SIZE) as pilot:
        await pilot.pause()
        expected = notebook.sitting.visit.about_left
        assert expected in (1, 2, 3)
        assert progress() == f"0 answered · about {expected} more, 4 at most"
        await walk(pilot, notebook, FROST_AHEAD)
        assert isinstance(notebook.screen, VerdictScreen)
        assert progress() == f"{len(notebook.sitting.visit.answered)} answered · nothing left to ask"


async def test_the_help_opens_and_closes_on_its_key(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "k")
        assert isinstance(notebook.screen, HelpScreen)
        await press(pilot, "k")
        assert isinstance(notebook.screen, QuestionScreen)
