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
_SHIPPED_NAME = re.compile(r"[a-z0-9-]+(?:/[a-z0-9-]+)*")
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
    """The folder of a rulebook, by shipped name or path. Raises `BadInput` when there is none.

    A shipped name wins over a folder of that name; write `./name` for the folder.
    """
    shipped = shipped_folder("rulebooks") / name
    if _SHIPPED_NAME.fullmatch(name) and _is_folder(shipped) and any(map(_has_heading, shipped.glob("*.yaml"))):
        return _as_seen_from_here(shipped)
    if name and _is_folder(Path(name)):
        return _checked(Path(name))
    if name and _is_file(Path(name)):
        raise refuse("not-a-rulebook", Place(name), "A rulebook is a folder, not a file.", "Name its folder.")
    raise _no_rulebook(name)


def _is_folder(path: Path) -> bool:
    """Whether the folder is there; no path that a system cannot have is one."""
    try:
        return path.is_dir()
    except (OSError, ValueError):
        return False


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


def _checked(folder: Path) -> Path:
    """The folder, when it holds YAML files."""
    if not any(folder.glob("*.yaml")):
        message = "This folder holds no file that ends in .yaml."
        raise refuse("not-a-rulebook", Place(str(folder)), message, "Name the folder of a rulebook.")
    return folder


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
