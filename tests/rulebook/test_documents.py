"""One file at a time: what YAML is read as, and what is refused before anything is made of it."""

import os
from pathlib import Path

import pytest

from assistant.model.place import BadInput, Place, Problem
from assistant.rulebook import Document, dump_yaml, read_document, render_problem
from assistant.rulebook.documents import BIGGEST
from assistant.rulebook.nodes import DEEPEST


def document(folder: Path, text: str | bytes) -> Document:
    path = folder / "file.yaml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_document(path)


def refused(folder: Path, text: str | bytes) -> Problem:
    with pytest.raises(BadInput) as refusal:
        document(folder, text)
    problem = refusal.value.problems[0]
    assert problem.hint
    assert problem.message.endswith(".")
    return problem


# Written against the YAML 1.1 types (https://yaml.org/type/), of which the surprising ones must not be read.
@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("", None), ("~", None), ("null", None), ("true", True), ("false", False),
        ("12", 12), ("-3", -3), ("+4", 4), ("0", 0), ("2.50", 2.5), ("-0.5", -0.5),
        ("yes", "yes"), ("no", "no"), ("on", "on"), ("off", "off"), ("y", "y"), ("True", "True"), ("NULL", "NULL"),
        ("2031-06-20", "2031-06-20"), ("10-08", "10-08"), ("12:30", "12:30"), ("1:30:00", "1:30:00"),
        ("010", "010"), ("0x10", "0x10"), ("0b11", "0b11"), ("1_000", "1_000"), (".5", ".5"), ("5.", "5."),
        ("1e3", "1e3"), ("1.0e+3", "1.0e+3"), (".inf", ".inf"), (".nan", ".nan"), ("<<", "<<"), ("=", "="),
        ("'12'", "12"), ('"true"', "true"), ("54 F", "54 F"), ("can't tell", "can't tell"), ("9" * 400, "9" * 400),
    ],
)  # fmt: skip
def test_a_scalar_is_nothing_or_true_or_false_or_a_decimal_number_or_else_text(
    written: str, meant: object, tmp_path: Path, parser: str
) -> None:
    value = document(tmp_path, f"key: {written}\n").data
    assert value == {"key": meant}
    assert isinstance(value, dict)
    assert type(value["key"]) is type(meant)


def test_every_value_and_key_knows_its_place(tmp_path: Path, parser: str) -> None:
    read = document(tmp_path, "signs:\n  vines: green\n  hills: [[1, 22], [3]]\n")
    assert read.place(("signs", "vines"), of_key=True) == Place(read.file, 2, 3)
    assert read.place(("signs", "vines")) == Place(read.file, 2, 10)
    assert read.place(("signs", "hills", 0, 1)) == Place(read.file, 3, 15)
    assert read.excerpt(read.place(("signs", "vines"))) == ("signs:", "  vines: green")
    with pytest.raises(KeyError):
        read.place(("signs", "soil"))


def test_a_byte_order_mark_and_windows_line_ends_are_read_past(tmp_path: Path, parser: str) -> None:
    read = document(tmp_path, b"\xef\xbb\xbfcase: one\r\non: two\r\n")
    assert read.data == {"case": "one", "on": "two"}
    assert read.place(("on",), of_key=True) == Place(read.file, 2, 1)


def test_places_count_lines_as_yaml_does(tmp_path: Path) -> None:
    read = document(tmp_path, "a: 'x\u2028 y'\nb: 1\n")
    assert read.excerpt(read.place(("b",)))[-1] == "b: 1"


def test_an_alias_bomb_is_refused_at_its_first_anchor(tmp_path: Path, parser: str) -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 12)]
    problem = refused(tmp_path, "\n".join(lines))
    assert (problem.code, problem.place.line, problem.place.column) == ("alias", 1, 5)


def test_an_alias_that_holds_itself_is_refused(tmp_path: Path, parser: str) -> None:
    assert refused(tmp_path, "a: &a [*a]\n").code == "alias"


@pytest.mark.parametrize("opening", ["[", "{a: ", "- "])
def test_deep_nesting_is_refused_without_a_recursion_error(opening: str, tmp_path: Path, parser: str) -> None:
    assert refused(tmp_path, opening * 20_000).code == "too-deep"


def test_nesting_up_to_the_limit_is_read(tmp_path: Path, parser: str) -> None:
    document(tmp_path, "[" * DEEPEST + "]" * DEEPEST)
    assert refused(tmp_path, "[" * (DEEPEST + 1) + "]" * (DEEPEST + 1)).code == "too-deep"


def test_fifty_megabytes_are_refused_unread_with_both_sizes(tmp_path: Path) -> None:
    path = tmp_path / "huge.yaml"
    with path.open("wb") as stream:
        stream.write(b"case: ")
        stream.truncate(50_000_000)
    with pytest.raises(BadInput) as refusal:
        read_document(path)
    expected = f"{path}: The file has 50.0 MB; files over 1 MB are not read. [too-big]\n  Split it into several files."
    assert render_problem(refusal.value.problems[0]) == expected


def test_a_file_of_just_the_biggest_size_is_read(tmp_path: Path) -> None:
    text = "case: " + "x" * (BIGGEST - 6)
    assert document(tmp_path, text).data == {"case": "x" * (BIGGEST - 6)}
    assert refused(tmp_path, text + "x").code == "too-big"


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n", "---\n", "\ufeff"])
def test_an_empty_file_is_refused(text: str, tmp_path: Path, parser: str) -> None:
    if text == "---\n":
        assert document(tmp_path, text).data is None
    else:
        assert refused(tmp_path, text).code == "empty-file"


@pytest.mark.parametrize(
    ("raw", "code", "line", "column"),
    [
        (b"case: a\n\x00\x01\x02", "not-text", 2, 1),
        (b"\x7fELF\x02\x01\x01\x00\x00", "not-text", 1, 8),
        (b"case: a\nb: \x1b[31m", "not-text", 2, 4),
        ("case: caf\xe9\n".encode("latin-1"), "wrong-encoding", 1, 10),
        (b"\xef\xbb\xbfcase: caf\xe9\n", "wrong-encoding", 1, 10),
        (b"\xef\xbb\xbfcase: a\0", "not-text", 1, 8),
        ("ok: 1\ncase: a".encode("utf-16"), "wrong-encoding", 1, 1),
        (b"case: \xed\xa0\x80", "wrong-encoding", 1, 7),
    ],
)
def test_what_is_no_utf8_text_is_refused_at_the_byte_at_fault(
    raw: bytes, code: str, line: int, column: int, tmp_path: Path
) -> None:
    problem = refused(tmp_path, raw)
    assert (problem.code, problem.place.line, problem.place.column) == (code, line, column)


def test_a_missing_file_a_folder_and_a_pipe_are_refused(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for name, code in (("nothing", "no-file"), ("", "not-a-file"), ("pipe", "not-a-file"), ("a\0b", "unreadable")):
        with pytest.raises(BadInput) as refusal:
            read_document(tmp_path / name)
        assert [problem.code for problem in refusal.value.problems] == [code]


def test_a_file_without_the_right_to_read_it_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def forbid(*_: object, **__: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", forbid)
    with pytest.raises(BadInput, match="Permission denied"):
        read_document(tmp_path / "file.yaml")


def test_python_tags_run_nothing(tmp_path: Path, parser: str) -> None:
    marker = tmp_path / "ran"
    problem = refused(tmp_path, f"a: !!python/object/apply:os.mkdir ['{marker}']\n")
    assert problem.code == "tag"
    assert not marker.exists()


def test_all_duplicate_keys_and_tags_are_told_in_one_pass(tmp_path: Path, parser: str) -> None:
    with pytest.raises(BadInput) as refusal:
        document(tmp_path, "a: 1\na: 2\nb: {c: 1, c: !x 2}\na: 3\n")
    found = [(problem.code, problem.place.line, problem.place.column) for problem in refusal.value.problems]
    assert found == [("duplicate-key", 2, 1), ("duplicate-key", 3, 11), ("tag", 3, 14), ("duplicate-key", 4, 1)]
    assert "the first is on line 1." in refusal.value.problems[-1].message


def test_the_excerpt_of_a_problem_carries_no_escape_sequence(tmp_path: Path) -> None:
    problem = refused(tmp_path, 'a\u202eb: 1\n"a\\u202eb": 2\n')
    assert "\u202e" in problem.excerpt[0]
    assert "\u202e" not in render_problem(problem)
    assert "'a\\u202eb'" in render_problem(problem)


def test_a_long_line_is_shown_around_the_spot(tmp_path: Path) -> None:
    problem = refused(tmp_path, f"a: 1\n{{{'x' * 200}: 1, {'x' * 200}: 2}}\n".replace("a: 1\n", ""))
    source, mark = render_problem(problem).splitlines()[1:3]
    assert len(source) < 120
    assert source[mark.index("^")] == "x"
    assert source[mark.index("^") - 1] == " "


def test_text_that_is_written_is_read_back_the_same(tmp_path: Path, parser: str) -> None:
    values: dict[str, object] = {
        "on": "2031-10-04", "text of digits": "54", "whole": 54, "decimal": 5.0, "small": 0.25, "word": "yes",
        "nothing": None, "flag": True, "null text": "null", "hills": [[2.1, 1.2], [3]], "quote": "can't tell",
        "colon": "a: b", "lines": "two\nlines\n", "empty": "", "tilde": "~", "octal": "010", "range": "0..7",
        "star": "*a", "long": "word " * 60, "deep": {"a": {"b": []}}, "accent": "café 54 °F", "first_frost": {},
    }  # fmt: skip
    text = dump_yaml(values)  # type: ignore[arg-type]
    assert document(tmp_path, text).data == values
    assert list(values) == [line.split(":")[0] for line in text.splitlines() if line[:1].isalpha()]
    assert "on: 2031-10-04\n" in text
    assert "word: yes\n" in text
    assert "range: 0..7\n" in text
