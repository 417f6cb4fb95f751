"""Entries changed and taken out, parts dug, and several gardens, a line at a time."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hands import Hand

from assistant.model.notebook import VerdictRow
from assistant.notebook import open_notebook


@pytest.fixture
def hand(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Hand:
    hand = Hand(tmp_path / "garden.sqlite", capsys)
    hand("bed", "add", "North bed")
    hand("bed", "plant", "North", "2031-06-20, Beauregard, 60 slips", "--on", "2031-06-21")
    hand("bed", "frost", "29 F", "--on", "2031-10-04")
    hand("bed", "dig", "North", "96 lb", "--on", "2031-10-05")
    hand("bed", "air", "North", "84 F 88 %", "--on", "2031-10-06")
    hand("bed", "store", "North", "--on", "2031-10-12")
    hand("bed", "note", "North", "used 3 lb", "--on", "2031-11-01")
    return hand


def story(hand: Hand) -> list[str]:
    told = json.loads(hand("bed", "show", "North", "--json", "--on", "2031-11-01"))
    return [f"{each['day']} {each['what']}" for each in told["story"]]


def everything(hand: Hand) -> str:
    return hand("notebook", "export", "--json")


def number(hand: Hand, words: str) -> str:
    return str(next(n for n, line in enumerate(story(hand), start=1) if words in line))


def test_the_story_is_numbered_and_every_entry_is_told_as_it_can_be_typed(hand: Hand) -> None:
    shown = hand("bed", "show", "North", "--on", "2031-11-01")
    assert "\n  1  2031-11-01  North bed 2031: used 3 lb\n" in shown
    assert "North bed 2031: 96 lb dug, 3 lb used, 93 lb left." in shown
    for n in range(1, len(story(hand)) + 1):
        written = json.loads(hand("bed", "show", "North", str(n), "--json"))["written"]
        before = story(hand)
        hand("bed", "change", "North", str(n), written)
        assert story(hand) == before


def test_a_wrong_day_is_changed_and_told_and_undone(hand: Hand) -> None:
    before = everything(hand)
    told = hand("bed", "change", "North", number(hand, "Dug"), "2031-10-06, 90 lb")
    assert told == "The dig was: 2031-10-05, 96 lb; and is now: 2031-10-06, 90 lb.\n"
    assert "2031-10-06 North bed 2031: into the curing place to cure" in story(hand)
    assert "Undone: North bed: the dig changed." in hand("bed", "undo")
    assert everything(hand) == before


def test_an_answer_of_a_past_visit_is_changed_and_its_verdict_kept(hand: Hand) -> None:
    visit = number(hand, "Visit")
    told = hand("bed", "change", "North", f"{visit}.forecast_low", "55 F")
    assert told == "forecast low is now: 55 F. Its verdict stays as it was given.\n"
    assert "by today's rules" in hand("bed", "show", "North", visit)
    assert "nothing is taken out without --yes" in hand("bed", "remove", "North", f"{visit}.forecast_low", code=2)
    hand("bed", "remove", "North", f"{visit}.forecast_low", "--yes")
    with open_notebook(hand.path) as notebook:
        assert notebook.latest(VerdictRow).headline.startswith("Dig before the frost")  # type: ignore[union-attr]


def test_taking_a_dig_out_tells_what_rests_on_it_and_undo_brings_all_back(hand: Hand) -> None:
    before, dig = everything(hand), number(hand, "Dug")
    refusal = hand("bed", "remove", "North", dig, code=2)
    assert "1 lot, 2 lines of a ledger, 1 reading of the air" in refusal
    assert everything(hand) == before
    told = hand("bed", "remove", "North", dig, "--yes")
    assert told.startswith("The dig is out, and with it: 1 lot, 2 lines of a ledger, 1 reading of the air.")
    assert "North bed (dig): Dig before the frost" in hand("bed", "list", "--on", "2031-10-06")
    hand("bed", "undo")
    assert everything(hand) == before


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("change", "North", "0", "2031-10-05"), "'0' is no entry of North bed; it has 7, numbered from 1"),
        (("change", "North", "99999999999999999999", "x"), "is no entry"),
        (("change", "North", "-1", "x"), "is no entry"),
        (("change", "North", "1.vines", "green"), "is no visit, so it has no answers"),
        (("change", "North", "1", "2031-11-01, used 97 lb"), "97 lb went out of the lot North bed 2031 where 96.0 lb"),
        (("move", "North", "Hill"), "'Hill' is no garden; the gardens are: The garden"),
        (("size", "North", "0 ft"), "is no distance in a bed"),
        (("rename", "North", " "), "a bed's name has 1 to 60 letters"),
    ],
)  # fmt: skip
def test_a_change_that_cannot_be_done_says_why_and_changes_nothing(
    hand: Hand, words: tuple[str, ...], why: str
) -> None:
    before = everything(hand)
    said = hand("bed", *words, code=2)
    assert why in said
    assert "Traceback" not in said
    assert everything(hand) == before


def test_a_lot_is_not_left_lying_nowhere(hand: Hand) -> None:
    hand("bed", "remove", "North", number(hand, "to cure"), "--yes")  # then it was kept without a cure
    before = everything(hand)
    said = hand("bed", "remove", "North", number(hand, "to keep"), "--yes", code=2)
    assert "North bed 2031 would lie nowhere; take out the dig it came from instead" in said
    assert everything(hand) == before


def test_a_bed_is_dug_bit_by_bit(hand: Hand) -> None:
    hand("bed", "plant", "North", "2032-06-20", "--on", "2032-06-21")
    hand("bed", "size", "North", "40 ft")
    hand("bed", "dig", "North", "12 ft, 30 lb", "--on", "2032-10-05")
    assert "(dig): Dig the rest; 28 ft left" in hand("bed", "list", "--on", "2032-10-06")
    assert "41 ft would be dug of 40 ft" in hand("bed", "dig", "North", "29 ft", "--on", "2032-10-06", code=2)
    assert hand("bed", "dig", "North", "28 ft", "--on", "2032-10-08") == "North bed 2032 (2) is in the cure.\n"
    assert "(dig)" not in hand("bed", "list", "--on", "2032-10-09")
    said = hand("bed", "note", "North", "used 3 lb", "--on", "2032-11-01", code=2)
    assert "write which after a comma, such as used 3 lb, North bed 2032 (2)" in said
    hand("bed", "note", "North", "used 3 lb, North bed 2032", "--on", "2032-11-01")


def test_two_gardens_in_one_notebook(hand: Hand) -> None:
    assert hand("garden", "add", "Hill") == "Hill is in the notebook.\n"
    hand("garden", "units", "Hill", "metric")
    hand("garden", "frost", "Hill", "09-25 10-05 10-20")
    hand("garden", "frost", "Hill", "04-25 05-05 05-20", "--last")
    hand("garden", "rename", "The garden", "Home")
    assert "there are 2 gardens; write which, such as Home/North bed" in hand("bed", "add", "North bed", code=2)
    hand("bed", "add", "Hill/North bed")
    assert "write Home/North bed or Hill/North bed" in hand("bed", "plant", "North bed", "2031-06-20", code=2)
    hand("bed", "plant", "Hill/North", "2031-06-20", "--on", "2031-06-21")
    listed = hand("bed", "list", "--on", "2031-06-22")
    assert "North bed in Hill (growing)" in listed
    assert "North bed in Home" in listed
    assert "North bed in Hill: Dig before the frost" in hand("bed", "frost", "29 F", "--on", "2031-10-04")
    hand("bed", "undo")
    hand("garden", "choose", "Hill")
    listed = hand("bed", "list", "--on", "2031-06-22")
    assert listed == "Hill, one of 2 gardens:\nNorth bed (growing): First look at the bed, by 2031-09-08.\n"
    assert "North bed (" in hand("--plain")
    assert "in Hill" not in hand("--plain")
    assert hand("bed", "list", "--garden", "home", "--on", "2031-06-22").startswith("Home, one of 2 gardens:\n")
    hand("bed", "rename", "North bed", "South bed")
    hand("bed", "move", "South bed", "Home")
    assert " ".join(hand("garden", "list").split()) == (
        "Home: 2 beds, us, no frost dates. "
        "Hill (shown): 0 beds, metric, first frost 09-25 10-05 10-20, last frost 04-25 05-05 05-20."
    )
    assert "without --yes" in hand("garden", "remove", "Hill", code=2)
    hand("garden", "remove", "Hill", "--yes")
    assert json.loads(hand("garden", "list", "--json"))["gardens"] == [
        {"garden": "Home", "units": "us", "frosts": "no frost dates", "beds": 2, "shown": False}
    ]


def test_a_notebook_without_gardens_says_how_to_begin(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    hand = Hand(tmp_path / "new.sqlite", capsys)
    assert "digday garden add NAME" in hand("garden", "list")
    assert "the gardens are: none yet" in hand("garden", "choose", "Hill", code=2)
