"""The author's guide, walked in an empty folder: its files are written, its commands run, what it shows comes out."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

import pytest

from assistant.rulebook.case_grammar import CASE, SOURCES_FILE
from assistant.rulebook.grammar import RULEBOOK, named
from assistant.rulebook.shapes import Either, ListOf, Named, Names, Record, Shape

RULEBOOKS = Path(__file__).resolve().parents[2] / "rulebooks"
GUIDE = (RULEBOOKS / "README.md").read_text(encoding="utf-8")
LEFT_OUT = "…"


class Block(NamedTuple):
    """A fenced block of the guide; `name` is the file that its first line names, if it does."""

    language: str
    name: str
    text: str


def _blocks() -> Iterator[Block]:
    for language, text in re.findall(r"```(\w+)\n(.*?)```", GUIDE, re.DOTALL):
        first = re.match(r"# (\S+\.yaml)\n", text)
        yield Block(language, first[1] if first and language == "yaml" else "", text)


BLOCKS = tuple(_blocks())


def _session(text: str) -> list[tuple[str, list[str]]]:
    """The commands of a block, each with the lines that it is said to print."""
    session: list[tuple[str, list[str]]] = []
    for line in text.splitlines():
        if line.startswith("$ "):
            session.append((line[2:], []))
        else:
            session[-1][1].append(line)
    return session


def _matches(said: Sequence[str], printed: Sequence[str]) -> bool:
    """Whether the lines printed are those said, where an ellipsis stands for any lines."""
    parts = "\n".join(said).split(f"\n{LEFT_OUT}\n") if said else []
    pattern = r"\n(?:.*\n)*?".join(_escaped(part) for part in parts)
    return re.fullmatch(pattern, "\n".join(printed)) is not None


def _escaped(part: str) -> str:
    """A run of lines as a pattern; an ellipsis may stand at its beginning or end."""
    begins, ends = part.startswith(f"{LEFT_OUT}\n"), part.endswith(f"\n{LEFT_OUT}")
    inside = part.removeprefix(f"{LEFT_OUT}\n").removesuffix(f"\n{LEFT_OUT}")
    return (r"(?:.*\n)*?" if begins else "") + re.escape(inside) + (r"(?:\n.*)*" if ends else "")


def _run(command: str, folder: Path) -> list[str]:
    path = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
    environment = {**os.environ, "PATH": path, "COLUMNS": "80", "PYTHONUTF8": "1"}
    ran = subprocess.run(
        ["bash", "-c", command], cwd=folder, env=environment, text=True, encoding="utf-8", check=False,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=120,
    )  # fmt: skip
    return ran.stdout.rstrip("\n").splitlines()


def _write(folder: Path, block: Block) -> None:
    path = folder / block.name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(block.text, encoding="utf-8")


def test_the_guide_comes_out_as_it_says_from_an_empty_folder(tmp_path: Path) -> None:
    for block in BLOCKS:
        if block.name:
            _write(tmp_path, block)
        for command, said in _session(block.text) if block.language == "console" else ():
            printed = _run(command, tmp_path)
            assert _matches(said, printed), f"$ {command}\n" + "\n".join(printed)


def test_the_guide_writes_two_rulebooks_and_shows_a_problem_and_its_end() -> None:
    text = "\n".join(block.text for block in BLOCKS if block.language == "console")
    assert text.count("$ digday") >= 10
    assert "slips: 1 problem." in text
    assert {"slips: no problems.", "clay: no problems."} <= set(text.splitlines())
    assert len({block.name for block in BLOCKS if block.name}) >= 12


def test_every_fragment_is_taken_from_a_shipped_rulebook() -> None:
    shipped = "\n".join(path.read_text(encoding="utf-8") for path in sorted(RULEBOOKS.rglob("*.yaml")))
    fragments = [block.text for block in BLOCKS if block.language == "yaml" and not block.name]
    assert fragments
    assert [fragment for fragment in fragments if fragment not in shipped] == []


@pytest.mark.parametrize("shape", [RULEBOOK, SOURCES_FILE, CASE], ids=["rulebook", "sources", "case"])
def test_the_list_of_keys_names_every_key(shape: Record) -> None:
    listed = set(re.findall(r"`([\w-]+)`|\b(\w+):", GUIDE.partition("## Every key")[2]))
    words = {word for found in listed for word in found}
    assert sorted(set(_keys(shape, set())) - words) == []


def _keys(shape: Shape, entered: set[str]) -> Iterator[str]:
    """Every key that the grammar gives a name to."""
    match shape:
        case Named(name):
            if name not in entered:
                entered.add(name)
                yield from _keys(named(name), entered)
        case Either(options):
            for option in options:
                yield from _keys(option, entered)
        case Record():
            for key, value in shape.keys.items():
                yield key
                yield from _keys(value.shape, entered)
            if shape.others:
                yield from _keys(shape.others.shape, entered)
        case Names(item) | ListOf(item):
            yield from _keys(item, entered)


def test_an_ellipsis_stands_for_any_lines_and_for_no_others() -> None:
    printed = ["one", "two", "three", "four"]
    assert _matches(["one", LEFT_OUT, "four"], printed)
    assert _matches([LEFT_OUT, "two", "three", LEFT_OUT], printed)
    assert not _matches(["one", LEFT_OUT, "three"], printed)
    assert not _matches([LEFT_OUT, "two", "four", LEFT_OUT], printed)
    assert _matches([], [])
    assert not _matches([], printed)
