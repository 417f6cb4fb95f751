"""No character that steers a terminal is shown as it is."""

import sys
import unicodedata

import pytest

from assistant.rulebook.names import harmless, is_unsafe, visible

DIRECTIONS = ("LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI")
"""Bidirectional classes of the characters that turn text around (Unicode Standard Annex 9, table 4)."""

STEERING = [
    character
    for character in map(chr, range(sys.maxunicode + 1))
    if unicodedata.category(character) == "Cc" or unicodedata.bidirectional(character) in DIRECTIONS
]


@pytest.mark.parametrize("around", ["", "é 樹 °"], ids=["alone", "in text"])
def test_every_control_and_every_turn_of_direction_is_written_out(around: str) -> None:
    assert len(STEERING) > 70
    for character in STEERING:
        text = f"{around}{character}{around}"
        assert visible(text) == f"{around}\\{'x' if character <= 'ÿ' else 'u'}{ord(character):02x}{around}"
        assert harmless(text) == around * 2
        assert is_unsafe(text) is (character != "\n")


def test_text_that_steers_nothing_is_kept() -> None:
    text = "é 樹\u00a0°F — “right”"
    assert (visible(text), harmless(text), is_unsafe(text)) == (text, text, False)
