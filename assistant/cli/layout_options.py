"""The options that tell how a bed is laid out, shared by the commands that weigh it."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from assistant.cli.failures import UsageError

if TYPE_CHECKING:
    from assistant.model.quantities import Units
    from assistant.reckoning.yields import Bed


def takes_bed(command: argparse.ArgumentParser) -> None:
    """The options `--spacing`, `--row-width` and `--row-length`."""
    command.add_argument("--spacing", metavar="LENGTH", help="from plant to plant, such as 12 in: the weight of a row")
    command.add_argument("--row-width", metavar="LENGTH", help="from row to row, such as 36 in: the weight of an acre")
    command.add_argument("--row-length", metavar="LENGTH", help="of all rows together, such as 100 ft or 30 m: the bed")


def bed_of(options: argparse.Namespace, units: Units) -> Bed | None:
    """How the bed is laid out; None when the distance between plants is not given. Raises `UsageError`, `NotAValue`."""
    from assistant.cases.hills import bed_length
    from assistant.model.quantities import Units
    from assistant.reckoning.yields import Bed

    small, large = ("in", "ft") if units is Units.US else ("cm", "m")
    spacing, width, length = (
        bed_length(text, unit) if text else None
        for text, unit in ((options.spacing, small), (options.row_width, small), (options.row_length, large))
    )
    if spacing is None and (width or length):
        raise UsageError("the weight of a row takes the distance between plants; add --spacing, such as 12 in.")
    return Bed(spacing, width, length / 12 if length else None) if spacing else None
