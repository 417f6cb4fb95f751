"""The pictures on a bed's page, opened with real keys, beside what the notebook holds."""

from __future__ import annotations

import re

import pytest
from looking import drawn
from textual.widgets import Static
from walking import press, write

from assistant.garden import demo
from assistant.model.notebook import AirRow, AnswerRow, BedRow, HillRow, RootRow, TrialRow, VisitRow
from assistant.notebook import Notebook
from assistant.tui.bed import BedScreen, PicturesScreen
from assistant.tui.garden import GardenScreen
from assistant.tui.garden_app import GardenApp
from assistant.tui.garden_page import Garden
from assistant.tui.widgets.panels import Panels

SMALL, LARGE, TINY = (80, 24), (120, 40), (60, 20)


@pytest.fixture
def app(kept: Notebook) -> GardenApp:
    return GardenApp(Garden(kept, demo.TODAY))


def lines_of(app: GardenApp) -> list[str]:
    return ["".join(segment.text for segment in strip) for strip in app.screen._compositor.render_strips(app.size)]


def row_of(lines: list[str], words: str) -> str:
    """What the scale says at the left of the first line with these words."""
    line = next(line for line in lines if words in line)
    return line.split("│")[0].strip(" ║")


def open_bed(app: GardenApp, name: str) -> None:
    assert isinstance(app.screen, GardenScreen)
    app.screen.point_at(next(now.bed.id for now in app.screen.beds if now.bed.name == name))


def answered(notebook: Notebook, bed: str, sign: str) -> list[float | None]:
    number = notebook.all(BedRow, name=bed)[0].id
    return [
        row.low
        for visit in notebook.all(VisitRow, bed=number)
        for row in notebook.all(AnswerRow, visit=visit.id, sign=sign)
    ]


async def test_a_bed_opens_with_every_night_that_its_visits_were_told(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=LARGE) as pilot:
        await press(pilot, "1")
        assert isinstance(app.screen, BedScreen)
        lines = lines_of(app)
        recent, forecast = (answered(kept, "River bed", sign) for sign in ("recent_nights", "forecast_low"))
        assert (sorted(recent), sorted(forecast)) == ([47, 54], [33, 44])  # type: ignore[type-var]
        assert [row_of(lines, words) for words in ("●54", "●47", "○44", "33○")] == ["56", "48", "44", "32"]
        assert [row_of(lines, name) for name in ("┄frost", "┄freeze", "┄killing freeze")] == ["36", "32", "28"]


async def test_the_roots_of_the_latest_test_dig_are_counted_size_by_size(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=LARGE) as pilot:
        await press(pilot, "1")
        trial = max(kept.all(TrialRow), key=lambda each: each.day)
        roots = [root for hill in kept.all(HillRow, test_dig=trial.id) for root in kept.all(RootRow, hill=hill.id)]
        counts = re.findall(r"[│┃] [█░]+ +(\d+)", "\n".join(lines_of(app)))
        assert sum(map(int, counts)) == len(roots)
        assert {int(size) for size in counts} == {1, 2}


async def test_two_test_digs_show_how_the_mean_root_grew(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=LARGE) as pilot:
        await press(pilot, "1")
        lines = lines_of(app)
        means = []
        for trial in sorted(kept.all(TrialRow), key=lambda each: each.day):
            hills = kept.all(HillRow, test_dig=trial.id)
            wide = [root.diameter or 0 for hill in hills for root in kept.all(RootRow, hill=hill.id)]
            means.append(sum(wide) / len(wide))
        assert any(f"●{means[0]:.1f}" in line for line in lines)
        assert any(f"{means[1]:.1f}●" in line for line in lines)


async def test_a_reading_that_is_logged_stands_in_the_picture_at_once(app: GardenApp, kept: Notebook) -> None:
    async with app.run_test(size=SMALL) as pilot:
        await pilot.pause()
        open_bed(app, "Gate bed")
        await press(pilot, "enter")
        before = lines_of(app)
        assert not any("░" in line for line in before)
        await press(pilot, "r")
        await write(pilot, "72 F 88 %")
        await press(pilot, "enter")
        assert kept.recent(AirRow, 1)[0].temperature == 72
        lines = lines_of(app)
        assert row_of(lines, "░") == "70"
        await press(pilot, "u")
        assert not any("░" in line for line in lines_of(app))


@pytest.mark.parametrize(("size", "shown"), [(SMALL, 2), (LARGE, 3), (TINY, 0), ((59, 30), 0), ((60, 24), 1)])
async def test_as_many_pictures_as_there_is_room_for(size: tuple[int, int], shown: int, app: GardenApp) -> None:
    async with app.run_test(size=size) as pilot:
        await press(pilot, "1")
        text = "\n".join(lines_of(app))
        assert sum(head in text for head in ("Nights, °F", "Roots, in", "Mean root, in")) == shown


@pytest.mark.parametrize("size", [SMALL, LARGE, TINY])
async def test_a_key_opens_all_pictures_with_their_words(size: tuple[int, int], app: GardenApp) -> None:
    async with app.run_test(size=size) as pilot:
        await press(pilot, "1", "i")
        assert isinstance(app.screen, PicturesScreen)
        assert len(app.screen.query(Panels)) == 3
        told = "\n".join(str(part.visual) for part in app.screen.query(".told").results(Static))
        for words in ("Lowest forecast 33 °F, 6 Oct.", "3 hills, 10 roots", "widened by 0.051 in a day"):
            assert words in told
        await press(pilot, "pagedown", "escape")
        assert isinstance(app.screen, BedScreen)


async def test_a_bed_with_nothing_to_draw_has_no_pictures(app: GardenApp) -> None:
    async with app.run_test(size=SMALL) as pilot:
        await pilot.pause()
        open_bed(app, "Old bed")
        await press(pilot, "enter", "i")
        assert isinstance(app.screen, BedScreen)
        assert app.screen.query_one(Panels).size.height == 0


async def test_nothing_in_a_picture_is_told_by_colour_alone(app: GardenApp, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    plain = GardenApp(app.garden)
    async with plain.run_test(size=LARGE) as pilot:
        await pilot.pause()
        open_bed(plain, "Well bed")
        await press(pilot, "enter")
        text = "\n".join(segment.text for segment in drawn(plain))
        assert {"█", "░", "·"} <= set(text)
