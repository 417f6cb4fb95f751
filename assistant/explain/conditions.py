"""Conditions in plain words, and the parts of one that stand in its way."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.explain.wording import name_words
from assistant.model.conditions import (
    All,
    AnyOf,
    CantTell,
    Compare,
    CompareTo,
    Concluded,
    Condition,
    Could,
    Not,
    OneOf,
    Op,
    Truth,
    truth,
)
from assistant.model.derivation import Derivation
from assistant.model.quantities import Kind, Units, format_value
from assistant.model.rules import Rulebook

_OPS = {Op.AT_LEAST: "at least", Op.ABOVE: "above", Op.AT_MOST: "at most", Op.BELOW: "below"}


def condition_words(rulebook: Rulebook, condition: Condition, units: Units) -> str:
    """A condition as a phrase, such as `forecast low could be at most 32 °F`."""
    match condition:
        case All(parts):
            return _joined(rulebook, parts, " and ", units) or "always"
        case AnyOf(parts):
            return _joined(rulebook, parts, " or ", units)
        case Not(part):
            return f"not ({condition_words(rulebook, part, units)})"
        case Could(part):
            return f"possibly {condition_words(rulebook, part, units)}"
        case Compare(name, op, bound):
            sign = rulebook.signs.get(name)
            value = format_value(sign.kind if sign else Kind.NUMBER, bound, units)
            return f"{name_words(rulebook, name)} {_OPS[op]} {value}"
        case CompareTo(name, op, other):
            return f"{name_words(rulebook, name)} {_OPS[op]} {name_words(rulebook, other)}"
        case OneOf(name, choices):
            ordered = [choice for choice in rulebook.signs[name].choices if choice in choices]
            return f"{name_words(rulebook, name)} {' or '.join(ordered)}"
        case CantTell(name):
            return f"{name_words(rulebook, name)} can't be told"
        case Concluded(finding, values):
            return f"{name_words(rulebook, finding)} {' or '.join(sorted(values)).replace('-', ' ')}"


def first_obstacles(derivation: Derivation, condition: Condition, units: Units) -> list[tuple[str, str]]:
    """The parts that keep a condition from holding, each as the reading or finding it looks at and its words.

    The parts that are false, where there are any, since they alone decide; otherwise the open ones.
    """
    obstacles = list(_obstacles(derivation, condition, units))
    false = [(name, words) for name, words, state in obstacles if state is Truth.FALSE]
    return false or [(name, words) for name, words, _ in obstacles]


def _obstacles(derivation: Derivation, condition: Condition, units: Units) -> Iterator[tuple[str, str, Truth]]:
    state = truth(condition, derivation.knowledge)
    if state in (Truth.TRUE, Truth.DISPUTED):
        return
    match condition:
        case All(parts) | AnyOf(parts):
            for part in parts:
                yield from _obstacles(derivation, part, units)
        case _:
            yield _subject(condition), condition_words(derivation.rulebook, condition, units), state


def _subject(condition: Condition) -> str:
    match condition:
        case Compare(name) | CompareTo(name) | OneOf(name) | CantTell(name) | Concluded(name):
            return name
        case Not(part) | Could(part):
            return _subject(part)
        case All(parts) | AnyOf(parts):
            return _subject(parts[0]) if parts else ""


def _joined(rulebook: Rulebook, parts: tuple[Condition, ...], joint: str, units: Units) -> str:
    words = [
        f"({condition_words(rulebook, part, units)})"
        if isinstance(part, All | AnyOf) and len(part.parts) > 1
        else condition_words(rulebook, part, units)
        for part in parts
    ]
    return joint.join(words)
