"""Building directions: promises that, as a sign goes one way, the advice never gets less urgent."""

from __future__ import annotations

from assistant.model.quantities import Kind
from assistant.model.rules import Direction
from assistant.model.signs import Sign
from assistant.rulebook.names import instead, listed, quoted
from assistant.rulebook.view import View
from assistant.rulebook.vocabulary import Vocabulary


def build_directions(words: Vocabulary) -> None:
    """Every direction, and the urgencies that they all weigh by."""
    for name, view in words.declared["directions"].items():
        order = _order(view, words)
        words.directions[name] = Direction(
            name, view.text("says"), view.text("sign"), order, words.cited(view), view.place
        )
    if words.directions:
        _check_urgencies(words)


def _check_urgencies(words: Vocabulary) -> None:
    for name, view in words.declared["advice"].items():
        if not view.has("urgency"):
            message = f"The advice {quoted(name)} has no urgency, and directions go by it."
            view.note("missing-key", message, "Add urgency: 0 to 9, the more pressing the higher.", at_key=True)


def _order(view: View, words: Vocabulary) -> tuple[str, ...]:
    """What presses, from the least to the most."""
    named, presses = view.get("sign"), view.get("presses")
    if named is None or not words.knows("signs", named.written, named):
        return ()
    sign = words.signs.get(named.written)
    if presses is None or sign is None:
        return ()
    if sign.kind is Kind.CHOICE:
        return _choices(sign, presses)
    if presses.node.items is not None:
        message = f"{quoted(sign.name)} is a {sign.kind.value} and has no choices."
        presses.note("wrong-kind", message, "Write lower or higher.")
    return (presses.written,)


def _choices(sign: Sign, presses: View) -> tuple[str, ...]:
    if presses.node.items is None:
        message = f"{quoted(sign.name)} is a choice, and none is {presses.written} than another."
        hint = f"List its choices from the least to the most pressing: {listed(list(sign.choices))}."
        presses.note("wrong-kind", message, hint)
    written = tuple(item.written for item in presses.items())
    for number, item in enumerate(presses.items()):
        if item.written not in sign.choices:
            message = f"{quoted(sign.name)} has no choice {quoted(item.written)}."
            item.note("unknown-choice", message, instead(item.written, sign.choices))
        elif item.written in written[:number]:
            item.note("bad-value", f"{quoted(item.written)} stands here a second time.", "Delete one of the two.")
    return written
