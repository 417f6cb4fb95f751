"""The interview and the verdict on the screen; the only room that knows Textual.

Textual is imported when a visit is opened, so naming this room costs nothing.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from assistant.season import Visit

DEMO_CASE = Path(__file__).with_name("demo-garden.yaml")


def open_visit(visit: Visit, save_to: Path) -> None:
    """Asks and advises on the whole screen until the grower leaves; the case is saved after every answer.

    When the last answers could not be saved, they are printed on leaving, so nothing is lost.
    """
    with _quick_start():
        from assistant.tui.app import DigDay
        from assistant.tui.sitting import Sitting

        sitting = Sitting(visit, save_to)
        DigDay(sitting).run()
    sitting.print_what_is_unsaved()


def open_demo() -> None:
    """The same on an invented garden, in a scratch file that is gone afterwards."""
    with _quick_start():
        from shutil import copyfile
        from tempfile import TemporaryDirectory

        from assistant.cases import read_case, rulebook_of
        from assistant.season import Visit

        with TemporaryDirectory(prefix="digday-demo-") as scratch:
            case_file = Path(scratch) / DEMO_CASE.name
            copyfile(DEMO_CASE, case_file)
            case = read_case(case_file)
            open_visit(Visit(rulebook_of(case), case), case_file)


@contextmanager
def _quick_start() -> Iterator[None]:
    """Leaves out collecting garbage until the first page stands (the app turns it on again).

    Hardly anything made while starting is garbage, and looking for it took a fifth of the time.
    """
    gc.disable()
    try:
        yield
    finally:
        gc.enable()
