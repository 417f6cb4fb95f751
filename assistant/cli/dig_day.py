"""The page for dig day, printed by `advise --sheet`."""

from __future__ import annotations

import argparse

from assistant.cli.output import complain
from assistant.cli.sheet_text import print_sheet
from assistant.model.case import Case
from assistant.model.derivation import Verdict
from assistant.reckoning.dig_day import DigDay

NO = 1


def print_dig_sheet(verdict: Verdict, case: Case, options: argparse.Namespace) -> int:
    """Print the page as text or HTML; 1 when the advice is not to dig."""
    from assistant.explain.dig_sheet import TO_DIG, dig_sheet

    if verdict.advice not in TO_DIG:
        complain(f"There is no dig day to plan yet: {verdict.headline}.")
        return NO
    print_sheet(dig_sheet(verdict, _day(case, options), case.test_dig is not None, case.units), options)
    return 0


def _day(case: Case, options: argparse.Namespace) -> DigDay | None:
    """What the day comes to; None without the size of the bed."""
    from assistant.cli.bed_options import bed_of
    from assistant.reckoning.dig_day import dig_day, usual_plant
    from assistant.reckoning.yields import Root, grams_per_plant

    bed = bed_of(options, case.units)
    if bed is None:
        return None
    hills = case.test_dig.hills if case.test_dig else ()
    per_plant = grams_per_plant([[Root(diameter) for diameter in hill] for hill in hills])
    return dig_day(per_plant or usual_plant(), bed)
