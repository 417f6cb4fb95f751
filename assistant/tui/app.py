"""The interview on its own: its first page, and leaving without losing an answer."""

from __future__ import annotations

from assistant.tui.notebook_app import NotebookApp
from assistant.tui.question import QuestionScreen
from assistant.tui.sitting import Sitting


class DigDay(NotebookApp):
    """The field notebook open at one visit."""

    # The first screen is under way before its own style sheet would be read, so the app reads it.
    CSS_PATH = ["app.tcss", "question.tcss"]

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self.sitting = sitting
        self._leaving = False

    def get_default_screen(self) -> QuestionScreen:
        """The interview lies under every other page."""
        return QuestionScreen(self.sitting)

    def action_leave(self) -> None:
        """Closes the notebook; when the file cannot be written it says so once before."""
        if self.sitting.trouble and not self._leaving:
            self.sitting.save()
            if self.sitting.trouble:
                self._leaving = True
                self.notify("Press q again to leave; the case is then printed.", title="Not saved", markup=False)
                return
        self.exit()
