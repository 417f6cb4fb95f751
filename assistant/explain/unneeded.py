"""What an interview could leave unasked, in a word to the grower."""

from __future__ import annotations

from assistant.explain.wording import name_words
from assistant.model.derivation import Outcome, Verdict
from assistant.model.readings import Origin
from assistant.model.signs import Effort, Sign

MOST_NAMED = 4
"""Signs that are named in the one sentence; the rest are counted."""

_SPARED = {Effort.DIG: "No hill had to be dug up.", Effort.LOOK_UP: "Nothing had to be looked up."}


def not_needed(verdict: Verdict) -> tuple[Sign, ...]:
    """The signs not asked that no longer matter, the dearest first; none while some answer still can."""
    if verdict.outcome not in (Outcome.SETTLED, Outcome.NO_ADVICE):
        return ()
    known, signs = verdict.derivation.known, verdict.derivation.rulebook.signs
    unasked = [sign for name, sign in signs.items() if known[name].origin is Origin.NOT_ASKED]
    spared = [sign for sign in unasked if sign.name not in verdict.questions_left]
    return tuple(sorted(spared, key=lambda sign: -sign.effort.cost))


def not_needed_words(verdict: Verdict) -> str:
    """The same in a sentence or two, such as `Not needed: the size of the roots. No hill had to be dug up.`"""
    spared = not_needed(verdict)
    if not spared:
        return ""
    names = [f"the {name_words(verdict.derivation.rulebook, sign.name)}" for sign in spared]
    if len(names) > MOST_NAMED:
        names[MOST_NAMED - 1 :] = [f"{len(names) - MOST_NAMED + 1} more"]
    *others, last = names
    listed = f"{', '.join(others)} and {last}" if others else last
    return " ".join([f"Not needed: {listed}.", *_efforts_spared(verdict)])


def _efforts_spared(verdict: Verdict) -> list[str]:
    """The dearest effort that no answer has cost so far, if there is a dear one."""
    known, signs = verdict.derivation.known, verdict.derivation.rulebook.signs
    spent = {sign.effort for name, sign in signs.items() if known[name].origin is not Origin.NOT_ASKED}
    spared = {sign.effort for sign in not_needed(verdict)} - spent
    return [words for effort, words in _SPARED.items() if effort in spared][:1]
