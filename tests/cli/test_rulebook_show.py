"""What `rulebook show` tells of a rulebook: its promises, and what a region has otherwise and why."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from .conftest import Digday

VARIANT = """\
rulebook: trial/mine
title: A variant
version: "1.0"
format: 1
about: Invented, for tests only.
builds_on: sweetpotato/when-to-dig
changes:
  rules:
    late-season: {when: {days_to_first_frost: {at_most: 21}}, because: Autumn comes fast., sources: [R26]}
  signs:
    roots: {effort: stoop, because: The beds are raised., sources: common practice}
  tables:
    varieties: {beauregard: {days: 95..115, because: Summers are cool., sources: [R26]}}
silences:
  rain-coming: {because: It rains all autumn., sources: [R26]}
"""


@pytest.fixture
def variant(tmp_path: Path) -> str:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "rulebook.yaml").write_text(VARIANT, encoding="utf-8")
    return str(tmp_path / "mine")


def shown(digday: Digday, name: str) -> str:
    return " ".join(digday("rulebook", "show", name)[1].split())


def test_every_change_is_shown_with_its_reason_and_sources(digday: Digday, variant: str) -> None:
    told = shown(digday, variant)
    assert "Otherwise than in sweetpotato/when-to-dig" in told
    assert f"- late-season: Autumn comes fast. R26; {variant}/rulebook.yaml:9:5" in told
    assert "- roots: The beds are raised. common practice;" in told
    assert "- Beauregard in varieties: Summers are cool. R26;" in told
    assert "- rain-coming does not hold: It rains all autumn. R26;" in told


def test_a_rulebook_that_builds_on_none_shows_no_changes(digday: Digday) -> None:
    assert "Otherwise" not in shown(digday, "sweetpotato/when-to-dig")


def test_promises_and_urgency_are_shown(digday: Digday) -> None:
    told = shown(digday, "sweetpotato/when-to-dig")
    assert "- dig-at-once: Dig at once (urgency 6)" in told
    assert "roots: too-small < right < too-big; R07a, R42, R106" in told
    assert "forecast_low: lower; W01, W02, R16" in told


def test_other_programs_get_the_same(digday: Digday, variant: str) -> None:
    book = json.loads(digday("rulebook", "show", variant, "--json")[1])
    assert [change["name"] for change in book["changed"]] == ["late-season", "roots", "Beauregard in varieties"]
    assert {"name": "wait", "headline": "Wait, and look again", "urgency": 0} in book["advice"]
    colder = {"name": "colder-forecast", "sign": "forecast_low", "presses": ["lower"]}
    assert colder.items() <= book["directions"][0].items()
