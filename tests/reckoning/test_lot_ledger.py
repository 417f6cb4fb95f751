"""Every pound dug is accounted for, whatever happens to a lot, and no lot grows."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.reckoning.lot_ledger import EVENTS, OUT, DoesNotAddUp, Entry, accounts
from assistant.reckoning.using_up import PARTS

START = date(2031, 10, 6)
event = st.tuples(st.sampled_from(EVENTS), st.sampled_from(["", *PARTS]), st.floats(0.1, 60), st.integers(0, 3))
events = st.lists(event, max_size=25)


def entry(what: str, pounds: float | None = None, part: str = "", day: int = 0, lot: str = "north") -> Entry:
    return Entry(START + timedelta(days=day), lot, what, part, pounds)


def taken(drawn: list[tuple[str, str, float, int]]) -> list[Entry]:
    """As many of the events as make a ledger that can be."""
    kept, day = [entry("dug", 120), entry("dug", 10, "nicked")], 0
    for what, part, pounds, days in drawn:
        day += days
        more = entry(what, pounds, part or "small" if what == "apart" else part, day)
        try:
            accounts([*kept, more])
        except DoesNotAddUp:
            continue
        kept.append(more)
    return kept


@given(events)
def test_every_pound_dug_is_accounted_for(drawn: list[tuple[str, str, float, int]]) -> None:
    account = accounts(taken(drawn))["north"]
    assert account.dug == pytest.approx(sum(account.out.values()) + account.shrunk + account.left, abs=1e-4)
    assert all(pounds >= 0 for pounds in (*account.parts.values(), *account.out.values(), account.shrunk))


@given(events)
def test_only_digging_makes_a_lot_heavier(drawn: list[tuple[str, str, float, int]]) -> None:
    stages = accounts(taken(drawn))["north"].stages
    for before, after in pairwise(stages):
        assert after.entry.what == "dug" or after.left <= before.left + 1e-9


@given(events)
def test_each_way_out_holds_what_was_written(drawn: list[tuple[str, str, float, int]]) -> None:
    kept = taken(drawn)
    account = accounts(kept)["north"]
    for what in OUT:
        assert account.out[what] == pytest.approx(sum(each.pounds or 0 for each in kept if each.what == what))


def test_a_scale_tells_what_dried_away() -> None:
    account = accounts([entry("dug", 120), entry("used", 10, day=5), entry("weighed", 100, day=9)])["north"]
    assert (account.shrunk, account.left) == (10, 100)
    assert account.weighed == START + timedelta(days=9)


def test_a_little_too_much_on_the_scale_is_the_scales_error_and_more_is_refused() -> None:
    assert accounts([entry("dug", 100), entry("weighed", 102, day=1)])["north"].left == 100
    with pytest.raises(DoesNotAddUp, match=r"weighs 103 lb where 100\.0 lb were left; roots do not grow"):
        accounts([entry("dug", 100), entry("weighed", 103, day=1)])


def test_more_than_there_is_cannot_go_out() -> None:
    with pytest.raises(DoesNotAddUp, match=r"11 lb went out of the lot north where 10\.0 lb were left"):
        accounts([entry("dug", 10), entry("used", 11, day=1)])
    with pytest.raises(DoesNotAddUp, match=r"2 lb of its nicked roots"):
        accounts([entry("dug", 10), entry("dug", 1, "nicked"), entry("used", 2, "nicked", 1)])


def test_a_lot_begins_with_its_digging() -> None:
    with pytest.raises(DoesNotAddUp, match="nothing of the lot north had been dug by 2031-10-06"):
        accounts([entry("used", 1), entry("dug", 5, day=1)])


def test_what_is_eaten_without_a_word_comes_off_what_should_be_eaten_first() -> None:
    account = accounts([entry("dug", 20), entry("dug", 4, "nicked"), entry("used", 5, day=1)])["north"]
    assert account.parts == {"sound": 19}


def test_what_is_set_apart_stays_in_the_lot() -> None:
    account = accounts([entry("dug", 20), entry("apart", 5, "small", 1)])["north"]
    assert (account.parts, account.left) == ({"small": 5, "sound": 15}, 20)


def test_lots_have_accounts_of_their_own_and_days_may_be_written_in_any_order() -> None:
    books = accounts([entry("used", 1, day=3), entry("dug", 5, lot="south", day=1), entry("dug", 9)])
    assert {lot: book.left for lot, book in books.items()} == {"north": 8, "south": 5}
    assert books["north"].stored == START
