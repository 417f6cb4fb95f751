"""Lists whose rows have keys."""

from __future__ import annotations

from itertools import islice

from assistant.tui.widgets.keyed_list import COMMAND_LETTERS, Columns, KeyedRow, Row, row_keys
from assistant.tui.widgets.question_leaf import _named


def test_row_keys_never_take_a_command_letter_and_never_repeat() -> None:
    keys = [key for key in islice(row_keys(), 40) if key]
    assert not COMMAND_LETTERS & set(keys)
    assert len(keys) == len(set(keys)) == 9 + 26 - len(COMMAND_LETTERS)


def test_a_list_longer_than_the_keyboard_goes_on_without_keys() -> None:
    assert list(islice(row_keys(), 28, 30)) == ["", ""]


def test_words_of_a_row_wrap_under_themselves() -> None:
    row = KeyedRow(Row("1", "green", "green all over the bed", "green"), Columns(mark=4, key=5, label=5))
    assert row._cells(30) == [("green", "  ", "green all over"), ("", "       ", "the bed")]


def test_a_proper_name_stands_as_it_is_written_and_not_as_the_rulebook_calls_it() -> None:
    assert _named("bush-porto-rico", "Bush Porto Rico") == ("Bush Porto Rico", "")
    assert _named("ohenry", "O'Henry") == ("O'Henry", "")
    assert _named("light", "a light frost") == ("light", "a light frost")
