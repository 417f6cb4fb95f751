"""The garden walked with real keys, each entry looked up in the notebook."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.widgets import Static
from walking import press, write

from assistant.garden import demo
from assistant.garden.standing.finding import find_bed
from assistant.garden.standing.stages import Stage
from assistant.model.notebook import AirRow, AnswerRow, BedRow, DigRow, LotEntryRow, PlantingRow, VerdictRow, VisitRow
from assistant.notebook import Notebook, open_notebook
from assistant.tui.bed import BedScreen
from assistant.tui.bed_visit import BedVisitScreen
from assistant.tui.garden import GardenScreen
from assistant.tui.garden_app import GardenApp
from assistant.tui.garden_help import GardenHelp
from assistant.tui.garden_page import Garden
from assistant.tui.past_visit import StoryScreen
from assistant.tui.widgets.ledger import Ledger
from assistant.tui.writing import AskScreen, LineScreen

SIZE = (80, 24)


@pytest.fixture
def app(kept: Notebook) -> GardenApp:
    return GardenApp(Garden(kept, demo.TODAY))


def at(app: GardenApp) -> str:
    page = app.screen
    assert isinstance(page, GardenScreen)
    assert page.bed is not None
    return page.bed.bed.name


def go_to(app: GardenApp, name: str) -> None:
    page = app.screen
    assert isinstance(page, GardenScreen)
    page.point_at(next(now.bed.id for now in page.beds if now.bed.name == name))


def drawn(app: GardenApp) -> list[str]:
    return ["".join(segment.text for segment in strip) for strip in app.screen._compositor.render_strips(app.size)]


async def test_the_most_pressing_bed_stands_first_under_todays_heading(app: GardenApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        lines = [line.strip(" ║") for line in drawn(app)]
        heading = lines.index("Today")
        assert "River bed" in lines[heading + 1]
        assert "Dig before the frost" in lines[heading + 1]
        assert "Mon 6 Oct" in lines[heading + 1]
        assert at(app) == "River bed"


async def test_arrows_and_numbers_find_a_bed_and_escape_leads_back(app: GardenApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "down", "down", "up")
        assert at(app) == "Gate bed"
        await press(pilot, "enter")
        assert isinstance(app.screen, BedScreen)
        assert app.screen.bed.bed.name == "Gate bed"
        await press(pilot, "escape", "1")
        assert isinstance(app.screen, BedScreen)
        assert app.screen.bed.bed.name == "River bed"


async def test_a_visit_opens_from_the_story_with_its_advice_then_and_now(app: GardenApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "enter", "enter")
        assert isinstance(app.screen, StoryScreen)
        assert any("by today's rules" in line for line in drawn(app))
        await press(pilot, "escape", "escape")
        assert isinstance(app.screen, GardenScreen)


async def test_every_answer_of_a_visit_is_in_the_file_before_the_next_question(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        go_to(app, "Orchard strip")
        await press(pilot, "v")
        page = app.screen
        assert isinstance(page, BedVisitScreen)
        for _ in range(3):
            question = page.sitting.question
            assert question is not None
            await press(pilot, "question_mark")
            with open_notebook(kept.path, new=False) as other:
                visit = other.latest(VisitRow, day=demo.TODAY.isoformat())
                assert visit is not None
                assert other.all(AnswerRow, visit=visit.id, sign=question.name)
        await press(pilot, "q")
        assert isinstance(app.screen, GardenScreen)
        assert visit
        assert kept.latest(VerdictRow, visit=visit.id) is not None
        assert app.is_running


async def test_escape_on_the_first_question_leads_back_to_the_garden(app: GardenApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        go_to(app, "New ground")
        await press(pilot, "v", "escape", "escape", "escape")
        assert isinstance(app.screen, GardenScreen)


async def test_a_dig_takes_its_weight_and_starts_the_cure(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "d")
        assert isinstance(app.screen, LineScreen)
        await write(pilot, "80 lb")
        await press(pilot, "enter")
        assert find_bed(kept, "River bed", demo.TODAY).stage is Stage.CURING
        assert kept.recent(LotEntryRow, 1)[0].pounds == 80
        assert at(app) == "River bed"


async def test_a_line_that_cannot_be_used_stays_with_the_reason(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "d")
        await write(pilot, "lots")
        await press(pilot, "enter")
        assert isinstance(app.screen, LineScreen)
        assert "no weight" in str(app.screen.query_one("#problem", Static).visual)
        await press(pilot, "escape")
        assert find_bed(kept, "River bed", demo.TODAY).stage is Stage.DIG


async def test_a_reading_a_look_and_the_store_take_few_keys(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        go_to(app, "Gate bed")
        await press(pilot, "r")
        await write(pilot, "86 90")
        await press(pilot, "enter", "m")
        assert kept.recent(AirRow, 1)[0].temperature == 86
        assert find_bed(kept, "Gate bed", demo.TODAY).stage is Stage.KEEPING
        await press(pilot, "l")
        await write(pilot, "used 3 lb")
        await press(pilot, "enter")
        assert kept.recent(LotEntryRow, 1)[0].pounds == 3


async def test_frost_tonight_moves_every_bed_at_once_and_one_undo_takes_it_back(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SIZE) as pilot:
        visits = len(kept.rows("visit"))
        await press(pilot, "f")
        await write(pilot, "28")
        await press(pilot, "enter")
        page = app.screen
        assert isinstance(page, GardenScreen)
        assert sum(now.stage is Stage.DIG for now in page.beds) == 4
        await press(pilot, "u")
        assert sum(now.stage is Stage.DIG for now in page.beds) == 1
        assert len(kept.rows("visit")) == visits


async def test_a_new_bed_is_written_planted_and_shown(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "n")
        await write(pilot, "Top end")
        await press(pilot, "enter")
        go_to(app, "Top end")
        await press(pilot, "p")
        await write(pilot, "2031-06-20")
        await press(pilot, "enter")
        assert kept.recent(PlantingRow, 1)[0].bed == kept.recent(BedRow, 1)[0].id
        assert at(app) == "Top end"


async def test_taking_out_asks_first_and_undo_brings_all_back(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SIZE) as pilot:
        beds = len(kept.rows("bed"))
        for way_out in ("n", "escape", "enter"):
            await press(pilot, "x")
            assert isinstance(app.screen, AskScreen)
            await press(pilot, way_out)
            assert len(kept.rows("bed")) == beds
        await press(pilot, "x", "y")
        assert len(kept.rows("bed")) == beds - 1
        await press(pilot, "u")
        assert len(kept.rows("bed")) == beds


async def test_a_bed_that_is_no_longer_there_leads_back_to_the_garden(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "n", "A", "enter")
        page = app.screen
        assert isinstance(page, GardenScreen)
        page.point_at(kept.recent(BedRow, 1)[0].id)
        await press(pilot, "enter")
        assert isinstance(app.screen, BedScreen)
        await press(pilot, "u")
        await pilot.pause()
        assert isinstance(app.screen, GardenScreen)
        assert "A" not in [now.bed.name for now in app.screen.beds]


async def test_the_palette_finds_a_task_by_a_word(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "colon")
        await write(pilot, "record a dig")
        await pilot.pause(0.3)
        await press(pilot, "enter")
        await pilot.pause(0.1)
        assert isinstance(app.screen, LineScreen)
        assert kept.all(DigRow)


@pytest.mark.parametrize("keys", [("k",), ("enter", "k"), ("d", "f1"), ("x", "k"), ("enter", "enter", "k")])
async def test_every_page_has_its_keys_explained(app: GardenApp, keys: tuple[str, ...]) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, *keys)
        assert isinstance(app.screen, GardenHelp)
        page = app.screen_stack[-2]
        await press(pilot, "escape")
        assert app.screen is page


async def test_an_empty_notebook_says_how_to_begin(tmp_path: Path) -> None:
    with open_notebook(tmp_path / "new.sqlite") as notebook:
        app = GardenApp(Garden(notebook, demo.TODAY))
        async with app.run_test(size=SIZE) as pilot:
            await press(pilot, "enter", "down", "v", "d", "m", "x", "u")
            assert isinstance(app.screen, GardenScreen)
            assert "Press n" in str(app.screen.query_one(".standing", Static).visual)
            await press(pilot, "n")
            await write(pilot, "First")
            await press(pilot, "enter")
            assert [bed.name for bed in notebook.all(BedRow)] == ["First"]
            assert app.screen.query_one(Ledger).value == 1


async def test_a_visit_to_a_resting_bed_is_told_and_does_not_open(app: GardenApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        go_to(app, "Old bed")
        await press(pilot, "v")
        assert isinstance(app.screen, GardenScreen)
        assert app.screen.is_current
