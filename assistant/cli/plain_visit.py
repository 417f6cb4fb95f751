"""The interview line by line: plain text in and out, for pipes, slow lines and screen readers."""

from __future__ import annotations

import re
from pathlib import Path

from assistant.cli.output import BLANK, Line, complain, write
from assistant.cli.verdict_text import verdict_lines
from assistant.explain.wording import known_words, name_words
from assistant.model.quantities import Kind, NotAValue
from assistant.model.signs import Sign
from assistant.season import Visit
from assistant.stakes import why_asked

HOW_TO_ANSWER = (
    "Answer with a number or a word. Also: ? for can't tell, back to change the last answer, "
    "why for the reason of a question, done for the verdict on what is known, quit to leave."
)
CANT_TELL = "can't tell"
COMMANDS = {"back", "why", "done", "quit"}


def interview(visit: Visit, save_to: Path, lasting: bool = True) -> int:
    """Ask until the advice is settled or the person is done, then print the verdict.

    Every answer is saved before the next question. `lasting` is false when the file is thrown away.
    """
    write([Line(f"{visit.case.title}. {visit.rulebook.title}.", "headline"), Line(HOW_TO_ANSWER)])
    sitting = _Sitting(visit, save_to, lasting)
    if not sitting.run():
        write([Line("Left without a verdict."), *sitting.where_saved()])
        return sitting.exit_code
    write([BLANK, *verdict_lines(sitting.visit.verdict(), sitting.visit.case.units), BLANK, *sitting.where_saved()])
    return sitting.exit_code


class _Sitting:
    """One person at the keyboard: the visit as it stands, and whether it is safe on disk."""

    def __init__(self, visit: Visit, save_to: Path, lasting: bool) -> None:
        self.visit = visit
        self.save_to = save_to
        self.lasting = lasting
        self.exit_code = 0
        self.saved = False

    def run(self) -> bool:
        """Ask question after question; whether a verdict is wanted at the end."""
        sign = self.visit.next_question()
        while sign is not None:
            _ask(sign, self.visit.at_most_left)
            going_on = self._hear(sign)
            if going_on is not None:
                return going_on
            sign = self.visit.next_question()
        return True

    def _hear(self, sign: Sign) -> bool | None:
        """Take lines until one moves the visit (None), or ends it with (True) or without (False) a verdict."""
        while True:
            text = _read_line()
            if text is None or text == "done":
                return True
            if text == "quit":
                return False
            if text == "why":
                write([Line(why_asked(self.visit, sign.name))])
            elif self._back() if text == "back" else self._answer(sign, text):
                return None

    def _answer(self, sign: Sign, text: str) -> bool:
        """Give the answer to the visit; False when it cannot be used."""
        try:
            visit = self.visit.answer(sign.name, in_words(sign, text))
        except NotAValue as reason:
            write([Line(f"{reason}. Please answer again.")])
            return False
        self._move(visit)
        write([Line(f"Noted: {_as_noted(visit, sign.name)}.")])
        return True

    def _back(self) -> bool:
        """Forget the last answer; False when there is none."""
        if not self.visit.answered:
            write([Line("This is the first question; there is nothing to go back to.")])
            return False
        last = self.visit.answered[-1]
        self._move(self.visit.forget(last))
        write([Line(f"Forgotten: {name_words(self.visit.rulebook, last)}.")])
        return True

    def _move(self, visit: Visit) -> None:
        """Make this the visit as it stands and save it; a full disk is told, and the interview goes on."""
        from assistant.cases import save_case

        self.visit = visit
        try:
            save_case(visit.case, self.save_to)
            self.saved = True
        except OSError as error:
            self.saved, self.exit_code = False, 2
            complain(f"digday: {self.save_to} could not be saved ({error.strerror}); your answers are still here.")

    def where_saved(self) -> list[Line]:
        """Where the answers are now, in one line."""
        if not self.lasting:
            return [Line("This was a demo; nothing is kept.")]
        if self.saved:
            return [Line(f"Saved in {self.save_to}")]
        return [Line("Not saved." if self.exit_code else "Nothing was answered, so nothing is saved.")]


def in_words(sign: Sign, text: str) -> str:
    """What was typed, with `?` and the numbers of choices put into words."""
    if text == "?":
        return CANT_TELL
    if sign.kind is not Kind.CHOICE:
        return text
    names = list(sign.choices)

    def named(match: re.Match[str]) -> str:
        number = int(match[0])
        return names[number - 1] if 1 <= number <= len(names) else match[0]

    return re.sub(r"(?<![\w.-])\d{1,3}(?![\w.-])", named, text)


def _ask(sign: Sign, at_most_left: int) -> None:
    left = "the last question" if at_most_left <= 1 else f"at most {at_most_left} questions left"
    lines = [BLANK, Line(f"{sign.ask} ({left})", "headline"), Line(sign.look)]
    if sign.kind is Kind.CHOICE:
        for number, (name, meaning) in enumerate(sign.choices.items(), start=1):
            told = meaning if name in (meaning, meaning.lower()) else f"{name}: {meaning}"
            lines.append(Line(told, indent=2, bullet=f"{number}. "))
    write(lines)


def _read_line() -> str | None:
    """The next line that is not blank, in small letters when it is a command; None at the end of input."""
    while True:
        try:
            text = input("> ").strip()
        except EOFError:
            write([BLANK])
            return None
        if text:
            return text.lower() if text.lower() in COMMANDS else text


def _as_noted(visit: Visit, name: str) -> str:
    told = known_words(visit.rulebook, name, visit.case.answers[name], visit.case.units)
    return f"{name_words(visit.rulebook, name)}, {told}"
