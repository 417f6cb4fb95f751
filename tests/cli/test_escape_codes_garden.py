"""No text of a notebook steers the terminal or is taken for markup, from any command or page of the garden."""

from __future__ import annotations

import io
import re
import shlex
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from looking import drawn

from assistant.cases.notebooks import import_notebook
from assistant.garden import demo
from assistant.model.notebook import TABLES
from assistant.notebook import open_notebook
from assistant.tui.garden_app import GardenApp
from assistant.tui.garden_page import Garden

from .conftest import Digday

MARKUP = "[red]x[/red] [@click=app.leave]y[/] $ink"
TEXT = f"\u202eowned {MARKUP}\u2066\nfaked"
"""What a notebook takes: it refuses other control characters, but not those that turn text around."""
RAW = "\x1b]0;owned\x07\x1b]8;;http://x\x1b\\\x1b[2J\x9b31m\n\r"
"""What only another program can have written there."""
STEERING = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]")
FREE = {
    "garden": ("name", "note"),
    "bed": ("name", "note"),
    "planting": ("variety", "note"),
    "visit": ("title", "note"),
    "verdict": ("headline",),
    "room": ("name", "note"),
    "dig": ("note",),
    "lot": ("name", "note"),
    "lot_entry": ("note",),
    "air": ("source",),
    "entry": ("says",),
}
"""The columns of free text."""
ON = "--on 2031-10-06"
COMMANDS = (
    f"bed list {ON}",
    f"bed list --json {ON}",
    f"bed list --sheet {ON}",
    f"bed list --sheet html {ON}",
    f"bed show {{bed}} --sheet {ON}",
    f"bed show {{bed}} --sheet html {ON}",
    f"bed show {{bed}} {ON}",
    f"bed show {{bed}} --json {ON}",
    f"bed show nothing {ON}",
    f"bed add {{bed}} {ON}",
    f"bed plant {{bed}} {{bed}} {ON}",
    f"bed dig {{bed}} {{bed}} {ON}",
    f"bed air {{bed}} {{bed}} {ON}",
    f"bed note {{bed}} {{bed}} {ON}",
    f"bed store {{bed}} {ON}",
    f"bed frost {{bed}} {ON}",
    f"bed frost 31F {ON}",
    f"bed frost 31F --json {ON}",
    f"bed remove {{bed}} {ON}",
    f"bed remove {{bed}} --yes {ON}",
    f"bed undo {ON}",
    *(f"bed show {{bed}} {number} {ON}" for number in (1, 2)),
    f"bed show {{bed}} 1 --json {ON}",
    *(f"bed change {{bed}} {number} {{bed}} {ON}" for number in (1, "1.vines", "1.{bed}")),
    *(f"bed remove {{bed}} {number} {ON}" for number in (1, 2, "1.vines", "{bed}")),
    *(f"bed remove {{bed}} {number} --yes {ON}" for number in (1, 2, "1.vines", "1.{bed}")),
    *(f"bed {way} {{bed}} {{bed}} {ON}" for way in ("rename", "size", "move")),
    "garden list",
    "garden list --json",
    *(f"garden {way} {{bed}}" for way in ("add", "choose", "remove", "remove --yes")),
    *(f"garden {way} {{bed}} us" for way in ("rename", "units", "frost", "frost --last")),
    f"visit {{bed}} --plain {ON}",
    "notebook check",
    "notebook check --json",
    "notebook export",
    "notebook export --json",
    *(f"notebook export --csv {table}" for table in TABLES),
    "notebook export --csv {bed}",
    "advise {bed}",
)


def a_notebook(invented: Path, path: Path, text: str) -> str:
    """The invented garden with a text before all of its own; the name of its first bed then."""
    shutil.copy(invented, path)
    with closing(sqlite3.connect(path)) as connection, connection:
        for table, columns in FREE.items():
            for column in columns:
                connection.execute(f'UPDATE "{table}" SET "{column}" = ? || "{column}"', (text,))
        return str(connection.execute("SELECT name FROM bed").fetchone()[0])


@pytest.mark.parametrize("text", [TEXT, RAW], ids=["kept", "raw"])
@pytest.mark.parametrize("command", COMMANDS)
def test_no_text_of_a_notebook_steers_the_terminal_from_a_command(
    digday: Digday, invented: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str, text: str
) -> None:
    path = tmp_path / "garden.sqlite"
    bed = a_notebook(invented, path, text)
    monkeypatch.setattr("sys.stdin", io.StringIO("?\nback\ndig x\ndone\n"))
    words = [bed if word == "{bed}" else word for word in shlex.split(command)]
    keep = () if words[0] == "advise" else ("--notebook", path)
    _, out, err = digday(*words, *keep)
    assert "inside the program" not in err
    assert out + err
    assert not STEERING.search(out + err), STEERING.findall(out + err)
    if words[1] != "export" and "html" not in words:
        assert "\nfaked" not in out + err, "a name is no line of its own"


@pytest.mark.parametrize("form", ["yaml", "json"])
def test_an_export_is_escaped_and_imports_to_the_equal_text(
    digday: Digday, invented: Path, tmp_path: Path, form: str
) -> None:
    path, again = tmp_path / "garden.sqlite", tmp_path / "again.sqlite"
    a_notebook(invented, path, TEXT)
    _, out, _ = digday("notebook", "export", *(["--json"] if form == "json" else []), "--notebook", path)
    assert not STEERING.search(out)
    (tmp_path / f"all.{form}").write_text(out, encoding="utf-8")
    import_notebook(tmp_path / f"all.{form}", again)
    with open_notebook(path) as before, open_notebook(again) as after:
        assert {table: after.rows(table) for table in TABLES} == {table: before.rows(table) for table in TABLES}


PAGES = {
    "garden": (),
    "bed": ("1",),
    "pictures of a bed": ("2", "i"),
    "visit of a bed": ("1", "1"),
    "entry to be changed": ("1", "c"),
    "entry to be taken out": ("1", "x"),
    "answer to be changed": ("1", "1", "down", "c"),
    "gardens": ("g", "down"),
    "garden to be changed": ("g", "down", "c"),
    "garden taken out": ("g", "down", "x", "y"),
    "line": ("d",),
    "refused": ("r",),
    "question before taking out": ("x",),
    "visit": ("down", "v"),
    "page so far": ("down", "v", "p"),
    "verdict": ("down", "v", "v"),
    "undone": ("d", "enter", "u"),
    "dug": ("d", "enter"),
}


@pytest.mark.parametrize("page", PAGES)
async def test_no_text_of_a_notebook_steers_the_terminal_from_a_page(invented: Path, tmp_path: Path, page: str) -> None:
    a_notebook(invented, tmp_path / "garden.sqlite", TEXT)
    with open_notebook(tmp_path / "garden.sqlite") as notebook:
        app = GardenApp(Garden(notebook, demo.TODAY))
        async with app.run_test(size=(120, 40)) as pilot:
            for key in PAGES[page]:
                await pilot.press(key)
                await pilot.pause()
            text = "".join(segment.text for segment in drawn(app))
    assert not STEERING.search(text), STEERING.findall(text)
    assert "owned" in text
    assert "[red]x[/red]" in " ".join(text.split()), "markup is shown as it was written"
