"""No text of any file steers the terminal: neither what commands print nor what the screens draw."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest

from assistant.cases import read_case
from assistant.rulebook import read_rulebook
from assistant.season import Visit
from assistant.tui.app import DigDay
from assistant.tui.sitting import Sitting

from .conftest import Digday

EVIL = "\x1b]0;owned\x07\x1b[2J\u202e\x9b31m"
WRITTEN = r"\e]0;owned\a\e[2J\u202e\x9b31m"
STEERING = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")

RULEBOOK = """\
rulebook: "crop/question"
title: "EVIL title"
version: "1EVIL"
format: 1
about: "EVIL about"
signs:
  vines:
    kind: choice
    called: "EVIL called"
    ask: "EVIL ask"
    look: "EVIL look"
    effort: glance
    choices: {green: "EVIL green", dry: "EVIL dry"}
  cold: {kind: number, ask: "EVIL how cold", look: "EVIL", effort: dig, range: 0..9, unit: "EVIL unit"}
findings: {ripe: {says: "EVIL ripe", values: {high: "EVIL high"}}}
advice:
  several: the first listed wins
  kinds:
    dig: {headline: "EVIL dig", says: "EVIL says", steps: ["EVIL step"]}
    wait: {headline: "EVIL wait", says: "EVIL"}
rules:
  dry-vines: {says: "EVIL rule", when: {vines: dry}, then: {ripe: high}, sources: [R01], disputed: [how]}
  dig-dry: {says: "EVIL dig dry", when: {ripe: high}, then: {advice: dig}, sources: [R01]}
  cold-wait: {says: "EVIL wait", when: {cold: {at_least: 5}}, then: {advice: wait}, sources: [R01]}
cautions: {care: {text: "EVIL caution", when: always, sources: [R01]}}
disagreements:
  how: {about: "EVIL", sides: [{says: "EVIL a", sources: [R01]}, {says: "EVIL b", sources: [R01]}], taken: "EVIL"}
"""
SOURCES = 'sources: {R01: {title: "EVIL source", year: "EVIL", grade: A, how: read, where: "EVIL"}}\n'
CASE = 'case: "EVIL bed"\nrulebook: crop/question\non: 2031-10-04\nsigns: {vines: dry}\n'


@pytest.fixture
def case(tmp_path: Path) -> Path:
    """A case by a rulebook in which every text would steer a terminal."""
    folder = tmp_path / "crop" / "question"
    folder.mkdir(parents=True)
    for path, text in ((folder / "rulebook.yaml", RULEBOOK), (folder.parent / "sources.yaml", SOURCES)):
        path.write_text(text.replace("EVIL", WRITTEN), encoding="utf-8")
    path = tmp_path / "case.yaml"
    path.write_text(CASE.replace("EVIL", WRITTEN), encoding="utf-8")
    return path


def _assert_harmless(run: tuple[int, str, str], told: str = "owned") -> None:
    _, out, err = run
    assert "inside the program" not in err
    assert told in out + err
    assert not STEERING.search(out + err), STEERING.findall(out + err)


@pytest.mark.parametrize(
    "command",
    ["advise", "advise --json", "advise --sheet", "advise --sheet html", "why", "why --not wait", "why --json"],
)
def test_no_text_of_a_case_and_its_rulebook_steers_the_terminal(digday: Digday, case: Path, command: str) -> None:
    way, *options = command.split()
    _assert_harmless(digday(way, case, *options))


@pytest.mark.parametrize("command", ["show", "show --json", "check", "check --lines", "check --json"])
def test_no_text_of_a_rulebook_steers_the_terminal(digday: Digday, case: Path, command: str) -> None:
    way, *options = command.split()
    run = digday("rulebook", way, case.parent / "crop" / "question", *options)
    _assert_harmless(run, "owned" if way == "show" else "rule")


def test_no_text_of_a_rulebook_steers_the_terminal_in_a_visit(
    digday: Digday, case: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO(f"why\n{EVIL}\n?\nback\n7\nrecord\ndone\n"))
    _assert_harmless(digday("visit", "--plain", "--case", case, "--save", case.parent / "new.yaml"))


HEADER = "date,lot,what,part,weight,temperature,humidity,note\n"
FILES = {
    "ledger": ("store status --ledger", f"{HEADER}2031-10-06,{EVIL},dug,,120 lb,,,{EVIL}\n"),
    "ledger words": ("store status --ledger", f"{HEADER}2031-10-06,north,\u202edug,,120 lb,,,\n"),
    "log": ("cure --log", f"time,temperature (F),humidity (%)\n{EVIL},84,88\n"),
    "log header": ("cure --log", f"time{EVIL},temperature (F),{EVIL}\n2031-10-04 08:00,84,88\n"),
    "record": ("frost --weather", f"STATION,NAME,DATE,TMIN,TMAX\nX,{EVIL},2031-10-04,44,70\n"),
    "hills": ("testdig", f"hill,diameter\n{EVIL},2.1\n"),
    "hills words": ("testdig", "hill,diameter\n1,\u202e2.1\n"),
    "beds": ("nextyear --history", f"year,crop\n2031,{EVIL}\n"),
    "beds words": ("nextyear --history", "year,crop\n\u202e2031,garlic\n"),
    "notebook": ("notebook import", json.dumps({"notebook": "digday", "garden": [{"id": 1, "name": 1, EVIL: 1}]})),
    "scenario": ("cases", f"case: {EVIL}\n"),
}


TURNED = "\u202eowned\u2066"
"""What a text file may hold; it is refused with other control characters."""
READABLE = {
    "lot": ("store story", f"{HEADER}2031-10-06,{TURNED},dug,,120 lb,,,{TURNED}\n"),
    "hill": ("testdig", f"hill,diameter\n{TURNED},2.1\n"),
    "bed": ("nextyear --bed x --history", f"year,crop,bed\n2031,garlic,{TURNED}\n"),
}


@pytest.mark.parametrize("name", FILES)
def test_no_text_of_another_file_steers_the_terminal(digday: Digday, tmp_path: Path, name: str) -> None:
    command, text = FILES[name]
    path = tmp_path / f"file.{'json' if name == 'notebook' else 'yaml' if name == 'scenario' else 'csv'}"
    path.write_text(text, encoding="utf-8")
    _assert_harmless(digday(*command.split(), path), "file.")


@pytest.mark.parametrize("name", READABLE)
def test_no_text_of_a_file_that_is_read_steers_the_terminal(digday: Digday, tmp_path: Path, name: str) -> None:
    command, text = READABLE[name]
    (tmp_path / "file.csv").write_text(text, encoding="utf-8")
    _assert_harmless(digday(*command.split(), tmp_path / "file.csv"))


@pytest.mark.parametrize("keys", [[], ["w"], ["question_mark", "escape"], ["v"], ["v", "enter"]])
async def test_no_text_of_a_rulebook_steers_the_terminal_from_the_screens(case: Path, keys: list[str]) -> None:
    read = read_case(case)
    visit = Visit(read_rulebook(str(case.parent / "crop" / "question")), read)
    app = DigDay(Sitting(visit, case.parent / "saved.yaml"))
    async with app.run_test(size=(100, 40)) as pilot:
        await pilot.press(*keys)
        await pilot.pause()
        drawn = [segment.text for strip in app.screen._compositor.render_strips() for segment in strip]
    text = "".join(drawn)
    assert "owned" in text
    assert not STEERING.search(text), STEERING.findall(text)
