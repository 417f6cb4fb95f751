"""A terminal that is closed under the program ends it, and everything answered is kept."""

import os
import pty
import select
import subprocess
import sys
from pathlib import Path

import pytest

SECONDS = 20


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals there")
def test_the_program_ends_when_its_terminal_is_gone(tmp_path: Path) -> None:
    ours, theirs = pty.openpty()
    start = "from assistant.cli import run; run()"
    command = [sys.executable, "-c", start, "visit", "--save", str(tmp_path / "visit.yaml")]
    process = subprocess.Popen(
        command, stdin=theirs, stdout=theirs, stderr=theirs, env={**os.environ, "TERM": "xterm"}, start_new_session=True
    )
    os.close(theirs)
    seen = b""
    while b"can't tell" not in seen and select.select([ours], [], [], SECONDS)[0]:
        seen += os.read(ours, 65536)
    assert b"can't tell" in seen
    os.close(ours)
    try:
        process.wait(SECONDS)
    finally:
        process.kill()
