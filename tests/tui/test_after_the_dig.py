"""The rulebooks for the crop once it is dug, walked on the screen that knows nothing of them."""

from __future__ import annotations

import itertools
from datetime import date
from pathlib import Path

import pytest
from walking import press, says

from assistant.model.case import Case
from assistant.rulebook import read_rulebook
from assistant.season import Visit
from assistant.tui.app import DigDay
from assistant.tui.question import QuestionScreen
from assistant.tui.sitting import Sitting
from assistant.tui.verdict import VerdictScreen


@pytest.mark.parametrize("name", ["sweetpotato/curing"])
async def test_cant_tell_to_everything_reaches_a_verdict(name: str, tmp_path: Path) -> None:
    case = Case("A closet", name, date(2031, 10, 10))
    notebook = DigDay(Sitting(Visit(read_rulebook(name), case), tmp_path / "closet.yaml"))
    async with notebook.run_test(size=(80, 24)) as pilot:
        for _ in itertools.takewhile(lambda _: isinstance(notebook.screen, QuestionScreen), range(50)):
            await press(pilot, "question_mark")
        assert isinstance(notebook.screen, VerdictScreen)
        assert says(notebook, "#headline") == "Hang a thermometer among the roots and read it"
