"""Walks the interview on the screen with real keys, whichever question happens to come first."""

from __future__ import annotations

from collections.abc import Mapping

from textual.pilot import Pilot
from textual.widgets import Static

from assistant.model.signs import Sign
from assistant.tui.app import DigDay
from assistant.tui.question import QuestionScreen

_KEY_NAMES = {" ": "space", ".": "full_stop", "-": "minus", "'": "apostrophe", "?": "question_mark"}


async def press(pilot: Pilot[None], *keys: str) -> None:
    """The keys one after the other, each given the time to be drawn."""
    for key in keys:
        await pilot.press(key)
        await pilot.pause()


async def write(pilot: Pilot[None], text: str) -> None:
    """A text letter by letter."""
    await press(pilot, *(_KEY_NAMES.get(letter, letter) for letter in text))


def asked(app: DigDay) -> Sign:
    """The sign whose question is open."""
    sign = app.sitting.question
    assert sign is not None
    return sign


async def give(pilot: Pilot[None], app: DigDay, text: str) -> None:
    """The answer to the open question: the key of the choice, or the text and Enter."""
    if text == "?":
        await press(pilot, "question_mark")
    elif asked(app).choices:
        await press(pilot, str(list(asked(app).choices).index(text) + 1))
    else:
        await write(pilot, text)
        await press(pilot, "enter")


async def walk(pilot: Pilot[None], app: DigDay, answers: Mapping[str, str]) -> None:
    """Answers question after question, as long as the open one has an answer in the table."""
    await pilot.pause()
    while isinstance(app.screen, QuestionScreen) and app.sitting.question and asked(app).name in answers:
        await give(pilot, app, answers[asked(app).name])


async def turn_to(pilot: Pilot[None], app: DigDay, sign: str) -> None:
    """The page of a question, whether or not it is its turn."""
    app.sitting.reopen(sign)
    assert isinstance(app.screen, QuestionScreen)
    await app.screen.turn_page()
    await pilot.pause()


def says(app: DigDay, selector: str) -> str:
    """The words of a part of the open screen."""
    return str(app.screen.query_one(selector, Static).visual)
