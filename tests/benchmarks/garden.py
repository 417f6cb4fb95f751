"""How quick the garden stays with fifty beds and ten years in the notebook.

Whole processes on a terminal of their own (80 by 24): the time to the first frame of the full notebook beside an empty
one, the two taking turns and the medians compared; and the time from a key until what it shows has come out: for a page
words that stand on it alone, for a move the first change. The way back is by the left arrow, for Esc alone waits up to
100 ms in Textual for the rest of an escape sequence. Run it as `python tests/benchmarks/garden.py`; it fails when a
limit is passed. It wants a machine that does nothing else.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import statistics
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from assistant.garden.entries.visits import RULEBOOK, keep_verdict, planting_answers
from assistant.interview.answers import parse_answer
from assistant.model.case import Case
from assistant.model.notebook import (
    AirRow,
    BedRow,
    DigRow,
    GardenRow,
    HistoryRow,
    LotEntryRow,
    LotRow,
    PlantingRow,
    RoomRow,
    StayRow,
    VerdictRow,
    VisitRow,
    answer_row,
)
from assistant.notebook import Notebook, open_notebook
from assistant.rulebook import read_rulebook
from assistant.season import advise

BEDS, YEARS, VISITS, LOOKS = 50, 10, 4, 6
ROUNDS, WARMING = 15, 1
MOST_RATIO, MOST_MS = 1.5, 50.0
QUIET, SECONDS_ALLOWED = 0.25, 30.0
SIGNS = {"vines": "green", "forecast_low": "44", "recent_nights": "54", "soil": "workable", "roots": "too-small"}
SHOWS = b"leave"
KEYS = {
    "down": (b"\x1b[B", b""),
    "up": (b"\x1b[A", b""),
    "page down": (b"\x1b[6~", b""),
    "page up": (b"\x1b[5~", b""),
    "a bed's story": (b"\r", b"a\xc2\xa0visit"),
    "back": (b"\x1b[D", b"frost\xc2\xa0tonight"),
}
"""Each key with words that it draws; none for those that only move the mark."""
OPEN = "import sys, pathlib; from assistant.tui import open_garden; open_garden(pathlib.Path(sys.argv[1]))"


def fill(notebook: Notebook) -> None:
    """Fifty beds over ten years, every visit with its answers and verdict, every lot with its ledger and air."""
    with notebook.entry("ten years"):
        garden = notebook.add(GardenRow("Ten years"))
        room = notebook.add(RoomRow(garden.id, "Store"))
        for number in range(BEDS):
            bed = notebook.add(BedRow(garden.id, f"Bed {number:02d}"))
            for year in range(YEARS):
                _season(notebook, bed, room, date.today().year - YEARS + 1 + year, year == YEARS - 1)
        start = datetime.now() - timedelta(hours=20_000)
        for hour in range(0, 20_000, 4):
            notebook.add(AirRow(room.id, start + timedelta(hours=hour), 57, 85, "logger"))


def _season(notebook: Notebook, bed: BedRow, room: RoomRow, year: int, last: bool) -> None:
    notebook.add(HistoryRow(bed.id, year - 1, "garlic"))
    planting = notebook.add(PlantingRow(bed.id, date(year, 5, 20), date(year, 5, 22), "Beauregard"))
    for week in range(VISITS):
        _visit(notebook, bed, planting, date(year, 8, 20) + timedelta(weeks=week))
    if last and bed.id % 2:
        return
    day = date(year, 9, 25)
    notebook.change(planting._replace(ended=day))
    lot = notebook.add(LotRow(bed.garden, f"{bed.name} {year}", notebook.add(DigRow(planting.id, day)).id))
    notebook.add(LotEntryRow(lot.id, day, "dug", "", 90))
    for month in range(LOOKS):
        notebook.add(LotEntryRow(lot.id, day + timedelta(days=28 * month), "used", "", 10))
    until = None if last else day + timedelta(days=200)
    notebook.add(StayRow(lot.id, room.id, "keep", day, until))


def _visit(notebook: Notebook, bed: BedRow, planting: PlantingRow, day: date) -> None:
    row = notebook.add(VisitRow(bed.garden, day, RULEBOOK, bed.name, bed=bed.id, planting=planting.id))
    answers = {name: parse_answer(BOOK.signs[name], text, day, row.units) for name, text in SIGNS.items()}
    answers |= planting_answers(BOOK, planting)
    for sign, known in answers.items():
        notebook.add(answer_row(row.id, sign, known))
    if not PATTERN:
        keep_verdict(notebook, row, advise(BOOK, Case("A bed", RULEBOOK, day, answers=answers)))
        PATTERN.extend(notebook.all(VerdictRow, visit=row.id))
    else:
        notebook.add(PATTERN[0]._replace(id=0, visit=row.id, day=day, look_again=day + timedelta(days=7)))


BOOK = read_rulebook(RULEBOOK)
PATTERN: list[VerdictRow] = []


@contextmanager
def opened(path: Path, bytecode: str) -> Iterator[tuple[int, float]]:
    """The garden on a terminal of its own, and the seconds until its first frame had come out."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    environment = {**os.environ, "TERM": "xterm-256color", "COLORTERM": "truecolor", "PYTHONPYCACHEPREFIX": bytecode}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    begun = time.perf_counter()
    command = [sys.executable, "-c", OPEN, str(path)]
    process = subprocess.Popen(
        command, stdin=theirs, stdout=theirs, stderr=theirs, env=environment, start_new_session=True
    )
    os.close(theirs)
    try:
        seen = b""
        while SHOWS not in seen:
            if not select.select([ours], [], [], SECONDS_ALLOWED)[0]:
                raise TimeoutError(f"no first frame; the end of what came: {seen[-500:]!r}")
            seen += os.read(ours, 65536)
        yield ours, time.perf_counter() - begun
    finally:
        process.kill()
        process.wait()
        os.close(ours)


def milliseconds_of(terminal: int, key: bytes, draws: bytes) -> float | None:
    """From a key until what it draws has come out; None when it draws nothing. All that follows is then read off."""
    begun, took, seen = time.perf_counter(), 0.0, b""
    os.write(terminal, key)
    while select.select([terminal], [], [], QUIET)[0]:
        seen += os.read(terminal, 65536)
        if not took and draws in seen:
            took = time.perf_counter() - begun
    return took * 1000 or None


def first_frames(full: Path, empty: Path, bytecode: str) -> tuple[float, float]:
    """Median seconds to the first frame of the full and of the empty notebook."""
    times: dict[Path, list[float]] = {full: [], empty: []}
    for _ in range(WARMING + ROUNDS):
        for path, seconds in times.items():
            with opened(path, bytecode) as (_, took):
                seconds.append(took)
    return statistics.median(times[full][WARMING:]), statistics.median(times[empty][WARMING:])


def keys(full: Path, bytecode: str) -> list[tuple[str, float]]:
    """Each key pressed again and again on the full notebook, with its milliseconds."""
    measured = []
    with opened(full, bytecode) as (terminal, _):
        milliseconds_of(terminal, b"", b"")
        for _ in range(WARMING + ROUNDS):
            for name, (key, draws) in KEYS.items():
                took = milliseconds_of(terminal, key, draws)
                if took is not None:
                    measured.append((name, took))
    return measured[WARMING * len(KEYS) :]


def main() -> int:
    """Prints the figures; 1 when a limit is passed."""
    with TemporaryDirectory() as folder:
        full, empty = Path(folder) / "full.sqlite", Path(folder) / "empty.sqlite"
        with open_notebook(full) as notebook:
            fill(notebook)
        open_notebook(empty).close()
        ours, theirs = first_frames(full, empty, folder)
        pressed = keys(full, folder)
        size = full.stat().st_size / 1e6
    p95 = statistics.quantiles([took for _, took in pressed], n=20)[-1]
    print(f"{BEDS} beds, {YEARS} years, {size:.0f} MB")
    print(f"empty notebook  {theirs * 1000:6.0f} ms to the first frame (median of {ROUNDS})")
    print(f"full notebook   {ours * 1000:6.0f} ms")
    print(f"ratio           {ours / theirs:6.2f}    (at most {MOST_RATIO})")
    for name in KEYS:
        found = [took for key, took in pressed if key == name]
        print(f"{name:15} {statistics.median(found):6.1f} ms, slowest {max(found):.1f}")
    print(f"p95 of keys     {p95:6.1f} ms (at most {MOST_MS:.0f})")
    return int(ours / theirs > MOST_RATIO or p95 > MOST_MS)


if __name__ == "__main__":
    sys.exit(main())
