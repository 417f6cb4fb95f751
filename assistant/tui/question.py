"""The interview: one question a page."""

from __future__ import annotations

from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widgets import Static

from assistant.model.quantities import Kind, NotAValue
from assistant.tui.sitting import DIG, Sitting
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page
from assistant.tui.widgets.question_leaf import QuestionLeaf
from assistant.tui.wording import answered, progress, record_progress

KEYS = (
    ("Esc", "back"),
    ("w", "why"),
    ("p", "page so far"),
    ("v", "verdict"),
    ("b", "bright/dusk"),
    ("k", "keys"),
    ("q", "leave"),
)
OUTLOOK_KEY = ("o", "outlook")
ON_A_DAY = ("F6", "outlook")
"""A day may begin with an o."""
RECORD_KEYS = (*KEYS[:1], ("x", "leave out"), *KEYS[2:4], *KEYS[5:])


class QuestionScreen(Screen["str | None"]):
    """Shows the sitting's open question, or sends the grower on to the verdict."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "step_back", show=False),
        Binding("w,W,upper_w,f2", "why", show=False),
        Binding("p,P,upper_p,f3", "page_so_far", show=False),
        Binding("v,V,upper_v,f4", "verdict", show=False),
        Binding("x,X,upper_x", "leave_out", show=False),
        Binding("o,O,upper_o,f6", "outlook", show=False),
        Binding("t,T,upper_t,f7", "test_dig", show=False),
    ]

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self.sitting = sitting

    def compose(self) -> ComposeResult:
        """Head, the open leaf, the advice so far, keys."""
        case = self.sitting.visit.case
        with Page():
            yield Masthead(f"{case.on.day} {case.on:%b} · {case.title}", answered(self.sitting.visit))
            yield from self._leaves()
            yield Static("So far: …", classes="standing", id="so-far", markup=False)
            yield KeyLine(self._keys())

    def on_mount(self) -> None:
        """The first page stands already; goes on to the advice when there is nothing to ask."""
        self._go_on()

    async def turn_page(self) -> None:
        """Brings the page in line with the sitting."""
        if self.sitting.question is not None:
            async with self.batch():
                await self.query(QuestionLeaf).remove()
                await self.query_one(Page).mount(*self._leaves(), before="#so-far")
                self.query_one(KeyLine).say(self._keys())
        self._go_on()

    def _go_on(self) -> None:
        if self.sitting.question is None:
            self.action_verdict()
            return
        # Advice and progress take longer to work out than a page takes to draw, so the page comes first.
        self.call_after_refresh(self._show_standing)

    async def on_question_leaf_answered(self, answered: QuestionLeaf.Answered) -> None:
        """Takes the answer, unless its page has been turned meanwhile."""
        sign = self.sitting.question
        if sign is None or sign.name != answered.sign_name:
            return
        try:
            self.sitting.answer(answered.text)
        except NotAValue as problem:
            await self.query_one(QuestionLeaf).say_problem(str(problem))
        else:
            await self.turn_page()

    async def action_step_back(self) -> None:
        """To the page before."""
        if self.sitting.step_back():
            await self.turn_page()

    async def action_why(self) -> None:
        """Why the open question is asked."""
        leaf = self.query_one(QuestionLeaf)
        from assistant.stakes import why_asked  # looked at now and then only

        await leaf.say_why(why_asked(self.sitting.visit, leaf.sign.name))

    async def action_leave_out(self) -> None:
        """Passes over a question that is asked for the record only."""
        if self.sitting.is_for_the_record:
            self.sitting.leave_out()
            await self.turn_page()

    @work
    async def action_test_dig(self) -> None:
        """Hills of a test dig, written in one by one."""
        await self._open(DIG)
        await self.turn_page()

    @work
    async def action_page_so_far(self) -> None:
        """All that is told so far; what is picked opens."""
        from assistant.tui.answers import AnswersScreen

        await self._open(await self.app.push_screen_wait(AnswersScreen(self.sitting)))
        await self.turn_page()

    @work
    async def action_verdict(self) -> None:
        """The advice as it stands, with its reasons."""
        from assistant.tui.verdict import RECORD, VerdictScreen

        wanted = await self.app.push_screen_wait(VerdictScreen(self.sitting))
        if wanted == RECORD:
            self.sitting.record()
        else:
            await self._open(wanted)
        if self.sitting.question is None and wanted != DIG:
            self.sitting.step_back()
        await self.turn_page()

    def action_outlook(self) -> None:
        """The six weeks ahead, where anything tells of them."""
        if self.sitting.has_outlook:
            from assistant.tui.outlook import OutlookScreen

            self.app.push_screen(OutlookScreen(self.sitting))

    def _keys(self) -> tuple[tuple[str, str], ...]:
        if self.sitting.is_for_the_record:
            return RECORD_KEYS
        if not self.sitting.has_outlook:
            return KEYS
        sign = self.sitting.question
        return (*KEYS[:4], ON_A_DAY if sign and sign.kind is Kind.DATE else OUTLOOK_KEY, *KEYS[5:])

    async def _open(self, what: str | None) -> None:
        """The page of a sign, the test dig, or for None the question that is due."""
        if what is None:
            self.sitting.go_on()
        elif what == DIG:
            from assistant.tui.test_dig import TestDigScreen

            await self.app.push_screen_wait(TestDigScreen(self.sitting))
        else:
            self.sitting.reopen(what)

    def _leaves(self) -> list[QuestionLeaf]:
        """The leaf of the open question, if there is one."""
        sign, case = self.sitting.question, self.sitting.visit.case
        if sign is None:
            return []
        known = case.answers.get(sign.name)
        return [QuestionLeaf(sign, known, case.units, for_the_record=self.sitting.is_for_the_record)]

    def _show_standing(self) -> None:
        """How far the interview is, and what it comes to so far."""
        visit, for_the_record = self.sitting.visit, self.sitting.is_for_the_record
        self.query_one(Masthead).say_right(record_progress(visit) if for_the_record else progress(visit))
        so_far = self.query_one("#so-far", Static)
        so_far.update(self.sitting.trouble or self._advice_so_far())
        so_far.set_class(bool(self.sitting.trouble), "alarm")

    def _advice_so_far(self) -> str:
        if not (self.sitting.visit.answered or self.sitting.visit.case.test_dig):
            return "So far: nothing answered yet."
        moved_from = self.sitting.moved_from
        if self.sitting.is_for_the_record:
            return f"Settled: {self.sitting.now.verdict.headline}"
        was = f"\n   Was: {moved_from}" if moved_from else ""
        return f"So far: {self.sitting.now.verdict.headline}{was}"
