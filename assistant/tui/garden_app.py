"""The garden as a program."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from textual.command import DiscoveryHit, Hit, Hits, Provider

from assistant.model.notebook import BedRow
from assistant.tui.garden import GardenScreen
from assistant.tui.garden_page import Garden, GardenPage
from assistant.tui.notebook_app import NotebookApp

COMMANDS = (
    ("Visit the bed", "visit", "The interview at the bed at the arrow (v)"),
    ("Record a dig", "line('dig')", "Of the bed or a part of it; its roots begin their cure (d)"),
    ("Log a reading", "line('air')", "The air where the roots lie (r)"),
    ("Note on the lot", "line('lot')", "Looked, used, given, sold, discarded, weighed (l)"),
    ("Put into the store", "store", "The cure is over (m)"),
    ("Record a planting", "line('plant')", "When the slips were set (p)"),
    ("Frost tonight", "line('frost')", "One low for every bed with roots in the ground (f)"),
    ("New bed", "line('bed')", "Write a bed down (n)"),
    ("Sheet to print", "sheet", "What every bed needs, or on a bed's page its dig day, cure or store (s)"),
    ("Change", "change", "The bed's name, length or garden; on a bed's page the entry at the arrow (c)"),
    ("Gardens", "gardens", "Choose which is shown; names, units and frost dates (g)"),
    ("Undo", "undo", "All back as before the last entry (u)"),
    ("Take out", "take_out", "The bed; on a bed's page the entry at the arrow; it asks first (x)"),
    ("Bright or dusk", "app.other_theme", "Paper for the sun or for the evening (b)"),
    ("Keys", "app.keys", "What each key does (k)"),
    ("Leave", "app.leave", "All is in the notebook already (q)"),
)


class GardenCommands(Provider):
    """What the garden can do, found by a word."""

    async def discover(self) -> Hits:
        """Everything, before a word is written."""
        for name, action, about in COMMANDS:
            yield DiscoveryHit(name, self._runs(action), help=about)

    async def search(self, query: str) -> Hits:
        """What a word is found in, its description included."""
        matcher = self.matcher(query)
        for name, action, about in COMMANDS:
            score = max(matcher.match(name), matcher.match(about) / 2)
            if score > 0:
                yield Hit(score, matcher.highlight(name), self._runs(action), help=about)

    def _runs(self, action: str) -> Callable[[], Awaitable[None]]:
        page = self.screen

        async def run() -> None:
            await page.run_action(action)

        return run


class GardenApp(NotebookApp):
    """The field notebook open at the garden."""

    CSS_PATH = ["app.tcss", "garden.tcss"]
    ENABLE_COMMAND_PALETTE = True
    COMMAND_PALETTE_BINDING = "ctrl+p"
    COMMANDS = {GardenCommands}

    def __init__(self, garden: Garden, visit: int | None = None) -> None:
        super().__init__()
        self.garden = garden
        self._visit = visit

    def on_ready(self) -> None:
        """Goes on to the bed that is to be visited at once."""
        super().on_ready()
        if self._visit is not None and isinstance(self.screen, GardenScreen):
            self.screen.point_at(self._visit)
            self.screen.visit(self.garden.notebook.get(BedRow, self._visit))

    def get_default_screen(self) -> GardenScreen:
        """The beds lie under every other page."""
        return GardenScreen(self.garden)

    def action_command_palette(self) -> None:
        """What the garden can do; on other pages their own keys are enough."""
        if isinstance(self.screen, GardenPage):
            super().action_command_palette()

    def action_keys(self) -> None:
        """The keys of the garden, or those of the interview while one is open."""
        from assistant.tui.bed_visit import BedVisitScreen
        from assistant.tui.garden_help import GardenHelp
        from assistant.tui.help import HelpScreen

        if isinstance(self.screen, HelpScreen):
            return
        visiting = any(isinstance(page, BedVisitScreen) for page in self.screen_stack)
        self.push_screen(HelpScreen() if visiting else GardenHelp())

    def action_leave(self) -> None:
        """Closes the notebook; an open visit gets its verdict first, and is stayed with when that cannot be written."""
        from assistant.tui.bed_visit import BedVisitScreen

        visit = next((page for page in self.screen_stack if isinstance(page, BedVisitScreen)), None)
        if visit is None:
            self.exit()
            return
        while self.screen is not visit:
            self.pop_screen()
        visit.action_leave_visit()
