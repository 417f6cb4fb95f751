"""What each command prints, where it prints it, and how it ends."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from assistant.cli import main

from .conftest import Digday


def test_the_verdict_is_text_on_stdout_and_nothing_on_stderr(digday: Digday, case_file: Path) -> None:
    code, out, err = digday("advise", case_file)
    assert (code, err) == (0, "")
    assert "Because" in out
    assert "Green vines in mild nights" in out
    assert "you said" in out
    assert "Sources" in out


def test_text_is_wrapped_to_the_width(digday: Digday, case_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    for command in ("advise", "why"):
        _, out, _ = digday(command, case_file)
        assert max(len(line) for line in out.splitlines() if "/" not in line) <= 40


def test_the_json_and_the_text_tell_the_same_headline(digday: Digday, case_file: Path) -> None:
    _, text, _ = digday("advise", case_file)
    _, data, _ = digday("advise", case_file, "--json")
    assert json.loads(data)["headline"] in " ".join(text.split())


def test_why_names_every_rule_that_leads_to_the_advice(digday: Digday, case_file: Path) -> None:
    _, text, _ = digday("why", case_file)
    _, data, _ = digday("advise", case_file, "--json")
    verdict = json.loads(data)
    assert verdict["fired"]
    assert any(rule in text for rule in verdict["fired"])


def test_why_as_json_is_the_same_tree(digday: Digday, case_file: Path) -> None:
    code, out, _ = digday("why", case_file, "--json")
    reason = json.loads(out)
    assert code == 0
    assert reason["kind"] == "verdict"
    assert set(reason) == {"kind", "text", "detail", "place", "children"}


def test_why_not_names_what_stands_in_the_way(digday: Digday, case_file: Path) -> None:
    code, out, err = digday("why", case_file, "--not", "sort-and-salvage")
    assert (code, err) == (0, "")
    assert "Why not" in out


def test_why_not_an_unknown_advice_lists_the_known_ones(digday: Digday, case_file: Path) -> None:
    code, out, err = digday("why", case_file, "--not", "dance")
    assert (code, out) == (2, "")
    assert "'dance'" in err
    assert "dig-now" in err


def test_every_shipped_scenario_passes(digday: Digday) -> None:
    code, out, err = digday("cases")
    assert (code, err) == (0, ""), out
    assert "0 failed" in out


def test_a_failing_case_exits_with_1_and_says_how_it_failed(digday: Digday, case_file: Path) -> None:
    case_file.write_text(
        case_file.read_text(encoding="utf-8") + "expect: {advice: sort-and-salvage}\nsources: common practice\n",
        encoding="utf-8",
    )
    code, out, _ = digday("cases", case_file)
    assert code == 1
    assert "expected sort-and-salvage" in " ".join(out.split())
    code, out, _ = digday("cases", case_file, "--json")
    report = json.loads(out)
    assert (code, report["run"], report["failed"]) == (1, 1, 1)
    assert report["cases"][0]["failures"]


def test_one_unreadable_case_does_not_keep_the_others_from_running(digday: Digday, case_file: Path) -> None:
    broken = case_file.with_name("broken.yaml")
    broken.write_text("case: [", encoding="utf-8")
    code, out, err = digday("cases", broken, case_file)
    assert code == 2
    assert "1 case run, 0 failed" in out
    assert "broken.yaml" in err


def test_the_shipped_rulebooks_are_listed_shown_and_without_problems(digday: Digday) -> None:
    code, out, _ = digday("rulebook", "list", "--json")
    names = [book["name"] for book in json.loads(out)]
    assert code == 0
    assert "sweetpotato/when-to-dig" in names
    for name in names:
        code, out, _ = digday("rulebook", "show", name)
        assert code == 0
        assert name in out
        code, out, _ = digday("rulebook", "show", name, "--json")
        assert json.loads(out)["name"] == name
    code, out, _ = digday("rulebook", "check")
    assert code == 0, out
    assert "no problems" in out
    assert json.loads(digday("rulebook", "check", "sweetpotato/curing", "--json")[1])["problems"] == []


@pytest.mark.parametrize("which", ["rulebook", "sources", "case"])
def test_the_schemas_are_draft_07(digday: Digday, which: str) -> None:
    code, out, _ = digday("rulebook", "schema", which)
    assert code == 0
    assert json.loads(out)["$schema"].startswith("http://json-schema.org/draft-07")


@pytest.mark.parametrize("shell", ["bash", "zsh", "tcsh"])
def test_completion_names_every_command(digday: Digday, shell: str) -> None:
    code, out, _ = digday("completion", shell)
    assert code == 0
    for command in ("demo", "visit", "advise", "why", "cases", "rulebook"):
        assert command in out


@pytest.mark.parametrize("command", ["", "demo", "visit", "advise", "why", "cases", "rulebook", "completion"])
def test_help_teaches_by_example(digday: Digday, command: str) -> None:
    code, out, _ = digday(*command.split(), "--help")
    assert code == 0
    assert f"  digday {command}".rstrip() in out.partition("examples:")[2]


def test_the_version_is_the_installed_one(digday: Digday) -> None:
    assert digday("--version")[:2] == (0, "digday 0.1.0\n")


@pytest.mark.parametrize(("arguments", "plain"), [([], "digday --plain"), (["visit"], "digday visit --plain")])
def test_without_a_terminal_the_screen_is_refused_and_the_plain_way_named(
    digday: Digday, arguments: list[str], plain: str
) -> None:
    code, out, err = digday(*arguments)
    assert (code, out) == (2, "")
    assert plain in err


def test_an_inner_failure_is_one_sentence_and_debug_shows_the_traceback(
    digday: Digday, case_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("the wheel came off")

    monkeypatch.setattr("assistant.season.advise", fail)
    code, out, err = digday("advise", case_file)
    assert (code, out) == (2, "")
    assert "the wheel came off" in err
    assert "--debug" in err
    assert "Traceback" not in err
    assert "Traceback" in digday("advise", case_file, "--debug")[2]
    assert "Traceback" in digday("--debug", "advise", case_file)[2]


def test_an_interrupt_ends_with_130_and_a_word(
    digday: Digday, case_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("assistant.season.advise", interrupt)
    assert digday("advise", case_file) == (130, "", "Stopped.\n")


def test_a_reader_that_goes_away_is_not_complained_about(case_file: Path) -> None:
    command = f"{sys.executable} -c 'from assistant.cli import main; raise SystemExit(main())' rulebook show {{}}"
    run = subprocess.run(
        ["bash", "-c", command.format("sweetpotato/when-to-dig") + " --json | head -c 1"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (run.stdout, run.stderr) == ("{", "")


@pytest.mark.parametrize(("closed", "told"), [("<&-", True), (">&-", False), ("2>&-", True), ("<&- >&- 2>&-", False)])
def test_a_stream_that_is_closed_from_the_start_is_no_failure(case_file: Path, closed: str, told: bool) -> None:
    command = f"{sys.executable} -c 'from assistant.cli import main; raise SystemExit(main())' advise '{case_file}'"
    run = subprocess.run(["bash", "-c", f"{command} {closed}"], capture_output=True, text=True, check=False)
    assert (run.returncode, run.stderr) == (0, "")
    assert ("Because" in run.stdout) is told


def test_output_that_the_terminal_cannot_spell_does_not_fail(case_file: Path) -> None:
    run = subprocess.run(
        [sys.executable, "-c", "from assistant.cli import main; raise SystemExit(main())", "advise", str(case_file)],
        capture_output=True,
        check=False,
        env={"PYTHONIOENCODING": "ascii", "PATH": ""},
    )
    assert run.returncode == 0, run.stderr
    assert run.stdout.isascii()


def test_main_called_without_arguments_reads_the_command_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.argv", ["digday", "--version"])
    assert main() == 0
