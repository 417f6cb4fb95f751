"""Entries mended, beds dug bit by bit and several gardens, walked with real keys and looked up in the notebook."""

from __future__ import annotations

from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from looking import drawn
from textual.pilot import Pilot
from textual.widgets import Input, Static
from walking import press, write

from assistant.cases.notebooks import notebook_data
from assistant.garden import demo
from assistant.garden.entries.gardens import add_bed, add_garden
from assistant.garden.entries.plantings import plant
from assistant.garden.standing.finding import find_bed
from assistant.garden.standing.stages import Stage
from assistant.model.notebook import AirRow, AnswerRow, BedRow, DigRow, GardenRow, LotRow, VerdictRow, VisitRow
from assistant.notebook import Notebook, open_notebook
from assistant.tui.bed import BedScreen
from assistant.tui.garden import GardenScreen
from assistant.tui.garden_app import GardenApp
from assistant.tui.garden_page import Garden
from assistant.tui.gardens import GardensScreen
from assistant.tui.past_visit import StoryScreen
from assistant.tui.widgets.ledger import Ledger
from assistant.tui.writing import AskScreen, LineScreen

SIZE = (80, 24)


@pytest.fixture
def kept(tmp_path: Path) -> Iterator[Notebook]:
    with open_notebook(tmp_path / "garden.sqlite") as notebook:
        demo.fill(notebook)
        yield notebook
        assert notebook.check() == ()


@pytest.fixture
def app(kept: Notebook) -> GardenApp:
    return GardenApp(Garden(kept, demo.TODAY))


def go_to(app: GardenApp, name: str) -> None:
    page = app.screen
    assert isinstance(page, GardenScreen)
    page.point_at(next(now.bed.id for now in page.beds if now.bed.name == name))


@asynccontextmanager
async def at_bed(app: GardenApp, name: str) -> AsyncIterator[Pilot[None]]:
    """The page of a bed, opened from the garden."""
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        go_to(app, name)
        await press(pilot, "enter")
        yield pilot


def point_at(app: GardenApp, words: str) -> None:
    """The arrow at an entry of a bed's story."""
    page = app.screen
    assert isinstance(page, BedScreen)
    page.query_one(Ledger).point_at(next(n for n, event in enumerate(page.events) if words in event.words))


def text_of(app: GardenApp) -> str:
    return "".join(segment.text for segment in drawn(app))


def said(app: GardenApp) -> str:
    """What was told for a moment."""
    return " ".join(notice.message for notice in app._notifications)


async def rewrite(pilot: Pilot[None], app: GardenApp, text: str) -> None:
    """Another text on the line that is open, and Enter."""
    app.screen.query_one(Input).value = ""
    await write(pilot, text)
    await press(pilot, "enter")


async def test_a_reading_typed_wrong_is_mended_with_few_keys_and_undone(app: GardenApp, kept: Notebook) -> None:
    before = notebook_data(kept)
    async with at_bed(app, "Gate bed") as pilot:
        point_at(app, "Air: 83 °F")
        await press(pilot, "c")
        assert isinstance(app.screen, LineScreen)
        assert app.screen.query_one(Input).value == "2031-10-03 08:00, 83 °F 86 %"
        await press(pilot, "backspace", "backspace", "backspace", "backspace", "9", "0", "enter")
        assert kept.recent(AirRow, 12)[8].humidity == 90
        assert "Air: 83 °F 90 %" in text_of(app)
        await press(pilot, "u")
        assert notebook_data(kept) == before


async def test_a_day_that_cannot_be_stays_on_the_line_with_what_rests_on_it(app: GardenApp, kept: Notebook) -> None:
    before = notebook_data(kept)
    async with at_bed(app, "Gate bed") as pilot:
        point_at(app, "to cure")
        await press(pilot, "c")
        await rewrite(pilot, app, "2031-10-03")
        assert isinstance(app.screen, LineScreen)
        told = str(app.screen.query_one("#problem", Static).visual)
        assert told.startswith("! The reading of 30 September 2031")
        await press(pilot, "escape")
        assert notebook_data(kept) == before


async def test_a_dig_on_the_wrong_bed_is_taken_out_after_a_question_and_comes_back(
    app: GardenApp, kept: Notebook
) -> None:
    before = notebook_data(kept)
    async with at_bed(app, "Gate bed") as pilot:
        for way_out in ("n", "escape", "enter"):
            point_at(app, "Dug")
            await press(pilot, "x")
            assert isinstance(app.screen, AskScreen)
            assert "1 lot, 1 line of a ledger, 4 readings of the air" in " ".join(text_of(app).split())
            await press(pilot, way_out)
            assert notebook_data(kept) == before
        await press(pilot, "x", "y")
        assert not kept.all(LotRow, name="Gate bed 2031")
        assert isinstance(app.screen, BedScreen)
        assert app.screen.bed.stage is Stage.WATCH
        await press(pilot, "u")
        assert notebook_data(kept) == before


async def test_what_cannot_be_taken_out_is_told(app: GardenApp, kept: Notebook) -> None:
    before = notebook_data(kept)
    async with at_bed(app, "Gate bed") as pilot:
        point_at(app, "to cure")
        await press(pilot, "x", "y")
        assert "Gate bed 2031 would lie nowhere" in said(app)
        assert notebook_data(kept) == before


async def test_an_answer_of_a_past_visit_is_mended_on_its_page_and_its_verdict_stays(
    app: GardenApp, kept: Notebook
) -> None:
    verdicts = kept.all(VerdictRow)
    async with at_bed(app, "Orchard strip") as pilot:
        await press(pilot, "1")
        page = app.screen
        assert isinstance(page, StoryScreen)
        signs = [told.sign for told in page._story]
        await press(pilot, *(["down"] * (signs.index("forecast_low") + 1)), "c")
        await rewrite(pilot, app, "29 F")
        visit = kept.latest(VisitRow, bed=find_bed(kept, "Orchard", demo.TODAY).bed.id)
        assert visit
        [answer] = kept.all(AnswerRow, visit=visit.id, sign="forecast_low")
        assert answer.low == 29
        assert kept.all(VerdictRow) == verdicts
        assert page.is_current
        await press(pilot, "x", "y")
        assert not kept.all(AnswerRow, visit=visit.id, sign="forecast_low")
        await press(pilot, "escape", "u", "u")
        [answer] = kept.all(AnswerRow, visit=visit.id, sign="forecast_low")
        assert answer.low == 44


async def test_keys_on_advice_or_on_no_answer_do_nothing(app: GardenApp, kept: Notebook) -> None:
    before = notebook_data(kept)
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "enter", "1", "c", "x", "up", "enter", "c", "x")
        assert isinstance(app.screen, StoryScreen)
        assert notebook_data(kept) == before


async def test_an_empty_story_has_nothing_to_change(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "n", "A", "enter")
        go_to(app, "A")
        await press(pilot, "enter", "c", "x", "down", "enter")
        assert isinstance(app.screen, BedScreen)


async def test_a_bed_is_dug_bit_by_bit(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "c")
        await write(pilot, "length 40 ft")
        await press(pilot, "enter", "d")
        await write(pilot, "12 ft, 30 lb")
        await press(pilot, "enter")
        now = find_bed(kept, "River bed", demo.TODAY)
        assert (now.stage, now.next.words) == (Stage.DIG, "Dig before the frost; 28 ft left")
        assert "days in the ground, 28 ft left" in text_of(app)
        await press(pilot, "d")
        await write(pilot, "29 ft")
        await press(pilot, "enter")
        assert "41 ft would be dug of 40 ft" in text_of(app)
        await press(pilot, "escape", "d")
        await write(pilot, "60 lb")
        await press(pilot, "enter")
        assert find_bed(kept, "River bed", demo.TODAY).stage is Stage.CURING
        assert len(kept.all(DigRow)) == 4


async def test_two_gardens_are_shown_one_or_both_and_a_bed_moves(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "g", "n")
        await write(pilot, "Hill")
        await press(pilot, "enter", "down", "down", "c")
        await write(pilot, "metric")
        await press(pilot, "enter", "c")
        await write(pilot, "first frost 09-25 10-05 10-20")
        await press(pilot, "enter")
        assert "Hill · first frost 09-25 10-05 10-20" in text_of(app)
        await press(pilot, "enter")
        page = app.screen
        assert isinstance(page, GardenScreen)
        assert (page.beds, kept.shown) == ((), kept.all(GardenRow)[1].id)
        assert "Hill · Saturday 4 October" in text_of(app)
        await press(pilot, "n")
        await write(pilot, "River bed")
        await press(pilot, "enter")
        assert [now.bed.name for now in page.beds] == ["River bed"]
        await press(pilot, "g", "home", "enter")
        assert kept.shown is None
        assert len(page.beds) == 9
        for words in ("All gardens · Saturday", "River bed · Hill", "River bed · Otter"):
            assert words in text_of(app)
        go_to(app, "Old bed")
        await press(pilot, "c")
        await write(pilot, "garden Hill")
        await press(pilot, "enter")
        assert find_bed(kept, "Old bed", demo.TODAY).garden == kept.all(GardenRow)[1]
        await press(pilot, "g", "end", "x", "y")
        assert isinstance(app.screen, GardensScreen)
        assert "Hill has 2 beds; move or take out" in said(app)
        await press(pilot, "escape", "u")
        assert len(kept.all(BedRow, garden=kept.all(GardenRow)[1].id)) == 1


async def test_the_gardens_page_of_a_new_notebook(tmp_path: Path) -> None:
    with open_notebook(tmp_path / "new.sqlite") as notebook:
        app = GardenApp(Garden(notebook, demo.TODAY))
        async with app.run_test(size=SIZE) as pilot:
            await press(pilot, "g", "c", "x", "u", "n")
            await write(pilot, "Hill")
            await press(pilot, "enter", "down", "x", "y")
            assert isinstance(app.screen, GardensScreen)
            assert notebook.all(GardenRow) == ()
            await press(pilot, "u", "escape")
            assert [garden.name for garden in notebook.all(GardenRow)] == ["Hill"]
            assert "Hill · Saturday" in text_of(app)


async def test_what_another_program_took_out_meanwhile_is_told(app: GardenApp, kept: Notebook) -> None:
    async with at_bed(app, "Orchard strip") as pilot:
        await press(pilot, "1", "down", "x")
        visit = find_bed(kept, "Orchard", demo.TODAY).visit
        assert visit
        with open_notebook(kept.path) as another:
            for answer in another.all(AnswerRow, visit=visit.id):
                another.remove(answer)
        await press(pilot, "y")
        assert "is no answer of this visit" in said(app)
        await press(pilot, "escape", "escape", "g", "n")
        await write(pilot, "Hill")
        await press(pilot, "enter")
        with open_notebook(kept.path) as another:
            another.remove(another.all(GardenRow)[1])
        await press(pilot, "end", "c", "x", "enter")
        assert "not in the notebook" in said(app)
        assert isinstance(app.screen, GardensScreen)


async def test_a_bed_that_is_not_shown_can_be_visited_by_its_name(kept: Notebook) -> None:
    hill = add_garden(kept, "Hill")
    add_bed(kept, "Hill/Top")
    plant(kept, find_bed(kept, "Top", demo.TODAY).bed, "2031-06-20", demo.TODAY)
    kept.show(hill.id)
    app = GardenApp(Garden(kept, demo.TODAY), find_bed(kept, "Orchard strip", demo.TODAY).bed.id)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        await press(pilot, "question_mark", "q")
    [visit] = kept.all(VisitRow, day=demo.TODAY, bed=find_bed(kept, "Orchard", demo.TODAY).bed.id)
    assert kept.latest(VerdictRow, visit=visit.id)
    assert find_bed(kept, "Top", demo.TODAY).visit is None
