"""Rulebooks by name: those that come with the program, and folders of the user's own; and the files of each."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path

from assistant.model.place import BadInput, Place, Problem, refuse
from assistant.rulebook.documents import BIGGEST
from assistant.rulebook.names import instead, listed, quoted

SOURCES_NAME = "sources.yaml"
_ASSISTANT = Path(__file__).resolve().parents[1]
_SHIPPED_NAME = re.compile(r"[a-z0-9-]+(?:/[a-z0-9-]+)*")
_HEADING = re.compile(rb"^rulebook\s*:", re.MULTILINE)

NO_RULEBOOK = frozenset({"unknown-rulebook", "not-a-rulebook"})
"""The codes of problems with a name that no rulebook has; all others are problems of a rulebook that is there."""


def shipped_folder(which: str) -> Path:
    """Where `rulebooks` or `scenarios` lie: inside an installed package, or at the root of a checkout."""
    installed = _ASSISTANT / "shipped" / which
    return installed if installed.is_dir() else _ASSISTANT.parent / which


def shipped_rulebooks() -> tuple[str, ...]:
    """The names of the rulebooks that come with the program: the folders that hold one, but for the manual's."""
    root = shipped_folder("rulebooks")
    folders = {path.parent.relative_to(root) for path in root.rglob("*.yaml") if _has_heading(path)}
    return tuple(sorted(folder.as_posix() for folder in folders if not folder.as_posix().startswith("_")))


def _has_heading(path: Path) -> bool:
    if not path.is_file() or path.stat().st_size > BIGGEST:
        return False
    return _HEADING.search(path.read_bytes()) is not None


def rulebook_folder(name: str, beside: Path = Path()) -> Path:
    """The folder of a rulebook, by shipped name or path from a folder. Raises `BadInput` when there is none.

    A shipped name wins over a folder of that name; write `./name` for the folder.
    """
    shipped = shipped_folder("rulebooks") / name
    if _SHIPPED_NAME.fullmatch(name) and _is_folder(shipped) and any(map(_has_heading, _yaml_files(shipped))):
        return _as_seen_from_here(shipped)
    if name and _is_folder(beside / name):
        return _checked(beside / name)
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


def rulebook_files(folder: Path) -> tuple[Path, ...]:
    """The YAML files of a folder and its crop's sources, sorted by file name."""
    shared = folder.parent / SOURCES_NAME if folder.name not in ("", "..") else folder / ".." / SOURCES_NAME
    found = [*_yaml_files(folder), *([shared] if shared.is_file() else [])]
    return tuple(sorted(found, key=lambda path: (path.name, str(path))))


def _yaml_files(folder: Path, ending: str = ".yaml") -> list[Path]:
    return [path for path in folder.iterdir() if path.suffix == ending and not path.name.startswith(".")]


def misnamed_files(folder: Path) -> Iterator[Problem]:
    """Files that an author may think are read."""
    for path in _yaml_files(folder, ".yml"):
        message = "This file is not read: the files of a rulebook end in .yaml."
        yield Problem("bad-file-name", Place(str(path)), message, f"Call it {path.stem}.yaml, or move it away.")
