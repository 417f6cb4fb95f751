"""Words from a file, made safe to show, and the name that was probably meant."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable

NEAR = 0.7  # how alike two names must be (difflib ratio) before one is offered for the other
LISTED = 8  # how many possible names a hint lists
CLIPPED = 60  # how many characters of a word from the file a message repeats

# Control characters, and the marks that turn the direction of text around, could make a terminal lie.
# None of them is printable, so hardly any run has to compile these.
_UNSAFE = "[\x00-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ud800-\udfff]"
_STEERING = "[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]"
_NO_CHARACTER = "[\ud800-\udfff]"


def visible(text: str) -> str:
    """The text with every control character written out, so that showing it changes nothing but the screen."""
    return text if text.isprintable() else re.sub(_UNSAFE, lambda match: _escape(match[0]), text)


def harmless(text: str) -> str:
    """The text without what steers a terminal, which no screen has room for; all else keeps its width."""
    return text if text.isprintable() else re.sub(_NO_CHARACTER, "\ufffd", re.sub(_STEERING, "", text))


def escaped(text: str) -> str:
    """Lines of YAML or JSON with every unsafe character, which only quotes hold, written as both read it back."""
    return "\n".join(re.sub(_UNSAFE, lambda match: f"\\u{ord(match[0]):04x}", line) for line in text.split("\n"))


def is_unsafe(text: str) -> bool:
    """Whether a text, its lines apart, holds what could make a terminal lie."""
    return bool(re.search(_UNSAFE, text.replace("\n", "")))


def _escape(character: str) -> str:
    code = ord(character)
    return f"\\x{code:02x}" if code < 256 else f"\\u{code:04x}"


def quoted(word: object) -> str:
    """A word from the file in quotes, safe to show and not too long."""
    text = visible(str(word))
    return f"'{text[:CLIPPED]}…'" if len(text) > CLIPPED else f"'{text}'"


def near(word: str, names: Iterable[str]) -> str | None:
    """The name most like the word, when one is near enough to have been meant."""
    from difflib import get_close_matches  # slow to load, and only needed when something is wrong

    return next(iter(get_close_matches(word[:CLIPPED], list(names), n=1, cutoff=NEAR)), None)


def same_but_for_case(name: str, other: str) -> bool:
    """Whether two names differ in capitals alone."""
    return name.lower() == other.lower()


def listed(names: Collection[str]) -> str:
    """The names in one line, the first few when there are many."""
    shown = ", ".join(list(names)[:LISTED])
    return f"{shown} and {len(names) - LISTED} more" if len(names) > LISTED else shown


def instead(word: str, names: Collection[str]) -> str:
    """What to write instead of a word that is none of the names."""
    meant = near(word, names)
    if meant is not None:
        return f"Did you mean {quoted(meant)}?"
    if not names:
        return ""
    return f"Write one of: {listed(names)}." if len(names) > 1 else f"Write {listed(names)}."
