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

from assistant.explain.reasoning import Reason, reasoning
from assistant.model.derivation import Verdict
from assistant.tui.sitting import Sitting
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page
from assistant.tui.widgets.reason_tree import ReasonTree
from assistant.tui.wording import OUTCOME_WORDS, day_words, progress

KEYS = (
    ("Esc", "back"),
    ("↑ ↓", "scroll"),
    ("Tab", "reasons"),
    ("e", "open all"),
    ("p", "page so far"),
    ("k", "keys"),
    ("q", "leave"),
)


class VerdictScreen(Screen["str | None"]):
    """Comes back with a sign to open anew, or None to go back to the interview."""

    CSS_PATH = "verdict.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,v,V,upper_v,f4", "dismiss(None)", show=False),
        Binding("e,E,upper_e", "open_all", show=False),
        Binding("p,P,upper_p,f3", "page_so_far", show=False),
    ]

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self.sitting = sitting

    def compose(self) -> ComposeResult:
        """Head, the page of the verdict, keys."""
        visit, verdict = self.sitting.visit, self.sitting.now.full_verdict
        with Page():
            yield Masthead(f"Verdict · {visit.case.title}", progress(len(visit.answered), visit.at_most_left))
            with VerticalScroll(classes="leaf"):
                yield from self._answer(verdict)
                yield from self._grounds(reasoning(verdict, visit.case.units))
            yield KeyLine(KEYS)

    def on_mount(self) -> None:
        """Arrows scroll the page."""
        self.query_one(VerticalScroll).focus()

    def action_open_all(self) -> None:
        """Every reason down to its sources, or back to the first lines."""
        for tree in self.query(ReasonTree):
            tree.open_all()

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
        yield Static(OUTCOME_WORDS[verdict.outcome], id="outcome", classes="pencil", markup=False)
        if self.sitting.moved_from:
            yield Static(f"Before your last change: {self.sitting.moved_from}", classes="pencil", markup=False)

    def _grounds(self, verdict: Reason) -> Iterator[Widget]:
        """What to do next, why, what is disputed, what to mind."""
        by_kind: dict[str, list[Reason]] = {}
        for reason in verdict.children:
            by_kind.setdefault(reason.kind, []).append(reason)
        yield from _section("What to do next", by_kind.get("step", ()))
        reasons = by_kind.get("rule", [])
        if reasons:
            yield Static("Why", classes="heading")
            yield ReasonTree(reasons)
        yield from _lines("What decided it", by_kind.get("decision", []))
        yield from _lines("What would change it", by_kind.get("change", []))
        disputed = by_kind.get("disagreement", [])
        if disputed:
            yield Static("Where the handbooks disagree", classes="heading")
            yield ReasonTree(disputed)
        cautions = by_kind.get("caution", [])
        if cautions:
            yield Static("Mind", classes="heading")
            yield ReasonTree(cautions)


def _section(title: str, steps: list[Reason] | tuple[()]) -> Iterator[Widget]:
    if steps:
        yield Static(title, classes="heading")
    for number, step in enumerate(steps, start=1):
        yield _pair(f"{number}.", step.text)


def _lines(title: str, reasons: list[Reason]) -> Iterator[Widget]:
    if reasons:
        yield Static(title, classes="heading")
    for reason in reasons:
        for line in (reason, *reason.children):
            yield _pair("·", line.text)


def _pair(label: str, words: str) -> Horizontal:
    pair = Horizontal(
        Static(label, classes="label", markup=False), Static(words, classes="words", markup=False), classes="pair"
    )
    pair.set_class(label.endswith((".", "·")), "-step")
    return pair
