"""The shipped scenarios: each does what it says, and together they show every rule firing and staying silent.

A rulebook that builds on another need show only what it adds or changes; the rest is shown for the one below.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from assistant.cases import find_scenarios, read_case, rulebook_of, run_case
from assistant.model.case import Expected
from assistant.model.place import Place
from assistant.model.rules import COMMON_PRACTICE, Rulebook
from assistant.rulebook import read_rulebook, shipped_folder, shipped_rulebooks
from assistant.season import advise

FOLDER = shipped_folder("scenarios")
FILES = find_scenarios([FOLDER])
NAMES = shipped_rulebooks()
LEAST = {"sweetpotato/when-to-dig": 40, "sweetpotato/keeping": 20, "sweetpotato/next-year": 20}
"""Scenarios; a dozen for a rulebook that builds on another."""


def _files(name: str) -> tuple[Path, ...]:
    return tuple(path for path in FILES if path.parent.name == name.rpartition("/")[2])


def _expected(path: Path) -> Expected:
    expected = read_case(path).expected
    assert expected is not None, f"{path.name} expects nothing"
    return expected


def _own(book: Rulebook, places: Mapping[str, Place]) -> list[str]:
    """The names that stand in the rulebook's own folder."""
    home = Path(book.place.file).parent
    return [name for name, place in places.items() if Path(place.file).parent == home]


def _own_rules(book: Rulebook) -> list[str]:
    return _own(book, {rule.name: rule.place for rule in book.rules})


def _named(name: str, key: str) -> set[str]:
    """What the scenarios of a rulebook name under a key of what they expect."""
    return {found for path in _files(name) for found in getattr(_expected(path), key) or ()}


def test_every_scenario_lies_in_the_folder_of_its_rulebook() -> None:
    assert [path for path in FILES if read_case(path).rulebook.rpartition("/")[2] != path.parent.name] == []
    assert {path.parent for path in FILES} == {FOLDER / name.rpartition("/")[2] for name in NAMES}


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_the_scenario_does_what_it_says(path: Path) -> None:
    assert run_case(path).failures == ()


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_the_scenario_names_its_advice_and_its_sources(path: Path) -> None:
    case = read_case(path)
    book = rulebook_of(case)
    assert _expected(path).advice in book.advice
    assert case.sources
    assert set(case.sources) <= {*book.sources, COMMON_PRACTICE}


@pytest.mark.parametrize("name", NAMES)
def test_there_are_scenarios_enough_numbered_without_gaps(name: str) -> None:
    numbers = sorted(int(path.stem.split("-")[0]) for path in _files(name))
    assert numbers == list(range(1, len(numbers) + 1))
    assert len(numbers) >= LEAST.get(name, 12)


def test_no_two_scenarios_have_the_same_title() -> None:
    titles = [read_case(path).title for path in FILES]
    assert len(titles) == len(set(titles))


@pytest.mark.parametrize("name", NAMES)
def test_every_rule_fires_in_some_scenario(name: str) -> None:
    shown = _named(name, "fired")
    assert [rule for rule in _own_rules(read_rulebook(name)) if rule not in shown] == []


@pytest.mark.parametrize("name", NAMES)
def test_every_rule_stays_silent_in_some_scenario(name: str) -> None:
    shown = _named(name, "not_fired")
    assert [rule for rule in _own_rules(read_rulebook(name)) if rule not in shown] == []


def test_every_kind_of_advice_is_given_in_some_scenario() -> None:
    given = {(read_case(path).rulebook, _expected(path).advice) for path in FILES}
    assert [item for item in _own_advice() if item not in given] == []


def _own_advice() -> Iterator[tuple[str, str]]:
    for name in NAMES:
        book = read_rulebook(name)
        yield from ((name, kind) for kind in _own(book, {kind.name: kind.place for kind in book.advice.values()}))


@pytest.mark.parametrize("name", NAMES)
def test_every_disagreement_is_shown_in_some_scenario(name: str) -> None:
    book, shown = read_rulebook(name), _named(name, "disagreements")
    own = _own(book, {each.name: each.place for each in book.disagreements.values()})
    assert [disagreement for disagreement in own if disagreement not in shown] == []


@pytest.mark.parametrize("name", [name for name in NAMES if read_rulebook(name).builds_on])
def test_every_silenced_rule_would_have_fired_in_some_scenario(name: str) -> None:
    book = read_rulebook(name)
    silenced = {rule for path in _files(name) for rule in _fired_below(book, path) if rule in book.silenced}
    assert silenced == set(book.silenced)


def _fired_below(book: Rulebook, path: Path) -> tuple[str, ...]:
    """The rules that fire when the rulebook below is held against the case."""
    return tuple(advise(read_rulebook(book.builds_on), read_case(path)).derivation.fired)
