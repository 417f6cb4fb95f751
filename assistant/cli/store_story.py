"""A lot from bed to kitchen: what happened day by day, and where every pound went."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from assistant.cli.output import BLANK, Line, width
from assistant.explain.store_words import degrees, in_units, percent, unit_of, weight
from assistant.model.quantities import Units, format_day
from assistant.reckoning.lot_ledger import APART, DUG, LOOKED, STORED, WEIGHED, Account, Entry, Stage

SAYS = {
    DUG: "dug {weight}{part}",
    STORED: "went into the store",
    WEIGHED: "weighed {weight}{part}",
    APART: "{weight}{part} set apart",
    LOOKED: "looked through",
    "used": "{weight}{part} eaten",
    "given": "{weight}{part} given away",
    "sold": "{weight}{part} sold",
    "seed": "{weight}{part} saved for slips",
    "discarded": "{weight}{part} thrown out",
}
FATES = {"used": "eaten", "given": "given away", "sold": "sold", "seed": "saved for slips", "discarded": "thrown out"}
BAR = "█"


def story_lines(accounts: Sequence[Account], units: Units) -> Iterator[Line]:
    """The stories one after the other."""
    for number, account in enumerate(accounts):
        if number:
            yield BLANK
        yield Line(f"{account.lot}, from bed to kitchen", "headline")
        for stage in account.stages:
            yield Line(stage_words(stage, units), indent=2, bullet=f"{format_day(stage.entry.on)}  ")
        yield BLANK
        yield Line(f"Where the {weight(account.dug, units)} went", "section")
        yield from _fates(account, units)


def stage_words(stage: Stage, units: Units) -> str:
    """One day of a lot as a sentence."""
    entry = stage.entry
    part = f" of {entry.part} roots" if entry.part else ""
    told = SAYS[entry.what].format(weight=weight(entry.pounds or 0.0, units), part=part)
    words = [f"{told}; {weight(stage.left, units)} left"]
    if stage.shrunk > 0.05:
        before = stage.left + stage.shrunk
        words.append(f"{weight(stage.shrunk, units)} had dried away ({percent(stage.shrunk / before)})")
    words += _air(entry, units)
    return ", ".join(words) + (f" ({entry.note})." if entry.note else ".")


def fates(account: Account) -> dict[str, float]:
    """Where every pound is, what is nowhere left out; they add up to what was dug."""
    found = {FATES[what]: pounds for what, pounds in account.out.items()}
    found |= {"dried away": account.shrunk, "left": account.left}
    return {fate: pounds for fate, pounds in found.items() if pounds > 0}


def story_json(accounts: Sequence[Account], units: Units) -> dict[str, object]:
    """The stories as plain data."""
    return {"unit": unit_of(units), "lots": [_story(account, units) for account in accounts]}


def _story(account: Account, units: Units) -> dict[str, object]:
    return {
        "lot": account.lot,
        "dug": _round(account.dug, units),
        "fates": {fate: _round(pounds, units) for fate, pounds in fates(account).items()},
        "stages": [
            {
                "on": stage.entry.on.isoformat(),
                "what": stage.entry.what,
                "part": stage.entry.part or None,
                "weight": None if stage.entry.pounds is None else _round(stage.entry.pounds, units),
                "left": _round(stage.left, units),
                "shrunk": _round(stage.shrunk, units),
                "note": stage.entry.note,
            }
            for stage in account.stages
        ],
    }


def _round(pounds: float, units: Units) -> float:
    return round(in_units(pounds, units), 3)


def _air(entry: Entry, units: Units) -> Iterator[str]:
    if entry.temperature is not None:
        yield f"the place at {degrees(entry.temperature, units)}"
    if entry.humidity is not None:
        yield f"{entry.humidity:g} % damp"


def _fates(account: Account, units: Units) -> Iterator[Line]:
    room = max(width() - 40, 10)
    for fate, pounds in fates(account).items():
        share = pounds / account.dug
        text = f"{fate:<16} {weight(pounds, units):>9} {percent(share):>6}  {BAR * max(round(share * room), 1)}"
        yield Line(text, "drawing", 2)
