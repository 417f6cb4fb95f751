"""The verdict: what to do, by when, what next, and every reason behind it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Static

from assistant.explain.reasoning import DECIDED, NEXT, WHY, WOULD_CHANGE, Reason, reasoning
from assistant.explain.unneeded import not_needed_words
from assistant.model.derivation import Outcome, Verdict
from assistant.tui.sitting import Sitting
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page
from assistant.tui.widgets.reason_tree import ReasonTree
from assistant.tui.wording import OUTCOME_WORDS, SETTLED_BUT_FOR_THE_DAY, day_words, progress

KEYS = (
    ("Esc", "back"),
    ("↑ ↓", "scroll"),
    ("Tab", "reasons"),
    ("e", "open all"),
    ("p", "page so far"),
    ("k", "keys"),
    ("q", "leave"),
)
RECORD = "for the record"
"""What the screen comes back with when the grower goes on answering for the record; no sign has such a name."""
OPEN_AT_FIRST = frozenset((WHY, DECIDED, WOULD_CHANGE))
MOST_CHANGES = 4
"""Changes shown at first; the rest are folded away."""


class VerdictScreen(Screen["str | None"]):
    """Comes back with what to open anew, `RECORD` to go on for the record, or None to go back to the interview."""

    CSS_PATH = "verdict.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,v,V,upper_v,f4", "dismiss(None)", show=False),
        Binding("e,E,upper_e", "open_all", show=False),
        Binding("p,P,upper_p,f3", "page_so_far", show=False),
        Binding("r,R,upper_r", "record", show=False),
        Binding("o,O,upper_o,f6", "outlook", show=False),
    ]

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self.sitting = sitting

    def compose(self) -> ComposeResult:
        """Head, the page of the verdict, keys."""
        visit, verdict = self.sitting.visit, self.sitting.now.full_verdict
        with Page():
            yield Masthead(f"Verdict · {visit.case.title}", progress(visit))
            with VerticalScroll(classes="leaf"):
                yield from self._answer(verdict)
                yield from _grounds(reasoning(verdict, visit.case.units))
            yield KeyLine(self._keys())

    def on_mount(self) -> None:
        """Arrows scroll the page."""
        self.query_one(VerticalScroll).focus()

    def action_open_all(self) -> None:
        """Every reason down to its sources, or back to the first lines."""
        for tree in self.query(ReasonTree):
            tree.open_all()

    def action_record(self) -> None:
        """Back to the interview for what the advice does not need."""
        if self.sitting.can_record:
            self.dismiss(RECORD)

    def action_outlook(self) -> None:
        """The six weeks ahead, where anything tells of them."""
        if self.sitting.has_outlook:
            from assistant.tui.outlook import OutlookScreen

            self.app.push_screen(OutlookScreen(self.sitting))

    def action_page_so_far(self) -> None:
        """The answers; one that is picked opens instead of the verdict."""
        from assistant.tui.answers import AnswersScreen

        self.app.push_screen(AnswersScreen(self.sitting), self._after_page_so_far)

    async def _after_page_so_far(self, sign_name: str | None) -> None:
        if sign_name is not None:
            self.dismiss(sign_name)
        else:
            await self.recompose()
            self.on_mount()

    def _answer(self, verdict: Verdict) -> Iterator[Widget]:
        """The advice, its days, and how sure it is."""
        advice = verdict.derivation.rulebook.advice.get(verdict.advice or "")
        yield Static(advice.headline if advice else verdict.headline, id="headline", markup=False)
        if self.sitting.trouble:
            yield Static(f"! {self.sitting.trouble}", classes="alarm", markup=False)
        if advice:
            yield Static(advice.says, id="says", markup=False)
        for label, day in (("Act by", verdict.act_by), ("Look again", verdict.look_again)):
            if day is not None:
                yield _pair(label, day_words(day, verdict.on))
        yield Static(self._how_sure(verdict), id="outcome", classes="pencil", markup=False)
        if self.sitting.moved_from:
            yield Static(f"Before your last change: {self.sitting.moved_from}", classes="pencil", markup=False)

    def _how_sure(self, verdict: Verdict) -> str:
        """Whether more answers could change the advice, and what they need not be."""
        words = OUTCOME_WORDS[verdict.outcome]
        if verdict.outcome is Outcome.SETTLED and verdict.questions_left:
            words = SETTLED_BUT_FOR_THE_DAY
        return f"{words} {not_needed_words(verdict)}".rstrip()

    def _keys(self) -> tuple[tuple[str, str], ...]:
        keys: tuple[tuple[str, str], ...] = KEYS
        if self.sitting.can_record:
            keys = (KEYS[0], *KEYS[2:4], ("r", "answer for the record"), *KEYS[-2:])
        if self.sitting.has_outlook:
            keys = (*(key for key in keys[:-2] if key != KEYS[1]), ("o", "outlook"), *keys[-2:])
        return keys


def _grounds(verdict: Reason) -> Iterator[Widget]:
    """What to do next, then why and what to mind, as sections to open and close."""
    sections = {section.text: section for section in verdict.children}
    if NEXT in sections:
        yield Static(NEXT, classes="heading")
        for number, step in enumerate(sections.pop(NEXT).children, start=1):
            yield _pair(f"{number}.", step.text)
    if WOULD_CHANGE in sections:
        sections[WOULD_CHANGE] = _folded(sections[WOULD_CHANGE])
    yield ReasonTree(sections.values(), OPEN_AT_FIRST)


def _folded(section: Reason) -> Reason:
    """The section with all but its first reasons under one that is opened only when wanted."""
    first, more = section.children[:MOST_CHANGES], section.children[MOST_CHANGES:]
    if len(more) < 2:
        return section
    return section._replace(children=(*first, Reason("more", f"{len(more)} more", children=more)))


def _pair(label: str, words: str) -> Horizontal:
    pair = Horizontal(
        Static(label, classes="label", markup=False), Static(words, classes="words", markup=False), classes="pair"
    )
    pair.set_class(label.endswith((".", "·")), "-step")
    return pair
