"""The page that explains the keys of the garden."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from assistant.tui.help import COLUMNS, HelpScreen
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page
from assistant.tui.widgets.keyed_list import KeyedList, Row

STAGES = (
    "A bed is growing until its first look, watch until the rules say dig, curing and keeping while its roots lie "
    "somewhere, and resting when it is empty. The most pressing bed stands first."
)
BED_KEYS = (
    ("↵", "Enter", "The bed's story: every visit, with its advice then and by today's rules. 1 to 9 open a line too."),
    ("v", "F4 ", "Visit the bed: the interview. Each answer is in the notebook before the next question."),
    ("d", "", "Record a dig, of the bed or a part of it. The roots become a lot, and their cure begins."),
    ("r", "", "Log a reading of the air where its roots lie."),
    ("l", "", "The lot: looked, used 3 lb, apart 5 lb nicked, discarded 1 lb, weighed 80 lb."),
    ("m", "", "The cure is over; the lot goes into the store."),
    ("p", "", "Record a planting."),
    ("i", "", "On the bed's page: all its pictures, with their words."),
    ("c", "", "Change the bed's name, length or garden; on the bed's page the entry at the arrow."),
    ("x", "", "Take out the bed; on the bed's page the entry at the arrow. It asks first, and can be undone."),
)
GARDEN_KEYS = (
    ("f", "", "Frost tonight: one low for every bed with roots in the ground."),
    ("n", "", "A new bed; in another garden it is written Hill/North bed."),
    ("g", "", "The gardens: choose which is shown; names, units and frost dates."),
    ("s", "", "A page to print, in a new file: every bed; on a bed's page its dig day, cure or store."),
    ("u", "", "Undo the last entry; again, the one before."),
    (":", "", "All it can do, found by a word."),
    ("b", "F5 ", "Bright paper for the sun, dusk for the evening."),
    ("k", "F1 ", "This page."),
    ("Esc", "←  ", "A step back."),
    ("q", "", "Leave. All is in the notebook already."),
)


class GardenHelp(HelpScreen):
    """Any of its keys leads back."""

    def compose(self) -> ComposeResult:
        """Stages, keys for a bed, keys for the garden."""
        with Page():
            yield Masthead("Keys of the garden")
            with VerticalScroll(classes="leaf"):
                yield Static(STAGES, classes="prose", markup=False)
                for heading, keys in (("The bed at the arrow", BED_KEYS), ("The garden", GARDEN_KEYS)):
                    yield Static(heading, classes="heading")
                    rows = [Row(key, also, words, key) for key, also, words in keys]
                    yield KeyedList(rows, focusable=False, columns=COLUMNS)
            yield KeyLine((("Esc", "back"), ("↑ ↓", "scroll")))
