"""The command line: parses, calls the rooms below, words the outcome and sets the exit code.

Exit codes: 0 done; 1 the answer is no; 2 bad input or usage; 130 stopped by the user; 141 the
reader of our output went away. Data goes to standard output, everything else to standard error.
Nothing heavy is imported before a command needs it.
"""

from __future__ import annotations

import contextlib
import gc
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

from assistant.cli.output import complain, prepare_streams

DONE, NO, BAD, STOPPED, READER_GONE = 0, 1, 2, 130, 141
OBJECTS_BETWEEN_COLLECTIONS = 100_000


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; no exception leaves here but by `--debug`'s printing."""
    arguments = list(sys.argv[1:] if argv is None else argv)
    prepare_streams()
    try:
        return _run(arguments)
    except SystemExit as leaving:
        return leaving.code if isinstance(leaving.code, int) else DONE
    except KeyboardInterrupt:
        complain("Stopped.")
        return STOPPED
    except BrokenPipeError:
        _drop_output()
        return READER_GONE
    except Exception as error:
        return _report(error, debug="--debug" in arguments)


def _run(arguments: list[str]) -> int:
    from assistant.cli.parser import build_parser

    options = build_parser(next(iter(arguments), "")).parse_args(arguments)
    code: int = options.run(options)
    sys.stdout.flush()
    return code


def run() -> NoReturn:
    """The console script: one command, then the end of the process.

    Garbage is looked for rarely, and by freezing not at the end: reading a rulebook makes many objects
    and hardly any waste, and each search takes a twentieth of the time of `digday advise`.
    """
    gc.set_threshold(OBJECTS_BETWEEN_COLLECTIONS, *gc.get_threshold()[1:])
    code = main()
    gc.freeze()
    raise SystemExit(code)


def _report(error: Exception, debug: bool) -> int:
    """Say in plain words what went wrong; the traceback only when asked for."""
    from assistant.cli.failures import failure_text

    if debug:
        import traceback

        traceback.print_exception(error)
    with contextlib.suppress(BrokenPipeError):
        complain(failure_text(error))
    return BAD


def _drop_output() -> None:
    """Point standard output at nothing, so that the interpreter's last flush stays quiet."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
