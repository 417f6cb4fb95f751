"""A visit kept in the notebook: begun, every answer written before the next question, its verdict beside it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import NamedTuple

from assistant.cases import rulebook_of
from assistant.cases.weather import with_weather
from assistant.explain.verdict_json import verdict_json
from assistant.garden.standing.overview import bed_now, beds_now
from assistant.garden.standing.stages import BedNow
from assistant.interview.answers import parse_answer
from assistant.model.case import Case, TestDig
from assistant.model.derivation import Verdict
from assistant.model.notebook import (
    AnswerRow,
    BedRow,
    FrostRow,
    GardenRow,
    HillRow,
    PlantingRow,
    RootRow,
    TrialRow,
    VerdictRow,
    VisitRow,
    garden_of,
)
from assistant.model.place import Place
from assistant.model.quantities import NotAValue, Units
from assistant.model.readings import Choices, Known, Origin, Span
from assistant.model.rules import Rulebook
from assistant.notebook import Notebook
from assistant.rulebook import read_rulebook
from assistant.season import Visit

RULEBOOK = "sweetpotato/when-to-dig"
FRESH = timedelta(days=7)
"""Answers of a visit no older are taken over when a frost is forecast; then only the cold is new. Our choice."""
FORECAST, NIGHTS = "forecast_low", "forecast_low_in"
COLD = (FORECAST, NIGHTS, "cold_nights", "recent_nights")


@cache
def _book() -> Rulebook:
    """The rules of new visits, read once: they take longer than all the rest of a key."""
    return read_rulebook(RULEBOOK)


class KeptVisit(NamedTuple):
    """A visit of the notebook, open for answers."""

    notebook: Notebook
    row: VisitRow
    visit: Visit

    @property
    def save(self) -> Callable[[Case, Path], None]:
        """What writes a case's answers into the notebook; it raises `BadInput` and then has left no trace."""
        return lambda case, _: keep_answers(self.notebook, self.row, case)


def begin(notebook: Notebook, now: BedNow, on: date) -> KeptVisit:
    """Today's visit to a bed: the one that was begun today, or a new one. Raises `NotAValue` or `BadInput`."""
    if now.planting is None:
        raise NotAValue(f"nothing grows in {now.bed.name}; record a planting first")
    if now.visit and now.visit.day == on:
        return reopen(notebook, now.visit)
    book = _book()
    garden = notebook.get(GardenRow, now.bed.garden)
    row = VisitRow(garden.id, on, RULEBOOK, now.bed.name, garden.units, now.bed.id, now.planting.id)
    with notebook.entry(f"a visit to {now.bed.name} begun"):
        row = notebook.add(row)
        for sign, known in planting_answers(book, now.planting).items():
            notebook.answer(row.id, sign, known)
    return reopen(notebook, row, book)


def reopen(notebook: Notebook, row: VisitRow, book: Rulebook | None = None) -> KeptVisit:
    """A visit as it was left. Raises `BadInput`, also where its rulebook or weather cannot be read."""
    case = case_of(notebook, row)
    return KeptVisit(notebook, row, Visit(book or rulebook_of(case), case))


def case_of(notebook: Notebook, row: VisitRow) -> Case:
    """A visit as a case, with the garden's frost dates and weather. Raises `BadInput`."""
    garden = notebook.get(GardenRow, row.garden)
    frosts = notebook.all(FrostRow, garden=garden.id)
    answers = {answer.sign: answer.known for answer in notebook.all(AnswerRow, visit=row.id)}
    case = Case(
        row.title or "A visit",
        row.rulebook,
        row.day,
        row.units,
        garden_of(frosts),
        answers,
        _test_dig(notebook, row),
        place=Place(str(notebook.path)),
    )
    return with_weather(case, garden.weather_files) if garden.weather_files else case


def planting_answers(book: Rulebook, planting: PlantingRow) -> dict[str, Known]:
    """What the notebook knows of a planting and the rulebook asks for."""
    first, last = planting.planted_from, planting.planted_to
    written = first.isoformat() if first == last else f"{first.isoformat()}..{last.isoformat()}"
    found = {"planted_on": Known(Span(first.toordinal(), last.toordinal()), Origin.ANSWERED, written)}
    variety = planting.variety.lower().replace(" ", "-")
    if "variety" in book.signs and variety in book.signs["variety"].choices:
        found["variety"] = Known(Choices(frozenset({variety})), Origin.ANSWERED, variety)
    return {sign: known for sign, known in found.items() if sign in book.signs}


def keep_answers(notebook: Notebook, row: VisitRow, case: Case) -> None:
    """Bring the notebook in line with the answers and the test dig of a case, at one go. Raises `BadInput`."""
    kept = {answer.sign: answer for answer in notebook.all(AnswerRow, visit=row.id)}
    new = {sign: known for sign, known in case.answers.items() if sign not in kept or not _same(kept[sign], known)}
    gone = [answer for sign, answer in kept.items() if sign not in case.answers]
    dug = _test_dig(notebook, row) != case.test_dig
    if not (new or gone or dug):
        return
    about = ", ".join([*new, *(f"{answer.sign} rubbed out" for answer in gone)]) or "test dig"
    with notebook.entry(f"{row.title}: {about.replace('_', ' ')}"):
        for answer in gone:
            notebook.remove(answer)
        for sign, known in new.items():
            notebook.answer(row.id, sign, known)
        if dug:
            _keep_test_dig(notebook, row, case.test_dig)


def keep_verdict(notebook: Notebook, row: VisitRow, verdict: Verdict) -> VerdictRow | None:
    """Write a verdict beside the visit, unless the last one says the same by the same rules. Raises `BadInput`."""
    book = verdict.derivation.rulebook
    new = VerdictRow(
        row.id,
        verdict.on,
        book.name,
        book.version,
        book.digest,
        verdict.outcome,
        verdict.headline,
        verdict_json(verdict),
        verdict.advice,
        verdict.act_by,
        verdict.look_again,
    )
    last = notebook.latest(VerdictRow, visit=row.id)
    if last and last._replace(id=0, derivation={}) == new._replace(derivation={}):
        return None
    with notebook.entry(f"{row.title}: {verdict.headline}"):
        return notebook.add(new)


def verdict_today(notebook: Notebook, row: VisitRow) -> Verdict:
    """What the rules as they are now say of a visit as it was answered then. Raises `BadInput`."""
    kept = reopen(notebook, row)
    return kept.visit.verdict()


def frost_tonight(notebook: Notebook, text: str, on: date, garden: int | None = None) -> tuple[BedNow, ...]:
    """Tonight's low for every bed with roots in the ground, of a garden or of all: each gets a visit today and a
    verdict, at one go.

    The beds as they stand then. Raises `NotAValue` or `BadInput`, and then nothing has changed.
    """
    book = _book()
    beds = [now for now in beds_now(notebook, on, garden) if now.planting and now.planting.planted_from <= on]
    if not beds:
        raise NotAValue("no bed has roots in the ground")
    units = {now.garden.units for now in beds if now.garden}
    lows = [parse_answer(book.signs[FORECAST], text, on, each) for each in units]
    if any(low.reading != lows[0].reading for low in lows):
        raise NotAValue(f"'{text.strip()}' is not the same in every garden, some being in °C; write 31 F or -1 C")
    cold = {FORECAST: lows[0], NIGHTS: parse_answer(book.signs[NIGHTS], "0", on, Units.US)}
    with notebook.entry(f"tonight's low for {len(beds)} bed{'s' * (len(beds) != 1)}: {text.strip()}"):
        for now in beds:
            _chill(notebook, book, now, cold, on)
    return beds_now(notebook, on, garden)


def _chill(notebook: Notebook, book: Rulebook, now: BedNow, cold: dict[str, Known], on: date) -> None:
    assert now.planting is not None
    row, answers = now.visit, {}
    if row and on - row.day <= FRESH and row.rulebook == RULEBOOK:
        answers = {each.sign: each.known for each in notebook.all(AnswerRow, visit=row.id) if each.sign not in COLD}
    if row is None or row.day != on:
        garden = notebook.get(GardenRow, now.bed.garden)
        row = VisitRow(garden.id, on, RULEBOOK, now.bed.name, garden.units, now.bed.id, now.planting.id)
        row = notebook.add(row)
    for sign, known in {**planting_answers(book, now.planting), **answers, **cold}.items():
        notebook.answer(row.id, sign, known)
    keep_verdict(notebook, row, Visit(book, case_of(notebook, row)).verdict())


def go_on_with(notebook: Notebook, bed: BedRow, on: date) -> KeptVisit:
    """Today's visit to a bed that may have changed since it was read."""
    return begin(notebook, bed_now(notebook, bed.id, on), on)


def _same(kept: AnswerRow, known: Known) -> bool:
    return (kept.written, kept.origin) == (known.written, known.origin) and kept.known.reading == known.reading


def _test_dig(notebook: Notebook, row: VisitRow) -> TestDig | None:
    trial = notebook.latest(TrialRow, visit=row.id)
    if trial is None:
        return None
    hills = (notebook.all(RootRow, hill=hill.id) for hill in notebook.all(HillRow, test_dig=trial.id))
    measured = tuple(tuple(root.diameter for root in hill if root.diameter is not None) for hill in hills)
    return TestDig(Span(trial.wanted_low, trial.wanted_high), measured)


def _keep_test_dig(notebook: Notebook, row: VisitRow, dig: TestDig | None) -> None:
    for trial in notebook.all(TrialRow, visit=row.id):
        notebook.remove(trial)
    if dig is None or row.planting is None:
        return
    trial = notebook.add(TrialRow(row.planting, row.day, dig.wanted.low, dig.wanted.high, row.id))
    for number, roots in enumerate(dig.hills, start=1):
        hill = notebook.add(HillRow(trial.id, str(number)))
        for diameter in roots:
            notebook.add(RootRow(hill.id, diameter))
