"""The rulebook of keeping on the screen: the same interview as for digging, with no code of its own."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from walking import says, walk

from assistant.cases import read_case
from assistant.model.case import Case
from assistant.rulebook import read_rulebook
from assistant.season import Visit
from assistant.tui.app import DigDay
from assistant.tui.sitting import Sitting
from assistant.tui.verdict import VerdictScreen

NAME = "sweetpotato/keeping"
ROTTEN = {"spoilage": "dark-spots", "store_low": "56", "froze": "no"}


async def test_a_lot_is_walked_through_to_its_verdict_and_saved(tmp_path: Path) -> None:
    path = tmp_path / "lot.yaml"
    notebook = DigDay(Sitting(Visit(read_rulebook(NAME), Case("The cellar", NAME, date(2032, 1, 15))), path))
    async with notebook.run_test(size=(80, 24)) as pilot:
        await walk(pilot, notebook, ROTTEN)
        assert isinstance(notebook.screen, VerdictScreen)
        assert says(notebook, "#headline") == "Contain the rot today"
    assert {name: known.written for name, known in read_case(path).answers.items()} == ROTTEN
