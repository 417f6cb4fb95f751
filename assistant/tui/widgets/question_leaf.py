"""One question with its answers, on a page of its own."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Container, Horizontal, Vertical, VerticalScroll
from textual.message import Message
from textual.widgets import Static

from assistant.measures.digging import ROOTS
from assistant.model.quantities import Kind, Units
from assistant.model.readings import Known
from assistant.model.signs import Sign
from assistant.tui.widgets.keyed_list import TAKES_KEYS, Columns, KeyedList, Row, row_keys
from assistant.tui.wording import (
    CANT_TELL,
    EFFORT_WORDS,
    about_words,
    choices_given,
    unit_beside,
    what_to_write,
)

if TYPE_CHECKING:
    from textual.widget import Widget

    from assistant.stakes import Why
    from assistant.tui.widgets.value_line import ValueLine

FOR_THE_RECORD = "For the record: no advice hangs on this, your answer is only kept."


class QuestionLeaf(VerticalScroll, can_focus=False):
    """One question with its answers; posts what was answered as the text a grower would write."""

    @dataclass
    class Answered(Message):
        """An answer to the question of this leaf."""

        sign_name: str
        text: str

    def __init__(self, sign: Sign, known: Known | None, units: Units, *, for_the_record: bool = False) -> None:
        super().__init__(classes="leaf")
        self.sign, self._known, self._units = sign, known, units
        self._for_the_record = for_the_record
        self._marking = False

    def compose(self) -> ComposeResult:
        """Question, how to look, the answers; why it is asked and what is wrong come only when they are wanted."""
        if self._for_the_record:
            yield Static(FOR_THE_RECORD, id="record", classes="pencil", markup=False)
        yield Static(self.sign.ask, id="ask", markup=False)
        yield Static(self._how_to_look, id="look", classes="pencil", markup=False)
        with Container(id="answers"):
            yield from self._answers()

    def on_mount(self) -> None:
        """The keyboard goes to the answers."""
        self._answer_widget.focus()

    async def say_why(self, why: Why) -> None:
        """Shows why this is asked, or takes it away again."""
        for shown in self.query("#why"):
            await shown.remove()
            return
        note = Vertical(Static(why.words, markup=False), id="why")
        await self.mount(note, before="#answers")
        rows = [Row("", stake.answers.replace(" °", "\N{NO-BREAK SPACE}°"), stake.then, "") for stake in why.stakes]
        await note.mount(KeyedList(rows, focusable=False, columns=Columns(mark=0, key=2)))
        note.scroll_visible(animate=False)

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
        elif value == "~dig":
            await self.screen.run_action("test_dig")
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
            Row(key, *_named(name, words), name, name in given)
            for key, (name, words) in zip(row_keys(), self.sign.choices.items(), strict=False)
        ]
        several = "answer with all that are marked" if self._marking else "about: it may be one of several; mark them"
        rows.append(Row("~", several, "", "~", apart=True))
        rows.append(Row("?", CANT_TELL, "", CANT_TELL))
        if self.sign.name == ROOTS:
            rows.append(Row("t", "write in the roots you dug, hill by hill", "", "~dig"))
        return KeyedList(rows, marking=self._marking)

    def _value_line(self) -> list[Widget]:
        from assistant.tui.widgets.value_line import ValueLine

        line = ValueLine(self._known.written if self._known else "", of_a_day=self.sign.kind is Kind.DATE)
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


def _named(name: str, words: str) -> tuple[str, str]:
    """What a choice is called and what it means; a proper name says both."""
    return (words, "") if words.lower().replace(" ", "-").replace("'", "") == name else (name, words)
