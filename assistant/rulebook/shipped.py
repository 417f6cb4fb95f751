"""Rulebooks by name: those that come with the program, and folders of the user's own."""

from __future__ import annotations

import os
import re
from pathlib import Path

from assistant.model.place import BadInput, Place, Problem, refuse
from assistant.model.rules import Rulebook
from assistant.rulebook.build import build
from assistant.rulebook.documents import BIGGEST
from assistant.rulebook.names import instead, listed, quoted

_ASSISTANT = Path(__file__).resolve().parents[1]
_HEADING = re.compile(rb"^rulebook\s*:", re.MULTILINE)


def shipped_folder(which: str) -> Path:
    """Where `rulebooks` or `scenarios` lie: inside an installed package, or at the root of a checkout."""
    installed = _ASSISTANT / "shipped" / which
    return installed if installed.is_dir() else _ASSISTANT.parent / which


def shipped_rulebooks() -> tuple[str, ...]:
    """The names of the rulebooks that come with the program: the folders that hold one."""
    root = shipped_folder("rulebooks")
    folders = {path.parent for path in root.rglob("*.yaml") if _has_heading(path)}
    return tuple(sorted(folder.relative_to(root).as_posix() for folder in folders))


def _has_heading(path: Path) -> bool:
    if not path.is_file() or path.stat().st_size > BIGGEST:
        return False
    return _HEADING.search(path.read_bytes()) is not None


def rulebook_folder(name: str) -> Path:
    """The folder of a rulebook, by shipped name or path. Raises `BadInput` when there is none."""
    shipped = shipped_folder("rulebooks").joinpath(*name.split("/"))
    if name in shipped_rulebooks():
        return _as_seen_from_here(shipped)
    folder = Path(name)
    if _is_folder(folder):
        return folder
    if name.endswith((".yaml", ".yml")):
        raise refuse("not-a-rulebook", Place(name), "A rulebook is a folder, not a file.", "Name its folder.")
    raise _no_rulebook(name)


def _is_folder(folder: Path) -> bool:
    try:
        return str(folder) != "." and folder.is_dir() and any(folder.glob("*.yaml"))
    except (OSError, ValueError):
        return False


def _no_rulebook(name: str) -> BadInput:
    known = shipped_rulebooks()
    meant = instead(name, known)
    hint = f"{meant} " if meant.startswith("Did") else ""
    hint += f"Rulebooks here: {listed(known)}; or name a folder that holds one."
    return refuse("unknown-rulebook", Place(name), f"There is no rulebook {quoted(name)}.", hint)


def _as_seen_from_here(path: Path) -> Path:
    """The path relative to the current folder when it lies below it, so that places read well."""
    try:
        return path.relative_to(Path(os.getcwd()))
    except (ValueError, OSError):
        return path


def read_rulebook(name: str) -> Rulebook:
    """The rulebook of that shipped name, or in that folder. Raises `BadInput` with every problem."""
    rulebook, problems = build(rulebook_folder(name))
    if rulebook is None:
        raise BadInput(problems)
    return rulebook


def check_rulebook(name: str) -> tuple[Problem, ...]:
    """Every problem of a rulebook, sorted by place; none when it can be used."""
    try:
        return build(rulebook_folder(name))[1]
    except BadInput as error:
        return error.problems
