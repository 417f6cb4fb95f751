"""A stranger's rulebook is refused, or held within bounds of steps: calls of Python functions, and letters told."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

import pytest
from bombs import (
    BOMBS,
    HEADING,
    all_combinations,
    deep_negations,
    long_chain,
    long_words,
    many_alternatives,
    many_choices,
    many_thresholds,
    wide_findings,
    write,
)

from assistant.model.place import BadInput
from assistant.rulebook import read_rulebook
from assistant.rulebook.documents import MOST_PROBLEMS
from assistant.rulebook.sizes import BIGGEST_FOLDER, MOST_FILES

from .conftest import Digday

STEPS_TO_REFUSE = 1_500_000
STEPS_TO_ADVISE = 6_000_000
MOST_TOLD = 150_000
"""Letters of a refusal."""
NO_BOMBS = {"deep negations", "long words"}
"""Odd, but small enough to be read."""


class TooManySteps(BaseException):
    """Nothing may swallow it."""


@contextmanager
def steps(most: int) -> Iterator[None]:
    """Stops what takes more calls than that."""
    taken = 0

    def count(frame: FrameType, event: str, arg: object) -> None:
        nonlocal taken
        taken += event == "call"
        if taken > most:
            raise TooManySteps(f"more than {most} calls")

    sys.setprofile(count)
    try:
        yield
    finally:
        sys.setprofile(None)


@pytest.mark.parametrize("name", sorted(BOMBS.keys() - NO_BOMBS))
def test_a_rulebook_made_to_use_up_time_is_refused_in_few_steps(tmp_path: Path, name: str) -> None:
    folder = write(tmp_path, BOMBS[name]()).parent / "question"
    with steps(STEPS_TO_REFUSE), pytest.raises(BadInput) as refused:
        read_rulebook(str(folder))
    assert len(str(refused.value)) < MOST_TOLD
    assert len(refused.value.problems) <= MOST_PROBLEMS + 1


@pytest.mark.parametrize(
    "text",
    [
        deep_negations(),
        long_words(),
        long_chain(299),
        many_choices(200),
        many_thresholds(100),
        wide_findings(99),
        all_combinations(8),
    ],
    ids=["negations", "words", "chain", "choices", "thresholds", "findings", "combinations"],
)
def test_a_rulebook_as_large_as_can_be_is_advised_by_in_few_steps(digday: Digday, tmp_path: Path, text: str) -> None:
    case = write(tmp_path, text)
    with steps(STEPS_TO_ADVISE):
        code, _, err = digday("advise", case)
    assert (code, err) == (0, "")


def test_a_condition_that_falls_apart_is_the_rulebooks_fault_and_told_as_that(digday: Digday, tmp_path: Path) -> None:
    code, out, err = digday("advise", write(tmp_path, many_alternatives(9)))
    assert (code, out) == (2, "")
    assert err.startswith("digday: in the rulebook, bomb: the condition has 256 alternatives")


def test_a_folder_of_too_many_files_is_refused_before_they_are_read(tmp_path: Path) -> None:
    for number in range(MOST_FILES + 1):
        (tmp_path / f"{number}.yaml").write_bytes(b"\0")
    with pytest.raises(BadInput, match=f"holds {MOST_FILES + 1} YAML files"):
        read_rulebook(str(tmp_path))


def test_a_folder_of_too_many_bytes_is_refused_before_they_are_read(tmp_path: Path) -> None:
    for number in range(3):
        (tmp_path / f"{number}.yaml").write_bytes(b"\0" * (BIGGEST_FOLDER // 3 + 1))
    with pytest.raises(BadInput, match=r"has 2\.0 MB"):
        read_rulebook(str(tmp_path))


def test_no_rulebook_runs_code(tmp_path: Path) -> None:
    """Tags that other YAML readers obey are refused, and words of Python stay words."""
    flag = tmp_path / "run"
    for tag in ("!!python/object/apply:os.system", "!!python/object/new:os.system", "!!python/name:os.system"):
        (tmp_path / "rulebook.yaml").write_text(f"{HEADING}signs: {tag} ['touch {flag}']\n", encoding="utf-8")
        with pytest.raises(BadInput, match="asks for more than plain values"):
            read_rulebook(str(tmp_path))
    assert not flag.exists()


def test_the_count_of_steps_stops_what_takes_too_many() -> None:
    with pytest.raises(TooManySteps), steps(100):
        sum(map(lambda number: number, range(200)))
