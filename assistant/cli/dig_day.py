"""The page for dig day, printed by `advise --sheet`."""

from __future__ import annotations

import argparse

from assistant.cli.output import complain
from assistant.cli.sheet_text import print_sheet
from assistant.model.case import Case
from assistant.model.derivation import Verdict

NO = 1
SIZE = "say --spacing, such as 12 in, and --row-length, such as 100 ft"


def print_dig_sheet(verdict: Verdict, case: Case, options: argparse.Namespace) -> int:
    """Print the page as text or HTML; 1 when the advice is not to dig."""
    from assistant.cli.layout_options import bed_of
    from assistant.explain.dig_sheet import TO_DIG, dig_sheet
    from assistant.reckoning.dig_day import dig_day_of

    if verdict.advice not in TO_DIG:
        complain(f"There is no dig day to plan yet: {verdict.headline}.")
        return NO
    day = dig_day_of(case.test_dig, bed_of(options, case.units)) or SIZE
    print_sheet(dig_sheet(verdict, day, case.test_dig is not None, case.units), options)
    return 0
