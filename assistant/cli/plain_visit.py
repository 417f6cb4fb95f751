"""The interview line by line: plain text in and out, for pipes, slow lines and screen readers."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path

from assistant.cli.output import BLANK, Line, complain, write
from assistant.cli.plain_dig import HOW_TO_DIG, dig_as_typed, dig_lines, typed_after_dig
from assistant.cli.verdict_text import verdict_lines
from assistant.explain.wording import known_words, name_words
from assistant.measures.digging import ROOTS
from assistant.model.case import Case
from assistant.model.place import BadInput
from assistant.model.quantities import Kind, NotAValue, Units
from assistant.model.signs import Sign
from assistant.season import Visit
from assistant.stakes import why_asked

Save = Callable[[Case, Path], None]
HOW_TO_ANSWER = (
    "Answer with a number or a word. Also: ? for can't tell, back to change the last answer, "
    "why for the reason of a question, done for the verdict on what is known, quit to leave."
)
ON_RECORD = "Type record to answer the rest for the record, back to change the last answer, or Enter to finish."
HOW_TO_RECORD = "No advice hangs on these. Also: skip to leave one out, done to finish."
CANT_TELL = "can't tell"
COMMANDS = {"back", "why", "done", "quit", "record", "skip"}


def interview(visit: Visit, save_to: Path, lasting: bool = True, save: Save | None = None) -> int:
    """Ask until the advice is settled or the person is done, then print the verdict; go on for the record if wanted.

    Every answer is saved before the next question, by `save` or as a case file. `lasting` is false when the file is
    thrown away.
    """
    write([Line(f"{visit.case.title}. {visit.rulebook.title}.", "headline"), Line(HOW_TO_ANSWER)])
    sitting = _Sitting(visit, save_to, lasting, save)
    if sitting.run():
        write([BLANK, *sitting.where_saved()])
    else:
        write([Line("Left without a verdict."), *sitting.where_saved()])
    return sitting.exit_code


class _Sitting:
    """One person at the keyboard: the visit as it stands, and whether it is safe on disk."""

    def __init__(self, visit: Visit, save_to: Path, lasting: bool, save: Save | None) -> None:
        self.visit = visit
        self.save_to = save_to
        self.lasting = lasting
        self.save = save or _save_case
        self.exit_code = 0
        self.saved = False
        self.skipped: set[str] = set()

    def run(self) -> bool:
        """Ask and give the verdict, anew after each change; whether one was given."""
        while self._ask_all():
            self._tell_verdict()
            if not self._is_more_wanted():
                return True
        return False

    def _ask_all(self) -> bool:
        """Ask question after question; whether a verdict is wanted at the end."""
        while (sign := self.visit.next_question()) is not None:
            _ask(sign, _progress(self.visit), self.visit.case.units)
            going_on = self._hear(sign)
            if going_on is not None:
                return going_on
        return True

    def _tell_verdict(self) -> None:
        from assistant.whatif import advise_fully

        case = self.visit.case
        write([BLANK, *verdict_lines(advise_fully(self.visit.rulebook, case), case.units)])

    def _is_more_wanted(self) -> bool:
        """Once nothing can change the advice: whether answering on, or going back, made a new verdict due."""
        if self.visit.left or not self.visit.not_needed:
            return False
        write([BLANK, Line(ON_RECORD)])
        text = _read_line(blank=True)
        if text == "back":
            return self._back()
        if text == "record":
            self._record()
        return bool(self.visit.left)

    def _record(self) -> None:
        """Ask what was not needed, the least effort first, until it is enough."""
        write([Line(HOW_TO_RECORD)])
        while (sign := self.visit.next_for_the_record(self.skipped)) is not None:
            _ask(sign, "for the record; no advice hangs on it", self.visit.case.units)
            if self._hear(sign) is not None or self.visit.left:
                break
        if not self.visit.left:
            write([BLANK, Line(f"The advice stands: {self.visit.verdict().headline}.")])

    def _hear(self, sign: Sign) -> bool | None:
        """Take lines until one moves the visit (None), or ends it with (True) or without (False) a verdict."""
        while True:
            text = _read_line()
            if text is None or text == "done":
                return True
            if text == "quit":
                return False
            if text == "why":
                write(_why(self.visit, sign.name))
            elif text == "skip" and sign.name not in self.visit.left:
                self.skipped.add(sign.name)
                return None
            elif self._take(sign, text):
                return None

    def _take(self, sign: Sign, text: str) -> bool:
        """Take a step back, hills of a test dig, or the answer; False when the visit has not moved."""
        hills = typed_after_dig(text) if ROOTS in self.visit.rulebook.signs else None
        if hills is not None:
            return self._dig(hills)
        return self._back() if text == "back" else self._answer(sign, text)

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

    def _dig(self, text: str) -> bool:
        """Write in what was typed of a test dig and say what the hills tell; False when it cannot be used."""
        case = self.visit.case
        try:
            dig = dig_as_typed(case.test_dig, text, case.units)
        except (NotAValue, BadInput) as error:
            from assistant.cases.typed_dig import trouble_with

            write([Line(trouble_with(error))])
            return False
        moved = dig != case.test_dig
        if moved:
            self._move(self.visit.dig(dig))
        write(dig_lines(dig, case.units))
        return moved

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
        self.visit = visit
        try:
            self.save(visit.case, self.save_to)
            self.saved = True
        except (OSError, BadInput) as error:
            self.saved, self.exit_code = False, 2
            why = error.strerror if isinstance(error, OSError) else error.problems[0].message.rstrip(".")
            complain(f"digday: {self.save_to} could not be saved ({why}); your answers are still here.")

    def where_saved(self) -> list[Line]:
        """Where the answers are now, in one line."""
        if not self.lasting:
            return [Line("This was a demo; nothing is kept.")]
        if self.saved:
            return [Line(f"Saved in {self.save_to}")]
        return [Line("Not saved." if self.exit_code else "Nothing was answered, so nothing is saved.")]


def _save_case(case: Case, path: Path) -> None:
    from assistant.cases import save_case

    save_case(case, path)


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


def _progress(visit: Visit) -> str:
    """How many questions there may still be, promising no more than is known."""
    at_most, about = visit.at_most_left, visit.about_left
    if at_most <= 1:
        return "the last question"
    return f"about {about} more, {at_most} at most" if about and about < at_most else f"{at_most} more at most"


def _ask(sign: Sign, progress: str, units: Units) -> None:
    lines = [BLANK, Line(f"{sign.ask} ({progress})", "headline"), Line(sign.look)]
    if sign.kind is Kind.CHOICE:
        for number, (name, meaning) in enumerate(sign.choices.items(), start=1):
            told = meaning if name in (meaning, meaning.lower()) else f"{name}: {meaning}"
            lines.append(Line(told, indent=2, bullet=f"{number}. "))
    if sign.name == ROOTS:
        lines.append(Line(HOW_TO_DIG[units]))
    write(lines)


def _why(visit: Visit, sign: str) -> Iterator[Line]:
    words, stakes = why_asked(visit, sign)
    yield Line(words)
    for answers, then in stakes:
        yield Line(f"{answers}: {then}", indent=2, bullet="- ")


def _read_line(blank: bool = False) -> str | None:
    """The next line, in small letters when it is a command; blank ones only if wanted; None at the end of input."""
    while True:
        try:
            text = input("> ").strip()
        except EOFError:
            write([BLANK])
            return None
        if text or blank:
            return text.lower() if text.lower() in COMMANDS else text


def _as_noted(visit: Visit, name: str) -> str:
    told = known_words(visit.rulebook, name, visit.case.answers[name], visit.case.units)
    return f"{name_words(visit.rulebook, name)}, {told}"
