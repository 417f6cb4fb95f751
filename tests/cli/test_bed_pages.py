"""A bed's pictures as text, and the pages that are printed from the notebook by commands."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from assistant.cli import main
from assistant.garden import demo

ON = ("--on", demo.TODAY.isoformat())


class Hand:
    """Types commands on the invented garden."""

    def __init__(self, path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.path, self._capsys = path, capsys

    def __call__(self, *words: str, code: int = 0) -> str:
        """What a command says; on standard error when there is nothing."""
        self._capsys.readouterr()
        assert main([*words, *ON, "--notebook", str(self.path)]) == code, words
        said = self._capsys.readouterr()
        return said.err if code else said.out


@pytest.fixture
def hand(invented: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Hand:
    monkeypatch.setenv("COLUMNS", "80")
    shutil.copy(invented, tmp_path / "garden.sqlite")
    return Hand(tmp_path / "garden.sqlite", capsys)


def test_a_bed_is_shown_with_its_pictures_and_with_all_of_them_in_words(hand: Hand) -> None:
    said = hand("bed", "show", "River")
    lines = said.splitlines()
    assert max(map(len, lines)) <= 80
    assert "    32 │┄freeze" in said
    assert "33○" in next(line for line in lines if line.startswith("    32 │"))
    for words in (
        "4 Oct: nights of the past week 47 °F.",
        "Lowest forecast 33 °F, 6 Oct.",
        "Roots by size (in): 1 of 1¼ to 1½, 1 of 1½ to 1¾, 2 of 1¾ to 2",
        "the average root widened by 0.051 in a day",
    ):
        assert words in " ".join(said.split())
    assert said.index("Nights, °F") < said.index("Planted Beauregard")


def test_the_air_of_a_cure_and_a_store_is_drawn_against_what_is_wanted(hand: Hand) -> None:
    assert "Warmth: 4 readings, 30 Sep to 3 Oct: 82 to 85 °F, all inside the 80 to 90 wanted" in " ".join(
        hand("bed", "show", "Gate").split()
    )
    said = hand("bed", "show", "Well")
    assert "3 of them outside the 55 to 60 wanted" in " ".join(said.split())
    assert "░" in said


def test_the_same_for_other_programs(hand: Hand) -> None:
    told = json.loads(hand("bed", "show", "Gate", "--json"))["pictures"]
    assert [picture["heading"].split(",")[0] for picture in told] == ["Warmth", "Damp"]
    assert told[0]["of"] == "Curing place since 30 Sep"
    assert json.loads(hand("bed", "show", "Old", "--json"))["pictures"] == []


def test_the_garden_is_printed_as_text_html_and_data(hand: Hand) -> None:
    said = hand("bed", "list", "--sheet")
    assert said.startswith("Otter Bend: what each bed needs\nSaturday 4 October 2031.")
    assert max(map(len, said.splitlines())) <= 80
    assert "<h1>Otter Bend: what each bed needs</h1>" in hand("bed", "list", "--sheet", "html")
    sections = json.loads(hand("bed", "list", "--sheet", "--json"))["sections"]
    assert sections[0]["table"]["rows"][0] == ["River bed", "dig", "Dig before the frost", "Mon 6 Oct", ""]


def test_a_bed_is_printed_by_its_stage(hand: Hand) -> None:
    assert hand("bed", "show", "River", "--sheet").startswith("Dig day: River bed")
    assert "<h1>Curing: Gate bed 2031</h1>" in hand("bed", "show", "Gate", "--sheet", "html")
    assert hand("bed", "show", "Well", "--sheet").startswith("Plan for the store: Well bed 2031")


def test_where_there_is_no_page_yet_the_answer_is_no(hand: Hand) -> None:
    assert hand("bed", "show", "Old", "--sheet", code=1).startswith("Old bed has no page while it is resting")
