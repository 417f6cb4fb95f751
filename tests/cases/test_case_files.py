"""Case files: read, saved, and read again."""

import os
import signal
from dataclasses import replace
from datetime import date
from pathlib import Path
from random import Random
from typing import NoReturn

import pytest

from assistant.cases import case_text, find_scenarios, read_case, rulebook_of, run_case, save_case
from assistant.model.case import Case, FrostDates, Garden, MonthDay
from assistant.model.place import NOWHERE, BadInput
from assistant.model.quantities import Kind
from assistant.model.readings import Origin, Span
from assistant.model.signs import Sign
from assistant.season import Visit

WHOLE = """\
case: Green vines in mild nights, roots at the wanted size
rulebook: sweetpotato/when-to-dig
on: 2031-10-04
units: metric
garden: {first_frost: {p10: 10-08, p50: 10-20, p90: 11-02}}
signs:
  planted_on: about 2031-06-20
  vines: [green, yellowing]
  recent_nights: 12
  cover: no
  soil: can't tell
test_dig: {wanted: 4.5..9 cm, hills: [[5.3, 3.0, 7.6], [6.1, 5.6]]}
expect: {advice: dig-now, not_fired: [right-size], act_by: 2031-10-11, findings: {size: right}}
sources: [R09]
"""


def written(folder: Path, text: str) -> Path:
    path = folder / "case.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_every_part_of_a_case_is_read(tmp_path: Path) -> None:
    case = read_case(written(tmp_path, WHOLE))
    assert case.on == date(2031, 10, 4)
    assert case.garden == Garden({"first_frost": FrostDates(MonthDay(10, 8), MonthDay(10, 20), MonthDay(11, 2))})
    assert case.answers["recent_nights"].reading == Span(53.6, 53.6)
    assert case.answers["soil"].origin is Origin.CANT_TELL
    assert list(case.answers) == ["planted_on", "vines", "recent_nights", "cover", "soil"]
    assert case.test_dig is not None
    assert case.test_dig.wanted == Span(1.77, 3.54)
    assert case.test_dig.hills == ((2.09, 1.18, 2.99), (2.4, 2.2))
    assert case.expected is not None
    assert (case.expected.advice, case.expected.act_by) == ("dig-now", date(2031, 10, 11))
    assert case.expected.fired is None
    assert case.sources == ("R09",)


def test_a_saved_case_reads_as_the_case_it_was(tmp_path: Path) -> None:
    case = read_case(written(tmp_path, WHOLE))
    save_case(case, tmp_path / "saved.yaml")
    again = read_case(tmp_path / "saved.yaml")
    assert replace(again, place=NOWHERE) == replace(case, place=NOWHERE)
    assert case_text(again) == case_text(case)


def an_answer(random: Random, sign: Sign) -> str:
    if random.random() < 0.2:
        return "can't tell"
    if sign.kind is Kind.CHOICE:
        choices = list(sign.choices)
        return ", ".join(random.sample(choices, random.randint(1, len(choices))))
    if sign.kind is Kind.DATE:
        return random.choice(("about 2031-06-20", "June", "3 weeks ago", "2031-05-01..2031-05-20"))
    value = random.uniform(sign.low, sign.high)
    unit = " F" if sign.kind is Kind.TEMPERATURE else ""
    return random.choice((f"{value:.1f}{unit}", f"about {value:.0f}{unit}", f"{sign.low:.1f}..{value:.1f}{unit}"))


@pytest.mark.parametrize("seed", range(40))
def test_whatever_is_answered_survives_saving(tmp_path: Path, seed: int) -> None:
    random = Random(seed)
    case = read_case(written(tmp_path, WHOLE))
    visit = Visit(rulebook_of(case), replace(case, answers={}))
    for sign in random.sample(list(visit.rulebook.signs.values()), 8):
        visit = visit.answer(sign.name, an_answer(random, sign))
    save_case(visit.case, tmp_path / "saved.yaml")
    again = read_case(tmp_path / "saved.yaml")
    assert dict(again.answers) == dict(visit.case.answers)


def test_a_failed_save_leaves_the_old_file_and_no_scraps(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = written(tmp_path, WHOLE)
    case = read_case(path)

    def no_room(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", no_room)
    with pytest.raises(OSError, match="No space"):
        save_case(replace(case, title="Another"), path)
    assert path.read_text(encoding="utf-8") == WHOLE
    assert [entry.name for entry in tmp_path.iterdir()] == ["case.yaml"]


def test_the_scrap_of_a_save_that_was_killed_goes_with_the_next_save(tmp_path: Path) -> None:
    path = written(tmp_path, WHOLE)
    case = read_case(path)
    child = os.fork()
    if child == 0:
        os.replace = lambda *_: os.kill(os.getpid(), signal.SIGKILL)
        save_case(case, path)
    assert os.waitpid(child, 0)[1] == signal.SIGKILL
    assert path.read_text(encoding="utf-8") == WHOLE
    assert len(list(tmp_path.iterdir())) == 2
    save_case(case, path)
    assert [entry.name for entry in tmp_path.iterdir()] == ["case.yaml"]


def test_programs_that_save_one_case_at_once_never_tear_it(tmp_path: Path) -> None:
    path, children = written(tmp_path, WHOLE), []
    case = read_case(path)
    for title in ("one", "two", "three"):
        child = os.fork()
        if child == 0:
            _save_again_and_again(replace(case, title=title * 3000), path)
        children.append(child)
    assert [os.waitpid(child, 0)[1] for child in children] == [0, 0, 0]
    assert read_case(path).title in ("one" * 3000, "two" * 3000, "three" * 3000)
    assert [entry.name for entry in tmp_path.iterdir()] == ["case.yaml"]


def _save_again_and_again(case: Case, path: Path) -> NoReturn:
    failed = 1
    try:
        for _ in range(20):
            save_case(case, path)
            assert read_case(path).answers == case.answers
        failed = 0
    finally:
        os._exit(failed)


@pytest.mark.parametrize(
    ("old", "new", "code", "place", "says"),
    [
        ("vines:", "vine:", "unknown-sign", "8:3", "sweetpotato/when-to-dig has no sign 'vine'."),
        ("2031-10-04", "2031-09-31", "bad-value", "3:5", "there is no day 2031-09-31 in the calendar"),
        ("p10: 10-08", "p10: 13-08", "bad-value", "5:29", "'13-08' is not a day of the year."),
        ("about 2031-06-20", "2031-12-20", "bad-value", "7:15", "20 December 2031 is after the day of the visit"),
        ("12\n", "54 K\n", "bad-value", "9:18", "'54 K' has the unit 'K'"),
        ("7.6", "96", "bad-value", "12:50", "96 is no diameter of a root."),
        ("4.5..9 cm", "4.5 cm", "bad-value", "12:20", "'wanted' must be a range, not '4.5 cm'."),
        ("act_by: 2031-10-11", "act_by: soon", "bad-value", "13:60", "'act_by' must be a date"),
    ],
)
def test_a_mistake_is_told_at_its_place(tmp_path: Path, old: str, new: str, code: str, place: str, says: str) -> None:
    path = written(tmp_path, WHOLE.replace(old, new, 1))
    with pytest.raises(BadInput) as refused:
        read_case(path)
    (problem,) = refused.value.problems
    assert (problem.code, str(problem.place)) == (code, f"{path}:{place}")
    assert says in problem.message


def test_a_scenario_that_comes_out_otherwise_says_how(tmp_path: Path) -> None:
    text = (
        WHOLE.replace("dig-now", "wait")
        .replace("[right-size]", "[no-such-rule]")
        .replace("size: right", "size: too-big")
    )
    result = run_case(written(tmp_path, text))
    assert any(failure.startswith("advice: expected wait, got ") for failure in result.failures)
    assert "not_fired: there is no rule 'no-such-rule'" in result.failures
    assert any(failure.startswith("finding size: expected too-big, got ") for failure in result.failures)


def test_a_folder_without_cases_is_not_a_success(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="there is no case file"):
        find_scenarios([tmp_path])
