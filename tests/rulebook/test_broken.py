"""Every folder under broken/ is a small rulebook or case with one thing wrong, beside the full text that meets it."""

import ast
import re
from pathlib import Path

import pytest

from assistant.model.place import BadInput, Problem
from assistant.rulebook import check_case_shape, check_rulebook, read_document, read_rulebook, render_problem

BROKEN = Path(__file__).parent / "broken"
FOLDERS = sorted(path.name for path in BROKEN.iterdir() if path.is_dir())


def expected_text(folder: str) -> str:
    path = BROKEN / folder / "expected.txt"
    assert path.exists(), f"{folder} lacks its expected.txt"
    return path.read_text(encoding="utf-8")


def problems_in(folder: str) -> tuple[Problem, ...]:
    case = Path(folder, "case.yaml")
    if not case.exists():
        return check_rulebook(folder)
    try:
        return check_case_shape(read_document(case))
    except BadInput as error:
        return error.problems


@pytest.mark.parametrize("folder", FOLDERS)
def test_a_broken_file_is_met_with_exactly_the_expected_text(
    folder: str, parser: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(BROKEN)
    rendered = "\n\n".join(render_problem(problem) for problem in problems_in(folder)) + "\n"
    assert rendered == expected_text(folder)


def test_there_are_broken_files_at_all() -> None:
    assert len(FOLDERS) > 50


ROOM = Path(__file__).parents[2] / "assistant" / "rulebook"
NOTING = {"note", "refuse", "problem", "Problem", "_stop", "_note", "_among", "knows"}
# These are tested in test_documents.py and test_shipped.py, on files that cannot lie in a folder here.
ELSEWHERE = {
    *("no-file", "not-a-file", "unreadable", "too-big", "empty-file", "wrong-encoding", "not-text"),
    *("unknown-rulebook", "not-a-rulebook"),
}


def codes_shown(folder: str) -> set[str]:
    """The codes at the ends of the first lines of problems."""
    return set(re.findall(r"^\S.*\[([a-z-]+)\]$", expected_text(folder), re.MULTILINE))


def codes_in(call: ast.Call) -> set[str]:
    """The code words among a call's first arguments."""
    words = (node.value for argument in call.args[:3] for node in ast.walk(argument) if isinstance(node, ast.Constant))
    return {word for word in words if isinstance(word, str) and re.fullmatch("[a-z]+(?:-[a-z]+)+|alias|tag", word)}


def codes_in_the_source() -> set[str]:
    found: set[str] = set()
    for path in ROOM.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "attr", getattr(node.func, "id", "")) in NOTING:
                found |= codes_in(node)
    return (
        found
        | {"no-source", "missing-key"}
        | {f"unknown-{noun}" for noun in ("table", "row", "sign", "rule", "disagreement", "advice")}
    )


def test_every_kind_of_problem_has_a_broken_file() -> None:
    shown = {code for folder in FOLDERS for code in codes_shown(folder)}
    assert codes_in_the_source() - ELSEWHERE == shown


@pytest.mark.parametrize(
    "folder", [folder for folder in FOLDERS if not folder.startswith(("excerpt", "several", "unread"))]
)
def test_a_broken_folder_is_named_after_the_only_kind_of_problem_it_shows(folder: str) -> None:
    codes = codes_shown(folder)
    assert len(codes) == 1
    assert folder.startswith(codes.pop())


def test_reading_a_broken_rulebook_raises_what_checking_it_finds(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(BROKEN)
    with pytest.raises(BadInput) as refusal:
        read_rulebook("several-at-once")
    assert refusal.value.problems == check_rulebook("several-at-once")
    assert len(refusal.value.problems) > 4
