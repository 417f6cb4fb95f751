"""A power cut, as far as a file system can be imagined: what was asked of the disk and not yet synced may be lost,
in part or whole, in any order; a name that comes or goes is certain only once its folder is synced."""

from __future__ import annotations

import os
import random
import subprocess
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

SECTOR = 512  # bytes that a disk writes whole
PROGRAM = """
import os, sys
from pathlib import Path
from assistant.notebook import open_notebook
from killing import step
told = os.open(sys.argv[2], os.O_CREAT | os.O_WRONLY)
with open_notebook(Path(sys.argv[1])) as notebook:
    for number in range(int(sys.argv[3])):
        step(notebook, number)
        os.pwrite(told, b"x", number)
"""


class Asked(NamedTuple):
    """One thing that was asked of the disk: new, write, cut, sync or gone."""

    what: str
    offset: int
    name: str
    content: bytes


class File:
    """What of a file is on the disk for certain, and what was asked of it since."""

    def __init__(self, content: bytes = b"") -> None:
        self.certain = bytearray(content)
        self.asked: list[Asked] = []

    def sync(self) -> None:
        """All that was asked is certain now."""
        for each in self.asked:
            _apply(self.certain, each)
        self.asked.clear()

    def after_a_cut(self, chance: random.Random) -> bytes:
        """What may be found after a power cut: of what was asked each sector is there or not."""
        content = bytearray(self.certain)
        for each in self.asked:
            for part in _sectors(each):
                if chance.random() < 0.5:
                    _apply(content, part)
        return bytes(content)


class Disk:
    """A folder of files, the names that are certain, and the changes of names since the folder was synced."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.now = {path.name: File(path.read_bytes()) for path in folder.iterdir()}
        self.certain = dict(self.now)
        self.renamed: list[tuple[str, File | None]] = []

    def ask(self, asked: Asked) -> None:
        """Take one thing into account."""
        if asked.what == "sync" and asked.name == self.folder.name:
            self.certain, self.renamed = dict(self.now), []
        elif asked.what == "sync":
            self.now[asked.name].sync()
        elif asked.what == "new":
            self.now[asked.name] = File()
            self.renamed.append((asked.name, self.now[asked.name]))
        elif asked.what == "gone":
            del self.now[asked.name]
            self.renamed.append((asked.name, None))
        else:
            self.now[asked.name].asked.append(asked)

    def after_a_cut(self, to: Path, chance: random.Random) -> None:
        """Write a folder as it may be found after a power cut; names change in the order that was asked for."""
        names: dict[str, File | None] = dict(self.certain)
        names.update(self.renamed[: chance.randint(0, len(self.renamed))])
        to.mkdir()
        for name, file in names.items():
            if file is not None:
                (to / name).write_bytes(file.after_a_cut(chance))


def asked_of_the_disk(library: Path, path: Path, told: Path, entries: int) -> list[Asked]:
    """Runs a program that writes entries in the notebook at a path; what it asked of the disk, in order.

    A write to `told` says that an entry was told as written.
    """
    log = told.with_name("disk.log")
    environment = {
        **os.environ, "LD_PRELOAD": str(library), "DISK_FOLDER": str(path.parent), "DISK_LOG": str(log),
        "PYTHONPATH": os.pathsep.join(sys.path),
    }  # fmt: skip
    command = [sys.executable, "-c", PROGRAM, str(path), str(told), str(entries)]
    subprocess.run(command, env=environment, check=True, timeout=60)
    return list(_read(log.read_bytes()))


def _read(log: bytes) -> Iterator[Asked]:
    at = 0
    while at < len(log):
        end = log.index(b"\n", at)
        what, offset, length, path = log[at:end].decode().split(" ", 3)
        content = log[end + 1 : end + 1 + int(length)] if what == "write" else b""
        at = end + 1 + len(content)
        yield Asked(what, int(offset), Path(path).name, content)


def _sectors(asked: Asked) -> Iterable[Asked]:
    if asked.what != "write":
        return [asked]
    starts = range(0, len(asked.content), SECTOR)
    return [asked._replace(offset=asked.offset + at, content=asked.content[at : at + SECTOR]) for at in starts]


def _apply(content: bytearray, asked: Asked) -> None:
    if asked.what == "cut":
        del content[asked.offset :]
        content.extend(bytes(asked.offset - len(content)))
        return
    content.extend(bytes(max(0, asked.offset - len(content))))
    content[asked.offset : asked.offset + len(asked.content)] = asked.content
