"""Each way an input can be bad: exit 2, one plain sentence with its place on stderr, nothing touched."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

HEAD = "case: A bed\nrulebook: sweetpotato/when-to-dig\non: 2031-10-04\n"
MEGABYTE = 1_000_000


class Bad(NamedTuple):
    """A bad input: its bytes (None: as `prepare` leaves it), where the fault is, and words of the sentence."""

    content: bytes | None
    place: str
    words: str


def _signs(text: str) -> bytes:
    return f"{HEAD}signs:\n{text}".encode()


BAD_CASES = {
    "missing file": Bad(None, "", "no such file|not there|no file|does not exist|there is no"),
    "directory": Bad(None, "", "folder|directory"),
    "empty file": Bad(b"", "", "empty"),
    "only a comment": Bad(b"# nothing\n", "", "empty"),
    "not YAML": Bad(b"case: [1, 2\nsigns: }{\n", ":2:", "YAML|flow|expected|bracket"),
    "cut off in the middle": Bad(b"case: [1,", ":1:10", "YAML|bracket"),
    "a list, not a case": Bad(b"- one\n- two\n", ":1:1", "mapping|keys|case"),
    "50 MB of YAML": Bad(b"a: b\n" * (50 * MEGABYTE // 5), "", "large|big|MB|bytes"),
    "alias bomb": Bad(
        b"a: &a [x, x, x, x, x, x, x, x, x]\n"
        + b"".join(b"%c: &%c [%s]\n" % (97 + n, 97 + n, b", ".join([b"*%c" % (96 + n)] * 9)) for n in range(1, 12)),
        ":",
        "alias|anchor",
    ),
    "deep nesting": Bad(b"a: " + b"[" * 20_000 + b"]" * 20_000 + b"\n", "", "deep|nest"),
    "binary": Bad(bytes(range(256)) * 20, "", "text|UTF-8|byte|character"),
    "wrong encoding": Bad("case: S\u00fc\u00dfkartoffel\n".encode("latin-1"), ":", "UTF-8"),
    "UTF-16": Bad(f"{HEAD}signs: {{}}\n".encode("utf-16"), "", "UTF-8"),
    "a date that does not exist": Bad(_signs("  planted_on: 2031-02-30\n"), ":5:15", "no day 2031-02-30"),
    "planted after the visit": Bad(_signs("  planted_on: 2031-10-20\n"), ":5:15", "after"),
    "54 K": Bad(_signs("  recent_nights: 54 K\n"), ":5:18", "the unit 'K'"),
    "a sign spelled wrong": Bad(_signs("  vine: green\n"), ":5:3", "[Dd]id you mean 'vines'"),
    "two values for one sign": Bad(_signs("  vines: green\n  vines: yellowing\n"), ":6:3", "twice|already|second"),
    "an unknown choice": Bad(_signs("  vines: purple\n"), ":5:10", "purple"),
    "a rulebook that is not there": Bad(
        b"case: A bed\nrulebook: turnips\non: 2031-10-04\nsigns: {}\n", ":2:11", "turnips"
    ),
    "frost dates out of order": Bad(
        f"{HEAD}garden: {{first_frost: {{p10: 11-08, p50: 10-20, p90: 11-02}}}}\n".encode(), ":4:23", "follow one"
    ),
    "frost dates all the same": Bad(
        f"{HEAD}garden: {{first_frost: {{p10: 10-20, p50: 10-20, p90: 10-20}}}}\n".encode(), ":4:23", "follow one"
    ),
    "an unknown key": Bad(f"{HEAD}sings: {{}}\n".encode(), ":4:1", "sings"),
    "a tag that runs code": Bad(b"case: !!python/object/apply:os.system ['true']\n", ":1:", "tag"),
}


@pytest.fixture(params=BAD_CASES)
def bad(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[Path, Bad]:
    """A bad input on disk."""
    path = tmp_path / "bad.yaml"
    found = BAD_CASES[request.param]
    if request.param == "directory":
        path.mkdir()
    elif found.content is not None:
        path.write_bytes(found.content)
    return path, found


@pytest.mark.parametrize("command", ["advise", "why", "cases", "visit --plain --case"])
def test_a_bad_case_is_refused_in_a_plain_sentence_with_its_place(
    digday: Callable[..., tuple[int, str, str]], bad: tuple[Path, Bad], command: str
) -> None:
    path, expected = bad
    if command == "cases" and path.is_dir():
        pytest.skip("a folder of cases is what this command takes")
    before = _fingerprint(path)
    code, out, err = digday(*command.split(), path)
    assert code == 2
    assert out == ("0 cases run, 0 failed, 1 could not be read.\n" if command == "cases" else "")
    assert "Traceback" not in err
    assert "inside the program" not in err
    assert re.search(expected.words, err), err
    assert f"bad.yaml{expected.place}" in err
    assert _fingerprint(path) == before


def _fingerprint(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""


def _newer_rulebook(folder: Path) -> Path:
    folder.mkdir()
    heading = 'rulebook: crop/question\ntitle: From the future\nversion: "9"\nformat: 99\nabout: Newer.\n'
    (folder / "rulebook.yaml").write_text(heading, encoding="utf-8")
    return folder


def test_a_rulebook_newer_than_the_program_is_refused_with_what_to_do(
    digday: Callable[..., tuple[int, str, str]], tmp_path: Path
) -> None:
    folder = _newer_rulebook(tmp_path / "newer")
    case = tmp_path / "case.yaml"
    case.write_text(f"case: A bed\nrulebook: {folder}\non: 2031-10-04\nsigns: {{}}\n", encoding="utf-8")
    code, out, err = digday("advise", case)
    assert (code, out) == (2, "")
    assert "newer digday" in err
    assert "rulebook.yaml:4:" in err
    code, out, _ = digday("rulebook", "check", folder, "--lines")
    assert code == 1
    assert "newer digday" in out


def test_escape_characters_in_a_file_never_reach_the_terminal(
    digday: Callable[..., tuple[int, str, str]], tmp_path: Path
) -> None:
    case = tmp_path / "case.yaml"
    case.write_text(f'{HEAD}signs: {{"\\e[31mvines": green, vines: "\\a\\u202epurple"}}\n', encoding="utf-8")
    code, out, err = digday("advise", case)
    assert code == 2
    assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202e]", out + err)
    assert "\\x1b[31mvines" in err


def test_escape_characters_in_a_title_never_reach_the_terminal(
    digday: Callable[..., tuple[int, str, str]], tmp_path: Path
) -> None:
    case = tmp_path / "case.yaml"
    case.write_text(HEAD.replace("A bed", '"A \\e]0;bed\\a"') + "signs: {vines: green}\n", encoding="utf-8")
    for command in ("advise", "why", "cases"):
        _, out, err = digday(command, case)
        assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f]", out + err)


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["advize"], "did you mean advise?"),
        (["advise"], "CASE"),
        (["advise", "a", "b"], "unrecognized arguments: b"),
        (["completion", "fish"], "'fish' is none of bash, zsh, tcsh."),
        (["visit", "--plain", "--on", "2031-02-30"], "no day 2031-02-30"),
        (["visit", "--plain", "--units", "stone"], "'stone' is none of us, metric."),
        (["visit", "--plain", "--save", "/nowhere/at/all/x.yaml"], "/nowhere/at/all"),
        (["\x1b[31mred"], "\\x1b[31mred"),
    ],
)
def test_a_command_that_cannot_be_used_is_answered_in_one_sentence(
    digday: Callable[..., tuple[int, str, str]], arguments: list[str], sentence: str
) -> None:
    code, out, err = digday(*arguments)
    assert (code, out) == (2, "")
    assert sentence in err
    assert err.count("\n") == 1
