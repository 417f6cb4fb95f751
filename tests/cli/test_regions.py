"""Rulebooks that build on another, as growers meet them: the reasons for what is otherwise are told."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from assistant.rulebook import shipped_folder

from .conftest import Digday

WET = shipped_folder("scenarios") / "mild-maritime" / "07-mild-wet-ready-roots.yaml"
REASON = "Otherwise here: Soil that is cold as well as wet does not drain before spring here."


def _unwrapped(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("command", ["advise", "why"])
def test_the_reason_why_a_rule_is_otherwise_is_told_with_the_advice(digday: Digday, command: str) -> None:
    assert REASON in _unwrapped(digday(command, WET)[1])


def test_a_rule_as_in_the_rulebook_below_has_no_such_reason(digday: Digday, tmp_path: Path) -> None:
    case = WET.read_text(encoding="utf-8").replace("mild-maritime", "when-to-dig")
    (tmp_path / "wet.yaml").write_text(case, encoding="utf-8")
    told = digday("advise", "wet.yaml")[1]
    assert "wait-for-drainage" in told
    assert "Otherwise here" not in told


def test_showing_a_rulebook_tells_what_is_otherwise_and_what_does_not_hold(digday: Digday) -> None:
    told = _unwrapped(digday("rulebook", "show", "sweetpotato/short-season")[1])
    assert "Otherwise than in sweetpotato/when-to-dig" in told
    assert "season-used-up: Ontario counts 95 to 130 days from planting." in told
    assert "small-in-cooling-soil does not hold: It looks at small roots" in told


def test_the_same_is_told_to_other_programs(digday: Digday) -> None:
    book = json.loads(digday("rulebook", "show", "sweetpotato/mild-maritime", "--json")[1])
    assert book["builds_on"] == "sweetpotato/when-to-dig"
    assert [rule["name"] for rule in book["silenced"]] == ["heat-sum-reached"]
    assert {rule["name"] for rule in book["rules"] if rule["because"]} >= {"no-cue", "warm-nights"}


def test_a_visit_starts_with_the_rulebook_of_a_region(digday: Digday, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("?\ndone\n"))
    digday("visit", "--plain", "--rulebook", "sweetpotato/short-season", "--save", "monday.yaml", "--on", "2031-09-10")
    assert "rulebook: sweetpotato/short-season" in Path("monday.yaml").read_text(encoding="utf-8")
