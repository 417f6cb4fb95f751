"""One sitting over a case: the visit as it stands, which page is open, and whether the file holds it all.

Plain Python, so that what the screens do can be tried without a screen.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.model.case import Case, TestDig
from assistant.model.place import BadInput
from assistant.model.signs import Sign

if TYPE_CHECKING:
    from assistant.model.derivation import Verdict
    from assistant.season import Visit

Save = Callable[[Case, Path], None]
DIG = "the test dig"
"""What a page comes back with when the test dig is to be opened; no sign has such a name."""


@dataclass(frozen=True)
class Standing:
    """A visit with what it asks next and advises so far, each worked out once and only when looked at."""

    visit: Visit

    @cached_property
    def next_question(self) -> Sign | None:
        """What is asked next; None when nothing left would change the advice."""
        return self.visit.next_question()

    @cached_property
    def verdict(self) -> Verdict:
        """The advice as far as the answers carry it."""
        return self.visit.verdict()

    @cached_property
    def full_verdict(self) -> Verdict:
        """The same with what decided it and what would change it."""
        from assistant.whatif import advise_fully

        return advise_fully(self.visit.rulebook, self.visit.case)


class Sitting:
    """The grower's place in the interview; every change of an answer is written to the file at once."""

    def __init__(self, visit: Visit, save_to: Path, save: Save | None = None) -> None:
        self.now = Standing(visit)
        self.before: Standing | None = None
        self.save_to = save_to
        self.trouble = ""
        self._save = save or _save_case
        self._reopened: str | None = None
        self._recording = False
        self._left_out: set[str] = set()

    @property
    def visit(self) -> Visit:
        """The visit with every answer so far."""
        return self.now.visit

    @property
    def question(self) -> Sign | None:
        """The question whose page is open; None when the advice is due."""
        if self._reopened is not None:
            return self.visit.rulebook.signs[self._reopened]
        return self.now.next_question or self._for_the_record

    @property
    def _for_the_record(self) -> Sign | None:
        return self.visit.next_for_the_record(self._left_out) if self._recording else None

    @property
    def is_for_the_record(self) -> bool:
        """Whether no advice hangs on the open page any more."""
        return self._recording and self._reopened is None and self.now.next_question is None

    @property
    def can_record(self) -> bool:
        """Whether the advice stands and something has not been asked."""
        return self.now.next_question is None and self.visit.next_for_the_record() is not None

    @property
    def has_outlook(self) -> bool:
        """Whether weather or the garden's frost dates tell of the days ahead."""
        case = self.visit.case
        return case.weather is not None or "first_frost" in case.garden.dates

    def record(self) -> None:
        """Goes on asking what the advice does not need, what was left out before only when nothing else is left."""
        self._recording, self._reopened = True, None
        if self._for_the_record is None:
            self._left_out.clear()

    def leave_out(self) -> None:
        """Passes over the open page, when it is only for the record."""
        if self.question is not None and self.is_for_the_record:
            self._left_out.add(self.question.name)

    def answer(self, text: str) -> None:
        """Takes the answer to the open page, saves, and moves on. Raises `NotAValue`; then nothing has changed."""
        sign = self.question
        assert sign is not None, "only an open page can be answered"
        self._move_to(self.visit.answer(sign.name, text))

    def dig(self, dig: TestDig | None) -> None:
        """Takes the hills of a test dig, or None for none, and saves."""
        self._move_to(self.visit.dig(dig))

    def forget(self, sign_name: str) -> None:
        """Rubs an answer out, as if it had never been asked, and saves."""
        self._move_to(self.visit.forget(sign_name))

    def reopen(self, sign_name: str) -> None:
        """Opens the page of an earlier answer, which stands until another is given."""
        self._reopened = sign_name

    def step_back(self) -> bool:
        """Opens the page before the open one; False on the first page."""
        answered = self.visit.answered
        here = answered.index(self._reopened) if self._reopened in answered else len(answered)
        if here == 0:
            return False
        self._reopened = answered[here - 1]
        return True

    def go_on(self) -> None:
        """Leaves an earlier page as it was, back to the question that is due."""
        self._reopened = None

    @property
    def moved_from(self) -> str | None:
        """The headline before an answer was changed or rubbed out, when the advice is another one now."""
        before, now = self.before, self.now
        if before is None or len(before.visit.answered) < len(now.visit.answered):
            return None
        return before.verdict.headline if before.verdict.headline != now.verdict.headline else None

    def save(self) -> None:
        """Writes the case to its file; what stands in the way becomes `trouble`, one sentence."""
        try:
            self._save(self.visit.case, self.save_to)
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            self.trouble = self._not_saved(reason)
        except BadInput as error:
            self.trouble = self._not_saved(error.problems[0].message)
        else:
            self.trouble = ""

    def _not_saved(self, reason: str) -> str:
        return f"Not saved to {self.save_to}: {reason}. Your answers are kept here; the next one tries again."

    def print_what_is_unsaved(self) -> None:
        """After the screen has closed: the case as text, when its file could not be written."""
        if not self.trouble:
            return
        from assistant.cases import case_text
        from assistant.rulebook.names import visible

        print(visible(f"{self.save_to} could not be written; this is the case to keep:"), file=sys.stderr)
        print(case_text(self.visit.case))

    def _move_to(self, visit: Visit) -> None:
        self.before, self.now = self.now, Standing(visit)
        self._reopened = None
        self.save()


def _save_case(case: Case, path: Path) -> None:
    from assistant.cases import save_case

    save_case(case, path)
