"""The pages of a store: how it is today, and the plan to hang up beside it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from assistant.explain.evidence import cautions, disagreements, sources
from assistant.explain.log_plot import plot_lines
from assistant.explain.log_svg import plot_svg
from assistant.explain.sheet import Section, Sheet, Table, section
from assistant.explain.store_facts import (
    cold_words,
    end_words,
    life_words,
    log_words,
    loss_words,
    lots_table,
    place_words,
    series_of,
    sprouting_words,
    turns_table,
)
from assistant.measures.store import Store, Wanted
from assistant.model.quantities import format_day

CHECKS = 8
"""Lines to fill in by hand on a plan."""
SPOILED = (
    "Throw a spoiled root out whole. Do not trim or taste it, and do not sniff mould from near.",
    "Bag it, away from the garden, the compost and animals. Never feed it to livestock: it has killed cattle.",
    "Take out its neighbours, use the sound ones this week, and wash hands, knife and crate.",
)


def status_sheet(store: Store, wanted: Wanted, room: int) -> Sheet:
    """How the store is, what to do, and what that rests on; `room` is for its drawings, in letters."""
    return Sheet(
        store.case.title,
        f"{format_day(store.case.on)}. Look through the lot next on {format_day(store.next_look)}.",
        (
            *_what_to_do(store),
            *section("Mind", (caution.text for caution in cautions(store.verdict.derivation))),
            *section("The place", _place(store)),
            *_pictures(store, room),
            *_lots(store),
            *_eating(store, wanted),
            *section("How long it keeps", life_words(store)),
            *_disputed(store),
            *_rests_on(store),
        ),
    )


def plan_sheet(store: Store, wanted: Wanted) -> Sheet:
    """What to hang up by the store: what to eat when, when to look, what spoiled roots look like, and blanks."""
    made = format_day(store.case.on)
    return Sheet(
        f"Plan for the store: {store.case.title}",
        f"Made on {made}. Keep at 55 to 60 °F (13 to 16 °C), 75 to 95 % damp, dark, and off the floor.",
        (
            *_eating(store, wanted),
            *_what_to_do(store),
            Section("When to look", steps=tuple(_looks(store))),
            *_spoilage(store),
            *section("Mind", (caution.text for caution in cautions(store.verdict.derivation))),
            Section("What I found", table=_blanks()),
        ),
    )


def _what_to_do(store: Store) -> Iterator[Section]:
    verdict = store.verdict
    advice = verdict.derivation.rulebook.advice.get(verdict.advice or "")
    says = [advice.says] if advice else []
    if verdict.questions_left:
        signs = verdict.derivation.rulebook.signs
        says.append("Not asked yet: " + " ".join(signs[name].ask for name in verdict.questions_left))
    yield Section(f"{verdict.headline}.", says=tuple(says), steps=advice.steps if advice else ())


def _place(store: Store) -> Iterator[str]:
    yield from log_words(store)
    yield from place_words(store)
    yield from cold_words(store)
    yield from sprouting_words(store)


def _pictures(store: Store, room: int) -> Iterator[Section]:
    for series in series_of(store):
        yield Section(series.name, svg=plot_svg(series), drawing=tuple(plot_lines(series, room)))


def _lots(store: Store) -> Iterator[Section]:
    if store.accounts:
        yield Section("The lots", says=tuple(loss_words(store)), table=lots_table(store))
    else:
        yield from section("Weight", loss_words(store))


def _eating(store: Store, wanted: Wanted) -> Iterator[Section]:
    if store.using:
        says = tuple(end_words(store, wanted))
        yield Section("What to eat first", says=says, table=turns_table(store))


def _disputed(store: Store) -> Iterator[Section]:
    for found in disagreements(store.verdict.derivation):
        sides = tuple(f"{side.says} ({', '.join(side.sources)})" for side in found.sides)
        yield Section(f"Disputed: {found.about}", items=sides, says=(f"Taken here: {found.taken}",))


def _rests_on(store: Store) -> Iterator[Section]:
    cited = sources(store.verdict.derivation, of_cautions=False)
    yield from section(
        "Sources", (f"{source.id}: {source.title}, {source.year} ({source.how.value})" for source in cited)
    )


def _looks(store: Store) -> Iterator[str]:
    """The next look and those after it, every four weeks while the lot keeps."""
    look = store.next_look
    last = store.life.dates(store.stored)[1] if store.life and store.stored else look + timedelta(weeks=16)
    for _ in range(6):
        yield f"{format_day(look)}: both ends of every root, and the smell of each crate"
        look += timedelta(weeks=4)
        if look > last:
            return


def _spoilage(store: Store) -> Iterator[Section]:
    spoilage = store.verdict.derivation.rulebook.signs["spoilage"]
    shapes = tuple(meaning for name, meaning in spoilage.choices.items() if name not in ("sound", "shrivelled"))
    yield Section("What spoiled roots look like", items=shapes, steps=SPOILED)


def _blanks() -> Table:
    headings = ("day", "lowest", "usual", "damp, %", "looked", "spoiled", "used")
    return Table(headings, (("",) * len(headings),) * CHECKS)
