"""A file that cannot be written costs no answer and is told in one sentence."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest
from textual.widgets import Static
from walking import press

from assistant.cases import read_case, save_case
from assistant.model.case import Case
from assistant.season import Visit
from assistant.tui.app import DigDay
from assistant.tui.sitting import Sitting

SIZE = (80, 24)


class Disk:
    """A disk that can be full."""

    def __init__(self) -> None:
        self.full = True

    def save(self, case: Case, path: Path) -> None:
        if self.full:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(path))
        save_case(case, path)


async def test_a_full_disk_is_one_sentence_and_the_next_answer_saves_both(visit: Visit, tmp_path: Path) -> None:
    disk, case_file = Disk(), tmp_path / "g.yaml"
    notebook = DigDay(Sitting(visit, case_file, disk.save))
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "question_mark")
        said = str(notebook.screen.query_one("#so-far", Static).visual)
        assert said == (
            f"Not saved to {case_file}: no space left on device. Your answers are kept here; the next one tries again."
        )
        disk.full = False
        await press(pilot, "question_mark")
        assert not notebook.sitting.trouble
        assert set(read_case(case_file).answers) == set(notebook.sitting.visit.answered)
        assert len(notebook.sitting.visit.answered) == 2


async def test_leaving_with_unsaved_answers_asks_once_more(visit: Visit, tmp_path: Path) -> None:
    notebook = DigDay(Sitting(visit, tmp_path / "g.yaml", Disk().save))
    async with notebook.run_test(size=SIZE) as pilot:
        await pilot.press("question_mark", "q")
        await pilot.pause()
        assert notebook.is_running
        await pilot.press("q")
        await pilot.pause()
        assert not notebook.is_running


def test_a_folder_that_is_gone_is_told_and_the_case_is_printed_on_leaving(
    visit: Visit, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sitting = Sitting(visit, tmp_path / "gone" / "g.yaml")
    sitting.answer("can't tell")
    assert "no such file or directory" in sitting.trouble
    sitting.print_what_is_unsaved()
    printed = capsys.readouterr()
    assert "can't tell" in printed.out
    assert printed.err.count("\n") == 1


def test_nothing_is_printed_when_everything_is_saved(
    visit: Visit, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sitting = Sitting(visit, tmp_path / "g.yaml")
    sitting.answer("can't tell")
    sitting.print_what_is_unsaved()
    assert capsys.readouterr() == ("", "")
