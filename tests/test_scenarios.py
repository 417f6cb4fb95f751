"""The shipped scenarios: each does what it says, and together they show every rule firing and staying silent."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.cases import find_scenarios, read_case, run_case
from assistant.model.case import Expected
from assistant.model.rules import COMMON_PRACTICE
from assistant.rulebook import read_rulebook, shipped_folder

NAME = "sweetpotato/when-to-dig"
FOLDER = shipped_folder("scenarios") / "when-to-dig"
FILES = find_scenarios([FOLDER])
RULEBOOK = read_rulebook(NAME)
RULES = tuple(rule.name for rule in RULEBOOK.rules)


def _expected(path: Path) -> Expected:
    expected = read_case(path).expected
    assert expected is not None, f"{path.name} expects nothing"
    return expected


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_scenario_does_what_it_says(path: Path) -> None:
    assert run_case(path).failures == ()


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_scenario_names_its_advice_and_its_sources(path: Path) -> None:
    case = read_case(path)
    assert _expected(path).advice in RULEBOOK.advice
    assert case.sources
    assert set(case.sources) <= {*RULEBOOK.sources, COMMON_PRACTICE}


def test_there_are_at_least_forty_scenarios_numbered_without_gaps() -> None:
    numbers = [int(path.stem.split("-")[0]) for path in FILES]
    assert numbers == list(range(1, len(FILES) + 1))
    assert len(FILES) >= 40


def test_no_two_scenarios_have_the_same_title() -> None:
    titles = [read_case(path).title for path in FILES]
    assert len(titles) == len(set(titles))


def test_every_rule_fires_in_some_scenario() -> None:
    shown = {name for path in FILES for name in _expected(path).fired or ()}
    assert [name for name in RULES if name not in shown] == []


def test_every_rule_stays_silent_in_some_scenario() -> None:
    shown = {name for path in FILES for name in _expected(path).not_fired or ()}
    assert [name for name in RULES if name not in shown] == []


def test_every_kind_of_advice_is_given_in_some_scenario() -> None:
    given = {_expected(path).advice for path in FILES}
    assert [name for name in RULEBOOK.advice if name not in given] == []


def test_every_disagreement_is_shown_in_some_scenario() -> None:
    shown = {name for path in FILES for name in _expected(path).disagreements or ()}
    assert [name for name in RULEBOOK.disagreements if name not in shown] == []
