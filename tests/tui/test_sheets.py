"""Pages printed from the garden's screen with a real key, each looked up on the disk."""

from __future__ import annotations

from pathlib import Path

import pytest
from walking import press

from assistant.garden import demo
from assistant.notebook import Notebook
from assistant.tui.garden import GardenScreen
from assistant.tui.garden_app import GardenApp
from assistant.tui.garden_page import Garden


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where the program is begun."""
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    return tmp_path / "here"


@pytest.fixture
def app(kept: Notebook) -> GardenApp:
    return GardenApp(Garden(kept, demo.TODAY))


def told(app: GardenApp) -> list[str]:
    return [notice.message for notice in app._notifications]


@pytest.mark.parametrize(
    ("bed", "name", "title"),
    [
        ("", "otter-bend-what-each-bed-needs-2031-10-04.html", "<h1>Otter Bend: what each bed needs</h1>"),
        ("River bed", "dig-day-river-bed-2031-10-04.html", "<h1>Dig day: River bed</h1>"),
        ("Gate bed", "curing-gate-bed-2031-2031-10-04.html", "<h1>Curing: Gate bed 2031</h1>"),
        ("Well bed", "plan-for-the-store-well-bed-2031-2031-10-04.html", "<h1>Plan for the store: Well bed 2031</h1>"),
    ],
)
async def test_a_key_writes_the_page_and_says_where(
    app: GardenApp, folder: Path, bed: str, name: str, title: str
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        if bed:
            assert isinstance(app.screen, GardenScreen)
            app.screen.point_at(next(now.bed.id for now in app.screen.beds if now.bed.name == bed))
            await press(pilot, "enter")
        await press(pilot, "s")
        assert [path.name for path in folder.iterdir()] == [name]
        assert title in (folder / name).read_text(encoding="utf-8")
        assert told(app) == [str((folder / name).resolve())]


async def test_a_second_page_leaves_the_first_as_it_was(app: GardenApp, folder: Path) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "s")
        (first,) = folder.iterdir()
        first.write_text("my notes", encoding="utf-8")
        await press(pilot, "s")
        assert first.read_text(encoding="utf-8") == "my notes"
        assert len(list(folder.iterdir())) == 2


async def test_a_bed_without_a_page_writes_nothing_and_says_why(app: GardenApp, folder: Path) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert isinstance(app.screen, GardenScreen)
        app.screen.point_at(next(now.bed.id for now in app.screen.beds if now.bed.name == "Old bed"))
        await press(pilot, "enter", "s")
        assert list(folder.iterdir()) == []
        (why,) = told(app)
        assert "has no page while it is resting" in why


async def test_a_folder_that_is_gone_is_told_and_the_screen_stays(app: GardenApp, folder: Path) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        folder.rmdir()
        await press(pilot, "s")
        assert isinstance(app.screen, GardenScreen)
        assert told(app)
        assert app.is_running
