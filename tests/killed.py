"""A program of ours in another process, killed at a random moment; what it had told until then."""

from __future__ import annotations

import contextlib
import os
import select
import signal
import sys
import time
from collections.abc import Callable, Iterator
from datetime import date, datetime, timedelta
from pathlib import Path
from random import Random
from typing import NamedTuple

from assistant.cases import read_case, save_case
from assistant.cases.ledger import add_entry, read_accounts, read_ledger
from assistant.cli import main
from assistant.model.case import Case
from assistant.model.quantities import Units
from assistant.model.room_log import RoomReading
from assistant.weather.logger import read_log
from assistant.weather.logger_writing import add_reading

AN_ENTRY = 0.01  # seconds, about as long as one takes
PATIENCE = 60.0  # seconds for a prompt, on the busiest machine
BEGUN = datetime(2031, 10, 4, 8)

Work = Callable[[], Iterator[None]]


class Child(NamedTuple):
    """Another process: its number, where it reads and where it writes."""

    process: int
    to: int
    told: int

    def kill(self) -> bytes:
        """Kill it, and take what it had written and nobody had read."""
        os.kill(self.process, signal.SIGKILL)
        os.waitpid(self.process, 0)
        os.close(self.to)
        with os.fdopen(self.told, "rb") as told:
            return told.read()


def _child(run: Callable[[], object]) -> Child:
    """A process that runs something with its input and output through pipes."""
    (reads, to), (told, writes) = os.pipe(), os.pipe()
    process = os.fork()
    if process == 0:
        try:
            for own, number in ((reads, 0), (writes, 1), (os.open(os.devnull, os.O_WRONLY), 2)):
                os.dup2(own, number)
            os.close(to)
            sys.stdin, sys.stdout, sys.stderr = open(0), open(1, "w"), open(2, "w")  # noqa: SIM115
            run()
        finally:
            os._exit(0)
    os.close(reads)
    os.close(writes)
    return Child(process, to, told)


def killed_visit(path: Path, answers: int, seconds: float) -> int:
    """A visit that goes on with a case, killed some time after so many answers; how many it said it had noted."""
    child, output = _child(lambda: main(["visit", "--plain", "--case", str(path)])), b""
    for _ in range(answers):
        output += _until_asked(child)
        with contextlib.suppress(BrokenPipeError):  # the last question was the last
            os.write(child.to, b"?\n")
    time.sleep(seconds)
    return (output + child.kill()).count(b"Noted:")


def _until_asked(child: Child) -> bytes:
    """What is written up to the next prompt, or the end."""
    output, end = b"", time.monotonic() + PATIENCE
    while not output.endswith(b"> ") and time.monotonic() < end:
        if select.select([child.told], [], [], 0.1)[0]:
            more = os.read(child.told, 65536)
            if not more:
                break
            output += more
    return output


def killed_work(work: Work, entries: int, seconds: float) -> int:
    """Work that writes an entry a step, killed some time after so many; how many it had told as written."""

    def tell() -> None:
        for _ in work():
            os.write(1, b".")

    child, told = _child(tell), b""
    while len(told) < entries:
        more = os.read(child.told, entries - len(told))
        if not more:
            break
        told += more
    time.sleep(seconds)
    return len(told + child.kill())


def visits_again_and_again(folder: Path, rounds: int, seed: int) -> int:
    """After each kill the case must read, with every answer that was said to be noted; how many those were."""
    chance, noted = Random(seed), 0
    path = folder / "bed.yaml"
    for _ in range(rounds):
        case = Case("A bed", "sweetpotato/when-to-dig", date(2031, 10, 4))
        save_case(case, path)
        told = killed_visit(path, chance.randrange(6), chance.uniform(0, 4 * AN_ENTRY))
        kept = len(read_case(path).answers)
        assert told <= kept <= told + 1, f"{told} answers were noted and {kept} are kept"
        noted += told
    save_case(case, path)
    assert list(folder.iterdir()) == [path]
    return noted


def ledgers_again_and_again(folder: Path, rounds: int, seed: int) -> int:
    """After each kill the ledger must add up, with every entry that was told as written; how many there are."""
    path = folder / "lots.csv"

    def work() -> Iterator[None]:
        while True:
            what = "looked" if path.exists() and path.stat().st_size else "dug"
            add_entry(path, {"date": "2031-10-06", "lot": "north", "what": what, "weight": "9 lb"}, Units.US)
            yield

    def kept() -> int:
        return len(read_ledger(path, Units.US)) if read_accounts(path, Units.US) else 0

    return _again_and_again(path, work, kept, rounds, seed)


def logs_again_and_again(folder: Path, rounds: int, seed: int) -> int:
    """After each kill the log must read, with every reading that was told as written; how many there are."""
    path = folder / "room.csv"

    def work() -> Iterator[None]:
        number = len(read_log(path).readings) if path.exists() and path.stat().st_size else 0
        while True:
            add_reading(path, RoomReading(BEGUN + number * timedelta(minutes=30), 84.0, 88.0))
            number += 1
            yield

    return _again_and_again(path, work, lambda: len(read_log(path).readings), rounds, seed)


def cases_again_and_again(folder: Path, rounds: int, seed: int) -> int:
    """After each kill the case must be the last that was told as saved, or the next; the number of the last."""
    path = folder / "bed.yaml"

    def number() -> int:
        return int(read_case(path).title.partition(" ")[0]) if path.exists() else 0

    def work() -> Iterator[None]:
        for title in range(number() + 1, 10**6):
            save_case(Case(f"{title} {'x' * title * 50}", "sweetpotato/when-to-dig", date(2031, 10, 4)), path)
            yield

    return _again_and_again(path, work, number, rounds, seed)


def _again_and_again(path: Path, work: Work, kept: Callable[[], int], rounds: int, seed: int) -> int:
    chance, before = Random(seed), 0
    for _ in range(rounds):
        told = before + killed_work(work, chance.randrange(4), chance.uniform(0, AN_ENTRY))
        now = kept() if path.exists() and path.stat().st_size else 0
        assert told <= now <= told + 1, f"{told} were told as written and {now} are there"
        before = now
    return before


EVERY_KIND: tuple[Callable[[Path, int, int], int], ...] = (
    visits_again_and_again,
    ledgers_again_and_again,
    logs_again_and_again,
    cases_again_and_again,
)
