"""The interview line by line: what it asks, takes, saves and says."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.cases import read_case
from assistant.cli.plain_visit import in_words
from assistant.model.quantities import Kind
from assistant.model.signs import Effort, Sign
from assistant.rulebook import read_rulebook

from .conftest import Digday

Typed = Callable[[str], None]

VINES = Sign("vines", Kind.CHOICE, "?", "", Effort.GLANCE, choices={"green": "all over", "withered": "dry"})
NIGHTS = Sign("nights", Kind.TEMPERATURE, "?", "", Effort.LOOK_UP, low=-20, high=100)


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> Typed:
    """Put text on standard input."""
    return lambda text: monkeypatch.setattr("sys.stdin", io.StringIO(text))


@pytest.fixture
def settled_case(tmp_path: Path) -> Path:
    """A case that one answer decides."""
    path = tmp_path / "frozen.yaml"
    path.write_text("case: A frozen bed\nrulebook: sweetpotato/when-to-dig\non: 2031-10-04\nsigns: {frost: hard}\n")
    return path


@pytest.fixture
def frost_case(tmp_path: Path) -> Path:
    """A case in which the forecast alone is left to ask."""
    path = tmp_path / "ready.yaml"
    names = [name for name in read_rulebook("sweetpotato/when-to-dig").signs if name not in ("forecast_low", "roots")]
    told = ", ".join(f"{name}: can't tell" for name in names)
    path.write_text(
        f"case: Ready\nrulebook: sweetpotato/when-to-dig\non: 2031-10-04\nsigns: {{roots: right, {told}}}\n"
    )
    return path


def test_at_the_end_of_input_the_verdict_on_what_is_known_is_given(digday: Digday, typed: Typed) -> None:
    typed("")
    code, out, err = digday("visit", "--plain", "--on", "2031-10-04", "--save", "bed.yaml")
    assert (code, err) == (0, "")
    assert "nothing is saved" in out
    assert not Path("bed.yaml").exists()


def test_every_answer_is_saved_before_the_next_question(digday: Digday, typed: Typed) -> None:
    typed("?\n?\nquit\n")
    code, out, _ = digday("visit", "--plain", "--on", "2031-10-04", "--save", "bed.yaml")
    assert code == 0
    assert len(read_case(Path("bed.yaml")).answers) == 2
    assert "Left without a verdict" in out
    assert "Saved in bed.yaml" in out


def test_can_t_tell_to_everything_ends_with_a_verdict(digday: Digday, typed: Typed) -> None:
    typed("?\n" * 60)
    code, out, err = digday("visit", "--plain", "--on", "2031-10-04", "--save", "bed.yaml")
    assert (code, err) == (0, "")
    assert out.rstrip().endswith("Saved in bed.yaml")


def test_the_case_file_it_began_from_is_the_one_saved_to(digday: Digday, typed: Typed, case_file: Path) -> None:
    before = len(read_case(case_file).answers)
    typed("?\ndone\n")
    code, out, _ = digday("visit", "--plain", "--case", case_file)
    assert code == 0
    assert len(read_case(case_file).answers) == before + 1
    assert str(case_file) in "".join(out.split())


def test_going_back_forgets_the_last_answer_and_asks_it_again(digday: Digday, typed: Typed) -> None:
    typed("?\nback\nquit\n")
    _, out, _ = digday("visit", "--plain", "--on", "2031-10-04", "--save", "bed.yaml")
    questions = [line for line in out.splitlines() if line.endswith("at most)")]
    assert len(questions) == 3
    assert questions[0] == questions[2]
    assert not read_case(Path("bed.yaml")).answers


def test_going_back_from_the_first_question_says_so(digday: Digday, typed: Typed) -> None:
    typed("back\nquit\n")
    assert "nothing to go back to" in digday("visit", "--plain", "--save", "bed.yaml")[1]


def test_why_tells_what_each_answer_would_mean_and_asks_on(digday: Digday, typed: Typed, frost_case: Path) -> None:
    typed("why\nquit\n")
    code, out, _ = digday("visit", "--plain", "--case", frost_case)
    assert code == 0
    assert "What your answer would mean:" in out
    assert "- 36 °F or less: dig before frost; act by Saturday 4 October" in out


def test_progress_says_what_to_expect_and_the_most_there_can_be(digday: Digday, typed: Typed) -> None:
    typed("?\nquit\n")
    _, out, _ = digday("visit", "--plain", "--on", "2031-10-04", "--save", "bed.yaml")
    told = [(int(about), int(most)) for about, most in re.findall(r"\(about (\d+) more, (\d+) at most\)", out)]
    assert len(told) == 2
    assert all(0 < about < most for about, most in told)
    assert told[0][1] > told[1][1]


def test_a_settled_verdict_comes_at_once_and_says_what_was_not_needed(
    digday: Digday, typed: Typed, settled_case: Path
) -> None:
    typed("")
    code, out, _ = digday("visit", "--plain", "--case", settled_case)
    text = " ".join(out.split())
    assert code == 0
    assert "(about" not in text
    assert "Settled. Not needed: the milky sap, the size of the roots," in text
    assert "No hill had to be dug up." in text
    assert "What decided this, whatever else is true - frost so far: hard" in text


def test_the_rest_is_asked_for_the_record_and_the_advice_stands(
    digday: Digday, typed: Typed, settled_case: Path
) -> None:
    typed("record\n?\nskip\ndone\n")
    code, out, _ = digday("visit", "--plain", "--case", settled_case)
    assert code == 0
    assert " ".join(out.split()).count("for the record; no advice hangs on it)") == 3
    assert "The advice stands: Sort and salvage" in out
    assert len(read_case(settled_case).answers) == 2


def test_going_back_from_the_verdict_asks_again_and_gives_it_anew(
    digday: Digday, typed: Typed, settled_case: Path
) -> None:
    typed("back\n" + "?\n" * 60)
    _, out, _ = digday("visit", "--plain", "--case", settled_case)
    assert "Forgotten: frost so far." in out
    assert out.count("What to do next") == 2


def test_a_question_that_matters_is_not_skipped(digday: Digday, typed: Typed) -> None:
    typed("skip\nquit\n")
    _, out, _ = digday("visit", "--plain", "--save", "bed.yaml")
    assert "answer again" in " ".join(out.split())


def test_an_answer_that_cannot_be_used_is_asked_again_and_not_saved(digday: Digday, typed: Typed) -> None:
    typed("\x1b[31mblue cheese\nquit\n")
    code, out, _ = digday("visit", "--plain", "--save", "bed.yaml")
    assert code == 0
    assert "answer again" in " ".join(out.split())
    assert "\x1b" not in out
    assert not Path("bed.yaml").exists()


def test_a_file_that_is_there_already_is_not_written_over(digday: Digday, typed: Typed, case_file: Path) -> None:
    before = case_file.read_bytes()
    typed("?\n")
    code, _, err = digday("visit", "--plain", "--save", case_file)
    assert code == 2
    assert "--case" in err
    assert case_file.read_bytes() == before


def test_a_scenario_that_ships_with_the_program_is_never_written_to(
    digday: Digday, typed: Typed, case_file: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr("assistant.cli.starting.shipped_folder", lambda _: tmp_path)
    before = case_file.read_bytes()
    typed("?\nquit\n")
    assert digday("visit", "--plain", "--case", case_file)[0] == 0
    assert case_file.read_bytes() == before
    assert list((tmp_path / "data").rglob("2031-10-04.yaml"))


def test_a_new_visit_never_takes_the_file_of_an_earlier_one(digday: Digday, typed: Typed, tmp_path: Path) -> None:
    for _ in range(2):
        typed("?\nquit\n")
        digday("visit", "--plain", "--on", "2031-10-04")
    names = sorted(path.name for path in (tmp_path / "data").rglob("*.yaml"))
    assert names == ["2031-10-04-2.yaml", "2031-10-04.yaml"]


def test_answers_survive_a_disk_that_cannot_be_written_to(
    digday: Digday, typed: Typed, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("assistant.cases.save_case", full)
    typed("?\ndone\n")
    code, out, err = digday("visit", "--plain", "--save", "bed.yaml")
    assert code == 2
    assert "No space left" in err
    assert "Not saved." in out


def test_a_day_of_visit_before_a_date_in_the_case_is_refused(digday: Digday, case_file: Path) -> None:
    code, out, err = digday("visit", "--plain", "--case", case_file, "--on", "2031-05-01")
    assert (code, out) == (2, "")
    assert "planted_on" in err


def test_the_demo_without_a_terminal_is_plain_and_keeps_nothing(digday: Digday, typed: Typed, tmp_path: Path) -> None:
    typed("?\ndone\n")
    code, out, _ = digday("demo")
    assert code == 0
    assert "nothing is kept" in out
    assert not list(tmp_path.rglob("*.yaml"))


def test_the_plain_interview_moves_no_cursor(digday: Digday, typed: Typed) -> None:
    typed("?\nwhy\nback\n?\ndone\n")
    _, out, _ = digday("visit", "--plain", "--save", "bed.yaml")
    assert not re.search("[\x00-\x09\x0b-\x1f]", out)


@pytest.mark.parametrize(
    ("sign", "text", "words"),
    [
        (VINES, "1", "green"),
        (VINES, "1, 2", "green, withered"),
        (VINES, "3", "3"),
        (VINES, "?", "can't tell"),
        (VINES, "withered", "withered"),
        (NIGHTS, "54", "54"),
        (NIGHTS, "?", "can't tell"),
        (NIGHTS, "about 54 F", "about 54 F"),
    ],
)
def test_numbers_of_choices_are_put_into_words_and_values_are_left_alone(sign: Sign, text: str, words: str) -> None:
    assert in_words(sign, text) == words
