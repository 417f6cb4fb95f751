"""Which questions are left, which to ask next, and what hangs on one."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.interview.diagrams import Diagram, leaves_below
from assistant.interview.remainder import Ending, Remainder, ending_of
from assistant.model.readings import Reading
from assistant.model.rules import Rulebook


def questions_left(rulebook: Rulebook, rest: Remainder) -> tuple[str, ...]:
    """The unasked signs whose answer can still change the advice, least effort first."""
    return tuple(sorted(rest.open, key=lambda name: rulebook.signs[name].effort.cost))


def next_question(rulebook: Rulebook, rest: Remainder) -> str | None:
    """The question that leaves the least effort to be expected; None when no answer can change the advice."""
    from assistant.interview.choosing import Chooser  # only an interview needs it, a verdict does not

    order = Chooser(rest, rulebook.signs).order(rest.root)
    return rest.questions[order[0]] if order else None


def at_stake(rest: Remainder, question: str) -> Iterator[tuple[Reading, frozenset[Ending]]]:
    """For each exact answer to a question, every ending that can still follow it."""
    for number, option in enumerate(rest.options[question].all):
        if option.exact:
            yield option.reading, endings(rest.after(rest.root, {question: number}))


def endings(diagram: Diagram) -> frozenset[Ending]:
    """Every ending that some way of answering on comes to."""
    return frozenset(map(ending_of, leaves_below(diagram)))
