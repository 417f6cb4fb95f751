"""What the interview and the garden have in common as programs: themes, and the keys that work everywhere."""

from __future__ import annotations

import gc
import os
import sys
from typing import ClassVar

from textual.app import App
from textual.binding import Binding, BindingType
from textual.reactive import Reactive
from textual.theme import Theme

from assistant.tui import themes
from assistant.tui.harmless import Harmless

SECONDS_BETWEEN_LOOKS = 1.0
"""How often the program looks whether its terminal is still there."""


MUCH_GARBAGE = 2000
"""Objects made since the last time that are worth looking for garbage; a page makes more."""


def collect_garbage() -> None:
    """Looks for garbage when there may be some. By itself Python looks amid the work, a tenth of a key's time."""
    if gc.get_count()[0] > MUCH_GARBAGE:
        gc.collect()


class NotebookApp(App[None]):
    """The field notebook on the screen, whatever page it opens at."""

    TITLE = "digday"
    ENABLE_COMMAND_PALETTE = False
    VERTICAL_BREAKPOINTS = [(32, "-tall")]
    theme: Reactive[str] = Reactive(themes.SUNLIGHT)
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("b,B,upper_b,f5", "other_theme", show=False),
        Binding("k,K,upper_k,f1", "keys", show=False),
        Binding("q,Q,upper_q", "leave", show=False),
        Binding("ctrl+c,ctrl+q", "leave", show=False, priority=True),
    ]

    def __init__(self) -> None:
        # Textual turns colours into greys for NO_COLOR; its native mode drops them altogether.
        super().__init__(ansi_color=True if "NO_COLOR" in os.environ else None)
        self._filters.append(Harmless())

    @property
    def available_themes(self) -> dict[str, Theme]:
        """Our own two and no other; known from the start, the style sheets are read only once."""
        console = getattr(self, "console", None)  # the first look at a theme comes before there is one
        return dict(themes.themes_for(console and console.color_system))

    def on_ready(self) -> None:
        """The first page stands: what was made so far stays, and garbage is collected between keys from now on."""
        gc.freeze()
        if not self.is_headless:
            self.set_interval(SECONDS_BETWEEN_LOOKS, self._leave_without_a_terminal)
            self.set_interval(SECONDS_BETWEEN_LOOKS, collect_garbage)

    def _leave_without_a_terminal(self) -> None:
        """Goes when the terminal was closed under it, which would otherwise be read for ever; all answers are kept."""
        try:
            os.get_terminal_size(sys.__stdin__.fileno() if sys.__stdin__ else 0)
        except OSError:
            self.exit()

    def action_other_theme(self) -> None:
        """Sunlight to dusk and back."""
        self.theme = themes.other(self.theme)

    def action_keys(self) -> None:
        """The page that explains the keys; the same key closes it."""
        from assistant.tui.help import HelpScreen

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen())

    def action_leave(self) -> None:
        """Closes the notebook."""
        self.exit()
