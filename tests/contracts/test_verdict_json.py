"""The keys of `advise --json`, which other programs read; adding keys is allowed, changing these is not."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from assistant.cli import main

KEYS: dict[str, type | tuple[type, ...]] = {
    "case": str,
    "rulebook": dict,
    "on": str,
    "outcome": str,
    "advice": (str, type(None)),
    "headline": str,
    "act_by": (str, type(None)),
    "look_again": (str, type(None)),
    "findings": list,
    "fired": list,
    "decided_by": list,
    "would_change": list,
    "cautions": list,
    "disagreements": list,
    "sources": list,
    "questions_left": list,
}
INNER = {
    "findings": {"finding", "value", "rule"},
    "would_change": {"sign", "from", "to", "then"},
    "cautions": {"id", "text"},
    "disagreements": {"about", "sides", "taken"},
    "sources": {"id", "title", "year", "how"},
}
CASE = """\
case: Green vines, a frost ahead
rulebook: sweetpotato/when-to-dig
on: 2031-10-04
garden: {first_frost: {p10: 10-08, p50: 10-20, p90: 11-02}}
signs:
  planted_on: about 2031-06-20
  variety: beauregard
  vines: yellowing
  recent_nights: 44 F
  forecast_low: 29..34 F
  forecast_low_in: 2
  frost: light
  roots: right
  soil_temperature: 52 F
"""


@pytest.fixture
def verdict(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """The verdict on a case with much to say."""
    path = tmp_path / "case.yaml"
    path.write_text(CASE, encoding="utf-8")
    assert main(["advise", str(path), "--json"]) == 0
    data: dict[str, Any] = json.loads(capsys.readouterr().out)
    return data


def test_the_verdict_has_every_key_of_the_contract_with_its_type(verdict: dict[str, Any]) -> None:
    assert set(KEYS) <= set(verdict)
    for key, kind in KEYS.items():
        assert isinstance(verdict[key], kind), key


def test_the_entries_of_each_list_have_the_keys_of_the_contract(verdict: dict[str, Any]) -> None:
    for key, inner in INNER.items():
        for entry in verdict[key]:
            assert inner <= set(entry), key
    assert {"name", "version", "digest"} <= set(verdict["rulebook"])
    for disagreement in verdict["disagreements"]:
        assert all({"says", "sources"} <= set(side) for side in disagreement["sides"])


def test_days_are_iso_dates_and_the_outcome_is_one_of_four(verdict: dict[str, Any]) -> None:
    assert verdict["outcome"] in {"settled", "open", "no-advice", "conflict"}
    for key in ("on", "act_by", "look_again"):
        assert verdict[key] is None or date.fromisoformat(verdict[key])


def test_the_verdict_says_something_in_each_list_that_this_case_fills(verdict: dict[str, Any]) -> None:
    for key in ("findings", "fired", "decided_by", "sources", "disagreements"):
        assert verdict[key], key
    assert set(verdict["decided_by"]) <= set(CASE.replace(":", " ").split())
