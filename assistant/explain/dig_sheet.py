"""Dig day on a page: the order of work, tools for the soil at hand, sorting, weights to write in, crates and hours."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from assistant.explain.digging import weight_words
from assistant.explain.evidence import cautions, disagreements, sources
from assistant.explain.sheet import Section, Sheet, Table, section
from assistant.explain.wording import day_words
from assistant.model.derivation import Derivation, Verdict
from assistant.model.quantities import Units
from assistant.model.readings import Choices, Span
from assistant.model.rules import Source
from assistant.reckoning.dig_day import DigDay

TO_DIG = ("sort-and-salvage", "dig-at-once", "dig-before-frost", "dig-now")
"""The advice that sends a grower out with a fork."""
AHEAD = timedelta(days=3)
"""Vines may go so long before the dig when it is dry (Guyana, 3 to 7 days; Kansas, a few; both read)."""

_TOOLS = {
    "workable": ("A spading fork or a broad fork, which lifts more and cuts less than a spade.",),
    "dust-dry": (
        "Water lightly the day before, so that the roots come out without scuffing.",
        "A broad fork driven in well outside the row, and hands for the last of it; hard clods skin roots.",
    ),
    "wet": (
        "A fork, not a spade: wet soil sticks to a blade and the roots with it.",
        "Boards to stand on, and a place with moving air to dry the skins before the cure.",
    ),
    "standing-water": (
        "Draw the water off the rows first if that can be done; a fork, boards, boots.",
        "A knife to slice one root a crate: no milky sap means that it has soured.",
    ),
}
_ALWAYS = (
    "A knife or hook for the vines, and a pair of gloves for everybody who touches roots.",
    "Padded crates or boxes with holes; fill them by half. A scale, labels and a pencil.",
    "A sheet or a roof to lay the roots under, out of the sun.",
)
_LIFTING = (
    "Start the fork 12 to 18 in (30 to 45 cm) out from the crown, straight down, and lift the whole hill.",
    "Take the roots up by hand and do not throw, drop, pull by the neck or rub them.",
    "Go through the loosened soil once more: a fork leaves about a fifth of the roots behind (University of Delaware).",
    "Sort as they come up, into the classes below, and lay them in one layer.",
    "No root lies in the sun for more than an hour, and none on the ground overnight.",
    "Start the cure within an hour or two of digging; carry in what is up before you dig on.",
    "Do not wash; brush off loose soil once it is dry.",
)
_CLASSES = (
    ("sound", "whole skin: cure and keep"),
    ("nicked", "cut or scuffed: cure apart, eat first"),
    ("small", "thin as a thumb: cure, eat soon"),
    ("spoiled", "soft, sour, mouldy, frozen: throw out"),
    ("seed", "for slips: see below"),
)
_SEED = (
    "Choose while you dig: from hills with many well-shaped roots, sound ones of middling size, true to the kind.",
    "Label them with the kind and the day, cure them with the rest, and never let them get below 55 °F (13 °C).",
)
_CITED = ("R07a", "R07b", "R11", "R13", "R15", "R19", "R32e", "R43", "R44", "R71", "R75", "R79", "R83", "M-HANDLING")
"""Who says what stands above: R11 of what a fork misses, R13 and R07b of sun and time, R44 and R79 of dry and wet soil,
R32e of soured roots, R83 of washing, R43 of chilled seed, R71 and R75 of animals, the rest of vines and handling."""
_NO_SEED = "Save no seed roots from this bed: "
_VINES = (
    "Vines and small or broken roots that are sound may go to animals, a little at first and with advice from a vet.",
    "Nothing mouldy, rotten, frosted or soured goes to any animal, nor into silage: it can kill cattle.",
    "Diseased vines and spoiled roots leave the garden in the rubbish; sound ones make compost.",
)
_HEAT = "On a hot day start early, drink before you are thirsty, rest in the shade, and stop when somebody feels dizzy."


def dig_sheet(verdict: Verdict, day: DigDay | str, by_test_dig: bool, units: Units) -> Sheet:
    """The page for a verdict whose advice is to dig; where the day is not known, `day` says what would tell it."""
    derivation = verdict.derivation
    advice = derivation.rulebook.advice[verdict.advice or ""]
    by = f", by {day_words(verdict.act_by)} at the latest" if verdict.act_by else ""
    told = [caution.text for caution in cautions(derivation)]
    return Sheet(
        f"Dig day: {verdict.title}",
        f"{advice.headline}{by}. {advice.says}",
        (
            Section("Before", steps=tuple(_before(verdict))),
            Section("Tools", items=(*_tools(derivation), *_ALWAYS)),
            Section("Digging", steps=_LIFTING),
            Section("Sorting, and the weights", table=_weights(units)),
            Section("Seed roots", items=tuple(_seed(derivation))),
            Section("Vines and culls", items=_VINES),
            Section("How much to expect", says=tuple(_expected(day, by_test_dig, units))),
            *section("Mind", [*told, _HEAT]),
            *section("Disputed", [f"{found.about} {found.taken}" for found in disagreements(derivation)]),
            *section("Sources", [f"{each.title}, {each.year} ({each.how.value})" for each in _sources(derivation)]),
        ),
    )


def _sources(derivation: Derivation) -> list[Source]:
    """Those behind the verdict, and those of this page where the rulebook lists them."""
    listed = derivation.rulebook.sources
    behind = {source.id: source for source in sources(derivation)}
    return [*behind.values(), *(listed[code] for code in _CITED if code in listed and code not in behind)]


def _before(verdict: Verdict) -> Iterator[str]:
    derivation = verdict.derivation
    time = verdict.act_by - verdict.on if verdict.act_by else timedelta()
    frosted = _is(derivation, "vines", "frost-blackened") or _is(derivation, "frost", "light", "hard")
    if frosted or verdict.advice in ("dig-at-once", "sort-and-salvage"):
        yield "Cut the vines off now, before anything else, so that decay does not run down into the roots."
    elif verdict.advice == "dig-before-frost":
        yield "Leave the vines on until you dig, for they shelter the crowns; then cut them off just ahead of the fork."
    elif time >= AHEAD and _is(derivation, "soil", "workable", "dust-dry"):
        yield (
            "Cut the vines off a few days before you dig while the weather is dry, which tightens the skins; in hot, "
            "wet weather only on the day itself, for roots left under dead vines can sour."
        )
    else:
        yield "Cut the vines off just before you dig, and carry them off the bed."
    yield "Have the place for the cure warm and damp before the first root is up."
    yield "Give no water in the last two or three weeks but a light one to dust-dry soil the day before."
    yield "Begin when the dew is off, stop for the worst heat, and leave time to get everything in before evening."


def _tools(derivation: Derivation) -> Iterator[str]:
    """For the soil as it was said to be; for each that it may be where nobody can tell."""
    known = derivation.known.get("soil")
    possible = known.reading.possible if known and isinstance(known.reading, Choices) else frozenset(_TOOLS)
    for soil, tools in _TOOLS.items():
        if soil in possible:
            lead = "" if len(possible) == 1 else f"If the soil is {soil.replace('-', ' ')}: "
            yield from (f"{lead}{tool}" for tool in tools)


def _seed(derivation: Derivation) -> Iterator[str]:
    reasons = (
        (_is(derivation, "rot_seen", "yes"), "there is rot in it."),
        (_concluded(derivation, "soil_warmth", "chilling"), "the soil has chilled them."),
        (_concluded(derivation, "ground", "drowned"), "it stood under water."),
        (derivation.advice == "sort-and-salvage", "frost or water has spoiled part of it."),
    )
    why = [reason for holds, reason in reasons if holds]
    if why:
        yield _NO_SEED + why[0]
    else:
        yield from _SEED


def _weights(units: Units) -> Table:
    unit = "lb" if units is Units.US else "kg"
    rows = tuple((name, meaning, "", "") for name, meaning in _CLASSES)
    return Table(("class", "what goes in", "crates", unit), (*rows, ("all", "together", "", "")))


def _expected(day: DigDay | str, by_test_dig: bool, units: Units) -> Iterator[str]:
    if isinstance(day, str):
        yield f"Not known without the size of the bed: {day}."
        return
    basis = "by the test dig" if by_test_dig else "by what handbooks expect of a plant, who differ fivefold; dig a hill"
    yield f"{day.plants} plants, {basis}. In the ground: {weight_words(day.grown, units)}."
    yield f"To carry in, with what a fork misses: {weight_words(day.brought_in, units)}."
    yield f"Crates filled by half, at 25 lb (11 kg): {_ends(day.crates)}."
    yield f"One person with a fork: {_hours(day.hours)}. That is our own judgement; two work better than one."


def _is(derivation: Derivation, sign: str, *choices: str) -> bool:
    """Whether a sign is surely one of these."""
    known = derivation.known.get(sign)
    return known is not None and isinstance(known.reading, Choices) and known.reading.possible <= set(choices)


def _concluded(derivation: Derivation, finding: str, value: str) -> bool:
    return value in derivation.knowledge.concluded.get(finding, ())


def _ends(span: Span) -> str:
    return f"{span.low:.0f}" if span.low == span.high else f"{span.low:.0f} to {span.high:.0f}"


def _hours(hours: Span) -> str:
    if hours.high < 1:
        return "less than an hour"
    return f"{hours.low:.1f} to {hours.high:.1f} hours" if hours.high < 10 else f"{_ends(hours)} hours"
