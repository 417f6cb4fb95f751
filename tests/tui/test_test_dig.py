"""Writing in a test dig on the screen: it is saved, read by the rules, and can be taken back."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from assistant.cases import read_case
from assistant.model.case import TestDig
from assistant.model.quantities import Units
from assistant.model.readings import Origin, Span, one_of
from assistant.season import Visit
from assistant.tui.app import DigDay
from assistant.tui.question import QuestionScreen
from assistant.tui.sitting import Sitting
from assistant.tui.test_dig import TestDigScreen
from assistant.tui.widgets.dig_plots import Histogram
from assistant.tui.widgets.hill_line import HillLine
from assistant.tui.widgets.keyed_list import KeyedRow

SIZE = (80, 40)
NO_1 = Span(1.75, 3.5)


async def write(pilot: Pilot[None], *lines: str) -> None:
    for line in lines:
        await pilot.press(*line, "enter")
        await pilot.pause()


async def open_dig(pilot: Pilot[None]) -> None:
    await pilot.press("t")
    await pilot.pause()
    assert isinstance(pilot.app.screen, TestDigScreen)


def page(notebook: DigDay) -> str:
    return "\n".join(str(text.render()) for text in notebook.screen.query(Static))


async def test_each_hill_is_saved_as_it_is_written(notebook: DigDay, case_file: Path) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await open_dig(pilot)
        await write(pilot, "2.1 1.2 3")
        assert read_case(case_file).test_dig == TestDig(NO_1, ((2.1, 1.2, 3.0),))
        await write(pilot, "2.4x6, 1 3/4")
        assert read_case(case_file).test_dig == TestDig(NO_1, ((2.1, 1.2, 3.0), (2.4, 1.75)))
        assert "Dig another hill" in page(notebook)
        assert notebook.screen.query(Histogram)


async def test_hills_answer_for_the_roots(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await open_dig(pilot)
        await write(pilot, "2.1 2.2 2.3 2.6", "2 2.2 3 3.1")
        assert "most of the bed's roots are at the wanted size" in page(notebook)
        await pilot.press("escape")
        await pilot.pause()
        known = notebook.sitting.visit.known["roots"]
        assert (known.origin, known.reading) == (Origin.TEST_DIG, one_of("right"))


async def test_a_dig_takes_the_place_of_what_was_said_of_the_roots(sitting: Sitting) -> None:
    sitting.reopen("roots")
    sitting.answer("too-small")
    sitting.dig(TestDig(NO_1, ((2.1, 2.2, 2.3), (2.4, 2.5, 2.6))))
    assert "roots" not in sitting.visit.case.answers
    sitting.reopen("roots")
    sitting.answer("too-small")
    assert sitting.visit.known["roots"].reading == one_of("too-small")


async def test_backspace_on_the_empty_line_takes_the_last_hill_back_to_be_mended(
    notebook: DigDay, case_file: Path
) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await open_dig(pilot)
        await write(pilot, "2.1 1.2", "33")
        assert "'33' is no size of a root" in page(notebook)
        await pilot.press("backspace", "backspace")
        await write(pilot, "3.3")
        await pilot.press("backspace")
        await pilot.pause()
        assert notebook.screen.query_one(HillLine).value == "3.3"
        assert read_case(case_file).test_dig == TestDig(NO_1, ((2.1, 1.2),))
        await pilot.press("enter", "backspace", *["backspace"] * 9, "backspace", *["backspace"] * 9)
        await pilot.pause()
        assert read_case(case_file).test_dig is None


async def test_the_wanted_sizes_can_be_changed(notebook: DigDay, case_file: Path) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await open_dig(pilot)
        await write(pilot, "1.6 1.7", "1.5..3")
        assert read_case(case_file).test_dig == TestDig(Span(1.5, 3), ((1.6, 1.7),))
        await write(pilot, "3..1")
        assert "no range of diameters" in page(notebook)


async def test_metric_gardens_write_centimetres(visit: Visit, case_file: Path) -> None:
    metric = replace(visit, case=replace(visit.case, units=Units.METRIC))
    notebook = DigDay(Sitting(metric, case_file))
    async with notebook.run_test(size=SIZE) as pilot:
        await open_dig(pilot)
        await write(pilot, "5.3 3")
        assert read_case(case_file).test_dig == TestDig(NO_1, ((2.09, 1.18),))
        assert "Centimetres" in page(notebook)


@pytest.mark.parametrize(("text", "words"), [("x", "no root"), ("", "first"), ("small:3", "sorted roots")])
async def test_what_is_no_hill_is_told_and_nothing_is_saved(
    notebook: DigDay, case_file: Path, text: str, words: str
) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await open_dig(pilot)
        await write(pilot, text)
        assert words in page(notebook)
        assert notebook.screen.query_one(HillLine).value == text
    assert not case_file.exists()


async def test_the_question_on_roots_offers_the_dig(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        notebook.sitting.reopen("roots")
        await notebook.screen.turn_page()  # type: ignore[attr-defined]
        await pilot.pause()
        await open_dig(pilot)
        await pilot.press("escape")
        await pilot.pause()
        assert not isinstance(notebook.screen, TestDigScreen)


async def test_the_page_so_far_lists_the_dig_which_opens_and_can_be_rubbed_out(
    notebook: DigDay, case_file: Path
) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await open_dig(pilot)
        await write(pilot, "2.1 2.2 2.3", "2.4 2.5 2.6")
        await pilot.press("escape", "p")
        await pilot.pause()
        assert "So far: nothing answered yet." not in page(notebook)
        (row,) = [found.row for found in notebook.screen.query(KeyedRow)]
        assert (row.label, row.words.partition(".")[0]) == ("test dig", "2 hills, 6 roots; wanted 1¾ to 3½ in across")
        assert "middle root" in row.words
        await pilot.press(row.key)
        await pilot.pause()
        assert isinstance(notebook.screen, TestDigScreen)
        await pilot.press("escape", "p", "down", "x")
        await pilot.pause()
        assert read_case(case_file).test_dig is None
        assert "Nothing answered yet." in page(notebook)


async def test_the_dig_opens_from_the_page_so_far_of_a_verdict(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await open_dig(pilot)
        await write(pilot, "2.1 2.2 2.3", "2.4 2.5 2.6")
        await pilot.press("escape", "v")
        await pilot.pause()
        await pilot.press("p", "down", "enter")
        await pilot.pause()
        assert isinstance(notebook.screen, TestDigScreen)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(notebook.screen, QuestionScreen)
