"""The garden's screen in a terminal of its own, killed at a random moment amid real keys.

Beside it a mirror of its notebook, written to in this process by what the screen calls. What keys do is acknowledged
once the terminal shows so.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import shutil
import signal
import struct
import termios
import time
from collections.abc import Iterator
from contextlib import suppress
from itertools import count
from pathlib import Path
from random import Random
from typing import Any, NamedTuple, NoReturn

from a_season import everything
from killing import assert_sound

from assistant.garden import demo
from assistant.garden.entries.taking_out import take_out
from assistant.garden.entries.visits import go_on_with, keep_verdict
from assistant.garden.standing.overview import beds_now
from assistant.garden.standing.stages import BedNow
from assistant.model.place import BadInput
from assistant.model.quantities import NotAValue
from assistant.notebook import Entry, Notebook, open_notebook
from assistant.tui.garden_app import GardenApp
from assistant.tui.garden_lines import LINES, needs_bed
from assistant.tui.garden_page import Garden

PATIENCE = 60.0  # seconds for a page, on the busiest machine
A_KEY = 0.03  # seconds, about as long as one that writes takes
HOME, DOWN, ENTER = "\x1b[H", "\x1b[B", "\r"
WRITTEN = {"bed": "Bed {}", "dig": "9 lb", "air": "8{} F 88 %", "lot": "looked", "plant": "20 June", "frost": "3{} F"}
LINE_KEYS = {"bed": "n", "dig": "d", "air": "r", "lot": "l", "plant": "p", "frost": "f"}
FEW_BEDS = 5
WHAT = ("visit",) * 8 + ("air", "lot", "undo") * 2 + ("bed", "dig", "plant", "frost", "take out")


class Stroke(NamedTuple):
    """Keys, and what the terminal shows when they have had their effect; nothing where that is told with the next."""

    keys: str
    shows: str


Strokes = tuple[Stroke, ...]


class Screen:
    """The garden of a notebook on a terminal of its own, in another process; `sent` is all that the terminal got."""

    def __init__(self, path: Path) -> None:
        self.sent = b""
        self.process, self.terminal = pty.fork()
        if self.process == 0:
            _run(path)
        self.press(Stroke("", "leave"))

    def press(self, stroke: Stroke) -> None:
        """Send the keys and wait until their effect is shown."""
        os.write(self.terminal, stroke.keys.encode())
        before, end = len(self.sent), time.monotonic() + PATIENCE
        while stroke.shows.encode() not in self.sent[before:]:
            assert time.monotonic() < end, f"{stroke} never came; the end of what did: {self.sent[-2000:]!r}"
            if select.select([self.terminal], [], [], 0.1)[0]:
                self.sent += os.read(self.terminal, 65536)

    def kill(self, stroke: Stroke, seconds: float) -> None:
        """Send the keys, and kill the program so long after them."""
        os.write(self.terminal, stroke.keys.encode())
        time.sleep(seconds)
        os.kill(self.process, signal.SIGKILL)
        os.waitpid(self.process, 0)
        os.close(self.terminal)


def _run(path: Path) -> NoReturn:
    """The garden, its notices numbered, to tell each from an earlier one that is drawn again."""
    numbers, notify = count(1), GardenApp.notify

    def numbered(app: GardenApp, message: str, **how: Any) -> None:  # noqa: ANN401  (as the library has it)
        notify(app, f"#{next(numbers)}# {message}", **how)

    try:
        GardenApp.notify = numbered  # type: ignore[method-assign, assignment]
        fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", 30, 100, 0, 0))
        os.environ.update(TERM="xterm-256color")
        with open_notebook(path) as notebook:
            GardenApp(Garden(notebook, demo.TODAY)).run()
    finally:
        os._exit(1)


class Hands:
    """Does something at random with a mirror, and tells the keys that do it on the screen."""

    def __init__(self, mirror: Notebook, chance: Random, first: Entry | None) -> None:
        self.mirror, self.chance, self.notices = mirror, chance, 0
        self._first = first

    def strokes(self) -> Iterator[Strokes]:
        """Without end: the mirror has what these keys write when they are told."""
        while True:
            beds = beds_now(self.mirror, demo.TODAY)
            at, what = self.chance.randrange(min(len(beds), 8)), self.chance.choice(WHAT)
            too_much = {"undo": self.mirror.last_entry == self._first, "take out": len(beds) < FEW_BEDS}
            if too_much.get(what):
                continue  # there would soon be nothing left to do anything with
            with suppress(NotAValue, BadInput):
                to_bed = HOME + DOWN * at
                if what == "visit":
                    yield from self._visit(to_bed, beds[at])
                else:
                    yield self._at_once(to_bed, beds[at], what)

    def _at_once(self, to_bed: str, now: BedNow, what: str) -> Strokes:
        if what == "undo":
            self.mirror.undo_last()
            return (self._noticed("u"),)
        if what == "take out":
            take_out(self.mirror, now.bed)
            return (Stroke(f"{to_bed}x", "Take out?"), self._noticed("y"))
        line, text = LINES[what], WRITTEN[what].format(self.chance.randrange(10))
        line.write(Garden(self.mirror, demo.TODAY), now, text)
        opens = f"{to_bed}{LINE_KEYS[what]}" if needs_bed(what) else LINE_KEYS[what]
        return (Stroke(opens, line.what), self._noticed(f"{text}{ENTER}"))

    def _visit(self, to_bed: str, now: BedNow) -> Iterator[Strokes]:
        """A visit begun, up to three answers, and the verdict on leaving."""
        kept = go_on_with(self.mirror, now.bed, demo.TODAY)
        visit = kept.visit
        yield (Stroke(f"{to_bed}v", f"{len(visit.answered)} answered"),)
        for _ in range(self.chance.randint(1, 3)):
            sign = visit.next_question()
            if sign is None:
                break
            visit = visit.answer(sign.name, "can't tell")
            kept.save(visit.case, self.mirror.path)
            yield (Stroke("?", f"{len(visit.answered)} answered"),)
        keep_verdict(self.mirror, kept.row, visit.verdict())
        yield (self._noticed("q"),)

    def _noticed(self, keys: str) -> Stroke:
        self.notices += 1
        return Stroke(keys, f"#{self.notices}#")


def screens_again_and_again(folder: Path, rounds: int, seed: int) -> int:
    """After each kill the notebook must be sound and hold all that the terminal had shown as done, or one thing more.

    How many things were shown as done.
    """
    chance, done = Random(seed), 0
    path, mirrored = folder / "garden.sqlite", folder / "mirror.sqlite"
    with open_notebook(path) as notebook:
        demo.fill(notebook)
        first = notebook.last_entry
    for number in range(rounds):
        shutil.copy(path, mirrored)
        with open_notebook(mirrored) as mirror:
            hands = Hands(mirror, chance, first)
            done += _killed(path, hands, chance, f"kill {number} of seed {seed}")
    return done


def _killed(path: Path, hands: Hands, chance: Random, told: str) -> int:
    """One program: some things shown as done, and one amid which it was killed."""
    things, screen, shown = hands.strokes(), Screen(path), chance.randrange(6)
    for _ in range(shown):
        for stroke in next(things):
            screen.press(stroke)
    before = everything(hands.mirror)
    *first, last = next(things)
    for stroke in first:
        screen.press(stroke)
    screen.kill(last, chance.uniform(0, A_KEY))
    assert_sound(path)
    with open_notebook(path) as notebook:
        assert notebook.check() == ()
        assert everything(notebook) in (before, everything(hands.mirror)), told
    return shown
