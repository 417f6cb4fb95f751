"""The page of a bed for dig day, for the cure and for the store, from what the notebook holds of it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from assistant.cases.store import RULEBOOK as KEEPING_RULES
from assistant.cases.store import store_of
from assistant.explain.cure_sheet import cure_sheet
from assistant.explain.dig_sheet import TO_DIG, dig_sheet
from assistant.explain.sheet import Sheet
from assistant.explain.store_sheet import plan_sheet
from assistant.garden.entries.visits import reopen
from assistant.garden.standing.accounts import Left, left_of, spacing_of
from assistant.garden.standing.stages import BedNow, InStore
from assistant.garden.standing.words import units_of
from assistant.garden.telling.records import air_of
from assistant.measures.curing import BEGAN, LONGEST_CURE, cure_by_answers, cure_by_log, with_signs
from assistant.measures.curing import RULEBOOK as CURING_RULES
from assistant.measures.store import Wanted
from assistant.model.case import Case
from assistant.model.notebook import BedRow, DigRow, PlantingRow
from assistant.model.quantities import NotAValue
from assistant.model.readings import Known, Origin, exactly
from assistant.model.room_log import RoomLog
from assistant.notebook import Notebook
from assistant.reckoning.dig_day import dig_day_of
from assistant.reckoning.yields import Bed
from assistant.rulebook import read_rulebook
from assistant.season import advise
from assistant.weather.logger import gaps

SIZE = "write down the length of its rows, and how many slips were set"
PART = "a part of it was dug that nobody measured"
INCHES = 12
LONGEST_STORAGE = 500
"""Days ago that the rules of keeping ask about."""


def dig_day_page(notebook: Notebook, now: BedNow, on: date) -> Sheet:
    """Dig day by the last visit, as today's rules see it. Raises `NotAValue` where they do not say to dig."""
    if now.visit is None or now.planting is None:
        raise NotAValue(f"there is no dig day to plan for {now.bed.name}; visit it first")
    visit = reopen(notebook, now.visit).visit
    verdict, case = visit.verdict(), visit.case
    if verdict.advice not in TO_DIG:
        raise NotAValue(f"there is no dig day to plan for {now.bed.name}: {verdict.headline}")
    left = left_of(now.bed, now.planting, notebook.all(DigRow, planting=now.planting.id))
    day = dig_day_of(case.test_dig, layout_of(now.bed, now.planting, left)) or (PART if left else SIZE)
    return dig_sheet(verdict, day, case.test_dig is not None, case.units)


def layout_of(bed: BedRow, planting: PlantingRow, left: Left | None) -> Bed | None:
    """How the slips stand in the bed, or in what is left of it; None where neither their distance nor their number in
    its rows is known, or where a part was dug that nobody measured."""
    spacing = spacing_of(bed, planting)
    if spacing is None or (left and left.at_most):
        return None
    length = bed.length
    if left:
        length = left.hills * spacing if left.length is None and left.hills is not None else left.length
    return Bed(spacing, bed.row_width, length / INCHES if length else None)


def cure_page(notebook: Notebook, now: BedNow, on: date) -> Sheet:
    """The cure by the air that was read where the lot lies."""
    store = next(store for store in now.lots if store.stay.purpose == "cure")
    case = _case(
        notebook, now, CURING_RULES, store.lot.name, on, {BEGAN: _days_ago(store.stay.since, on, LONGEST_CURE)}
    )
    book, log = read_rulebook(CURING_RULES), log_of(notebook, store, on)
    cure = cure_by_log(log, on) if log else cure_by_answers(book, case)
    return cure_sheet(advise(book, with_signs(case, cure)), cure, case.units)


def store_page(notebook: Notebook, now: BedNow, on: date) -> Sheet:
    """The plan for the lots of the bed that are kept, to hang up beside them."""
    kept = [store for store in now.lots if store.stay.purpose == "keep"]
    began = min(store.stay.since for store in kept)
    names = " and ".join(store.lot.name for store in kept)
    case = _case(notebook, now, KEEPING_RULES, names, on, {"stored_on": _days_ago(began, on, LONGEST_STORAGE)})
    accounts = [store.account for store in kept if store.account]
    log = log_of(notebook, kept[0], on)
    return plan_sheet(store_of(read_rulebook(KEEPING_RULES), case, log, accounts, Wanted()), Wanted())


def log_of(notebook: Notebook, store: InStore, on: date) -> RoomLog | None:
    """The air since a lot came to where it lies, as a logger would tell it; None where nobody read it."""
    readings = air_of(notebook, store.stay, on)
    return RoomLog(store.lot.name, readings, {}, gaps(readings)) if readings else None


def _case(notebook: Notebook, now: BedNow, rules: str, title: str, on: date, told: Mapping[str, Known | None]) -> Case:
    units = units_of(notebook, now.bed)
    return Case(title, rules, on, units, answers={sign: known for sign, known in told.items() if known})


def _days_ago(day: date, on: date, most: int) -> Known | None:
    """A day as a reading; None where it lies further back than the rules ask about."""
    far = not 0 <= (on - day).days <= most
    return None if far else Known(exactly(day.toordinal()), Origin.NOTEBOOK, day.isoformat())
