"""What decided a verdict and what would change it: the smallest set of answers, and the nearest changes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from assistant.explain.changes import nearest, option_words
from assistant.explain.wording import known_words
from assistant.interview.decisive import fewest_departures, single_changes, smallest_deciding
from assistant.interview.diagrams import TooLarge
from assistant.interview.options import TooManyChoices
from assistant.interview.remainder import Remainder, all_open, ending_of, whole_remainder
from assistant.measures import domains
from assistant.model.case import Case
from assistant.model.derivation import Change, Verdict
from assistant.model.readings import Known, Origin
from assistant.model.rules import Rulebook
from assistant.season import advice_and_headline, advise


def advise_fully(rulebook: Rulebook, case: Case) -> Verdict:
    """The verdict with a smallest set of answers that decided it, and what would change it.

    A rulebook too large to try everything leaves the verdict plain.
    """
    verdict = advise(rulebook, case)
    known = verdict.derivation.known
    try:
        rest = whole_remainder(rulebook, all_open(rulebook, known), domains(rulebook, case.on))
    except (TooManyChoices, TooLarge):
        return verdict
    actual = {name: rest.option_for(name, known[name].reading) for name in rulebook.signs}
    answered = frozenset(name for name in actual if known[name].origin is not Origin.NOT_ASKED)
    changer = _Changer(rulebook, case, rest, known)
    deciding = smallest_deciding(rest, actual, answered)
    return verdict._replace(
        decided_by=deciding or verdict.decided_by,
        forced=bool(deciding),
        would_change=changer.one_by_one(actual),
        joint_change=changer.together(actual),
    )


@dataclass(frozen=True)
class _Changer:
    """Words changes of answers, each with the headline it leads to."""

    rulebook: Rulebook
    case: Case
    rest: Remainder
    known: Mapping[str, Known]

    def one_by_one(self, actual: Mapping[str, int]) -> tuple[Change, ...]:
        """For each sign the nearest change that alone changes the advice, those of least effort first."""
        found: dict[str, list[int]] = {}
        for sign, option, _ in single_changes(self.rest, actual):
            found.setdefault(sign, []).append(option)
        nearest_ones = {
            sign: nearest(self.rest, sign, options, self.known[sign].reading) for sign, options in found.items()
        }
        signs = sorted(nearest_ones, key=lambda sign: self.rulebook.signs[sign].effort.cost)
        return tuple(self._change(sign, nearest_ones[sign], {sign: nearest_ones[sign]}) for sign in signs)

    def together(self, actual: Mapping[str, int]) -> tuple[Change, ...]:
        """The fewest changes of answers that together change the advice."""
        now = ending_of(self.rest.after(self.rest.root, actual))
        departures = fewest_departures(self.rest, self.rest.root, actual, now, self.rest.questions) or {}
        return tuple(self._change(sign, option, departures) for sign, option in departures.items())

    def _change(self, sign: str, option: int, changes: Mapping[str, int]) -> Change:
        units = self.case.units
        then, its_headline = advice_and_headline(self.rulebook, self._changed(changes))
        before = known_words(self.rulebook, sign, self.known[sign], units)
        after = option_words(self.rulebook, self.rest, sign, option, units)
        return Change(sign, before, after, then, its_headline)

    def _changed(self, changes: Mapping[str, int]) -> Case:
        options = {sign: self.rest.options[sign].all[option] for sign, option in changes.items()}
        answers = {sign: Known(option.reading, Origin.ANSWERED) for sign, option in options.items()}
        return replace(self.case, answers={**self.case.answers, **answers})
