"""Garbage is looked for between keys and not amid them, and is found."""

import gc
import weakref

from assistant.tui.notebook_app import MUCH_GARBAGE, collect_garbage


class Ring:
    """An object that keeps itself alive."""

    def __init__(self) -> None:
        self.itself = self


def test_much_garbage_is_taken_away_and_a_little_waits() -> None:
    gc.collect()
    gc.disable()
    try:
        first = weakref.ref(Ring())
        collect_garbage()
        assert first() is not None
        for _ in range(MUCH_GARBAGE):
            Ring()
        collect_garbage()
        assert first() is None
    finally:
        gc.enable()
