"""Contrast and room of every page of the garden."""

from __future__ import annotations

import pytest
from looking import clipped, drawn, faint_in_any_theme
from textual.pilot import Pilot

from assistant.garden import demo
from assistant.garden.entries.digs import record_dig
from assistant.garden.standing.finding import find_bed
from assistant.notebook import Notebook
from assistant.tui.bed import BedScreen
from assistant.tui.garden_app import GardenApp
from assistant.tui.garden_page import Garden
from assistant.tui.widgets.furniture import KeyLine

SIZES = ((80, 24), (120, 40), (60, 20))
PAGES = {
    "garden": (),
    "after frost": ("f", "2", "9", "enter"),
    "bed": ("1",),
    "pictures of a bed": ("1", "i"),
    "visit of a bed": ("1", "1"),
    "entry to be changed": ("1", "c"),
    "entry to be taken out": ("1", "x"),
    "answer of a visit to be changed": ("1", "1", "down", "c"),
    "gardens": ("g",),
    "garden to be changed": ("g", "down", "c"),
    "line": ("d",),
    "line with a problem": ("d", "x", "enter"),
    "question before taking out": ("x",),
    "visit": ("down", "down", "v"),
    "keys": ("k",),
    "palette": ("colon", "f", "r"),
}


async def open_page(pilot: Pilot[None], page: str) -> None:
    for key in PAGES[page]:
        await pilot.press(key)
        await pilot.pause()
    await pilot.pause(0.2 if page == "palette" else 0)


@pytest.mark.parametrize("page", PAGES)
async def test_all_text_stands_out_from_its_ground(page: str, kept: Notebook) -> None:
    app = GardenApp(Garden(kept, demo.TODAY))
    async with app.run_test(size=SIZES[0]) as pilot:
        await open_page(pilot, page)
        assert await faint_in_any_theme(pilot) == {}


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("page", [page for page in PAGES if page != "palette"])
async def test_no_page_clips_its_words(page: str, size: tuple[int, int], kept: Notebook) -> None:
    app = GardenApp(Garden(kept, demo.TODAY))
    async with app.run_test(size=size) as pilot:
        await open_page(pilot, page)
        assert clipped(app) == []
        assert max(widget.region.bottom for widget in app.screen.query("KeyLine")) == size[1]
        assert all(leaf.size.height >= size[1] // 4 for leaf in app.screen.query(".leaf, Ledger"))


async def test_what_a_bed_needs_is_told_in_words_and_not_by_colour(
    kept: Notebook, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = GardenApp(Garden(kept, demo.TODAY))
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.pause()
        text = "\n".join(segment.text for segment in drawn(app))
        assert {"Today", "This week", "At rest"} <= {line.strip() for line in text.split("\n")}
        assert "since 24 Sep" in text


@pytest.mark.parametrize("size", SIZES)
async def test_every_bed_shows_its_whole_name_and_day_beside_a_scrollbar_too(
    size: tuple[int, int], kept: Notebook
) -> None:
    app = GardenApp(Garden(kept, demo.TODAY))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        text = "".join(segment.text for segment in drawn(app))
        for words in ("River bed", "Mon 6 Oct ", "Orchard strip", "since 24 Sep"):
            assert words in text


@pytest.mark.parametrize("size", SIZES)
async def test_a_key_and_its_words_stay_on_one_line(size: tuple[int, int], kept: Notebook) -> None:
    app = GardenApp(Garden(kept, demo.TODAY))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        strips = app.screen._compositor.render_strips(app.size)
        lines = ["".join(segment.text for segment in strip).replace("\N{NO-BREAK SPACE}", " ") for strip in strips]
        for key, words in app.screen.query_one(KeyLine).keys:
            assert any(f" {key} {words}" in line for line in lines)


async def test_a_need_is_told_whole_on_a_usual_terminal(kept: Notebook) -> None:
    app = GardenApp(Garden(kept, demo.TODAY))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "…" not in "".join(segment.text for segment in drawn(app))


async def test_of_a_crop_grown_before_no_more_than_the_year_is_told(kept: Notebook) -> None:
    app = GardenApp(Garden(kept, demo.TODAY))
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.press("8")
        await pilot.pause()
        text = "".join(segment.text for segment in drawn(app))
        assert "2030" in text
        assert "Dec" not in text


async def test_a_beds_page_tells_each_need_once(kept: Notebook) -> None:
    record_dig(kept, find_bed(kept, "River bed", demo.TODAY), "part, 30 lb", demo.TODAY)
    app = GardenApp(Garden(kept, demo.TODAY))
    async with app.run_test(size=(100, 40)) as pilot:
        page = BedScreen(app.garden, find_bed(kept, "River bed", demo.TODAY))
        await app.push_screen(page)
        await pilot.pause()
        text = "".join(segment.text for segment in drawn(app))
        assert len(page.bed.needs) > 1
        for need in page.bed.needs:
            assert text.count(need.words) == 1


async def test_what_is_said_takes_the_place_of_what_was_said(kept: Notebook) -> None:
    app = GardenApp(Garden(kept, demo.TODAY))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("u", "u", "u")
        await pilot.pause()
        assert [note.message for note in app._notifications] == ["There is nothing to undo."]
