"""Real keys on the screen, struck as fast as the screen is ready for them and not as fast as the machine is idle."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Mapping

from textual.app import App
from textual.events import Key
from textual.pilot import Pilot

from assistant.tui.question import QuestionScreen
from assistant.tui.sitting import Sitting
from assistant.tui.verdict import VerdictScreen
from assistant.tui.widgets.question_leaf import QuestionLeaf

MOST_WAITS = 3000


def strike(app: App[None], *keys: str) -> None:
    """The keys one after the other, each a character or the name of a key."""
    for key in keys:
        if len(key) > 1:
            app.post_message(Key(key, None))
        else:
            name = key if key.isalnum() else unicodedata.name(key).lower().replace("-", "_").replace(" ", "_")
            app.post_message(Key(name, key))


async def until(pilot: Pilot[None], reached: Callable[[], bool]) -> None:
    """Waits for something to be so."""
    for _ in range(MOST_WAITS):
        if reached():
            return
        await pilot.pause(0.001)
    raise AssertionError("the screen never came to what was waited for")


def sitting_at(app: App[None]) -> Sitting:
    """The sitting of the interview or the verdict that is open."""
    assert isinstance(app.screen, QuestionScreen | VerdictScreen)
    return app.screen.sitting


def open_question(app: App[None]) -> str:
    """The name of the sign that is asked for."""
    sign = sitting_at(app).question
    assert sign is not None
    return sign.name


def is_ready(app: App[None]) -> bool:
    """Whether the page of the open question takes keys, or the verdict is there when nothing is left to ask."""
    if not isinstance(app.screen, QuestionScreen) or app.screen.sitting.question is None:
        return isinstance(app.screen, VerdictScreen) and app.focused is not None
    leaves = list(app.screen.query(QuestionLeaf))
    open_now = [leaf.sign.name for leaf in leaves] == [open_question(app)]
    return open_now and app.focused is not None and leaves[0] in app.focused.ancestors_with_self


async def answer_all(pilot: Pilot[None], app: App[None], answers: Mapping[str, str]) -> None:
    """Answers question after question until the verdict or a question without an answer in the table."""
    await until(pilot, lambda: is_ready(app))
    sitting = sitting_at(app)
    while isinstance(app.screen, QuestionScreen) and sitting.question and sitting.question.name in answers:
        before, sign = sitting.now, sitting.question
        text = answers[sign.name]
        if text == "?" or not sign.choices:
            strike(app, *(("?",) if text == "?" else (*text, "enter")))
        else:
            strike(app, str(list(sign.choices).index(text) + 1))
        await until(pilot, lambda before=before: sitting.now is not before and is_ready(app))  # type: ignore[misc]
