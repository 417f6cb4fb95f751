"""The garden, the interview and the verdict on the screen; the only room that knows Textual.

Textual is imported when a visit is opened, so naming this room costs nothing.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date

    from assistant.notebook import Notebook
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


def open_garden(path: Path | None) -> None:
    """Every bed of a notebook, or of the user's own, and all that can be done with them. Raises `BadInput`."""
    with _quick_start():
        from datetime import date

        from assistant.notebook import open_notebook

        with open_notebook(path) as notebook:
            _run_garden(notebook, date.today())


def open_bed(path: Path | None, name: str, on: str | None) -> None:
    """The same with today's visit to one bed open. Raises `BadInput` or `NotAValue`."""
    with _quick_start():
        from datetime import date

        from assistant.garden.standing.finding import find_bed
        from assistant.model.quantities import parse_date
        from assistant.notebook import open_notebook

        day = parse_date(on) if on else date.today()
        with open_notebook(path, new=False) as notebook:
            _run_garden(notebook, day, find_bed(notebook, name, day).bed.id)


def open_demo() -> None:
    """The same on an invented garden, in a scratch notebook that is gone afterwards."""
    with _quick_start():
        from tempfile import TemporaryDirectory

        from assistant.garden import demo
        from assistant.notebook import open_notebook

        with (
            TemporaryDirectory(prefix="digday-demo-") as folder,
            open_notebook(Path(folder) / "notebook.sqlite") as notebook,
        ):
            demo.fill(notebook)
            _run_garden(notebook, demo.TODAY)


def _run_garden(notebook: Notebook, on: date, visit: int | None = None) -> None:
    from assistant.tui.garden_app import GardenApp
    from assistant.tui.garden_page import Garden

    GardenApp(Garden(notebook, on), visit).run()


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
