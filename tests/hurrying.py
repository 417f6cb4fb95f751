"""An event loop for tests of the screens that waits for nothing: where nothing is ready its clock goes on at once."""

from __future__ import annotations

import asyncio
import selectors
import threading
from selectors import SelectorKey


class _Hurrying(selectors.DefaultSelector):
    """A selector that never sleeps until the next timer is due, and keeps the time that it saved so."""

    saved = 0.0

    def select(self, timeout: float | None = None) -> list[tuple[SelectorKey, int]]:
        if timeout is None or threading.active_count() > 1:  # what others do takes real time
            return super().select(timeout)
        ready = super().select(0)
        self.saved += 0 if ready else max(0, timeout)
        return ready


class HurryingLoop(asyncio.SelectorEventLoop):
    """Timers come in their order and after all work that was due before, only sooner."""

    def __init__(self) -> None:
        self._hurrying = _Hurrying()
        super().__init__(self._hurrying)

    def time(self) -> float:
        return super().time() + self._hurrying.saved
