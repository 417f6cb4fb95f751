"""A log kept by hand: one more reading at the end of a plain CSV file, which is made when it is not there."""

from __future__ import annotations

import os
from datetime import datetime
from pathlib import Path

from assistant.model.place import Place, refuse
from assistant.model.quantities import format_number
from assistant.model.room_log import RoomReading

HEADER = "time,temperature (F),humidity (%)"


def add_reading(path: Path, reading: RoomReading) -> None:
    """Write a reading at the end of a log of ours, on the disk before this returns.

    Raises `BadInput` for a log of another layout and for a second reading of one minute, which would take away
    the belief in both, and `OSError`.
    """
    before = path.read_text(encoding="utf-8-sig") if path.exists() else ""
    if before and before.splitlines()[0].strip() != HEADER:
        message = "Readings are added only to a log that was begun here, and this is another."
        raise refuse("other-log", Place(str(path), 1, 1), message, f"Name a new file, or one that begins with {HEADER}")
    for number, line in enumerate(before.splitlines(), start=1):
        if line.startswith(f"{_time(reading.at)},"):
            message = f"This log has a reading of {_time(reading.at)} already."
            raise refuse("same-time", Place(str(path), number, 1), message, "Correct this line, or write another time.")
    start = "" if before.endswith("\n") else "\n" if before else f"{HEADER}\n"
    with path.open("a", encoding="utf-8") as file:
        file.write(f"{start}{_line(reading)}\n")
        file.flush()
        os.fsync(file.fileno())


def _line(reading: RoomReading) -> str:
    values = (reading.temperature, reading.humidity)
    return ",".join((_time(reading.at), *("" if value is None else format_number(value) for value in values)))


def _time(at: datetime) -> str:
    return at.isoformat(sep=" ", timespec="minutes")
