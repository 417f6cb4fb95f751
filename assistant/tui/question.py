"""The interview: one question a page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Horizontal, VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from assistant.model.quantities import Kind, NotAValue, Units, format_date
from assistant.model.readings import Known
from assistant.model.signs import Sign
from assistant.tui.sitting import Sitting
from assistant.tui.widgets.furniture import KeyLine, Masthead, Page
from assistant.tui.widgets.keyed_list import TAKES_KEYS, KeyedList, Row, row_keys
from assistant.tui.wording import (
    CANT_TELL,
    EFFORT_WORDS,
    about_words,
    choices_given,
    progress,
    unit_beside,
    what_to_write,
)

if TYPE_CHECKING:
    from textual.widget import Widget

    from assistant.tui.widgets.value_line import ValueLine

KEYS = (
    ("Esc", "back"),
    ("w", "why"),
    ("p", "page so far"),
    ("v", "verdict"),
    ("b", "bright/dusk"),
    ("k", "keys"),
    ("q", "leave"),
)


class QuestionLeaf(VerticalScroll, can_focus=False):
    """One question with its answers; posts what was answered as the text a grower would write."""

    @dataclass
    class Answered(Message):
        """An answer to the question of this leaf."""

        sign_name: str
        text: str

    def __init__(self, sign: Sign, known: Known | None, units: Units) -> None:
        super().__init__(classes="leaf")
        self.sign, self._known, self._units = sign, known, units
        self._marking = False

    def compose(self) -> ComposeResult:
        """Question, how to look, the answers; why it is asked and what is wrong come only when they are wanted."""
        yield Static(self.sign.ask, id="ask", markup=False)
        yield Static(self._how_to_look, id="look", classes="pencil", markup=False)
        with Container(id="answers"):
            yield from self._answers()

    def on_mount(self) -> None:
        """The keyboard goes to the answers."""
        self._answer_widget.focus()

    async def say_why(self, text: str) -> None:
        """Shows why this is asked, or takes it away again."""
        for shown in self.query("#why"):
            await shown.remove()
            return
        why = Static(f"Why this is asked: {text}", id="why", markup=False)
        await self.mount(why, before="#answers")
        why.scroll_visible(animate=False)

    async def say_problem(self, text: str) -> None:
        """Shows what is wrong with an answer; what was written stays."""
        await self.query("#problem").remove()
        problem = Static(f"! {text[:1].upper()}{text[1:]}.", id="problem", classes="alarm", markup=False)
        await self.mount(problem)
        problem.scroll_visible(animate=False)

    async def on_keyed_list_picked(self, picked: KeyedList.Picked) -> None:
        """A row of the list: a choice, *can't tell*, or marking several."""
        picked.stop()
        value = picked.row.value
        if value == "~about":
            self._toggle_about()
        elif value == "~":
            await self._mark_or_answer(picked.sender)
        elif value == CANT_TELL or not self._marking:
            self._post(value)
        else:
            picked.sender.mark(value)

    def on_input_submitted(self, submitted: ValueLine.Submitted) -> None:
        """Enter on the answer line."""
        submitted.stop()
        self._post(submitted.value)

    def on_value_line_cant_tell_wanted(self) -> None:
        """The key for *can't tell* on the answer line."""
        self._post(CANT_TELL)

    async def key_tab(self) -> None:
        """On a list the same as its `~` row."""
        if isinstance(self._answer_widget, KeyedList):
            await self._mark_or_answer(self._answer_widget)

    async def key_enter(self) -> None:
        """While marking: all that is marked is the answer."""
        if self._marking and isinstance(self._answer_widget, KeyedList):
            await self._mark_or_answer(self._answer_widget)

    async def _mark_or_answer(self, rows: KeyedList) -> None:
        if self._marking and rows.marked:
            self._post(", ".join(rows.marked))
            return
        self._marking = not self._marking
        async with self.batch():
            await self.query_one("#answers").remove_children()
            await self.query_one("#answers").mount(*self._answers())
        self._answer_widget.focus()

    def _toggle_about(self) -> None:
        from assistant.tui.widgets.value_line import ValueLine

        self.query_one(ValueLine).toggle_about()

    def _post(self, text: str) -> None:
        self.post_message(self.Answered(self.sign.name, text))

    @property
    def _how_to_look(self) -> str:
        return f"{self.sign.look}  ({EFFORT_WORDS[self.sign.effort]})".strip()

    @property
    def _answer_widget(self) -> Widget:
        return self.query_one(f"#answers .{TAKES_KEYS}")

    def _answers(self) -> list[Widget]:
        if self.sign.kind is Kind.CHOICE:
            return [self._choice_list()]
        return self._value_line()

    def _choice_list(self) -> KeyedList:
        given = choices_given(self.sign, self._known)
        rows = [
            Row(key, name, "" if words.lower() == name.lower() else words, name, name in given)
            for key, (name, words) in zip(row_keys(), self.sign.choices.items(), strict=False)
        ]
        several = "answer with all that are marked" if self._marking else "about: it may be one of several; mark them"
        rows.append(Row("~", several, "", "~", apart=True))
        rows.append(Row("?", CANT_TELL, "", CANT_TELL))
        return KeyedList(rows, marking=self._marking)

    def _value_line(self) -> list[Widget]:
        from assistant.tui.widgets.value_line import ValueLine

        line = ValueLine(self._known.written if self._known else "")
        return [
            Horizontal(line, Static(unit_beside(self.sign, self._units), id="unit", markup=False), id="line"),
            Static(what_to_write(self.sign, self._units), id="how-to-write", classes="pencil", markup=False),
            KeyedList(
                (
                    Row("~", f"about: {about_words(self.sign, self._units)}", "", "~about"),
                    Row("?", CANT_TELL, "", CANT_TELL),
                ),
                focusable=False,
            ),
        ]


class QuestionScreen(Screen[None]):
    """Shows the sitting's open question, or sends the grower on to the verdict."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "step_back", show=False),
        Binding("w,W,upper_w,f2", "why", show=False),
        Binding("p,P,upper_p,f3", "page_so_far", show=False),
        Binding("v,V,upper_v,f4", "verdict", show=False),
    ]

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self.sitting = sitting

    def compose(self) -> ComposeResult:
        """Head, the open leaf, the advice so far, keys."""
        case = self.sitting.visit.case
        with Page():
            yield Masthead(f"{format_date(case.on.toordinal())} · {case.title}", self._progress())
            yield from self._leaves()
            yield Static("So far: …", classes="standing", id="so-far", markup=False)
            yield KeyLine(KEYS)

    def on_mount(self) -> None:
        """The first page stands already; goes on to the advice when there is nothing to ask."""
        self._go_on()

    async def turn_page(self) -> None:
        """Brings the page in line with the sitting."""
        if self.sitting.question is not None:
            async with self.batch():
                await self.query(QuestionLeaf).remove()
                await self.query_one(Page).mount(*self._leaves(), before="#so-far")
                self.query_one(Masthead).say_right(self._progress())
        self._go_on()

    def _go_on(self) -> None:
        if self.sitting.question is None:
            self.action_verdict()
            return
        # The engine's first run takes longer than a page takes to draw, so the page comes first.
        self.call_after_refresh(self._show_advice)

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

    @work
    async def action_page_so_far(self) -> None:
        """All answers so far; the one that is picked opens."""
        from assistant.tui.answers import AnswersScreen

        self._open(await self.app.push_screen_wait(AnswersScreen(self.sitting)))
        await self.turn_page()

    @work
    async def action_verdict(self) -> None:
        """The advice as it stands, with its reasons."""
        from assistant.tui.verdict import VerdictScreen

        self._open(await self.app.push_screen_wait(VerdictScreen(self.sitting)))
        if self.sitting.question is None:
            self.sitting.step_back()
        await self.turn_page()

    def _open(self, sign_name: str | None) -> None:
        if sign_name is None:
            self.sitting.go_on()
        else:
            self.sitting.reopen(sign_name)

    def _leaves(self) -> list[QuestionLeaf]:
        """The leaf of the open question, if there is one."""
        sign, case = self.sitting.question, self.sitting.visit.case
        return [] if sign is None else [QuestionLeaf(sign, case.answers.get(sign.name), case.units)]

    def _progress(self) -> str:
        return progress(len(self.sitting.visit.answered), self.sitting.visit.at_most_left)

    def _show_advice(self) -> None:
        so_far = self.query_one("#so-far", Static)
        so_far.update(self.sitting.trouble or self._advice_so_far())
        so_far.set_class(bool(self.sitting.trouble), "alarm")

    def _advice_so_far(self) -> str:
        if not self.sitting.visit.answered:
            return "So far: nothing answered yet."
        moved_from = self.sitting.moved_from
        was = f"\n   Was: {moved_from}" if moved_from else ""
        return f"So far: {self.sitting.now.verdict.headline}{was}"
