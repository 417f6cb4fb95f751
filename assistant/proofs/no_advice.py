"""Gardens that get no advice: with every question answered, or where answers are vague or missing."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.proofs.gardens import Gardens
from assistant.proofs.report import Check, Flaw


def find(gardens: Gardens) -> Iterator[Flaw | str]:
    """A flaw for gardens answered in full; only when there are none, one for vaguer answers."""
    silent = gardens.ending(lambda ending: ending.advice is None and not ending.conflict)
    in_full = gardens.both(silent, gardens.exact(gardens.rulebook.signs))
    if in_full is not gardens.nowhere:
        title = "Every question is answered, and no rule gives advice"
        yield Flaw(
            "no-advice",
            "",
            gardens.rulebook.place,
            "Some gardens get no advice though every question is answered.",
            "Add a rule for gardens such as these, or widen one.",
            tuple(gardens.case(title, ways, every=True) for ways in gardens.samples(in_full)),
        )
    elif silent is not gardens.nowhere:
        title = "Not all is known, and no rule gives advice"
        yield Flaw(
            "no-advice-unsure",
            "",
            gardens.rulebook.place,
            "Some gardens get no advice where an answer is vague, or missing.",
            "Add a rule for not knowing, with could or can't tell, so that a grower who can't tell is still advised.",
            tuple(gardens.case(title, ways) for ways in gardens.samples(silent)),
        )


CHECK = Check("Every garden gets advice, also where answers are vague or missing.", find)
