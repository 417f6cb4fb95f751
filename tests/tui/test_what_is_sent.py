"""What a terminal really gets from the running garden: no text of the notebook steers it, and none is markup."""

from __future__ import annotations

import re
import sqlite3
from codecs import getincrementaldecoder
from contextlib import closing
from pathlib import Path

from killed_screens import Screen, Stroke

from assistant.garden import demo
from assistant.notebook import open_notebook

TURNED = "\u202eowned\u2066\u200f [red]x[/red] [@click=app.leave]y[/] "
OUR_OWN = re.compile(r"\x1b(\[[0-9;:?>=<$]*[A-Za-z$]|[78=>]|\]22;[a-z-]*\x07)|\x1b[\[\]]?[0-9;:?a-z]{0,20}\Z")
"""Moves, styles and modes, and the shape of the pointer: all that the screen itself sends; the last was cut off."""
STEERING = re.compile("[\x00-\x06\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]")


def test_no_text_of_a_notebook_is_sent_as_more_than_text(tmp_path: Path) -> None:
    path = tmp_path / "garden.sqlite"
    with open_notebook(path) as notebook:
        demo.fill(notebook)
    with closing(sqlite3.connect(path)) as connection, connection:
        for table, column in (("bed", "name"), ("lot", "name"), ("visit", "title"), ("verdict", "headline")):
            connection.execute(f'UPDATE "{table}" SET "{column}" = ? || "{column}"', (TURNED,))
    screen = Screen(path)
    screen.press(Stroke("n", "What is it called?"))
    screen.press(Stroke("\x1b[200~\x1b]0;owned\x07\x9bowned\u202e\x1b[201~\r", "#1#"))
    screen.press(Stroke("v", "answered"))
    screen.press(Stroke("v", "Verdict"))
    screen.press(Stroke("q", "#2#"))
    screen.kill(Stroke("", ""), 0)
    sent = OUR_OWN.sub("", getincrementaldecoder("utf-8")().decode(screen.sent))
    assert not STEERING.search(sent), STEERING.findall(sent)
    assert "[red]x[/red] [@click=app.leave]y[/]" in sent.replace("\n", "")
