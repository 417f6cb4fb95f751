"""The verdict page: what to do, by when, and the reasons down to each answer and source."""

from __future__ import annotations

from textual.pilot import Pilot
from textual.widgets import Static
from walking import give, press, says, turn_to, walk

from assistant.explain.reasoning import Reason
from assistant.tui.app import DigDay
from assistant.tui.verdict import MOST_CHANGES, _folded
from assistant.tui.widgets.reason_tree import ReasonLine, ReasonTree, lines_of

SIZE = (80, 24)


def words_on(app: DigDay) -> list[str]:
    """What stands on the page, scrolled to or not, in reading order."""
    page = app.screen.query_one(".leaf")
    return [str(static.visual) for static in page.query(Static) if all(node.display for node in static.ancestors)]


FROST_AHEAD = {"vines": "green", "forecast_low": "30", "planted_on": "2031-06-20", "roots": "too-small"}
MILD_AND_RIPE = {"vines": "withered", "forecast_low": "50", "planted_on": "?", "roots": "right"}


async def open_section(pilot: Pilot[None], app: DigDay, title: str) -> None:
    """To the section with the arrows, from the top, and opened."""
    tree = app.screen.query_one(ReasonTree)
    tree.focus()
    wanted = next(line for line in tree.query(ReasonLine) if line.line.reason.text == title)
    while not wanted.has_class("-here"):
        await press(pilot, "down")
    if not wanted.is_open:
        await press(pilot, "right")


async def test_the_verdict_says_what_by_when_and_what_next(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await walk(pilot, notebook, FROST_AHEAD)
        words = words_on(notebook)
    assert words[0] == "Dig before the frost"
    assert words[words.index("Act by") + 1] == "Tuesday 7 October 2031 · in 3 days"
    assert words[words.index("What to do next") + 1 :][:4] == ["1.", "Cut vines.", "2.", "Lift roots."]


async def test_a_settled_verdict_says_what_was_not_needed_dear_efforts_first(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await turn_to(pilot, notebook, "vines")
        await give(pilot, notebook, "green")
        await turn_to(pilot, notebook, "forecast_low")
        await give(pilot, notebook, "30")
        assert says(notebook, "#outcome") == (
            "Settled: no further answer would change it. "
            "Not needed: the roots and the planted on. No hill had to be dug up."
        )
        await open_section(pilot, notebook, "Not needed")
        words = words_on(notebook)
        assert words.index("How big are the roots?") < words.index("When did you plant the slips?")


async def test_an_open_verdict_names_nothing_as_not_needed(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await press(pilot, "question_mark", "v")
        assert says(notebook, "#outcome") == "Still open: more answers could change it."
        assert "Not needed" not in " ".join(words_on(notebook))


async def test_the_reasons_open_down_to_the_answer_and_the_source(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await walk(pilot, notebook, FROST_AHEAD)
        closed = "\n".join(words_on(notebook))
        await open_section(pilot, notebook, "A frost may come within the week, and early beats late.")
        opened = "\n".join(words_on(notebook))
    assert "A frost may come within the week" in closed
    assert "A bulletin on roots" not in closed
    assert "30 °F (you said “30”)" in opened
    assert "A bulletin on roots, 2009" in opened


async def test_what_decided_and_what_would_change_it_stand_open(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await walk(pilot, notebook, FROST_AHEAD)
        words = words_on(notebook)
    decided = words.index("What decided it\nThese answers alone force the advice, whatever else is true.")
    change = words.index("What would change it")
    assert decided < words.index("forecast low: 30 °F (you said “30”)") < change
    assert "Had the forecast low been above 36 °F: Wait; look again on Tuesday 7 October." in words[change:]


async def test_what_is_disputed_shows_both_sides_and_the_one_taken(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await walk(pilot, notebook, FROST_AHEAD)
        folded = "\n".join(words_on(notebook))
        await open_section(pilot, notebook, "Where the handbooks disagree")
        await open_section(pilot, notebook, "How cold may a night get?")
        words = "\n".join(words_on(notebook))
    for part in ("How cold may a night get?", "36 °F is the end.", "32 °F is the end.", "Act at 36 °F, because"):
        assert part in words
        assert part not in folded


async def test_one_key_opens_every_reason_and_closes_them_again(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await walk(pilot, notebook, FROST_AHEAD)
        await press(pilot, "e")
        shown = len(words_on(notebook))
        await press(pilot, "e")
        assert len(words_on(notebook)) < shown


async def test_a_caution_stands_under_mind(notebook: DigDay) -> None:
    async with notebook.run_test(size=SIZE) as pilot:
        await walk(pilot, notebook, MILD_AND_RIPE)
        await open_section(pilot, notebook, "Mind")
        words = words_on(notebook)
    assert words[0] == "Dig now"
    assert "Set the fork a foot away from the crown." in words[words.index("Mind") :]


def test_more_changes_than_a_few_are_folded_away() -> None:
    changes = tuple(Reason("change", str(number)) for number in range(MOST_CHANGES + 2))
    folded = _folded(Reason("section", "What would change it", children=changes))
    assert [reason.text for reason in folded.children] == ["0", "1", "2", "3", "2 more"]
    assert [reason.text for reason in folded.children[-1].children] == ["4", "5"]


def test_the_lines_of_a_tree_know_the_line_they_hang_on() -> None:
    tree = (Reason("rule", "a", children=(Reason("answer", "b"), Reason("source", "c"))), Reason("rule", "d"))
    drawn = [(line.reason.text, line.depth, line.parent) for line in lines_of(tree)]
    assert drawn == [("a", 0, None), ("b", 1, 0), ("c", 1, 0), ("d", 0, None)]


def test_a_tree_of_no_reasons_can_be_made() -> None:
    assert ReasonTree(()) is not None
