"""`rulebook check`: text, lines and JSON, the examples as files, and the manual."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.proofs import codes
from assistant.proofs.manual import manual_folder

from .conftest import Digday


@pytest.fixture
def book(tmp_path: Path) -> Callable[[str], str]:
    """A rulebook of the manual, copied beside the working folder."""

    def copy(code: str, which: str = "bad") -> str:
        shutil.copytree(manual_folder() / code / which, tmp_path / "onions")
        return "onions"

    return copy


def test_the_text_has_the_place_the_lines_the_hint_and_an_example(digday: Digday, book: Callable[[str], str]) -> None:
    code, out, err = digday("rulebook", "check", book("finding-clash"))
    assert (code, err) == (1, "")
    start = """\
onions/rulebook.yaml:35:3: The finding 'ripe' comes to both yes (rule 'ripe') and no (rule 'unripe'). [finding-clash]
  34 |     sources: common practice
  35 |   unripe:
     |   ^
  Narrow one of the two rules until no garden meets both.
  For example, tops: falling; neck: thick
onions: 1 problem.
"""
    assert out.startswith(start)
    assert "  proved: Every rule fires in some garden.\n" in out
    assert "  not proved: Every rule has a scenario where it fires" in out
    assert "there are no scenarios yet" in " ".join(out.split()).lower()


def test_what_is_unproved_alone_is_said_and_is_no_failure(digday: Digday, book: Callable[..., str]) -> None:
    code, out, err = digday("rulebook", "check", book("finding-clash", "good"))
    assert (code, err) == (0, "")
    assert out.startswith("onions: no problems.\n")
    assert "not proved: " in out


def test_lines_hold_one_problem_each_and_what_was_not_proved(digday: Digday, book: Callable[[str], str]) -> None:
    code, out, err = digday("rulebook", "check", book("never-fires"), "--lines")
    assert (code, err) == (1, "")
    first, second = out.splitlines()
    assert first.startswith("onions/rulebook.yaml:27:3: The rule 'rain-ahead' can never fire")
    assert first.endswith("[never-fires]")
    assert second.startswith("onions/rulebook.yaml:2:1: Not proved: Every rule has a scenario")
    assert second.endswith("[not-proved]")


def test_the_json_has_problems_with_examples_and_what_was_proved(digday: Digday, book: Callable[[str], str]) -> None:
    code, out, _ = digday("rulebook", "check", book("no-advice"), "--json")
    report = json.loads(out)
    assert code == 1
    assert set(report) == {"problems", "unproved", "proved"}
    (problem,) = report["problems"]
    assert (problem["code"], problem["file"], problem["line"], problem["column"]) == (
        "no-advice", "onions/rulebook.yaml", 2, 1,
    )  # fmt: skip
    assert problem["examples"][0]["signs"] == {"tops": "falling"}
    assert {item["rulebook"] for item in report["proved"] + report["unproved"]} == {"onions"}
    assert all(item["what"] and item["why"] for item in report["unproved"])


def test_problems_of_reading_come_alone(digday: Digday, book: Callable[[str], str], tmp_path: Path) -> None:
    folder = book("no-advice")
    path = tmp_path / folder / "rulebook.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("tops: down", "tops: gone"), encoding="utf-8")
    code, out, _ = digday("rulebook", "check", folder, "--json")
    report = json.loads(out)
    assert code == 1
    assert [problem["code"] for problem in report["problems"]] == ["unknown-choice"]
    assert (report["proved"], report["unproved"]) == ([], [])


def test_the_examples_are_written_as_cases_that_show_the_flaw(
    digday: Digday, book: Callable[[str], str], tmp_path: Path
) -> None:
    code, out, _ = digday("rulebook", "check", book("direction-broken"), "--examples", "out/cases", "--json")
    (problem,) = json.loads(out)["problems"]
    files = [f"out/cases/direction-broken-rain-near-{number}.yaml" for number in (1, 2)]
    assert (code, problem["files"]) == (1, files)
    advice = [json.loads(digday("advise", path, "--json")[1])["advice"] for path in files]
    assert advice == ["lift", "leave"]
    (tmp_path / "elsewhere").mkdir()
    text = digday("rulebook", "check", "onions", "--examples", "elsewhere")[1]
    assert "(elsewhere/direction-broken-rain-near-1.yaml)" in " ".join(text.split())


def test_a_problem_of_shared_sources_is_told_once(digday: Digday, book: Callable[[str], str], tmp_path: Path) -> None:
    book("source-unused")
    code, out, _ = digday("rulebook", "check", "onions", "--lines")
    assert code == 1
    assert out.count("[source-unused]") == 1
    shutil.move(tmp_path / "onions" / "sources.yaml", tmp_path / "sources.yaml")
    assert digday("rulebook", "check", "onions", "--lines")[1].count("[source-unused]") == 1
    shutil.copytree(tmp_path / "onions", tmp_path / "leeks")
    other = tmp_path / "leeks" / "rulebook.yaml"
    other.write_text(other.read_text(encoding="utf-8").replace("[B01]", "[B02]"), encoding="utf-8")
    assert digday("rulebook", "check", "onions", "--lines")[0] == 0


@pytest.mark.parametrize("name", codes())
def test_every_code_is_explained(digday: Digday, name: str) -> None:
    code, out, err = digday("rulebook", "check", "--explain", name)
    assert (code, err) == (0, "")
    assert out.startswith(f"# {name}\n")
    assert "## Why it matters" in out


def test_an_unknown_code_is_refused_with_those_there_are(digday: Digday) -> None:
    code, out, err = digday("rulebook", "check", "--explain", "no-luck")
    assert (code, out) == (2, "")
    assert "'no-luck'" in err
    assert "no-advice" in err


@pytest.mark.parametrize("way", ["", "--json", "--lines"])
def test_a_rulebook_that_is_not_there_is_bad_input_and_no_flaw(digday: Digday, way: str) -> None:
    code, out, err = digday("rulebook", "check", "sweetpotato/when-to-dg", *way.split())
    assert (code, out) == (2, "")
    assert "Did you mean 'sweetpotato/when-to-dig'?" in err
