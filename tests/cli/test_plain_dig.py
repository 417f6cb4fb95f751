"""Hills of a test dig in the interview line by line: the case, the findings and the refusals of the screen's page."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.cases import read_case
from assistant.cases.typed_dig import report_of
from assistant.explain.digging import confidence_words, middle_words, plan_words, share_words
from assistant.model.case import TestDig
from assistant.model.quantities import Units
from assistant.model.readings import Span

from .conftest import Digday

Dig = Callable[..., tuple[TestDig | None, str]]
NO_1 = Span(1.75, 3.5)


@pytest.fixture
def dig(digday: Digday, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Dig:
    """The case's test dig after lines were typed into a visit, and all that was written, in one line."""

    def run(*lines: str, units: str = "us") -> tuple[TestDig | None, str]:
        path = tmp_path / "bed.yaml"
        path.write_text("case: A bed\nrulebook: sweetpotato/when-to-dig\non: 2031-10-04\nsigns: {roots: too-small}\n")
        monkeypatch.setattr("sys.stdin", io.StringIO("\n".join([*lines, "quit", ""])))
        code, out, err = digday("visit", "--plain", "--case", path, "--units", units)
        assert (code, err) == (0, "")
        return read_case(path).test_dig, " ".join(out.split())

    return run


@pytest.mark.parametrize(
    ("line", "units", "expected"),
    [
        ("dig 2.1 1.2 3.0 / 2.4 2.2", "us", TestDig(NO_1, ((2.1, 1.2, 3.0), (2.4, 2.2)))),
        ("DIG 2.4x6, 1 3/4 / 1/2, 3/4", "us", TestDig(NO_1, ((2.4, 1.75), (0.5, 0.75)))),
        ("dig 5.3 3 / 6.1 in", "metric", TestDig(NO_1, ((2.09, 1.18), (6.1,)))),
        ("dig 1.5..3 / 2.1", "us", TestDig(Span(1.5, 3), ((2.1,),))),
        ("dig 2.1 / wanted 4..7.5 cm", "us", TestDig(Span(1.57, 2.95), ((2.1,),))),
        ("dig", "us", None),
        ("dig 2.1 / 33", "us", None),
    ],
)
def test_hills_are_kept_as_the_screen_keeps_them(dig: Dig, line: str, units: str, expected: TestDig | None) -> None:
    kept, _ = dig(line, units=units)
    assert kept is None if expected is None else kept is not None
    if kept and expected:
        assert kept.hills == expected.hills
        assert (kept.wanted.low, kept.wanted.high) == pytest.approx(
            (expected.wanted.low, expected.wanted.high), abs=0.01
        )


def test_the_findings_are_those_of_the_screen(dig: Dig) -> None:
    kept, out = dig("dig 2.1 2.2 2.3 2.6", "dig 2 2.2 3 3.1")
    report = report_of(kept)
    told = (plan_words(report), share_words(report.share), middle_words(report, Units.US), confidence_words(report))
    assert all(words in out for words in told)
    assert "Hill 1: 2.1, 2.2, 2.3, 2.6 Hill 2: 2, 2.2, 3, 3.1" in out


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("dig 33", "'33' is no size of a root; check the number and its unit."),
        ("dig x / 2.1", "'x' is no root; write 2.1 1.2 3.0, or 2.1x6 with the length, or 8 12 oz, or small:3 right:5"),
        ("dig small:3", "a case keeps diameters, so sorted roots cannot stand here; measure them."),
        ("dig 3..1", "'3..1' is no range of diameters; write LOW..HIGH, such as 1.75..3.5 in."),
    ],
)
def test_what_is_no_hill_is_refused_in_the_words_of_the_screen(dig: Dig, line: str, words: str) -> None:
    kept, out = dig(line)
    assert kept is None
    assert f"> {words}" in out


def test_the_last_hill_is_taken_back_and_with_the_first_the_dig(dig: Dig) -> None:
    assert dig("dig 2.1 / 2.2", "dig back")[0] == TestDig(NO_1, ((2.1,),))
    kept, out = dig("dig 2.1", "dig back", "dig back")
    assert kept is None
    assert out.count("Nothing dug yet.") == 2


def test_hills_answer_for_the_roots_in_place_of_what_was_said(dig: Dig, tmp_path: Path) -> None:
    dig("dig 2.1 2.2 2.3 2.6 / 2 2.2 3 3.1")
    assert "roots" not in read_case(tmp_path / "bed.yaml").answers


def test_the_question_on_roots_tells_how(digday: Digday, monkeypatch: pytest.MonkeyPatch, case_file: Path) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("back\n" * 40 + "?\n" * 40))
    _, out, _ = digday("visit", "--plain", "--case", case_file, "--units", "metric")
    assert "dig 5.3 3 7.6 / 6.1 5.6; dig 4..7.5 changes the wanted sizes" in " ".join(out.split())
