"""The wiring: themes, the keys that work everywhere, and the first page."""

from __future__ import annotations

import gc
import os
from typing import ClassVar

from textual.app import App
from textual.binding import Binding, BindingType
from textual.reactive import Reactive
from textual.theme import Theme

from assistant.tui import themes
from assistant.tui.question import QuestionScreen
from assistant.tui.sitting import Sitting


class DigDay(App[None]):
    """The field notebook on the screen."""

    TITLE = "digday"
    # The first screen is under way before its own style sheet would be read, so the app reads it.
    CSS_PATH = ["app.tcss", "question.tcss"]
    ENABLE_COMMAND_PALETTE = False
    VERTICAL_BREAKPOINTS = [(32, "-tall")]
    theme: Reactive[str] = Reactive(themes.SUNLIGHT)
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("b,B,upper_b,f5", "other_theme", show=False),
        Binding("k,K,upper_k,f1", "keys", show=False),
        Binding("q,Q,upper_q", "leave", show=False),
        Binding("ctrl+c,ctrl+q", "leave", show=False, priority=True),
    ]

    def __init__(self, sitting: Sitting) -> None:
        # Textual turns colours into greys for NO_COLOR; its native mode drops them altogether.
        super().__init__(ansi_color=True if "NO_COLOR" in os.environ else None)
        self.sitting = sitting
        self._leaving = False

    @property
    def available_themes(self) -> dict[str, Theme]:
        """Our own two and no other; known from the start, the style sheets are read only once."""
        return {theme.name: theme for theme in themes.THEMES}

    def get_default_screen(self) -> QuestionScreen:
        """The interview lies under every other page."""
        return QuestionScreen(self.sitting)

    def on_ready(self) -> None:
        """The first page stands: what was made so far stays, and garbage is collected from now on."""
        gc.freeze()
        gc.enable()

    def action_other_theme(self) -> None:
        """Sunlight to dusk and back."""
        self.theme = themes.other(self.theme)

    def action_keys(self) -> None:
        """The page that explains the keys; the same key closes it."""
        from assistant.tui.help import HelpScreen

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen())

    def action_leave(self) -> None:
        """Closes the notebook; when the file cannot be written it says so once before."""
        if self.sitting.trouble and not self._leaving:
            self.sitting.save()
            if self.sitting.trouble:
                self._leaving = True
                self.notify("Press q again to leave; the case is then printed.", title="Not saved", markup=False)
                return
        self.exit()
