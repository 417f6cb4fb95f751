"""Contrast, room and colour of every page, measured on what is really drawn."""

from __future__ import annotations

from pathlib import Path

import pytest
from looking import clipped, contrast, drawn, faint_in_any_theme
from textual.filter import NoColor
from textual.pilot import Pilot

from assistant.cases import read_case
from assistant.rulebook import read_rulebook
from assistant.season import Visit
from assistant.tui import DEMO_CASE, themes
from assistant.tui.app import DigDay
from assistant.tui.sitting import Sitting

SMALL = (80, 24)
PAGES = {
    "question": (),
    "why": ("w",),
    "marking": ("tilde", "1"),
    "line": ("1", "v", "escape", "1"),
    "answers": ("1", "p", "down"),
    "verdict": ("1", "v", "e", "tab"),
    "outlook": ("f6",),
    "help": ("k",),
    "test dig": ("t", *"2.1 3 1", "enter", *"2 4x5 1.8", "enter", "x", "enter"),
}


def shipped_notebook(case_file: Path) -> DigDay:
    case = read_case(DEMO_CASE)
    return DigDay(Sitting(Visit(read_rulebook(case.rulebook), case), case_file))


async def open_page(pilot: Pilot[None], page: str) -> None:
    for key in PAGES[page]:
        await pilot.press(key)
        await pilot.pause()


def test_the_contrast_formula_gives_the_published_extremes() -> None:
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)
    assert contrast((119, 119, 119), (255, 255, 255)) == pytest.approx(4.48, abs=0.005)  # the well-known #777 on white


@pytest.mark.parametrize("page", PAGES)
async def test_all_text_stands_out_from_its_ground(page: str, case_file: Path) -> None:
    notebook = shipped_notebook(case_file)
    async with notebook.run_test(size=SMALL) as pilot:
        await open_page(pilot, page)
        assert await faint_in_any_theme(pilot) == {}


def bottom_of_page(app: DigDay) -> int:
    return max(widget.region.bottom for widget in app.screen.query("KeyLine"))


@pytest.mark.parametrize("size", [SMALL, (120, 40), (60, 20)])
@pytest.mark.parametrize("page", PAGES)
async def test_no_page_clips_its_words(page: str, size: tuple[int, int], case_file: Path) -> None:
    notebook = shipped_notebook(case_file)
    async with notebook.run_test(size=size) as pilot:
        await open_page(pilot, page)
        assert clipped(notebook) == []
        assert bottom_of_page(notebook) == size[1]
        assert notebook.screen.query_one(".leaf").size.height >= size[1] // 3


async def test_every_question_of_the_shipped_rulebook_fits_or_scrolls(case_file: Path) -> None:
    notebook = shipped_notebook(case_file)
    async with notebook.run_test(size=SMALL) as pilot:
        for name in notebook.sitting.visit.rulebook.signs:
            notebook.sitting.reopen(name)
            await notebook.screen.turn_page()  # type: ignore[attr-defined]
            await pilot.pause()
            assert clipped(notebook) == [], name
            leaf = notebook.screen.query_one(".leaf")
            answers = notebook.screen.query_one("#answers")
            assert leaf.max_scroll_y >= answers.virtual_region.bottom - leaf.size.height, name


async def test_why_each_question_is_asked_leaves_the_answers_within_reach(case_file: Path) -> None:
    notebook = shipped_notebook(case_file)
    async with notebook.run_test(size=SMALL) as pilot:
        for name in notebook.sitting.visit.rulebook.signs:
            notebook.sitting.reopen(name)
            await notebook.screen.turn_page()  # type: ignore[attr-defined]
            await pilot.pause()
            await pilot.press("f2")
            await pilot.pause()
            leaf, why = notebook.screen.query_one(".leaf"), notebook.screen.query_one("#why")
            answers = notebook.screen.query_one("#answers")
            assert clipped(notebook) == [], name
            assert why.size.height <= leaf.size.height // 2, name
            assert leaf.max_scroll_y >= answers.virtual_region.bottom - leaf.size.height, name


async def test_every_choice_of_the_shipped_rulebook_has_a_key_of_its_own(case_file: Path) -> None:
    notebook = shipped_notebook(case_file)
    async with notebook.run_test(size=SMALL) as pilot:
        for name, sign in notebook.sitting.visit.rulebook.signs.items():
            notebook.sitting.reopen(name)
            await notebook.screen.turn_page()  # type: ignore[attr-defined]
            await pilot.pause()
            keys = [row.row.key for row in notebook.screen.query("KeyedRow")]  # type: ignore[attr-defined]
            assert len(keys) == len(set(keys)) == (len(sign.choices) or 0) + 2 + (name == "roots"), name


async def test_the_theme_key_goes_to_dusk_and_back(notebook: DigDay) -> None:
    async with notebook.run_test(size=SMALL) as pilot:
        assert notebook.theme == themes.SUNLIGHT
        await pilot.press("b")
        assert notebook.theme == themes.DUSK
        await pilot.press("b")
        assert notebook.theme == themes.SUNLIGHT


async def test_no_color_takes_every_colour_away(sitting: Sitting, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    notebook = DigDay(sitting)
    async with notebook.run_test(size=SMALL):
        assert any(isinstance(one, NoColor) for one in notebook.get_line_filters())


async def test_a_page_looks_the_same_before_and_after_other_pages_were_open(notebook: DigDay) -> None:
    async with notebook.run_test(size=SMALL) as pilot:
        await pilot.pause()
        before = "".join(segment.text for segment in drawn(notebook))
        for key in ("p", "escape", "v", "escape", "k", "k"):
            await pilot.press(key)
            await pilot.pause()
        assert before == "".join(segment.text for segment in drawn(notebook))
