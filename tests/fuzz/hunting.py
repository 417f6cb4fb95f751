"""The hunt for crashes: inputs that reach lines by new ways are kept and changed further; a crash is made small."""

from __future__ import annotations

import signal
import sys
import time
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from math import inf
from pathlib import Path
from random import Random
from types import CodeType, FrameType
from typing import Any, NamedTuple

from fuzz.mutating import mutated
from fuzz.parsers import Parser, take

ASSISTANT = str(Path(__file__).resolve().parents[2] / "assistant")
LONGEST = 5.0
"""Seconds of the processor that an input may take, traced; untraced it takes a fifth of that."""

Way = tuple[CodeType, int, int]


class TooSlow(BaseException):
    """An input took too long; no `except Exception` may swallow it."""


class Crash(NamedTuple):
    """What came out, the innermost lines of ours it came through, and the input."""

    kind: str
    where: str
    content: bytes
    story: str


class Ways:
    """The ways taken between lines of our own code: (code, line before, line)."""

    def __init__(self) -> None:
        self.taken: set[Way] = set()

    def start(self, frame: FrameType, event: str, arg: object) -> Any:  # noqa: ANN401  (as `sys.settrace` has it)
        """Traces a call of our own code and of no other."""
        code = frame.f_code
        if not code.co_filename.startswith(ASSISTANT):
            return None
        before, add = 0, self.taken.add

        def line(frame: FrameType, event: str, arg: object) -> object:
            nonlocal before
            if event == "line":
                add((code, before, frame.f_lineno))
                before = frame.f_lineno
            return line

        return line


@contextmanager
def _within(seconds: float) -> Iterator[None]:
    def stop(number: int, frame: object) -> None:
        raise TooSlow

    earlier = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, earlier)


def tried(parser: Parser, folder: Path, content: bytes, ways: Ways | None = None) -> Crash | None:
    """Give a parser an input; what went wrong, if anything, and the ways taken into `ways`."""
    try:
        with _within(LONGEST):
            if ways:
                sys.settrace(ways.start)
            try:
                take(parser, folder, content)
            finally:
                sys.settrace(None)
    except (Exception, TooSlow) as error:
        ours = [frame for frame in traceback.extract_tb(error.__traceback__) if frame.filename.startswith(ASSISTANT)]
        where = f"{Path(ours[-1].filename).name}:{ours[-1].name}" if ours else ""
        return Crash(type(error).__name__, where, content, "".join(traceback.format_exception(error)))
    return None


def hunt(
    parser: Parser, found: list[bytes], folder: Path, seconds: float, seed: int, most: float = inf
) -> tuple[list[Crash], int, int]:
    """The crashes, each kind at each place once; how many inputs were tried; and how many ways they took.

    Ends after so many seconds or inputs.
    """
    chance, corpus, known = Random(seed), list(found), set[Way]()
    crashes: dict[tuple[str, str], Crash] = {}
    tries, end = 0, time.monotonic() + seconds
    while time.monotonic() < end and tries < most:
        if tries < len(found):
            content = found[tries]
        else:  # the newest half as often as all others: they lead on
            recent = corpus[-max(1, len(corpus) // 10) :] if chance.random() < 0.5 else corpus
            content = mutated(chance.choice(recent), chance.choice(corpus), chance)
        tries += 1
        ways = Ways()
        crash = tried(parser, folder, content, ways)
        if crash and (crash.kind, crash.where) not in crashes:
            crashes[crash.kind, crash.where] = _smaller(parser, folder, crash)
        elif not crash and not ways.taken <= known:
            corpus.append(content)
        known |= ways.taken
    return list(crashes.values()), tries, len(known)


def _smaller(parser: Parser, folder: Path, crash: Crash) -> Crash:
    """The same crash from less: pieces are left out, large ones first, as long as it stays."""
    size, end = max(1, len(crash.content) // 2), time.monotonic() + LONGEST
    while size and time.monotonic() < end and crash.kind != TooSlow.__name__:
        start = 0
        while start < len(crash.content) and time.monotonic() < end:
            less = crash.content[:start] + crash.content[start + size :]
            again = tried(parser, folder, less)
            if again and (again.kind, again.where) == (crash.kind, crash.where):
                crash = again
            else:
                start += size
        size //= 2
    return crash
