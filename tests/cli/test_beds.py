"""All that the garden's screen does, a line at a time."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hands import Hand

from assistant.model.notebook import AnswerRow, VerdictRow
from assistant.notebook import open_notebook


@pytest.fixture
def hand(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Hand:
    return Hand(tmp_path / "garden.sqlite", capsys)


def test_a_season_of_a_bed_in_plain_lines(hand: Hand) -> None:
    assert "No beds yet" in hand("--plain")
    hand("bed", "add", "North bed")
    hand("bed", "plant", "North", "2031-06-20, Beauregard", "--on", "2031-06-21")
    assert "North bed (growing): First look at the bed, by 2031-09-08." in hand("bed", "list", "--on", "2031-06-21")
    assert "Dig before the frost" in hand("bed", "frost", "29 F", "--on", "2031-10-04")
    hand("bed", "dig", "North", "96 lb", "--on", "2031-10-05")
    hand("bed", "air", "North", "84 F 88 %", "--on", "2031-10-05")
    assert "Day 2 of the cure" in hand("bed", "list", "--on", "2031-10-06")
    hand("bed", "store", "North", "--on", "2031-10-12")
    hand("bed", "note", "North", "used 3 lb", "--on", "2031-11-01")
    told = json.loads(hand("bed", "show", "North", "--json", "--on", "2031-11-01"))
    assert told["stage"] == "keeping"
    assert [each["day"] for each in told["story"]] == sorted((each["day"] for each in told["story"]), reverse=True)
    assert "Undone: North bed 2031 used." in hand("bed", "undo")


def test_taking_a_bed_out_says_what_goes_and_does_nothing_without_yes(hand: Hand) -> None:
    hand("bed", "add", "North bed")
    hand("bed", "plant", "North", "2031-06-20", "--on", "2031-06-21")
    assert "1 planting" in hand("bed", "remove", "North", code=2)
    assert "North bed" in hand("bed", "list")
    hand("bed", "remove", "North", "--yes")
    assert "No beds yet" in hand("bed", "list")
    hand("bed", "undo")
    assert "North bed" in hand("bed", "list")


def test_a_plain_visit_to_a_bed_is_kept_in_the_notebook(hand: Hand, monkeypatch: pytest.MonkeyPatch) -> None:
    hand("bed", "add", "North bed")
    hand("bed", "plant", "North", "2031-06-20", "--on", "2031-06-21")
    answers = iter(["?", "?", "done"])
    monkeypatch.setattr("builtins.input", lambda prompt="": next(answers))
    assert str(hand.path) in hand("visit", "North", "--plain", "--on", "2031-10-04").split()
    with open_notebook(hand.path) as notebook:
        assert len(notebook.all(AnswerRow)) == 3  # the day of planting, and two that cannot be told
        assert len(notebook.all(VerdictRow)) == 1


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("bed", "dig", "South"), "is no bed"),
        (("bed", "dig", "North"), "nothing grows"),
        (("bed", "add", "north bed"), "already"),
        (("bed", "frost", "cold"), "no bed has roots"),
        (("bed", "list", "--on", "soon"), "not a date"),
        (("visit", "North", "--plain", "--case", "x.yaml"), "leave --case out"),
    ],
)
def test_a_command_that_cannot_be_done_says_why(hand: Hand, words: tuple[str, ...], why: str) -> None:
    hand("bed", "add", "North bed")
    assert why in hand(*words, code=2)
