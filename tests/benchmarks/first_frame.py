"""How long until the first question stands on the screen, beside an empty Textual app.

Whole processes on a terminal of their own (80 by 24), from the start of Python to the moment the
first frame has been written; the two take turns and the medians are compared. Both run from compiled
bytecode, as installed programs do. Run it as `python tests/benchmarks/first_frame.py`; it fails when
the ratio is above the limit.
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
from tempfile import TemporaryDirectory

ROUNDS = 21
WARMING = 1
MOST = 1.6
SECONDS_ALLOWED = 20.0

EMPTY = """
from textual.app import App
from textual.widgets import Static
class Empty(App[None]):
    def compose(self):
        yield Static("FIRST FRAME")
Empty().run()
"""
QUESTION = """
import pathlib, shutil, tempfile
from assistant.cases import read_case, rulebook_of
from assistant.season import Visit
from assistant.tui import DEMO_CASE, open_visit
with tempfile.TemporaryDirectory() as scratch:
    case_file = pathlib.Path(shutil.copy(DEMO_CASE, scratch))
    case = read_case(case_file)
    open_visit(Visit(rulebook_of(case), case), case_file)
"""
EMPTY_SHOWS, QUESTION_SHOWS = b"FIRST FRAME", b"can't tell"


def seconds_until(code: str, shown: bytes, bytecode: str) -> float:
    """From the start of a fresh interpreter until the text has come out on its terminal."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    environment = {**os.environ, "TERM": "xterm-256color", "COLORTERM": "truecolor", "PYTHONPYCACHEPREFIX": bytecode}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    begun = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-c", code],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env=environment,
        start_new_session=True,
    )
    os.close(theirs)
    try:
        return _wait_for(ours, shown, begun)
    finally:
        process.kill()
        process.wait()
        os.close(ours)


def _wait_for(terminal: int, shown: bytes, begun: float) -> float:
    seen = b""
    while shown not in seen:
        ready, _, _ = select.select([terminal], [], [], SECONDS_ALLOWED)
        if not ready:
            raise TimeoutError(f"{shown!r} never came; the end of what came: {seen[-500:]!r}")
        seen += os.read(terminal, 65536)
    return time.perf_counter() - begun


def medians() -> tuple[float, float]:
    """Seconds of the empty app and of the first question, each the median of several runs."""
    empty, question = [], []
    with TemporaryDirectory() as bytecode:
        for _ in range(WARMING + ROUNDS):
            empty.append(seconds_until(EMPTY, EMPTY_SHOWS, bytecode))
            question.append(seconds_until(QUESTION, QUESTION_SHOWS, bytecode))
    return statistics.median(empty[WARMING:]), statistics.median(question[WARMING:])


def main() -> int:
    """Prints both medians and their ratio; 1 when the ratio is above the limit."""
    empty, question = medians()
    print(f"empty app       {empty * 1000:6.0f} ms to the first frame (median of {ROUNDS})")
    print(f"first question  {question * 1000:6.0f} ms")
    print(f"ratio           {question / empty:6.2f}    (at most {MOST})")
    return int(question / empty > MOST)


if __name__ == "__main__":
    sys.exit(main())
