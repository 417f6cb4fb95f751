"""The interview at a bed of the notebook: every answer is in it before the next question shows."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType

from assistant.garden.entries.visits import KeptVisit, keep_verdict
from assistant.model.place import BadInput
from assistant.tui.question import QuestionScreen
from assistant.tui.sitting import Sitting


class BedVisitScreen(QuestionScreen):
    """Comes back with what the visit came to, in words; leaving writes the verdict beside it."""

    CSS_PATH = "question.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("q,Q,upper_q", "leave_visit", show=False)]

    def __init__(self, kept: KeptVisit) -> None:
        super().__init__(Sitting(kept.visit, kept.notebook.path, kept.save))
        self._kept = kept
        self._answered = len(kept.visit.case.answers)

    async def action_step_back(self) -> None:
        """To the page before; from the first one back to the garden."""
        if self.sitting.step_back():
            await self.turn_page()
        else:
            self.action_leave_visit()

    def action_leave_visit(self) -> None:
        """Back to the garden, unless an answer could not be written."""
        try:
            self.leave()
        except BadInput as error:
            self.notify(error.problems[0].message, title="Not saved", severity="error", markup=False)

    def leave(self) -> None:
        """Writes the verdict and goes. Raises `BadInput`, and then stays."""
        told = f"{self._kept.row.title}: nothing answered."
        if self.sitting.visit.answered:
            self._kept.save(self.sitting.visit.case, self.sitting.save_to)
            verdict = self.sitting.now.verdict
            keep_verdict(self._kept.notebook, self._kept.row, verdict)
            told = f"{self._kept.row.title}: {verdict.headline}."
        self.dismiss(told)
