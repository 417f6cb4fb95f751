"""Draws the README's pictures: the garden of the demo, and pages of a visit to the README's own, as small SVG files.

`python docs/make_pictures.py` writes docs/pictures/; the same garden always gives the same files.
"""

from __future__ import annotations

import asyncio
import os
import re
import tempfile
from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby
from pathlib import Path
from typing import NamedTuple
from xml.sax.saxutils import escape, quoteattr

from rich.segment import Segment
from rich.style import Style
from textual.pilot import Pilot

from assistant.cases import read_case, rulebook_of
from assistant.garden import demo
from assistant.notebook import open_notebook
from assistant.season import Visit
from assistant.tui.app import DigDay
from assistant.tui.garden_app import GardenApp
from assistant.tui.garden_page import Garden
from assistant.tui.outlook import OutlookScreen
from assistant.tui.sitting import Sitting

ROOT = Path(__file__).resolve().parents[1]
PICTURES = ROOT / "docs" / "pictures"
WIDE, HIGH = 9, 19
"""A character's cell, in pixels of the picture."""


class Scene(NamedTuple):
    """One picture: what it shows, what is answered or (with "") rubbed out before, the keys struck, and its rows."""

    name: str
    shows: str
    answers: Mapping[str, str]
    keys: tuple[str, ...] = ()
    rows: int = 24


REST = {"frost": "none", "soil": "workable", "standing_water_days": "0", "rot_seen": "no", "curing_place": "ready"}
HILLS = ("2.1 1.2 3.0", "2.4 2.2 1.9", "2.8 2 1.6 3.1")
SCENES = (
    Scene("question", "A question of the interview", {"roots": ""}),
    Scene("verdict", "The verdict, what to do and why", {**REST, "soil_temperature": "60"}, rows=36),
    Scene("test-dig", "Three hills of a test dig", {"roots": ""}, ("t", *HILLS), 34),
    Scene("outlook", "The six weeks ahead", {}, ("o",), 46),
)


def garden(folder: Path) -> Visit:
    """The garden that the README writes down."""
    found = re.search(r"```yaml\n(case: .*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
    assert found is not None, "the README has a case"
    (folder / "garden.yaml").write_text(found[1], encoding="utf-8")
    case = read_case(folder / "garden.yaml")
    return Visit(rulebook_of(case), case)


async def rows_of_demo(*keys: str) -> list[list[Segment]]:
    """The rows of the demo once some keys have been struck."""
    with tempfile.TemporaryDirectory() as folder, open_notebook(Path(folder) / "notebook.sqlite") as notebook:
        demo.fill(notebook)
        app = GardenApp(Garden(notebook, demo.TODAY))
        async with app.run_test(size=(100, 24)) as pilot:
            await pilot.pause()
            for key in keys:
                await strike(pilot, key)
            return [list(strip) for strip in app.screen._compositor.render_strips()]


async def rows_of(scene: Scene) -> list[list[Segment]]:
    """The rows of the screen once the keys of a scene have been struck."""
    with tempfile.TemporaryDirectory() as folder:
        visit = garden(Path(folder))
        for sign, text in scene.answers.items():
            visit = visit.answer(sign, text) if text else visit.forget(sign)
        app = DigDay(Sitting(visit, Path(folder) / "garden.yaml"))
        async with app.run_test(size=(80, scene.rows)) as pilot:
            await pilot.pause()
            for key in scene.keys:
                await strike(pilot, key)
            while isinstance(app.screen, OutlookScreen) and app.screen.ahead is None:
                await pilot.pause(0.05)
            await pilot.pause()
            return [list(strip) for strip in app.screen._compositor.render_strips()]


async def strike(pilot: Pilot[None], key: str) -> None:
    """A key, or a line of text and Enter."""
    await pilot.press(*((key,) if len(key) == 1 else (*key, "enter")))
    await pilot.pause()


def svg(rows: list[list[Segment]], shows: str) -> str:
    """A screen as a picture that needs no fonts or files of its own."""
    width, height = WIDE * sum(part.cell_length for part in rows[0]), HIGH * len(rows)
    ground = _colours(rows[-1][-1].style)[1]
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" role="img" '
        f'aria-label={quoteattr(shows)} font-family="ui-monospace,Menlo,Consolas,monospace" font-size="15">'
    )
    drawn = (mark for number, row in enumerate(rows) for mark in _row(row, number * HIGH, ground))
    return "\n".join((head, f'<rect width="100%" height="100%" fill="{ground}"/>', *drawn, "</svg>")) + "\n"


def words(picture: str) -> list[str]:
    """The texts of a picture from left to right and from top to bottom."""
    return [" ".join(text.split()) for text in re.findall(r"<text[^>]*>(.*?)</text>", picture)]


def _row(row: Iterable[Segment], top: int, ground: str) -> Iterator[str]:
    """The grounds and the texts of a row; what looks alike and stands together is one piece."""
    at = 0
    for style, parts in groupby(row, key=lambda part: part.style):
        text = "".join(part.text for part in parts)
        colour, behind = _colours(style)
        if behind != ground:
            yield f'<rect x="{at * WIDE}" y="{top}" width="{len(text) * WIDE}" height="{HIGH}" fill="{behind}"/>'
        for piece in re.finditer(r"\S+(?: \S+)*", text):
            yield _text(piece[0], (at + piece.start()) * WIDE, top, colour, bold=bool(style and style.bold))
        at += len(text)


def _text(text: str, left: int, top: int, colour: str, *, bold: bool) -> str:
    weight = ' font-weight="bold"' if bold else ""
    fitted = f'textLength="{len(text) * WIDE}" lengthAdjust="spacingAndGlyphs"'
    return f'<text x="{left}" y="{top + 14}" fill="{colour}"{weight} {fitted}>{escape(text)}</text>'


def _colours(style: Style | None) -> tuple[str, str]:
    """The colours of the text and of its ground."""
    assert style is not None, "every part of a screen has a style"
    pair = [part.get_truecolor().hex if part else "#000000" for part in (style.color, style.bgcolor)]
    text, ground = reversed(pair) if style.reverse else pair
    return text, ground


def pictures() -> dict[str, str]:
    """Every picture by its name."""
    drawn = {scene.name: svg(asyncio.run(rows_of(scene)), scene.shows) for scene in SCENES}
    garden = svg(asyncio.run(rows_of_demo()), "Every bed and what it needs next")
    bed = svg(asyncio.run(rows_of_demo("1")), "A bed: nights and roots as pictures, and its story")
    return {"garden": garden, "bed": bed, **drawn}


def main() -> None:
    """Writes all pictures, in many colours whatever the terminal has."""
    os.environ |= {"TERM": "xterm-256color", "COLORTERM": "truecolor"}
    PICTURES.mkdir(exist_ok=True)
    for name, picture in pictures().items():
        (PICTURES / f"{name}.svg").write_text(picture, encoding="utf-8")


if __name__ == "__main__":
    main()
