"""Readings, days and headlines in plain words."""

from __future__ import annotations

import re
from datetime import date

from assistant.model.derivation import Change, Derivation, Verdict
from assistant.model.quantities import Kind, Units, format_value
from assistant.model.readings import Choices, Known, Origin, Reading
from assistant.model.rules import Rulebook

LOOK_AGAIN = "look again"
_ORIGINS = {
    Origin.ANSWERED: "you said",
    Origin.CANT_TELL: "you can't tell",
    Origin.NOT_ASKED: "not asked yet",
    Origin.TEST_DIG: "from the test dig",
    Origin.GARDEN: "from the garden's frost dates",
    Origin.RECKONED: "reckoned",
    Origin.FORECAST: "from the forecast",
    Origin.STATION: "from the station's record",
    Origin.NOTEBOOK: "from the notebook",
}


def day_words(day: date) -> str:
    """A day as `Saturday 4 October`."""
    return f"{day:%A} {day.day} {day:%B}"


def format_reading(rulebook: Rulebook, name: str, reading: Reading, units: Units) -> str:
    """A sign's or measure's reading in plain words, such as `95 to 105 days` or `green or yellowing`."""
    if isinstance(reading, Choices):
        return choice_words(rulebook, name, reading)
    sign = rulebook.signs.get(name)
    kind, unit = (sign.kind, sign.unit) if sign else (Kind.NUMBER, rulebook.measures[name].unit)
    high = value_words(kind, reading.high, unit, units)
    return high if reading.low == reading.high else f"{format_value(kind, reading.low, units)} to {high}"


def choice_words(rulebook: Rulebook, name: str, reading: Choices) -> str:
    """The choices still possible, in the rulebook's order."""
    return " or ".join(choice for choice in rulebook.signs[name].choices if choice in reading.possible)


def value_words(kind: Kind, value: float, unit: str, units: Units) -> str:
    """One value with its unit, such as `54 °F`, `2 nights` or `1 night`."""
    words = format_value(kind, value, units)
    counted = re.sub(r"s\b", "", unit, count=1) if words == "1" else unit
    return f"{words} {counted}".rstrip()


def origin_words(known: Known) -> str:
    """Where a reading came from, with the grower's own words where they gave some."""
    words = _ORIGINS[known.origin]
    if known.origin is Origin.ANSWERED and known.written:
        return f"{words} “{known.written}”"
    if known.origin is Origin.CANT_TELL and not known.written:  # nobody was asked, for the weather tells it
        return "not known"
    return f"{words}: {known.written}" if known.origin is Origin.TEST_DIG else words


def known_words(rulebook: Rulebook, name: str, known: Known, units: Units) -> str:
    """What is known of a sign in one phrase; a whole domain is never shown as if it were an answer."""
    if known.origin in (Origin.CANT_TELL, Origin.NOT_ASKED):
        return origin_words(known)
    return f"{format_reading(rulebook, name, known.reading, units)} ({origin_words(known)})"


def name_words(rulebook: Rulebook, name: str) -> str:
    """A sign, measure or finding as a phrase for the reader."""
    if name in rulebook.measures:
        return rulebook.measures[name].says
    if name in rulebook.signs and rulebook.signs[name].called:
        return rulebook.signs[name].called
    return name.replace("_", " ").replace("-", " ")


def what_would_change(verdict: Verdict) -> list[str]:
    """The changes of a full verdict, a sentence each, such as `Had the vines been green: Wait.`

    Every change that alone suffices; where none does, the fewest that do so together.
    """
    singly = [[change] for change in verdict.would_change]
    together = [list(verdict.joint_change)] if verdict.joint_change else []
    return [_changed(verdict.derivation, changes) for changes in singly or together]


def _changed(derivation: Derivation, changes: list[Change]) -> str:
    first, *more = [_premise(derivation, change) for change in changes]
    premises = ", and ".join([first, *(words[0].lower() + words[1:] for words in more)])
    return f"{premises}: {changes[0].headline}."


def _premise(derivation: Derivation, change: Change) -> str:
    sign = derivation.rulebook.signs[change.sign]
    name = name_words(derivation.rulebook, sign.name)
    asked = derivation.known[sign.name].origin is not Origin.NOT_ASKED
    after = change.after.replace("-", " ") if sign.choices else change.after
    if change.after == Origin.CANT_TELL.value:
        return f"Could you not tell the {name}"
    if set(sign.choices) == {"yes", "no"}:
        return f"{'Had you said' if asked else 'Should you say'} {after} to “{sign.ask}”"
    return f"Had the {name} been {after}" if asked else f"Should the {name} be {after}"


def headline(
    rulebook: Rulebook, advice: str | None, conflict: bool, act_by: date | None, look_again: date | None
) -> str:
    """The verdict in one line, with its days."""
    if conflict:
        return "The rules disagree here; read both sides before you act"
    if advice is None:
        return "No advice: no rule speaks to what is known"
    parts = [rulebook.advice[advice].headline]
    if act_by:
        parts.append(f"act by {day_words(act_by)}")
    if look_again and parts[-1].endswith(LOOK_AGAIN):
        parts[-1] += f" on {day_words(look_again)}"
    elif look_again:
        parts.append(f"{LOOK_AGAIN} on {day_words(look_again)}")
    return "; ".join(parts)
