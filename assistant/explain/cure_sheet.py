"""A page to hang up beside the crates: what to do, what to aim for, a table to fill in, and when to stop."""

from __future__ import annotations

from datetime import date, timedelta

from assistant.explain.curing import left_words, plan_words, progress_words, recipe_words
from assistant.explain.evidence import cautions, disagreements, sources
from assistant.explain.log_plot import plot_lines
from assistant.explain.log_svg import plot_svg
from assistant.explain.room_air import CURING, air_series
from assistant.explain.sheet import Section, Sheet, Table, section
from assistant.explain.wording import day_words
from assistant.measures.curing import Cure, recipes_of
from assistant.model.derivation import Verdict
from assistant.model.quantities import Units, short_day

DAYS = 14
"""As many days as the slowest of the recipes at full heat asks for, to be filled in."""
DRAWN = 76
"""Letters that a drawing on paper is wide."""
DONE = (
    "The skin holds under a hard push of the thumb on three roots from different crates.",
    "Cuts and scrapes are dry and tan, like cork.",
)
TOO_LONG = (
    "Pale bumps or shoots at the stem end.",
    "Roots that give under the thumb or shrivel, and crates that grow lighter day by day.",
)


def cure_sheet(verdict: Verdict, cure: Cure, units: Units) -> Sheet:
    """The page for a verdict of the curing rulebook."""
    derivation = verdict.derivation
    return Sheet(
        f"Curing: {verdict.title}",
        f"{day_words(verdict.on)}. {verdict.headline}.",
        (
            *_to_do(verdict),
            *_so_far(cure, verdict.on, units),
            *section("Recipes", [recipe_words(recipe, units) for recipe in recipes_of(derivation.rulebook)]),
            Section("Done when", items=DONE),
            Section("Too long when", items=TOO_LONG),
            *section("Mind", [caution.text for caution in cautions(derivation)]),
            Section("Readings, at the height of the roots", table=_table(verdict.on, units)),
            *section("Disputed", [f"{found.about} {found.taken}" for found in disagreements(derivation)]),
            *section("Sources", [f"{each.title}, {each.year} ({each.how.value})" for each in sources(derivation)]),
        ),
    )


def _to_do(verdict: Verdict) -> tuple[Section, ...]:
    advice = verdict.derivation.rulebook.advice.get(verdict.advice or "")
    return (Section("What to do", says=(advice.says,), steps=advice.steps),) if advice else ()


def _so_far(cure: Cure, on: date, units: Units) -> tuple[Section, ...]:
    if not cure.stretches:
        return (Section("How long", says=(plan_words(cure, units),)),) if cure.now.known else ()
    told = Section("So far", says=(progress_words(cure), left_words(cure, on, units)))
    if cure.log is None:
        return (told,)
    drawn = (
        Section(series.name, drawing=tuple(plot_lines(series, DRAWN)), svg=plot_svg(series))
        for series in air_series(cure.log.readings, CURING, units)
    )
    return (told, *drawn)


def _table(on: date, units: Units) -> Table:
    unit = "°F" if units is Units.US else "°C"
    headings = ("day", f"a.m. {unit}", "%", f"p.m. {unit}", "%", "skin", "wounds")
    days = (on + timedelta(days=step) for step in range(DAYS))
    return Table(headings, tuple((short_day(day), *[""] * (len(headings) - 1)) for day in days))
