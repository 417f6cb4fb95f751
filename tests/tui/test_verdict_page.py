"""The verdict page: what to do, by when, and the reasons down to each answer and source."""

from __future__ import annotations

from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import Static

from assistant.explain.reasoning import Reason
from assistant.tui.app import DigDay
from assistant.tui.widgets.reason_tree import ReasonTree, lines_of

SIZE = (80, 24)


def words_on(app: DigDay) -> list[str]:
    """What stands on the page, scrolled to or not, in reading order."""
    page = app.screen.query_one(".leaf")
    return [str(static.visual) for static in page.query(Static) if all(node.display for node in static.ancestors)]


async def frost_verdict(pilot: Pilot[None]) -> None:
    for key in ("1", "3", "0", "enter"):
        await pilot.press(key)
        await pilot.pause()


async def test_the_verdict_says_what_by_when_and_what_next(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await frost_verdict(pilot)
        words = words_on(notebook)
    assert words[0] == "Dig before the frost"
    assert words[words.index("Act by") + 1] == "Tuesday 7 October 2031 · in 3 days"
    assert words[words.index("What to do next") + 1 :][:4] == ["1.", "Cut vines.", "2.", "Lift roots."]
    assert "Settled: no further answer would change it." in words


async def test_the_reasons_open_down_to_the_answer_and_the_source(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await frost_verdict(pilot)
        await pilot.press("tab", "left")
        await pilot.pause()
        closed = "\n".join(words_on(notebook))
        await pilot.press("right")
        await pilot.pause()
        opened = "\n".join(words_on(notebook))
    assert "A frost may come within the week" in closed
    assert "30 °F" not in closed
    assert "30 °F (you said “30”)" in opened
    assert "A bulletin on roots, 2009" in opened


async def test_what_is_disputed_shows_both_sides_and_the_one_taken(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await frost_verdict(pilot)
        words = "\n".join(words_on(notebook))
    for part in ("How cold may a night get?", "36 °F is the end.", "32 °F is the end.", "Act at 36 °F, because"):
        assert part in words


async def test_one_key_opens_every_reason_and_closes_them_again(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await frost_verdict(pilot)
        await pilot.press("e")
        await pilot.pause()
        shown = len(words_on(notebook))
        await pilot.press("e")
        await pilot.pause()
        assert len(words_on(notebook)) < shown


async def test_a_caution_stands_under_mind(notebook: DigDay, case_file: Path) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        for key in ("3", "5", "0", "enter", "question_mark", "2"):
            await pilot.press(key)
            await pilot.pause()
        words = words_on(notebook)
    assert words[0] == "Dig now"
    assert any("Set the fork a foot away" in line for line in words[words.index("Mind") :])


def test_the_lines_of_a_tree_know_the_line_they_hang_on() -> None:
    tree = (Reason("rule", "a", children=(Reason("answer", "b"), Reason("source", "c"))), Reason("rule", "d"))
    drawn = [(line.reason.text, line.depth, line.parent) for line in lines_of(tree)]
    assert drawn == [("a", 0, None), ("b", 1, 0), ("c", 1, 0), ("d", 0, None)]


def test_a_tree_of_no_reasons_can_be_made() -> None:
    assert ReasonTree(()) is not None
